"""``legtoleg readings``: every pair of probes on a machine in a state, ideal and as the meter shows it, as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from enum import StrEnum
from itertools import combinations
from typing import TYPE_CHECKING, Annotated

import typer

from legtoleg.cli.netlist import Cord, named_scene
from legtoleg.cli.terminal import say_text

if TYPE_CHECKING:
    from dryerbench.bench.meter import Meter
    from dryerbench.bench.reading import Reading
    from dryerbench.bench.situation import Situation

COLUMNS = ("a", "b", "mode", "ideal", "unit", "shown", "value", "low", "high", "beeps", "trouble")


class Mode(StrEnum):
    """The settings of the meter that take two probes."""

    volts = "volts"
    low_impedance = "low-impedance"
    ohms = "ohms"
    continuity = "continuity"
    insulation = "insulation"


def _row(situation: Situation, meter: Meter, mode: str, a: str, b: str) -> tuple[str, ...]:
    reading: Reading = meter.read(situation, mode, a, b)
    value = "" if reading.value is None else f"{reading.value:.10g}"
    beeps = "" if reading.beeps is None else ("yes" if reading.beeps else "no")
    ideal = f"{meter.ideal(situation, mode, a, b):.10g}"
    band = (f"{reading.low:.10g}", f"{reading.high:.10g}")
    return (a, b, mode, ideal, reading.unit, reading.shown, value, *band, beeps, reading.trouble)


def readings_rows(situation: Situation, mode: str) -> Iterator[tuple[str, ...]]:
    """Yield a row of ``COLUMNS`` for every pair of this machine's test points."""
    from dryerbench.bench.meter import Meter

    meter = Meter()
    for a, b in combinations(probe_points(situation), 2):
        yield _row(situation, meter, mode, a, b)


def probe_points(situation: Situation) -> list[str]:
    """Return the points of a machine that probes can reach: receptacle, plug, cabinet, block and every terminal."""
    from dryerbench.bench.access import behind

    nodes = situation.circuit.nodes
    return [point for point in behind(situation.machine) if point in nodes]


def readings_text(
    faults: list[str],
    state: str | None,
    variant: str | None = None,
    cord: str | None = None,
    mode: str | None = None,
    machine: str | None = None,
) -> str:
    """Return the CSV; without ``mode`` it is volts on a powered machine and ohms on a dead one.

    Raises
    ------
    LegToLegError
        For a fault, state, cord or mode that does not exist.
    """
    situation = named_scene(machine, faults, state, variant, cord, ("unplugged", "off")).situation
    powered = situation.state.plugged and situation.state.breaker_on
    chosen = mode or ("volts" if powered else "ohms")
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(readings_rows(situation, chosen))
    return out.getvalue()


def readings(
    fault: Annotated[list[str] | None, typer.Option(help="NAME or NAME=STRENGTH; may be given again.")] = None,
    state: Annotated[
        str | None, typer.Option(help="One of the bench's states, such as unplugged; of a dryer by name: box free.")
    ] = None,
    variant: Annotated[str | None, typer.Option(help="An apprentice's id: their own dryer.")] = None,
    cord: Annotated[Cord | None, typer.Option(help="The cord of the practice dryer.")] = None,
    mode: Annotated[
        Mode | None, typer.Option(help="The meter's setting; left out, volts if powered and ohms if dead.")
    ] = None,
    machine: Annotated[
        str | None, typer.Option("--dryer", "--machine", help="A dryer of the family; “legtoleg dryers” lists them.")
    ] = None,
) -> None:
    """Print what the meter would show between every two test points, as CSV."""
    wanted, setting = cord.value if cord else None, mode.value if mode else None
    say_text(readings_text(fault or [], state, variant, wanted, setting, machine))
