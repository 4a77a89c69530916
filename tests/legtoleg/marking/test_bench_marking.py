"""Marking work on the bench: done again by the marker, goals reached, unsafe acts held, evidence asked for."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import faults_on
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import BenchQuestion, FaultQuestion, Option
from dryerbench.registry import SLIPS
from legtoleg.keys.reference import FaultReference, Goal, WorkReference
from legtoleg.marking.advised_paths import advised_minutes
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import MOST_STATES, OLDER, judge_fault, judge_work
from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import ODD

CARD = JobCard("demo-01", "a_lesson")
WORK = BenchQuestion("q", "Q", 4, safety=True)
REFERENCE = WorkReference(
    "q",
    lambda _: Bench(faults=["element-2-open"]),
    (Goal(lambda bench: bench.isolated, "off_means_dead"), Goal(lambda bench: bench.cover_off, "cold_ohms")),
)
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter")


def acts(*names: str) -> tuple[dict[str, Any], ...]:
    return tuple({"act": name, "with": {}} for name in names)


def work(*names: str):
    return judge_work(WORK, REFERENCE, Found("work", acts=acts(*names)), CARD)


def test_all_goals_safely() -> None:
    judged = work(*DEAD, "cover_off")
    assert (judged.points, judged.note, judged.safe) == (4, "right", True)
    assert judged.work == BenchWork(10.0)


def test_a_goal_that_was_not_reached_is_named() -> None:
    judged = work(*DEAD)
    assert (judged.points, judged.note, judged.safe) == (2, "cold_ohms", False)


def test_what_misleads_but_harms_nobody_is_said_once_behind_right_work() -> None:
    probed = ({"act": "set_dial", "with": {"mode": "ohms"}}, {"act": "probe", "with": {"a": "T2", "b": "T0"}})
    trail = (*acts(*DEAD, "cover_off"), *probed, *probed)
    bench = REFERENCE.bench(CARD)
    for act in trail:
        bench.do(act["act"], **act["with"])
    cautions = {finding.caution for finding in bench.findings}
    says = judge_work(WORK, REFERENCE, Found("work", acts=trail), CARD).says
    assert says == " ".join(["Right, and safely.", *cautions])
    assert len(cautions) == 1


@pytest.mark.parametrize("names", [("cover_off",), ("unplug", "cover_off"), ("unplug", "test_dead", "cover_off")])
def test_an_unsafe_act_earns_nothing_and_holds(names: tuple[str, ...]) -> None:
    judged = work(*names)
    assert (judged.points, judged.note, judged.safe) == (0, "unsafe_act", False)
    assert "dangerous" in judged.says


@pytest.mark.parametrize(
    "forged",
    [
        acts("fly"),
        ({"act": "probe", "with": {"a": "T1", "b": "nowhere"}},),
        ({"act": "probe", "with": {"a": 7, "b": []}},),
        ({"act": "set_dial", "with": {"mode": "ohms", "full_scale": "nan"}},),
        ({"act": "let_run", "with": {"minutes": -1e308}},),
        ({"act": "unplug", "with": {"__class__": 1}},),
    ],
)
def test_a_forged_trail_earns_nothing(forged: tuple[dict[str, Any], ...]) -> None:
    judged = judge_work(WORK, REFERENCE, Found("work", acts=forged), CARD)
    assert judged.points < 4
    assert judged.safe is False


FAULT = FaultQuestion(
    "q", "Q", 4, options=(Option("element-1-open", "Element 1 open"), Option("element-2-open", "Element 2 open"))
)
NAMED = FaultReference(
    "q",
    REFERENCE.bench,
    lambda _: frozenset({"element-2-open"}),
    lambda bench, key: [key] if any(act["act"] == "probe" for act in bench.trail) else ["sound", key, "lost-leg-1"],
    "cold_ohms",
    {"element-1-open": "open_changes_nothing"},
)


def named(key: str, trail: tuple[dict[str, Any], ...]):
    letter = next(letter for letter, option in FAULT.lettered(CARD).items() if option.key == key)
    return judge_fault(FAULT, NAMED, Found("fault", letters=letter, acts=trail), CARD)


def test_a_fault_needs_its_evidence() -> None:
    safe = acts(*DEAD, "cover_off")
    reading = (*safe, {"act": "set_dial", "with": {"mode": "ohms"}}, {"act": "probe", "with": {"a": "T2", "b": "T0"}})
    right = named("element-2-open", reading)
    assert (right.points, right.work) == (
        4,
        BenchWork(10.9, advised_minutes(faults_on(REFERENCE.bench(CARD))), "settles"),
    )
    thin = named("element-2-open", safe)
    assert (thin.points, thin.note) == (2, "cold_ohms")
    assert thin.work is not None
    assert thin.work.left == ("nothing wrong with it", "coil 2 open", "leg 1 lost at the breaker")
    wrong = named("element-1-open", reading)
    assert (wrong.points, wrong.note) == (0, "open_changes_nothing")
    assert "Element 2 open" in wrong.key
    assert "Element 2 open" not in wrong.says
    assert wrong.work == right.work
    assert named("element-2-open", acts("cover_off")).note == "unsafe_act"


@pytest.mark.parametrize("letters", ["z", "", "ab"])
def test_a_fault_is_one_letter_of_those_offered(letters: str) -> None:
    judged = judge_fault(FAULT, NAMED, Found("fault", letters=letters, acts=acts(*DEAD, "cover_off")), CARD)
    assert (judged.points, judged.note, judged.safe) == (0, "bad_record", False)


def test_a_wrong_fault_without_a_slip_of_its_own_is_wrong() -> None:
    plain = replace(NAMED, slips={})
    letter = next(letter for letter, option in FAULT.lettered(CARD).items() if option.key == "element-1-open")
    judged = judge_fault(FAULT, plain, Found("fault", letters=letter, acts=acts(*DEAD, "cover_off")), CARD)
    assert (judged.points, judged.note, judged.says[:15]) == (0, "wrong", "Not that fault.")
    assert judged.work is not None
    assert judged.work.evidence == "thin"


@pytest.mark.parametrize(("states", "evidence"), [(3, "settles"), (4, "thin")])
def test_as_many_states_as_are_weighed_are_weighed(states: int, evidence: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("legtoleg.marking.bench_marking.MOST_STATES", 3)
    trail = (*acts(*DEAD, "cover_off"), {"act": "set_dial", "with": {"mode": "ohms"}})
    for number in range(states):
        warmed = {"act": "warm_parts", "with": {"celsius": 30.0 + number}}
        trail += (warmed, {"act": "probe", "with": {"a": "T2", "b": "T0"}})
    judged = named("element-2-open", trail)
    assert judged.work is not None
    assert judged.work.evidence == evidence
    assert (judged.points, judged.note) == ((4, "right") if states == 3 else (2, "long_trail"))
    assert (judged.note in ODD) is (states > 3)  # more than that needs a person, and is not called wrong


def test_a_trail_through_endless_states_is_not_weighed() -> None:
    asked: list[str] = []
    patient = replace(NAMED, left=lambda _, key: asked.append(key) or [key])
    step = ({"act": "probe", "with": {"a": "T2", "b": "T0"}},)
    trail = (*acts(*DEAD, "cover_off"), {"act": "set_dial", "with": {"mode": "ohms"}})
    for number in range(MOST_STATES + 1):
        trail += ({"act": "warm_parts", "with": {"celsius": 30.0 + number}}, *step)
    letter = next(letter for letter, option in FAULT.lettered(CARD).items() if option.key == "element-2-open")
    judged = judge_fault(FAULT, patient, Found("fault", letters=letter, acts=trail), CARD)
    assert (judged.points, judged.note, asked) == (2, "everything_measured", [])


def test_a_voiding_goal_that_is_missed_leaves_nothing_and_says_what_was_done() -> None:
    goals = (
        Goal(lambda bench: bench.isolated, "off_means_dead"),
        Goal(lambda bench: not bench.cover_off, "parts_cannon", voids=True, adds=lambda _: "That was dear."),
    )
    judged = judge_work(WORK, replace(REFERENCE, goals=goals), Found("work", acts=acts(*DEAD, "cover_off")), CARD)
    assert (judged.points, judged.note, judged.safe) == (0.0, "parts_cannon", False)
    assert judged.says.endswith(" That was dear.")


@pytest.mark.parametrize(
    ("names", "points", "note"),
    [((), 0.0, "cold_ohms+cover_left"), (DEAD, 2.0, "cold_ohms"), ((*DEAD, "cover_off", "cover_on"), 4.0, "right")],
)
def test_what_nothing_done_reaches_too_counts_by_the_work_that_shows_it(
    names: tuple[str, ...], points: float, note: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three goals of four points: closed (by itself), opened, isolated; closed counts once it was isolated."""
    slips = {**SLIPS, "cover_left": SLIPS["cold_ohms"]}
    monkeypatch.setattr("legtoleg.marking.judgements.SLIPS", slips)
    goals = (
        Goal(lambda bench: not bench.cover_off, "off_means_dead", shown_by=lambda bench: bench.isolated),
        Goal(lambda bench: any(act["act"] == "cover_off" for act in bench.trail), "cold_ohms"),
        Goal(lambda bench: bench.isolated, "cover_left"),
    )
    judged = judge_work(WORK, replace(REFERENCE, goals=goals), Found("work", acts=acts(*names)), CARD)
    assert (judged.points, judged.note) == (2.5 if points == 2.0 else points, note)


def test_points_of_goals_go_by_halves_and_one_missed_is_never_full() -> None:
    many = tuple(Goal(lambda bench, n=n: n > 0 or bench.cover_off, "cold_ohms") for n in range(20))
    judged = judge_work(WORK, replace(REFERENCE, goals=many), Found("work", acts=acts(*DEAD)), CARD)
    assert judged.points == 3.5
    few = tuple(Goal(lambda bench, n=n: n > 0, "cold_ohms") for n in range(3))
    assert judge_work(WORK, replace(REFERENCE, goals=few), Found("work", acts=acts(*DEAD)), CARD).points == 2.5


def test_a_trail_that_cannot_be_done_names_no_fault() -> None:
    judged = named("element-2-open", acts("unplug", "unplug"))
    assert (judged.points, judged.note, judged.safe) == (0.0, "bad_trail", False)
    assert named("element-2-open", acts("fly")).note == "bad_trail"


def test_thin_evidence_and_a_search_without_end_hold_nobody() -> None:
    safe = acts(*DEAD, "cover_off")
    assert named("element-2-open", safe).safe is True
    endless = (*safe, *acts(*["prove_meter"] * 160))
    judged = named("element-2-open", endless)
    assert (judged.points, judged.note, judged.safe) == (2.0, "everything_measured", True)
    assert named("element-1-open", safe).safe is None


@pytest.mark.parametrize(("left", "evidence", "words"), [
    ([], "thin", ()),
    (["element-2-open"], "settles", ()),
    (["element-2-open", "element-1-open"], "thin", ("coil 2 open", "coil 1 open")),
    (["sound"], "thin", ("nothing wrong with it",)),
])  # fmt: skip
def test_evidence_settles_if_all_that_it_leaves_is_right(
    left: list[str], evidence: str, words: tuple[str, ...]
) -> None:
    letter = next(letter for letter, option in FAULT.lettered(CARD).items() if option.key == "element-2-open")
    told = replace(NAMED, left=lambda *_: left)
    judged = judge_fault(FAULT, told, Found("fault", letters=letter, acts=acts(*DEAD, "cover_off")), CARD)
    assert judged.work is not None
    assert (judged.work.evidence, judged.work.left) == (evidence, words)
    assert judged.points == (4 if left == ["element-2-open"] else 2)


REPAIRED = (
    *acts(*DEAD, "cover_off", "prove_meter"),
    {"act": "test_dead", "with": {"where": "block"}},
    *acts("prove_meter"),
    {"act": "replace_part", "with": {"part": "element 2"}},
    *acts("cover_on", "plug_in"),
)
"""A repair that was powered with no reading of the case or the bond."""
CLOSED = WorkReference(
    "q",
    lambda _: Bench(faults=["element-2-open"]),
    (Goal(lambda bench: not bench.cover_off, "cold_ohms"), Goal(lambda bench: bench.safe_to_power, "off_means_dead")),
)


def test_a_danger_that_a_goal_names_more_exactly_is_told_by_the_goal() -> None:
    judged = judge_work(WORK, CLOSED, Found("work", acts=REPAIRED), CARD)
    assert (judged.points, judged.note, judged.safe) == (2, "off_means_dead", False)
    no_such_goal = replace(CLOSED, goals=CLOSED.goals[:1])
    judged = judge_work(WORK, no_such_goal, Found("work", acts=REPAIRED), CARD)
    assert (judged.points, judged.note, judged.safe) == (0, "unsafe_act", False)
    assert "read the heater to the cabinet, and the ground wire" in judged.says


def test_an_older_trail_is_judged_by_the_rules_it_had_and_says_so_in_one_line() -> None:
    no_such_goal = replace(CLOSED, goals=CLOSED.goals[:1])
    older = judge_work(WORK, no_such_goal, Found("work", acts=REPAIRED, trail=1), CARD)
    assert (older.note, older.safe) == ("right", True)
    assert older.says.endswith(OLDER)
    assert "\n" not in OLDER
    opened = judge_work(WORK, REFERENCE, Found("work", acts=acts("cover_off"), trail=1), CARD)
    assert (opened.note, opened.safe) == ("unsafe_act", False)
    assert opened.says.endswith(OLDER)
