"""A marked notebook in nbgrader's own formgrader: an instructor's browser runs nothing that an apprentice wrote."""

from __future__ import annotations

import base64
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_output, new_raw_cell

from legtoleg.authoring.building import built_path
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.cohort import nbgrader_steps
from legtoleg.cohort.nbgrader_steps import MarkAnswers
from legtoleg.cohort.page_safety import make_safe
from legtoleg.marking.outcomes import MIME as OUTCOME

pytestmark = pytest.mark.filterwarnings("ignore")  # nbconvert's own, about a kernel's language that is none
LESSON = "03_heater_power"
EVIL = "stolen()"
SCRIPT = f"<script>{EVIL}</script><img src=x onerror={EVIL}><svg onload={EVIL}></svg><iframe src=//x></iframe>"
PICTURE = base64.b64encode(b"a picture").decode()
FENCES = "```\n" + SCRIPT + "\n````\n" + SCRIPT + "\n~~~\n" + SCRIPT


def shown(kind: str, value: Any, how: str = "display_data") -> Any:
    return new_output(how, data={kind: value}, metadata={kind: {"width": f'1" onload="{EVIL}'}})


KINDS = {
    "text/html": SCRIPT,
    "image/svg+xml": f"<svg xmlns='http://www.w3.org/2000/svg' onload='{EVIL}'><script>{EVIL}</script></svg>",
    "application/javascript": EVIL,
    "text/markdown": SCRIPT,
    "text/latex": f"$\\href{{javascript:{EVIL}}}{{x}}$ {SCRIPT}",
    "application/vnd.jupyter.widget-view+json": {"model_id": "x", "version_major": 2, "version_minor": 0},
    "application/json": {"a": SCRIPT},
    "application/pdf": "JVBERi0=",
    "image/png": f'x" onerror="{EVIL}',
    "image/gif": PICTURE,
    OUTCOME: {"question": "drift", "points": 2},
}


def hostile() -> Any:
    """Return the lesson with all that a hand-in could hold of what a browser runs."""
    notebook = nbformat.read(built_path(LESSON), as_version=4)
    outputs = [shown(kind, value, how) for kind, value in KINDS.items() for how in ("display_data", "execute_result")]
    outputs.append(new_output("display_data", data={OUTCOME: {}, "text/html": SCRIPT}))
    outputs += [new_output("stream", text=SCRIPT), new_output("error", ename=SCRIPT, evalue=SCRIPT, traceback=[SCRIPT])]
    outputs += [shown("text/plain", f"kept {SCRIPT}"), shown("image/png", PICTURE)]
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs = [nbformat.from_dict(output) for output in outputs]
            cell.metadata["widgets"] = {"x": SCRIPT}
    added = [new_markdown_cell(text) for text in (SCRIPT, FENCES, f"[x](javascript:{EVIL})", "![a](attachment:a.svg)")]
    added += [new_raw_cell(SCRIPT), new_raw_cell(SCRIPT, metadata={"raw_mimetype": "text/html"})]
    added.append(new_code_cell(SCRIPT, outputs=outputs))
    for cell in added[:4]:
        cell["attachments"] = {"a.svg": {"image/svg+xml": SCRIPT}}
    prose = next(cell for cell in notebook.cells if cell.cell_type == "markdown")
    prose.source += SCRIPT
    notebook.cells[3:3] = added
    notebook.metadata["title"] = f"</title>{SCRIPT}"
    notebook.metadata["widgets"] = {
        "application/vnd.jupyter.widget-state+json": {"state": {}, "x": f"</script>{SCRIPT}"}
    }
    notebook.metadata["kernelspec"]["language"] = notebook.metadata.setdefault("language_info", {})["name"] = SCRIPT
    return notebook


def formgraded(notebook: Any) -> str:
    """Return the page that nbgrader's formgrader makes of ``notebook``, by its own template and exporter."""
    from nbconvert.exporters import HTMLExporter
    from nbgrader.server_extensions.formgrader import handlers

    exporter = HTMLExporter(template_name="formgrade", extra_template_basedirs=[handlers.template_path])
    names = ("assignment_id", "notebook_id", "submission_id", "student", "last_name", "first_name", "notebook_path")
    resources = {**dict.fromkeys(names, "x"), "index": 0, "total": 1, "base_url": "/"}
    page, _ = exporter.from_notebook_node(notebook, resources=resources)
    return str(page)


class Runs(HTMLParser):
    """Collects what a browser would run of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._script = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._script = tag == "script"
        self.found += [f"{tag} {name}" for name, value in attrs if EVIL in (value or "")]
        if tag == "iframe":
            self.found.append(tag)

    def handle_endtag(self, tag: str) -> None:
        self._script = self._script and tag != "script"

    def handle_data(self, data: str) -> None:
        if self._script and EVIL in data:
            self.found.append("script")


def run_by_a_browser(page: str) -> list[str]:
    parser = Runs()
    parser.feed(page)
    return parser.found


def test_the_formgrader_runs_nothing_of_a_marked_notebook() -> None:
    assert len(run_by_a_browser(formgraded(hostile()))) > 50, "as it came, it would be run"
    notebook = hostile()
    resources = {"nbgrader": {"student": "ada-01", "assignment": LESSON, "notebook": LESSON}}
    marked, _ = MarkAnswers().preprocess(notebook, resources)
    nbformat.validate(marked)
    page = formgraded(marked)
    assert run_by_a_browser(page) == []
    assert "kept &lt;script&gt;" in page
    assert PICTURE in page
    assert re.search(r"<title>[^<]*</title>", page)
    assert f"javascript:{EVIL}" not in re.findall(r'href="([^"]*)"', page)
    front = [
        cell.outputs[0]
        for cell in marked.cells
        if cell.cell_type == "code" and cell.metadata.get("nbgrader", {}).get("grade")
    ]
    assert front
    assert all("points" in output.data["text/html"] for output in front)


def test_the_lessons_own_prose_stays_as_it_is() -> None:
    notebook = solved_notebook(LESSON)
    before = [cell.source for cell in notebook.cells]
    make_safe(notebook, LESSON)
    assert [cell.source for cell in notebook.cells] == before


def test_it_is_the_cleaning_that_does_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nbgrader_steps, "make_safe", lambda *_: None)
    resources = {"nbgrader": {"student": "ada-01", "assignment": LESSON, "notebook": LESSON}}
    marked, _ = MarkAnswers().preprocess(hostile(), resources)
    assert run_by_a_browser(formgraded(marked))


def test_a_marked_notebook_on_disk_is_the_clean_one(tmp_path: Path) -> None:
    notebook = hostile()
    make_safe(notebook, LESSON)
    nbformat.write(notebook, tmp_path / "marked.ipynb")
    text = (tmp_path / "marked.ipynb").read_text(encoding="utf-8")
    kinds = set(re.findall(r'"((?:text|image|application)/[^"]+)":', text))
    assert kinds <= {"text/plain", "image/png"}
