"""The rows of the board: one for each apprentice, as the page shows it."""

from __future__ import annotations

import math
from pathlib import Path

from dryerbench.core.identity import TRIES
from dryerbench.notebook.progress import SIGNED
from dryerbench.registry import SHEETS
from legtoleg.classroom.board_state import HERE, Board
from legtoleg.classroom.receipts import Receipts
from legtoleg.classroom.sealed_book import UnderWay
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.signed_off_note import kept
from legtoleg.core.try_ledger import TryLedger
from legtoleg.intake.roster import Person


def row(
    cohort: Cohort, board: Board, receipts: Receipts, person: Person, test: UnderWay | None = None
) -> dict[str, object]:
    """Return the row of one person, with the supervised ``test`` that they may work on now.

    Every time in it is in seconds since 1970, every length in minutes. Who works on a test is not stuck at a lesson.
    """
    place, now = board.place(person.id), board.clock()
    last = max(place.last, test.acted if test else 0.0)
    stuck = "" if test and test.acts else place.stuck(now)
    feedback = Path(cohort.folder, "feedback", person.id)
    signed, cards = kept(feedback / SIGNED, str), kept(feedback / TRIES, int)
    sheet = SHEETS.get(place.lesson)
    answered = place.answered.get(place.lesson, [])
    came = receipts.of(person.id)
    return {
        "id": person.id,
        "name": person.name,
        "group": person.group,
        "here": bool(last) and now - last <= HERE,
        "last": last,
        "lesson": place.lesson,
        "title": f"{place.lesson[:2]} · {sheet.title}" if sheet else "",
        "question": place.question,
        "answered": len(answered),
        "questions": len(sheet.questions) if sheet else 0,
        "bench": round(place.bench / 60),
        "hand": place.hand,
        "stuck": stuck,
        "test": _test(test, now),
        "handed": [_handed(receipts, cohort, person.id, lesson) for lesson in sorted({one.lesson for one in came})],
        "signed": sorted(set(signed) & set(SHEETS)),
        "cards": {lesson: number for lesson, number in sorted(cards.items()) if lesson not in signed},
    }


def _test(test: UnderWay | None, now: float) -> dict[str, object] | None:
    if test is None:
        return None
    return {"test": test.test, "kind": test.kind, "acts": test.acts, "left": max(0, math.ceil((test.until - now) / 60))}


def given_back(cohort: Cohort, who: str) -> dict[str, dict[str, object]]:
    """Return what lies in the feedback of ``who``, by lesson: since when a page, which card, the day of signing off."""
    place = Path(cohort.folder, "feedback", who)
    signed, cards = kept(place / SIGNED, str), kept(place / TRIES, int)
    made: dict[str, dict[str, object]] = {}
    for lesson in SHEETS:
        page = cohort.feedback(who, lesson)
        since = page.stat().st_mtime_ns if page.is_file() else 0
        told = {"feedback": since, "card": cards.get(lesson, 1), "signed": signed.get(lesson, "")}
        if since or lesson in cards or lesson in signed:
            made[lesson] = told
    return made


def _handed(receipts: Receipts, cohort: Cohort, who: str, lesson: str) -> dict[str, object]:
    last = receipts.of(who, lesson)[-1]
    return {
        "lesson": lesson,
        "number": last.number,
        "at": last.at,
        "sha256": last.sha256,
        "card": TryLedger(cohort.folder).current(who, lesson),
        "feedback": cohort.feedback(who, lesson).is_file(),
    }
