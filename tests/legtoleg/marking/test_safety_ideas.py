"""Safety by the idea: the right one in each honest form is clear, a wrong one is held, figures only cost points."""

from __future__ import annotations

import pytest

from dryerbench.answers.parser import read
from dryerbench.course.questions import Question
from dryerbench.registry import SHEETS, SLIPS, TASKS, sheet
from legtoleg.keys.answer_key import quantities, worked
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

IDS = [f"someone-{n}" for n in range(60)]
LEGS = {
    "02_two_legs": "strapped_case_volts",
    "03_heater_power": "control_off_volts",
    "05_path_to_case": "volts_unbonded",
}
"""The safety quantities whose right idea is one leg, by lesson."""
EXACT = {("03_heater_power", "breaker_limit")}
"""The safety quantities that are a rating: the right one is clear, every other one holds."""


def mark(lesson: str, apprentice: str, name: str, text: str) -> Outcome:
    answer = read(text)
    found = Found("quantity", answer.magnitude, answer.unit, answer.figures, answer.typed)
    return mark_lesson(lesson, apprentice, {name: found})[name]


def test_every_safety_quantity_has_ideas_or_is_a_rating() -> None:
    found = {
        (lesson, question.name)
        for lesson, paper in SHEETS.items()
        for question in paper.questions
        if question.safety and isinstance(question, Question)
    }
    assert found == {*LEGS.items(), *EXACT}
    for lesson, name in LEGS.items():
        task = next(one.task for one in quantities(lesson) if one.question == name)
        assert task.ideas is not None
        assert set(task.ideas.wrong) == set(task.slips)


@pytest.mark.parametrize(("lesson", "name"), LEGS.items())
def test_one_leg_in_every_honest_form_is_clear_and_full(lesson: str, name: str) -> None:
    for apprentice in IDS:
        leg = worked(lesson, sheet(lesson).card(apprentice))[name]
        forms = (f"{leg:g} V", "120 V", "120 volts", "120 VAC", "0.12 kV", f"{leg:.3f} V", f"{leg / 1000:.4f} kV")
        for form in (*forms, f"{leg:.0f} V", f"{leg * 1000:.0f} mV"):
            outcome = mark(lesson, apprentice, name, form)
            assert (outcome.safety, outcome.note) == ("clear", "right"), (apprentice, form)


@pytest.mark.parametrize(("lesson", "name"), LEGS.items())
def test_figures_cost_points_and_never_the_sign_off(lesson: str, name: str) -> None:
    for apprentice in IDS:
        for form in ("110 V", "100 V", "135 V"):
            outcome = mark(lesson, apprentice, name, form)
            assert (outcome.safety, outcome.note) == ("clear", "figures_off"), (apprentice, form)
            assert 0 < outcome.points < outcome.max_points


@pytest.mark.parametrize(("lesson", "name"), LEGS.items())
def test_a_wrong_idea_is_held_named_and_not_told_the_number(lesson: str, name: str) -> None:
    task = next(one.task for one in quantities(lesson) if one.question == name)
    assert task.ideas is not None
    for apprentice in IDS:
        card = sheet(lesson).card(apprentice)
        leg = worked(lesson, card)[name]
        wrong = task.slip_values(next(r for r in quantities(lesson) if r.question == name).numbers(card, {}))
        for code, value in wrong.items():
            for form in (f"{value:.0f} V", f"{value:.1f} V", f"{value / 1000:.4f} kV", f"{value + 4:.0f} V"):
                outcome = mark(lesson, apprentice, name, form)
                assert (outcome.safety, outcome.note, outcome.points) == ("held", code, 0.0), (apprentice, form)
                assert SLIPS[code].says in outcome.message
                assert f"{leg:.0f} V" not in outcome.message.replace(SLIPS[code].says, "")


@pytest.mark.parametrize(("lesson", "name"), LEGS.items())
def test_what_lies_between_the_ideas_is_held_and_asked_about(lesson: str, name: str) -> None:
    """A value counts for the nearest idea, within a quarter; 85 V and 165 V are none of them, 60 V is half a leg."""
    for apprentice in IDS:
        for form in ("170 V", "400 V", "0.12 V"):
            assert mark(lesson, apprentice, name, form).safety == "held", form
        between = mark(lesson, apprentice, name, "165 V")
        assert between.safety == "held"
        assert "nothing, one leg, or leg to leg" in between.message
        assert mark(lesson, apprentice, name, "60 V").safety == "held"


def test_a_rating_is_met_or_held() -> None:
    for apprentice in IDS:
        right = worked("03_heater_power", sheet("03_heater_power").card(apprentice))["breaker_limit"]
        for form in (f"{right:g} A", f"{right:.1f} A", f"{right:g} amps", f"{right * 1000:g} mA"):
            assert mark("03_heater_power", apprentice, "breaker_limit", form).safety == "clear", form
        for other in (10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0):
            safety = mark("03_heater_power", apprentice, "breaker_limit", f"{other:g} A").safety
            assert safety == ("clear" if other == right else "held"), (apprentice, other)


def test_an_idea_that_no_number_shows_is_none() -> None:
    task = TASKS["case_volts_control_off"]
    assert [task.idea(number, {"volts": 240.0}) for number in (0.0, 29.0, 60.0, 100.0, 120.0, -120.0)] == [
        "off_means_dead", "off_means_dead", None, "", "", "",
    ]  # fmt: skip
    assert task.idea(240.0, {"volts": 240.0}) == "leg_to_leg_to_case"
    assert TASKS["amps"].idea(8.9, {"volts": 240.0, "ohms": 27.0}) is None
