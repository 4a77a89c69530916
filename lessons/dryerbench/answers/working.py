"""Working: an answer typed as a sum with units, ``240 V / 27 ohm``, and with its result, ``240 V / 27 ohm = 8.89 A``.

The grammar, over one text with single blanks (a unit is a spelling of the table, the longest that fits)::

    answer  = sum [ "=" number unit ]
    sum     = [ "-" | "+" ] product { ( "+" | "-" ) product }
    product = factor { ( "*" | "/" ) factor }
    factor  = number unit [ power ] | ( number | "(" sum ")" ) [ power ] [ unit ]
    power   = "^" digit

A power behind a number with a unit is of both: ``240 V ^ 2`` is (240 V) ^ 2. Nothing is evaluated as code: the text
becomes a tree of these nodes, which ``dimensions`` works out. Length, depth, count and size of numbers have limits.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from dryerbench.answers.dimensions import Dimensioned, of_number
from dryerbench.answers.thousands import two_readings
from dryerbench.answers.units import LONGEST_SPELLING, spelled
from dryerbench.core.errors import SumError

__all__ = ["Term", "Working", "sum_in"]

DEEPEST = 8
"""Brackets within brackets."""
MOST_NUMBERS = 30
HIGHEST_POWER = 4
_SIGNS = {
    **dict.fromkeys("+", "+"),
    **dict.fromkeys("-\N{MINUS SIGN}–", "-"),
    **dict.fromkeys("*×·∙⋅xX", "*"),
    **dict.fromkeys("/÷∕", "/"),
}
_RAISED = {"²": 2, "³": 3}
_NUMBER = re.compile(r"(?P<digits>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?P<power>[eE][-+]?[0-9]{1,3})?(?![0-9.,'])")
_POWER = re.compile(rf" ?(?:\^|\*\*) ?([1-{HIGHEST_POWER}])(?![0-9.])")
_HEXADECIMAL = re.compile(r"0[xX][0-9A-Fa-f]")


@dataclass(frozen=True)
class Term:
    """One number of a sum: as typed, its unit ("" where it has none of its own), half the worth of its last decimal."""

    magnitude: float
    unit: str
    half_place: float = 0.0


@dataclass(frozen=True)
class _Number:
    place: int


@dataclass(frozen=True)
class _Operation:
    sign: str
    left: _Tree
    right: _Tree


@dataclass(frozen=True)
class _Negative:
    inside: _Tree


@dataclass(frozen=True)
class _Raised:
    inside: _Tree
    exponent: int


@dataclass(frozen=True)
class _Counted:
    inside: _Tree
    unit: str


_Tree = _Number | _Operation | _Negative | _Raised | _Counted


@dataclass(frozen=True)
class Working:
    """A sum as it was typed: its text, its numbers from left to right, and the tree that joins them."""

    text: str
    terms: tuple[Term, ...]
    tree: _Tree

    def value(self, magnitudes: Sequence[float] | None = None) -> tuple[float, str]:
        """Return (magnitude, unit of the table), as typed or with other ``magnitudes`` in place of the numbers.

        Raises
        ------
        SumError
            If its units do not come out, or it divides by zero, or it is beyond all measure.
        """
        made = self.dimensioned(magnitudes)
        if made.is_number and not made.bare and made.unit != "%" and self.has_hundred:
            raise SumError("the 100 in it has no unit: for a share put % behind it, as in 3 A / 4 A * 100 %.")
        return made.told()

    def dimensioned(self, magnitudes: Sequence[float] | None = None) -> Dimensioned:
        """Return the result with its dimension, which may be one that the table has no unit for.

        Raises
        ------
        SumError
            As ``value`` does, unless it is only about the unit of the result.
        """
        numbers = [one.magnitude for one in self.terms] if magnitudes is None else magnitudes
        return self._worked(self.tree, numbers)

    def _worked(self, tree: _Tree, numbers: Sequence[float]) -> Dimensioned:
        if isinstance(tree, _Number):
            return of_number(numbers[tree.place], self.terms[tree.place].unit)
        if isinstance(tree, _Operation):
            left, right = self._worked(tree.left, numbers), self._worked(tree.right, numbers)
            if tree.sign in "+-":
                return left.plus(right, 1 if tree.sign == "+" else -1)
            return left.times(right) if tree.sign == "*" else left.over(right)
        inside = self._worked(tree.inside, numbers)
        if isinstance(tree, _Negative):
            return of_number(-1.0, "").times(inside)
        return inside.to_the(tree.exponent) if isinstance(tree, _Raised) else inside.counted_in(tree.unit)

    def slack(self) -> float:
        """Return how far rounding of the decimals typed may put the result off, in the measure of ``dimensioned``."""
        numbers, size = [one.magnitude for one in self.terms], self.dimensioned().size
        wide = 0.0
        for place, one in enumerate(self.terms):
            for shift in (-one.half_place, one.half_place) if one.half_place else ():
                try:
                    moved = self.dimensioned([*numbers[:place], one.magnitude + shift, *numbers[place + 1 :]])
                except SumError:
                    continue
                wide += abs(moved.size - size) / 2
        return wide

    @property
    def has_hundred(self) -> bool:
        """Tell whether a bare 100 is in it, so that a share may be meant in percent already."""
        return any(one.magnitude == 100 and not one.unit for one in self.terms)

    @property
    def is_range(self) -> bool:
        """Tell whether it may be a range and no difference: ``8 A - 9 A``."""
        tree = self.tree
        if not (isinstance(tree, _Operation) and tree.sign == "-"):
            return False
        if not (isinstance(tree.left, _Number) and isinstance(tree.right, _Number)):
            return False
        one, other = self.terms[tree.left.place], self.terms[tree.right.place]
        return one.unit == other.unit != "" and one.magnitude < other.magnitude


class _NoSumError(Exception):
    """The text is no sum of this grammar."""


def sum_in(text: str) -> Working | None:
    """Return the sum that ``text``, with single blanks, spells; None for all else, one number with a unit among it.

    Raises
    ------
    SumError
        If one of its numbers can be read in two ways.
    """
    reader = _Reader(text)
    try:
        tree = reader.sum(0)
    except _NoSumError:
        return None
    reader.blank()
    if reader.at != len(text) or not reader.joined:
        return None
    if reader.doubt:
        raise SumError(reader.doubt)
    return Working(text, tuple(reader.terms), tree)


class _Reader:
    """Reads a text from left to right; every method takes what it names or raises ``_NoSumError``."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.terms: list[Term] = []
        self.joined = False
        """Whether there is anything to work out: a sign between two numbers, or a power."""
        self.doubt = ""
        """What to ask about a number that can be read in two ways."""

    def blank(self) -> None:
        """Take one blank, if there is one."""
        if self.text.startswith(" ", self.at):
            self.at += 1

    def sign(self, wanted: str) -> str:
        """Take one of the signs ``wanted`` with the blanks around it and return it; "" if there is none."""
        at = self.at + self.text.startswith(" ", self.at)
        found = _SIGNS.get(self.text[at : at + 1], "")
        if not found or found not in wanted or self.text.startswith("**", at):
            return ""
        self.at = at + 1
        self.blank()
        return found

    def sum(self, depth: int) -> _Tree:
        if depth > DEEPEST:
            raise _NoSumError
        first = self.sign("+-")
        tree = self.product(depth)
        if first == "-":
            tree = _Negative(tree)
        while sign := self.sign("+-"):
            tree, self.joined = _Operation(sign, tree, self.product(depth)), True
        return tree

    def product(self, depth: int) -> _Tree:
        tree = self.factor(depth)
        while sign := self.sign("*/"):
            tree, self.joined = _Operation(sign, tree, self.factor(depth)), True
        return tree

    def factor(self, depth: int) -> _Tree:
        self.blank()
        if self.text.startswith("(", self.at):
            self.at += 1
            inside = self.sum(depth + 1)
            self.blank()
            if not self.text.startswith(")", self.at):
                raise _NoSumError
            self.at += 1
            return self.with_unit(self.with_power(inside))
        number = self.number()
        if self.terms[-1].unit:
            return self.with_power(number)
        raised = self.with_power(number)
        return raised if raised is number else self.with_unit(raised)

    def number(self) -> _Tree:
        match = _NUMBER.match(self.text, self.at)
        if match is None or len(self.terms) == MOST_NUMBERS or _HEXADECIMAL.match(self.text, self.at):
            raise _NoSumError
        self.at = match.end()
        unit = self.unit()
        readings = two_readings(match["digits"], unit) if not match["power"] else None
        if readings and not self.doubt:
            self.doubt = f'is "{match["digits"]}" there "{readings[0]}" or "{readings[1]}"?'
        self.terms.append(Term(float(match[0]), unit, _half_place(match["digits"], match["power"])))
        return _Number(len(self.terms) - 1)

    def unit(self) -> str:
        """Take the longest spelling of a unit that stands here and return its symbol; "" if there is none."""
        at = self.at + self.text.startswith(" ", self.at)
        for end in range(min(len(self.text), at + LONGEST_SPELLING), at, -1):
            if self.text[end - 1].isalnum() and self.text[end : end + 1].isalnum() and self.text[end] not in _RAISED:
                continue
            found = spelled(self.text[at:end])
            if found is not None:
                self.at = end
                return found.symbol
        return ""

    def with_power(self, tree: _Tree) -> _Tree:
        match = _POWER.match(self.text, self.at)
        if match:
            self.at, self.joined = match.end(), True
            return _Raised(tree, int(match[1]))
        raised = _RAISED.get(self.text[self.at : self.at + 1])
        if raised is None:
            return tree
        self.at, self.joined = self.at + 1, True
        return _Raised(tree, raised)

    def with_unit(self, tree: _Tree) -> _Tree:
        unit = self.unit()
        return _Counted(tree, unit) if unit else tree


def _half_place(digits: str, power: str | None) -> float:
    """Return half the worth of the last decimal typed; 0 for a whole number, which may be exact."""
    decimals = len(digits.partition(".")[2])
    if not decimals:
        return 0.0
    return float(f"0.5e{int(power[1:] if power else 0) - decimals}")
