"""The tech sheet of an arrangement as lines of words: parts, ratings, ohms with their tolerance, wires, readings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.family.arrangement import Arrangement, Mark
from dryerbench.family.kinds import ONE_SHOT, Component
from dryerbench.family.readings import shown_ohms

SENSOR_DEGREES = (50, 77, 104, 131, 158)
"""Where a sensor's table gives its ohms [°F]."""
_TOLERANCE_F = {"cycling thermostat": 5, "low thermostat": 5, "high limit": 8} | dict.fromkeys(ONE_SHOT, 12)


def _rating(part: Component) -> str:
    told = []
    numbers = part.numbers
    if "run" in numbers:
        told.append(f"run {numbers['run']:g} ohm, start {numbers['start']:g} ohm, ±10 %")
    if "ohms" in numbers:
        at = " at 77 F" if "beta" in numbers else ""
        told.append(f"{shown_ohms(numbers['ohms'])}{at}")
    if "opens" in numbers:
        closes = f", closes {numbers['closes']:g} F" if "closes" in numbers else ", stays open"
        told.append(f"opens {numbers['opens']:g} F{closes}, ±{_TOLERANCE_F[part.kind.name]} F")
    if part.on:
        told.append(f"closed on {', '.join(part.on)}")
    if part.follows:
        told.append(f"pulled in by {part.follows}")
    return "; ".join((part.kind.name, *told))


def sensor_table(part: Component) -> tuple[tuple[int, float], ...]:
    """Return (°F, Ω) of a sensor at the temperatures of its table."""
    law = BetaThermistor(part.numbers["ohms"], part.numbers["beta"])
    return tuple((degrees, law.ohms((degrees - 32.0) / 1.8)) for degrees in SENSOR_DEGREES)


def sensor_words(part: Component) -> str:
    """Return a sensor's table as the sheet has it."""
    return ", ".join(f"{ohms / 1e3:.2f} kohm at {degrees} F" for degrees, ohms in sensor_table(part))


def sheet_lines(made: Arrangement, marks: Sequence[Mark] | None = None) -> Iterator[str]:
    """Yield the lines of the sheet; ``marks`` are those of one machine's harness, in the order of its wires.

    What is worked out for the trainer, and the trap, are not on it.
    """
    yield f"{made.name}: {made.idea}. {made.made_for} V, {made.cord} cord, service {made.service}."
    yield "Parts:"
    for part in made.parts:
        yield f"  {part.name:<6} {_rating(part)}"
        if part.kind.feels and "beta" in part.numbers:
            yield f"         {sensor_words(part)}"
    yield "Coils, cold, ±5 %:"
    for coil in made.coils:
        yield f"  {coil.ends[0]} to {coil.ends[1]} {coil.ohms:g} ohm"
    yield "Wires:"
    for wire, mark in zip(made.wires, marks or [wire.mark for wire in made.wires], strict=True):
        yield f"  {wire.a} to {wire.b}, {mark}"
    yield "Readings, plug out:"
    for one in made.sheet:
        yield f"  {one}"
    yield "Heat:"
    for power in made.power:
        if power.supply_volts == made.made_for:
            yield f"  {power.heat}, {power.watts}, {power.amps}"
