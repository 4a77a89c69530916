"""The feedback page: what one apprentice reads about one lesson, made from the outcomes alone."""

from __future__ import annotations

from dryerbench.registry import SLIPS, sheet
from legtoleg.core.page_templates import template
from legtoleg.marking.outcomes import PASS_SHARE, Outcome, earned, signed_off


def _row(number: int, outcome: Outcome, lesson: str) -> dict[str, object]:
    question = sheet(lesson).question(outcome.question)
    cures = dict.fromkeys(SLIPS[code].cure for code in outcome.note.split("+") if code in SLIPS)
    return {
        "number": number,
        "title": question.title,
        "asked": question.asked,
        "answer": outcome.answer,
        **earned([outcome]),
        "message": outcome.message,
        "work": " ".join(outcome.work_words()),
        "cures": list(cures),
        "safety": outcome.safety,
        "state": "full" if outcome.full else "part" if outcome.points > 0 else "none",
    }


def page(lesson: str, apprentice: str, name: str, outcomes: list[Outcome], remarks: tuple[str, ...] = ()) -> str:
    """Return the page of ``apprentice`` for ``lesson`` as HTML that stands by itself."""
    rows = [_row(number, outcome, lesson) for number, outcome in enumerate(outcomes, 1)]
    held = [row["title"] for row in rows if row["safety"] == "held"]
    return template("feedback.html").render(
        title=sheet(lesson).title,
        lesson=lesson,
        apprentice=apprentice,
        name=name,
        rows=rows,
        **earned(outcomes),
        signed=signed_off(outcomes),
        held=held,
        remarks=remarks,
        pass_share=f"{PASS_SHARE:.0%}",
    )
