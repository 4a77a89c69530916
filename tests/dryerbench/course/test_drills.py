"""Drills: right is right, a slip is named, anything else is not guessed at."""

from __future__ import annotations

import pytest

from dryerbench.answers.parser import read
from dryerbench.answers.thousands import two_readings
from dryerbench.answers.tolerance import rounded
from dryerbench.notebook.practice_verdict import verdict
from dryerbench.registry import DRILLS, SLIPS, TASKS


@pytest.mark.parametrize("name", sorted(DRILLS))
def test_right_is_right_and_every_slip_is_named(name: str) -> None:
    drill = DRILLS[name]
    task = TASKS[drill.task]
    for turn in range(1, 61):
        numbers = drill.numbers(turn)
        right = read(f"{rounded(task.value(numbers), drill.figures)} {drill.unit}")
        assert verdict(drill, numbers, right).right
        for code, value in task.slip_values(numbers).items():
            more = not two_readings(rounded(value, drill.figures + 1), drill.unit)  # else the cell asks what is meant
            said = verdict(drill, numbers, read(f"{rounded(value, drill.figures + more)} {drill.unit}"))
            assert not said.right
            assert code in said.slips
            assert SLIPS[code].says in said.says


def test_kilo_another_quantity_and_nothing_known() -> None:
    drill = DRILLS["amps"]
    numbers = {"volts": 240.0, "ohms": 27.0}
    assert verdict(drill, numbers, read("8890 A")).slips == ("kilo",)
    assert verdict(drill, numbers, read("8890 mA")).right
    assert "voltage" in verdict(drill, numbers, read("8.89 V")).says
    assert "OL" in verdict(drill, numbers, read("OL")).says
    assert verdict(drill, numbers, read("5 A")).slips == ()


def test_numbers_are_the_same_for_the_same_turn() -> None:
    assert DRILLS["amps"].numbers(3) == DRILLS["amps"].numbers(3)
    assert DRILLS["amps"].numbers(3) != DRILLS["amps"].numbers(4)


def test_the_sentence_carries_the_numbers() -> None:
    for drill in DRILLS.values():
        assert drill.ask(drill.numbers(1)).endswith("?")
