"""Safety by the letter: what is right is clear in each honest form, a wrong idea is held in each, on many machines.

Quantities have a walk of their own (``test_safety_ideas``), benches too (``tests/legtoleg/keys/test_unsafe_work``).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from dryerbench.core.random_stream import Stream
from dryerbench.course.bench_card import open_bench
from dryerbench.course.questions import AnyQuestion, BenchQuestion, Choice, Choices, FaultQuestion, Order, Question
from dryerbench.notebook.forms import receive
from dryerbench.registry import SHEETS, SLIPS, sheet
from legtoleg.demo.simulated_letters import letters_of
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import OrderReference
from legtoleg.marking.answer_parsing import read_record
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

IDS = [f"someone-{n}" for n in range(40)]
SAFETY = {
    (lesson, question.name): question
    for lesson, paper in SHEETS.items()
    for question in paper.questions
    if question.safety
}


CAREFUL = {
    "test_verdict": {"live"},
    "still_there": {"stop"},
    "number_to_case": {"replace", "find"},
    "no_cutoff_here": {"leave"},
    "zero_volts": {"either", "closed", "open"},
    "second_leg": {"both", "leg 1", "leg 2"},
    "lint_found": {"stop"},
    "weekend": {"stay_out"},
    "fit_kits": {"iii-600", "iii-1000", "iv-600"},
    "hand_over": {"belt", "cut-off", "element", "lint"},
    "comes_and_goes": {"before_blame", "beeper", "handle", "heat_gun", "spades", "water"},
    "lint_traps": {"flap", "straps", "tape", "sweep", "rigid"},
    "drum_to_wall": {"cracked", "eight", "housing", "hub", "packed", "seals", "short", "slips", "stub"},
    "at_the_cord": {"clamped", "clear_block", "own_screws", "torque"},
    "line_splitter": {"all_wires", "motor_leg", "neutral_amps", "one_wire"},
    "around_the_job": {
        *("code", "found_more", "show_air", "look_alike", "may_be_paid"),
        *("nodded", "not_aboard", "ten_days", "test_mode"),
    },
}
"""Letters that nobody gets hurt by where they are wrong: the machine stays off, a good thing is left unused or a job is
given away. ``zero_volts`` mistakes an open contact for a closed one, with nobody touching it."""


def hurts_nobody(name: str, key: str, right: frozenset[str]) -> bool:
    """Return whether ``key``, wrongly chosen or left out where ``right`` are the right ones, hurts nobody."""
    if name == "body_effect":
        return float(key) > float(min(right))
    if name == "reset_limit":
        return key in ("elsewhere", "find") or (key in ("prove", "replace") and right != {"find"})
    if (name, key) == ("test_verdict", "unproved"):
        return right == {"dead"}
    return key in CAREFUL.get(name, ())


def of_kind(kind: type[Any]) -> list[tuple[str, str]]:
    return [place for place, question in SAFETY.items() if isinstance(question, kind)]


def asked(lesson: str, name: str, apprentice: str) -> tuple[Any, Any, Any]:
    """Return the question, its reference and the card."""
    reference = next(one for one in references(lesson) if one.question == name)
    return sheet(lesson).question(name), reference, sheet(lesson).card(apprentice)


def mark(lesson: str, name: str, apprentice: str, value: object) -> Outcome:
    """Return the outcome of ``value`` as it is typed: through the form of the question, and its record."""
    question, _, card = asked(lesson, name, apprentice)
    found = read_record(receive(question, card, value).record, name)
    return mark_lesson(lesson, apprentice, {name: found})[name]


def one_letter(letter: str) -> tuple[str, ...]:
    return letter, letter.upper(), f" {letter} ", f"{letter}.", f"{letter})", f"({letter.upper()})"


def several_letters(letters: str) -> tuple[str, ...]:
    """Return ``letters`` as people write a list, in this order."""
    apart = letters.split()
    joins = (", ", " ", "", "; ", " & ", " + ", "/", " and ")
    written = [join.join(apart) for join in joins]
    return (
        *written,
        written[0].upper(),
        f"{written[0]}.",
        ", ".join(apart[:-1]) + f" and {apart[-1]}",
        ") ".join(apart) + ")",
    )


def test_every_kind_of_safety_question_is_walked() -> None:
    """A table of readings is none of safety: what it asks for is a question by itself."""
    kinds = (Choice, Choices, Order, FaultQuestion, BenchQuestion, Question)
    assert all(isinstance(question, kinds) for question in SAFETY.values())
    assert {kind: len(of_kind(kind)) for kind in kinds} == {
        Choice: 12, Choices: 10, Order: 7, FaultQuestion: 4, BenchQuestion: 7, Question: 4,
    }  # fmt: skip


@pytest.mark.parametrize(("lesson", "name"), of_kind(Choice))
def test_one_letter_is_clear_careful_or_held_however_it_is_typed(lesson: str, name: str) -> None:
    for apprentice in IDS:
        question, reference, card = asked(lesson, name, apprentice)
        for letter, option in question.lettered(card).items():
            for typed in one_letter(letter):
                outcome = mark(lesson, name, apprentice, typed)
                if option.key in reference.right(card):
                    assert (outcome.safety, outcome.note, outcome.points) == ("clear", "right", question.points), typed
                else:
                    slip = reference.slip(option.key, card)
                    safety = "clear" if hurts_nobody(name, option.key, reference.right(card)) else "held"
                    assert (outcome.safety, outcome.note, outcome.points) == (safety, slip, 0.0), (apprentice, option)
                    assert ("not signed off" in outcome.message) is (safety == "held")
                    assert SLIPS[slip].says in outcome.message


@pytest.mark.parametrize(("lesson", "name"), of_kind(Choices))
def test_all_that_fit_are_clear_in_any_order_and_form(lesson: str, name: str) -> None:
    for apprentice in IDS:
        question, reference, card = asked(lesson, name, apprentice)
        right = sorted(reference.right(card))
        for keys in (right, right[::-1]):
            letters = letters_of(question, card, keys)
            for typed in several_letters(letters) if len(right) > 1 else one_letter(letters):
                outcome = mark(lesson, name, apprentice, typed)
                assert (outcome.safety, outcome.note, outcome.points) == ("clear", "right", question.points), typed


@pytest.mark.parametrize(("lesson", "name"), of_kind(Choices))
def test_one_left_out_or_one_too_many_is_held_if_it_can_hurt(lesson: str, name: str) -> None:
    for apprentice in IDS:
        question, reference, card = asked(lesson, name, apprentice)
        offered, right = {option.key for option in question.options_for(card)}, reference.right(card)
        wrong = [right - {key} for key in right if len(right) > 1] + [right | {key} for key in offered - right]
        wrong += [{key} for key in offered - right] + [offered - right]
        for keys in wrong:
            typed = letters_of(question, card, sorted(keys))
            outcome = mark(lesson, name, apprentice, typed)
            careful = all(hurts_nobody(name, key, right) for key in right ^ keys)
            assert outcome.safety == ("clear" if careful else "held"), (apprentice, keys)
            assert outcome.points < question.points
            for slip in outcome.note.split("+"):
                assert SLIPS[slip].says in outcome.message


def orders(question: AnyQuestion, reference: OrderReference, card: Any, apprentice: str) -> Iterator[list[str]]:
    """Yield orders that keep all rules: at each place, one of the steps that wait for no other, by a stream."""
    assert isinstance(question, Order)
    stream = Stream(f"orders/{question.name}/{apprentice}")
    for _ in range(4):
        left = [option.key for option in question.options_for(card)]
        done: list[str] = []
        while left:
            free = [key for key in left if not any(one.then == key and one.first in left for one in reference.rules)]
            done.append(stream.choose(free))
            left.remove(done[-1])
        yield done


@pytest.mark.parametrize(("lesson", "name"), of_kind(Order))
def test_any_order_that_can_be_done_safely_is_clear_in_each_form(lesson: str, name: str) -> None:
    for apprentice in IDS[:12]:
        question, reference, card = asked(lesson, name, apprentice)
        for place, keys in enumerate(orders(question, reference, card, apprentice)):
            letters = letters_of(question, card, keys)
            arrows = (letters.replace(" ", " → "), letters.replace(" ", " > "), letters.replace(" ", " then "))
            for typed in (*several_letters(letters), *arrows) if place == 0 else (letters,):
                outcome = mark(lesson, name, apprentice, typed)
                assert (outcome.safety, outcome.note, outcome.points) == ("clear", "right", question.points), typed


@pytest.mark.parametrize(("lesson", "name"), of_kind(Order))
def test_an_order_is_held_if_and_only_if_it_breaks_a_rule_of_safety(lesson: str, name: str) -> None:
    for apprentice in IDS:
        question, reference, card = asked(lesson, name, apprentice)
        stream = Stream(f"turned/{name}/{apprentice}")
        (good, *_) = orders(question, reference, card, apprentice)
        tried = [stream.shuffle(good)]
        for rule in reference.rules:
            early = [key for key in good if key != rule.then]
            early.insert(early.index(rule.first), rule.then)
            tried.append(early)
        for keys in tried:
            place = {key: number for number, key in enumerate(keys)}
            broken = [rule for rule in reference.rules if place[rule.first] > place[rule.then]]
            unsafe = {rule.slip for rule in broken if rule.unsafe}
            outcome = mark(lesson, name, apprentice, letters_of(question, card, keys))
            if unsafe:
                assert (outcome.safety, outcome.points) == ("held", 0.0), keys
                assert set(outcome.note.split("+")) == unsafe
            elif broken:
                assert (outcome.safety, outcome.points) == ("clear", question.points / 2), keys
            else:
                assert (outcome.safety, outcome.points) == ("clear", question.points), keys


@pytest.mark.parametrize(("lesson", "name"), of_kind(Order))
def test_an_order_with_a_step_left_out_is_held(lesson: str, name: str) -> None:
    for apprentice in IDS[:12]:
        question, reference, card = asked(lesson, name, apprentice)
        (good, *_) = orders(question, reference, card, apprentice)
        for left_out in good:
            keys = [key for key in good if key != left_out]
            outcome = mark(lesson, name, apprentice, letters_of(question, card, keys))
            assert (outcome.safety, outcome.points) == ("held", 0.0), left_out


@pytest.mark.parametrize(("lesson", "name"), of_kind(FaultQuestion))
def test_a_fault_is_clear_or_held_by_its_name_however_it_is_typed(lesson: str, name: str) -> None:
    """The name alone decides: thin evidence costs half, and holds nobody."""
    for apprentice in IDS:
        question, reference, card = asked(lesson, name, apprentice)
        bench = open_bench(card)
        bench.do("unplug")
        for letter, option in question.lettered(card).items():
            right = option.key in reference.right(card)
            for typed in one_letter(letter) if right or option.key == "leakage-to-case" else (letter,):
                outcome = mark(lesson, name, apprentice, (typed, bench))
                if right:
                    assert (outcome.safety, outcome.points) == ("clear", question.points / 2), typed
                else:
                    slip = reference.slips_on(card)[option.key]
                    assert (outcome.safety, outcome.note, outcome.points) == ("held", slip, 0.0), (apprentice, option)
