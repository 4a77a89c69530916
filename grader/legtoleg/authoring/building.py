"""Building: from the text sources to the lessons that apprentices open, through nbgrader's own generate step."""

from __future__ import annotations

import tempfile
from pathlib import Path

import nbformat
from nbformat.notebooknode import NotebookNode

from legtoleg.authoring import warm_ups, word_page
from legtoleg.authoring.answer_page import write_page
from legtoleg.authoring.lesson_source import start_page
from legtoleg.authoring.nbgrader_api import config_of, release
from legtoleg.core.paths import START, checkout, course_folder, lesson_names


def built_path(lesson: str) -> Path:
    """Return where the built notebook of ``lesson`` stands."""
    return course_folder("lessons") / lesson / f"{lesson}.ipynb"


def released_notebook(lesson: str) -> NotebookNode:
    """Return the unsolved notebook of ``lesson`` as nbgrader releases it, without outputs."""
    with tempfile.TemporaryDirectory(prefix="leg-to-leg-") as folder:
        return nbformat.read(release(config_of(Path(folder)), lesson), as_version=4)


def as_text(notebook: NotebookNode) -> str:
    """Return ``notebook`` as the text of its file."""
    return str(nbformat.writes(notebook)) + "\n"


def stale() -> list[tuple[Path, str]]:
    """Return the path of each built file that is not what its source makes now, and the text that it should have.

    Raises
    ------
    FolderMissingError
        If the course was installed from a wheel, where nothing is built.
    """
    checkout("“legtoleg build”")
    wanted = [(built_path(lesson), as_text(released_notebook(lesson))) for lesson in lesson_names()]
    wanted.append((built_path(START), as_text(start_page())))
    wanted.append((course_folder("lessons") / warm_ups.PLACE, warm_ups.table()))
    wanted.append((course_folder("lessons") / word_page.PAGE, word_page.page_text()))
    return [(path, text) for path, text in wanted if not path.is_file() or path.read_text(encoding="utf-8") != text]


def build() -> list[Path]:
    """Write the built notebook of each lesson, the glossary and the page of answers; return what changed.

    Raises
    ------
    FolderMissingError
        If the course was installed from a wheel, where nothing is built.
    """
    old = stale()
    for path, text in old:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    write_page(checkout("“legtoleg build”"))
    return [path for path, _ in old]
