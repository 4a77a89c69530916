"""Dealing again: a new card for one apprentice in one lesson, after a hold or because the instructor wants it."""

from __future__ import annotations

from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.marks import try_of
from legtoleg.cohort.signed_off_note import note_try
from legtoleg.core.try_ledger import ASKED, TryLedger


def deal_again(cohort: Cohort, apprentice: str, said: str, why: str = ASKED) -> tuple[str, int]:
    """Deal ``apprentice`` another card of the lesson ``said`` (its name or number); return the lesson and the card.

    What was marked so far is kept beside the ledger, with its page.

    Raises
    ------
    CohortError
        If nobody of that id is on the roster, or the cohort has no such lesson.
    """
    apprentice = cohort.id_called(apprentice)
    lesson = cohort.lesson_called(said)
    keep_marked(cohort, apprentice, lesson)
    number = TryLedger(cohort.folder).deal(apprentice, lesson, why)
    note_try(cohort.feedback(apprentice, lesson).parents[1], lesson, number)
    return lesson, number


def keep_marked(cohort: Cohort, apprentice: str, lesson: str) -> None:
    """Keep what is marked now as its try, notebook and page."""
    notebook = cohort.autograded(apprentice, lesson)
    if notebook.is_file():
        page = cohort.feedback(apprentice, lesson)
        TryLedger(cohort.folder).keep(apprentice, lesson, try_of(notebook), notebook, page)
