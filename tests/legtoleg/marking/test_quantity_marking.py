"""Marking: right is right, each slip is named, a right method on a wrong number earns its marks, safety holds."""

from __future__ import annotations

import pytest

from dryerbench.answers.tolerance import figures_band, rounded
from dryerbench.registry import sheet
from legtoleg.keys.answer_key import quantities, worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome, signed_off

LESSON = "03_heater_power"
PAPER = sheet(LESSON)
PEOPLE = [f"someone-{n}" for n in range(1000)]
IDS = PEOPLE[:200]


def quantity(number: float, unit: str, figures: int | None = None) -> Found:
    return Found("quantity", number, unit, figures, f"{number} {unit}")


def solved(apprentice: str) -> dict[str, Found]:
    right = worked(LESSON, PAPER.card(apprentice))
    return {q.name: quantity(right[q.name], q.unit) for q in PAPER.questions}


def changed(apprentice: str, name: str, found: Found) -> Outcome:
    return mark_lesson(LESSON, apprentice, {**solved(apprentice), name: found})[name]


@pytest.mark.parametrize("apprentice", IDS[:20])
def test_solved_is_full_and_untouched_is_nothing(apprentice: str) -> None:
    full = list(mark_lesson(LESSON, apprentice, solved(apprentice)).values())
    assert all(outcome.points == outcome.max_points and outcome.note == "right" for outcome in full)
    assert signed_off(full)
    blank = dict.fromkeys(solved(apprentice), Found("blank"))
    none = list(mark_lesson(LESSON, apprentice, blank).values())
    assert all(outcome.points == 0 and outcome.note == "blank" for outcome in none)
    assert not signed_off(none)


def test_rounded_as_asked_is_right_for_everybody() -> None:
    for apprentice in IDS:
        right = worked(LESSON, PAPER.card(apprentice))
        found = {q.name: quantity(float(rounded(right[q.name], q.figures)), q.unit, q.figures) for q in PAPER.questions}
        assert all(o.note == "right" for o in mark_lesson(LESSON, apprentice, found).values()), apprentice


def test_at_least_twelve_slips() -> None:
    assert len({code for reference in quantities(LESSON) for code in reference.task.slips}) >= 12


def test_right_method_on_an_own_wrong_number() -> None:
    volts = PAPER.card("someone-1").supply_volts
    wrong = {**solved("someone-1"), "heater_ohms": quantity(12.0, "Ω", 3)}
    marks = mark_lesson(LESSON, "someone-1", {**wrong, "heater_current": quantity(volts / 12.0, "A", 3)})
    assert marks["heater_ohms"].points == 0
    assert (marks["heater_current"].note, marks["heater_current"].points) == ("follow_through", 1)
    marks = mark_lesson(LESSON, "someone-1", {**wrong, "heater_current": quantity(volts / 12.5, "A", 3)})
    assert marks["heater_current"].points == 0


def test_follow_through_allows_for_the_rounding_of_the_own_number() -> None:
    card = PAPER.card("someone-1")
    own = 13.27
    rest = own - card.supply_volts / card.element_ohms[card.open_element - 1]
    found = {
        **solved("someone-1"),
        "heater_current": quantity(13.3, "A", 3),
        "open_element_current": quantity(float(rounded(rest, 3)), "A", 3),
    }
    assert mark_lesson(LESSON, "someone-1", found)["open_element_current"].note == "follow_through"


def test_the_shops_rounding_costs_nothing_and_a_friendly_word_says_so() -> None:
    outcome = changed("demo-01", "element_current", quantity(7.9, "A", 2))
    assert (outcome.note, outcome.points) == ("right", 2.0)
    assert "3 figures are asked for" in outcome.message


def test_a_place_holding_zero_is_no_figure_but_a_decimal_one_is() -> None:
    def off(apprentice: str) -> float:
        power = worked(LESSON, PAPER.card(apprentice))["heater_power"]
        return abs(float(rounded(power, 2)) / power - 1)

    apprentice = max(IDS[:20], key=off)
    short = float(rounded(worked(LESSON, PAPER.card(apprentice))["heater_power"], 2))
    solution = solved(apprentice)

    def note(found: Found) -> str:
        return mark_lesson(LESSON, apprentice, {**solution, "heater_power": found})["heater_power"].note

    assert note(Found("quantity", short, "W", 4, f"{short:g} W")) == "right"
    assert note(Found("quantity", short / 1000, "kW", 4, f"{short / 1000:.3f} kW")) == "wrong"


def test_one_figure_of_two_earns_half_where_it_moves_the_number_far() -> None:
    apprentice = next(one for one in PEOPLE if 1.2 < worked(LESSON, PAPER.card(one))["run_drop"] < 1.49)
    outcome = changed(apprentice, "run_drop", quantity(1.0, "V", 1))
    assert (outcome.note, outcome.points) == ("too_few_figures", 1)


def test_kilo_sign_other_quantity_other_unit() -> None:
    right = worked(LESSON, PAPER.card("demo-01"))
    assert changed("demo-01", "heater_power", quantity(right["heater_power"] / 1000, "kW")).note == "right"
    assert changed("demo-01", "heater_power", quantity(right["heater_power"] / 1000, "W")).note == "kilo"
    assert changed("demo-01", "drift", quantity(-right["drift"], "%")).note == "sign"
    assert changed("demo-01", "element_current", quantity(right["element_current"], "V")).note == "other_quantity"
    assert changed("demo-01", "element_current", Found("over_limit")).note == "over_limit"
    assert changed("demo-01", "element_current", quantity(3.3, "A")).note == "wrong"


def test_the_practice_machine_is_said_of_several_answers_only() -> None:
    practice = worked(LESSON, PAPER.card("practice"))
    alone = changed("demo-01", "heater_ohms", quantity(practice["heater_ohms"], "Ω"))
    assert (alone.note, alone.points) == ("wrong", 0)
    found = {q.name: quantity(practice[q.name], q.unit) for q in PAPER.questions}
    marks = mark_lesson(LESSON, "demo-01", found)
    assert sum(one.note == "practice_machine" for one in marks.values()) >= 3
    assert all("folder of your kit" in one.message for one in marks.values() if one.note == "practice_machine")


@pytest.mark.parametrize(
    "state", ["no_record", "two_records", "bad_record", "python_error", "kernel_died", "unreadable", "blank"]
)
def test_no_answer_is_no_points_and_one_line(state: str) -> None:
    outcome = changed("demo-01", "element_current", Found(state))
    assert (outcome.points, outcome.note) == (0, state)
    assert outcome.message
    assert "\n" not in outcome.message


def test_a_wrong_safety_answer_holds_the_lesson_whatever_the_score() -> None:
    found = {**solved("demo-01"), "control_off_volts": quantity(0.0, "V", 1)}
    marks = mark_lesson(LESSON, "demo-01", found)
    assert marks["control_off_volts"].safety == "held"
    assert marks["control_off_volts"].note == "off_means_dead"
    assert sum(o.points for o in marks.values()) > 0.8 * sum(o.max_points for o in marks.values())
    assert not signed_off(list(marks.values()))


def test_an_open_safety_question_is_open_and_a_right_one_clear() -> None:
    assert changed("demo-01", "breaker_limit", Found("blank")).safety == "open"
    marks = mark_lesson(LESSON, "demo-01", solved("demo-01"))
    assert {o.safety for o in marks.values()} == {"", "clear"}


def test_a_breaker_has_to_be_met_exactly() -> None:
    right = worked(LESSON, PAPER.card("demo-01"))["breaker_limit"]
    assert changed("demo-01", "breaker_limit", quantity(right + 1, "A")).points == 0


def test_nothing_handed_in_at_all() -> None:
    marks = mark_lesson(LESSON, "demo-01", {})
    assert all(o.points == 0 and o.note == "no_record" for o in marks.values())


def test_the_message_says_the_band_in_words() -> None:
    right = worked(LESSON, PAPER.card("demo-01"))["element_current"]
    band = figures_band(right, 3)
    outcome = changed("demo-01", "element_current", quantity(3.3, "A"))
    assert f"from {band.low:.2f} A to {band.high:.2f} A" in outcome.said(signed=True)
    assert f"{band.low:.2f}" not in outcome.said(signed=False)
