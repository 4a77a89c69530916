"""Faults, each a change of the machine, of its state or of its parts, alone or together.

What is heard, how common, how long and how dear stands in the table ``faults`` (weights and costs invented for
training). What a fault does to the machine is the family's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from dryerbench.bench.machine import Machine
from dryerbench.bench.schoolroom import COILS, family_machine, on_bench, setting_of
from dryerbench.bench.states import State
from dryerbench.bench.wiring import wire_up
from dryerbench.circuits.circuit import Circuit
from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import Row, table
from dryerbench.family import faults as family_faults
from dryerbench.family import settling
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_file import FaultKind, UnknownFaultError, fault_kind
from dryerbench.family.kinds import RELAYS


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
    if name in fault_names():
        return table("faults").row(fault=name)
    kind, _, on = name.partition("@")
    try:
        return _row(name, fault_kind(kind), on)
    except UnknownFaultError:
        raise FaultError(f"There is no fault '{name}'. The faults are: {', '.join(fault_names())}.") from None


def _row(name: str, kind: FaultKind, on: str) -> Row:
    """Return a fault of the family as a row like those of the table ``faults``."""
    strength = kind.strength
    return Row(
        {
            "fault": name,
            "title": f"{kind.title} ({on})" if on else kind.title,
            "part": _part_of(kind, on),
            "complaint": kind.says,
            "weight": kind.job.weight,
            "minutes": kind.job.minutes,
            "parts_cost": kind.job.dollars,
            "strength_low": strength.low if strength else None,
            "strength_high": strength.high if strength else None,
            "strength_usual": strength.usual if strength else None,
            "strength_unit": None,
            "strength_means": strength.means if strength else None,
            "cord": "any",
            "who": "mechanic" if kind.by in ("owner", "technician") else "electrician",
        }
    )


def _part_of(kind: FaultKind, on: str) -> str:
    """Return what is replaced or put right: the part that a fault hangs on, or what of the machine it is."""
    where = kind.on[0]
    if where == "coil":
        return f"coil {on}"
    if where in ("heater lead", "splice lead", "jumper", "shared terminal"):
        return f"wire {on}"
    if where in ("block screw", "plug blade"):
        return f"{where} {on}"
    if where != "machine":
        return on
    if kind.does.startswith(("opens ", "welds ")):
        return kind.does.split(maxsplit=1)[1]
    return "heater" if kind.where == "made for 208 V" else _PLACES.get(kind.does.split()[0], kind.name)


def read_fault(text: str, machine: Machine | None = None) -> Fault:
    """Return the fault written as ``NAME`` or ``NAME=STRENGTH``; a strength left out is the usual one.

    On another ``machine`` than the lessons' own it is a fault of the family, ``NAME@PART`` or ``NAME@PART=STRENGTH``.

    Raises
    ------
    FaultError
        For an unknown name, or a strength that is no number, not wanted or outside its range.
    """
    name, _, strength = text.strip().partition("=")
    if (machine is not None and machine.stands is not None) or "@" in name:
        return _read_family(text, machine or Machine())
    row = catalogue(name.strip())
    usual = row.number_or_none("strength_usual")
    if usual is None:
        if strength:
            raise FaultError(f"The fault {row['fault']} has no strength: write it without '={strength}'.")
        return Fault(row.text("fault"))
    try:
        value = float(strength) if strength else float(usual)
    except ValueError:
        raise FaultError(f"'{strength}' is not a number for the strength of {row['fault']}.") from None
    low, high, unit = row.number("strength_low"), row.number("strength_high"), row["strength_unit"] or ""
    if not low <= value <= high:
        raise FaultError(
            f"The strength of {row['fault']} ({row['strength_means']}) runs from {low:g} to {high:g} {unit}".rstrip()
            + f"; {value:g} is outside."
        )
    return Fault(row.text("fault"), value)


def _read_family(text: str, machine: Machine) -> Fault:
    try:
        found = family_faults.read_fault(text, family_machine(machine).arrangement)
    except UnknownFaultError as problem:
        raise FaultError(str(problem)) from None
    return from_family(found)


def from_family(fault: family_faults.Fault) -> Fault:
    """Return a fault of the family as one of the bench."""
    return Fault(f"{fault.name}@{fault.on}" if fault.on else fault.name, fault.strength)


def fits(fault: Fault, machine: Machine) -> bool:
    """Return whether the machine can have the fault: it has the part, and the cord that the fault is one of."""
    if fault.name not in _FAMILY or machine.stands is not None:
        name, on = _split(fault.name)
        there = family_faults.faults_of(family_machine(machine).arrangement)
        return any((one.name, one.on) == (name, on) for one in there)
    return catalogue(fault.name)["cord"] in ("any", machine.cord)


_FAMILY: dict[str, str] = {
    **{f"element-{number}-open": f"coil-open-of-several@{coil}" for number, coil in COILS.items()},
    **{f"element-{number}-shorted": f"coil-bridged@{coil}" for number, coil in COILS.items()},
    **{f"element-{number}-drifted": f"coil-aged@{coil}" for number, coil in COILS.items()},
    **{f"element-{number}-grounded": f"coil-touches@{coil}" for number, coil in COILS.items()},
    "leakage-to-case": f"moisture-leak@{COILS[1]}",
    "high-limit-open": "limit-open@Lim",
    "high-limit-stuck": "limit-stuck@Lim",
    "cut-off-blown": "cut-off-blown@Cut",
    "cycling-open": "cycling-open@Cyc",
    "cycling-welded": "cycling-welded@Cyc",
    "cycling-off-mark": "cycling-late@Cyc",
    "thermistor-open": "sensor-open@The",
    "thermistor-shorted": "sensor-shorted@The",
    "thermistor-drifted": "sensor-drifted@The",
    "motor-heat-contact-open": "motor-contact-open@Cen",
    "control-open": "heat-contact-open@Ctl",
    "control-welded": "heat-contact-welded@Ctl",
    "burnt-joint": "block-screw-loose@L1",
    "lost-leg-1": "leg-1-lost",
    "lost-leg-2": "leg-2-lost",
    "open-neutral": "neutral-lost",
    "open-service-neutral": "service-neutral-lost",
    "missing-bond": "ground-off",
    "strap-missing": "strap-off",
    "strap-left-on": "strap-left-on",
    "supply-208": "supply-of-208",
    "low-supply": "supply-sags",
    "thin-cord": "cord-thin",
    "blocked-vent": "vent-restricted",
    "bias-heater-open": "bias-heater-open@Bias",
    "door-switch-open": "door-switch-open@Door",
    "run-winding-open": "run-winding-open@Mot",
}
"""The family's fault, and what of the Schoolroom it hangs on, by the lessons' name."""
_PLACES = {"air": "vent", "supply": "supply", "extension": "cord"}
_KELVIN = {"cycling-off-mark": 1.8}
"""Faults whose strength the lessons give in K and the family in °F."""


def known_changes() -> frozenset[str]:
    """Return the names of every fault that has one of the family behind it."""
    return frozenset(_FAMILY)


@lru_cache(maxsize=4096)
def of_family(fault: Fault, cord: str) -> family_faults.Fault:
    """Return the family's fault that ``fault`` is on a machine with ``cord``."""
    if fault.name not in _FAMILY:
        return family_faults.Fault(*_split(fault.name), fault.strength)
    name, _, on = _FAMILY[fault.name].partition("@")
    strength = None if fault.strength is None else fault.strength * _KELVIN.get(fault.name, 1.0)
    if name == "cycling-late" and strength is not None and strength < 0.0:
        name = "cycling-early"
    if name == "neutral-lost" and cord == "three-wire":
        name = "neutral-lost-three-wire"
    return family_faults.Fault(name, on, strength)


def family_of(machine: Machine, faults: Sequence[Fault]) -> tuple[family_faults.Fault, ...]:
    """Return ``faults`` as the family has them.

    Raises
    ------
    FaultError
        For an unknown fault, one that the machine's cord cannot have, or one named twice.
    """
    _check(faults, machine)
    if machine.stands is not None:
        return tuple(family_faults.Fault(*_split(fault.name), fault.strength) for fault in faults)
    return tuple(of_family(fault, machine.cord) for fault in faults)


def _split(name: str) -> tuple[str, str]:
    kind, _, on = name.partition("@")
    return kind, on


def faulty_circuit(machine: Machine, state: State, faults: Sequence[Fault] = ()) -> Circuit:
    """Return the circuit of ``machine`` in ``state`` with ``faults``, whatever their order.

    Raises
    ------
    FaultError
        For an unknown fault, one that the machine's cord cannot have, or one named twice.
    """
    if not faults and machine.stands is None:
        return wire_up(machine, state)
    setting = setting_of(state)
    stands, there = family_machine(machine), family_of(machine, faults)
    if needs_settling(stands.arrangement):
        circuit = settling.standing(stands, there, setting, pairs=False).circuit
    else:
        circuit = family_faults.faulty_circuit(stands, setting, there)
    return on_bench(machine, circuit, setting.pulled)


@cache
def needs_settling(made: Arrangement) -> bool:
    """Return whether what is closed depends on volts: whether a board or a coil works relays."""
    return bool(made.of_kind(*RELAYS))


def _check(faults: Sequence[Fault], machine: Machine) -> None:
    names = [fault.name for fault in faults]
    for fault in faults:
        row = catalogue(fault.name)
        if names.count(fault.name) > 1:
            raise FaultError(f"The fault {fault.name} is named twice: give it once, with one strength.")
        if not fits(fault, machine):
            needs = f"needs a {row['cord']} cord; this dryer has a {machine.cord} one."
            if fault.name not in _FAMILY or machine.stands is not None:
                needs = f"is in a part that the dryer {family_machine(machine).arrangement.name} does not have."
            raise FaultError(f"The fault {fault.name} {needs}")
        if (row["strength_usual"] is None) != (fault.strength is None):
            raise FaultError(f"The fault {fault.name} takes {'no' if fault.strength is not None else 'a'} strength.")
