"""A machine with its faults settled: does the motor really run, does the board have its supply, does the breaker hold.

Many cases are settled together: each round solves all circuits that are still in doubt in one call.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import Solution, solve, solve_all
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faulty_circuit
from dryerbench.family.machine import Machine
from dryerbench.family.settings import Setting

MOTOR_VOLTS = 75.0
"""The least volts at which the motor comes up to speed and stays there (usual size, no published source)."""
MOTOR_AMPS = 1.0
BOARD_VOLTS, COIL_VOLTS = 85.0, 85.0
"""The least volts at which a board works and a relay's coil pulls in (invented, of the usual size)."""
TRIP_FACTOR = 1.35
"""A breaker carries 1.35 of its rating for less than an hour (UL 489, from memory)."""
_ROUNDS = 4


@dataclass(frozen=True)
class Settled:
    """What a setting came to: the setting as it stands, its circuit solved live, and what happened on the way."""

    machine: Machine
    faults: tuple[Fault, ...]
    setting: Setting
    circuit: Circuit
    happened: tuple[str, ...]
    solved: Solution | None = None
    flowing: Solution | None = None

    @property
    def flows(self) -> Solution:
        """The volts and amps at mains frequency, without the ohms behind two points unless somebody asked for them."""
        return self.flowing or self.live

    @cached_property
    def live(self) -> Solution:
        """The circuit at mains frequency, in volts and amps."""
        return self.solved or solve(self.circuit)

    @cached_property
    def dead(self) -> Solution:
        """The circuit at direct current with its sources dead: what an ohmmeter drives."""
        return solve(self.circuit, 0.0)

    @property
    def tag(self) -> str:
        """A text that is the same for the same machine, faults and setting on every computer."""
        faults = " ".join(sorted(str(fault) for fault in self.faults))
        own = " ".join(f"{name}.{key}={value:g}" for name, key, value in self.machine.own)
        site = self.machine.site
        where = f"{site.leg_volts:g} {site.supply}"
        return f"{self.machine.arrangement.name}/{self.machine.name}/{own}/{where}|{faults}|{self.setting.tag}"


@dataclass
class _Case:
    """One case on its way: what was asked, what stands now, and the solution of that."""

    faults: tuple[Fault, ...]
    setting: Setting
    happened: list[str]
    live: Solution | None = None


def _solve(machine: Machine, cases: Sequence[_Case], *, pairs: bool) -> None:
    circuits = [faulty_circuit(machine, case.setting, case.faults) for case in cases]
    for case, live in zip(cases, solve_all(circuits, pairs=pairs), strict=True):
        case.live = live


def _volts(live: Solution, a: str, b: str) -> float:
    return abs(live.at(a) - live.at(b))


def motor_volts(made: Arrangement, live: Solution) -> float:
    """Return the volts across the motor's run winding."""
    run, _, common = made.motor.terminals
    return _volts(live, run, common)


def motor_starts(made: Arrangement, live: Solution) -> bool:
    """Return whether the motor at rest has the volts and the amps in both windings to come up to speed."""
    amps = min(abs(live.amps("run winding")), abs(live.amps("start winding")))
    return motor_volts(made, live) >= MOTOR_VOLTS and amps >= MOTOR_AMPS


def motor_stays(made: Arrangement, live: Solution) -> bool:
    """Return whether a turning motor has what it needs to go on."""
    return motor_volts(made, live) >= MOTOR_VOLTS and abs(live.amps("run winding")) >= 1e-3


def breaker_holds(machine: Machine, live: Solution) -> bool:
    """Return whether neither pole of the breaker carries more than it holds for long."""
    return max(abs(live.amps(f"breaker {leg}")) for leg in "12") <= TRIP_FACTOR * machine.site.breaker_amps


def _relays(made: Arrangement, case: _Case) -> Setting:
    """Return the setting with the board dark or not, and the follower in or not, as the volts say."""
    assert case.live is not None
    setting = case.setting
    for board in made.of_kind("board")[:1]:
        dark = _volts(case.live, f"{board.name}.L", f"{board.name}.N") < BOARD_VOLTS
        setting = replace(setting, board_dark=dark)
    for coil in made.of_kind("relay coil")[:1]:
        pulled = abs(case.live.amps(coil.name)) >= COIL_VOLTS / coil.numbers["ohms"]
        setting = replace(setting, followers_in=pulled)
    return setting


def _settle_relays(machine: Machine, cases: Sequence[_Case], *, pairs: bool = False) -> None:
    """Solve ``cases`` (with the ohms behind their pairs or without) and let their relays follow, a few rounds."""
    doubtful = list(cases)
    for _ in range(_ROUNDS):
        if not doubtful:
            return
        _solve(machine, doubtful, pairs=pairs)
        before = [case.setting for case in doubtful]
        for case in doubtful:
            case.setting = _relays(machine.arrangement, case)
        doubtful = [case for case, old in zip(doubtful, before, strict=True) if case.setting != old]
    _solve(machine, doubtful, pairs=pairs)


def _asked(case: _Case) -> bool:
    return case.setting.powered and (case.setting.running or case.setting.start_pressed)


def _start_motors(machine: Machine, cases: Sequence[_Case]) -> None:
    asked = [case for case in cases if _asked(case)]
    rests = [_Case(case.faults, replace(case.setting, running=False, start_pressed=True), []) for case in asked]
    _settle_relays(machine, rests)
    for case, rest in zip(asked, rests, strict=True):
        assert rest.live is not None
        turns = motor_starts(machine.arrangement, rest.live)
        if turns != case.setting.running:
            case.happened.append("the motor comes up to speed" if turns else "the motor does not turn")
        case.setting = replace(case.setting, running=turns)


def _stop(case: _Case, why: str, *, trips: bool = False) -> None:
    case.happened.append(why)
    case.setting = replace(case.setting, running=False, breaker_on=case.setting.breaker_on and not trips)


def _stop_where(
    machine: Machine, cases: Sequence[_Case], stops: Callable[[_Case], bool], why: str, *, trips: bool, pairs: bool
) -> None:
    stopped = [case for case in cases if stops(case)]
    for case in stopped:
        _stop(case, why, trips=trips)
    _settle_relays(machine, stopped, pairs=pairs)


def settle_all(
    machine: Machine, asked: Sequence[tuple[tuple[Fault, ...], Setting]], *, pairs: bool = False
) -> list[Settled]:
    """Return what each (faults, setting) comes to, in the order in which they were asked.

    A motor runs if it can start as things stand; a board without its supply works no relay; an overloaded breaker
    trips. A machine without power is what was asked for, with its motor at rest. With ``pairs`` every powered case
    comes with its solution, all pairs of it; else it is solved when somebody asks.
    """
    cases = [
        _Case(faults, setting if setting.powered else replace(setting, running=False), []) for faults, setting in asked
    ]
    made = machine.arrangement
    _start_motors(machine, cases)
    powered = [case for case in cases if case.setting.powered]
    _settle_relays(machine, powered, pairs=pairs)

    def stalls(case: _Case) -> bool:
        assert case.live is not None
        return case.setting.running and not motor_stays(made, case.live)

    def overloads(case: _Case) -> bool:
        assert case.live is not None
        return not breaker_holds(machine, case.live)

    _stop_where(machine, powered, stalls, "the motor stops when start is let go", trips=False, pairs=pairs)
    _stop_where(machine, powered, overloads, "the breaker trips", trips=True, pairs=pairs)
    return [_settled(machine, case, solved=pairs) for case in cases]


def _settled(machine: Machine, case: _Case, *, solved: bool) -> Settled:
    circuit = case.live.circuit if case.live else faulty_circuit(machine, case.setting, case.faults)
    return Settled(
        machine, case.faults, case.setting, circuit, tuple(case.happened), case.live if solved else None, case.live
    )


def flowing_all(settled: Sequence[Settled]) -> list[Solution]:
    """Return the volts and amps of each at mains frequency; those not solved yet are solved together."""
    missing = iter(solve_all([one.circuit for one in settled if one.flowing is None], pairs=False))
    return [next(missing) if one.flowing is None else one.flowing for one in settled]


def standing(machine: Machine, faults: Sequence[Fault], setting: Setting, *, pairs: bool = True) -> Settled:
    """Return ``setting`` with board and relays as the volts have them; motor and breaker stay as it says."""
    case = _Case(tuple(faults), setting, [])
    if setting.powered:
        _settle_relays(machine, [case], pairs=pairs)
    return _settled(machine, case, solved=pairs)


def settle(machine: Machine, faults: Sequence[Fault], setting: Setting) -> Settled:
    """Return what ``setting`` comes to on ``machine`` with ``faults``."""
    return settle_all(machine, [(tuple(faults), setting)], pairs=True)[0]
