"""Every lesson in a real JupyterLab, as an apprentice has it: opened, run, played with, answered, saved, marked."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from playwright.sync_api import expect
from tests.legtoleg.accessible import OURS, violations

from dryerbench.registry import sheet
from legtoleg.authoring.lesson_source import solved_notebook, worked_source
from legtoleg.core.paths import START, lesson_names
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.marking import mark_lesson

pytestmark = [pytest.mark.slow, pytest.mark.browser]
TROUBLE = "[data-mime-type='application/vnd.jupyter.stderr'], [data-mime-type='application/vnd.jupyter.error']"

WITHOUT_FIGURES = ("10_call_to_close",)
"""Lessons that have benches only."""

PATIENCE = 60_000
"""Milliseconds for what a busy kernel shows in the end."""
FITS = """async view => {
    const look = () => {
        const box = view.closest(".jp-OutputArea-output").getBoundingClientRect();
        const inside = [view, ...view.querySelectorAll("input, .value, label, p, figcaption, .frame, .real-thing div")];
        const out = inside.filter(one => one.getBoundingClientRect().right > box.right + 1);
        return out.map(one => one.outerHTML.slice(0, 80));
    };
    for (let turn = 0; turn < 100 && look().length; turn += 1) await new Promise(done => setTimeout(done, 50));
    return look();
}"""
"""Give what of a figure sticks out of its column once the page has come to rest after its width was changed."""
REDRAWN = """([view, said, src]) => {
    const [words, image] = [view.querySelector("[role=status]").innerText, view.querySelector("img")];
    return words !== said && image.getAttribute("src") !== src && image.alt.endsWith(words);
}"""

WIDTHS = (1024, 390)

EDIT = """async id => {
    const content = window.jupyterapp.shell.currentWidget.content;
    const cells = [...content.model.cells];
    content.activeCellIndex = cells.findIndex(cell => cell.id === id);
    const cell = content.activeCell;
    await content.scrollToItem(content.activeCellIndex, "auto");
    await cell.ready;
    content.mode = "edit";
    cell.editor.focus();
    return cell.model.id;
}"""
TYPING = """id => {
    const content = window.jupyterapp.shell.currentWidget.content;
    return content.activeCell.model.id === id && content.activeCell.editor.hasFocus();
}"""
LISTENING = """id => {
    const content = window.jupyterapp.shell.currentWidget.content;
    return content.activeCell.model.id === id && content.node.contains(document.activeElement);
}"""
"""Read whether a key would go to the cell: into its text, or as a command."""


def move_a_control(page: Any, notebook: Any) -> None:
    """Move the first knob of the first figure by arrow keys; the drawing and what is said change."""
    view = notebook.locator(".fig-view").first
    image, slider, words = view.locator("img"), view.get_by_role("slider").first, view.get_by_role("status")
    image.scroll_into_view_if_needed()
    before, said = image.get_attribute("src"), words.inner_text()
    assert slider.get_attribute("aria-label")
    slider.focus()
    arrow = "ArrowLeft" if slider.input_value() == slider.get_attribute("max") else "ArrowRight"
    page.wait_for_timeout(500)  # no arrow key goes to JupyterLab, which would collapse the part of the page
    for _ in range(4):
        page.keyboard.press(arrow)
    page.wait_for_function(REDRAWN, arg=[view.element_handle(), said, before])


def fits_its_column(page: Any, notebook: Any) -> None:
    """No figure sticks out of its column, on a small laptop and, without the list of files, on a phone."""
    before = page.viewport_size
    page.evaluate("() => window.jupyterapp.shell.collapseLeft()")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        figures = notebook.locator(".fig-view, .real-thing")
        for place in range(figures.count()):
            assert figures.nth(place).evaluate(FITS) == [], width
    page.set_viewport_size(before)
    page.evaluate("() => window.jupyterapp.shell.expandLeft()")


def place_a_probe(notebook: Any) -> None:
    """Put a probe on the case of the first bench, from the list; its place is told there, and the bench says so."""
    panel = notebook.locator(".ltl-bench").first
    panel.get_by_role("tab", name="Meter").click()
    expect(panel.get_by_text("Probe A: in the air")).to_be_visible()
    panel.get_by_label("Where to put probe A").select_option(label="cabinet")
    panel.get_by_role("button", name="Put probe A there").click()
    panel.get_by_text("Probe A is on cabinet").wait_for()
    expect(panel.get_by_text("Probe A: cabinet")).to_be_visible()


def practice(notebook: Any) -> None:
    """Type an answer of the wrong kind into the first practice; it is asked about at once."""
    box = notebook.get_by_placeholder("number and unit").first
    box.scroll_into_view_if_needed()
    box.fill("9 acres")
    box.press("Enter")
    notebook.locator(".widget-html-content b", has_text="→").first.wait_for()


def answer(page: Any, lesson: str) -> None:
    """Type the worked answer of every question into its cell and run it and the next one, by keyboard."""
    for question in sheet(lesson).questions:
        edit(page, f"{question.name}-answer")
        page.keyboard.press("Control+a")
        page.keyboard.insert_text(worked_source(lesson, question.name))
        page.keyboard.press("Shift+Enter")
        page.wait_for_function(LISTENING, arg=f"{question.name}-hand-in")
        page.keyboard.press("Shift+Enter")
    edit(page, "last-look")
    page.keyboard.press("Shift+Enter")


def edit(page: Any, cell: str) -> None:
    """Go into a cell, and wait until keys go there: of a long page, only what is near is drawn."""
    assert page.evaluate(EDIT, cell) == cell
    page.wait_for_function(TYPING, arg=cell)


def has_benches(lesson: str) -> bool:
    cells = solved_notebook(lesson).cells
    return any(re.search(r"^(practice|show)_bench\(", cell.source, re.MULTILINE) for cell in cells)


@pytest.mark.parametrize("lesson", lesson_names())
def test_an_apprentice_works_through_the_lesson(lab: Any, lesson: str) -> None:
    page, path = lab.page, f"{lesson}/{lesson}.ipynb"
    with lab.notebook(path) as notebook:
        lab.run_all()
        expect(notebook.get_by_text(f"The dryer of {lab.apprentice}").first).to_be_visible(timeout=PATIENCE)
        asked = len(sheet(lesson).questions)
        expect(notebook.get_by_text("is not answered yet")).to_have_count(asked, timeout=PATIENCE)
        assert notebook.locator(TROUBLE).count() == 0
        assert notebook.get_by_text("Create Assignment").count() == 0
        if lesson in WITHOUT_FIGURES:
            assert notebook.locator(".fig-view").count() == 0
        else:
            expect(notebook.locator(".fig-view").first).to_be_visible(timeout=PATIENCE)
            move_a_control(page, notebook)
            fits_its_column(page, notebook)
        if has_benches(lesson):
            expect(notebook.locator(".ltl-bench").first).to_be_visible(timeout=PATIENCE)
            place_a_probe(notebook)
        practice(notebook)
        assert violations(page, *OURS) == {}
        answer(page, lesson)
        notebook.get_by_text("Ready to hand in").wait_for()
        assert notebook.locator(TROUBLE).count() == 0
        lab.save()
    cells = json.loads((lab.lessons / path).read_text(encoding="utf-8"))["cells"]
    graded = {cell["metadata"].get("nbgrader", {}).get("grade_id"): cell for cell in cells}
    found = {q.name: found_in_cell(graded[q.name]["outputs"], q.name) for q in sheet(lesson).questions}
    marks = mark_lesson(lesson, lab.apprentice, found).values()
    assert [(mark.question, mark.points) for mark in marks] == [(q.name, q.points) for q in sheet(lesson).questions]


def test_the_start_page_shows_the_path(lab: Any) -> None:
    with lab.notebook(f"{START}/{START}.ipynb") as notebook:
        lab.run_all()
        expect(notebook.get_by_text(f"The path of {lab.apprentice}")).to_be_visible(timeout=PATIENCE)
        expect(notebook.locator("tbody tr")).to_have_count(len(lesson_names()))
        expect(notebook.locator("tbody a")).to_have_count(len(lesson_names()))
        assert violations(lab.page, *OURS) == {}
        notebook.locator("tbody a").nth(1).click()
        lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)").get_by_role(
            "heading", name="02 · Two legs"
        ).first.wait_for()
        assert notebook.locator(TROUBLE).count() == 0
