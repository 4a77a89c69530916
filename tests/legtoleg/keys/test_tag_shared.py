"""The shared terminal without names, marked: full only with the pairs and the right tag, and never by luck alone."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.worksite import machine_on
from dryerbench.course.bench_card import open_bench
from dryerbench.topics.path_to_case.shared_terminal import heater_wires
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.outcomes import Outcome

from .conftest import DEAD, Lesson, as_act, done

LESSON = Lesson("05_path_to_case")
IDS = [f"someone-{n}" for n in range(24)]


def work(apprentice: str, *, block: bool = True, pairs: bool = True, wires: int = 0, tag: str = "right") -> Any:
    """Return the bench of the second dryer: opened, bared but ``wires``, read, and tagged ``right`` or ``wrong``."""
    bench = open_bench(LESSON.card(apprentice), 2)
    for act, given in map(as_act, DEAD if block else DEAD[:5]):
        bench.do(act, **given)
    made = arrangement_of(machine_on(bench))
    for wire in sorted(heater_wires(made))[wires:]:
        bench.do("pull_wire", wire=wire)
    for pair in combinations(made.box_terminals, 2) if pairs else ():
        bench.ohms(*pair)
    if tag:
        own = [wire.name for wire in made.wires_at(made.shared)] if made.shared else sorted(heater_wires(made))
        other = sorted(heater_wires(made) - set(own)) or own
        text = {True: "T0", False: "NONE"}[bool(made.shared) == (tag == "right")]
        bench.do("tag_wire", wire=(own if tag == "right" else other)[0], text=text)
    return bench


def marked(apprentice: str, bench: Any) -> Outcome:
    return LESSON.mark(apprentice, "tag_shared", Found("work", acts=done(bench)))


@pytest.mark.parametrize("apprentice", IDS)
def test_pairs_and_the_right_tag_are_full(apprentice: str) -> None:
    outcome = marked(apprentice, work(apprentice))
    assert (outcome.note, outcome.points) == ("right", outcome.max_points)


@pytest.mark.parametrize("apprentice", IDS)
def test_a_tag_without_the_pairs_earns_nothing(apprentice: str) -> None:
    for bench in (work(apprentice, pairs=False), work(apprentice, wires=1)):
        outcome = marked(apprentice, bench)
        assert (outcome.note, outcome.points) == ("pairs_leave_more", 0.0)


@pytest.mark.parametrize("apprentice", IDS)
def test_the_wrong_tag_and_no_tag_are_told(apprentice: str) -> None:
    for tag in ("wrong", ""):
        outcome = marked(apprentice, work(apprentice, tag=tag))
        assert outcome.note == "shared_tag_wrong"
        assert 0 < outcome.points < outcome.max_points


def test_hands_inside_before_the_test_at_the_block_are_told() -> None:
    outcome = marked(IDS[0], work(IDS[0], block=False))
    assert outcome.points < outcome.max_points
    assert outcome.safety == "held" or "nameless_not_tested_dead" in outcome.note
