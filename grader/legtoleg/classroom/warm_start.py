"""A warm start, on the hub's side: a jail that is held, and the warm parent's fork that enters it as the server."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import dryerbench
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.processes import Process
from legtoleg.classroom.seat_jail import GIVES_BACK
from legtoleg.core.one_thread import ONE_THREAD

PARENT = Path(__file__).with_name("warm_seats")
_TRIES = 3
_PATIENCE = 30.0
"""Seconds in which a warm parent that is started again is waited for; then a seat starts cold."""
_ANSWER = 60.0
"""Seconds in which a jail has to stand, and its server's number has to come."""


_KIT = ("LEGTOLEG_KIT", "LEGTOLEG_FEEDBACK")
"""What a home needs to take from its kit."""


@dataclass(frozen=True)
class WarmOrder:
    """What a seat is started with."""

    held: list[str]
    """The command of the jail that is held."""
    user: int
    limits: dict[str, int]
    groups: list[str]
    words: list[str]
    """Of the server, its name first."""
    environment: dict[str, str]
    folder: str
    log: Path


def parent_command(folder: ClassFolder) -> list[str]:
    """Return the command of the warm parent; its environment is seen by every seat and holds nothing of this user's."""
    home = folder.root / "warm"
    home.mkdir(mode=0o700, exist_ok=True)
    variables = {
        "HOME": str(home),
        "LANG": "C.UTF-8",
        "MPLBACKEND": "agg",
        **ONE_THREAD,
        **GIVES_BACK,
        "PATH": os.defpath,
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONPATH": f"{Path(dryerbench.__file__).resolve().parent.parent}{os.pathsep}{PARENT.parent}",
    }
    words = [f"{name}={value}" for name, value in variables.items()]
    return ["env", "-i", *words, sys.executable, "-m", f"{PARENT.name}.parent", str(folder.warm_socket)]


def start_warm(parent: Path, order: WarmOrder, patience: float = _PATIENCE) -> subprocess.Popen[bytes] | None:
    """Start a seat as a fork of the warm parent that listens at ``parent``; return what holds its jail, or None.

    A parent that is killed in the middle is waited for and asked again, with another jail.
    """
    for _ in range(_TRIES):
        link = _connected(parent, patience)
        if link is None:
            return None
        with link:
            seat = _entered(link, order)
        if seat is not None:
            return seat
    return None


def _connected(parent: Path, patience: float) -> socket.socket | None:
    until = time.monotonic() + patience
    while True:
        link = socket.socket(socket.AF_UNIX)
        link.settimeout(_ANSWER)
        try:
            link.connect(str(parent))
        except OSError:
            link.close()
            if time.monotonic() > until:
                return None
            time.sleep(0.1)
        else:
            return link


def _entered(link: socket.socket, order: WarmOrder) -> subprocess.Popen[bytes] | None:
    """Start the jail and let the parent's fork enter it; whatever fails, the jail ends with the line that holds it."""
    holds, hold = os.pipe()
    with order.log.open("ab") as log:
        try:
            jail = subprocess.Popen(
                order.held,
                env={"PATH": os.defpath, **{name: order.environment[name] for name in _KIT}},
                stdin=holds,
                stdout=subprocess.PIPE,
                stderr=log,
                start_new_session=True,
                cwd="/",
            )
            os.close(holds)
            assert jail.stdout is not None
            with jail.stdout:
                stands = jail.stdout.readline() == b"\n"
            inside = next(iter(Process.of(jail.pid).children()), None)
            if stands and inside is not None and _sent(link, order, inside.pid, [hold, log.fileno()]):
                return jail
        finally:
            os.close(hold)
    with suppress(subprocess.TimeoutExpired):
        jail.wait(5)
    for one in (*Process.of(jail.pid).children(), Process.of(jail.pid)):
        one.send(signal.SIGKILL)
    jail.wait()
    return None


def _sent(link: socket.socket, order: WarmOrder, jail: int, lines: list[int]) -> bool:
    asked = {
        "jail": jail,
        "user": order.user,
        "limits": order.limits,
        "groups": order.groups,
        "words": order.words,
        "environment": order.environment,
        "folder": order.folder,
    }
    try:
        content = json.dumps(asked).encode() + b"\n"
        sent = socket.send_fds(link, [content], lines)
        link.sendall(content[sent:])
        return bool(link.recv(32).strip())
    except OSError:
        return False
