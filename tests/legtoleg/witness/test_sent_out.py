"""Three things together: lessons, calls, witness; which of them is missing is said in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from dryerbench.registry import SHEETS
from legtoleg.marking.outcomes import Outcome
from legtoleg.witness.sent_out import CALLS, sent_out
from legtoleg.witness.witness_record import Witnessed

LESSONS = sorted(SHEETS)
SEEN = Witnessed("ada-01", 2, date(2027, 1, 4), "Ida Demo", "electric", ())


def everything() -> dict[str, list[Outcome]]:
    return {
        lesson: [
            Outcome(one.name, one.points, one.points, "right", "", safety="clear" if one.safety else "")
            for one in paper.questions
        ]
        for lesson, paper in SHEETS.items()
    }


def test_the_calls_are_questions_of_lesson_ten() -> None:
    assert set(CALLS) <= {one.name for one in SHEETS["10_call_to_close"].questions}


def test_all_three_and_nothing_is_missing() -> None:
    found = sent_out(LESSONS, everything(), SEEN)
    assert (found.ready, found.missing) == (True, [])


def test_without_a_witness_nobody_goes_out() -> None:
    found = sent_out(LESSONS, everything(), None)
    assert not found.ready
    assert found.missing == ["nobody has watched them on a real machine"]
    held = sent_out(LESSONS, everything(), replace(SEEN, missed=("path-to-case",)))
    assert held.missing == [
        "not passed on 2027-01-04 by Ida Demo, on electric: step 4, any path from element to case (safety)"
    ]


def test_a_call_is_closed_by_its_own_work() -> None:
    marks = everything()
    last = marks["10_call_to_close"]
    place = next(at for at, one in enumerate(last) if one.question == "cause_removed")
    last[place] = replace(last[place], points=0.0, safety="held")
    found = sent_out(LESSONS, marks, SEEN)
    assert found.missing == [
        "1 lesson not signed off: 10_call_to_close",
        "1 of 3 calls not closed: call 2, a cause behind the fault",
    ]
    last[place] = replace(last[place], points=0.8 * last[place].max_points, safety="clear")
    assert sent_out(LESSONS, marks, SEEN).ready
    last[place] = replace(last[place], points=0.79 * last[place].max_points)
    assert sent_out(LESSONS, marks, SEEN).calls == (CALLS["cause_removed"],)


def test_nothing_done_is_all_missing() -> None:
    found = sent_out(LESSONS, {}, None)
    assert len(found.missing) == 3
    assert found.missing[0].startswith("10 lessons not signed off: 01_made_dead, ")
