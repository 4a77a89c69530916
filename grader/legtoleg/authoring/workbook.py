"""The workbook: lessons as pages to print and write on, with still figures and, for an id, the numbers of its machine.

The built (unsolved) notebooks are run once, with figures for print; what their cells show goes into a page of our own.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import nbformat
from markupsafe import Markup
from nbformat.notebooknode import NotebookNode

from dryerbench.core import identity
from dryerbench.core.errors import LegToLegError
from dryerbench.course.questions import AnyQuestion
from dryerbench.drawing import interactive_figure
from dryerbench.registry import sheet
from legtoleg.authoring.building import built_path
from legtoleg.authoring.word_page import unlinked
from legtoleg.core.files import write_whole
from legtoleg.core.lesson_choice import lesson_called
from legtoleg.core.page_templates import template
from legtoleg.core.paths import lesson_names
from legtoleg.sandbox.jupyter_kernels import environment

ON_SCREEN = (
    "**How this page works.**",
    "**Hand in.**",
    "**Before you hand in**",
    "**Practice.**",
    "Type each answer",
    "Show the card again",
)
"""How paragraphs begin that say what to do on a screen; paper does without."""

if TYPE_CHECKING:
    from nbconvert.filters.markdown_mistune import MarkdownWithMath

PAPERS = {"a4": "A4", "letter": "letter"}
"""The sizes of paper, as CSS names them."""

_QUESTION = re.compile(r"(?m)^(?=\*\*\d+\.\*\*)")


class WorkbookError(LegToLegError, RuntimeError):
    """A lesson that could not be made into a workbook page."""


@dataclass(frozen=True)
class Shown:
    """One thing on the page: its kind, its HTML or text, a picture in base64 or as SVG, the words below."""

    kind: Literal["text", "said", "code", "figure", "practice"]
    text: str | Markup = ""
    picture: str = ""
    drawn: str = ""


@dataclass
class Part:
    """A stretch of the page: plain, or one question with its room to write."""

    question: AnyQuestion | None = None
    number: int = 0
    shown: list[Shown] = field(default_factory=list)
    options: int = 0


@cache
def _markdown() -> MarkdownWithMath:
    """Return the reader of Markdown: nbconvert's, with formulas as MathML."""
    from latex2mathml.converter import convert
    from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath

    class Renderer(IPythonRenderer):  # type: ignore[misc]
        def block_math(self, body: str) -> str:
            return f"<div class='formula'>{convert(body.strip(), display='block')}</div>"

        def inline_math(self, body: str) -> str:
            return str(convert(body.strip()))

    return MarkdownWithMath(renderer=Renderer(escape=False, exclude_anchor_links=True))


def _html(text: str) -> Markup:
    """Return Markdown of ours as HTML; a quoted caution gets its own class."""
    kept = [one for one in re.split(r"\n{2,}", unlinked(text).strip()) if not one.startswith(ON_SCREEN)]
    html = _markdown().render("\n\n".join(kept))
    html = re.sub(r"<blockquote>(?=\s*<p><strong>⚠)", "<blockquote class='caution'>", html)
    return Markup(html)  # noqa: S704 - our own lessons, not what anybody typed


def _of_output(output: NotebookNode, source: str) -> Iterator[Shown]:
    if output.output_type == "stream":
        yield Shown("said", output.text)
        return
    data = output.data
    plain = data.get("text/plain", "")
    if "image/png" in data:
        yield Shown("figure", plain, data["image/png"])
    elif "image/svg+xml" in data:
        yield Shown("figure", plain, drawn=data["image/svg+xml"])
    elif "text/html" in data:
        yield Shown("text", Markup(data["text/html"]))  # noqa: S704 - cards, options and tables of ours, escaped there
    elif source.startswith("practice("):
        yield Shown("practice", plain.removeprefix("Practice: "))
    else:
        yield Shown("said", plain)


def _of_code(cell: NotebookNode) -> Iterator[Shown]:
    """Yield what a code cell shows; its lines too, where they are acts to read."""
    if "bench.do(" in cell.source or "print(" in cell.source:
        yield Shown("code", cell.source)
    for output in cell.outputs:
        yield from _of_output(output, cell.source)


def parts(lesson: str, cells: Sequence[NotebookNode]) -> list[Part]:
    """Return the page of ``lesson`` from its run ``cells``, question by question."""
    paper = sheet(lesson)
    made = [Part()]
    for cell in cells:
        asked = next((one for one in paper.questions if cell.id in (f"{one.name}-answer", f"{one.name}-hand-in")), None)
        if asked is not None:
            if cell.id.endswith("-answer"):
                _close(made, asked)
        elif cell.source == "before_you_hand_in()":
            continue
        elif cell.cell_type == "code":
            made[-1].shown.extend(_of_code(cell))
            if str(cell.id).endswith("-options"):
                made[-1].options = sum(output.data["text/html"].count("<tr>") for output in cell.outputs)
        else:
            for text in _QUESTION.split(cell.source):
                if _QUESTION.match(text):
                    made.append(Part())
                made[-1].shown.append(Shown("text", _html(text)))
    return made


def _close(made: list[Part], question: AnyQuestion) -> None:
    """End the question's part with its room to write; what follows is plain again."""
    made[-1].question = question
    made[-1].number = sum(part.question is not None for part in made)
    made.append(Part())


def page(lesson: str, apprentice: str, cells: Sequence[NotebookNode], paper: str = "a4") -> str:
    """Return the workbook page of ``lesson`` as HTML that stands by itself."""
    return template("workbook.html").render(
        lesson=lesson,
        title=sheet(lesson).title,
        apprentice="" if apprentice == identity.PRACTICE else apprentice,
        parts=parts(lesson, cells),
        paper=PAPERS[paper],
    )


def run_lessons(lessons: Sequence[str], apprentice: str) -> dict[str, list[NotebookNode]]:
    """Return the cells of the built ``lessons``, run in one kernel after each other, with figures for print.

    Raises
    ------
    WorkbookError
        If a cell stops with an error.
    """
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError

    read = {lesson: nbformat.read(built_path(lesson), as_version=4) for lesson in lessons}
    cells = [cell for one in read.values() for cell in one.cells if cell.cell_type == "code"]
    whole = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell.source) for cell in cells])
    with environment({identity.VARIABLE: apprentice, interactive_figure.MODE: "print"}):
        try:
            NotebookClient(whole, timeout=600, kernel_name="python3").execute(stderr=subprocess.DEVNULL)
        except CellExecutionError as error:
            raise WorkbookError(f"A lesson does not run: {error.ename}: {error.evalue}") from None
    for cell, run in zip(cells, whole.cells, strict=True):
        cell.outputs = run.outputs
    return {lesson: list(one.cells) for lesson, one in read.items()}


def write_pages(
    out: Path,
    lesson: str | None = None,
    apprentice: str = "",
    paper: str = "a4",
    tell: Callable[[str, int, int], None] = lambda *_: None,
) -> list[Path]:
    """Write the page of each lesson (or of the one named) into the folder ``out`` and return the paths.

    Without an ``apprentice`` the numbers are those of the practice machine.

    Raises
    ------
    WorkbookError
        If there is no such lesson or paper, or a lesson does not run.
    KitError
        If ``apprentice`` cannot be an id.
    """
    lessons = lesson_names()
    chosen = lessons if lesson is None else [lesson_called(lesson, lessons, WorkbookError)]
    if paper not in PAPERS:
        raise WorkbookError(f"There is no paper {paper!r:.60}: say a4 or letter.")
    whose = identity.checked_id(apprentice or identity.PRACTICE)
    tell("running the lessons", 0, len(chosen))
    out.mkdir(parents=True, exist_ok=True)
    written = []
    for name, cells in run_lessons(chosen, whose).items():
        written.append(out / f"{name}.html")
        write_whole(written[-1], page(name, whose, cells, paper).encode("utf-8"))
    return written
