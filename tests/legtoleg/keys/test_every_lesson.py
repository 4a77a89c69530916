"""What holds for the keys of every lesson: right is full, own numbers carry over, slips are used, faults need proof."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest

from dryerbench.answers.tolerance import rounded
from dryerbench.course.questions import AnyQuestion, Question
from dryerbench.registry import SHEETS, members
from dryerbench.topics.path_to_case.sheet import ROWS as CASE_ROWS
from legtoleg.keys import path_to_case, trusting_the_meter
from legtoleg.keys.answer_key import quantities, references, worked
from legtoleg.keys.reference import ChoiceReference, FaultReference, OrderReference, ReadingsReference, WorkReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

from .conftest import DEAD, Lesson, done

IDS = [f"someone-{n}" for n in range(100)]
OWN_ONLY = {"07_tracing_the_circuit"}
"""Lessons that use no slip of another lesson."""
STEPPED = {"breaker_limit", "sag_share"}
"""Quantities that go in steps, or in which an own number cancels: it need not change them."""
FEWEST_SLIPS = 20
FEWEST = {"04_trusting_the_meter": (12, 10)}
"""Slips that a lesson's tasks and its letters have at least, where the lesson has a floor of its own."""


@pytest.mark.parametrize("lesson", SHEETS)
def test_right_numbers_are_full_with_all_figures_and_rounded_as_asked(lesson: str) -> None:
    one = Lesson(lesson)
    for apprentice in IDS:
        for name, found in one.quantities(apprentice).items():
            question = one.spec.question(name)
            assert isinstance(question, Question)
            short = Found(
                "quantity", float(rounded(found.magnitude, question.figures)), question.unit, question.figures
            )
            for answer in (found, short):
                outcome = one.mark(apprentice, name, answer)
                assert (outcome.note, outcome.points) == ("right", question.points), (apprentice, name, answer)


def numbers_that_carry(lesson: str, apprentice: str) -> dict[tuple[str, str], tuple[Found, Found]]:
    """Return what an own earlier number leads to, by the questions: the earlier answer, and the one that follows."""
    one, found = Lesson(lesson), {}
    card = one.card(apprentice)
    right = worked(lesson, card)
    for place, reference in enumerate(quantities(lesson)):
        for before in quantities(lesson)[:place]:
            own = {**right, before.question: 1.37 * right[before.question]}
            numbers = reference.numbers(card, own)
            if reference.task.value(numbers) != right[reference.question] and reference.question not in STEPPED:
                answers = ((before.question, own[before.question]), (reference.question, reference.task.value(numbers)))
                first, then = (Found("quantity", value, one.spec.question(name).unit) for name, value in answers)
                found[before.question, reference.question] = (first, then)
    return found


FOLLOWING = {
    "01_made_dead": {("bonded_case_volts", "bonded_body_current")},
    "02_two_legs": {("leg_to_leg_volts", "open_neutral_volts")},
    "03_heater_power": {
        ("element_current", "element_power"),
        ("heater_ohms", "heater_current"),
        ("heater_current", "heater_power"),
        ("heater_power", "power_at_208"),
        ("heater_current", "open_element_current"),
        ("heater_current", "run_drop"),
        ("heater_current", "circuit_share"),
    },
    "06_heat_switches": {("contact_ohms", "contact_heat")},
    "08_air_and_drying": {("vent_flow", "air_after_heater"), ("vent_flow", "clean_gauge")},
    "09_open_and_close": {("predicted_amps", "clamp_off")},
    "10_call_to_close": {("call_minutes", "quote_share")},
}
"""By lesson, which question builds on which."""


@pytest.mark.parametrize("lesson", SHEETS)
def test_a_right_method_on_an_own_number_follows_through(lesson: str) -> None:
    for apprentice in IDS[:30]:
        carried = numbers_that_carry(lesson, apprentice)
        assert set(carried) == FOLLOWING.get(lesson, set())
        for (before, name), (first, then) in carried.items():
            marks = mark_lesson(lesson, apprentice, {before: first, name: then})
            assert marks[name].note == "follow_through", (apprentice, before, name, marks[name])
            assert marks[name].points > 0


def codes_in_use(lesson: str) -> set[str]:
    """Return every slip that the references of ``lesson`` name, whatever they are of."""
    found = {code for reference in quantities(lesson) for code in reference.task.slips}
    for reference in references(lesson):
        match reference:
            case ChoiceReference():
                cards = [Lesson(lesson).card(apprentice) for apprentice in IDS[:20]]
                found |= {code for card in cards for code in reference.slips_on(card).values()}
            case OrderReference():
                found |= {rule.slip for rule in reference.rules}
            case WorkReference():
                found |= {goal.slip for goal in reference.goals}
            case FaultReference():
                cards = [Lesson(lesson).card(apprentice) for apprentice in IDS[:20]]
                found |= {reference.thin_slip, *(code for card in cards for code in reference.slips_on(card).values())}
            case ReadingsReference():
                found |= {reference.over_limit_slip, reference.number_slip}
                for apprentice in IDS[:20]:
                    rows = reference.rows(Lesson(lesson).card(apprentice)).values()
                    found |= {code for row in rows for code in row.slips or {}}
    return found - {""}


@pytest.mark.parametrize("topic", members("slips"))
def test_every_slip_of_a_lesson_is_used_by_its_own_keys(topic: str) -> None:
    lesson = members("sheet")[topic].LESSON
    own = {slip.code for slip in members("slips")[topic].SLIPS} - {"kilo", "sign"}  # found on every quantity
    used = codes_in_use(lesson)
    assert own <= used
    assert own == used or lesson not in OWN_ONLY
    assert len(used) >= len(own) >= FEWEST_SLIPS
    tasks, letters = FEWEST.get(lesson, (7, 0))
    assert len({code for one in quantities(lesson) for code in one.task.slips}) >= tasks
    lettered = [one for one in references(lesson) if isinstance(one, ChoiceReference | FaultReference)]
    card = Lesson(lesson).card(IDS[0])
    tables = [one.slips_on(card) for one in lettered]
    assert len({code for slips in tables for code in slips.values()}) >= letters


@dataclass(frozen=True)
class Proof:
    """How a lesson's fault is looked for: acts and wires pulled before, a reading that is not enough, all readings."""

    question: str
    pulled: tuple[str, ...]
    thin: tuple[str, str]
    read: Callable[[Any], None]
    before: tuple[str, ...] = DEAD
    people: int = 100
    """On how many machines wrong names are tried with all readings there; on the others, before any."""


def told(outcome: Outcome, question: AnyQuestion) -> tuple[str, float, str]:
    """Return note, points and safety, of which a question that holds no lesson says nothing but of unsafe work."""
    assert bool(outcome.safety) == (question.safety or outcome.note == "unsafe_act")
    return outcome.note, outcome.points, outcome.safety or "-"


def read_all(*pairs: tuple[str, str]) -> Callable[[Any], None]:
    def read(bench: Any) -> None:
        for a, b in pairs:
            bench.ohms(a, b)

    return read


def read_warm(bench: Any) -> None:
    read_all(("T1", "case"), ("T2", "case"), ("T3", "case"))(bench)
    for degrees, pair in ((76, ("H3", "H4")), (140, ("H7", "H8"))):
        bench.do("warm_parts", celsius=degrees)
        bench.ohms(*pair)


ELEMENTS = (("T1", "T0"), ("T2", "T0"), ("T3", "T0"))
ELEMENT_WIRES = tuple(f"wire T{n}" for n in range(4))
PROOFS = {
    "04_trusting_the_meter": Proof(
        "behind_the_beep", trusting_the_meter.PULLED, ("H7", "H8"), read_all(*ELEMENTS, ("T0", "case"))
    ),
    "05_path_to_case": Proof(
        "fault_to_case",
        path_to_case.PULLED,
        ("T0", "case"),
        read_all(*(tuple(row.key.split("-")) for row in CASE_ROWS)),
    ),
    "06_heat_switches": Proof(
        "blown_by", ("wire H3", "wire H5", "wire H7", "wire S1", *ELEMENT_WIRES), ("H5", "H6"), read_warm
    ),
    "07_tracing_the_circuit": Proof(
        "open_part",
        (),
        ("L1", "H8"),
        read_all(("H1", "H2"), ("H3", "H4"), ("H5", "H6"), ("H7", "H8")),
        (*DEAD, "ask_heat"),
    ),
}
"""By lesson; a lesson with a fault to name and no line here fails the first test."""
ON_OTHER_MACHINES = ("10_call_to_close", "call_fault")
"""What is named on machines of the family: the tests of its own keys prove it there (``test_call_to_close``)."""
UNSAFE = {
    "machine live": ("cover_off",),
    "never tested": ("unplug", "cover_off"),
    "meter not proved": ("unplug", "test_dead", "cover_off"),
    "meter not proved again": ("unplug", "prove_meter", "test_dead", "cover_off"),
}


@cache
def proved(lesson: str, apprentice: str) -> tuple[dict[str, Any], ...]:
    proof = PROOFS[lesson]
    bench = Lesson(lesson).opened(apprentice, *proof.before, pulled=proof.pulled)
    proof.read(bench)
    return done(bench)


def test_every_lesson_with_a_fault_is_looked_at() -> None:
    faults = {
        (lesson, one.question) for lesson in SHEETS for one in references(lesson) if isinstance(one, FaultReference)
    }
    assert faults == {*((lesson, proof.question) for lesson, proof in PROOFS.items()), ON_OTHER_MACHINES}


@pytest.mark.parametrize("lesson", PROOFS)
def test_the_right_fault_on_its_readings_is_full_and_every_wrong_one_named_and_held(lesson: str) -> None:
    one, name = Lesson(lesson), PROOFS[lesson].question
    reference = one.keys[name]
    assert isinstance(reference, FaultReference)
    question = one.spec.question(name)
    clear, held = ("clear", "held") if question.safety else ("-", "-")
    for place, apprentice in enumerate(IDS):
        acts, card = proved(lesson, apprentice), one.card(apprentice)
        before = acts if place < PROOFS[lesson].people else done(one.opened(apprentice))
        right = reference.right(card)
        for option in question.options_for(card):
            on = acts if option.key in right else before
            outcome = one.mark(apprentice, name, one.named(apprentice, name, option.key, on))
            full, wrong = ("right", question.points, clear), (reference.slips_on(card).get(option.key), 0.0, held)
            assert told(outcome, question) == (full if option.key in right else wrong), (apprentice, option.key)


@pytest.mark.parametrize("lesson", PROOFS)
def test_the_right_fault_on_thin_readings_is_half(lesson: str) -> None:
    one, proof = Lesson(lesson), PROOFS[lesson]
    question = one.spec.question(proof.question)
    reference = one.keys[proof.question]
    assert isinstance(reference, FaultReference)
    for apprentice in IDS:
        key = min(reference.right(one.card(apprentice)))
        bench = one.opened(apprentice, *proof.before, pulled=proof.pulled)
        for reading in (False, True):
            if reading:
                bench.ohms(*proof.thin)
            outcome = one.mark(apprentice, proof.question, one.named(apprentice, proof.question, key, done(bench)))
            half = (reference.thin_slip, question.points / 2, "clear" if question.safety else "-")
            assert told(outcome, question) == half, (apprentice, reading)


@pytest.mark.parametrize("how", UNSAFE)
@pytest.mark.parametrize("lesson", PROOFS)
def test_readings_taken_unsafely_hold_the_lesson_whatever_they_show(lesson: str, how: str) -> None:
    one, proof = Lesson(lesson), PROOFS[lesson]
    question = one.spec.question(proof.question)
    reference = one.keys[proof.question]
    assert isinstance(reference, FaultReference)
    for apprentice in IDS[:25]:
        key = min(reference.right(one.card(apprentice)))
        bench = one.opened(apprentice, *UNSAFE[how], *proof.before[len(DEAD) :])
        bench.ohms("H5", "H6")
        outcome = one.mark(apprentice, proof.question, one.named(apprentice, proof.question, key, done(bench)))
        assert told(outcome, question) == ("unsafe_act", 0.0, "held"), apprentice
