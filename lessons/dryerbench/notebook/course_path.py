"""The path through the course: each lesson with what was practiced, answered and signed off."""

from __future__ import annotations

import os
from collections.abc import Collection
from html import escape
from pathlib import Path

from IPython.display import display

from dryerbench.core.identity import READY, find_kit, find_try
from dryerbench.notebook.class_link import class_link
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


def handed_in() -> set[str]:
    """Return the lessons of which a file to hand in was made here, or which the class has."""
    place, link = root(), class_link()
    made = place.joinpath(READY).glob("*.ipynb") if place is not None else ()
    receipts = link.state().get("receipts") if link else None
    found = {lesson for path in made for lesson in SHEETS if path.name.startswith(lesson)}
    return found | (set(receipts) & set(SHEETS) if isinstance(receipts, dict) else set())


def today(progress: Progress, handed: Collection[str]) -> str:
    """Return what is next, in a sentence: a card dealt anew, a lesson to go on with, one to hand in."""
    for lesson, paper in SHEETS.items():
        card, name = find_try(lesson), f"{lesson[:2]} · {paper.title}"
        if lesson in progress.signed:
            continue
        known = {question.name for question in paper.questions}
        answered = len(known & set(progress.answered.get(lesson, [])))
        if card > 1:
            return f"Lesson {name} once more: card {card} is dealt. Its feedback says what to look at."
        if not answered:
            return f"Lesson {name}: you have not answered any of its {len(known)} questions yet."
        if answered < len(known):
            return f"Go on with lesson {name}: {answered} of {len(known)} questions are answered."
        if lesson not in handed:
            return f"Hand in lesson {name}: all is answered. The button is at the end of its page."
    return "Every lesson is handed in or signed off. Practice what you are about to forget."


def way_to(lesson: str) -> str:
    """Return the way to the page of ``lesson`` from here; empty if it is not there."""
    place = root()
    pages = [place / inside / lesson / f"{lesson}.ipynb" for inside in (".", "lessons")] if place is not None else []
    there = next((page for page in pages if page.is_file()), None)
    return os.path.relpath(there, Path.cwd()).replace(os.sep, "/") if there else ""


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


def _linked(words: str, way: str, more: str = " target='_blank'") -> str:
    return f"<a href='{escape(way)}'{more}>{escape(words)}</a>" if way else escape(words)


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
    progress = load()
    table, next_one = rows(progress), f"Today: {today(progress, handed_in())}"
    shown = [
        [_linked(row[0], way_to(lesson), ""), *map(escape, row[1:])] for lesson, row in zip(SHEETS, table, strict=True)
    ]
    if len(columns) > len(table[0]):
        shown = [[*row, _linked(*one)] for row, one in zip(shown, back.values(), strict=True)]
    cells = "".join(
        "<tr>" + "".join(f"<td style='text-align:left'>{cell}</td>" for cell in row) + "</tr>" for row in shown
    )
    heads = "".join(f"<th style='text-align:left'>{name}</th>" for name in columns)
    said = f"<b>{escape(head)}</b><p>{escape(next_one)}</p>"
    html = f"{said}<table><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table>"
    width = max(len(row[0]) for row in table)
    lines = [
        f"{row[0]:<{width}}  practiced {row[1]}, answered {row[2]}, signed off {row[3]}{words and f', {words}'}"
        for row, (words, _) in zip(table, back.values(), strict=True)
    ]
    display({"text/plain": "\n".join([head, next_one, *lines]), "text/html": html}, raw=True)
