"""What people read of slips in the report: titles, and never a code, on the page, in the workbook or beside a code."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from html.parser import HTMLParser
from itertools import cycle, pairwise

import pytest

from dryerbench.registry import SHEETS, SLIPS
from legtoleg.cohort.feedback_page import page
from legtoleg.cohort.marks import Mark
from legtoleg.demo.simulated_apprentices import simulate
from legtoleg.intake.roster import Person
from legtoleg.marking.note_titles import _OTHERS, note_title
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers, cohort_numbers
from legtoleg.report.report_page import page_text
from legtoleg.report.report_tables import WIDE, for_people, tables, wide_table

TITLES = {note_title(code) for code in (*SLIPS, *_OTHERS)}
CODES = {*SLIPS, *_OTHERS, *(question.name for paper in SHEETS.values() for question in paper.questions)}
LONG = {code for code in CODES if "_" in code}
SPACED = {code.replace("_", " ") for code in LONG} - {title.lower() for title in TITLES}


class _Read(HTMLParser):
    """The texts of a page that people read, those of its hints too."""

    def __init__(self) -> None:
        super().__init__()
        self.inside, self.found = "", list[str]()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        self.found += [value for name, value in attrs if name in ("title", "alt", "aria-label") and value]

    def handle_data(self, data: str) -> None:
        if self.inside not in ("style", "script"):
            self.found.append(data)

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""


def read(text: str) -> list[str]:
    parser = _Read()
    parser.feed(text)
    return parser.found


def shown_codes(text: str) -> Iterator[str]:
    """Yield each code in a text: as it is written, or with spaces where a name stands by itself."""
    yield from (word for word in re.findall(r"(?<!\w)[a-z]+(?:_[a-z]+)+", text) if word in LONG)
    for part in re.split(r"; | · | / |\n", text):
        name = re.sub(r"^\s*\d+\. |\s*(\([^()]*\)|: \d.*)?\s*$", "", part)
        if name in SPACED:
            yield name


def simulated() -> Iterator[Mark]:
    """Yield the marks of the demo cohort, each as the simulation expects it."""
    for lesson, paper in SHEETS.items():
        for number in range(1, 3):
            person = simulate(number, 3, lesson)
            for deed in person.deeds:
                of = paper.question(deed.question).points
                note = deed.expected_note
                says = SLIPS[note].says if note in SLIPS else "So."
                yield Mark(person.apprentice, lesson, Outcome(deed.question, deed.expected_points, of, note, says))


def every_note() -> Iterator[Mark]:
    """Yield marks in which each note stands somewhere, alone or two together."""
    places = cycle((lesson, question) for lesson, paper in SHEETS.items() for question in paper.questions)
    codes = [*SLIPS, *_OTHERS]
    for number, code in enumerate([*codes, *map("+".join, pairwise(codes))]):
        lesson, question = next(places)
        safety = "held" if question.safety else ""
        says = " ".join(SLIPS[one].says for one in code.split("+") if one in SLIPS) or "So."
        outcome = Outcome(question.name, 0.0, question.points, code, says, "", safety)
        yield Mark(f"demo-{number % 97:02d}", lesson, outcome)


@cache
def cohort(kind: str) -> CohortNumbers:
    marks = list(simulated() if kind == "simulated" else every_note())
    people = sorted({mark.apprentice for mark in marks})
    return cohort_numbers(marks, [Person(who, f"Demo {who[-2:]}") for who in people])


@pytest.mark.parametrize("kind", [pytest.param("simulated", marks=pytest.mark.slow), "every note"])
def test_the_page_shows_titles_and_no_code(kind: str) -> None:
    texts = read(page_text(cohort(kind), lambda *_: ""))
    assert not [found for text in texts for found in shown_codes(text)]
    seen = {title for title in TITLES if any(title in text for text in texts)}
    assert len(seen) > (20 if kind == "simulated" else 300)


@pytest.mark.parametrize("kind", [pytest.param("simulated", marks=pytest.mark.slow), "every note"])
def test_the_workbook_shows_titles_and_no_code(kind: str) -> None:
    numbers = cohort(kind)
    made = for_people(tables(numbers) | {WIDE: wide_table(numbers)})
    for table in made.values():
        cells = [str(cell) for row in [list(table.columns), *table.to_numpy().tolist()] for cell in row]
        assert not [found for cell in cells for found in shown_codes(cell)]
    assert set(made["slips"]["slip in words"]) <= TITLES


def test_csv_files_hold_the_title_beside_every_code() -> None:
    made = tables(cohort("every note"))
    for name, code, title in (
        ("answers", "note", "what happened"),
        ("questions", "note", "what went wrong most"),
        ("slips", "slip", "slip in words"),
    ):
        pairs = made[name][[code, title]].to_numpy().tolist()
        assert pairs
        assert all(title == note_title(code) for code, title in pairs if code)
        others = made[name].drop(columns=[code, "question"], errors="ignore").to_numpy().tolist()
        assert not [found for row in others for cell in row for found in shown_codes(str(cell))]


def test_a_row_of_marks_has_the_words_too() -> None:
    row = Mark("demo-01", "03_heater_power", Outcome("q", 0, 1, "one_leg", "")).row()
    assert (row["note"], row["what_happened"]) == ("one_leg", "Used one leg's volts")


def test_a_feedback_page_shows_no_code() -> None:
    by_lesson: dict[str, list[Outcome]] = {}
    for mark in every_note():
        by_lesson.setdefault(mark.lesson, []).append(mark.outcome)
    for lesson, outcomes in by_lesson.items():
        texts = read(page(lesson, "demo-01", "Demo One", outcomes))
        assert not [found for text in texts for found in shown_codes(text)]


@pytest.mark.parametrize(
    "text",
    [
        "one_leg",
        "<b>one_leg</b>",
        "1. times ohms",
        "times ohms (3)",
        "times ohms: 3 people",
        "a · forgot square",
        "x / times ohms",
    ],
)
def test_a_code_is_found(text: str) -> None:
    assert list(shown_codes(text))


@pytest.mark.parametrize("text", ["You used the volts of one leg.", "Used one leg's volts", "Not answered (2)"])
def test_plain_words_are_no_code(text: str) -> None:
    assert not list(shown_codes(text))
