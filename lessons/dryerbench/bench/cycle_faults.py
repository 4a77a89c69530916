"""The bench's machines and faults in the drying cycle: one catalogue, one circuit, one model of heat and air.

Watts and amps come from the bench's circuit, solved with the contacts closed, with the thermostat open and with
the motor stopped after the control let go; what a fault does to air, switches and sensor is said here.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypedDict, Unpack

from dryerbench.air.curves import root
from dryerbench.air.cycle import Cycle
from dryerbench.air.ducts import Duct
from dryerbench.air.heater_power import HeaterPower
from dryerbench.air.thermistor import BetaThermistor, DriftedThermistor
from dryerbench.air.thermostats import HeatSwitch
from dryerbench.bench.faults import Fault, faulty_circuit
from dryerbench.bench.heat import element_watts, marked
from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import settle
from dryerbench.bench.states import State
from dryerbench.circuits.solver import Solution, solve
from dryerbench.core.errors import LegToLegError
from dryerbench.family.heat import BIAS_KELVIN_PER_WATT, GLOWING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from dryerbench.air.airflow import Blower, DryerPassage
    from dryerbench.air.cycle_record import CycleRecord
    from dryerbench.air.dryer_body import DryerBody, Load, Room

ENDS_AT = 66.0
"""Exhaust temperature at which the board takes a load for dry [°C]; invented, near 6 % moisture after the cool-down."""
_RUNNING = State(running=True, calling=True, element_celsius=GLOWING)
_MOVED = ("cycling-welded",)
"""Faults that a cycle has as a switch of its own: its circuit is solved without them, to see the heat cut."""


class NoCycleError(LegToLegError, ValueError):
    """A machine whose motor does not run, or whose breaker trips: it has no drying cycle."""


class CycleSettings(TypedDict, total=False):
    """What of a ``Cycle`` is not decided by the machine and its faults."""

    duct: Duct
    passage: DryerPassage
    blower: Blower | None
    control: HeatSwitch | None
    body: DryerBody
    load: Load
    room: Room
    minutes: float
    cool_down: float
    stop_when_dry: bool
    run_minutes: float | None


def heater_power(machine: Machine, faults: Sequence[Fault] = ()) -> HeaterPower:
    """Return the heater's watts and amps in the bench's circuit, with its elements hot.

    Amps are those in the busier of the heater's two leads: they differ when an element is grounded.

    Raises
    ------
    FaultError
        For a fault that this machine cannot have.
    """
    ohmic = [fault for fault in faults if fault.name not in _MOVED]
    states = (_RUNNING, replace(_RUNNING, exhaust_celsius=200.0), replace(_RUNNING, running=False, calling=False))
    closed, opened, stopped = (solve(faulty_circuit(machine, state, ohmic)) for state in states)
    each = element_watts(closed)
    lit = sum(watts > 0.01 * max(each) for watts in each) or len(each)
    return HeaterPower(
        closed_watts=sum(each),
        closed_amps=_lead_amps(closed),
        open_watts=sum(element_watts(opened)),
        open_amps=_lead_amps(opened),
        stopped_watts=sum(element_watts(stopped)),
        stopped_amps=_lead_amps(stopped),
        lit=lit / len(each),
        stopped_through_switches=True,
    )


def _lead_amps(solution: Solution) -> float:
    return max(abs(solution.amps(lead)) for lead in ("wire H1", "wire L2"))


def duct_with_air_lost(duct: Duct, share: float) -> Duct:
    """Return ``duct`` shut so far at one place that the machine moves ``share`` (0 to below 1) less air."""
    wanted = Cycle(duct=duct).air.flow * (1.0 - share)

    def surplus(blocked: float) -> float:
        return Cycle(duct=replace(duct, blocked=blocked)).air.flow - wanted

    blocked = root(surplus, duct.blocked, 1.0, 1e-6)
    return replace(duct, blocked=float(blocked))


def faulty_cycle(
    machine: Machine,
    faults: Sequence[Fault] = (),
    low_heat: bool = False,
    board_ends: bool = False,
    **settings: Unpack[CycleSettings],
) -> Cycle:
    """Return the cycle of a machine with faults; ``settings`` are those of ``Cycle`` (duct, load, minutes, …).

    ``board_ends``: the board ends the heat when its thermistor reads ``ENDS_AT``; otherwise the timer does.

    Raises
    ------
    NoCycleError
        If the motor does not run or the breaker trips.
    FaultError
        For a fault that this machine cannot have.
    """
    _check_it_runs(machine, faults)
    strengths = {fault.name: fault.strength for fault in faults}
    duct = settings.get("duct", Duct())
    if "blocked-vent" in strengths:
        duct = duct_with_air_lost(duct, strengths["blocked-vent"] or 0.0)
    settings["duct"] = duct
    shift = strengths.get("cycling-off-mark") or 0.0
    if low_heat:
        shift -= BIAS_KELVIN_PER_WATT * _bias_watts(machine, faults)
    return Cycle(
        heater=heater_power(machine, faults),
        thermostat=None if "cycling-welded" in strengths else _thermostat(machine).off_its_mark(shift),
        high_limit=None if "high-limit-stuck" in strengths else marked("high_limit", machine.limit_opens),
        cutoff=marked("thermal_cutoff", machine.cutoff_blows),
        ends_at=_ends_at(machine, strengths) if board_ends else None,
        control_welded="control-welded" in strengths,
        **settings,
    )


def state_at(record: CycleRecord, minute: float, state: State) -> State:
    """Return the bench's ``state`` with the temperatures [°C] and the cut-off as the cycle has them at ``minute``.

    Raises
    ------
    OutOfRangeError
        If the minute is outside the record.
    """
    return replace(
        state,
        exhaust_celsius=float(record.celsius("thermostat", minute)[0]),
        limit_celsius=float(record.celsius("limit", minute)[0]),
        element_celsius=float(record.celsius("element", minute)[0]),
        cutoff_blown=not record.closed("cutoff", minute),
    )


def _check_it_runs(machine: Machine, faults: Sequence[Fault]) -> None:
    ohmic = [fault for fault in faults if fault.name not in _MOVED]
    _, happened = settle(machine, ohmic, _RUNNING)
    if happened:
        names = ", ".join(str(fault) for fault in faults)
        raise NoCycleError(f"There is no drying cycle with {names}: {' and '.join(happened)}.")


def _thermostat(machine: Machine) -> HeatSwitch:
    return marked("cycling_thermostat", machine.cycling_opens)


def _bias_watts(machine: Machine, faults: Sequence[Fault]) -> float:
    ohmic = [fault for fault in faults if fault.name not in _MOVED]
    circuit = faulty_circuit(machine, replace(_RUNNING, low_heat=True), ohmic)
    return float(solve(circuit).watts("bias heater").real)


def _ends_at(machine: Machine, strengths: dict[str, float | None]) -> float | None:
    """Return the true exhaust temperature [°C] at which the board believes ``ENDS_AT``; None if it never does."""
    if "thermistor-open" in strengths:
        return None  # no current: the coldest reading there is
    if "thermistor-shorted" in strengths:
        return -40.0  # the hottest reading there is: at once
    factor = machine.thermistor_factor * (strengths.get("thermistor-drifted") or 1.0)
    sound = BetaThermistor(machine.thermistor_ohms, machine.thermistor_beta)
    return DriftedThermistor(sound, factor).true_celsius(ENDS_AT)
