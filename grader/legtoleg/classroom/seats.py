"""Seats: the hub's way of starting, finding again and ending one apprentice's jailed server on a unix socket."""

from __future__ import annotations

import asyncio
import os
import signal
import stat
import subprocess
from pathlib import Path

from jupyterhub.spawner import Spawner

from legtoleg.classroom.class_folder import INSTRUCTOR, ClassError, ClassFolder, socket_url
from legtoleg.classroom.processes import Process
from legtoleg.classroom.seat_files import feedback_of, home_of, pack_seat
from legtoleg.classroom.seat_jail import (
    Guard,
    SeatPlaces,
    guard_here,
    held_command,
    limits_of,
    seat_command,
    seat_variables,
    server_words,
)
from legtoleg.classroom.seat_limits import Limits, entering, leave
from legtoleg.classroom.warm_start import WarmOrder, start_warm

_PORT = 8888
"""Never opened: a Jupyter server wants its default beside a socket."""


def end_seat(outer: Process, guard: Guard) -> None:
    """Ask the server of a seat to end; ``outer`` is the process that was started for it."""
    server = outer
    if guard is not Guard.NOTHING:
        for _ in range(2):  # bwrap's monitor, the first process of the jail, the server or what holds the jail for it
            server = next(iter(server.children()), server)
    server.send(signal.SIGTERM)


def kill_seat(outer: Process, guard: Guard) -> None:
    """End a seat and all in it: with the first process of a jail the kernel ends the rest."""
    inner = outer.children() if guard is not Guard.NOTHING else []
    for one in (*inner, outer):
        one.send(signal.SIGKILL)


class SeatSpawner(Spawner):  # type: ignore[misc]
    """One seat. What is asked at its start by a browser is not looked at."""

    folder: ClassFolder
    ids: dict[str, str]
    """The roster's id of each of the hub's users."""

    turns = asyncio.Semaphore(2 * (os.cpu_count() or 1))
    """So many seats start at the same time: a class comes all at once."""

    outer = Process(0)
    _child: subprocess.Popen[bytes] | None = None

    @property
    def apprentice(self) -> str:
        """The id on the roster."""
        if self.user.name == INSTRUCTOR:
            return INSTRUCTOR
        if self.user.name not in self.ids:
            type(self).ids = {person.id.lower(): person.id for person in self.folder.cohort.people()}
        if self.user.name not in self.ids:
            raise ClassError(f"{self.user.name} is not on this cohort's roster.")
        return self.ids[self.user.name]

    def _prepare(self) -> tuple[SeatPlaces, int]:
        who = self.apprentice
        home, user = home_of(self.folder, who)
        sockets = self.folder.seat(who)
        places = SeatPlaces(
            home,
            pack_seat(self.folder, who),
            feedback_of(self.folder, who),
            self.folder.root / "settings",
            sockets / "server",
            sockets / "service",
            self.folder.gate_folder,
        )
        for place in (sockets, places.server, places.service):
            place.mkdir(mode=0o711, parents=True, exist_ok=True)
        for old in places.server.iterdir():
            old.unlink()
        os.chown(places.server, user, user if os.getuid() == 0 else -1)
        places.server.chmod(0o700)
        return places, user

    def _environment(self, places: SeatPlaces, guard: Guard) -> dict[str, str]:
        gate = socket_url(f"{places.seen(guard)['gate']}/hub")
        hub = socket_url(self.folder.hub_socket)
        given = {name: value.replace(hub, gate) for name, value in self.get_env().items() if "JUPYTERHUB" in name}
        return given | seat_variables(places, guard, self.user.name)

    @property
    def _log(self) -> Path:
        return self.folder.logs / f"seat-{self.apprentice}.log"

    def _warm(self, places: SeatPlaces, user: int, groups: list[Path], environment: dict[str, str]) -> bool:
        """Start the seat as a fork of the warm parent, and tell whether that could be."""
        guard = Guard.OWN_USER
        order = WarmOrder(
            held=held_command(places, guard, user, entering(groups)),
            user=user,
            limits=limits_of(guard),
            groups=[str(group) for group in groups],
            words=["jupyterhub-singleuser", *server_words(places, guard)],
            environment=environment,
            folder=self.notebook_dir,
            log=self._log,
        )
        self._child = start_warm(self.folder.warm_socket, order)
        self.outer = Process.of(self._child.pid) if self._child else Process(0)
        return self._child is not None

    def _launch(self, command: list[str], environment: dict[str, str]) -> None:
        """Start the process of the seat."""
        with self._log.open("ab") as out:
            self._child = subprocess.Popen(
                command,
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=out,
                start_new_session=True,
                cwd="/",
            )
        self.outer = Process.of(self._child.pid)

    async def start(self) -> str:
        """Start the seat when it is its turn, and return its address once it listens."""
        async with self.turns:
            return await self._start()

    async def _start(self) -> str:
        places, user = await asyncio.to_thread(self._prepare)
        guard = guard_here()
        self.port = _PORT
        self.notebook_dir = places.seen(guard)["home"]
        groups = Limits().groups(self.folder.group(self.apprentice)) if guard is Guard.OWN_USER else []
        environment = self._environment(places, guard)
        warm = guard is Guard.OWN_USER and await asyncio.to_thread(self._warm, places, user, groups, environment)
        if not warm:
            self._launch(seat_command(places, guard, user, entering(groups)), environment)
        socket = places.server / "s"
        while not _listens(socket):
            if await self.poll() is not None:
                raise ClassError(f"The seat of {self.apprentice} ended before it was ready: see {self._log}.")
            await asyncio.sleep(0.05)
        if guard is Guard.OWN_USER:  # from now on nobody in the jail can put another thing in its place
            os.chown(places.server, 0, user)
            places.server.chmod(0o710)
        return socket_url(socket)

    async def poll(self) -> int | None:
        """Return None while the seat runs."""
        if self._child is not None:
            self._child.poll()
        if self.outer.alive():
            return None
        return 1

    async def stop(self, now: bool = False) -> None:
        """End the seat: its server is asked, then all of it is ended."""
        guard = guard_here()
        if not now:
            end_seat(self.outer, guard)
            if await self._ended(6):
                return
        kill_seat(self.outer, guard)
        await self._ended(5)
        if guard is Guard.OWN_USER:
            leave(Limits().groups(self.folder.group(self.apprentice)))

    async def _ended(self, seconds: int) -> bool:
        for _ in range(seconds * 20):
            if await self.poll() is not None:
                return True
            await asyncio.sleep(0.05)
        return False

    def get_state(self) -> dict[str, object]:
        """Return what finds the seat again after the hub was started anew."""
        state: dict[str, object] = super().get_state()
        return state | {"pid": self.outer.pid, "started": self.outer.started}

    def load_state(self, state: dict[str, int]) -> None:
        """Find the seat again."""
        super().load_state(state)
        self.outer = Process(state.get("pid", 0), state.get("started", 0))

    def clear_state(self) -> None:
        """Forget the seat."""
        super().clear_state()
        self.outer = Process(0)


def _listens(socket: Path) -> bool:
    try:
        return stat.S_ISSOCK(socket.lstat().st_mode)
    except OSError:
        return False
