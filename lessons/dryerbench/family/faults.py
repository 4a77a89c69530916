"""Faults of one machine: written ``NAME``, ``NAME@PART`` or ``NAME@PART=STRENGTH``, and the circuit they make."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import product

from dryerbench.circuits.circuit import Circuit
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.effects import air_lost, on_circuit, on_machine, on_setting
from dryerbench.family.fault_file import FaultKind, UnknownFaultError, catalogue, fault_kind, pairs
from dryerbench.family.fault_targets import CONDITIONS, Target, targets
from dryerbench.family.machine import Machine
from dryerbench.family.settings import Setting
from dryerbench.family.wiring import wire_up


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault of the catalogue, what it hangs on (nothing for the machine itself), and its strength."""

    name: str
    on: str = ""
    strength: float | None = None

    def __str__(self) -> str:
        where = f"@{self.on}" if self.on else ""
        return f"{self.name}{where}" + ("" if self.strength is None else f"={self.strength:g}")

    @property
    def kind(self) -> FaultKind:
        """Its entry in the catalogue."""
        return fault_kind(self.name)

    @property
    def air_lost(self) -> float:
        """The share of the air that it takes away."""
        return air_lost(self.kind.does, self.strength or 0.0)


@cache
def _targets(made: Arrangement, name: str) -> dict[str, Target]:
    kind = fault_kind(name)
    if kind.where and not CONDITIONS[kind.where](made):
        return {}
    return {target.name: target for where in kind.on for target in targets(made, where)}


def target_of(made: Arrangement, fault: Fault) -> Target:
    """Return what ``fault`` hangs on in this machine.

    Raises
    ------
    UnknownFaultError
        If this machine has no such part.
    """
    there = _targets(made, fault.name)
    if not there:
        raise UnknownFaultError(f"The dryer {made.name} cannot have the fault {fault.name}.")
    if fault.on not in there:
        raise UnknownFaultError(
            f"On the dryer {made.name} the fault {fault.name} hangs on {', '.join(there)}, not on '{fault.on}'."
        )
    return there[fault.on]


@cache
def faults_of(made: Arrangement) -> tuple[Fault, ...]:
    """Return every fault that this machine can have, once for each part it hangs on, at its usual strength."""
    return tuple(
        Fault(name, on, kind.strength.usual if kind.strength else None)
        for name, kind in catalogue().items()
        for on in _targets(made, name)
    )


def _beside(cause: Target, effect: Target) -> bool:
    """Return whether a fault at one target can cause one at the other: heat and metal reach what touches."""
    if cause.part.startswith("coil ") and effect.part.startswith("coil "):
        return cause.part == effect.part
    if cause.part.startswith("wire ") and effect.part.startswith(("coil ", "wire ")):
        return bool(set(cause.points) & set(effect.points))
    if cause.part.startswith(("cord ", "plug blade ")) and effect.part.startswith(("cord ", "plug blade ")):
        return cause.name == effect.name
    return True


@cache
def pairs_of(made: Arrangement) -> tuple[tuple[Fault, ...], ...]:
    """Return the causes with their effect (last) that this machine can have together, at their usual strengths."""
    usual = {name: fault_kind(name).strength for name in catalogue()}
    found = []
    for causes, effect in pairs():
        names = (*causes, effect)
        for chosen in product(*(_targets(made, name).values() for name in names)):
            guarded = "limit-stuck" in causes and len(made.of_kind("high limit")) > 1  # the other limit still opens
            if not guarded and all(_beside(cause, chosen[-1]) for cause in chosen[:-1]):
                strengths = [strength.usual if (strength := usual[name]) else None for name in names]
                found.append(tuple(Fault(*one) for one in zip(names, (t.name for t in chosen), strengths, strict=True)))
    return tuple(found)


def read_fault(text: str, made: Arrangement) -> Fault:
    """Return the fault of ``made`` written as ``NAME``, ``NAME@PART`` or with ``=STRENGTH`` after it.

    A part left out is the only one there is; a strength left out is the usual one.

    Raises
    ------
    UnknownFaultError
        For a fault or part that the machine does not have, a part left out where there are several, or a strength that
        is no number, not wanted or outside its range.
    """
    words, equals, number = text.strip().partition("=")
    name, _, on = words.strip().partition("@")
    kind = fault_kind(name)
    there = _targets(made, name)
    if not on and there and "" not in there:
        if len(there) > 1:
            raise UnknownFaultError(
                f"The dryer {made.name} has {name} on several parts: write {_written(name, there)}."
            )
        on = next(iter(there))
    fault = Fault(name, on, _strength(kind, number, equals))
    target_of(made, fault)
    return fault


def _written(name: str, there: dict[str, Target]) -> str:
    return " or ".join(f"{name}@{on}" for on in there)


def _strength(kind: FaultKind, number: str, equals: str) -> float | None:
    if kind.strength is None:
        if equals:
            raise UnknownFaultError(f"The fault {kind.name} has no strength: write it without '={number}'.")
        return None
    if not equals:
        return kind.strength.usual
    try:
        value = float(number)
    except ValueError:
        raise UnknownFaultError(f"'{number}' is not a number for the strength of {kind.name}.") from None
    if not kind.strength.low <= value <= kind.strength.high:
        raise UnknownFaultError(
            f"The strength of {kind.name} ({kind.strength.means}) runs from {kind.strength.low:g} to "
            f"{kind.strength.high:g}; {value:g} is outside."
        )
    return value


def _ordered(faults: Sequence[Fault]) -> Iterator[Fault]:
    return iter(sorted(faults, key=str))


@lru_cache(maxsize=4096)
def changed_machine(machine: Machine, faults: tuple[Fault, ...]) -> Machine:
    """Return the machine that its faults make of it: ratings moved, another supply, a longer cord."""
    for fault in _ordered(faults):
        target = target_of(machine.arrangement, fault)
        machine = on_machine(fault.kind.does, machine, target, fault.strength or 0.0)
    return machine


def faulty_circuit(machine: Machine, setting: Setting, faults: Sequence[Fault] = ()) -> Circuit:
    """Return the circuit of ``machine`` in ``setting`` with ``faults``, whatever their order.

    Raises
    ------
    UnknownFaultError
        For a fault that this machine cannot have.
    """
    there = changed_machine(machine, tuple(faults))
    for fault in faults:
        setting = on_setting(fault.kind.does, setting)
    circuit = wire_up(there, setting)
    for fault in _ordered(faults):
        target = target_of(machine.arrangement, fault)
        circuit = on_circuit(fault.kind.does, circuit, target, fault.strength or 0.0, there, setting)
    return circuit
