"""Answers as a mechanic types them: text such as "8.9 A", or number times unit; asked about, never guessed.

Nothing here evaluates what was typed, and pint never sees it: a number in one strict form, then a unit that
the whitelist of ``units`` spells out. Whatever else was typed goes to ``clarification``.
"""

from __future__ import annotations

import math
import re

from dryerbench.answers import clarification
from dryerbench.answers.answer import Answer
from dryerbench.answers.quantities import measured, real
from dryerbench.answers.units import spelled

__all__ = ["LONGEST", "Answer", "read"]

LONGEST = 200
"""The most characters that a typed answer may have."""

_BLANKS = re.compile("[ \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}\N{FIGURE SPACE}]+")
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f]")
_NUMBER = re.compile(
    "(?P<sign>[-+\N{MINUS SIGN}]?)(?P<digits>[0-9]+(?:\\.[0-9]*)?|\\.[0-9]+)(?P<power>[eE][-+]?[0-9]{1,3})?"
)
_OVER_LIMIT = ("ol", "o.l.", "o.l", "over limit", "over-limit", "overlimit")


def _figures(digits: str) -> int:
    """Return the significant figures of plain digits: "0.30" has 2, "1200" has 4, "0" has 1."""
    return max(1, len(digits.replace(".", "").lstrip("0")))


def parse(text: str) -> Answer | None:
    """Return the answer that ``text`` spells in the strict form, or None."""
    tidy = _BLANKS.sub(" ", text).strip(" ")
    if tidy.isascii() and tidy.lower() in _OVER_LIMIT:
        return Answer(text, "over_limit", math.inf, "", None)
    number = _NUMBER.match(tidy)
    if number is None:
        return None
    unit = spelled(tidy[number.end() :].removeprefix(" "))
    magnitude = float(number[0].replace("\N{MINUS SIGN}", "-")) + 0.0  # no negative zero
    zero = not number["digits"].strip("0.")
    if unit is None or not (zero or clarification.SMALLEST <= abs(magnitude) <= clarification.LARGEST):
        return None
    return Answer(text, "quantity", magnitude, unit.symbol, _figures(number["digits"]))


def read(value: object) -> Answer:
    """Return the answer in ``value``: text as typed, or a pint quantity (a number times a unit).

    Only exact built-in types, numpy's real scalars and quantities of pint's application registry are looked
    at; no method of any other object is called.

    Raises
    ------
    UnreadableAnswerError
        If it cannot be read with certainty; its text asks, in one line, what was meant.
    """
    if type(value) is str:
        return _read_text(value)
    quantity = measured(value)
    if quantity is None:
        raise clarification.about_object(value, real(value))
    magnitude, unit = quantity
    if magnitude is None:
        raise clarification.not_one_number()
    if unit is None:
        raise clarification.about_product(magnitude)
    if not math.isfinite(magnitude) or not (
        magnitude == 0 or clarification.SMALLEST <= abs(magnitude) <= clarification.LARGEST
    ):
        raise clarification.about_size(magnitude, unit.symbol)
    return Answer(f"{magnitude!r} {unit.symbol}", "quantity", magnitude, unit.symbol, None)


def _read_text(text: str) -> Answer:
    if len(text) > LONGEST:
        raise clarification.too_long(text, LONGEST)
    if _CONTROL.search(text):
        raise clarification.hidden_character(text)
    answer = parse(text)
    if answer is None:
        raise clarification.about_text(text, parse)
    return answer
