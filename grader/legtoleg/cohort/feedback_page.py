"""The feedback page: what one apprentice reads about one lesson, made from the outcomes alone."""

from __future__ import annotations

from dryerbench.core.identity import TRIES
from dryerbench.recall.cards import benches
from dryerbench.registry import SLIPS, sheet
from legtoleg.core.page_templates import template
from legtoleg.marking.outcomes import PASS_SHARE, Outcome, earned, signed_off


def _row(number: int, outcome: Outcome, lesson: str, *, signed: bool) -> dict[str, object]:
    question = sheet(lesson).question(outcome.question)
    cures = dict.fromkeys(SLIPS[code].cure for code in outcome.note.split("+") if code in SLIPS)
    return {
        "number": number,
        "title": question.title,
        "asked": question.asked,
        "answer": outcome.answer,
        **earned([outcome]),
        "message": outcome.said(signed=signed),
        "work": " ".join(outcome.work_words(signed=signed)),
        "cures": list(cures),
        "bench": "" if outcome.full else benches().get(outcome.question, ""),
        "safety": outcome.safety,
        "state": "full" if outcome.full else "part" if outcome.points > 0 else "none",
    }


def page(
    lesson: str,
    apprentice: str,
    name: str,
    outcomes: list[Outcome],
    remarks: tuple[str, ...] = (),
    *,
    card: int = 1,
    new_card: int = 0,
    isolated: bool = True,
) -> str:
    """Return the page of ``apprentice`` for ``lesson`` as HTML that stands by itself.

    ``card`` is the number of the card that was worked on, ``new_card`` that of the one dealt since; 0 for none.
    ``isolated``: the notebook was shut in while it ran; if not, the page says so.
    """
    signed = signed_off(outcomes)
    rows = [_row(number, outcome, lesson, signed=signed) for number, outcome in enumerate(outcomes, 1)]
    held = [row["title"] for row in rows if row["safety"] == "held"]
    return template("feedback.html").render(
        title=sheet(lesson).title,
        lesson=lesson,
        apprentice=apprentice,
        name=name,
        rows=rows,
        **earned(outcomes),
        signed=signed,
        card=card,
        new_card=new_card,
        tries_file=TRIES,
        held=held,
        remarks=remarks,
        isolated=isolated,
        pass_share=f"{PASS_SHARE:.0%}",
    )
