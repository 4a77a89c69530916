"""Answer cells: what an apprentice's answer cells hold, read from a marked notebook as text, never run."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from nbformat.notebooknode import NotebookNode

import dryerbench
from dryerbench.core.identity import PRACTICE
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Question
from dryerbench.notebook.answer_record import MIME as RECORD
from dryerbench.registry import sheet
from legtoleg.cohort.marks import outcomes_of, try_in_notebook
from legtoleg.marking.bench_trail_recovery import KEPT, boxed_in
from legtoleg.marking.outcomes import Outcome

_FREE = frozenset({"A", "Hz", "Mohm", "V", "W", "kW", "kohm", "mA", "ohm", "percent"})
"""Names of the course that an answer may use as the lessons show it: the units."""

_COURSE_WORD = re.compile(rf"\\b(import|card|bench|{'|'.join(sorted(set(dryerbench.__all__) - _FREE))})\\b")
"""A cell without any of these words holds no name of the course."""

_DAYS = 1e7
"""Seconds; no page is open for longer."""


@dataclass(frozen=True)
class AnswerCell:
    """One answer: its code without comments and spaces, the names of the course in it, and what came of it."""

    code: str
    names: tuple[str, ...] = ()
    full: bool = False
    number: float | None = None
    act_seconds: tuple[float, ...] = ()
    bench_minutes: float = 0.0


@dataclass(frozen=True)
class Paper:
    """One marked hand-in: whose, of which lesson, at which try, and its cells by question."""

    apprentice: str
    lesson: str
    cells: Mapping[str, AnswerCell]
    try_number: int = 1

    @property
    def card(self) -> JobCard:
        """The card that it was worked out on, dealt when it is asked for: of 3000 hand-ins few are looked at so far."""
        return sheet(self.lesson).card(self.apprentice, self.try_number)


@lru_cache(maxsize=20_000)
def normalized(source: str) -> str:
    """Return ``source`` as Python means it: without comments, spaces and the way quotes are written."""
    try:
        return ast.unparse(ast.parse(source))
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        return re.sub(r"\s+", "", re.sub(r"#.*", "", source))


@cache
def _usual_lines(lesson: str) -> frozenset[str]:
    """Return the names of the lines of a card of ``lesson``; those of another card are the same but for few."""
    return frozenset(line.name for line in sheet(lesson).card(PRACTICE).lines)


def _new_names(source: str, paper: Paper) -> tuple[str, ...]:
    """Return the names of the course in ``source`` beyond units and the lines of the card that ``paper`` is of.

    The card itself is asked only about names that no usual card shows: some cards run a machine for an hour of its
    time before they can say their lines.
    """
    if not _COURSE_WORD.search(source):
        return ()
    found = course_names(source, _usual_lines(paper.lesson))
    if any(name.startswith("card.") for name in found):
        found = course_names(source, [line.name for line in paper.card.lines])
    return found


def course_names(source: str, lines: Iterable[str]) -> tuple[str, ...]:
    """Return the names of the course that ``source`` uses beyond units and the job card's ``lines``."""
    try:
        tree = ast.parse(source)
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        return ()
    shown = set(lines)
    found: dict[str, None] = {}
    own = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom | ast.Import):
            module = getattr(node, "module", None) or ""
            found.update(dict.fromkeys(f"{module}.{one.name}".strip(".") for one in node.names))
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            text = f"{node.value.id}.{node.attr}"
            if (
                node.value.id == "card" and not any(line.startswith(text) for line in shown)
            ) or node.value.id == "bench":
                found[text] = None
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in dryerbench.__all__:
            found.setdefault(node.func.id) if node.func.id not in _FREE | own else None
    return tuple(found)


def _said(name: str, cell: NotebookNode) -> str:
    """Return what the box under a question says as the answer cell would say it; empty if it was not used."""
    kept = cell.get("metadata", {}).get(KEPT)
    record = boxed_in(kept, name) if isinstance(kept, list) else None
    if record is None:
        return ""
    rows = record.get("rows")
    table = (
        {key: row.get("typed") for key, row in rows.items() if isinstance(row, dict)}
        if isinstance(rows, dict)
        else None
    )
    return f"{name} = {table or record.get('letters') or record.get('typed')!r}"


def _times(cell: NotebookNode) -> tuple[float, ...]:
    kept = cell.get("metadata", {}).get(KEPT)
    outputs = kept if isinstance(kept, list) else []
    records = [output.get("data", {}).get(RECORD) for output in outputs if isinstance(output, dict)]
    for record in records:
        acts = record.get("acts") if isinstance(record, dict) else None
        found = [act.get("at") for act in acts if isinstance(act, dict)] if isinstance(acts, list) else []
        times = [float(one) for one in found if isinstance(one, int | float) and abs(one) < _DAYS]
        if times and len(times) == len(found):
            return tuple(times)
    return ()


def _number(outcome: Outcome, unit: str) -> float | None:
    number, _, typed = outcome.answer.partition(", from ")[0].partition(" ")
    try:
        return float(number) if typed == unit else None
    except ValueError:
        return None


def paper_of(notebook: NotebookNode, apprentice: str, lesson: str) -> Paper:
    """Return the cells of a marked ``notebook``."""
    paper = Paper(apprentice, lesson, {}, try_in_notebook(notebook))
    outcomes = {outcome.question: outcome for outcome in outcomes_of(notebook)}
    by_grade = {cell["metadata"].get("nbgrader", {}).get("grade_id"): cell for cell in notebook["cells"]}
    found = {}
    for question in sheet(lesson).questions:
        cell, outcome = by_grade.get(f"{question.name}_answer"), outcomes.get(question.name)
        if cell is None or outcome is None or outcome.note == "blank":
            continue
        source = _said(question.name, by_grade.get(question.name, {})) or str(cell["source"])
        found[question.name] = AnswerCell(
            normalized(source),
            _new_names(source, paper),
            outcome.full,
            _number(outcome, question.unit) if isinstance(question, Question) else None,
            _times(by_grade.get(question.name, {})),
            outcome.work.minutes if outcome.work else 0.0,
        )
    return replace(paper, cells=found)


def given_out(notebook: NotebookNode) -> dict[str, str]:
    """Return the answer cells of a released ``notebook`` by question, as ``normalized`` has them."""
    names = ((cell["metadata"].get("nbgrader", {}).get("grade_id", ""), cell) for cell in notebook["cells"])
    return {name.removesuffix("_answer"): normalized(str(cell["source"])) for name, cell in names
            if name.endswith("_answer")}  # fmt: skip
