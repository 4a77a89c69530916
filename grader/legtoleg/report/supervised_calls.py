"""Supervised tests of three calls as the report reads them: each person's last one, and whether the shop counts it.

A class writes what a test came to (``write_results``) beside its other files, where the report finds it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.topics.call_to_close.sheet import LESSON
from legtoleg.core.files import write_whole
from legtoleg.core.outside_words import plain_words
from legtoleg.marking.judgements import UNSAFE
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.call_closing import closed

_PLACE = Path("class", "supervised")
_RULE = "counts.json"


class Counts(StrEnum):
    """How a supervised test counts to the three calls, as the shop decides."""

    TOO = "too"
    """A call is closed on the page of its lesson, or by a passed test; an unsafe act in the last test reopens it."""
    ALONE = "alone"
    """The three calls are closed by a passed test and by nothing else."""
    NOT = "not"
    """Tests count for nothing: the page alone counts."""


WHAT_COUNTS = {
    Counts.TOO: "A passed supervised test closes the calls as well; an unsafe act in the last test opens them again.",
    Counts.ALONE: "Only a passed supervised test closes the calls; the last one counts.",
    Counts.NOT: "Supervised tests do not count here.",
}
"""The rule in words, as the report and the command say it."""


class CountsError(LegToLegError, ValueError):
    """A rule that cannot be set or read."""


@dataclass(frozen=True)
class CallsTest:
    """One person's supervised test: its name, the day and second (since 1970) it was opened, and what it came to."""

    test: str
    day: date
    at: float
    outcomes: tuple[Outcome, ...]

    @property
    def closed(self) -> dict[str, bool]:
        """Of each call, whether it is closed, by the rule of the lesson's page."""
        return closed({LESSON: self.outcomes})

    @property
    def passed(self) -> bool:
        """Tell whether every call is closed."""
        return all(self.closed.values())

    @property
    def unsafe(self) -> bool:
        """Tell whether something unsafe was done in it."""
        return any(one.note == UNSAFE for one in self.outcomes)


@dataclass(frozen=True)
class CallsTests:
    """The last test of each person, by id; how it counts; and what could not be read, each in one line."""

    last: Mapping[str, CallsTest] = field(default_factory=dict)
    counts: Counts = Counts.TOO
    troubles: Sequence[str] = ()

    @property
    def words(self) -> str:
        """How tests count, in words; empty where there was none and nothing was decided."""
        return WHAT_COUNTS[self.counts] if self.last or self.counts is not Counts.TOO else ""


def write_results(cohort: Path, test: str, at: float, outcomes: Mapping[str, Sequence[Outcome]]) -> Path:
    """Write what ``test``, opened ``at`` (s since 1970), came to for each id, and return the file."""
    path = cohort / _PLACE / f"{test}.json"
    takers = {who: [one.as_data() for one in row] for who, row in outcomes.items()}
    data = {"test": test, "day": datetime.fromtimestamp(at).astimezone().date().isoformat(), "at": at, "takers": takers}
    write_whole(path, (json.dumps(data, indent=1) + "\n").encode("utf-8"))
    return path


def read_results(cohort: Path) -> CallsTests:
    """Return the last supervised test of each person of ``cohort``, and the rule; what cannot be read is said."""
    last: dict[str, CallsTest] = {}
    troubles: list[str] = []
    try:
        counts = counts_in(cohort)
    except CountsError as error:
        counts = Counts.NOT
        troubles.append(f"{error} Supervised tests count for nothing here until it is set again.")
    for path in sorted((cohort / _PLACE).glob("calls-*.json")):
        try:
            found = _read(path)
        except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
            troubles.append(
                f"{path.name} cannot be read ({plain_words(error, 80)}): that test counts for nobody. "
                f"Grade it again: legtoleg supervised mark COHORT {path.stem}."
            )
            continue
        for who, one in found.items():
            if who not in last or last[who].at < one.at:
                last[who] = one
    return CallsTests(last, counts, troubles)


def _read(path: Path) -> dict[str, CallsTest]:
    data = json.loads(path.read_text(encoding="utf-8"))
    test, day, at = str(data["test"]), date.fromisoformat(data["day"]), float(data["at"])
    return {
        str(who): CallsTest(test, day, at, tuple(Outcome.from_data(one) for one in row))
        for who, row in data["takers"].items()
    }


def counts_in(cohort: Path) -> Counts:
    """Return how supervised tests count in ``cohort``: as well as the page where nothing was set.

    Raises
    ------
    CountsError
        If the file that says it cannot be read.
    """
    path = cohort / _PLACE / _RULE
    try:
        return Counts(json.loads(path.read_text(encoding="utf-8"))["counts"])
    except FileNotFoundError:
        return Counts.TOO
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise CountsError(f"How supervised tests count cannot be read from {path}: {plain_words(error, 80)}.") from None


def set_counts(cohort: Path, counts: Counts) -> None:
    """Decide how supervised tests count in ``cohort``."""
    write_whole(cohort / _PLACE / _RULE, (json.dumps({"counts": str(counts)}) + "\n").encode("ascii"))
