"""Who can be sent out: three things together, each on record, and the words for which of them is missing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from legtoleg.marking.outcomes import PASS_SHARE, Outcome, signed_off
from legtoleg.witness.witness_record import Witnessed

CALLS = {
    "call_repair": "call 1, a plain fault",
    "cause_removed": "call 2, a cause behind the fault",
    "handed_over": "call 3, stop and hand over",
}
"""The question that closes each of the three calls, and what kind of call it is."""


def closed(outcome: Outcome) -> bool:
    """Tell whether the work on a call closes it: nothing unsafe, and at least 80 % of its points."""
    return outcome.safety in ("", "clear") and outcome.points >= PASS_SHARE * outcome.max_points


@dataclass(frozen=True)
class SentOut:
    """What of the three is missing: lessons not signed off, calls not closed, and the witness."""

    lessons: tuple[str, ...]
    calls: tuple[str, ...]
    witness: str
    """Empty if all nine steps were seen; else what is missing, in words."""

    @property
    def ready(self) -> bool:
        """Tell whether nothing is missing."""
        return not (self.lessons or self.calls or self.witness)

    @property
    def missing(self) -> list[str]:
        """Which of the three is missing, each in words."""
        count = len(self.lessons)
        lessons = f"{count} lesson{'s' * (count != 1)} not signed off: {', '.join(self.lessons)}"
        calls = f"{len(self.calls)} of {len(CALLS)} calls not closed: {'; '.join(self.calls)}"
        return [
            one
            for one, wanted in ((lessons, self.lessons), (calls, self.calls), (self.witness, True))
            if wanted and one
        ]


def sent_out(lessons: Sequence[str], outcomes: Mapping[str, Sequence[Outcome]], seen: Witnessed | None) -> SentOut:
    """Return what one person lacks of the three.

    ``lessons`` are the names of all lessons of the cohort, ``outcomes`` what the person has, by lesson, ``seen`` what a
    witness saw of them (``witnessed(folder).get(who)``).
    """
    unsigned = tuple(name for name in lessons if not outcomes.get(name) or not signed_off(list(outcomes[name])))
    by_question = {one.question: one for marked in outcomes.values() for one in marked}
    open_calls = tuple(
        words for question, words in CALLS.items() if question not in by_question or not closed(by_question[question])
    )
    watched = "nobody has watched them on a real machine" if seen is None else "" if seen.passed else seen.words
    return SentOut(unsigned, open_calls, watched)
