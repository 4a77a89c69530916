"""Where a class keeps its things: what lasts in the cohort's folder, sockets in a short place that is swept."""

from __future__ import annotations

import hashlib
import os
import secrets
import stat
import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from dryerbench.core.errors import LegToLegError
from legtoleg.core.files import write_whole

if TYPE_CHECKING:
    from legtoleg.cohort.cohort_folder import Cohort

INSTRUCTOR = "instructor"
"""The instructor's id at the door; nobody on the roster may have it."""


class ClassError(LegToLegError, RuntimeError):
    """A class that cannot run; the text says why and what to do."""


@dataclass(frozen=True)
class ClassPlaces:
    """The places of the class of the cohort in the folder ``place``: all that the door needs, which starts at once."""

    place: Path

    @property
    def root(self) -> Path:
        """What lasts: homes, kits, accounts, receipts, the hub's own book, logs."""
        return self.place / "class"

    @property
    def sockets(self) -> Path:
        """Where the sockets are: a short path, because a socket's may have 107 letters at most."""
        mark = hashlib.sha256(str(self.place).encode("utf-8", "surrogateescape")).hexdigest()[:10]
        if os.getuid() == 0:
            return Path("/run/leg-to-leg") / mark
        return Path(os.environ.get("XDG_RUNTIME_DIR") or tempfile.gettempdir(), f"leg-to-leg-{os.getuid()}-{mark}")

    @property
    def homes(self) -> Path:
        """One folder a seat, its owner's alone."""
        return self.root / "homes"

    @property
    def kits(self) -> Path:
        """One folder a seat: what its home begins with, read-only to it."""
        return self.root / "kits"

    @property
    def logs(self) -> Path:
        """One file for each sibling and each seat."""
        return self.root / "logs"

    @property
    def hub_socket(self) -> Path:
        """The hub's own socket: the door's alone."""
        return self.sockets / "hub"

    @property
    def door_socket(self) -> Path:
        """Where the door takes routes from the hub."""
        return self.sockets / "door"

    @property
    def gate_folder(self) -> Path:
        """The folder of the one socket by which seats reach the hub's API."""
        return self.sockets / "gate"

    @property
    def warm_socket(self) -> Path:
        """Where the hub asks the warm parent for a seat."""
        return self.sockets / "warm"

    @property
    def board_socket(self) -> Path:
        """The class service's own pages."""
        return self.sockets / "board"

    def seat(self, apprentice: str) -> Path:
        """Return the folder of the sockets of one seat: ``server/`` is the seat's, ``service/`` the class's."""
        return self.sockets / "seats" / apprentice.lower()

    def group(self, apprentice: str) -> str:
        """Return the name of the control group of one seat: other classes of this computer have others."""
        return f"{self.sockets.name}-{apprentice.lower()}"

    def secret(self, name: str) -> str:
        """Return a secret that the siblings share, made the first time."""
        path = self.root / "secrets" / name
        if not path.is_file():
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_whole(path, secrets.token_hex(32).encode("ascii"), 0o600)
        return path.read_text(encoding="ascii")

    def prepare(self) -> None:
        """Make the folders that are not there.

        Raises
        ------
        ClassError
            If one cannot be made, or somebody else's stands in its place.
        """
        try:
            for place in (self.root, self.homes, self.kits, self.logs):
                place.mkdir(mode=0o700, exist_ok=True)
            if os.getuid() == 0:
                self.sockets.parent.mkdir(mode=0o711, exist_ok=True)
            for place in (self.sockets, self.sockets / "seats", self.gate_folder):
                place.mkdir(mode=0o711, exist_ok=True)
        except OSError as error:
            raise ClassError(f"The class cannot be set up: {error.filename}: {error.strerror}.") from None
        about = self.sockets.lstat()
        if not stat.S_ISDIR(about.st_mode) or about.st_uid != os.getuid():
            raise ClassError(f"{self.sockets} belongs to somebody else: the class does not trust it. Remove it first.")
        self.sockets.chmod(0o700)  # seats see what is bound into their jails, and nobody else sees anything


@dataclass(frozen=True)
class ClassFolder(ClassPlaces):
    """The places of the class of one cohort, and the cohort."""

    place: Path = field(init=False, repr=False)
    cohort: Cohort

    def lets_in(self, who: str) -> bool:
        """Tell whether ``who``, an id in small letters, may come in: the instructor, and who has not left."""
        return who == INSTRUCTOR or who in {person.id.lower() for person in self.cohort.here()}

    def __post_init__(self) -> None:
        """Take the place from the cohort."""
        object.__setattr__(self, "place", self.cohort.folder)


def socket_url(path: Path | str) -> str:
    """Return the address of the socket at ``path`` as the hub writes it."""
    return "http+unix://" + quote(str(path), safe="").replace("%2F", "%2f")
