"""The switches that heat moves: cycling thermostat, high limit, and the cut-off that opens for good."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.tables import table
from dryerbench.core.temperatures import celsius

if TYPE_CHECKING:
    from collections.abc import Iterable

State = Literal["closed", "open", "either"]


@dataclass(frozen=True)
class HeatSwitch:
    """A contact that opens as it warms; with hysteresis if it closes again, one-shot if it never does.

    Temperatures in °C; ``tolerance`` is the ± on each of them, in K; ``ohms_closed`` in Ω.

    Raises
    ------
    OutOfRangeError
        If it would close at or above the temperature at which it opens, or a number is impossible.
    """

    name: str
    opens: float
    closes: float | None
    tolerance: float = 0.0
    ohms_closed: float = 0.0

    def __post_init__(self) -> None:
        if not math.isfinite(self.opens) or self.tolerance < 0 or self.ohms_closed < 0:
            raise OutOfRangeError(f"The {self.name} needs a temperature, and a tolerance and ohms of 0 or more.")
        if self.closes is not None and not self.closes < self.opens:
            raise OutOfRangeError(
                f"The {self.name} must close again below the temperature at which it opens "
                f"({self.opens:g} °C), not at {self.closes:g} °C."
            )

    @property
    def one_shot(self) -> bool:
        """Whether it stays open for good once it has opened."""
        return self.closes is None

    def closed_after(self, temperature: float, was_closed: bool = True) -> bool:
        """Return whether the contact is closed at ``temperature`` [°C], given what it was just before."""
        if was_closed:
            return temperature < self.opens
        return self.closes is not None and temperature <= self.closes

    def expected(self, temperature: float, warming: bool = True) -> State:
        """Return what a sound part at ``temperature`` [°C] must read; either, within its tolerance.

        ``warming``: on the way up from room temperature; otherwise on the way down after it has opened.
        """
        if warming or self.closes is None:
            edge, above = self.opens, True
        else:
            edge, above = self.closes, False
        if not warming and self.closes is None:
            return "open"
        if abs(temperature - edge) <= self.tolerance:
            return "either"
        closed = temperature < edge if above else temperature <= edge
        return "closed" if closed else "open"

    def operating_curve(self, temperatures: Iterable[float]) -> list[tuple[float, bool]]:
        """Return rows (°C, closed?) as a closed part is taken through ``temperatures`` [°C] in order."""
        rows, closed = [], True
        for temperature in temperatures:
            closed = self.closed_after(temperature, closed)
            rows.append((temperature, closed))
        return rows

    def off_its_mark(self, kelvin: float) -> HeatSwitch:
        """Return the part with both temperatures moved by ``kelvin``: worn, or at an end of its tolerance."""
        closes = None if self.closes is None else self.closes + kelvin
        return replace(self, opens=self.opens + kelvin, closes=closes)

    def drawn(self, where: float) -> HeatSwitch:
        """Return one part of the batch: ``where`` from -1 (low end of the tolerance) to 1 (high end).

        Raises
        ------
        OutOfRangeError
            If ``where`` is outside -1 to 1.
        """
        if not -1.0 <= where <= 1.0:
            raise OutOfRangeError(f"A place inside the tolerance is from -1 to 1, not {where:g}.")
        return self.off_its_mark(where * self.tolerance)


def usual_switch(part: str) -> HeatSwitch:
    """Return a switch of ``datasets/heat_switches.csv``: cycling_thermostat, high_limit or thermal_cutoff.

    Raises
    ------
    TableError
        If the table has no such part.
    """
    row = table("heat-switches").row(part=part)
    return HeatSwitch(
        name=row.text("title"),
        opens=celsius(row.number("opens_f")),
        closes=None if row["closes_f"] is None else celsius(row.number("closes_f")),
        tolerance=row.number("tolerance_f") / 1.8,
        ohms_closed=row.number("ohms_closed"),
    )
