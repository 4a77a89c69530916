"""The link to a class: where a server runs the lessons, pages are handed in and notes are sent by a socket of the seat.

Without a class there is no such socket, and nothing here does anything.
"""

from __future__ import annotations

import http.client
import json
import os
import socket
import time
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import MODE

VARIABLE = "LEGTOLEG_CLASS"
"""The environment variable with the path of the seat's socket to the class, or its address on another computer."""
_PATIENCE = 10.0
"""Seconds in which a class that is started again is waited for."""
_LATER = 5.0
"""Seconds without notes after one could not be sent."""


class ClassAwayError(LegToLegError, OSError):
    """The class did not take something; the text says what that means."""


class _Connection(http.client.HTTPConnection):
    def __init__(self, path: str, seconds: float) -> None:
        super().__init__("class", timeout=seconds)
        self._path = path

    def connect(self) -> None:
        self.sock = socket.socket(socket.AF_UNIX)
        self.sock.settimeout(self.timeout)
        self.sock.connect(self._path)


def _line(path: str, seconds: float) -> tuple[http.client.HTTPConnection, str, dict[str, str]]:
    if "://" not in path:
        return _Connection(path, seconds), "", {}
    there = urlsplit(path)
    kind = http.client.HTTPSConnection if there.scheme == "https" else http.client.HTTPConnection
    token = os.environ.get("JUPYTERHUB_API_TOKEN", "")
    return kind(there.netloc, timeout=seconds), there.path, {"Authorization": f"token {token}"}


def ask(path: str, way: str, place: str, body: bytes = b"", seconds: float = 5.0) -> tuple[int, dict[str, object]]:
    """Ask the service whose socket or address is ``path`` and return its status and what it said.

    At an address the seat's own token says who asks.

    Raises
    ------
    OSError, http.client.HTTPException
        If nobody answers in ``seconds``.
    """
    line, before, words = _line(path, seconds)
    try:
        line.request(way, before + place, body, words)
        got = line.getresponse()
        content = got.read()
    finally:
        line.close()
    try:
        said = json.loads(content)
    except ValueError:
        said = {}
    return got.status, said if isinstance(said, dict) else {}


@dataclass(frozen=True)
class Receipt:
    """What the class gives for a page: whose, which lesson, the how many-eth, its SHA-256, its size, when (UTC)."""

    apprentice: str
    lesson: str
    number: int
    sha256: str
    size: int
    at: str


@dataclass
class ClassLink:
    """The link of one seat; ``path`` is its socket's."""

    path: str
    _quiet_until: float = 0.0

    def _ask(self, way: str, place: str, body: bytes = b"", seconds: float = 5.0) -> tuple[int, dict[str, object]]:
        return ask(self.path, way, place, body, seconds)

    def hand_in(self, lesson: str, content: bytes) -> Receipt:
        """Hand the page ``content`` of ``lesson`` in and return the receipt.

        Raises
        ------
        ClassAwayError
            If the class did not take it: then nothing was handed in.
        """
        until = time.monotonic() + _PATIENCE
        while True:
            try:
                status, said = self._ask("POST", f"/hand-in/{lesson}", content)
                break
            except (OSError, http.client.HTTPException):
                if time.monotonic() > until:
                    raise ClassAwayError(
                        "The class does not answer right now. Nothing was handed in: your page is kept here; wait a "
                        "minute, then press the button again."
                    ) from None
                time.sleep(0.3)
        if status != 200:
            raise ClassAwayError(str(said.get("said") or "The class did not take this page. Tell your instructor."))
        number, size = said.get("number"), said.get("size")
        words = [str(said.get(name)) for name in ("apprentice", "lesson", "sha256", "at")]
        return Receipt(
            words[0],
            words[1],
            number if type(number) is int else 0,
            words[2],
            size if type(size) is int else 0,
            words[3],
        )

    def note(self, kind: str, **more: object) -> bool:
        """Send a note for the instructor's board, and tell whether it came; a class that is away stops nothing."""
        now = time.monotonic()
        if now < self._quiet_until:
            return False
        try:
            status, _ = self._ask("POST", "/note", json.dumps({"kind": kind, **more}).encode("utf-8"), 0.5)
        except (OSError, http.client.HTTPException):
            self._quiet_until = now + _LATER
            return False
        return status == 200

    def state(self) -> dict[str, object]:
        """Return the last receipt of each lesson and whether the hand is up; nothing if the class is away."""
        try:
            return self._ask("GET", "/state", seconds=1.0)[1]
        except (OSError, http.client.HTTPException):
            return {}


_LINKS: dict[str, ClassLink] = {}


def class_link() -> ClassLink | None:
    """Return the link to the class that runs this page; None if there is none."""
    path = os.environ.get(VARIABLE, "")
    if not path or not ("://" in path or Path(path).parent.is_dir()):
        return None
    return _LINKS.setdefault(path, ClassLink(path))


def in_front() -> bool:
    """Tell whether somebody is at this page: it is not being built, checked or printed."""
    return os.environ.get(MODE, "live") == "live"


def note(kind: str, **more: object) -> None:
    """Send a note for the instructor's board, where there is a class."""
    link = class_link()
    if link is not None:
        link.note(kind, **more)
