"""Heat on the bench: what some minutes do to a machine with its faults, from its own circuit.

``pass_minutes`` is pure: a machine, its faults, its state and its heat go in, and what they have come to comes out,
with what could be noticed on the way. Watts come from the solved circuit for each set of switches that the heat holds
open; air, load, room and switches are the arrangement's ``HeatParts``. A switch that a fault keeps shut is not among
them, so a welded thermostat never opens and a stuck limit never guards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.air.dryer_body import Room
from dryerbench.air.drying import ELEMENT, LIMIT, THERMOSTAT
from dryerbench.air.heat_ratings import HeatRatings
from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.air.warm_machine import Heat, HeatParts, Moved, Power, cold, let_pass
from dryerbench.bench.faults import Fault, changed_by
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.schoolroom import schoolroom
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import ROOM, State, named_state
from dryerbench.circuits.solver import Solution

CYCLING, LIMIT_SWITCH, CUTOFF = "cycling thermostat", "high limit", "thermal cut-off"
BIAS_KELVIN_PER_WATT = 8.0
"""How much its bias heater warms the cycling thermostat above the exhaust [K/W]; invented."""
GLOWING = 600.0
"""Wire temperature for the heater's hot ohms [°C]; between 500 and 800 °C they differ by 2 %."""
STUCK_SHUT = {"cycling-welded": CYCLING, "high-limit-stuck": LIMIT_SWITCH}
"""Switches that no longer open, by the fault that keeps them shut."""
_WINDINGS = ("run winding", "start winding")
_MORE_LOSS = 2.0  # iron and rotor lose about as much again as the windings (usual size, no published source)
_NEGLIGIBLE = 1.0  # W: leakage and strays
_WARM_AIR = 8.0  # K above the room from which a hand calls the air warm
_DIGITS = 2  # of a temperature that readings are taken from


@dataclass(frozen=True, slots=True)
class After:
    """What some minutes led to: heat and state, the switch moves, and the heater's energy [J]."""

    heat: Heat
    state: State
    moves: tuple[Moved, ...]
    joules: float
    minutes: float

    def opened(self, switch: str) -> int:
        """Return how often ``switch`` opened."""
        return sum(move.switch == switch and not move.closed for move in self.moves)


def heat_ratings(machine: Machine, bias_watts: float = 0.0) -> HeatRatings:
    """Return the air and the heat switches of ``machine``; ``bias_watts`` warm its thermostat on low heat."""
    cycling = marked("cycling_thermostat", machine.cycling_opens, CYCLING)
    return HeatRatings(
        schoolroom().air.cfm,
        in_exhaust=(cycling.off_its_mark(-BIAS_KELVIN_PER_WATT * bias_watts),),
        on_box=(
            marked("high_limit", machine.limit_opens, LIMIT_SWITCH),
            marked("thermal_cutoff", machine.cutoff_blows, CUTOFF),
        ),
    )


@lru_cache(maxsize=256)
def heat_parts(machine: Machine, faults: tuple[Fault, ...], bias_watts: float = 0.0) -> HeatParts:
    """Return what decides the heat of ``machine`` with ``faults``."""
    lost = sum(fault.strength or 0.0 for fault in faults if fault.name == "blocked-vent")
    stuck = [STUCK_SHUT[fault.name] for fault in faults if fault.name in STUCK_SHUT]
    return heat_ratings(changed_by(machine, faults), bias_watts).parts(lost, stuck, room=Room(ROOM))


def marked(part: str, opens: float, name: str = "") -> HeatSwitch:
    """Return the usual part, moved so that it opens at ``opens`` [°C], under ``name`` if one is given."""
    usual = usual_switch(part)
    return replace(usual.off_its_mark(opens - usual.opens), name=name or usual.name)


@lru_cache(maxsize=2048)
def _flows(machine: Machine, faults: tuple[Fault, ...], state: State) -> tuple[Power, float, State]:
    """Return what flows in ``state``, the bias heater's watts, and the state that it settles to."""
    now, _ = settle(machine, faults, state)
    if not (now.state.plugged and now.state.breaker_on):
        return Power(), 0.0, now.state
    each = element_watts(now.live)
    watts = sum(each)
    lit = sum(one > 0.01 * max(each) for one in each) / len(each) if watts > _NEGLIGIBLE else 1.0
    circuit, live = now.circuit, now.live
    motor = sum(live.watts(name).real for name in _WINDINGS if name in circuit)
    bias = live.watts("bias heater").real if "bias heater" in circuit else 0.0
    flows = Power(
        watts if watts > _NEGLIGIBLE else 0.0,
        lit,
        now.state.running,
        _MORE_LOSS * motor if motor > _NEGLIGIBLE else 0.0,
    )
    return flows, bias, now.state


def element_watts(live: Solution) -> list[float]:
    """Return the heat of each element [W]; the parts of a grounded one together."""
    watts = dict.fromkeys(ELEMENTS, 0.0)
    for part in live.circuit:
        if part.kind == "resistance" and part.name.startswith("element "):
            watts[int(part.name.split()[1])] += live.watts(part.name).real
    return list(watts.values())


def cold_heat(machine: Machine, faults: Sequence[Fault] = ()) -> Heat:
    """Return a cold machine with a wet household load in it."""
    return cold(heat_parts(machine, tuple(faults)))


def let_cool(heat: Heat) -> Heat:
    """Return the same machine and load at the room's temperature."""
    return cold(HeatParts(0.0, {}, room=Room(ROOM)), heat.water)


def pass_minutes(machine: Machine, faults: Sequence[Fault], state: State, heat: Heat, minutes: float) -> After:
    """Return what ``minutes`` in ``state`` lead to, settled; what a person set stays as it is.

    Raises
    ------
    OutOfRangeError
        If the switches chatter without end.
    """
    there = tuple(faults)
    settings = replace(
        state, exhaust_celsius=ROOM, limit_celsius=ROOM, element_celsius=GLOWING, start_pressed=False, ran=0.0
    )
    _, bias, _ = _flows(machine, there, settings)
    stands = [settings]

    def power(open_now: frozenset[str]) -> Power:
        flows, _, stands[0] = _flows(machine, there, _with_open(stands[0], open_now))
        return flows

    passed = let_pass(heat, _open_in(state), heat_parts(machine, there, round(bias, 3)), power, 60.0 * minutes)
    power(passed.open)
    return After(passed.heat, _warm(stands[0], passed.heat, state), passed.moves, passed.joules, minutes)


def _open_in(state: State) -> frozenset[str]:
    return state.tripped | {CUTOFF} if state.cutoff_blown else state.tripped


def _with_open(state: State, open_now: frozenset[str]) -> State:
    return replace(state, tripped=open_now - {CUTOFF}, cutoff_blown=CUTOFF in open_now)


def _warm(settled: State, heat: Heat, before: State) -> State:
    """Return ``settled`` with the temperatures of ``heat``, rounded as readings are taken from them."""
    return replace(
        settled,
        exhaust_celsius=round(heat.places[THERMOSTAT], _DIGITS),
        limit_celsius=round(heat.places[LIMIT], _DIGITS),
        element_celsius=round(heat.places[ELEMENT], _DIGITS),
        start_pressed=before.start_pressed,
        ran=before.ran,
    )


def words(after: After, before: State) -> list[str]:
    """Return what a person beside the machine notices while it runs: clicks, a stop, the air turning cold."""
    noticed = []
    clicks = after.opened(LIMIT_SWITCH)
    if clicks:
        noticed.append(
            "a switch at the heater box clicks off and on" if clicks > 1 else "a switch at the heater box clicks"
        )
    if after.opened(CUTOFF):
        noticed.append("the thermal cut-off blows")
    if before.running and not after.state.running:
        noticed.append("the motor stops")
    if before.breaker_on and not after.state.breaker_on:
        noticed.append("the breaker trips")
    return noticed


def air_in_words(after: After) -> str:
    """Return whether the air that comes out is warm."""
    warm = after.state.exhaust_celsius > ROOM + _WARM_AIR
    if warm and (after.state.cutoff_blown or not after.joules):
        return "the air turns cold"
    return "warm air comes out" if warm else "the air stays cold"


def asked_after(asked: State, now: State, minutes: float) -> State:
    """Return what was asked for, ``minutes`` on: how long it was asked to heat, or how warm it stands.

    A machine that was asked to heat is taken as warm as a sound one usually gets: what this one does is evidence.
    """
    if asked.running and asked.calling and asked.plugged and asked.breaker_on:
        usual = named_state("heating")
        return replace(
            asked,
            ran=asked.ran + minutes,
            exhaust_celsius=usual.exhaust_celsius,
            limit_celsius=usual.limit_celsius,
            element_celsius=usual.element_celsius,
        )
    return replace(
        asked,
        ran=0.0,
        exhaust_celsius=now.exhaust_celsius,
        limit_celsius=now.limit_celsius,
        element_celsius=now.element_celsius,
    )


def asked_for(machine: Machine, faults: Sequence[Fault], asked: State) -> tuple[Situation, Situation]:
    """Return what a state that was asked for comes to on ``machine`` with ``faults``, its heat followed.

    Two situations: as it stands, and in the other phase of a switch that opens and closes all the time (else the same).
    """
    there = tuple(faults)
    if not asked.ran:
        now = settle(machine, there, asked)[0]
        return now, now
    after = after_running(machine, there, replace(asked, ran=0.0), _round_minutes(asked.ran))
    now = Situation(machine, there, after.state)
    swings = {
        move.switch for move in after.moves if move.switch != CUTOFF and move.seconds > 60.0 * after.minutes / 2.0
    }
    if not swings or after.state.cutoff_blown:
        return now, now
    back = after.state.tripped & swings
    tripped = after.state.tripped - back if back else after.state.tripped | {max(swings)}
    return now, Situation(machine, there, replace(after.state, tripped=tripped))


def _round_minutes(minutes: float) -> float:
    """Return ``minutes`` in steps that grow: what a machine does hardly changes from one to the next."""
    return float(max(1, round(minutes)) if minutes < 15.0 else 10 * round(minutes / 10.0))


@lru_cache(maxsize=4096)
def after_running(machine: Machine, faults: tuple[Fault, ...], state: State, minutes: float) -> After:
    """Return a cold machine after it ran ``minutes`` with the settings of ``state``."""
    start = replace(state, exhaust_celsius=ROOM, limit_celsius=ROOM, element_celsius=ROOM, tripped=frozenset())
    return pass_minutes(machine, faults, start, cold_heat(machine, faults), minutes)
