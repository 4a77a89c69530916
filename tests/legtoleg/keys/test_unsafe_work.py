"""No bench of the course lets an unsafe act pass: each holds the lesson, be the question one of safety or not."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.access import pullable
from dryerbench.bench.machine import Machine
from dryerbench.bench.worksite import machine_on
from dryerbench.course.questions import BenchQuestion, FaultQuestion
from dryerbench.registry import SHEETS, sheet
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import FaultReference, WorkReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

from .conftest import DEAD, Lesson, as_act, trail

BENCHES = [(lesson, question.name) for lesson, paper in SHEETS.items() for question in paper.questions
           if isinstance(question, BenchQuestion | FaultQuestion)]  # fmt: skip
IDS = [f"someone-{n}" for n in range(8)]
UNSAFE: dict[str, list[tuple[str, dict[str, Any]]]] = {
    "cover off while it is live": [("cover_off", {})],
    "cover off after no test for dead": [("unplug", {}), ("cover_off", {})],
    "dead by a meter that nobody proved": [("unplug", {}), ("test_dead", {})],
    "cover off on an open breaker alone": [("open_breaker", {}), ("cover_off", {})],
    "power on an open dryer": [*map(as_act, (*DEAD, "plug_in"))],
    "power with a wire off": [
        *map(as_act, DEAD), ("pull_wire", {"wire": "wire T1"}), ("cover_on", {}), ("plug_in", {}),
    ],
    "ohms at live slots": [
        ("gear_on", {}), ("unplug", {}), ("set_dial", {"mode": "ohms"}), ("probe", {"a": "outlet-1", "b": "outlet-2"}),
    ],
}  # fmt: skip


def on_its_own_wire(acts: list[tuple[str, dict[str, Any]]], machine: Machine) -> list[tuple[str, dict[str, Any]]]:
    """Return ``acts`` with a heater wire of ``machine`` in the place of the lessons' own."""
    there = pullable(machine)
    wire = "wire T1" if "wire T1" in there else next(one for one in there if "Box." in one)
    return [(act, {"wire": wire} if "wire" in given else given) for act, given in acts]


def marked(lesson: str, name: str, apprentice: str, acts: list[tuple[str, dict[str, Any]]]) -> Outcome:
    """Return the outcome of ``acts``; a fault is named rightly."""
    one = Lesson(lesson)
    reference = one.keys[name]
    if isinstance(reference, FaultReference):
        return one.mark(
            apprentice, name, one.named(apprentice, name, min(reference.right(one.card(apprentice))), trail(acts))
        )
    return one.mark(apprentice, name, Found("work", acts=trail(acts)))


def test_every_bench_of_the_course_is_walked() -> None:
    found = {(lesson, one.question) for lesson in SHEETS for one in references(lesson)
             if isinstance(one, FaultReference | WorkReference)}  # fmt: skip
    assert set(BENCHES) == found
    assert {lesson for lesson, _ in BENCHES} == {
        "01_made_dead", "02_two_legs", "04_trusting_the_meter", "05_path_to_case", "06_heat_switches",
        "07_tracing_the_circuit", "09_open_and_close", "10_call_to_close",
    }  # fmt: skip
    assert len(BENCHES) == 13


@pytest.mark.parametrize("how", UNSAFE)
@pytest.mark.parametrize(("lesson", "name"), BENCHES)
def test_an_unsafe_act_holds_the_lesson_on_every_bench(lesson: str, name: str, how: str) -> None:
    for apprentice in IDS:
        reference: Any = Lesson(lesson).keys[name]
        bench = reference.bench(Lesson(lesson).card(apprentice))
        acts = on_its_own_wire(UNSAFE[how], machine_on(bench))
        for act, given in acts:
            bench.do(act, **given)
        if how == "ohms at live slots" and not any(one.gate for one in bench.findings):
            continue  # both legs of this receptacle are lost: nothing there is live
        outcome = marked(lesson, name, apprentice, acts)
        assert (outcome.note, outcome.points, outcome.safety) == ("unsafe_act", 0.0, "held"), apprentice
        assert "dangerous" in outcome.message
        assert "not signed off" in outcome.message


def test_it_holds_a_lesson_whose_points_would_do() -> None:
    lesson, name, apprentice = "04_trusting_the_meter", "behind_the_beep", IDS[0]
    rest = [question for question in sheet(lesson).questions if question.name != name]
    others = [Outcome(question.name, question.points, question.points, "right", "") for question in rest]
    assert not sheet(lesson).question(name).safety
    assert not signed_off([*others, marked(lesson, name, apprentice, UNSAFE["cover off while it is live"])])
    thin = marked(lesson, name, apprentice, [as_act(act) for act in DEAD])
    assert (thin.points, thin.safety) == (2.0, "")
    assert signed_off([*others, thin])


def test_a_wrong_name_by_safe_work_holds_no_lesson_that_does_not_ask_for_safety() -> None:
    one, name = Lesson("04_trusting_the_meter"), "behind_the_beep"
    for apprentice in IDS:
        right = min(one.keys[name].right(one.card(apprentice)))  # type: ignore[union-attr]
        for option in one.spec.question(name).options_for(one.card(apprentice)):  # type: ignore[union-attr]
            if option.key != right:
                acts = trail([as_act(act) for act in DEAD])
                outcome = mark_lesson(one.name, apprentice, {name: one.named(apprentice, name, option.key, acts)})[name]
                assert (outcome.points, outcome.safety) == (0.0, "")
