"""The path through the course: each lesson with what was practised, answered and signed off."""

from __future__ import annotations

from html import escape

from IPython.display import display

from dryerbench.core.identity import find_kit
from dryerbench.notebook.progress import Progress, load
from dryerbench.registry import SHEETS, members


def _drills_of() -> dict[str, list[str]]:
    """Return the names of the drills of each lesson, by the name of its folder."""
    drills = members("drills")
    return {
        module.LESSON: list(drills[topic].DRILLS) if topic in drills else []
        for topic, module in members("sheet").items()
    }


def rows(progress: Progress) -> list[tuple[str, str, str, str]]:
    """Return for each lesson its name with title, and in words what was practised, answered and signed off."""
    drills = _drills_of()
    made = []
    for lesson, paper in SHEETS.items():
        done = sum(name in progress.practised for name in drills[lesson])
        known = {question.name for question in paper.questions}
        answered = len(known & set(progress.answered.get(lesson, [])))
        practised = f"{done} of {len(drills[lesson])}" if drills[lesson] else "–"
        signed = f"✓ {progress.signed[lesson]}" if lesson in progress.signed else "–"
        made.append((f"{lesson[:2]} · {paper.title}", practised, f"{answered} of {len(known)}", signed))
    return made


def show_path() -> None:
    """Show the lessons in order and how far each one is, from the files of this computer."""
    kit = find_kit()
    head = "No kit was found: this is the practice machine." if kit.practice else f"The path of {kit.apprentice}"
    columns = ("Lesson", "Practised", "Answered", "Signed off")
    table = rows(load())
    cells = "".join(
        "<tr>" + "".join(f"<td style='text-align:left'>{escape(cell)}</td>" for cell in row) + "</tr>" for row in table
    )
    heads = "".join(f"<th style='text-align:left'>{name}</th>" for name in columns)
    html = f"<b>{escape(head)}</b><table><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table>"
    width = max(len(row[0]) for row in table)
    lines = [f"{row[0]:<{width}}  practised {row[1]}, answered {row[2]}, signed off {row[3]}" for row in table]
    display({"text/plain": "\n".join([head, *lines]), "text/html": html}, raw=True)
