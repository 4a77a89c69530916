"""Where the temperature probe can be put, and how warm each place is: as far as the heat model knows it.

A thermostat, cut-off or sensor is as warm as what it feels: the exhaust or the heater box. The model has one
temperature for the box's sheet metal, so a machine with two boxes has no such place, and one for the motor, its
windings and iron as one lump. It has none for the terminal block, so there is none to read.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from dryerbench.air.drying import BOX
from dryerbench.bench.access import arrangement_of, coils
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import SPOTS
from dryerbench.bench.schoolroom import our_name
from dryerbench.bench.situation import Situation
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, heat_on, machine_on, situation_on
from dryerbench.family.heat import BIAS_KELVIN_PER_WATT

EXHAUST, LIMIT = SPOTS[1:]
BOX_METAL, MOTOR = "heater box", "motor"
_DIGITS = 2  # of a temperature that readings are taken from, as in ``family.heat``
_FEELS = {"exhaust": EXHAUST, "box": LIMIT}


@lru_cache(maxsize=64)
def warm_parts(machine: Machine) -> Mapping[str, str]:
    """Return what each part that heat switches or senses feels, ``exhaust`` or ``limit``, by the bench's names."""
    there = (part for part in arrangement_of(machine).parts if part.kind.feels)
    return MappingProxyType({our_name(machine, part.name): _FEELS[part.kind.feels] for part in there})


@lru_cache(maxsize=64)
def warm_places(machine: Machine) -> tuple[str, ...]:
    """Return every place at which the temperature probe reads, but for what a part is called twice."""
    box = (BOX_METAL,) if len(arrangement_of(machine).boxes) == 1 else ()
    return (*SPOTS[:2], *warm_parts(machine), *box, MOTOR)


def touchable(bench: Worksite, place: str) -> bool:
    """Return whether the probe reaches ``place`` as things stand."""
    if place in SPOTS[:2]:
        return True
    return bench.cover_off if place == LIMIT else any(map(bench.bared, _behind(machine_on(bench), place)))


def _behind(machine: Machine, place: str) -> tuple[str, ...]:
    """Return the points and parts of which one must be bare."""
    made = arrangement_of(machine)
    if place == MOTOR:
        return (our_name(machine, made.motor.name),)
    if place == BOX_METAL:
        return (*(part for part, feels in warm_parts(machine).items() if feels == LIMIT), *coils(machine))
    return (place,)


def celsius_at(bench: Worksite, place: str) -> float | None:
    """Return how warm ``place`` is [°C]; None where the meter's own spots say it."""
    machine, now = machine_on(bench), situation_on(bench)
    if place in SPOTS:
        return None
    if place == BOX_METAL:
        return round(heat_on(bench).places[BOX], _DIGITS)
    if place == MOTOR:
        return round(heat_on(bench).motor, _DIGITS)
    if warm_parts(machine)[place] == LIMIT:
        return now.state.limit_celsius
    return round(now.state.exhaust_celsius + _warmed(now, place), _DIGITS)


def _warmed(now: Situation, part: str) -> float:
    """Return by how many kelvin a bias heater warms a cycling thermostat above the air, as ``family.heat`` has it."""
    made, machine = arrangement_of(now.machine), now.machine
    if all(our_name(machine, one.name) != part for one in made.of_kind("cycling thermostat")):
        return 0.0
    heaters = [our_name(machine, one.name) for one in made.of_kind("bias heater")]
    return BIAS_KELVIN_PER_WATT * sum(now.flows.watts(one).real for one in heaters if one in now.circuit)


def temperature(bench: Worksite, record: Act, spot: str, unit: str = "°F") -> None:
    """Put the temperature probe on ``spot`` and read; on an open, live machine that is live work."""
    places = warm_places(machine_on(bench))
    if spot not in (*places, *SPOTS):
        raise BenchError(f"The probe cannot be put at '{spot}'; it can at {', '.join(places)}.")
    if not touchable(bench, spot):
        words = "high limit" if spot == LIMIT else spot
        raise BenchError(f"The {words} is behind the cover. Take it off first.")
    warm = celsius_at(bench, spot)
    bench.note_reading(record, bench.meter.temperature(situation_on(bench), spot, unit, celsius=warm))
    record["facts"]["live_bare"] = spot not in SPOTS[:2] and bench.energized and not bench.gear


def weighs(mode: str, places: tuple[str, ...]) -> bool:
    """Return whether a reading can be weighed as evidence: of temperatures, those that a state of a machine has."""
    return mode != "temperature" or places[0] in SPOTS
