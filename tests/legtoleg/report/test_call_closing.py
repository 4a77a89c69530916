"""When a call is closed: its own work at the bench is safe and has 80 % of its points."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dryerbench.registry import SHEETS
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.call_closing import calls, closed


def everything() -> dict[str, list[Outcome]]:
    return {
        lesson: [
            Outcome(one.name, one.points, one.points, "right", "", safety="clear" if one.safety else "")
            for one in paper.questions
        ]
        for lesson, paper in SHEETS.items()
    }


@pytest.mark.parametrize("call", sorted(calls()))
@pytest.mark.parametrize(
    ("share", "safety", "done"),
    [(1.0, "clear", True), (0.8, "clear", True), (0.79, "clear", False), (1.0, "held", False)],
)
def test_a_call_is_closed_by_its_own_work(call: str, share: float, safety: str, done: bool) -> None:
    lesson, names = calls()[call]
    marks = everything()
    for at, one in enumerate(marks[lesson]):
        if one.question in names:
            marks[lesson][at] = replace(one, points=share * one.max_points, safety=safety)
    assert closed(marks) == {name: name != call or done for name in calls()}


def test_work_that_is_not_there_closes_nothing() -> None:
    marks = everything()
    lesson, names = calls()["call 2"]
    marks[lesson] = [one for one in marks[lesson] if one.question != names[0]]
    assert closed(marks) == {"call 1": True, "call 2": False, "call 3": True}
    assert closed({}) == dict.fromkeys(calls(), False)
