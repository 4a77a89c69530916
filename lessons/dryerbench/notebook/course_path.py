"""The path through the course: each lesson with what was practiced, answered and signed off."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from html import escape

from IPython.display import display

from dryerbench.core.identity import READY, find_kit, find_try
from dryerbench.notebook.class_link import class_link, in_front
from dryerbench.notebook.lesson_ways import came_back, linked, way_to
from dryerbench.notebook.progress import Progress, load, missed_benches, root
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


def at_the_bench(progress: Progress, missed: Mapping[str, Collection[str]]) -> list[str]:
    """Return where to practice what was ``missed`` at a bench, a sentence for each heading; nothing once signed off."""
    return [
        f"Practice on the bench: lesson {lesson[:2]}, “{heading}”."
        for lesson in SHEETS
        if lesson not in progress.signed
        for heading in missed.get(lesson, ())
    ]


def path_bundle() -> dict[str, str]:
    """Return the lessons in order and how far each one is, as one output of a cell."""
    kit = find_kit()
    head = "No kit was found: this is the practice dryer." if kit.practice else f"The path of {kit.apprentice}"
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
        [linked(row[0], way_to(lesson), ""), *map(escape, row[1:])] for lesson, row in zip(SHEETS, table, strict=True)
    ]
    if len(columns) > len(table[0]):
        shown = [[*row, linked(*one)] for row, one in zip(shown, back.values(), strict=True)]
    cells = "".join(
        "<tr>" + "".join(f"<td style='text-align:left'>{cell}</td>" for cell in row) + "</tr>" for row in shown
    )
    heads = "".join(f"<th style='text-align:left'>{name}</th>" for name in columns)
    practice = at_the_bench(progress, missed_benches())
    said = f"<b>{escape(head)}</b>" + "".join(f"<p>{escape(one)}</p>" for one in (next_one, *practice))
    html = f"{said}<table><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table>"
    width = max(len(row[0]) for row in table)
    lines = [
        f"{row[0]:<{width}}  practiced {row[1]}, answered {row[2]}, signed off {row[3]}{words and f', {words}'}"
        for row, (words, _) in zip(table, back.values(), strict=True)
    ]
    return {"text/plain": "\n".join([head, next_one, *practice, *lines]), "text/html": html}


def show_path() -> None:
    """Show the lessons in order and how far each one is, from the files of this computer.

    In a class the path is drawn anew when the instructor gave something back, and a line says what.
    """
    if class_link() is None or not in_front():
        display(path_bundle(), raw=True)
        return
    from dryerbench.notebook.class_bar import show_class_bar

    shown = display(path_bundle(), raw=True, display_id=True)
    show_class_bar(None, lambda: shown.update(path_bundle(), raw=True) if shown is not None else None)
