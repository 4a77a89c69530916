"""The files of a class beyond one computer: image recipe, compose file or a cluster's objects, secrets."""

from __future__ import annotations

import json
import math
import re
import secrets
import sys
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape

from dryerbench.core.errors import LegToLegError
from legtoleg.classroom.container_settings import COMPOSE, KUBERNETES
from legtoleg.core.files import write_whole
from legtoleg.core.paths import TEMPLATES

INSIDE = "/cohort"
"""The cohort's folder as hub and class see it."""
CLASS_EXTRAS, SEAT_EXTRAS = "class,cluster,postgres,containers", "class"
PROXY_IMAGE = "configurable-http-proxy:5"
"""The hub's own proxy, without a host: whoever sets the class up says where the image comes from."""
NAMESPACE = "leg-to-leg"
_FILES = {
    COMPOSE: {"compose.yaml": "compose.yaml", "hub_config.py": "hub_config.txt", "books.sql": "books.sql"},
    KUBERNETES: {"class.yaml": "class.yaml"},
}
_SECRETS = {COMPOSE: {".env": "variables.env"}, KUBERNETES: {"secret.yaml": "secret.yaml"}}
_NAME = re.compile(r"[a-z0-9][a-z0-9._/:@-]{0,200}")

ONE_SEAT_WARM, ONE_SEAT_ALONE = 110, 512
"""MiB a seat that ran a lesson: forked from a warm parent on one computer, and what a container is sure of.

Measured: 40 for the seat's server, and 40 to 70 for the kernel of a lesson that ran whole, 60 in the middle
(``tests/benchmarks/bench_seats.py``).
"""
BESIDE_SEATS = 1.5
"""GiB for the rest of a computer: 0.5 for hub, door and services (measured), 1 for system and marking (an estimate)."""
SEATS_A_CORE = 20
"""Working seats a core: 40 on two cores moved their benches in 11 to 27 ms at the median (measured)."""


class ContainerFilesError(LegToLegError, ValueError):
    """Files that cannot be written as asked; the text says what to do."""


def seats_on(gib: float, cores: int, each: int) -> int:
    """Return how many working seats of ``each`` MiB one computer of ``gib`` GiB and ``cores`` cores carries."""
    return max(0, min(math.floor((gib - BESIDE_SEATS) * 1024 / each), SEATS_A_CORE * cores))


def computers_for(seats: int, gib: float, cores: int) -> int:
    """Return how many computers of ``gib`` GiB and ``cores`` cores ``seats`` seats in containers take.

    Raises
    ------
    ContainerFilesError
        If such a computer carries no seat at all.
    """
    each = seats_on(gib, cores, ONE_SEAT_ALONE)
    if not each:
        raise ContainerFilesError(f"A computer of {gib:g} GiB carries no seat beside its system: take a larger one.")
    return math.ceil(seats / each)


@dataclass(frozen=True)
class Wish:
    """What the files are made for: where seats run, how many, the images, the public port, where things lie."""

    on: str
    seats: int
    cohort: str = ""
    class_image: str = "leg-to-leg-class:1"
    seat_image: str = "leg-to-leg-seat:1"
    proxy_image: str = PROXY_IMAGE
    port: int = 8400
    tls: bool = False
    storage: str = "shared"
    workers: int = 2


def rendered(wish: Wish) -> dict[str, tuple[str, bool]]:
    """Return the files for ``wish`` by name: each its text, and whether it holds secrets.

    Raises
    ------
    ContainerFilesError
        For a place, an image's name or a cohort's folder that cannot be.
    """
    if wish.on not in _FILES:
        raise ContainerFilesError(f"Seats run on {COMPOSE} or {KUBERNETES}, not on {wish.on!r:.40}.")
    for name in (wish.class_image, wish.seat_image, wish.proxy_image, wish.storage):
        if not _NAME.fullmatch(name):
            raise ContainerFilesError(f"{name!r:.80} is no name of an image or of a storage class.")
    if wish.on == COMPOSE and (not Path(wish.cohort).is_absolute() or "\n" in wish.cohort):
        raise ContainerFilesError("Say where the cohort lies on the container host, from the root on: --cohort.")
    pages = Environment(
        loader=FileSystemLoader(TEMPLATES / "containers"),
        autoescape=select_autoescape(["html"]),
        undefined=StrictUndefined,
        keep_trailing_newline=True,
    )
    told = {"folder": INSIDE}
    words = {
        **vars(wish),
        "python": f"{sys.version_info.major}.{sys.version_info.minor}",
        "inside": INSIDE,
        "class_extras": CLASS_EXTRAS,
        "seat_extras": SEAT_EXTRAS,
        "namespace": NAMESPACE,
        "gigabytes": 20 + math.ceil(wish.seats * 0.2),
        "proxy_token": secrets.token_hex(32),
        "password": secrets.token_hex(24),
        "commands": {
            "gate": json.dumps(["python", "-m", "legtoleg.classroom.seat_gate", INSIDE]),
            "board": json.dumps(["python", "-m", "legtoleg.classroom.class_service", json.dumps(told)]),
            "bench": json.dumps(["python", "-m", "legtoleg.classroom.sealed_service", json.dumps(told)]),
        },
    }
    words["hub_config"] = pages.get_template("hub_config.txt").render(words)
    made = {"Containerfile": (pages.get_template("Containerfile").render(words), False)}
    for secret, files in ((False, _FILES[wish.on]), (True, _SECRETS[wish.on])):
        made |= {name: (pages.get_template(source).render(words), secret) for name, source in files.items()}
    return made


def write_files(wish: Wish, folder: Path) -> list[Path]:
    """Write the files for ``wish`` into ``folder``; secrets that lie there already are kept. Return what was written.

    Raises
    ------
    ContainerFilesError
        As ``rendered``.
    """
    written = []
    for name, (text, secret) in rendered(wish).items():
        place = folder / name
        if secret and place.exists():
            continue
        write_whole(place, text.encode("utf-8"), 0o600 if secret else 0o644)
        written.append(place)
    return written
