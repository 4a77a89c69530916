"""The path through the course: each lesson with what was practiced, answered and signed off."""

from __future__ import annotations

import os
from html import escape
from pathlib import Path

from IPython.display import display

from dryerbench.core.identity import find_kit, find_try
from dryerbench.notebook.progress import Progress, load, root
from dryerbench.registry import SHEETS, members


def _drills_of() -> dict[str, list[str]]:
    """Return the names of the drills of each lesson, by the name of its folder."""
    drills = members("drills")
    return {
        module.LESSON: list(drills[topic].DRILLS) if topic in drills else []
        for topic, module in members("sheet").items()
    }


def rows(progress: Progress) -> list[tuple[str, str, str, str]]:
    """Return for each lesson its name with title, and in words what was practiced, answered and signed off."""
    drills = _drills_of()
    made = []
    for lesson, paper in SHEETS.items():
        done = sum(name in progress.practiced for name in drills[lesson])
        known = {question.name for question in paper.questions}
        answered = len(known & set(progress.answered.get(lesson, [])))
        practiced = f"{done} of {len(drills[lesson])}" if drills[lesson] else "–"
        signed = f"✓ {progress.signed[lesson]}" if lesson in progress.signed else "–"
        made.append((f"{lesson[:2]} · {paper.title}", practiced, f"{answered} of {len(known)}", signed))
    return made


def came_back(lesson: str) -> tuple[str, str]:
    """Return what the instructor gave back of ``lesson``, in words, and the way to the feedback page from here.

    In a class it comes to the folder ``feedback`` by itself; with a kit it is there if somebody put it there.
    """
    place = root()
    page = place / "feedback" / lesson / f"{lesson}.html" if place is not None else None
    there = page is not None and page.is_file()
    card = find_try(lesson)
    words = [*(["feedback"] if there else []), *([f"card {card} is dealt"] if card > 1 else [])]
    return "; ".join(words), os.path.relpath(page, Path.cwd()).replace(os.sep, "/") if page and there else ""


def _linked(words: str, way: str) -> str:
    return f"<a href='{escape(way)}' target='_blank'>{escape(words)}</a>" if way else escape(words)


def show_path() -> None:
    """Show the lessons in order and how far each one is, from the files of this computer."""
    kit = find_kit()
    head = "No kit was found: this is the practice machine." if kit.practice else f"The path of {kit.apprentice}"
    back = {lesson: came_back(lesson) for lesson in SHEETS}
    columns = (
        "Lesson",
        "Practiced",
        "Answered",
        "Signed off",
        *(["Came back"] if any(w for w, _ in back.values()) else []),
    )
    table = rows(load())
    shown = [[escape(cell) for cell in row] for row in table]
    if len(columns) > len(table[0]):
        shown = [[*row, _linked(*one)] for row, one in zip(shown, back.values(), strict=True)]
    cells = "".join(
        "<tr>" + "".join(f"<td style='text-align:left'>{cell}</td>" for cell in row) + "</tr>" for row in shown
    )
    heads = "".join(f"<th style='text-align:left'>{name}</th>" for name in columns)
    html = f"<b>{escape(head)}</b><table><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table>"
    width = max(len(row[0]) for row in table)
    lines = [
        f"{row[0]:<{width}}  practiced {row[1]}, answered {row[2]}, signed off {row[3]}{words and f', {words}'}"
        for row, (words, _) in zip(table, back.values(), strict=True)
    ]
    display({"text/plain": "\n".join([head, *lines]), "text/html": html}, raw=True)
