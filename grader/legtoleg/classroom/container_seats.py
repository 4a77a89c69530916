"""Seats in containers: what of the cohort's folder each sees and as which user, as in a jail on one computer."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from legtoleg.classroom.class_folder import INSTRUCTOR, ClassError, ClassFolder
from legtoleg.classroom.seat_files import feedback_of, home_of, pack_seat, settings_folder
from legtoleg.classroom.seat_gate import PORT
from legtoleg.classroom.seat_jail import BEGIN, HOME, INSIDE, Guard, SeatPlaces, seat_variables

if TYPE_CHECKING:
    from jupyterhub.spawner import Spawner

COMMAND = ["sh", "-c", BEGIN, "seat", "python", "-m", "jupyterhub.singleuser"]
"""What a seat's container runs."""
CLAIM = "cohort"
"""The volume with the cohort's folder, on Kubernetes."""


@dataclass(frozen=True)
class Mount:
    """A part of the cohort's folder as a seat sees it."""

    part: str
    inside: str
    writable: bool


@dataclass(frozen=True)
class ContainerSeat:
    """One seat: what it sees, and as which user it runs."""

    mounts: tuple[Mount, ...]
    user: int

    def docker_volumes(self, on_host: str) -> dict[str, dict[str, str]]:
        """Return the mounts as DockerSpawner takes them; ``on_host`` is the cohort's folder on the host."""
        return {
            f"{on_host}/{one.part}": {"bind": one.inside, "mode": "rw" if one.writable else "ro"} for one in self.mounts
        }

    def kube_mounts(self) -> list[dict[str, object]]:
        """Return the mounts as KubeSpawner takes them."""
        return [
            {"name": CLAIM, "mountPath": one.inside, "subPath": one.part, "readOnly": not one.writable}
            for one in self.mounts
        ]


def container_seat(folder: ClassFolder, user_name: str) -> ContainerSeat:
    """Return the seat of the hub's user ``user_name``, with its home, kit and feedback folder made.

    Raises
    ------
    ClassError
        If nobody on the roster has that id.
    """
    ids = {person.id.lower(): person.id for person in folder.cohort.people()} | {INSTRUCTOR: INSTRUCTOR}
    if user_name not in ids:
        raise ClassError(f"{user_name} is not on this cohort's roster.")
    who = ids[user_name]
    folder.root.mkdir(mode=0o711, exist_ok=True)
    for place in (folder.homes, folder.kits):
        place.mkdir(mode=0o711, exist_ok=True)
    home, user = home_of(folder, who)
    settings = folder.root / "settings"
    if not settings.is_dir():
        settings_folder(folder)
    seen = (
        (home, HOME, True),
        (pack_seat(folder, who), f"{INSIDE}/kit", False),
        (feedback_of(folder, who), f"{INSIDE}/feedback", False),
        (settings, f"{INSIDE}/settings", False),
    )
    top = folder.cohort.folder
    return ContainerSeat(tuple(Mount(str(out.relative_to(top)), inside, rw) for out, inside, rw in seen), user)


def container_variables(gate: str) -> dict[str, str]:
    """Return the environment of every seat in a container; its path and its Python are the image's."""
    nowhere = Path("/nowhere")
    places = SeatPlaces(*(nowhere for _ in range(7)))
    words = seat_variables(places, Guard.OWN_USER, "seat")
    return {name: word for name, word in words.items() if name not in ("PATH", "PYTHONPATH")} | {
        "LEGTOLEG_CLASS": f"http://{gate}:{PORT}/seat/class"
    }


def before_docker(folder: ClassFolder) -> Callable[[Spawner], None]:
    """Return what DockerSpawner calls before a seat starts."""

    def hook(spawner: Spawner) -> None:
        seat = container_seat(folder, spawner.user.name)
        spawner.volumes = seat.docker_volumes(os.environ["COHORT_ON_HOST"])
        spawner.extra_create_kwargs = {"user": f"{seat.user}:{seat.user}"}

    return hook


def before_kube(folder: ClassFolder) -> Callable[[Spawner], None]:
    """Return what KubeSpawner calls before a seat starts."""

    def hook(spawner: Spawner) -> None:
        seat = container_seat(folder, spawner.user.name)
        spawner.volumes = [{"name": CLAIM, "persistentVolumeClaim": {"claimName": CLAIM}}]
        spawner.volume_mounts = seat.kube_mounts()
        spawner.uid = spawner.gid = seat.user

    return hook
