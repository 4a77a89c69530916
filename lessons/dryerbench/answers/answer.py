"""An answer: the number in a unit that was typed, or a meter's over limit."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from dryerbench.answers.acceptance import sure_figures
from dryerbench.answers.tolerance import rounded
from dryerbench.answers.units import convert, quantity_of
from dryerbench.core.errors import UnitMismatchError

_SHOWN_FIGURES = 15


def _number_text(magnitude: float, figures: int | None) -> str:
    """Return a number with its figures as typed, in plain notation where that is short."""
    if figures is None or magnitude == 0:
        return f"{magnitude:.6g}"
    shown = min(figures, _SHOWN_FIGURES)
    if 1e-4 <= abs(magnitude) < 1e9:
        return f"{magnitude:.{max(0, shown - 1 - Decimal(magnitude).adjusted())}f}"
    return f"{magnitude:.{shown - 1}e}"


@dataclass(frozen=True)
class Answer:
    """What was answered: a magnitude in a unit of the table, or a meter's over limit (OL).

    ``unit`` is a canonical symbol of ``dryerbench.answers.units`` ("" for over limit, whose magnitude is infinite);
    ``figures`` counts the significant figures as typed, zeros at the end too (None for a calculated one); ``working``
    is the sum that was typed, if it was one.
    """

    typed: str
    kind: Literal["quantity", "over_limit"]
    magnitude: float
    unit: str
    figures: int | None
    working: str = ""

    def to(self, unit: str) -> float:
        """Return the magnitude in another unit (a canonical symbol).

        Raises
        ------
        UnitMismatchError
            If this answer measures something else, or is over limit.
        UnknownUnitError
            If the table has no such unit.
        """
        if self.kind == "over_limit":
            raise UnitMismatchError(f"OL is over the meter's limit, not a number of {unit}.")
        return convert(self.magnitude, self.unit, unit)

    @property
    def sure_figures(self) -> int | None:
        """Return the figures without the zeros at the end of a whole number, which may only hold its place."""
        return sure_figures(self.typed, self.figures)

    @property
    def quantity(self) -> str:
        """Return what was measured, in plain words: "current", ..., or "over limit"."""
        return "over limit" if self.kind == "over_limit" else quantity_of(self.unit)

    def told(self, figures: int) -> str:
        """Return the answer as people read it, a sum with its result to ``figures``: "8.89 A, from ..."."""
        if not self.working:
            return self.text
        result = f"{rounded(self.magnitude, figures)} {self.unit}" if self.figures is None else self.text
        return f"{result}, from {self.working}"

    @property
    def text(self) -> str:
        """Return the answer as people read it: "8.9 A", "OL"."""
        if self.kind == "over_limit":
            return "OL"
        return f"{_number_text(self.magnitude, self.figures)} {self.unit}"
