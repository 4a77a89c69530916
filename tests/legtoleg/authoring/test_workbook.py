"""The workbook: every lesson a page with all its questions and figures, room to write, and no answer or key in it."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

import nbformat
import pytest

from dryerbench.core.errors import KitError
from dryerbench.course.questions import Lettered
from dryerbench.registry import sheet
from legtoleg.authoring import workbook
from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.authoring.pdf import print_pdf
from legtoleg.authoring.workbook import WorkbookError, page, run_lessons, write_pages
from legtoleg.cli.command import main
from legtoleg.core.paths import lesson_names

WHO = "demo-02"
LESSON = "03_heater_power"


@pytest.fixture(scope="module")
def ran() -> dict[str, list[Any]]:
    return run_lessons(lesson_names(), WHO)


@pytest.fixture(scope="module")
def pages(ran: dict[str, list[Any]]) -> dict[str, str]:
    return {lesson: page(lesson, WHO, cells) for lesson, cells in ran.items()}


def calls(lesson: str, begin: str) -> list[str]:
    cells = nbformat.read(built_path(lesson), as_version=4).cells
    return [line for cell in cells if cell.cell_type == "code" for line in cell.source.splitlines() if begin in line]


@pytest.mark.slow
@pytest.mark.parametrize("lesson", lesson_names())
def test_every_question_and_figure_is_there(lesson: str, pages: dict[str, str]) -> None:
    html, paper = pages[lesson], sheet(lesson)
    asked = re.findall(r'<section class="question" id="(\w+)">', html)
    assert asked == [question.name for question in paper.questions]
    card = paper.card(WHO)
    for question, section in zip(paper.questions, html.split("<section class=")[1:], strict=True):
        if isinstance(question, Lettered):
            assert all(f"<b>{letter}</b>" in section for letter in question.lettered(card))
        assert re.search(r'class="(blank|box|room|lines)"', section)
    lists = len(calls(lesson, "show_tech_sheet("))
    sheets = lists + len(calls(lesson, "show_second_sheet("))  # that one is a drawing and a list
    assert html.count("aria-label='Tech sheet'") + html.count('aria-label="Tech sheet"') == sheets
    figures = len(calls(lesson, "show_")) - lists + len(calls(lesson, "practice_call("))
    figures += len(calls(lesson, "practice_bench(")) + len(calls(lesson, "machine_call("))
    figures += len(calls(lesson, "show_cabinet("))  # each is two pictures: front and rear
    assert html.count("<figure>") == figures
    assert html.count('class="practice"') == len(calls(lesson, "practice("))
    cautions = [cell for cell in nbformat.read(built_path(lesson), as_version=4).cells if "> **⚠" in cell.source]
    assert html.count("class='caution'") >= len(cautions) > 0


@pytest.mark.slow
@pytest.mark.parametrize("lesson", lesson_names())
def test_the_apprentices_own_numbers_and_nothing_from_outside(lesson: str, pages: dict[str, str]) -> None:
    html = pages[lesson]
    assert f"The dryer of {WHO}." in html
    for line in sheet(lesson).card(WHO).lines:
        assert str(line.value).replace("&", "&amp;").replace('"', "&#34;") in html.replace("&quot;", "&#34;")
    fetched = re.findall(r"""(?:src|href)=["'](?!data:|#)([^"']*)""", html)
    assert [one for one in fetched if "www.w3.org" not in one] == []
    assert "<script" not in html


@pytest.mark.slow
@pytest.mark.parametrize("lesson", lesson_names())
def test_no_answer_and_no_key_is_in_it(lesson: str, pages: dict[str, str]) -> None:
    html = pages[lesson]
    given = "\n".join(cell.source for cell in nbformat.read(built_path(lesson), as_version=4).cells)
    for question in sheet(lesson).questions:
        for line in worked_source(lesson, question.name).splitlines():
            assert line in given or line.strip() not in html or len(line.strip()) < 8
    assert "letter(" not in html
    assert "not answered yet" not in html
    assert "SOLUTION" not in html


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.parametrize(
    ("lesson", "paper", "size"), [(LESSON, "a4", "595 842"), ("05_path_to_case", "letter", "612 792")]
)
def test_a_pdf_of_a_sane_number_of_pages(
    lesson: str, paper: str, size: str, ran: dict[str, list[Any]], chromium: str, tmp_path: Path
) -> None:
    path = tmp_path / f"{lesson}.html"
    path.write_text(page(lesson, WHO, ran[lesson], paper), encoding="utf-8")
    pdf = print_pdf(path, chromium).read_bytes()
    assert 6 <= len(re.findall(rb"/Type\s*/Page\b", pdf)) <= 24
    wide, high = (float(part) for part in re.search(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf).groups())  # type: ignore[union-attr]
    assert f"{wide:.0f} {high:.0f}" == size


@pytest.mark.slow
def test_without_chromium_the_pages_are_there_and_one_line_says_so(
    ran: dict[str, list[Any]], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setattr(workbook, "run_lessons", lambda lessons, who: {lesson: ran[lesson] for lesson in lessons})
    pages = tmp_path / "pages"
    command = ["legtoleg", "workbook", str(pages), "--lesson", LESSON, "--browser", "no-such-chromium"]
    monkeypatch.setattr(sys, "argv", command)
    with pytest.raises(SystemExit) as left:
        main()
    said = capsys.readouterr()
    assert left.value.code == 2
    assert said.err.count("\n") == 1
    assert "no PDF was made" in said.err
    assert said.out.startswith("Wrote 1 page to")
    assert "practice dryer" in (pages / f"{LESSON}.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(("lesson", "paper", "says"), [("99_gone", "a4", "no lesson"), (LESSON, "a3", "no paper")])
def test_what_is_not_there_is_said(lesson: str, paper: str, says: str, tmp_path: Path) -> None:
    with pytest.raises(WorkbookError, match=says):
        write_pages(tmp_path, lesson, WHO, paper)


def test_an_id_that_cannot_be_one(tmp_path: Path) -> None:
    with pytest.raises(KitError):
        write_pages(tmp_path, LESSON, "../x")
