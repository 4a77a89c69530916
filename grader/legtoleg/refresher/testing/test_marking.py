"""Markings: a test that came back, run in the jail and judged by the reference answers of the lessons."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from nbformat.notebooknode import NotebookNode

from dryerbench.registry import sheet
from legtoleg.intake.notebook_repair import RepairedNotebook
from legtoleg.marking.answer_parsing import Found, found_in_cell
from legtoleg.marking.bench_trail_recovery import KEPT, boxed_in, handed_in_by, with_kept_work
from legtoleg.marking.marking import mark_lesson
from legtoleg.marking.outcomes import ODD, Outcome, signed_off
from legtoleg.refresher.testing.question_pool import PoolQuestion
from legtoleg.refresher.testing.test_notebook import LESSON
from legtoleg.sandbox.engine import Engine, Job


@dataclass(frozen=True)
class Marked:
    """What a test came to: the outcome of each of its questions in order, and remarks for a person."""

    outcomes: list[tuple[PoolQuestion, Outcome]]
    remarks: list[str] = field(default_factory=list)

    @property
    def passed(self) -> bool:
        """Tell whether all safety questions are answered safely and enough points are earned."""
        return signed_off([outcome for _, outcome in self.outcomes])

    @property
    def points(self) -> float:
        """The points earned."""
        return sum(outcome.points for _, outcome in self.outcomes)

    @property
    def of(self) -> float:
        """The points that could be earned."""
        return sum(outcome.max_points for _, outcome in self.outcomes)

    @property
    def missed(self) -> list[tuple[PoolQuestion, Outcome]]:
        """The questions that did not earn full points."""
        return [(item, o) for item, o in self.outcomes if o.points < o.max_points or o.safety in ("held", "open")]

    @property
    def held(self) -> list[str]:
        """The topics of safety questions that were answered wrong."""
        return list(dict.fromkeys(item.topic for item, outcome in self.outcomes if outcome.safety == "held"))


def kept_work(came: NotebookNode, items: Sequence[PoolQuestion]) -> dict[str, list[NotebookNode]]:
    """Return what the page holds of work by click or in a box, by question; running it again shows none of that."""
    asked, on_bench = {item.name for item in items}, {item.name for item in items if item.on_bench}
    shown = {handed_in_by(cell): cell.outputs for cell in came.cells if cell.get("outputs")}
    return {
        name: outputs
        for name, outputs in shown.items()
        if name in on_bench or (name in asked and boxed_in(outputs, name))
    }


def restored(given: NotebookNode, back: NotebookNode) -> NotebookNode:
    """Return the notebook ``given`` out with the answers, and the cells added, of the one that came ``back``.

    Every locked cell is as it was given out, each once, whatever was done to it; what is missing is put back.
    """
    mine = {cell.id: cell for cell in given.cells}
    open_cells = {cell.id for cell in given.cells if cell.metadata.get("nbgrader", {}).get("solution")}
    cells: list[NotebookNode] = []
    for cell in back.cells:
        own = mine.pop(cell.id, None)
        made = copy.deepcopy(own) if own is not None else NotebookNode(cell, metadata=NotebookNode())
        if own is None or own.id in open_cells:
            made.source = cell.source
        cells.append(made)
    for place, cell in enumerate(given.cells):
        if cell.id in mine:
            cells.insert(_after(cells, given.cells[:place]), copy.deepcopy(cell))
    return NotebookNode(given, cells=cells)


def _after(cells: list[NotebookNode], earlier: Sequence[NotebookNode]) -> int:
    """Return the place behind the last of the ``earlier`` cells."""
    before = {cell.id for cell in earlier}
    return max((place + 1 for place, cell in enumerate(cells) if cell.id in before), default=0)


def _found(items: Sequence[PoolQuestion], ran: Mapping[str, NotebookNode], *, early: bool) -> dict[str, Found]:
    found = {}
    for item in items:
        cell = ran[item.name]
        answer = with_kept_work(found_in_cell(cell.get("outputs", []), item.name), cell, item.name)
        found[item.name] = Found("kernel_died") if early and answer.state == "no_record" else answer
    return found


def _judged(
    issue: str, items: Sequence[PoolQuestion], found: Mapping[str, Found]
) -> list[tuple[PoolQuestion, Outcome]]:
    outcomes: dict[str, Outcome] = {}
    for lesson in dict.fromkeys(item.lesson for item in items):
        names = {question.name for question in sheet(lesson).questions} & set(found)
        outcomes |= mark_lesson(lesson, issue, {name: found[name] for name in names})
    return [(item, outcomes[item.name]) for item in items]


def mark(
    issue: str,
    items: Sequence[PoolQuestion],
    given: NotebookNode,
    rescued: RepairedNotebook,
    engine: Engine,
    sealed: Mapping[str, Outcome] | None = None,
) -> Marked:
    """Return what the test ``issue`` came to: ``rescued`` from what came, ``given`` as it went out.

    ``sealed`` are outcomes by question for work on a bench of a class: they stand in place of the page's own.

    Raises
    ------
    EngineError
        If notebooks cannot be run here.
    """
    page = restored(given, rescued.notebook)
    code = [cell for cell in page.cells if cell.cell_type == "code"]
    run = engine.run(Job(issue, LESSON, tuple(cell.source for cell in code)))
    remarks = [f"the file {remark}" for remark in rescued.remarks]
    if run.ended:
        remarks.append(f"the test did not run to its end: {run.ended}")
    kept = kept_work(rescued.notebook, items)
    ran: dict[str, NotebookNode] = {}
    for number, cell in enumerate(code):
        name = handed_in_by(cell)
        if name:
            cell.outputs = run.outputs.get(number, [])
            cell.metadata.pop(KEPT, None)
            if name in kept:
                cell.metadata[KEPT] = kept[name]
            ran[name] = cell
    judged = _judged(issue, items, _found(items, ran, early=bool(run.ended)))
    outcomes = [(item, (sealed or {}).get(item.name, outcome)) for item, outcome in judged]
    remarks += [f"the answer to “{item.question.title}” {ODD[one.note]}" for item, one in outcomes if one.note in ODD]
    return Marked(outcomes, remarks)
