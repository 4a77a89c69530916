"""Notebooks: a test as a page in the form of the lessons: job cards, questions, hand-in cells, locked where need be."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from html import escape
from itertools import groupby

import nbformat
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

from dryerbench.core.version import FIELD, course_version
from dryerbench.course.questions import Lettered
from dryerbench.registry import sheet
from legtoleg.authoring.lesson_source import STUB, folded
from legtoleg.core.notebook_format import KERNEL, MARK_KEY
from legtoleg.marking.outcomes import PASS_SHARE
from legtoleg.refresher.testing.question_pool import PoolQuestion, needs_card, words

LESSON = "refresher"
"""What a test's notebook says it is, where a lesson says its name."""

_ABOUT = """# Refresher: {name}

Given out on {on}. {count} questions, about {minutes} minutes. **Every question labeled “safety” has to be right, and
{share} of all points**, or it is not passed.

**How this page works.** In the menu at the top choose **Run**, then **Run All Cells**. Type or pick each answer in the
box under its question. You don't need to know Python. The numbers and the order of the options are
yours alone. The page says if an answer can be read. You find out if it's right when it's graded."""

_CAUTION = """> **⚠ Caution. House voltage kills.**
> Everything on this page is a drawing. On a real dryer: plug out and in sight, or breaker open, locked and tagged.
> Check the meter, test dead, check the meter again. Only then the cover. Live readings are a qualified person's work.
> Rated gloves, one hand, meter and test leads of the right category, never alone. Local codes, the manufacturer's
> instructions and a licensed electrician come first. Passing this is a training record, not a license."""

_LAST = """**Hand in.** Press the button above: it saves this page, makes the file to hand in, and says where it is.
Give that file to your instructor. Where there is no button, save this page (Ctrl + S) and give its file, `{file}`."""

_LAST_SEALED = """**Hand in.** Save this page (Ctrl + S), then run the last cell. There is one try: after that the
test is over for you. What you did on the bench is written by the class as you do it."""


def file_name(who: str) -> str:
    """Return the file name of a test for ``who``."""
    return f"refresher-{who}.ipynb"


def plain(text: str) -> str:
    """Return ``text`` so that neither Markdown nor HTML in it does anything."""
    return re.sub(r"([\\`*_{}\[\]()#+.!|~$-])", r"\\\1", escape(" ".join(text.split()), quote=False))


def _locked(cell: NotebookNode, name: str, **flags: int) -> NotebookNode:
    kind = {"grade": False, "solution": False, "locked": True, "task": False, **flags}
    cell.metadata["nbgrader"] = {"grade_id": name, "schema_version": 3, **kind}
    if kind["locked"]:
        cell.metadata.update(deletable=False, editable=False)
    return cell


def _bench(item: PoolQuestion, job: str, sealed: str) -> list[NotebookNode]:
    code = f'bench = supervised_bench("{sealed}", "{item.name}")' if sealed else f"bench = open_bench({job})"
    opened = new_code_cell(f"{code}\nshow_bench(bench)", id=f"{item.name}-bench")
    after = words(item)[1]
    said = [new_markdown_cell(after, id=f"{item.name}-bench-words")] if after else []
    return [_locked(opened, f"{item.name}_bench"), *said]


def _how(item: PoolQuestion) -> str:
    question = item.question
    points = f"{question.points} point{'s' if question.points > 1 else ''}"
    return f"*Answer {question.asked} · {points}*" + (
        " · **safety: this one has to be right**" if question.safety else ""
    )


def _item(item: PoolQuestion, number: int, job: str, sealed: str) -> list[NotebookNode]:
    name, question = item.name, item.question
    cells = [new_markdown_cell(f"**{number}.** {words(item)[0]}", id=f"{name}-words")]
    cells += _bench(item, job, sealed) if item.on_bench else []
    cells.append(new_markdown_cell(_how(item), id=f"{name}-asked"))
    if isinstance(question, Lettered):
        cells.append(_locked(new_code_cell(f'options("{name}")', id=f"{name}-options"), f"{name}_options"))
    answer = new_code_cell(f"{name} = {question.empty}\n{question.hint}\n{STUB}", id=f"{name}-answer")
    hand_in = new_code_cell(f'hand_in("{name}", {name})', id=f"{name}-hand-in")
    cells.append(_locked(answer, f"{name}_answer", solution=True, locked=False))
    cells.append(_locked(hand_in, name, grade=True, points=question.points))
    return cells


def _card_words(lesson: str, issue: str) -> str:
    """Return what is said above a job card; some cards name the questions of their lesson."""
    named = any("question" in line.label.lower() for line in sheet(lesson).card(issue).lines)
    other = " Where a line names a question, it is one of the lesson, not of this page." if named else ""
    return f"\n\nThis is the card of the job.{other}"


def _jobs(issue: str, items: Sequence[PoolQuestion], sealed: str) -> list[NotebookNode]:
    cells = []
    numbers = {item.name: number for number, item in enumerate(items, 1)}
    for place, (lesson, group) in enumerate(groupby(items, key=lambda item: item.lesson), 1):
        asked = list(group)
        heading = f"## Job {place} · {sheet(lesson).title}"
        shown = any(needs_card(item) for item in asked)
        said = heading + (_card_words(lesson, issue) if shown else "")
        cells.append(new_markdown_cell(said, id=f"job-{place}-heading"))
        if shown:
            cells.append(_locked(new_code_cell(f"job_{place}", id=f"job-{place}"), f"job_{place}"))
        for item in asked:
            cells += _item(item, numbers[item.name], f"job_{place}", sealed)
    return cells


def _opening(items: Sequence[PoolQuestion]) -> NotebookNode:
    lessons = list(dict.fromkeys(item.lesson for item in items))
    lines = "".join(f'    "{lesson}",\n' for lesson in lessons)
    names = ", ".join(f"job_{place}" for place in range(1, len(lessons) + 1)) + ("," if len(lessons) == 1 else "")
    code = f"from dryerbench import *\n\n{names} = job_cards(\n{lines})"
    return _locked(new_code_cell(code, id="opening"), "opening")


def _handing_in(who: str, sealed: str) -> list[NotebookNode]:
    if not sealed:
        return [new_markdown_cell(_LAST.format(file=file_name(who)), id="handing-in")]
    button = new_code_cell(f'supervised_hand_in("{sealed}", "{file_name(who)}")', id="handing-in-cell")
    return [new_markdown_cell(_LAST_SEALED, id="handing-in"), _locked(button, "handing_in")]


def notebook(
    issue: str, who: str, name: str, on: date, items: Sequence[PoolQuestion], sealed: str = ""
) -> NotebookNode:
    """Return the test ``issue`` for ``who``, called ``name``, with ``items``, as a notebook.

    Where it is taken as the supervised test ``sealed`` of a class, its benches are that class's, and a last cell hands
    the page in.
    """
    minutes = round(sum(item.minutes for item in items))
    about = _ABOUT.format(name=plain(name), on=on, count=len(items), minutes=minutes, share=f"{PASS_SHARE:.0%}")
    asked = "".join(f'    "{item.name}",\n' for item in items)
    last_look = new_code_cell(f"before_you_hand_in(\n{asked})", id="last-look")
    said = "**Before you hand in**, read this list. It says what is there and what cannot be read."
    cells = [
        new_markdown_cell(about, id="about"),
        new_markdown_cell(_CAUTION, id="caution"),
        _opening(items),
        *_jobs(issue, items, sealed),
        new_markdown_cell(said, id="last"),
        _locked(last_look, "last_look"),
        *_handing_in(who, sealed),
    ]
    made = new_notebook(cells=[folded(cell) for cell in cells])
    made.metadata = NotebookNode(kernelspec=NotebookNode(KERNEL), language_info=NotebookNode(name="python"))
    made.metadata[MARK_KEY] = {"apprentice": issue, "lesson": LESSON, FIELD: course_version()}
    nbformat.validate(made)
    return made
