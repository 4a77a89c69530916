"""The door: one public port; everything behind it is a unix socket. Speaks the hub's API of routes."""

from __future__ import annotations

import asyncio
import hmac
import json
import os
import ssl
import sys
from pathlib import Path

import aiohttp
from aiohttp import web
from yarl import URL

from legtoleg.classroom.class_folder import ClassPlaces
from legtoleg.classroom.routes import Route, Routes
from legtoleg.classroom.secure_port import open_secure, tls

BOARD = "/services/class"
_HOP = {
    "connection",
    "keep-alive",
    "proxy-authenticate",
    "proxy-authorization",
    "te",
    "trailer",
    "transfer-encoding",
    "upgrade",
}
_SOCKET_WORDS = {
    "sec-websocket-key",
    "sec-websocket-version",
    "sec-websocket-extensions",
    "sec-websocket-protocol",
    "sec-websocket-accept",
}
_SAID_BY_THE_DOOR = {"forwarded", "x-real-ip", "x-scheme"}
_AWAY = "This page does not answer. Wait a moment, then load it again."
_MOST_IN_FRAME = 64 << 20


class Links:
    """The clients behind the door, one for each socket."""

    def __init__(self) -> None:
        self._open: dict[str, aiohttp.ClientSession] = {}

    def to(self, socket: str) -> aiohttp.ClientSession:
        """Return the client of ``socket``."""
        if socket not in self._open:
            self._open[socket] = aiohttp.ClientSession(
                connector=aiohttp.UnixConnector(socket, limit=0),
                auto_decompress=False,
                cookie_jar=aiohttp.DummyCookieJar(),
                timeout=aiohttp.ClientTimeout(total=None, sock_connect=10),
            )
        return self._open[socket]

    async def close(self, socket: str) -> None:
        """Close the client of ``socket``."""
        old = self._open.pop(socket, None)
        if old is not None:
            await old.close()

    async def close_all(self) -> None:
        """Close every client."""
        for socket in list(self._open):
            await self.close(socket)


def _words(request: web.Request, drop: set[str]) -> list[tuple[str, str]]:
    """Return the headers to hand on; who asks is said by the door alone."""
    kept = [
        (name, value)
        for name, value in request.headers.items()
        if name.lower() not in drop | _SAID_BY_THE_DOOR and not name.lower().startswith("x-forwarded")
    ]
    who = request.remote or "seat"
    proto = ("X-Forwarded-Proto", request.scheme)
    return [*kept, ("X-Forwarded-For", who), proto, ("X-Forwarded-Host", request.host), ("X-Real-IP", who)]


Socket = web.WebSocketResponse | aiohttp.ClientWebSocketResponse


async def _pump(here: Socket, there: Socket, route: Route) -> None:
    async for message in here:
        route.used()
        if message.type is aiohttp.WSMsgType.TEXT:
            await there.send_str(message.data)
        elif message.type is aiohttp.WSMsgType.BINARY:
            await there.send_bytes(message.data)
    await there.close(code=here.close_code or 1000)


async def _websocket(request: web.Request, client: aiohttp.ClientSession, url: URL, route: Route) -> web.StreamResponse:
    asked = [one.strip() for one in request.headers.get("Sec-WebSocket-Protocol", "").split(",") if one.strip()]
    words = _words(request, _HOP | _SOCKET_WORDS)
    async with client.ws_connect(url, headers=words, protocols=asked, max_msg_size=_MOST_IN_FRAME) as there:
        agreed = [there.protocol] if there.protocol else []
        here = web.WebSocketResponse(protocols=agreed, max_msg_size=_MOST_IN_FRAME, compress=False, heartbeat=30)
        await here.prepare(request)
        ways = [asyncio.create_task(_pump(here, there, route)), asyncio.create_task(_pump(there, here, route))]
        _, rest = await asyncio.wait(ways, return_when=asyncio.FIRST_COMPLETED)
        for way in rest:
            way.cancel()
        await here.close()
        return here


def _secured(cookie: str) -> str:
    """Return a cookie that browsers send by TLS alone (RFC 6265, section 5.2.5); hub and seats leave some without."""
    words = {word.strip().lower() for word in cookie.split(";")[1:]}
    return cookie if "secure" in words else f"{cookie}; Secure"


async def _plain(request: web.Request, client: aiohttp.ClientSession, url: URL) -> web.StreamResponse:
    body = request.content if request.body_exists else None
    words = _words(request, _HOP)
    async with client.request(request.method, url, headers=words, data=body, allow_redirects=False) as got:
        answer = web.StreamResponse(status=got.status, reason=got.reason)
        for name, value in got.headers.items():
            if name.lower() not in _HOP:
                answer.headers.add(name, _secured(value) if request.secure and name.lower() == "set-cookie" else value)
        if got.status in (204, 304):
            answer.headers.pop("Content-Length", None)
        await answer.prepare(request)
        async for part in got.content.iter_any():
            await answer.write(part)
        await answer.write_eof()
        return answer


class Door:
    """The public side, the hub's side, and the gate of the seats."""

    def __init__(self, folder: ClassPlaces) -> None:
        self.folder = folder
        self.links = Links()
        self.routes = Routes(folder.root / "routes.json", {BOARD: folder.board_socket})
        self._token = "token " + folder.secret("door")
        self._hub = Route(str(folder.hub_socket), {}, "")

    async def forward(self, request: web.Request) -> web.StreamResponse:
        """Hand a request of a browser on."""
        route = self.routes.find(request.rel_url.raw_path)
        if route is None:
            return web.Response(status=503, text=_AWAY, headers={"Retry-After": "3"})
        return await self._to(route, request)

    async def gate(self, request: web.Request) -> web.StreamResponse:
        """Hand a request of a seat on to the hub's API; a seat has no business at the hub's pages and log-in."""
        path = request.rel_url.raw_path
        if not f"{path}/".startswith("/hub/api/") or "/.." in path or "//" in path:
            return web.Response(status=403, text="A seat asks the hub's API only.")
        return await self._to(self._hub, request)

    async def _to(self, route: Route, request: web.Request, path: str = "") -> web.StreamResponse:
        route.used()
        client = self.links.to(route.socket)
        url = URL("http://class" + (path or request.raw_path), encoded=True)
        try:
            if request.headers.get("Upgrade", "").lower() == "websocket":
                return await _websocket(request, client, url, route)
            return await _plain(request, client, url)
        except aiohttp.WSServerHandshakeError as error:
            return web.Response(status=error.status, text=error.message)
        except (aiohttp.ClientConnectionError, OSError):
            return web.Response(status=503, text=_AWAY, headers={"Retry-After": "3"})

    async def api(self, request: web.Request) -> web.StreamResponse:
        """Take routes from the hub."""
        if not hmac.compare_digest(request.headers.get("Authorization", "").encode(), self._token.encode()):
            return web.Response(status=403)
        spec = "/" + request.match_info["path"].strip("/")
        if request.method == "POST":
            return web.Response(status=201 if self.routes.add(spec, await request.json()) else 400)
        if request.method == "DELETE":
            gone = self.routes.remove(spec)
            if gone is not None:
                await self.links.close(gone.socket)
            return web.Response(status=204 if gone else 404)
        return web.json_response(self.routes.listed())

    def sides(self) -> tuple[web.Application, web.Application, web.Application]:
        """Return the applications of the public port, of the hub's socket, and of the gate."""
        made = []
        for way, handler in (
            ("/{path:.*}", self.forward),
            ("/api/routes{path:.*}", self.api),
            ("/{path:.*}", self.gate),
        ):
            side = web.Application(client_max_size=64 << 20)
            side.router.add_route("*", way, handler)
            made.append(side)
        return made[0], made[1], made[2]


async def _runner(side: web.Application) -> web.AppRunner:
    runner = web.AppRunner(side, access_log=None, auto_decompress=False, handler_cancellation=True)
    await runner.setup()
    return runner


def _fresh(path: Path) -> str:
    path.unlink(missing_ok=True)
    return str(path)


async def serve(folder: ClassPlaces, host: str, port: int, secure: ssl.SSLContext | None = None) -> None:
    """Keep the door until the process is ended."""
    public, hub, gate = [await _runner(side) for side in Door(folder).sides()]
    os.umask(0o077)
    await web.UnixSite(hub, _fresh(folder.door_socket)).start()
    await web.UnixSite(gate, _fresh(folder.gate_folder / "hub")).start()
    (folder.gate_folder / "hub").chmod(0o666)
    if secure is None:
        await web.TCPSite(public, host, port).start()
    else:
        await open_secure(public, host, port, secure)
    await asyncio.Event().wait()


def main() -> None:
    """Run the door of the class whose settings stand in the argument."""
    told = json.loads(sys.argv[1])
    folder = ClassPlaces(Path(told["folder"]))
    asyncio.run(serve(folder, told["host"], told["port"], tls(told["certificate"], told["key"])))


if __name__ == "__main__":
    main()
