"""The job card: what is known of the machine in front of you before you touch it."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TypeVar

from dryerbench.core.identity import PRACTICE


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

    @property
    def lines(self) -> tuple[Line, ...]:
        """The card, line by line."""
        return ()

    @property
    def heading(self) -> str:
        """Whose machine this is, in a sentence."""
        if self.apprentice == PRACTICE:
            return "PRACTICE MACHINE. No kit was found here, so this is everybody's. Do not hand it in."
        return f"The machine of {self.apprentice}. Nobody else has these numbers."

    def __repr__(self) -> str:
        width = max((len(line.label) for line in self.lines), default=0)
        rows = [f"  {line.label:<{width}}  {line.value}" for line in self.lines]
        return "\n".join([self.heading, *rows])

    def _repr_html_(self) -> str:
        label, value = (
            "text-align:left;font-weight:normal;padding:2px 1.5em 2px 0",
            "text-align:left;white-space:nowrap",
        )
        caption = "text-align:left;caption-side:top;font-weight:bold;white-space:nowrap"
        rows = "".join(
            f"<tr><th scope='row' style='{label}'>{escape(line.label)}</th>"
            f"<td style='{value}'><b>{escape(line.value)}</b></td></tr>"
            for line in self.lines
        )
        return f"<table><caption style='{caption}'>{escape(self.heading)}</caption><tbody>{rows}</tbody></table>"


CardT_contra = TypeVar("CardT_contra", bound=JobCard, contravariant=True)
"""A lesson's own card: what asks or answers by it takes that card, and any that is made from it."""
