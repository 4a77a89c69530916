"""The job card: what is known of the machine in front of you before you touch it."""

from __future__ import annotations

from dataclasses import dataclass, field
from html import escape
from typing import TypeVar

from dryerbench.core.identity import PRACTICE
from dryerbench.core.random_stream import seed_of


@dataclass(frozen=True)
class Line:
    """One line of a card: what it is, its value with unit, and how to fetch it in a cell."""

    label: str
    value: str
    name: str


@dataclass(frozen=True, repr=False)
class JobCard:
    """A machine's card; each lesson adds its own lines. It shows itself as a table in a notebook."""

    apprentice: str
    lesson: str
    try_number: int = field(default=1, kw_only=True)

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line."""
        return ()

    @property
    def seed(self) -> str:
        """The seed text from which this card was dealt; what is dealt for one question adds a slash and its name."""
        return seed_of(self.apprentice, self.lesson, self.try_number)

    @property
    def heading(self) -> str:
        """Whose machine this is, in a sentence."""
        if self.apprentice == PRACTICE:
            return "PRACTICE DRYER. No kit was found here, so this is everybody's. Do not hand it in."
        which = "" if self.try_number == 1 else f", card {self.try_number}"
        return f"The dryer of {self.apprentice}{which}. Nobody else has these numbers."

    def __repr__(self) -> str:
        width = max((len(line.label) for line in self.lines), default=0)
        rows = [f"  {line.label:<{width}}  {line.value}" for line in self.lines]
        return "\n".join([self.heading, *rows])

    def _repr_html_(self) -> str:
        label, value = (
            "text-align:left;font-weight:normal;white-space:normal;padding:2px 1.5em 2px 0",
            "text-align:left;white-space:nowrap",
        )
        caption = "text-align:left;caption-side:top;font-weight:bold"
        rows = "".join(
            f"<tr><th scope='row' style='{label}'>{escape(line.label)}</th>"
            f"<td style='{value}'><b>{escape(line.value)}</b></td></tr>"
            for line in self.lines
        )
        return f"<table><caption style='{caption}'>{escape(self.heading)}</caption><tbody>{rows}</tbody></table>"


CardT_contra = TypeVar("CardT_contra", bound=JobCard, contravariant=True)
"""A lesson's own card: what asks or answers by it takes that card, and any that is made from it."""
