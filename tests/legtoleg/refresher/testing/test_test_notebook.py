"""The test as a page: locked where it must be, nothing of a worked answer in it, and a name that does nothing."""

from __future__ import annotations

import json
import zipfile
from datetime import date
from importlib.metadata import version
from pathlib import Path

import nbformat

from dryerbench.core.identity import MARK
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.refresher.record.safety_topics import course_topics
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.composition import compose
from legtoleg.refresher.testing.issuing import issue
from legtoleg.refresher.testing.test_notebook import notebook, plain

ITEMS = compose("ada-01.r1", course_topics(), {})


def page(name: str = "Ada Demo") -> nbformat.NotebookNode:
    return notebook("ada-01.r1", "ada-01", name, date(2027, 3, 1), ITEMS)


def test_the_page_is_in_the_form_of_a_lesson() -> None:
    cells = {cell.id: cell for cell in page().cells}
    for item in ITEMS:
        assert cells[f"{item.name}-hand-in"].metadata.nbgrader.locked
        assert cells[f"{item.name}-hand-in"].metadata.editable is False
        assert not cells[f"{item.name}-answer"].metadata.nbgrader.locked
        assert cells[f"{item.name}-answer"].source.startswith(f"{item.name} = {item.question.empty}")
    text = "\n".join(cell.source for cell in page().cells)
    assert "House voltage kills" in text
    assert "not a license" in text
    assert "show_bench(bench)" in text
    nbformat.validate(page())


def test_nothing_of_a_worked_answer_is_in_it() -> None:
    text = nbformat.writes(page())
    for item in ITEMS:
        worked = [line for line in worked_source(item.lesson, item.name).splitlines() if "open_bench" not in line]
        assert not any(line in text for line in worked if len(line) > 25)


def test_a_name_with_html_and_markdown_does_nothing() -> None:
    bad = "<script>alert(1)</script> **B** [x](javascript:1) `$\\int$`"
    about = page(bad).cells[0].source.splitlines()[0]
    assert "<" not in about
    assert "[x]" not in about
    assert about == "# Refresher: " + plain(bad)


def test_a_parcel_opens_without_a_python_person(shop: Shop, tmp_path: Path) -> None:
    made = issue(shop, "ada-01")
    with zipfile.ZipFile(made.parcel) as parcel:
        parcel.extractall(tmp_path / "out")
        names = parcel.namelist()
    (top,) = (tmp_path / "out").iterdir()
    assert made.issue.name in top.name
    mark = json.loads((top / MARK).read_text(encoding="utf-8"))
    assert mark == {"apprentice": made.issue.name, "course": version("leg-to-leg")}
    assert "/lab/tree/refresher-ada-01.ipynb" in (top / "start.py").read_text(encoding="utf-8")
    assert "00_start" not in (top / "start.py").read_text(encoding="utf-8")
    assert (top / "lessons" / "refresher-ada-01.ipynb").read_bytes() == made.notebook.read_bytes()
    assert (top / "lessons" / "dryerbench" / "notebook" / "machine_panel.js").is_file()
    assert (top / "datasets" / "datapackage.json").is_file()
    assert [name for name in names if name.endswith(".ipynb")] == [f"{top.name}/lessons/refresher-ada-01.ipynb"]
    assert not any("grader" in name or "solutions" in name for name in names)
