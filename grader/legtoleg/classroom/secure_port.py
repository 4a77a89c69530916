"""A public port with a certificate: who comes by TLS is served, who comes by plain HTTP is told the https address."""

from __future__ import annotations

import asyncio
import socket
import ssl
from contextlib import suppress
from pathlib import Path

from aiohttp import web

from legtoleg.classroom.class_folder import ClassError

_HANDSHAKE = b"\x16"
"""The first byte of every TLS connection: the record type of a handshake (RFC 8446, section 5.1)."""
_SECONDS = 30.0
"""A connection that says nothing for so long is closed."""


def _no_password() -> str:
    raise ClassError("The certificate's key has a password. Name a key file without one: --key.")


def tls(certificate: str, key: str) -> ssl.SSLContext | None:
    """Return the context of the certificate in the given files; None without any.

    Raises
    ------
    ClassError
        If the files are no certificate with its key; the text says which and why.
    """
    if not certificate:
        if key:
            raise ClassError("A key needs its certificate: --certificate.")
        return None
    for name, what in ((certificate, "certificate"), (key, "key")):
        try:
            if name:
                Path(name).read_bytes()
        except OSError as error:
            raise ClassError(f"The {what} file {name} cannot be read: {error.strerror}.") from None
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    try:
        context.load_cert_chain(certificate, key or None, password=_no_password)
    except (ssl.SSLError, ValueError) as error:
        why = getattr(error, "reason", None) or "no PEM file"
        where = f"{certificate} and {key}" if key else f"{certificate} (without --key it has to hold the key too)"
        raise ClassError(f"No certificate with its key: {where}: {why.replace('_', ' ').lower()}.") from None
    return context


async def to_https(request: web.Request) -> web.StreamResponse:
    """Send a browser from ``http://`` to the same page by ``https://``; what it brought along is not read."""
    if request.method not in ("GET", "HEAD"):
        return web.Response(status=403, text="This class is open by https:// only. Nothing was read.")
    return web.Response(status=308, headers={"Location": f"https://{request.host}{request.raw_path}"})


async def open_secure(door: web.AppRunner, host: str, port: int, secure: ssl.SSLContext) -> None:
    """Listen at ``host`` and ``port``: TLS goes to ``door``, plain HTTP is sent to it."""
    loop = asyncio.get_running_loop()
    plain = web.Application()
    plain.router.add_route("*", "/{path:.*}", to_https)
    lost = web.AppRunner(plain, access_log=None)
    await lost.setup()
    port_side = _Port(door, lost, secure)
    found = await loop.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    for family, address in dict.fromkeys((one[0], one[4]) for one in found):
        listener = socket.create_server(address[:2], family=family, backlog=128, reuse_port=False)
        listener.setblocking(False)
        port_side.keep(loop.create_task(port_side.take(listener)))


class _Port:
    """Sorts connections by their first byte."""

    def __init__(self, door: web.AppRunner, lost: web.AppRunner, secure: ssl.SSLContext) -> None:
        self._door, self._lost, self._secure = door, lost, secure
        self._tasks: set[asyncio.Task[None]] = set()

    def keep(self, task: asyncio.Task[None]) -> None:
        """Hold ``task`` while it runs: the loop itself holds it weakly."""
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def take(self, listener: socket.socket) -> None:
        """Take connections for good."""
        loop = asyncio.get_running_loop()
        with listener:
            while True:
                try:
                    one, _ = await loop.sock_accept(listener)
                except OSError:  # too many open files: those that wait are taken when some have ended
                    await asyncio.sleep(0.5)
                    continue
                self.keep(loop.create_task(self._sort(one)))

    async def _sort(self, one: socket.socket) -> None:
        loop = asyncio.get_running_loop()
        handed_on = False
        try:
            one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            async with asyncio.timeout(_SECONDS):
                await _readable(one)
            first = one.recv(1, socket.MSG_PEEK)
            side = self._door.server if first == _HANDSHAKE else self._lost.server
            if not first or side is None:
                return
            handed_on = True
            secure = self._secure if first == _HANDSHAKE else None
            wait = _SECONDS if secure else None
            with suppress(ssl.SSLError, OSError):
                await loop.connect_accepted_socket(side, one, ssl=secure, ssl_handshake_timeout=wait)
        except (OSError, TimeoutError):
            return
        finally:
            if not handed_on:
                one.close()


async def _readable(one: socket.socket) -> None:
    loop = asyncio.get_running_loop()
    there = asyncio.Event()
    loop.add_reader(one, there.set)
    try:
        await there.wait()
    finally:
        loop.remove_reader(one)
