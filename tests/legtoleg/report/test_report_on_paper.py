"""The report printed by a real browser: nothing cut, no heading alone at a page's foot; and looked at 1024 px wide.

The cohort is made up: what its people did is simulated, lesson by lesson, without running a notebook.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date
from functools import cache
from html import unescape
from pathlib import Path
from re import findall, sub
from unicodedata import normalize

import pytest
from pypdf import PageObject, PdfReader
from tests.legtoleg.accessible import cramped, violations

from dryerbench.registry import SHEETS
from legtoleg.authoring.pdf import print_pdf
from legtoleg.cohort.marks import Mark
from legtoleg.demo.simulated_apprentices import simulate
from legtoleg.intake.roster import Person
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.cohort_statistics import CohortNumbers, cohort_numbers
from legtoleg.report.hand_in_fates import NEW, Fates
from legtoleg.report.integrity_facts import Fact
from legtoleg.report.report_page import page_text

pytestmark = [pytest.mark.slow, pytest.mark.browser]
MANY, FEW = 30, 3
LONG = "Maximiliana-Theodora Featherstonehaugh-Demo"
REFUSED = "It was worked out on card 1, and card 2 is the one that counts. Ask for a hand-in from card 2."
MARGIN = 11.0
"""At each side of the paper, as the page sets it [mm]."""
PAPERS = {"letter": 215.9, "a4": 210.0}
"""Widths of the two papers (ANSI letter; ISO 216) [mm]."""
MM = 72 / 25.4
"""Points in a millimeter."""


def marks_of(number: int, lesson: str, who: str) -> list[Mark]:
    """Return the marks of what the simulated person of that number did."""
    asked = {question.name: question for question in SHEETS[lesson].questions}
    found = []
    for deed in simulate(number, 1, lesson).deeds:
        question = asked[deed.question]
        wrong = deed.expected_points < question.points
        safety = ("held" if wrong else "clear") if question.safety else ""
        outcome = Outcome(
            question.name, deed.expected_points, question.points, deed.expected_note, "", deed.typed, safety
        )
        found.append(Mark(who, lesson, outcome, isolated=number % 5 > 0))
    return found


@cache
def cohort(count: int) -> CohortNumbers:
    """Return a cohort of ``count`` in which all that the page can say is said somewhere."""
    people = [
        Person(f"demo-{n:02}", LONG if n == 2 else f"Demo {n}", group="evening" if n % 2 else "morning")
        for n in range(1, count + 1)
    ]
    people.append(Person("gone-99", "Gone Demo", left=date(2026, 1, 1)))
    marks = [
        mark
        for lesson in SHEETS
        for n in range(1, count + 1)
        if (n + int(lesson[:2])) % 9
        for mark in marks_of(n, lesson, f"demo-{n:02}")
    ]
    first, last = min(SHEETS), max(SHEETS)
    unmarked = {("demo-01", first): REFUSED, ("demo-02", last): NEW, ("demo-03", last): REFUSED}
    waiting = {("demo-03", first): "scan.pdf cannot be graded. Ask for the notebook."}
    facts = [Fact((f"demo-{n:02}",), first, "numbers of another", "Numbers that fit the machine of demo-01.", 0.001)
             for n in range(1, count + 1)]  # fmt: skip
    return replace(
        cohort_numbers(marks, people, SHEETS, late={("demo-02", first): 129_600.0}),
        fates=Fates(unmarked, waiting, 1),
        facts=facts,
        remarks=[f"demo-{n:02}, {first}: came at an unknown time." for n in range(1, min(count, 4))],
        troubles=["The witness record cannot be read, so nobody counts as seen."],
        tries={("demo-01", first): 2},
        about=[("course, this report", "1.0")],
    )


def written(folder: Path, count: int, paper: str = "letter") -> Path:
    """Write the page of a cohort of ``count``, for one size of paper."""
    text = page_text(cohort(count), lambda who, lesson: f"feedback/{who}/{lesson}.html", made_up=True)
    path = folder / f"report-{count}-{paper}.html"
    path.write_text(text.replace("@page {", f"@page {{ size: {paper};"), encoding="utf-8")
    return path


PRINTED = ((FEW, "letter"), (MANY, "letter"), (MANY, "a4"))
Piece = tuple[float, float, str]
"""A piece of text on a page of a PDF: from the left and from the foot [pt], and the words."""


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory, chromium: str) -> dict[tuple[int, str], PdfReader]:
    folder = tmp_path_factory.mktemp("paper")
    return {key: PdfReader(print_pdf(written(folder, *key), chromium)) for key in PRINTED}


def pieces(sheet: PageObject) -> list[Piece]:
    """Return the pieces of text on a page of a PDF, the highest first."""
    found: list[Piece] = []

    def take(text: str, user: list[float], within: list[float], *_: object) -> None:
        if text.strip():
            x = within[4] * user[0] + within[5] * user[2] + user[4]
            y = within[4] * user[1] + within[5] * user[3] + user[5]
            found.append((x, y, text))

    sheet.extract_text(visitor_text=take)
    return sorted(found, key=lambda one: -one[1])


def bare(text: str) -> str:
    """Return text without white space and ligatures: a PDF says where words are, not what is between them."""
    return sub(r"\s+", "", normalize("NFKC", text))


def rows(sheet: PageObject) -> list[str]:
    """Return the lines of text on a page without white space, the highest first; what is at one height is one line."""
    found: list[tuple[float, str]] = []
    for _, y, text in pieces(sheet):
        if found and abs(found[-1][0] - y) < 1.0:
            found[-1] = (y, found[-1][1] + bare(text))
        else:
            found.append((y, bare(text)))
    return [text for _, text in found]


def headings(path_or_text: str) -> list[str]:
    """Return the headings of a page in HTML, without white space."""
    return [
        bare(unescape(sub("<[^>]+>", "", one))) for one in findall(r"(?s)<h[123][^>]*>(.*?)</h[123]>", path_or_text)
    ]


@pytest.mark.parametrize("key", PRINTED)
def test_no_heading_is_alone_at_the_foot_and_each_lesson_begins_a_page(
    printed: dict[tuple[int, str], PdfReader], key: tuple[int, str], tmp_path: Path
) -> None:
    text = written(tmp_path, *key).read_text(encoding="utf-8")
    named = set(headings(text))
    assert len(named) > 20
    sheets = [rows(sheet) for sheet in printed[key].pages]
    alone = {number: lines[-1] for number, lines in enumerate(sheets, 1) if lines[-1] in named}
    assert not alone, "a heading is the last line of its page"
    for lesson, paper in SHEETS.items():
        head = bare(f"{lesson[:2]} · {paper.title}")
        assert [lines.index(head) for lines in sheets if head in lines] == [0], f"{head} begins a page"
    assert any("Versions:" in line for line in sheets[0]), "not alone on a page of their own at the end"
    assert not any("Versions:" in line for lines in sheets[1:] for line in lines)


@pytest.mark.parametrize("key", PRINTED)
def test_nothing_is_cut(
    printed: dict[tuple[int, str], PdfReader], key: tuple[int, str], tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    """Every word that the page has in print is in the PDF, as often, and inside the margins."""
    path = written(tmp_path, *key)
    page = request.getfixturevalue("page")
    width = round((PAPERS[key[1]] - 2 * MARGIN) / 25.4 * 96)
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(media="print")
    page.goto(path.as_uri())
    assert page.evaluate(TOO_WIDE) == []
    shown = Counter(findall(r"[A-Za-z]{4,}", page.evaluate("() => document.body.innerText")))
    text = "".join("".join(rows(sheet)) for sheet in printed[key].pages)
    lost = [word for word, times in shown.items() if text.count(word) < times]
    assert lost == []
    left, right = (mm * MM for mm in (MARGIN, PAPERS[key[1]] - MARGIN))
    outside = [piece for sheet in printed[key].pages for piece in pieces(sheet) if not left - 1 <= piece[0] <= right]
    assert outside == []


TOO_WIDE = """() => [...document.querySelectorAll("body, main, section, div, table")]
  .filter(one => one.getBoundingClientRect().right > document.documentElement.clientWidth + 1
                 || (getComputedStyle(one).overflowX !== "visible" && one.scrollWidth > one.clientWidth + 1))
  .map(one => `${one.tagName} ${one.className}: ${one.innerText.slice(0, 60)}`)"""
"""What of a page is wider than its window or hides a part of itself at the side."""


@pytest.mark.parametrize("count", [FEW, MANY])
def test_at_1024_px_the_first_screen_has_the_three_lists_and_no_table_moves_sideways(
    count: int, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    path = written(tmp_path, count)
    page = request.getfixturevalue("page")
    page.set_viewport_size({"width": 1024, "height": 768})
    page.goto(path.as_uri())
    boxes = [one.bounding_box() for one in page.locator(".lists > section").all()]
    assert len(boxes) == 3
    assert all(box["y"] < 300 for box in boxes), "all three begin on the first screen"
    assert boxes[0]["x"] < boxes[1]["x"] < boxes[2]["x"]
    assert max(box["height"] for box in boxes) < 2.5 * 768
    assert page.evaluate(TOO_WIDE) == []
    assert violations(page) | cramped(page) == {}
