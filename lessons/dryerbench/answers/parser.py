"""Answers as a mechanic types them: "8.9 A", "240 V / 27 ohm", or number times unit; asked about, never guessed.

Nothing here evaluates what was typed, and pint never sees it: a number in one strict form, then a unit that
the whitelist of ``units`` spells out, or a sum of such in the grammar of ``working``. Whatever else was typed goes to
``clarification``.
"""

from __future__ import annotations

import math
import re

from dryerbench.answers import clarification
from dryerbench.answers.answer import Answer
from dryerbench.answers.dimensions import of_number
from dryerbench.answers.quantities import measured, real
from dryerbench.answers.thousands import two_readings
from dryerbench.answers.tolerance import last_place
from dryerbench.answers.units import commensurable, convert, spelled
from dryerbench.answers.working import Working, sum_in
from dryerbench.core.errors import SumError

__all__ = ["LONGEST", "Answer", "comes_to", "parse", "read"]

LONGEST = 200
"""The most characters that a typed answer may have."""

_BLANKS = re.compile("[ \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}\N{FIGURE SPACE}]+")
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f]")
_NUMBER = re.compile(
    "(?P<sign>[-+\N{MINUS SIGN}]?)(?P<digits>[0-9]+(?:\\.[0-9]*)?|\\.[0-9]+)(?P<power>[eE][-+]?[0-9]{1,3})?"
)
_NAME = re.compile(r"(?:[A-Za-z][A-Za-z_0-9]{0,11})? ?= ?(?=[-+(0-9.\N{MINUS SIGN}])")
_FRACTION = re.compile(r"[0-9]+/(?:2|3|4|8|16|32|64) ?[^0-9 ]+")
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
    typed = tidy[number.end() :].removeprefix(" ")
    unit = spelled(typed) or spelled(typed.removesuffix("."))
    magnitude = float(number[0].replace("\N{MINUS SIGN}", "-")) + 0.0  # no negative zero
    zero = not number["digits"].strip("0.")
    if unit is None or not (zero or clarification.SMALLEST <= abs(magnitude) <= clarification.LARGEST):
        return None
    if number["power"] is None and two_readings(number["digits"], unit.symbol):
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
    answer = parse(text) or _read_sum(text)
    if answer is None:
        raise clarification.about_text(text, parse)
    return answer


def _read_sum(text: str) -> Answer | None:
    """Return the answer that a sum comes to, or the one that is stated behind it; None for what is no sum."""
    tidy = _BLANKS.sub(" ", text).strip(" ")
    front = _NAME.match(tidy)
    rest = tidy[front.end() :] if front else tidy
    left, equals, right = (part.strip(" ") for part in rest.partition("="))
    try:
        working = sum_in(left)
        if working is None or (equals and not _is_result(right)) or _FRACTION.fullmatch(left):
            return None
        if front:
            raise clarification.about_name(text, rest)
        answer = _stated(text, working, right) if equals else _worked_out(text, working)
    except SumError as error:
        raise clarification.about_sum(text, str(error)) from None
    if abs(answer.magnitude) > clarification.LARGEST or 0 < abs(answer.magnitude) < clarification.SMALLEST:
        raise clarification.about_size(answer.magnitude, answer.unit)
    return answer


def _is_result(text: str) -> bool:
    return parse(text) is not None or _NUMBER.fullmatch(text) is not None


def _worked_out(text: str, working: Working) -> Answer:
    magnitude, unit = working.value()
    if working.is_range:
        raise clarification.about_range(text)
    return Answer(text, "quantity", magnitude + 0.0, unit, None, working.text)


def _stated(text: str, working: Working, right: str) -> Answer:
    """Return the answer stated behind a sum, which may be rounded, and so may the numbers in the sum."""
    stated = parse(right)
    if stated is None:
        raise SumError("its result has no unit.")
    if stated.kind == "over_limit":
        raise SumError("OL is what a meter shows, not the result of a sum.")
    if not comes_to(working, stated):
        raise clarification.about_difference(working.text, _result(working, stated.unit), stated.text)
    return Answer(text, "quantity", stated.magnitude, stated.unit, stated.figures, working.text)


def comes_to(working: Working, stated: Answer) -> bool:
    """Tell whether ``working`` comes to ``stated``, as far as the decimals of both say.

    Bare numbers may be the figures of the result in its unit: ``240 / 27 = 8.89 A``, ``26.7 / 30 * 100 = 89 %``.

    Raises
    ------
    SumError
        If its units do not come out.
    """
    made, wanted = working.dimensioned(), of_number(stated.magnitude, stated.unit)
    place, slack = _last_place(stated), working.slack()
    figures_alone = made.is_number and (made.bare or stated.unit == "%")
    if figures_alone and abs(made.size - stated.magnitude) <= place + slack:
        return True
    if not made.measures_as(wanted) or (made.bare and stated.unit != "%"):
        return False
    return abs(made.size - wanted.size) <= of_number(place, stated.unit).size + slack


def _result(working: Working, unit: str) -> str:
    """Return what ``working`` comes to, in ``unit`` if it measures that; a bare number as it is."""
    made = working.dimensioned()
    if made.bare or (made.is_number and working.has_hundred):
        return f"{made.size:.4g}"
    magnitude, own = working.value()
    if own != unit and commensurable(own, unit) and not made.degrees:
        magnitude, own = convert(magnitude, own, unit), unit
    return f"{magnitude:.4g} {own}"


def _last_place(stated: Answer) -> float:
    """Return the worth of the last figure typed; half of it where zeros at the end may be rounding (2100 W)."""
    figures = stated.figures or 1
    digits = f"{abs(stated.magnitude):.0f}"
    place = last_place(stated.magnitude, figures)
    if place < 1 or stated.magnitude == 0:
        return place or 0.0
    zeros = len(digits) - len(digits.rstrip("0"))
    return max(place, 10.0**zeros) / 2 if zeros else place
