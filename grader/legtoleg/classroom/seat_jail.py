"""The jail of a seat: what a seat's server sees of this computer, and the words that start it there."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

import dryerbench
from legtoleg.core.one_thread import ONE_THREAD
from legtoleg.sandbox.jail import SYSTEM, available, course_folders, hidden, python, python_folders

HOME = "/home/seat"
INSIDE = "/run/seat"
BEGIN = 'cp -rnP "$LEGTOLEG_KIT/." . 2>/dev/null; [ -e feedback ] || ln -sfn "$LEGTOLEG_FEEDBACK" feedback; exec "$@"'
"""A home takes from the kit what it does not have, as its own user: root never writes into it."""
_HOLD = """echo; exec >&2; read -r server || exit 0
trap 'asked=1; kill -TERM "$server"' TERM
while read -r more || [ "$asked" ]; do asked=; done"""
"""Holds a jail for a server that enters it: says that it stands, is told the server's number, ends when the server
does, and hands on a polite end."""
LIMITS = {"core": 0, "nofile": 2048, "fsize": 256 << 20}
"""What each process of a seat may take; ``nproc`` comes to it where the seat has a user of its own."""
PROCESSES = 256
GIVES_BACK: Mapping[str, str] = {"MALLOC_MMAP_THRESHOLD_": str(1 << 20), "MALLOC_ARENA_MAX": "2"}
"""What tells the C library to give memory back: a drawing's sheet of 4 MiB goes when it is drawn."""


class Guard(Enum):
    """What keeps seats apart on this computer."""

    OWN_USER = "Each seat is jailed: its own user, its own files only, no network."
    SAME_USER = (
        "Each seat is jailed with its own files only and no network, but all run as you: start the class as root to "
        "give each a user and limits of its own."
    )
    NOTHING = (
        "There is no jail here: all seats are processes of yours, and whoever types in one can read your files, the "
        "grades and the other seats. For a trusted room only. On Linux, install bubblewrap."
    )


def guard_here() -> Guard:
    """Return what this computer allows."""
    if sys.platform != "linux" or not available():
        return Guard.NOTHING
    return Guard.OWN_USER if os.getuid() == 0 else Guard.SAME_USER


@dataclass(frozen=True)
class SeatPlaces:
    """Where the things of one seat are, outside."""

    home: Path
    kit: Path
    feedback: Path
    settings: Path
    server: Path
    """The folder in which its server makes its socket."""
    service: Path
    """The folder of the services' sockets: the class's, and one day a sealed bench's."""
    gate: Path

    def inside(self) -> dict[str, tuple[Path, str, bool]]:
        """Return for each place its path outside, its path in a jail, and whether it may be written."""
        return {
            "home": (self.home, HOME, True),
            "server": (self.server, f"{INSIDE}/server", True),
            "kit": (self.kit, f"{INSIDE}/kit", False),
            "feedback": (self.feedback, f"{INSIDE}/feedback", False),
            "settings": (self.settings, f"{INSIDE}/settings", False),
            "service": (self.service, f"{INSIDE}/service", False),
            "gate": (self.gate, f"{INSIDE}/gate", False),
        }

    def seen(self, guard: Guard) -> dict[str, str]:
        """Return each place as the seat sees it."""
        plain = guard is Guard.NOTHING
        return {name: str(out) if plain else inside for name, (out, inside, _) in self.inside().items()}


def seat_variables(places: SeatPlaces, guard: Guard, name: str) -> dict[str, str]:
    """Return the environment of a seat's server, without the hub's own words."""
    seen = places.seen(guard)
    return {
        "HOME": seen["home"],
        "USER": name,
        "LANG": "C.UTF-8",
        "PATH": os.defpath,
        "PYTHONPATH": str(Path(dryerbench.__file__).resolve().parent.parent),
        "PYTHONDONTWRITEBYTECODE": "1",
        **ONE_THREAD,
        **GIVES_BACK,
        "JUPYTER_CONFIG_PATH": f"{seen['settings']}/config",
        "LEGTOLEG_KIT": seen["kit"],
        "LEGTOLEG_FEEDBACK": seen["feedback"],
        "LEGTOLEG_CLASS": f"{seen['service']}/class",
    }


def seat_command(places: SeatPlaces, guard: Guard, user: int, enter: list[str]) -> list[str]:
    """Return the words that start a seat's server; ``enter`` are the words that put it under its limits."""
    return _begun(places, guard, user, enter, [python(), "-m", "jupyterhub.singleuser", *server_words(places, guard)])


def held_command(places: SeatPlaces, guard: Guard, user: int, enter: list[str]) -> list[str]:
    """Return the words that start a seat's jail with nothing in it but what holds it for a server that enters."""
    return _begun(places, guard, user, enter, ["sh", "-c", _HOLD, "hold"])


def server_words(places: SeatPlaces, guard: Guard) -> list[str]:
    """Return the words of a seat's server after its name.

    Its folders are said here: a warm one has read the environment before it is anybody's.
    """
    seen = places.seen(guard)
    return [
        f"--ServerApp.sock={seen['server']}/s",
        f"--LabApp.user_settings_dir={seen['settings']}/lab",
        f"--LabApp.workspaces_dir={seen['home']}/.jupyter/lab/workspaces",
    ]


def limits_of(guard: Guard) -> dict[str, int]:
    """Return what each process of a seat may take: a resource's name, the most."""
    return LIMITS | ({"nproc": PROCESSES} if guard is Guard.OWN_USER else {})


def _begun(places: SeatPlaces, guard: Guard, user: int, enter: list[str], command: list[str]) -> list[str]:
    begin = ["sh", "-c", BEGIN, "seat", *command]
    if guard is Guard.NOTHING:
        return ["env", f"--chdir={places.home}", *begin]
    return [*enter, *_jail(places, guard), "--", *_as_user(guard, user), "env", f"--chdir={HOME}", *begin]


def _as_user(guard: Guard, user: int) -> list[str]:
    words = ["prlimit", *(f"--{name}={most}" for name, most in limits_of(guard).items()), "--"]
    if guard is Guard.OWN_USER:
        words += ["setpriv", "--reuid", str(user), "--regid", str(user), "--clear-groups", "--no-new-privs", "--"]
    return words


def _jail(places: SeatPlaces, guard: Guard) -> list[str]:
    words = ["bwrap", "--new-session", "--cap-drop", "ALL", "--hostname", "seat"]
    words += ["--unshare-pid", "--unshare-net", "--unshare-ipc", "--unshare-uts", "--unshare-cgroup-try"]
    if guard is Guard.OWN_USER:
        words += ["--cap-add", "CAP_SETUID", "--cap-add", "CAP_SETGID"]
    else:
        words += ["--unshare-user", "--disable-userns"]
    words += ["--proc", "/proc", "--dev", "/dev", "--perms", "1777", "--size", str(256 << 20), "--tmpfs", "/tmp"]
    shown = [*python_folders(), *course_folders()]
    own = places.inside()
    above = {str(up) for place in [*shown, *(Path(inside) for _, inside, _ in own.values())] for up in place.parents}
    for place in sorted(above - {"/"}):
        words += ["--perms", "0755", "--dir", place]
    for place in (*SYSTEM, "/etc/ssl"):
        words += ["--ro-bind-try", place, place]
    for folder in shown:
        words += ["--ro-bind", str(folder), str(folder)]
    words += hidden([*map(Path, SYSTEM), *shown])
    for out, inside, writable in own.values():
        words += ["--bind" if writable else "--ro-bind", str(out), inside]
    return [*words, "--remount-ro", "/", "--chdir", "/"]
