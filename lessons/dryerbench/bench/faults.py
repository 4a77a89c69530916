"""Faults, each a change of the machine, of its state or of its parts, alone or together.

What is heard, how common, how long and how dear stands in the table ``faults`` (weights and costs invented for
training). What a fault does to the machine stands here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.states import State
from dryerbench.bench.wiring import wire_up
from dryerbench.circuits.circuit import Circuit, Part
from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import Row, table

_OPEN_OHMS = 1e9  # a broken coil: its ends still face each other
_BRIDGE_OHMS = 0.01  # metal on metal


class FaultError(LegToLegError, ValueError):
    """A fault, or a strength of one, that this bench does not know or this machine cannot have."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault by name, with its strength (unit in the table ``faults``) where it has one."""

    name: str
    strength: float | None = None

    def __str__(self) -> str:
        return self.name if self.strength is None else f"{self.name}={self.strength:g}"


@cache
def fault_names() -> tuple[str, ...]:
    """Return the names of all faults, in the order of the table ``faults``."""
    return tuple(table("faults").texts("fault"))


@cache
def catalogue(name: str) -> Row:
    """Return the row of the table ``faults`` for ``name``.

    Raises
    ------
    FaultError
        For a fault that the table does not have.
    """
    if name not in fault_names():
        raise FaultError(f"There is no fault '{name}'. The faults are: {', '.join(fault_names())}.")
    return table("faults").row(fault=name)


def read_fault(text: str) -> Fault:
    """Return the fault written as ``NAME`` or ``NAME=STRENGTH``; a strength left out is the usual one.

    Raises
    ------
    FaultError
        For an unknown name, or a strength that is no number, not wanted or outside its range.
    """
    name, _, strength = text.strip().partition("=")
    row = catalogue(name.strip())
    usual = row.number_or_none("strength_usual")
    if usual is None:
        if strength:
            raise FaultError(f"The fault {row['fault']} has no strength: write it without '={strength}'.")
        return Fault(row.text("fault"))
    try:
        value = float(strength) if strength else float(usual)
    except ValueError:
        raise FaultError(f"'{strength}' is no number for the strength of {row['fault']}.") from None
    low, high, unit = row.number("strength_low"), row.number("strength_high"), row["strength_unit"] or ""
    if not low <= value <= high:
        raise FaultError(
            f"The strength of {row['fault']} ({row['strength_means']}) runs from {low:g} to {high:g} {unit}".rstrip()
            + f"; {value:g} is outside."
        )
    return Fault(row.text("fault"), value)


def fits(fault: Fault, machine: Machine) -> bool:
    """Return whether the machine can have the fault: a strap or a ground wire depends on the cord."""
    return catalogue(fault.name)["cord"] in ("any", machine.cord)


# --- what each fault changes -------------------------------------------------------------------------------------

PartsChange = Callable[[Circuit, float], Circuit]
MachineChange = Callable[[Machine, float], Machine]


def _opened(part: str) -> PartsChange:
    return lambda circuit, _: circuit.changed(part, closed=False) if part in circuit else circuit


def _closed(part: str) -> PartsChange:
    return lambda circuit, _: circuit.changed(part, closed=True) if part in circuit else circuit


def _valued(part: str, change: Callable[[float, float], float]) -> PartsChange:
    def apply(circuit: Circuit, strength: float) -> Circuit:
        return circuit.changed(part, value=change(circuit.part(part).value, strength))

    return apply


def _grounded(number: int) -> PartsChange:
    """Split the element at the strength's share of its length and join that place to the case."""

    def apply(circuit: Circuit, share: float) -> Circuit:
        own = circuit.part(f"element {number}")
        tap = f"T{number}-touch"
        near = replace(own, b=tap, value=own.value * share)
        far = Part(f"element {number} rest", "resistance", tap, own.b, own.value * (1.0 - share))
        touch = Part(f"element {number} touch", "contact", tap, "case", _BRIDGE_OHMS)
        return circuit.changed(own.name, b=near.b, value=near.value).added(far, touch)

    return apply


def _damp(circuit: Circuit, ohms: float) -> Circuit:
    return circuit.added(Part("damp path", "resistance", "T0", "case", ohms))


_MACHINE: dict[str, MachineChange] = {
    "cycling-off-mark": lambda m, kelvin: replace(m, cycling_opens=m.cycling_opens + kelvin),
    "thermistor-drifted": lambda m, factor: replace(m, thermistor_factor=m.thermistor_factor * factor),
    "supply-208": lambda m, _: replace(m, supply="wye"),
    "low-supply": lambda m, share: replace(m, leg_volts=m.leg_volts * (1.0 - share)),
    "thin-cord": lambda m, feet: replace(m, extension_feet=m.extension_feet + feet),
}
_AIR = frozenset({"blocked-vent"})
"""Faults of the air alone: they change no part of the circuit; what the heat then does is ``bench.heat``'s."""
_PARTS: dict[str, PartsChange] = {
    "leakage-to-case": _damp,
    "high-limit-open": _opened("high limit"),
    "high-limit-stuck": _closed("high limit"),
    "cut-off-blown": _opened("thermal cut-off"),
    "cycling-open": _opened("cycling thermostat"),
    "cycling-welded": _closed("cycling thermostat"),
    "thermistor-open": _valued("thermistor", lambda _ohms, _: _OPEN_OHMS),
    "thermistor-shorted": _valued("thermistor", lambda _ohms, _: 1.0),
    "motor-heat-contact-open": _opened("motor heat contact"),
    "control-open": _opened("control contact"),
    "control-welded": _closed("control contact"),
    "burnt-joint": _valued("cord 1", lambda ohms, more: ohms + more),
    "lost-leg-1": _opened("breaker 1"),
    "lost-leg-2": _opened("breaker 2"),
    "open-neutral": _opened("run N"),
    "open-service-neutral": _opened("service neutral"),
    "missing-bond": _opened("bond wire"),
    "strap-missing": _opened("frame strap"),
    "strap-left-on": _closed("frame strap"),
    "bias-heater-open": _valued("bias heater", lambda _ohms, _: _OPEN_OHMS),
    "door-switch-open": _opened("door switch"),
    "run-winding-open": _valued("run winding", lambda _ohms, _: _OPEN_OHMS),
}
for _number in ELEMENTS:
    _name = f"element {_number}"
    _PARTS[f"element-{_number}-open"] = _valued(_name, lambda _ohms, _: _OPEN_OHMS)
    _PARTS[f"element-{_number}-shorted"] = _valued(_name, lambda ohms, share: ohms * (1.0 - share))
    _PARTS[f"element-{_number}-drifted"] = _valued(_name, lambda ohms, factor: ohms * factor)
    _PARTS[f"element-{_number}-grounded"] = _grounded(_number)


def known_changes() -> frozenset[str]:
    """Return the names of every fault that this module can apply."""
    return frozenset(_MACHINE) | _AIR | frozenset(_PARTS)


def changed_by(machine: Machine, faults: Sequence[Fault]) -> Machine:
    """Return the machine that ``faults`` make of this one: its supply and the marks of its switches.

    Raises
    ------
    FaultError
        For an unknown fault, one that the machine's cord cannot have, or one named twice.
    """
    _check(faults, machine)
    changed = machine
    for fault in _ordered(faults):
        changed = _MACHINE.get(fault.name, _same_machine)(changed, fault.strength or 0.0)
    return changed


def faulty_circuit(machine: Machine, state: State, faults: Sequence[Fault] = ()) -> Circuit:
    """Return the circuit of ``machine`` in ``state`` with ``faults``, whatever their order.

    Raises
    ------
    FaultError
        For an unknown fault, one that the machine's cord cannot have, or one named twice.
    """
    circuit = wire_up(changed_by(machine, faults), state)
    for fault in _ordered(faults):
        circuit = _PARTS.get(fault.name, _same_parts)(circuit, fault.strength or 0.0)
    return circuit


def _ordered(faults: Sequence[Fault]) -> list[Fault]:
    return sorted(faults, key=lambda fault: fault.name)


def _same_machine(machine: Machine, _: float) -> Machine:
    return machine


def _same_parts(circuit: Circuit, _: float) -> Circuit:
    return circuit


def _check(faults: Sequence[Fault], machine: Machine) -> None:
    names = [fault.name for fault in faults]
    for fault in faults:
        row = catalogue(fault.name)
        if names.count(fault.name) > 1:
            raise FaultError(f"The fault {fault.name} is named twice: give it once, with one strength.")
        if not fits(fault, machine):
            raise FaultError(
                f"The fault {fault.name} needs a {row['cord']} cord; this machine has a {machine.cord} one."
            )
        if (row["strength_usual"] is None) != (fault.strength is None):
            raise FaultError(f"The fault {fault.name} takes {'no' if fault.strength is not None else 'a'} strength.")
