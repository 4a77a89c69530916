"""An outcome: points, a short note that reports can count, and the sentence for the apprentice."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import NotRequired, TypedDict

from legtoleg.marking.bench_work import BenchWork

MIME = "application/vnd.leg-to-leg.outcome+json"
"""The media type under which an outcome stands in a marked notebook."""

PASS_SHARE = 0.8
"""The share of the points from which a lesson can be signed off (the course's own rule)."""


ODD = {
    "practice_machine": "fits the practice dryer, as others of this hand-in do",
    "two_records": "was handed in twice by the same cell",
    "bad_record": "is no answer record: the hand-in was tampered with",
    "long_trail": "names the right fault after readings in more states than the grader weighs: look at them yourself",
}
"""Notes of outcomes that a person should look at, each as the end of a sentence about the answer."""


class OutcomeData(TypedDict):
    """An outcome as plain data."""

    question: str
    points: float
    max_points: float
    note: str
    message: str
    answer: NotRequired[str]
    safety: NotRequired[str]
    work: NotRequired[object]
    key: NotRequired[str]


@dataclass(frozen=True)
class Outcome:
    """What one question earned. ``safety`` is empty, or for a safety question ``clear``, ``held`` or ``open``.

    ``work`` is how it was done on the bench; None where there was no bench.
    """

    question: str
    points: float
    max_points: float
    note: str
    message: str
    answer: str = ""
    safety: str = ""
    work: BenchWork | None = None
    key: str = ""
    """What would have been right, in a sentence; empty for a question about safety."""

    @property
    def full(self) -> bool:
        """Whether it has all its points."""
        return self.points == self.max_points

    def work_words(self, *, signed: bool = False) -> list[str]:
        """Return how it was done on the bench, in sentences; what readings leave is named once ``signed`` off."""
        return self.work.words(right=self.points > 0, named=signed) if self.work else []

    def said(self, *, signed: bool) -> str:
        """Return what the apprentice reads of it; what would have been right only once the lesson is ``signed`` off."""
        return f"{self.message} {self.key}" if signed and self.key else self.message

    def as_data(self) -> dict[str, object]:
        """Return it as plain data."""
        data: dict[str, object] = asdict(self)
        if self.work is None:
            del data["work"]
        return data

    @staticmethod
    def from_data(data: OutcomeData) -> Outcome:
        """Return the outcome that ``as_data`` wrote, now or before bench work was kept in it."""
        return Outcome(
            data["question"],
            data["points"],
            data["max_points"],
            data["note"],
            data["message"],
            data.get("answer", ""),
            data.get("safety", ""),
            BenchWork.from_data(data.get("work")),
            data.get("key", ""),
        )


def earned(outcomes: list[Outcome]) -> dict[str, str]:
    """Return the points of ``outcomes`` together, earned and possible, as a page shows them."""
    return {
        "points": f"{sum(o.points for o in outcomes):g}",
        "max_points": f"{sum(o.max_points for o in outcomes):g}",
    }


def signed_off(outcomes: list[Outcome]) -> bool:
    """Tell whether a lesson is signed off: every safety question clear, and ``PASS_SHARE`` of the points."""
    earned, possible = sum(o.points for o in outcomes), sum(o.max_points for o in outcomes)
    return bool(outcomes) and all(o.safety in ("", "clear") for o in outcomes) and earned >= PASS_SHARE * possible
