"""What can still be marked of a hand-in of the course's first version.

One line: numbers, readings and work on the bench are marked, on the same machine in lessons 02 to 05; a hand-in with
letters is not, since they were dealt in another order, and is told so with the cure (``cohort.prepared_hand_in``).
"""

from __future__ import annotations

import json

import pytest

from dryerbench.bench.trail import VERSION
from dryerbench.notebook.answer_record import MIME
from legtoleg.intake.notebook_repair import repair
from legtoleg.marking.answer_parsing import read_record

OF_THEN = {"form": 1, "question": "one_leg_off", "apprentice": "demo-01"}
"""The head of a record as the first version wrote it: no deal, no version of the course or of the trail."""
NUMBER = {**OF_THEN, "kind": "quantity", "typed": "8.9 A", "magnitude": 8.9, "unit": "A", "figures": 2}
LETTERS = {**OF_THEN, "kind": "letters", "letters": "b", "typed": "b"}
WORK = {**OF_THEN, "kind": "work", "acts": [{"act": "unplug", "with": {}, "minutes": 0.5}]}


def handed_in(record: dict[str, object]) -> bytes:
    cell = {
        "cell_type": "code",
        "source": "hand_in('one_leg_off', answer)",
        "metadata": {},
        "execution_count": 1,
        "outputs": [{"output_type": "display_data", "data": {MIME: record}, "metadata": {}}],
    }
    return json.dumps({"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}).encode()


@pytest.mark.parametrize(("record", "refused"), [(NUMBER, False), (WORK, False), (LETTERS, True)])
def test_letters_alone_keep_it_from_being_marked(record: dict[str, object], refused: bool) -> None:
    assert repair(handed_in(record)).old_letters is refused


def test_a_number_is_read_as_it_was() -> None:
    found = read_record(NUMBER, "one_leg_off")
    assert (found.state, found.magnitude, found.unit, found.figures) == ("quantity", 8.9, "A", 2)


def test_work_on_the_first_bench_is_judged_by_the_rules_it_had() -> None:
    found = read_record(WORK, "one_leg_off")
    assert found.state == "work"
    assert (found.trail, found.course) == (1, "")
    assert VERSION > 1
