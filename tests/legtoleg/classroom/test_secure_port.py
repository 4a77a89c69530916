"""The door's port with a certificate: what is served, what is sent to https, and which files are refused."""

from __future__ import annotations

import asyncio
import http.client
import socket
import ssl
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

pytest.importorskip("aiohttp")
from aiohttp import web

from legtoleg.classroom import secure_port
from legtoleg.classroom.class_folder import ClassError
from legtoleg.classroom.secure_port import open_secure, tls


@pytest.fixture
def files(tmp_path: Path, load: Callable[[str], ModuleType]) -> tuple[Path, Path]:
    made: tuple[Path, Path] = load("certificates").make_certificate(tmp_path)
    return made


def asked(files: tuple[Path, Path], work: Callable[[int], object]) -> object:
    """Open a port that answers with the scheme of a request, call ``work`` with it in a thread, return what it gave."""

    async def within() -> object:
        async def scheme(request: web.Request) -> web.Response:
            return web.Response(text=f"{request.scheme} {request.remote}")

        side = web.Application()
        side.router.add_route("*", "/{path:.*}", scheme)
        runner = web.AppRunner(side)
        await runner.setup()
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = int(probe.getsockname()[1])
        secure = tls(*map(str, files))
        assert secure is not None
        await open_secure(runner, "127.0.0.1", port, secure)
        return await asyncio.to_thread(work, port)

    return asyncio.run(within())


def got(line: http.client.HTTPConnection, way: str, path: str) -> tuple[int, str, str]:
    line.request(way, path, body="password=x" if way == "POST" else None)
    answer = line.getresponse()
    said = answer.read().decode()
    line.close()
    return answer.status, answer.getheader("Location", ""), said


def test_tls_is_served_and_plain_http_is_sent_to_it(files: tuple[Path, Path]) -> None:
    def work(port: int) -> object:
        trusting = ssl.create_default_context(cafile=str(files[0]))
        safe = got(http.client.HTTPSConnection("127.0.0.1", port, context=trusting, timeout=10), "GET", "/hub/login")
        plain = got(http.client.HTTPConnection("127.0.0.1", port, timeout=10), "GET", "/hub/login?next=%2Fa")
        sent = got(http.client.HTTPConnection("127.0.0.1", port, timeout=10), "POST", "/hub/login")
        with pytest.raises(ssl.SSLCertVerificationError):
            got(http.client.HTTPSConnection("127.0.0.1", port, timeout=10), "GET", "/")
        after = got(http.client.HTTPSConnection("127.0.0.1", port, context=trusting, timeout=10), "GET", "/")
        return port, safe, plain, sent, after[0]

    port, safe, plain, sent, after = asked(files, work)  # type: ignore[misc]
    assert safe == (200, "", "https 127.0.0.1")
    assert plain[:2] == (308, f"https://127.0.0.1:{port}/hub/login?next=%2Fa")
    assert sent == (403, "", "This class is open by https:// only. Nothing was read.")
    assert after == 200  # somebody who does not trust the certificate keeps nobody out


def test_who_says_nothing_is_sent_away_and_holds_nobody_up(
    files: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(secure_port, "_SECONDS", 0.3)

    def work(port: int) -> object:
        silent = [socket.create_connection(("127.0.0.1", port), timeout=10) for _ in range(20)]
        silent[0].sendall(b"\x16")  # a handshake that goes no further
        trusting = ssl.create_default_context(cafile=str(files[0]))
        served = got(http.client.HTTPSConnection("127.0.0.1", port, context=trusting, timeout=10), "GET", "/")
        ends = {one.recv(1) for one in silent}
        for one in silent:
            one.close()
        return served[0], ends

    assert asked(files, work) == (200, {b""})


def test_files_that_are_no_certificate_with_its_key(
    tmp_path: Path, files: tuple[Path, Path], load: Callable[[str], ModuleType]
) -> None:
    other = load("certificates").make_certificate(tmp_path, "other")
    locked = load("certificates").make_certificate(tmp_path, "locked", b"password")
    text = tmp_path / "note.pem"
    text.write_text("no certificate")
    assert tls("", "") is None
    for certificate, key, words in (
        ("", files[1], "needs its certificate"),
        (tmp_path / "gone.pem", files[1], "cannot be read: No such file"),
        (files[0], tmp_path / "gone.pem", "The key file .* cannot be read"),
        (tmp_path, files[1], "cannot be read: Is a directory"),
        (text, files[1], "No certificate with its key"),
        (files[0], other[1], "key values mismatch"),
        (files[0], "", "without --key it has to hold the key too"),
        (locked[0], locked[1], "has a password"),
    ):
        with pytest.raises(ClassError, match=words):
            tls(str(certificate), str(key))
    both = tmp_path / "both.pem"
    both.write_bytes(files[0].read_bytes() + files[1].read_bytes())
    assert tls(str(both), "") is not None
