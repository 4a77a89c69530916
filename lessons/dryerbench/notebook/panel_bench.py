"""What a panel asks of the bench that it shows: one in this kernel, or one that is elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from dryerbench.bench.bench import Bench
from dryerbench.bench.contact import reach
from dryerbench.bench.trail import Act
from dryerbench.notebook.bench_view import Probes, menu_of, view_of


class PanelBench(Protocol):
    """A bench as the panel sees it."""

    @property
    def trail(self) -> Sequence[Act]:
        """Every act so far."""

    def do(self, act: str, **given: object) -> Act:
        """Do one act and return its record; a ``LegToLegError`` says why it cannot be done."""

    def menu(self, more: Sequence[str]) -> dict[str, object]:
        """Return what does not change: the drawing, and what can be chosen."""

    def view(self, probes: Probes) -> dict[str, object]:
        """Return what is seen now, with the ``probes`` where they are."""

    def reach(self, point: str) -> None:
        """Pass if a probe reaches ``point``; a ``LegToLegError`` says what is in the way."""


@dataclass(frozen=True)
class OwnBench:
    """A bench in this kernel."""

    bench: Bench

    @property
    def trail(self) -> Sequence[Act]:
        """Every act so far."""
        return self.bench.trail

    def do(self, act: str, **given: object) -> Act:
        """Do one act and return its record."""
        return self.bench.do(act, **given)

    def menu(self, more: Sequence[str]) -> dict[str, object]:
        """Return what does not change: the drawing, and what can be chosen."""
        return menu_of(self.bench, more)

    def view(self, probes: Probes) -> dict[str, object]:
        """Return what is seen now, with the ``probes`` where they are."""
        return view_of(self.bench, probes)

    def reach(self, point: str) -> None:
        """Pass if a probe reaches ``point``."""
        reach(self.bench, point)
