"""Sums of the ten minutes: right is right, each slip is named, numbers are new each time, no card has an answer."""

from __future__ import annotations

import csv
import re
from importlib.resources import files

import pytest

from dryerbench.answers.parser import read
from dryerbench.answers.tolerance import rounded
from dryerbench.core.errors import UnknownQuestionError
from dryerbench.notebook.practice_verdict import verdict
from dryerbench.recall.cards import FILE, cards
from dryerbench.recall.sums import SAME_SUM, SUMS, dealt
from dryerbench.registry import DRILLS, SLIPS, TASKS


@pytest.mark.parametrize("name", SUMS)
def test_right_every_honest_way_and_every_slip(name: str) -> None:
    chosen = dealt(name)
    task = TASKS[chosen.task]
    for turn in range(1, 61):
        numbers = chosen.numbers(turn)
        for value in (task.value(numbers), *task.way_values(numbers, chosen.figures)):
            typed = f"{rounded(value, chosen.figures)} {chosen.unit}"
            assert verdict(chosen, numbers, read(typed)).right, (turn, typed)
        for code, value in task.slip_values(numbers).items():
            typed = str(rounded(value, chosen.figures + 1))
            typed += "0" * bool(re.search(r"\.\d{3}$", typed))  # three places may be thousands, and are asked about
            said = verdict(chosen, numbers, read(f"{typed} {chosen.unit}"))
            assert not said.right, (turn, code)
            assert SLIPS[code].says in said.says


@pytest.mark.parametrize("name", SUMS)
def test_numbers_are_new_each_turn_and_the_question_carries_them(name: str) -> None:
    chosen = dealt(name)
    asked = [chosen.ask(chosen.numbers(turn)) for turn in range(1001, 1031)]
    assert asked == [chosen.ask(chosen.numbers(turn)) for turn in range(1001, 1031)]
    assert len(set(asked)) >= 8
    assert all(re.search(r"\d", one) and one.endswith("?") for one in asked)


def test_no_card_asks_a_sum_with_a_fixed_answer() -> None:
    for card in cards().values():
        assert not re.search(r"[÷×=]|\d m?[AWΩ]\b", card.answer), card.name


WORKED = {
    "recall-02-2": ({"volts": 120.0, "ohms": 1500.0}, "80 mA"),
    "recall-04-1": ({"volts": 240.0, "ohms": 27.0}, "8.89 A"),
    "recall-05-2": ({"watts": 2133.0, "rated": 240.0, "volts": 120.0}, "533 W"),
    "recall-06-3": ({"volts": 240.0, "heater_ohms": 9.0, "ohms": (27.0, 27.0, 27.0)}, "26.7 A"),
    "recall-08-2": ({"watts": 100.0, "rated": 240.0, "volts": 208.0}, "75 %"),
}
"""The numbers that a lesson shows, and the end of its answer."""


@pytest.mark.parametrize("name", SAME_SUM)
def test_a_warm_up_asks_the_sum_that_is_dealt_in_its_place(name: str) -> None:
    text = files("dryerbench.recall").joinpath(FILE).read_text(encoding="utf-8")
    row = next(row for row in csv.DictReader(text.splitlines()) if row["name"] == name)
    numbers, says = WORKED[name]
    right = TASKS[dealt(SAME_SUM[name]).task].value(numbers)
    assert f"{right:.{len(re.sub(r'[^0-9]', '', says))}g}" == says.split()[0]
    assert says in row["answer"]
    assert name not in cards()
    assert cards()[SAME_SUM[name]].safety >= (row["safety"] == "yes")


def test_a_sum_is_no_drill_of_a_lesson_and_an_unknown_one_is_told() -> None:
    assert not set(SUMS) & set(DRILLS)
    assert dealt("amps") is DRILLS["amps"]
    with pytest.raises(UnknownQuestionError):
        dealt("recall-01-1")
