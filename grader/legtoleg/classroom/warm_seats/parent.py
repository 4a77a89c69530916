"""The warm parent: one thread; for each connection a fork, which reads the order, enters the jail, and is a server.

    python -m warm_seats.parent SOCKET

An order is one message: JSON (jail, user, limits, groups, words, environment, folder) with two open files, the line
that holds the jail and the log. The answer is the number of the server's process. Root alone can connect.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import sys
from pathlib import Path
from typing import TypedDict

from .entering import be_called, become, close_all_but, enter, join_groups, reap_orphans
from .nursery import Nursery, run_kernel
from .provisioner import WarmProvisioner
from .warming import WARM, load, rehearse, settle, wake

_PATIENCE = 20.0
"""Seconds in which an order has to come after its connection."""
_LONGEST = 1 << 17


class SeatOrder(TypedDict):
    """What the hub asks for."""

    jail: int
    """A process inside the jail."""
    user: int
    limits: dict[str, int]
    groups: list[str]
    words: list[str]
    environment: dict[str, str]
    folder: str


def serve(path: Path) -> socket.socket:
    """Take connections for ever; returns in a fork only, with its connection."""
    door = socket.socket(socket.AF_UNIX)
    path.unlink(missing_ok=True)
    old = os.umask(0o077)
    door.bind(str(path))
    os.umask(old)
    door.listen(128)
    while True:
        link, _ = door.accept()
        if os.fork() == 0:
            door.close()
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            return link
        link.close()


def take_order(link: socket.socket) -> tuple[SeatOrder, int, int]:
    """Return the order, the line that holds the jail, and the log.

    Raises
    ------
    OSError
        If none comes.
    ValueError
        If it is damaged.
    """
    link.settimeout(_PATIENCE)
    content, handles, _, _ = socket.recv_fds(link, _LONGEST, 2)
    while content and not content.endswith(b"\n"):
        part = link.recv(_LONGEST)
        if not part:
            break
        content += part
    hold, log = handles
    order: SeatOrder = json.loads(content)
    return order, hold, log


def begin(link: socket.socket) -> SeatOrder | None:
    """Enter the jail that is ordered and return in the server's process; None in the fork that only led there."""
    order, hold, log = take_order(link)
    os.setsid()
    os.dup2(log, 1)
    os.dup2(log, 2)
    close_all_but([hold, link.fileno()])
    join_groups(order["groups"])
    server = enter(order["jail"])
    if server:
        link.sendall(f"{server}\n".encode("ascii"))
        return None
    link.close()
    become(order["user"], order["limits"])
    os.set_inheritable(hold, False)
    return order if _with_nursery(hold) else None


def _with_nursery(hold: int) -> bool:
    """Fork the nursery and be the server; returns False in processes that have ended their work."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    if os.fork() == 0:
        os.close(hold)
        ours.close()
        os.setsid()
        be_called("nursery")
        kernel = Nursery(theirs).serve()
        if kernel is not None:
            run_kernel(kernel)
        return False
    theirs.close()
    be_called("seat")
    WarmProvisioner.nursery = ours
    os.write(hold, f"{os.getpid()}\n".encode("ascii"))
    return True


def main() -> None:
    """Load, then serve."""
    aside = (Path(__file__).resolve().parent.parent, Path.cwd())
    sys.path[:] = [place for place in sys.path if Path(place).resolve() not in aside]
    missing = load()
    rehearse()
    if missing:
        sys.stdout.write(f"not warm: {' '.join(missing)}\n")
        sys.stdout.flush()
    reap_orphans()
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # the kernel reaps
    settle()
    order = begin(serve(Path(sys.argv[1])))
    if order is not None:
        wake({**order["environment"], "JUPYTER_DEFAULT_PROVISIONER_NAME": WARM}, order["folder"], order["words"])
        from jupyterhub.singleuser import main as be_server

        be_server()


if __name__ == "__main__":
    main()
