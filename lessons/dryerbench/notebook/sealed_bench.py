"""A bench that is elsewhere: in a supervised test the class holds machine and fault, this kernel gets what is seen."""

from __future__ import annotations

import http.client
import json
import os
import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypedDict, cast

from dryerbench.bench.reading import Reading
from dryerbench.bench.trail import Act
from dryerbench.core.errors import LegToLegError
from dryerbench.notebook.bench_view import trail_words
from dryerbench.notebook.class_link import VARIABLE, ask
from dryerbench.notebook.machine_scene import Shown

SOCKET = "bench"
"""The name of the socket of sealed benches, beside the class's own."""
_PATIENCE = 15.0
"""Seconds in which a service that is started again is waited for."""
_LONGEST_WAIT = 60.0
"""Seconds for which a step waits for its turn; after that it says so."""


class Supervised(TypedDict):
    """A supervised test as a seat is told of it; ``jobs`` has key, title and how many acts were done."""

    test: str
    kind: str
    title: str
    open: bool
    until: str
    left: float
    jobs: list[tuple[str, str, int]]


class _Stands(TypedDict):
    """How far the job is and how the meter is set."""

    minutes: float
    mode: str
    full_scale: float | None


class _Opened(TypedDict):
    """All that the class says of one bench; ``menu`` goes to the panel unread."""

    title: str
    known: list[str]
    offers: list[list[str]]
    named: str
    trail: list[Act]
    menu: dict[str, object]
    stands: _Stands


class _Done(TypedDict):
    record: Act
    stands: _Stands


class Pressed(Shown):
    """What came of a press: the act that it was, if it was one, what is said, where the page looks, what it shows."""

    record: Act | None
    said: str
    look: dict[str, object]
    stands: _Stands


class SealedBenchError(LegToLegError, RuntimeError):
    """Something that the class's bench did not do; the text says why, ``answer`` is all that came with it."""

    def __init__(self, words: str, answer: dict[str, object] | None = None) -> None:
        super().__init__(words)
        self.answer = answer or {}


class MovedOnError(SealedBenchError):
    """The bench is further than this page knew, or the test has ended."""


@dataclass(frozen=True)
class SealedLink:
    """The seat's line to the benches of the class; ``path`` is its socket's."""

    path: str

    @staticmethod
    def here() -> SealedLink:
        """Return the line of this seat.

        Raises
        ------
        SealedBenchError
            If no class runs this page.
        """
        at = os.environ.get(VARIABLE, "")
        if not at or not ("://" in at or Path(at).parent.is_dir()):
            raise SealedBenchError("Supervised tests are taken in a class: open this page at the class's door.")
        return SealedLink(f"{at.rpartition('/')[0]}/{SOCKET}")

    def said(self, way: str, place: str, body: bytes = b"") -> dict[str, object]:
        """Ask, again while the class is away or the step has to wait for its turn, and return what was answered.

        Asking twice does nothing twice: every step has its number.

        Raises
        ------
        SealedBenchError
            If it was not done; the text is the class's own.
        """
        until = time.monotonic() + _PATIENCE
        turn = time.monotonic() + _LONGEST_WAIT
        while True:
            try:
                status, said = ask(self.path, way, place, body, 20.0)
            except (OSError, http.client.HTTPException):
                if time.monotonic() > until:
                    raise SealedBenchError(
                        "The class does not answer right now. What you did is kept; wait a minute, then do this step "
                        "again."
                    ) from None
                time.sleep(0.3)
                continue
            if status == 200:
                return said
            wait = said.get("wait")
            if status == 429 and isinstance(wait, int | float) and time.monotonic() + wait < turn:
                time.sleep(max(0.1, wait))
                until = time.monotonic() + _PATIENCE
                continue
            words = str(said.get("said") or "The class's bench did not do that. Tell your instructor.")
            raise MovedOnError(words) if status == 409 else SealedBenchError(words, said)

    def tests(self) -> list[Supervised]:
        """Return the supervised tests of this seat."""
        return cast("list[Supervised]", self.said("GET", "/tests")["tests"])


@dataclass
class SealedBench:
    """One bench of a supervised test, act by act, as ``Bench`` is; what it knows is what was seen so far."""

    link: SealedLink
    test: str
    job: str
    title: str = ""
    known: list[str] = field(default_factory=list)
    offers: list[list[str]] = field(default_factory=list)
    named: str = ""
    trail: list[Act] = field(default_factory=list)
    clock: list[float] = field(default_factory=list)
    """Stays empty: when each act was done is written by the class."""
    menu: dict[str, object] = field(default_factory=dict)
    """What the panel offers."""
    _stands: _Stands = field(default_factory=lambda: _Stands(minutes=0.0, mode="", full_scale=None))

    @staticmethod
    def at(link: SealedLink, test: str, job: str) -> SealedBench:
        """Return the bench ``job`` of ``test`` as it stands.

        Raises
        ------
        SealedBenchError
            If there is no such test for this seat, or it has ended.
        """
        bench = SealedBench(link, test, job)
        bench.look_again()
        return bench

    def look_again(self) -> None:
        """Fetch how the bench stands: what was done on another page is there too."""
        said = cast("_Opened", self.link.said("GET", self._place))
        self.title, self.known, self.offers = said["title"], said["known"], said["offers"]
        self.named, self.trail = said["named"], said["trail"]
        self.menu, self._stands = said["menu"], said["stands"]

    @property
    def _place(self) -> str:
        return f"/tests/{self.test}/{self.job}"

    @property
    def minutes(self) -> float:
        """The minutes that the job has taken."""
        return float(self._stands["minutes"])

    def do(self, act: str, **given: object) -> Act:
        """Do one act and return its record: what was done, what was noticed, what was read.

        Raises
        ------
        SealedBenchError
            For an act that is not possible as things stand, or that the class did not take.
        """
        said = cast("_Done", self._ask("act", {"act": act, "with": given}))
        self._take(said["record"], said["stands"])
        return said["record"]

    def press(self, act: str, given: dict[str, object], look: dict[str, object]) -> Pressed:
        """Send one press of the panel and return what came of it; ``look`` is where the page looks.

        Raises
        ------
        SealedBenchError
            For what is not possible as things stand, or what the class did not take.
        """
        said = cast("Pressed", self._ask("press", {"act": act, "with": given, "look": look}))
        if said["record"] is not None:
            self._take(said["record"], said["stands"])
        return said

    def _take(self, record: Act, stands: _Stands) -> None:
        self.trail.append(record)
        self._stands = stands

    def _ask(self, way: str, asked: dict[str, object]) -> dict[str, object]:
        try:
            body = json.dumps({"n": len(self.trail), **asked}, allow_nan=False).encode("utf-8")
        except (TypeError, ValueError):
            raise SealedBenchError(f"The act {asked['act']} takes words and numbers only.") from None
        try:
            return self.link.said("POST", f"{self._place}/{way}", body)
        except MovedOnError:
            with suppress(SealedBenchError):
                self.look_again()
            raise

    def name_fault(self, key: str) -> str:
        """Name the fault, once, and return what is said to it.

        Raises
        ------
        SealedBenchError
            If it was named before, or cannot be named so.
        """
        said = self.link.said("POST", f"{self._place}/fault", json.dumps({"fault": key}).encode("utf-8"))
        self.named = str(said["named"])
        return str(said["said"])

    def words(self) -> str:
        """Return all that is known of it, in words."""
        return "\n".join([self.title, *self.known, *trail_words(self.trail)])

    # --- as a cell asks ---------------------------------------------------------------------------------------

    def measure(self, mode: str, a: str, b: str, full_scale: float | None = None) -> Reading:
        """Set the dial if it stands elsewhere, put the probes on two points and read.

        Raises
        ------
        SealedBenchError
            If a point cannot be reached, or there is no such setting.
        """
        if (mode, full_scale) != (self._stands["mode"], self._stands["full_scale"]):
            self.do("set_dial", mode=mode, full_scale=full_scale)
        return Reading.from_data(self.do("probe", a=a, b=b)["reading"])

    def volts(self, a: str, b: str) -> Reading:
        """Read ac volts between two points with the 10 MΩ setting."""
        return self.measure("volts", a, b)

    def low_impedance(self, a: str, b: str) -> Reading:
        """Read ac volts between two points with the low-impedance setting."""
        return self.measure("low-impedance", a, b)

    def ohms(self, a: str, b: str) -> Reading:
        """Read ohms between two points."""
        return self.measure("ohms", a, b)

    def continuity(self, a: str, b: str) -> Reading:
        """Listen for the beeper between two points."""
        return self.measure("continuity", a, b)

    def insulation(self, a: str, b: str) -> Reading:
        """Test the insulation between two points at 500 V dc."""
        return self.measure("insulation", a, b)

    def clamp(self, conductor: str) -> Reading:
        """Read amps with the jaw round one conductor, or round the whole ``cord``."""
        return Reading.from_data(self.do("clamp", conductor=conductor)["reading"])

    def temperature(self, spot: str, unit: str = "°F") -> Reading:
        """Read degrees at ``exhaust``, ``limit`` or ``room``; its number is in °C, what it shows in ``unit``."""
        return Reading.from_data(self.do("temperature", spot=spot, unit=unit)["reading"])
