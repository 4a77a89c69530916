"""The wiring of the lessons' dryer, from the service to the case: the Schoolroom's circuit in the lessons' words."""

from __future__ import annotations

from functools import lru_cache

from dryerbench.air.thermistor import BetaThermistor, DriftedThermistor
from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import PARTS, family_machine, on_bench, schoolroom, setting_of
from dryerbench.bench.states import State
from dryerbench.circuits.circuit import Circuit
from dryerbench.core.tables import table
from dryerbench.family import wiring as of_family

_WINDINGS = schoolroom().motor.numbers
RUN_OHMS, START_OHMS = _WINDINGS["run"], _WINDINGS["start"]
"""The motor's windings, cold [Ω]."""


def points() -> tuple[str, ...]:
    """Return the test points, in the order of the table ``test-points``."""
    return tuple(table("test-points").texts("point"))


def pullable() -> tuple[str, ...]:
    """Return the wires of the machine that a hand can pull off."""
    return (*(name for name in PARTS.values() if name.startswith("wire ")), "ground wire")


def thermistor_ohms(machine: Machine, celsius: float) -> float:
    """Return the thermistor's Ω at ``celsius`` °C: the beta law, times what it has drifted by."""
    sound = BetaThermistor(machine.thermistor_ohms, machine.thermistor_beta)
    return DriftedThermistor(sound, machine.thermistor_factor).ohms(celsius)


@lru_cache(maxsize=4096)
def wire_up(machine: Machine, state: State) -> Circuit:
    """Return the circuit of ``machine`` in ``state``: every contact where the state puts it, pulled wires off.

    Raises
    ------
    TableError
        For a conductor or an element temperature outside the tables.
    """
    setting = setting_of(state)
    return on_bench(machine, of_family.wire_up(family_machine(machine), setting), setting.pulled)
