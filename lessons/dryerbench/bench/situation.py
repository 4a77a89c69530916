"""A machine with its faults in one state, settled: does the motor really run, does the breaker hold, what is live."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal, Unpack

from dryerbench.bench.faults import Fault, family_of, faulty_circuit, from_family
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.schoolroom import family_machine, setting_of
from dryerbench.bench.states import State, StateChange
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import MAINS_HERTZ, Solution, solve, solve_all
from dryerbench.family import settling
from dryerbench.family.settling import MOTOR_AMPS, MOTOR_VOLTS, TRIP_FACTOR

TOUCH_VOLTS = 30.0
"""Volts from which a part counts as live (from memory of the usual limit for dry skin)."""


_HOUSE = ("service-", "panel-", "breaker-", "outlet-")
_KEPT = 128
"""Situations kept with what was solved of them, about 0.1 MB each: an act often comes back to one just left."""
_CLEARLY = 0.999  # so far below a limit that no rounding can lift it over
_STOPS = "the motor stops"
_SAID = {"the motor does not turn": _STOPS, "the motor stops when start is let go": _STOPS}
"""What the bench says in the place of the family's words."""


def motor_turns(live: Solution) -> bool:
    """Return whether the motor has the volts and the amps to come up to speed and stay there."""
    return abs(live["W1", "W0"].volts) >= MOTOR_VOLTS and abs(live.amps("run winding")) >= MOTOR_AMPS


def breaker_holds(machine: Machine, live: Solution) -> bool:
    """Return whether neither pole of the breaker carries more than it holds for long."""
    return max(abs(live.amps(f"breaker {pole}")) for pole in "12") <= TRIP_FACTOR * machine.breaker_amps


def starting(state: State) -> State:
    """Return ``state`` with its start switch held and the rotor at rest."""
    return replace(state, running=False, start_pressed=True)


@dataclass(frozen=True)
class Situation:
    """A machine, its faults and its state, with the circuit that follows and its solutions."""

    machine: Machine
    faults: tuple[Fault, ...]
    state: State

    def moved(self, **changes: Unpack[StateChange]) -> Situation:
        """Return the same machine in a changed state, not settled."""
        return Situation(self.machine, self.faults, replace(self.state, **changes))

    @cached_property
    def circuit(self) -> Circuit:
        """The circuit of this machine, with these faults, in this state."""
        return faulty_circuit(self.machine, self.state, self.faults)

    @cached_property
    def live(self) -> Solution:
        """The circuit at mains frequency, in volts and amps."""
        return solve(self.circuit)

    @property
    def flows(self) -> Solution:
        """The volts and amps at mains frequency; the ohms behind two points only if ``live`` was asked for before."""
        return self.__dict__.get("live") or self._flowing

    @cached_property
    def _flowing(self) -> Solution:
        return solve_all([self.circuit], pairs=False)[0]

    def cannot_reach(self, volts: float, a: str, b: str) -> bool:
        """Return whether no resistance between two points can see so many volts: they are not there even without load.

        What is behind two points takes power and gives none: a resistance across them sees less than an open circuit.
        With the plug out nothing drives any point of the machine.
        """
        if not (self.state.plugged or a.startswith(_HOUSE) or b.startswith(_HOUSE)):
            return True
        return abs(self.flows.at(a) - self.flows.at(b)) < _CLEARLY * volts

    @cached_property
    def dead(self) -> Solution:
        """The circuit at direct current with its sources dead: what an ohmmeter drives."""
        return solve(self.circuit, 0.0)

    @cached_property
    def tag(self) -> str:
        """A text that is the same for the same machine, faults and state on every computer."""
        faults = " ".join(sorted(str(fault) for fault in self.faults))
        return f"{self.machine.tag}|{faults}|{self.state.tag}"

    @property
    def case_volts(self) -> float:
        """The volts between the bare case and earth, through a meter's 10 MΩ."""
        pair = self.live["case", "earth"]
        return abs(pair.volts) * abs(1e7 / (1e7 + pair.ohms))

    def is_live(self, a: str, b: str) -> bool:
        """Return whether touching ``a`` and ``b`` closes more than a ghost reading: over 30 V into 3 kΩ."""
        if self.cannot_reach(TOUCH_VOLTS, a, b):
            return False
        pair = self.live[a, b]
        return abs(pair.volts * 3000.0 / (3000.0 + pair.ohms)) > TOUCH_VOLTS

    def hot_points(self, points: Sequence[str]) -> list[str]:
        """Return those of ``points`` that are hot to the cabinet or earth."""
        return [point for point in points if self._is_hot(point)]

    def _is_hot(self, point: str) -> bool:
        if point not in self._hot:
            there = point in self.circuit.nodes
            self._hot[point] = there and (self.is_live(point, "case") or self.is_live(point, "earth"))
        return self._hot[point]

    @cached_property
    def _hot(self) -> dict[str, bool]:
        """Whether a point is hot, for those that were asked for."""
        return {}


@lru_cache(maxsize=_KEPT)
def situated(machine: Machine, faults: tuple[Fault, ...], state: State) -> Situation:
    """Return the situation of a machine with its faults in one state; asked again, the same one, solved as it is."""
    return Situation(machine, faults, state)


def situation_of(settled: settling.Settled) -> Situation:
    """Return what a settled machine of the family is on the bench; its points are its sheet's, its cabinet the case."""
    setting = settled.setting
    state = State(
        plugged=setting.plugged,
        breaker_on=setting.breaker_on,
        door_closed=setting.door_closed,
        start_pressed=setting.start_pressed,
        running=setting.running,
        calling=setting.heat_called,
        low_heat=setting.dial == "low",
        exhaust_celsius=setting.exhaust_celsius,
        limit_celsius=setting.box_celsius,
        element_celsius=setting.coil_celsius,
        pulled=setting.pulled,
        tripped=setting.opened,
        dial=setting.dial,
        stirred=setting.stirred,
    )
    return Situation(on_the_bench(settled.machine), tuple(map(from_family, settled.faults)), state)


def settle(machine: Machine, faults: Sequence[Fault], state: State) -> tuple[Situation, tuple[str, ...]]:
    """Return the situation that ``state`` comes to, and what happened on the way, in words.

    A motor runs if it can start as things stand (a lost leg may keep a turning motor turning, but starts none);
    an overloaded breaker trips.
    """
    return _settled(machine, tuple(faults), state)


@lru_cache(maxsize=_KEPT)
def _settled(machine: Machine, faults: tuple[Fault, ...], state: State) -> tuple[Situation, tuple[str, ...]]:
    now, happened = settle_each(machine, [faults], state)[0]
    return situated(machine, faults, now.state), happened


def settle_each(
    machine: Machine, candidates: Sequence[Sequence[Fault]], state: State
) -> list[tuple[Situation, tuple[str, ...]]]:
    """Return what ``settle`` does for each of many candidates for the faults of ``machine``, worked out together."""
    setting, stopped = setting_of(state), state.running and not (state.plugged and state.breaker_on)
    asked = [(family_of(machine, faults), setting) for faults in candidates]
    found = []
    for faults, settled in zip(candidates, settling.settle_all(family_machine(machine), asked), strict=True):
        now = replace(state, running=settled.setting.running, breaker_on=settled.setting.breaker_on)
        happened = (_STOPS,) if stopped else tuple(_SAID.get(words, words) for words in settled.happened)
        found.append((Situation(machine, tuple(faults), now), happened))
    return found


def solve_each(situations: Iterable[Situation], what: Literal["live", "dead", "_flowing"]) -> None:
    """Solve together those of ``situations`` that are not solved yet; each keeps its own, as if it had been asked."""
    missing = [one for one in situations if what not in one.__dict__]
    hertz, pairs = 0.0 if what == "dead" else MAINS_HERTZ, what != "_flowing"
    for one, solved in zip(missing, solve_all([one.circuit for one in missing], hertz, pairs=pairs), strict=True):
        one.__dict__[what] = solved
