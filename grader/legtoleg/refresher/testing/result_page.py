"""Results: the page that a person reads about their test, and what happens next."""

from __future__ import annotations

from dryerbench.registry import SLIPS
from legtoleg.core.page_templates import template
from legtoleg.intake.roster import Person
from legtoleg.marking.outcomes import PASS_SHARE, Outcome
from legtoleg.refresher.record.history import ATTEMPTS, Issue
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.question_pool import PoolQuestion
from legtoleg.refresher.testing.test_marking import Marked


def _row(number: int, item: PoolQuestion, outcome: Outcome) -> dict[str, object]:
    full = outcome.points == outcome.max_points
    cures = dict.fromkeys(SLIPS[code].cure for code in outcome.note.split("+") if code in SLIPS)
    return {
        "number": number,
        "title": item.question.title,
        "asked": item.question.asked,
        "lesson": item.lesson,
        "answer": outcome.answer,
        "points": f"{outcome.points:g}",
        "max_points": f"{outcome.max_points:g}",
        "message": outcome.message.replace("the lesson is not signed off until it is right", "the test is not passed"),
        "cures": list(cures),
        "safety": outcome.safety,
        "state": "full" if full else "part" if outcome.points > 0 else "none",
    }


def result_page(shop: Shop, person: Person, issue: Issue, marked: Marked, attempt: int) -> str:
    """Return the page about the test ``issue`` as HTML by itself; ``attempt`` is the try that comes next."""
    rows = [_row(number, item, outcome) for number, (item, outcome) in enumerate(marked.outcomes, 1)]
    return template("refresher/result.html").render(
        shop=shop.settings.name,
        day=shop.today().isoformat(),
        name=person.name,
        who=person.id,
        issue=issue.name,
        rows=rows,
        points=f"{marked.points:g}",
        max_points=f"{marked.of:g}",
        passed=marked.passed,
        held=[row["title"] for row in rows if row["safety"] in ("held", "open")],
        retry=attempt <= ATTEMPTS,
        remarks=marked.remarks,
        pass_share=f"{PASS_SHARE:.0%}",
    )
