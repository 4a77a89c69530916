"""Simulated apprentices: they type as people do, and their truth is computed without the marker."""

from __future__ import annotations

import ast
import inspect

import nbformat
import pytest

from dryerbench.answers.parser import read
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.demo import simulated_apprentices
from legtoleg.demo.simulated_apprentices import SPELLINGS, filled_in, simulate
from legtoleg.keys.answer_key import references
from legtoleg.keys.reference import FaultReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_marking import judge_fault

LESSON = "03_heater_power"


def test_the_truth_does_not_come_from_the_marker() -> None:
    tree = ast.parse(inspect.getsource(simulated_apprentices))
    modules = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert "legtoleg.marking.marking" not in modules


@pytest.mark.parametrize(("unit", "forms"), SPELLINGS.items())
def test_every_spelling_can_be_read(unit: str, forms: tuple[str, ...]) -> None:
    for form in forms:
        assert read(form.format(n="8.9")).to(unit) == 8.9


def test_every_unit_of_the_lesson_has_spellings() -> None:
    assert {question.unit for question in sheet(LESSON).questions} <= set(SPELLINGS)


def test_answers_are_typed_into_the_answer_cells_alone() -> None:
    blank = nbformat.read(built_path(LESSON), as_version=4)
    person = simulate(2, 1, LESSON)
    filled = filled_in(blank, person)
    changed = [a.id for a, b in zip(blank.cells, filled.cells, strict=True) if a.source != b.source]
    answered = [f"{deed.question}-answer" for deed in person.deeds if deed.typed or deed.cell]
    assert changed == answered
    assert blank.cells[0].source == filled.cells[0].source


def test_every_behaviour_shows_up() -> None:
    assert {simulate(n, 1, LESSON).behaviour for n in range(1, 7)} == {
        "sure",
        "mixed",
        "slips",
        "unfinished",
        "trips_python",
    }


def test_a_guess_names_the_right_fault_on_thin_evidence() -> None:
    guesses = 0
    for lesson, number in (
        (lesson, number) for lesson in ("04_trusting_the_meter", "05_path_to_case") for number in (2, 4, 10)
    ):
        person = simulate(number, 1, lesson)
        paper, card = sheet(lesson), sheet(lesson).card(person.apprentice)
        known = {one.question: one for one in references(lesson) if isinstance(one, FaultReference)}
        for deed in person.deeds:
            if deed.question in known and deed.did.startswith("slip:"):
                letter = deed.cell.rpartition('("')[2][0]
                found = Found("fault", letters=letter, acts=({"act": "unplug", "with": {}},))
                judged = judge_fault(paper.question(deed.question), known[deed.question], found, card)  # type: ignore[arg-type]
                assert (judged.note, judged.points) == (deed.expected_note, deed.expected_points)
                guesses += 1
    assert guesses > 1
