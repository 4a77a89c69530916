"""What the board knows of each seat: from its notes; kept so that a restart forgets nothing."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path

from dryerbench.registry import SHEETS
from legtoleg.core.files import write_whole

STUCK_TRIES = 4
"""As many tries at one thing without getting on."""
STUCK_SECONDS = 12 * 60
"""As long at work without getting on."""
BENCH_GAP = 120
"""Seconds between two acts that still count as time on the bench."""
HERE = 5 * 60
"""Seconds after the last sign of life."""


@dataclass
class Place:
    """Where one apprentice is: times in seconds since 1970."""

    lesson: str = ""
    question: str = ""
    """The last thing worked on: a question's title, or practice."""
    answered: dict[str, list[str]] = field(default_factory=dict)
    marks: dict[str, dict[str, str]] = field(default_factory=dict)
    """By lesson and question, a mark of the answer that was given last: the same answer again is no try."""
    tries: int = 0
    """At that one thing, since it last went on."""
    last: float = 0.0
    moved: float = 0.0
    """When it last went on (another lesson, a new answer, practice that was right), or came back after a break."""
    bench: float = 0.0
    """Seconds on the bench."""
    acted: float = 0.0
    hand: float = 0.0
    """Since when the hand is up; 0 is down."""

    def stuck(self, now: float) -> str:
        """Return what is in the way, in words; empty if it goes on, or nobody is here."""
        if not self.lesson or now - self.last > HERE:
            return ""
        if self.tries >= STUCK_TRIES:
            return f"{self.tries} tries at “{self.question}”"
        minutes = int(min(now, self.last) - self.moved) // 60
        if minutes * 60 >= STUCK_SECONDS:
            return f"{minutes} min at “{self.question or 'the text'}”"
        return ""


def _text(value: object) -> str:
    return value[:80] if isinstance(value, str) else ""


class Board:
    """The places of all apprentices; ``changed`` is called with an id after each change."""

    def __init__(self, path: Path, clock: Callable[[], float] = time.time) -> None:
        self._path, self.clock = path, clock
        self.places: dict[str, Place] = self._read()
        self.changed: Callable[[str], None] = lambda _: None
        self._dirty = False

    def _read(self) -> dict[str, Place]:
        names = {one.name for one in fields(Place)}
        try:
            kept = json.loads(self._path.read_text(encoding="utf-8"))
            return {who: Place(**{name: row[name] for name in names & set(row)}) for who, row in kept.items()}
        except (OSError, ValueError, TypeError, AttributeError):
            return {}

    def save(self) -> None:
        """Keep what changed since the last time."""
        if self._dirty:
            self._dirty = False
            write_whole(self._path, json.dumps({who: asdict(one) for who, one in self.places.items()}).encode())

    def place(self, who: str) -> Place:
        """Return the place of ``who``."""
        return self.places.setdefault(who, Place())

    def note(self, who: str, said: dict[str, object]) -> None:
        """Take a note of a seat in: what is no lesson or question of the course is passed over."""
        place, now = self.place(who), self.clock()
        kind, lesson = _text(said.get("kind")), _text(said.get("lesson"))
        if now - place.last > HERE:
            place.moved = now
            place.tries = 0 if kind == "opened" else place.tries
        place.last = now
        if lesson in SHEETS and lesson != place.lesson:
            place.lesson, place.question, place.tries, place.moved = lesson, "", 0, now
        if kind == "answered":
            self._answered(place, _text(said.get("question")), _text(said.get("mark")), now)
        elif kind == "practice":
            self._tried(place, "practice", on=said.get("right") is True, now=now)
        elif kind == "bench":
            gap = now - place.acted
            place.bench, place.acted = place.bench + (gap if gap <= BENCH_GAP else 0.0), now
        elif kind == "hand":
            place.hand = (place.hand or now) if said.get("up") is True else 0.0
        self.touch(who)

    def _answered(self, place: Place, name: str, mark: str, now: float) -> None:
        titles = {one.name: one.title for one in SHEETS[place.lesson].questions} if place.lesson else {}
        if name not in titles:
            return
        known, marks = place.answered.setdefault(place.lesson, []), place.marks.setdefault(place.lesson, {})
        if mark and name in known and marks.get(name) == mark:
            return
        marks[name] = mark
        self._tried(place, titles[name], on=name not in known, now=now)
        if name not in known:
            known.append(name)

    @staticmethod
    def _tried(place: Place, what: str, *, on: bool, now: float) -> None:
        place.tries = 0 if on else (place.tries + 1 if place.question == what else 1)
        place.question = what
        if on:
            place.moved = now

    def lower_hand(self, who: str) -> None:
        """Take the hand of ``who`` down for them: that is no sign of life of theirs."""
        self.place(who).hand = 0.0
        self.touch(who)

    def touch(self, who: str) -> None:
        """Tell that something of ``who`` changed."""
        self._dirty = True
        self.changed(who)
