"""Sources: a lesson's text notebook turned into the solved notebook that nbgrader takes in.

In the source a question is one code cell with ``:question: name``; it holds the worked answer alone. From it and the
lesson's sheet come three cells: the line that says what is asked, the answer cell, the locked hand-in cell.
"""

from __future__ import annotations

import copy
import hashlib
import re
from collections import Counter
from functools import lru_cache
from pathlib import Path

import jupytext
import nbformat
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import READY, WORK
from dryerbench.course.lesson_spec import LessonSpec
from dryerbench.course.questions import AnyQuestion, Lettered
from dryerbench.registry import SHEETS, sheet
from legtoleg.authoring.word_page import link_words
from legtoleg.core.notebook_format import KERNEL
from legtoleg.core.paths import START, course_folder

STUB = "# Then press Shift + Enter, here and on the next cell."
"""What nbgrader puts in place of a worked answer, below the empty one."""


_WHERE = f"""**When you open a lesson,** choose *Run*, then *Run All Cells*. It shows everything as you left it.

**To stop,** close the browser tab. What you do and answer is kept as you do it. With a kit, close the black window
that it opened, too. **To come back,** open the kit's start file (in a class: the address of the class). Then open the
lesson.

**Files.** The list on the left has a folder for each lesson. `{READY}` has the files that you made to hand in.
`{WORK}` has what you did on benches and typed in boxes. Leave it as it is. All of it stays on this
computer, or on the class's."""
"""What the start page says of files, of stopping and of coming back."""


class SourceError(LegToLegError, ValueError):
    """A lesson source that cannot be built; the text names the lesson and the cell."""


def source_path(lesson: str) -> Path:
    """Return the path of the text source of ``lesson``.

    Raises
    ------
    SourceError
        If there is none.
    """
    path = course_folder("solutions") / f"{lesson}.md"
    if not path.is_file():
        raise SourceError(f"There is no source solutions/{lesson}.md.")
    return path


def _mark(cell: NotebookNode, grade_id: str, **flags: int) -> NotebookNode:
    kind = {"grade": False, "solution": False, "locked": True, "task": False, **flags}
    cell.metadata["nbgrader"] = {"grade_id": grade_id, "schema_version": 3, **kind}
    if kind["locked"]:
        cell.metadata["deletable"] = False
    return cell


def folded(cell: NotebookNode) -> NotebookNode:
    """Return ``cell`` as the page shows it at first: code folded away, text safe from slips of the hand."""
    if cell.cell_type == "code":
        cell.metadata["jupyter"] = {"source_hidden": True}
    else:
        cell.metadata["editable"] = False
    return cell


def _how(question: AnyQuestion) -> str:
    points = f"{question.points} point{'s' if question.points > 1 else ''}"
    safety = " · **safety: no sign-off while this is wrong**" if question.safety else ""
    return f"*Answer {question.asked} · {points}*{safety}"


def _question_cells(question: AnyQuestion, worked: str) -> list[NotebookNode]:
    name = question.name
    asked = [folded(new_markdown_cell(_how(question), id=f"{name}-asked"))]
    if isinstance(question, Lettered):
        offered = new_code_cell(f'options("{name}")', id=f"{name}-options")
        asked.append(folded(_mark(offered, f"{name}_options")))
    empty = f"{name} = {question.empty}\n{question.hint}"
    answer = new_code_cell(f"{empty}\n### BEGIN SOLUTION\n{worked.strip()}\n### END SOLUTION", id=f"{name}-answer")
    hand_in = new_code_cell(f'hand_in("{name}", {name})', id=f"{name}-hand-in")
    return [
        *asked,
        folded(_mark(answer, f"{name}_answer", solution=True, locked=False)),
        folded(_mark(hand_in, name, grade=True, points=question.points)),
    ]


def _plain_cell(cell: NotebookNode, seen: Counter[str]) -> NotebookNode:
    digest = hashlib.sha256(cell.source.encode("utf-8")).hexdigest()[:10]
    seen[digest] += 1
    new = new_code_cell if cell.cell_type == "code" else new_markdown_cell
    plain = new(cell.source, id=f"{cell.cell_type}-{digest}-{seen[digest]}")
    if cell.cell_type == "code":
        _mark(plain, f"read_{digest}_{seen[digest]}")
    return folded(plain)


def _expand(text: NotebookNode, paper: LessonSpec) -> list[NotebookNode]:
    cells: list[NotebookNode] = []
    seen: Counter[str] = Counter()
    asked: list[str] = []
    for cell in text.cells:
        name = cell.metadata.get("question")
        if name is None:
            cells.append(_plain_cell(cell, seen))
        else:
            asked.append(name)
            cells.extend(_question_cells(paper.question(name), cell.source))
    _check_asked(paper, asked)
    return [*cells, *_last_cells()]


def _last_cells() -> list[NotebookNode]:
    """Return what closes every lesson: the look over all answers before they are handed in."""
    said = new_markdown_cell(
        "**Before you hand in**, read this list. It says what is there and what cannot be read.", id="last"
    )
    return [folded(said), folded(_mark(new_code_cell("before_you_hand_in()", id="last-look"), "last_look"))]


def _check_asked(paper: LessonSpec, asked: list[str]) -> None:
    wanted = [question.name for question in paper.questions]
    if asked != wanted:
        raise SourceError(
            f"solutions/{paper.lesson}.md asks {', '.join(asked)}; the lesson's sheet wants, in this order, "
            f"{', '.join(wanted)}."
        )


def solved_notebook(lesson: str) -> NotebookNode:
    """Return the solved notebook of ``lesson`` with nbgrader's cell metadata, made from its text source.

    Raises
    ------
    SourceError
        If the source is missing, or its questions are not those of the lesson's sheet.
    """
    notebook: NotebookNode = copy.deepcopy(made_notebook(lesson, source_path(lesson).read_text(encoding="utf-8")))
    return notebook


@lru_cache(maxsize=32)
def made_notebook(lesson: str, source: str) -> NotebookNode:
    """Return what ``solved_notebook`` gives, made once of each source and not to be changed.

    Raises
    ------
    SourceError
        If the questions of the source are not those of the lesson's sheet.
    """
    text = jupytext.reads(source, fmt="md:myst")
    notebook = new_notebook(cells=_expand(text, sheet(lesson)))
    link_words(notebook.cells)
    notebook.metadata = NotebookNode(
        kernelspec=NotebookNode(KERNEL), language_info=NotebookNode(name="python"), title=sheet(lesson).title
    )
    nbformat.validate(notebook)
    return notebook


def _start_words() -> str:
    """Return what the start page says besides its source: a link to each lesson, where files are, how to stop."""
    lines = [f"- [{lesson[:2]} · {paper.title}](../{lesson}/{lesson}.ipynb)" for lesson, paper in SHEETS.items()]
    return "\n".join(["## The lessons", "", *lines, "", _WHERE])


def start_page() -> NotebookNode:
    """Return the page that opens the course; it asks nothing, so nbgrader has no part in it.

    Raises
    ------
    SourceError
        If its source is missing.
    """
    text = jupytext.reads(source_path(START).read_text(encoding="utf-8"), fmt="md:myst")
    seen: Counter[str] = Counter()
    cells = [_plain_cell(cell, seen) for cell in text.cells]
    place = next((place for place, cell in enumerate(cells) if cell.source.startswith("## Your progress")), len(cells))
    cells.insert(place, folded(new_markdown_cell(_start_words(), id="lessons-and-files")))
    notebook = new_notebook(cells=cells)
    link_words(notebook.cells)
    for cell in notebook.cells:
        cell.metadata.pop("nbgrader", None)
    notebook.metadata = NotebookNode(kernelspec=NotebookNode(KERNEL), language_info=NotebookNode(name="python"))
    return notebook


def worked_source(lesson: str, question: str) -> str:
    """Return the worked answer of ``question`` as it stands in the source of ``lesson``.

    Raises
    ------
    SourceError
        If the source does not have that question.
    """
    for cell in made_notebook(lesson, source_path(lesson).read_text(encoding="utf-8")).cells:
        if cell.id == f"{question}-answer":
            match = re.search(r"### BEGIN SOLUTION\n(.*)\n### END SOLUTION", cell.source, re.DOTALL)
            if match:
                return match.group(1)
    raise SourceError(f"solutions/{lesson}.md has no worked answer to {question}.")
