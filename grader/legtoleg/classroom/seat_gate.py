"""The gate of seats on other computers: the hub tells whose token it is, then the seat's own socket is asked."""

from __future__ import annotations

import asyncio
import os
import sys
import time
from pathlib import Path

import aiohttp
from aiohttp import web

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.class_service import HUB
from legtoleg.classroom.door import BOARD, Door
from legtoleg.classroom.routes import Route
from legtoleg.classroom.service_state import UNKNOWN
from legtoleg.classroom.slips import FILE, deal_slips, keep_address
from legtoleg.cohort.cohort_folder import Cohort

PORT = 8410
ADDRESS = "LEGTOLEG_ADDRESS"
"""The environment variable with the address that stands on slips."""
SIDES = ("class", "bench")
"""What a seat may ask, by the names of the sockets in its folder."""
_KNOWN_FOR = 60.0
"""Seconds for which the hub's word on a token holds."""


class SeatGate(Door):
    """Hands on what seats ask, and what browsers ask of the board; ``hub`` is the hub's address."""

    def __init__(self, folder: ClassFolder, hub: str) -> None:
        super().__init__(folder)
        self._cohort = folder.cohort
        self._hub_at = hub
        self._names: dict[str, tuple[float, str]] = {}

    async def whose(self, token: str) -> str:
        """Return whose ``token`` it is, by the hub; empty if nobody's."""
        until, name = self._names.get(token, (0.0, ""))
        if time.monotonic() < until:
            return name
        words = {"Authorization": f"token {token}"}
        async with aiohttp.ClientSession() as client, client.get(f"{self._hub_at}/hub/api/user", headers=words) as got:
            said = await got.json() if got.status == 200 else {}
        name = str(said.get("name") or "") if said.get("kind") == "user" else ""
        if name:
            self._names[token] = (time.monotonic() + _KNOWN_FOR, name)
        return name

    async def of_seat(self, request: web.Request) -> web.StreamResponse:
        """Hand on what a seat asks, to its own socket and to no other."""
        kind, _, token = request.headers.get("Authorization", "").partition(" ")
        try:
            name = await self.whose(token) if kind == "token" and token else ""
        except (aiohttp.ClientError, OSError, ValueError):
            return web.json_response({"said": "The class does not answer right now. Nothing was done."}, status=503)
        here = {person.id.lower() for person in self._cohort.people()}
        side, path = request.match_info["side"], request.raw_path
        if name not in here or side not in SIDES:
            return web.json_response({"said": "This bench is another seat's."}, status=403)
        inside = path.removeprefix(f"/seat/{side}")
        return await self._to(Route(str(self.folder.seat(name) / "service" / side), {}, ""), request, inside)

    async def of_board(self, request: web.Request) -> web.StreamResponse:
        """Hand on what a browser asks of the board, which asks the hub itself."""
        return await self._to(Route(str(self.folder.board_socket), {}, ""), request)

    async def _close(self, _: web.Application) -> None:
        await self.links.close_all()

    def side(self) -> web.Application:
        """Return what listens on the port."""
        made = web.Application(client_max_size=64 << 20)
        made.on_cleanup.append(self._close)
        made.router.add_route("*", "/seat/{side}/{path:.*}", self.of_seat)
        made.router.add_route("*", BOARD + "/{path:.*}", self.of_board)
        return made


async def serve(folder: ClassFolder, hub: str, host: str, port: int) -> None:
    """Keep the gate until the process is ended."""
    folder.prepare()
    address = os.environ.get(ADDRESS, UNKNOWN)
    keep_address(folder, address)
    if deal_slips(folder, folder.cohort.here(), address):
        sys.stdout.write(f"Print the slips: {folder.root / FILE}\n")
        sys.stdout.flush()
    runner = web.AppRunner(SeatGate(folder, hub).side(), access_log=None, auto_decompress=False)
    await runner.setup()
    await web.TCPSite(runner, host, port).start()
    await asyncio.Event().wait()


def main() -> None:
    """Run the gate of the class of the cohort in the argument."""
    asyncio.run(serve(ClassFolder(Cohort.at(Path(sys.argv[1]))), os.environ[HUB], "0.0.0.0", PORT))  # noqa: S104 - seats come from other computers


if __name__ == "__main__":
    main()
