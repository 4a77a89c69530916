"""Heat on any machine of the family: what some minutes do to it, from its own circuit, ratings and air.

Watts come from the settled circuit for each set of switches that the heat holds open; air, load, room and switches are
``air.heat_ratings``'. A thermostat, limit or cut-off that a fault welds is not among the switches that move. A board
holds its strongest set point by opening its heat relays 5 °F above it and closing them 5 °F below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import prod

from dryerbench.air.dryer_body import Room
from dryerbench.air.drying import ELEMENT, LIMIT, THERMOSTAT
from dryerbench.air.heat_ratings import HeatRatings
from dryerbench.air.thermostats import HeatSwitch
from dryerbench.air.warm_machine import Heat, HeatParts, Moved, Power, cold, let_pass
from dryerbench.circuits.solver import Solution
from dryerbench.core.temperatures import celsius
from dryerbench.family.faults import Fault, changed_machine
from dryerbench.family.kinds import Component
from dryerbench.family.machine import Machine
from dryerbench.family.settings import ROOM, SET_POINT, Setting
from dryerbench.family.settling import Settled, settle_all

BIAS_KELVIN_PER_WATT = 8.0
"""How much its bias heater warms the cycling thermostat above the exhaust [K/W]; invented."""
GLOWING = 600.0
"""Wire temperature for the coils' hot ohms [°C]; between 500 and 800 °C they differ by 2 %."""
_SWING_F = 5.0  # a board's swing about its set point
_MORE_LOSS = 2.0  # iron and rotor lose about as much again as the windings (usual size, no published source)
_NEGLIGIBLE = 1.0  # W: leakage and strays
_DIGITS = 2  # of a temperature that readings are taken from


@dataclass(frozen=True, slots=True)
class After:
    """What some minutes led to: the heat, the setting, the moves of switches, and the heater's energy [J]."""

    heat: Heat
    setting: Setting
    moves: tuple[Moved, ...]
    joules: float

    def opened(self, switch: str) -> int:
        """Return how often ``switch`` opened."""
        return sum(move.switch == switch and not move.closed for move in self.moves)


def _switch(machine: Machine, part: Component, colder: float) -> HeatSwitch:
    closes = machine.number(part.name, "closes") if "closes" in part.numbers else None
    opens = celsius(machine.number(part.name, "opens"))
    return HeatSwitch(part.name, opens - colder, None if closes is None else celsius(closes) - colder)


def heat_ratings(machine: Machine, bias_watts: float = 0.0) -> HeatRatings:
    """Return the air and the heat switches of ``machine``; ``bias_watts`` warm its cycling thermostat on low."""
    made = machine.arrangement
    warmed = BIAS_KELVIN_PER_WATT * bias_watts
    exhaust = [
        _switch(machine, part, warmed if part.kind.name == "cycling thermostat" else 0.0)
        for part in made.parts
        if part.kind.feels == "exhaust" and part.kind.throws
    ]
    if made.set_points:
        top = float(max(made.set_points))
        exhaust.append(HeatSwitch(SET_POINT, celsius(top + _SWING_F), celsius(top - _SWING_F)))
    box = [_switch(machine, part, 0.0) for part in made.parts if part.kind.feels == "box" and part.kind.throws]
    return HeatRatings(made.air.cfm, tuple(exhaust), tuple(box))


@lru_cache(maxsize=256)
def heat_parts(machine: Machine, faults: tuple[Fault, ...], bias_watts: float = 0.0) -> HeatParts:
    """Return what decides the heat of ``machine`` with ``faults``: marks moved, air lost, switches welded."""
    lost = 1.0 - prod(1.0 - fault.air_lost for fault in faults)
    ratings = heat_ratings(changed_machine(machine, faults), bias_watts)
    moving = {switch.name for switch in (*ratings.in_exhaust, *ratings.on_box)}
    stuck = [fault.on for fault in faults if fault.kind.does == "welds" and fault.on in moving]
    return ratings.parts(lost, stuck, room=Room(ROOM))


def cold_heat(machine: Machine, faults: Sequence[Fault] = ()) -> Heat:
    """Return a cold machine with a wet household load in it."""
    return cold(heat_parts(machine, tuple(faults)))


def coil_powers(machine: Machine, live: Solution) -> list[float]:
    """Return the heat of each coil [W], the pieces of a grounded one together."""
    names = [coil.name for coil in machine.arrangement.coils]
    watts = dict.fromkeys(names, 0.0)
    for name in names:
        for piece in (name, f"{name} rest"):
            if piece in live.circuit:
                watts[name] += live.watts(piece).real
    return list(watts.values())


@lru_cache(maxsize=4096)
def _settled(machine: Machine, faults: tuple[Fault, ...], setting: Setting) -> Settled:
    return settle_all(machine, [(faults, setting)])[0]


def _bias_watts(settled: Settled) -> float:
    parts = settled.machine.arrangement.of_kind("bias heater")
    return sum(settled.flows.watts(part.name).real for part in parts)


def _power(settled: Settled) -> Power:
    """Return what flows: coil watts, the share of coils lit, whether the drum turns, the motor's own loss."""
    if not settled.setting.powered:
        return Power()
    each = coil_powers(settled.machine, settled.flows)
    watts = sum(each)
    if watts <= _NEGLIGIBLE:
        watts, lit = 0.0, 1.0
    else:
        lit = sum(one > 0.01 * max(each) for one in each) / len(each)
    motor = sum(settled.flows.watts(name).real for name in ("run winding", "start winding"))
    return Power(watts, lit, settled.setting.running, _MORE_LOSS * motor if motor > _NEGLIGIBLE else 0.0)


def pass_minutes(machine: Machine, faults: Sequence[Fault], setting: Setting, heat: Heat, minutes: float) -> After:
    """Return what ``minutes`` in ``setting`` lead to; dial, door and plug stay as they are set.

    A motor that stopped and a breaker that tripped stay so, whatever the heat switches do afterwards.

    Raises
    ------
    OutOfRangeError
        If the switches chatter without end.
    """
    there = tuple(faults)
    base = replace(setting, exhaust_celsius=ROOM, box_celsius=ROOM, coil_celsius=GLOWING, start_pressed=False)
    bias = round(_bias_watts(_settled(machine, there, base)), 3) if setting.powered else 0.0
    stands = [base]

    def power(open_now: frozenset[str]) -> Power:
        settled = _settled(machine, there, replace(stands[0], opened=open_now))
        stands[0] = settled.setting
        return _power(settled)

    passed = let_pass(heat, setting.opened, heat_parts(machine, there, bias), power, 60.0 * minutes)
    power(passed.open)
    places = passed.heat.places
    warm = replace(
        stands[0],
        exhaust_celsius=round(places[THERMOSTAT], _DIGITS),
        box_celsius=round(places[LIMIT], _DIGITS),
        coil_celsius=round(places[ELEMENT], _DIGITS),
        start_pressed=setting.start_pressed,
    )
    return After(passed.heat, warm, passed.moves, passed.joules)
