"""Shop English, as far as a program can hold it: US spelling, one word for one thing, nothing turned around.

``shop_words.csv`` is the list of what no text says, with what to say instead; ``shop_words`` finds the texts.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import shop_words
from shop_words import NEVER, Said, for_people, literals, said, script_words, unsaid

from dryerbench.bench.shop_names import SHOP_NAMES

WAITING: tuple[str, ...] = ()
"""Lessons that are being written anew: the only places where the words may still be wrong."""

KEPT = {*SHOP_NAMES, "element {}", "drum front"}
"""Names that trails, tables and code keep: ``dryerbench.bench.shop_names`` has the word for each that is shown."""

EVERY_TEXT = [one for one in said() if one.words not in KEPT]


def waits(place: Said) -> bool:
    return any(name in place.file for name in WAITING)


def test_no_text_says_what_the_shop_does_not() -> None:
    wrong = [(one.file, one.line, found) for one in EVERY_TEXT if not waits(one) for found in unsaid(one.words)]
    assert not wrong


def test_every_room_is_read() -> None:
    """Texts of each folder that speaks to people are among those read, and no docstring is."""
    folders = {"/".join(one.file.split("/")[:3]) for one in EVERY_TEXT}
    for room in ("answers", "bench", "core", "course", "diagnosis", "notebook", "recall", "topics", "family"):
        assert f"lessons/dryerbench/{room}" in folders
    for room in ("marking", "report", "templates", "refresher", "witness", "intake", "collecting", "cohort", "cli"):
        assert f"grader/legtoleg/{room}" in folders
    assert {"README.md", "lessons/ANSWERS.md", "solutions/01_made_dead.md"} <= {one.file for one in EVERY_TEXT}
    assert not [one for one in EVERY_TEXT if one.words in (__doc__, shop_words.__doc__)]
    assert len(EVERY_TEXT) > 5000


WRONG = {
    "The colour of the wire.": "US spelling",
    "Wear the gloves of the licence.": "US spelling",
    "A heater that touches the case": "cabinet",
    "The maker's sheet says so.": "manufacturer",
    "Put the bond wire back.": "ground wire",
    "A sound element reads 20 ohms.": "good",
    "Find the path, mend it.": "fix",
    "Those are phantom volts.": "ghost",
    "The motor's heat contact is open.": "centrifugal switch",
    "Look whether the plug is out.": "check if",
    "Prove the meter first.": "check the meter",
    "The circuit was proved dead.": "test dead",
    "The belt lies round the drum.": "around",
    "Clamp round one conductor.": "around",
    "Your answer was not marked.": "graded",
    "The letter stands there twice.": "is",
    "Motor: standing still.": "stopped",
    "It is no day.": "is not a",
    "You have to hand the job over.": "call in",
    "The drum stands still.": "stopped",
    "Your readings single it out.": "only this one",
    "The house's mains": "house voltage",
    "Elements that work": "coil",
    "2 of three elements of 27 Ω": "coil",
    "volts across the element (V)": "coil",
    "How many percent of it is left?": "what percent",
    "The machine does not heat.": "dryer",
    "Start this machine again": "dryer",
    "Replace element 1": "coil",
    "Read outlet-1 to outlet-2.": "receptacle",
    "Read again on low impedance.": "LoZ",
    "Go by the model plate.": "nameplate",
    "Screw the drum front on.": "front bulkhead",
    "A heat switch in a cup": "thermostat",
    "Follow the heater's line.": "heater circuit",
    "The box burns skin.": "burns you",
    "Every answer has full marks.": "grade",
    "Choose the readings that tell most.": "rules out the most",
}


@pytest.mark.parametrize(("words", "right"), WRONG.items())
def test_a_wrong_word_is_found_with_the_right_one(words: str, right: str) -> None:
    assert any(right in found for found in unsaid(words)), unsaid(words)


@pytest.mark.parametrize(
    "words",
    [
        "In that case, stop. In case of fire, leave. It is the case of two faults.",
        "Round it to three figures. The round prong is the ground.",
        "The standing of a person. Stand beside the dryer.",
        "A question marked with ⚠ is about safety.",
        "Listen for a sound. Nobody may touch it.",
        "A washing machine on the same panel. An element of 5.6 kW, 10 Ω. The element 5 Ω off.",
        "Order the element. A grounded element heats on air fluff. Elements, thermostats, belt.",
    ],
)
def test_a_right_word_is_left_alone(words: str) -> None:
    assert unsaid(words) == []


def test_each_line_of_the_list_says_what_to_say() -> None:
    assert len(NEVER) > 30
    assert all(right for _, right in NEVER)
    with (Path(__file__).parent / "shop_words.csv").open(encoding="utf-8", newline="") as file:
        assert all(set(row) == {"never", "say"} for row in csv.DictReader(file))


def test_literals_are_read_and_docstrings_and_patterns_are_not() -> None:
    source = '''"""A docstring of the case."""\nX = f"The {x} of the cabinet"\nY = r"\\bthe case\\b of"\n'''
    found = [words for _, words in literals(source) if for_people(words)]
    assert found == ["The {} of the cabinet"]


def test_a_phrase_that_runs_over_a_line_is_read() -> None:
    found = list(shop_words.paragraphs("A note.\n\nThe answers\nare marked.\n"))
    assert found == [(1, "A note."), (3, "The answers are marked.")]
    assert unsaid(found[1][1])


def test_words_of_a_script_are_read_and_its_comments_are_not() -> None:
    assert [words for _, words in script_words("say(`now ${x} volts`); // the case\nsay('on it')")] == [
        "now {} volts",
        "on it",
    ]
