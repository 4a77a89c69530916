"""``legtoleg class``: a cohort at the browser, from one command."""

from __future__ import annotations

import asyncio
import contextlib
import errno
import importlib.util
import ipaddress
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dryerbench.core.errors import LegToLegError
from legtoleg.cli.terminal import say_line

if TYPE_CHECKING:
    from legtoleg.classroom.class_folder import ClassFolder


_PORT_TAKEN = (errno.EADDRINUSE, errno.EACCES)


class ClassSetupError(LegToLegError, ValueError):
    """A class that cannot be opened as it was asked for."""


def class_(
    folder: Annotated[Path, typer.Argument(help="The cohort's folder.")],
    host: Annotated[str, typer.Option(help="Where the door listens: this computer only, or 0.0.0.0 for a network.")] = (
        "127.0.0.1"
    ),
    port: Annotated[int, typer.Option(min=1, max=65535, help="The door's port.")] = 8400,
    certificate: Annotated[str, typer.Option(help="A TLS certificate file (PEM), with its chain.")] = "",
    key: Annotated[str, typer.Option(help="The certificate's key file.")] = "",
    new_code: Annotated[str, typer.Option(help="Only make a new slip for this id: a forgotten password.")] = "",
) -> None:
    """Run a class: every apprentice of the cohort works in the browser, the instructor sees the board.

    Start it again after a crash or a restart of the computer: it goes on. Ctrl-C ends it in order.
    """
    _check_computer()
    from legtoleg.classroom import slips
    from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
    from legtoleg.classroom.platform_settings import Platform
    from legtoleg.classroom.seat_jail import Guard, guard_here
    from legtoleg.classroom.seat_limits import Limits
    from legtoleg.classroom.secure_port import tls
    from legtoleg.classroom.supervisor import only_one
    from legtoleg.cohort.cohort_folder import ROSTER, Cohort
    from legtoleg.intake.roster import id_called

    room = ClassFolder(Cohort.at(folder))
    people = room.cohort.people()
    if any(person.id.lower() == INSTRUCTOR for person in people):
        raise ClassSetupError(f"The id {INSTRUCTOR} is the instructor's own: give that apprentice another.")
    room.prepare()
    platform = Platform.of(room)
    address = f"{'https' if certificate else 'http'}://{_name(host)}:{port}"
    if new_code and platform is not None:
        raise ClassSetupError(f"People of this class log in through {platform.issuer}: there are no codes.")
    if new_code:
        names = slips.names_at_the_door(people)
        who = id_called(new_code, names, ROSTER, ClassSetupError)
        address = slips.kept_address(room, address)
        slips.deal_anew(room, who, names[who], address)
        say_line(f"The old password is gone. The new slip says {address}. Print it: {room.root / slips.FILE}")
        return
    tls(certificate, key)
    if platform is not None and not certificate:
        raise ClassSetupError("A log-in through a learning platform needs TLS: --certificate and --key.")
    with only_one(room):
        _check_port(host, port)
    slips.keep_address(room, address)
    say_line(guard_here().value)
    if guard_here() is Guard.OWN_USER and (loose := Limits().not_held()):
        say_line(
            f"Careful: this computer does not limit a seat's {', '.join(loose)}: it lets no control group be set for "
            "that. One seat can slow down or stop all others. Run the class on a computer of its own, not inside a "
            "container, or watch the board."
        )
    if not certificate:
        say_line("No certificate: what is typed can be read on the network. For a trusted room only.")
    if platform is not None:
        say_line(f"People log in through {platform.issuer}; register {address}/hub/lti13/oauth_login there.")
    else:
        slips.deal_slips(room, room.cohort.here(), address)
        if waiting := len(slips.unused(room)):
            say_line(f"Print the slips ({waiting} not used yet): {room.root / slips.FILE}")
    files = [str(Path(name).absolute()) if name else "" for name in (certificate, key)]
    asyncio.run(_run(room, host, port, files, address))
    say_line("The class has ended. All pages, hand-ins and grades are kept.")


def _check_computer() -> None:
    if sys.platform != "linux":
        raise ClassSetupError("A class runs on Linux only so far: use kits, or a Linux computer for the server.")
    if any(importlib.util.find_spec(name) is None for name in ("jupyterhub", "aiohttp", "ltiauthenticator")):
        raise ClassSetupError("A class needs more packages: pip install “leg-to-leg[class]”.")


def _check_port(host: str, port: int) -> None:
    try:
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
    except (OSError, OverflowError) as error:
        raise ClassSetupError(
            f"The door cannot listen at {host}, port {port}: {getattr(error, 'strerror', '') or error}. "
            f"Name another: {'--port' if getattr(error, 'errno', 0) in _PORT_TAKEN else '--host'}."
        ) from None


def _name(host: str) -> str:
    with contextlib.suppress(ValueError):
        return socket.gethostname() if ipaddress.ip_address(host).is_unspecified else host
    return host


async def _run(room: ClassFolder, host: str, port: int, files: list[str], address: str) -> None:
    from legtoleg.classroom.supervisor import Supervisor, raise_signals

    stop = asyncio.Event()
    raise_signals(asyncio.get_running_loop(), stop)
    supervisor = Supervisor(room, host, port, files[0], files[1])
    supervisor.say = say_line
    ready = lambda: say_line(f"The class is open: {address} (instructor: id “instructor”). Ctrl-C ends it.")
    await supervisor.run(stop, ready)
