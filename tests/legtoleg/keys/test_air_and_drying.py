"""Lesson 08: solved is full for anybody, every slip is recognised, unsafe answers are held."""

from __future__ import annotations

import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.registry import sheet
from dryerbench.topics.air_and_drying.sheet import hood_of, trouble_of, way_options
from legtoleg.keys.air_and_drying import SHUT, TRAPS, WAY_FAULTS
from legtoleg.keys.answer_key import worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

LESSON = "08_air_and_drying"
PAPER = sheet(LESSON)
IDS = [f"anyone-{n}" for n in range(100)]
CLEANING = ["unplug", "forward", "off", "brush", "on", "push", "plug", "run"]


def chosen(card, name: str, *keys: str) -> Found:
    by_key = {option.key: letter for letter, option in PAPER.question(name).lettered(card).items()}
    return Found("letters", letters="".join(by_key[key] for key in keys))


def solved(apprentice: str) -> dict[str, Found]:
    card = PAPER.card(apprentice)
    right = worked(LESSON, card)
    found = {}
    for name, value in right.items():
        question = PAPER.question(name)
        found[name] = Found("quantity", float(rounded(value, question.figures)), question.unit, question.figures)
    return {
        **found,
        "slow_because": chosen(card, "slow_because", trouble_of(card).cause),
        "lint_traps": chosen(card, "lint_traps", *(key for key in card.trap_keys if key in TRAPS)),
        "drum_to_wall": chosen(card, "drum_to_wall", *(one.key for one in way_options(card) if one.key in WAY_FAULTS)),
        "cleaning": chosen(card, "cleaning", *CLEANING),
        "lint_found": chosen(card, "lint_found", "stop" if hood_of(card) in SHUT else "run"),
    }


def changed(apprentice: str, **found: Found) -> dict[str, Outcome]:
    return mark_lesson(LESSON, apprentice, {**solved(apprentice), **found})


def test_solved_and_rounded_as_asked_is_full() -> None:
    for apprentice in IDS[:20]:
        marks = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
        assert all(one.points == one.max_points and one.note == "right" for one in marks), (apprentice, marks)
        assert signed_off(marks)


def test_a_trap_left_out_is_named_and_held() -> None:
    for apprentice in IDS[:20]:
        card = PAPER.card(apprentice)
        keys = [key for key in card.trap_keys if key in TRAPS]
        outcome = changed(apprentice, lint_traps=chosen(card, "lint_traps", *keys[1:]))["lint_traps"]
        assert (outcome.note, outcome.safety) == ("trap_missed", "held")


@pytest.mark.parametrize(
    ("first", "then", "code", "held"),
    [
        ("forward", "unplug", "cleaned_plugged_in", True),
        ("plug", "brush", "cleaned_plugged_in", True),
        ("run", "on", "ran_without_duct", True),
        ("on", "brush", "vent_steps_turned", False),
        ("run", "push", "vent_steps_turned", False),
    ],
)
def test_an_order_turned_round(first: str, then: str, code: str, *, held: bool) -> None:
    card = PAPER.card("anyone-5")
    keys = list(CLEANING)
    keys.remove(first)
    keys.insert(keys.index(then), first)
    outcome = changed("anyone-5", cleaning=chosen(card, "cleaning", *keys))["cleaning"]
    assert code in outcome.note.split("+")
    assert (outcome.safety == "held") == held


def test_the_plug_may_go_in_before_the_machine_is_pushed_back() -> None:
    card = PAPER.card("anyone-5")
    keys = ["unplug", "forward", "off", "brush", "on", "plug", "push", "run"]
    assert changed("anyone-5", cleaning=chosen(card, "cleaning", *keys))["cleaning"].note == "right"


@pytest.mark.parametrize("key", ["low", "filter_only", "note", "indoors"])
def test_running_on_lint_holds_the_lesson_whatever_the_score(key: str) -> None:
    card = PAPER.card("anyone-5")
    marks = changed("anyone-5", lint_found=chosen(card, "lint_found", key))
    assert marks["lint_found"].safety == "held"
    assert not signed_off(list(marks.values()))


def test_other_units_of_the_same_kind_count() -> None:
    card = PAPER.card("anyone-4")
    right = worked(LESSON, card)
    found = {
        "vent_flow": Found("quantity", right["vent_flow"] * 0.47194745, "L/s", 4),
        "clean_gauge": Found("quantity", right["clean_gauge"] * 249.08891, "Pa", 4),
    }
    marks = changed("anyone-4", **found)
    assert marks["vent_flow"].note == marks["clean_gauge"].note == "right"
