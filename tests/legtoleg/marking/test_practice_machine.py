"""The practice machine is said of hand-ins that were worked on it, and of no honest mistake."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.core.random_stream import Stream
from dryerbench.course.job_card import JobCard
from dryerbench.course.models import Number
from dryerbench.course.questions import Choice, Choices, Question
from dryerbench.registry import SHEETS, sheet
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.reference import ChoiceReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson

IDS = [f"someone-{n}" for n in range(50)]
LESSONS = [lesson for lesson in SHEETS if quantities(lesson)]
NOT_ENOUGH = "09_open_and_close"
"""Its second number follows from its first: one number alone is never called the practice machine's."""
NOMINAL = (120.0, 240.0)


def typed(lesson: str, name: str, value: float) -> Found:
    question = sheet(lesson).question(name)
    assert isinstance(question, Question)
    text = rounded(value, question.figures)
    return Found("quantity", float(text), question.unit, question.figures, f"{text} {question.unit}")


def letters(
    lesson: str, card: JobCard, choose: Callable[[Choice | Choices, ChoiceReference], list[str]]
) -> dict[str, Found]:
    """Return an answer to each question with one or several letters, by keys, as lettered on ``card``."""
    found = {}
    for reference in references(lesson):
        question = sheet(lesson).question(reference.question)
        if isinstance(question, Choice | Choices) and isinstance(reference, ChoiceReference):
            text = letters_of(question, card, choose(question, reference)).replace(" ", "")
            found[question.name] = Found("letters", typed=text, letters=text)
    return found


def guessed(lesson: str, card: JobCard, luck: Stream) -> dict[str, Found]:
    """Return letters of somebody who knows nothing."""

    def guess(question: Choice | Choices, _: ChoiceReference) -> list[str]:
        keys = luck.shuffle([option.key for option in question.options_for(card)])
        return keys[: 1 if isinstance(question, Choice) else luck.integer(1, len(keys))]

    return letters(lesson, card, guess)


def said(lesson: str, apprentice: str, answers: Mapping[str, Found]) -> list[str]:
    """Return the questions of which it is said that they fit the practice machine."""
    marks = mark_lesson(lesson, apprentice, answers)
    found = [name for name, outcome in marks.items() if outcome.note == "practice_machine"]
    assert all(("folder of your kit" in outcome.message) == (name in found) for name, outcome in marks.items())
    return found


def with_volts(lesson: str, card: JobCard, change: Callable[[float], float]) -> dict[str, float]:
    """Return the numbers of ``lesson`` worked on ``card``, each of its volts changed."""
    own: dict[str, float] = {}
    for reference in quantities(lesson):
        numbers: dict[str, Number] = dict(reference.numbers(card, own))
        for name, value in numbers.items():
            if isinstance(value, float) and ("volts" in name or name == "rated"):
                numbers[name] = change(value)
        own[reference.question] = reference.task.value(numbers)
    return own


def nearest_nominal(volts: float) -> float:
    near = min(NOMINAL, key=lambda nominal: abs(nominal - volts))
    return near if abs(near - volts) < 0.06 * near else volts


@pytest.mark.parametrize("lesson", LESSONS)
def test_a_hand_in_worked_on_the_practice_machine_is_told_so(lesson: str) -> None:
    """Of all in most lessons; of nearly all where the practice machine's numbers are mostly one's own, or nominal."""
    practice = sheet(lesson).card("practice")
    right = letters(lesson, practice, lambda _, reference: sorted(reference.right(practice)))
    numbers = {name: typed(lesson, name, value) for name, value in worked(lesson, practice).items()}
    told = [bool(said(lesson, apprentice, {**numbers, **right})) for apprentice in IDS]
    least = {NOT_ENOUGH: 0.0, "02_two_legs": 0.3, "07_tracing_the_circuit": 0.8, "10_call_to_close": 0.9}
    assert sum(told) >= least.get(lesson, 1.0) * len(IDS)
    assert any(told) == (lesson != NOT_ENOUGH)


@pytest.mark.parametrize("percent", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("lesson", LESSONS)
def test_numbers_a_little_off_never_bring_it_up(lesson: str, percent: int) -> None:
    for apprentice in IDS:
        luck = Stream(f"off/{lesson}/{apprentice}/{percent}")
        card = sheet(lesson).card(apprentice)
        for spread in (True, False):
            numbers = {}
            for name, value in worked(lesson, card).items():
                share = percent / 100 * (luck.integer(-100, 100) / 100 if spread else luck.choose((-1, 1)))
                numbers[name] = typed(lesson, name, value * (1 + share))
            assert said(lesson, apprentice, {**numbers, **guessed(lesson, card, luck)}) == [], apprentice


@pytest.mark.parametrize("lesson", LESSONS)
def test_nominal_volts_never_bring_it_up(lesson: str) -> None:
    """120 V and 240 V for the card's own; 208 V all over, from leg to leg and as it is divided by two."""
    for apprentice in IDS:
        card = sheet(lesson).card(apprentice)
        luck = Stream(f"nominal/{lesson}/{apprentice}")
        for change in (
            nearest_nominal,
            lambda volts: volts * 208.0 / 240.0,
            lambda volts: 208.0 if volts > 150 else 104.0,
        ):
            numbers = with_volts(lesson, card, change)
            answers = {name: typed(lesson, name, value) for name, value in numbers.items() if value}
            assert said(lesson, apprentice, {**answers, **guessed(lesson, card, luck)}) == [], apprentice


FITTING = [(1, 0, False), (2, 0, False), (3, 0, True), (1, 3, False), (2, 1, False), (2, 2, True), (0, 3, False)]
"""How many numbers and letters fit the practice machine, and whether that is said."""


@pytest.mark.parametrize(("fits", "lettered", "told"), FITTING)
def test_several_answers_have_to_fit_and_two_of_them_numbers(fits: int, lettered: int, *, told: bool) -> None:
    lesson, numbers = "04_trusting_the_meter", ("volts_low_end", "ohms_of_element", "damp_volts")
    practice = sheet(lesson).card("practice")
    theirs = worked(lesson, practice)
    right = letters(lesson, practice, lambda _, reference: sorted(reference.right(practice)))
    tried = 0
    for apprentice in (f"someone-{number}" for number in range(150)):
        own = worked(lesson, sheet(lesson).card(apprentice))
        alone = mark_lesson(
            lesson, apprentice, {**right, **{name: typed(lesson, name, theirs[name]) for name in numbers}}
        )
        wrong = [name for name, one in alone.items() if name in right and one.points == 0]
        if len(wrong) < 3 or any(alone[name].note not in ("wrong", "practice_machine") for name in numbers):
            continue
        tried += 1
        used = [theirs if place < fits else own for place in range(len(numbers))]
        answers = {name: typed(lesson, name, source[name]) for name, source in zip(numbers, used, strict=True)}
        answers |= {name: right[name] for name in wrong[:lettered]}
        assert len(said(lesson, apprentice, answers)) == (fits if told else 0), apprentice
    assert tried > 5


@pytest.mark.parametrize(("strange", "told"), [(3, True), (4, False)])
def test_half_of_what_is_off_has_to_fit(strange: int, *, told: bool) -> None:
    lesson, fit = "03_heater_power", ("element_current", "heater_ohms", "drift")
    theirs = worked(lesson, sheet(lesson).card("practice"))
    for apprentice in IDS[:10]:
        own = worked(lesson, sheet(lesson).card(apprentice))
        answers = {name: typed(lesson, name, theirs[name]) for name in fit}
        others = ("element_power", "hot_ohms", "run_drop", "sag_share")
        answers |= {name: typed(lesson, name, 3.37 * own[name]) for name in others[:strange]}
        found = said(lesson, apprentice, answers)
        notes = {name: one.note for name, one in mark_lesson(lesson, apprentice, answers).items() if name in answers}
        if all(notes[name] in ("wrong", "practice_machine") for name in answers):
            assert bool(found) == told, (apprentice, notes)
            assert not found or set(found) == set(fit)


def test_round_volts_say_nothing() -> None:
    lesson = "02_two_legs"
    theirs = worked(lesson, sheet(lesson).card("practice"))
    volts = {name: value for name, value in theirs.items() if sheet(lesson).question(name).unit == "V"}  # type: ignore[union-attr]
    for apprentice in IDS:
        answers = {name: Found("quantity", float(round(value)), "V", 3, "x") for name, value in volts.items()}
        told = said(lesson, apprentice, answers)
        assert not {name for name in told if answers[name].magnitude in (120.0, 208.0, 240.0)}
