"""Heat on the bench: what some minutes do to a machine with its faults, by the family's heat, and what is noticed.

``pass_minutes`` is pure: a machine, its faults, its state and its heat go in, and what they have come to comes out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.air.dryer_body import Room
from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.air.warm_machine import Heat, HeatParts, Moved, cold
from dryerbench.bench.access import limits, one_shots
from dryerbench.bench.faults import Fault, family_of
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.schoolroom import PARTS, family_machine, our_name, setting_of, state_after
from dryerbench.bench.situation import Situation, settle_each
from dryerbench.bench.states import ROOM, State, StateChange, named_state
from dryerbench.circuits.solver import Solution
from dryerbench.core.temperatures import celsius
from dryerbench.family import heat as family_heat
from dryerbench.family.kinds import ONE_SHOT

CYCLING, LIMIT_SWITCH, CUTOFF = PARTS["Cyc"], PARTS["Lim"], PARTS["Cut"]
_WARM_AIR = 8.0  # K above the room from which a hand calls the air warm


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


def marked(part: str, opens: float, name: str = "") -> HeatSwitch:
    """Return the usual part, moved so that it opens at ``opens`` [°C], under ``name`` if one is given."""
    usual = usual_switch(part)
    return replace(usual.off_its_mark(opens - usual.opens), name=name or usual.name)


def element_watts(live: Solution) -> list[float]:
    """Return the heat of each element [W]; the parts of a grounded one together."""
    watts = dict.fromkeys(ELEMENTS, 0.0)
    for part in live.circuit:
        if part.kind == "resistance" and part.name.startswith("element "):
            watts[int(part.name.split()[1])] += live.watts(part.name).real
    return list(watts.values())


def heat_parts(machine: Machine, faults: tuple[Fault, ...], bias_watts: float = 0.0) -> HeatParts:
    """Return what decides the heat of ``machine`` with ``faults``."""
    return family_heat.heat_parts(family_machine(machine), family_of(machine, faults), bias_watts)


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
    return _passed(machine, tuple(faults), state, heat, minutes)


@lru_cache(maxsize=1024)
def _passed(machine: Machine, faults: tuple[Fault, ...], state: State, heat: Heat, minutes: float) -> After:
    stands, there = family_machine(machine), family_of(machine, faults)
    done = family_heat.pass_minutes(stands, there, setting_of(state), heat, minutes)
    moves = tuple(replace(move, switch=our_name(machine, move.switch)) for move in done.moves)
    return After(done.heat, state_after(machine, state, done.setting), moves, done.joules, minutes)


def blown(machine: Machine, state: State) -> frozenset[str]:
    """Return the one-shot switches that stand open, by the bench's names."""
    return (state.tripped & one_shots(machine)) | ({CUTOFF} if state.cutoff_blown else frozenset())


def blown_by_hand(machine: Machine, state: State) -> list[tuple[StateChange, str]]:
    """Return the change of state for each one-shot switch that is held too warm, and what it is called.

    Held are thermostats, limits and what stands with them at the box; a thermal fuse in the duct is left out of it,
    since any limit opens above its mark.
    """
    if machine.stands is None:
        held = state.limit_celsius >= machine.cutoff_blows and not state.cutoff_blown
        return [({"cutoff_blown": True}, "the thermal cut-off")] if held else []
    made, hot = machine.stands.arrangement, set()
    for part in (one for one in made.of_kind(*ONE_SHOT) if one.kind.feels == "box"):
        marked_at = celsius(machine.stands.number(part.name, "opens"))
        if part.name not in state.tripped and state.limit_celsius >= marked_at:
            hot.add(part.name)
    return [({"tripped": state.tripped | hot}, f"the one-shot switch {' and '.join(sorted(hot))}")] if hot else []


def words(machine: Machine, after: After, before: State) -> list[str]:
    """Return what a person beside the machine notices while it runs: clicks, a stop, the air turning cold."""
    noticed = []
    clicks = sum(map(after.opened, limits(machine)))
    if clicks:
        noticed.append(
            "a switch at the heater box clicks off and on" if clicks > 1 else "a switch at the heater box clicks"
        )
    burst = sorted(filter(after.opened, one_shots(machine)))
    noticed += [f"the {name} blows" if name == CUTOFF else f"the one-shot switch {name} blows" for name in burst]
    if before.running and not after.state.running:
        noticed.append("the motor stops")
    if before.breaker_on and not after.state.breaker_on:
        noticed.append("the breaker trips")
    return noticed


def air_in_words(machine: Machine, after: After) -> str:
    """Return whether the air that comes out is warm."""
    warm = after.state.exhaust_celsius > ROOM + _WARM_AIR
    if warm and (blown(machine, after.state) or not after.joules):
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
    return asked_for_each(machine, [faults], asked)[0]


def asked_for_each(
    machine: Machine, candidates: Sequence[Sequence[Fault]], asked: State
) -> list[tuple[Situation, Situation]]:
    """Return what ``asked_for`` does for each of many candidates for the faults of ``machine``."""
    if asked.ran:
        return [_ran(machine, tuple(faults), asked) for faults in candidates]
    return [(now, now) for now, _ in settle_each(machine, candidates, asked)]


def _ran(machine: Machine, there: tuple[Fault, ...], asked: State) -> tuple[Situation, Situation]:
    after = after_running(machine, there, replace(asked, ran=0.0), _round_minutes(asked.ran))
    now = Situation(machine, there, after.state)
    swings = {
        move.switch
        for move in after.moves
        if move.switch not in one_shots(machine) and move.seconds > 60.0 * after.minutes / 2.0
    }
    if not swings or blown(machine, after.state):
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
