"""How wide marking reaches: what follows from an own number; what a table or list that is not all right can earn."""

from __future__ import annotations

import pytest

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Choices, Option, Readings, Row
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import worked
from legtoleg.keys.reference import ChoiceReference, Expected, ReadingsReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.letters_marking import judge_choices
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.readings_marking import judge_readings

LESSON = "03_heater_power"
PAPER = sheet(LESSON)
WHO = "someone-1"
VOLTS = PAPER.card(WHO).supply_volts
OWN_OHMS = 12.0
"""An earlier number of one's own that is off, so that V/R is what follows from it: about 20 A, to 0.1 A."""


def note_of(amps: float, figures: int | None) -> str:
    right = worked(LESSON, PAPER.card(WHO))
    found = {q.name: Found("quantity", right[q.name], q.unit, None) for q in PAPER.questions}
    found["heater_ohms"] = Found("quantity", OWN_OHMS, "Ω", figures)
    found["heater_current"] = Found("quantity", amps, "A", 4)
    return mark_lesson(LESSON, WHO, found)["heater_current"].note


@pytest.mark.parametrize(("off", "follows"), [(0.0, True), (0.09, True), (-0.09, True), (0.16, False), (-0.16, False)])
def test_what_follows_from_an_own_number_follows_to_the_last_figure_asked(off: float, follows: bool) -> None:
    assert (note_of(VOLTS / OWN_OHMS + off, None) == "follow_through") is follows


@pytest.mark.parametrize(("figures", "half"), [(3, 0.05), (4, 0.005)])
@pytest.mark.parametrize("side", [-1, 1])
def test_an_own_number_may_have_been_rounded_by_half_its_last_figure(figures: int, half: float, side: int) -> None:
    edge = VOLTS / (OWN_OHMS + side * half) - side * 0.1
    assert note_of(edge + side * 0.01, figures) == "follow_through"
    assert note_of(edge - side * 0.06, figures) != "follow_through"


CARD = JobCard("demo-01", "a_lesson")


@pytest.mark.parametrize(("rows", "points", "earned"), [(20, 2, 1.5), (12, 3, 2.5), (3, 3, 2.0), (2, 1, 0.5)])
def test_a_table_with_one_row_wrong_is_never_full(rows: int, points: int, earned: float) -> None:
    table = Readings("q", "Q", points, rows=tuple(Row(str(n), f"Row {n}", "V") for n in range(rows)))
    reference = ReadingsReference("q", lambda _: {str(n): Expected(1.0, 2.0) for n in range(rows)})
    good = {str(n): Found("quantity", 1.5, "V", 2) for n in range(rows)}
    assert judge_readings(table, reference, Found("readings", rows=good), CARD).points == points
    bad = {**good, "0": Found("quantity", 9.0, "V", 2)}
    assert judge_readings(table, reference, Found("readings", rows=bad), CARD).points == earned


@pytest.mark.parametrize(("rights", "points", "earned"), [(12, 2, 1.5), (4, 2, 1.5), (2, 2, 1.0), (1, 2, 0.0)])
def test_a_list_with_one_option_too_many_is_never_full(rights: int, points: int, earned: float) -> None:
    options = tuple(Option(f"k{n}", f"Option {n}") for n in range(rights + 1))
    asked = Choices("q", "Q", points, options=options)
    right = frozenset(option.key for option in options[1:])
    reference = ChoiceReference("q", lambda _: right, {})
    letters = {option.key: letter for letter, option in asked.lettered(CARD).items()}
    every = "".join(letters.values())
    only = "".join(letters[key] for key in right)
    assert judge_choices(asked, reference, Found("letters", letters=only), CARD).points == points
    assert judge_choices(asked, reference, Found("letters", letters=every), CARD).points == earned
