"""What the tests of a lesson's keys share: a lesson with its cards, answers as they are handed in, marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from dryerbench.bench.bench import Bench
from dryerbench.course.bench_card import open_bench
from dryerbench.course.lesson_spec import LessonSpec
from dryerbench.notebook.forms import receive
from dryerbench.registry import sheet
from legtoleg.demo.simulated_letters import an_order, letters_of
from legtoleg.keys.answer_key import references, worked
from legtoleg.keys.reference import AnyReference, ChoiceReference, OrderReference
from legtoleg.marking.answer_parsing import Found, read_record
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import Outcome

DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off", "prove_meter", "test_block", "prove_meter")
"""Made dead, open, and tested once more at the block, which is called test_block here."""
Acts = Sequence[tuple[str, dict[str, Any]]]


def as_act(act: str | tuple[str, dict[str, Any]]) -> tuple[str, dict[str, Any]]:
    """Return ``act`` with what it is given; "test_block" is the test for dead at the block."""
    if isinstance(act, str):
        return ("test_dead", {"where": "block"}) if act == "test_block" else (act, {})
    return act


def trail(acts: Acts) -> tuple[dict[str, Any], ...]:
    """Return acts (name, what is given) as they are handed in."""
    return tuple({"act": act, "with": dict(given)} for act, given in acts)


def done(bench: Any) -> tuple[dict[str, Any], ...]:
    """Return what was done on ``bench`` as it is handed in."""
    return trail([(act["act"], act["with"]) for act in bench.trail])


@dataclass(frozen=True)
class Lesson:
    """A lesson, marked: answers are made by option keys, whatever letters they carry on somebody's machine."""

    name: str

    @property
    def spec(self) -> LessonSpec:
        return sheet(self.name)

    @cached_property
    def keys(self) -> dict[str, AnyReference]:
        return {reference.question: reference for reference in references(self.name)}

    def card(self, apprentice: str) -> Any:
        return self.spec.card(apprentice)

    def letters(self, apprentice: str, question: str, *keys: str) -> str:
        return letters_of(self.spec.question(question), self.card(apprentice), list(keys)).replace(" ", "")

    def named(self, apprentice: str, question: str, key: str, acts: tuple[dict[str, Any], ...]) -> Found:
        typed = self.letters(apprentice, question, key)
        return Found("fault", typed=typed, letters=typed, acts=acts)

    def handed_in(self, question: str, card: Any, value: object) -> Found:
        """Return ``value`` as the marker finds it: through the form of the question, and its record."""
        return read_record(receive(self.spec.question(question), card, value).record, question)

    def lettered(self, question: str, card: Any, keys: list[str]) -> Found:
        return self.handed_in(question, card, letters_of(self.spec.question(question), card, keys))

    def right_keys(self, question: str, card: Any) -> list[str]:
        reference = self.keys[question]
        if isinstance(reference, OrderReference):
            return an_order(self.spec.question(question), reference, card)
        assert isinstance(reference, ChoiceReference)
        return sorted(reference.right(card))

    def quantities(self, apprentice: str) -> dict[str, Found]:
        """Return the right number of every quantity, with all its figures."""
        right = worked(self.name, self.card(apprentice))
        return {name: Found("quantity", value, self.spec.question(name).unit) for name, value in right.items()}

    def opened(self, apprentice: str, *acts: str, pulled: Sequence[str] = ()) -> Any:
        """Return the bench of somebody's machine after ``acts`` (default: made dead, cover off), wires pulled."""
        bench = open_bench(self.card(apprentice))
        for act in acts or DEAD:
            did(bench, act)
        return did(bench, *(("pull_wire", {"wire": wire}) for wire in pulled))

    def mark(self, apprentice: str, question: str, found: Found) -> Outcome:
        return mark_lesson(self.name, apprentice, {question: found})[question]


HEATER = tuple(f"wire T{n}" for n in range(4))


def open_bench_of(*faults: str, block: bool = True, pulled: tuple[str, ...] = ()) -> Bench:
    """Return a bench made dead and open, with wires pulled."""
    made = did(Bench(faults=faults), *(DEAD if block else DEAD[:-3]))
    return did(made, *(("pull_wire", {"wire": wire}) for wire in pulled))


def did(on: Bench, *acts: str | tuple[str, dict[str, Any]]) -> Bench:
    for act in acts:
        name, given = as_act(act)
        on.do(name, **given)
    return on


def part(name: str) -> tuple[str, dict[str, Any]]:
    return "replace_part", {"part": name}
