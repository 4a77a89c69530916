"""Every lesson in a real JupyterLab, as an apprentice has it: opened, run, played with, answered, saved, marked."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.legtoleg.accessible import OURS, violations

from dryerbench.registry import sheet
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.core.paths import START, lesson_names
from legtoleg.marking.answer_parsing import found_in_cell
from legtoleg.marking.marking import mark_lesson

pytestmark = [pytest.mark.slow, pytest.mark.browser]
TROUBLE = "[data-mime-type='application/vnd.jupyter.stderr'], [data-mime-type='application/vnd.jupyter.error']"

WITHOUT_FIGURES = ("10_call_to_close",)
"""Lessons that have benches only."""

FITS = """view => {
    const box = view.closest(".jp-OutputArea-output").getBoundingClientRect();
    const inside = [view, ...view.querySelectorAll("input, .value, label, p, figcaption, .frame, .real-thing div")];
    const out = inside.filter(one => one.getBoundingClientRect().right > box.right + 1);
    return out.map(one => one.outerHTML.slice(0, 80));
}"""
"""Give what of a figure sticks out of its column."""

WIDTHS = (1024, 390)

EDIT = """id => {
    const content = window.jupyterapp.shell.currentWidget.content;
    const cells = [...content.model.cells];
    content.activeCellIndex = cells.findIndex(cell => cell.id === id);
    content.mode = "edit";
    content.activeCell.editor.focus();
    return content.activeCell.model.id === id;
}"""


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
    page.wait_for_function("([one, said]) => one.innerText !== said", arg=[words.element_handle(), said])
    assert image.get_attribute("src") != before
    assert image.get_attribute("alt").endswith(words.inner_text())


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
    assert panel.get_by_text("Probe A: in the air").is_visible()
    panel.get_by_label("Where to put probe A").select_option(label="case")
    panel.get_by_role("button", name="Put probe A there").click()
    panel.get_by_text("Probe A is on case").wait_for()
    assert panel.get_by_text("Probe A: case").is_visible()


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
        assert page.evaluate(EDIT, f"{question.name}-answer")
        page.keyboard.press("Control+a")
        page.keyboard.insert_text(worked_source(lesson, question.name))
        page.keyboard.press("Shift+Enter")
        page.keyboard.press("Shift+Enter")
    assert page.evaluate(EDIT, "last-look")
    page.keyboard.press("Shift+Enter")


@pytest.mark.parametrize("lesson", lesson_names())
def test_an_apprentice_works_through_the_lesson(lab: Any, lesson: str) -> None:
    page, path = lab.page, f"{lesson}/{lesson}.ipynb"
    with lab.notebook(path) as notebook:
        lab.run_all()
        assert notebook.get_by_text(f"The machine of {lab.apprentice}").first.is_visible()
        assert notebook.get_by_text("is not answered yet").count() == len(sheet(lesson).questions)
        assert notebook.locator(TROUBLE).count() == 0
        assert notebook.get_by_text("Create Assignment").count() == 0
        if notebook.locator(".fig-view").count():
            move_a_control(page, notebook)
            fits_its_column(page, notebook)
        else:
            assert lesson in WITHOUT_FIGURES
        if notebook.locator(".ltl-bench").count():
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
        assert notebook.get_by_text(f"The path of {lab.apprentice}").is_visible()
        assert notebook.locator("tbody tr").count() == len(lesson_names())
        assert notebook.locator("tbody a").count() == len(lesson_names())
        assert violations(lab.page, *OURS) == {}
        notebook.locator("tbody a").nth(1).click()
        lab.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)").get_by_role(
            "heading", name="02 · Two legs"
        ).first.wait_for()
        assert notebook.locator(TROUBLE).count() == 0
