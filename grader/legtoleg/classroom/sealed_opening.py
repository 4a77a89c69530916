"""Opening and closing a supervised test, from a command or from the board."""

from __future__ import annotations

from collections.abc import Sequence

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.sealed_book import SealedBook, SupervisedError, SupervisedTest
from legtoleg.classroom.sealed_dealing import CALLS

TEST_MINUTES = 120
"""For how many minutes a test is open where nobody says otherwise."""
LONGEST_TEST = 1440
"""The most minutes that a test can be open: a day."""


def asked_minutes(said: object) -> int:
    """Return for how many minutes a test is to be open, as the board asked.

    Raises
    ------
    SupervisedError
        If that is no whole number, or too few or too many.
    """
    if type(said) is not int or not 1 <= said <= LONGEST_TEST:
        raise SupervisedError(f"A test is open for 1 to {LONGEST_TEST} minutes.")
    return said


def open_calls(folder: ClassFolder, whos: Sequence[str], minutes: float) -> SupervisedTest:
    """Open a test of calls for ``whos``, to be taken in ``minutes``.

    Raises
    ------
    SupervisedError
        If somebody is not on the roster or has a test open, or there is nobody.
    """
    takers: dict[str, dict[str, object]] = {folder.cohort.id_called(who): {} for who in whos}
    return SealedBook.of(folder).open(CALLS, takers, minutes)


def close_all(folder: ClassFolder) -> list[SupervisedTest]:
    """Close every test that is open for somebody, and return those."""
    book = SealedBook.of(folder)
    there = [one for one in book.tests() if any(book.is_open(one, who) for who in book.takers(one.test))]
    for one in there:
        book.end(one.test)
    return there
