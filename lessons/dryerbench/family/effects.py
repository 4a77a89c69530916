"""What faults do: each verb of a line ``does`` is a change of the machine, of the setting or of the circuit."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from dryerbench.circuits.circuit import Circuit, Part
from dryerbench.family.arrangement import CABINET
from dryerbench.family.fault_targets import Target, swapped_leads
from dryerbench.family.machine import Machine
from dryerbench.family.settings import Setting
from dryerbench.family.wiring import OPEN_OHMS

_BRIDGE_OHMS = 0.01  # metal on metal
_WORKING_CELSIUS = 200.0  # a coil above it has heated its terminals
_STIR = 10.0  # a burnt joint that is moved reads so many times what it reads at rest


@dataclass(frozen=True, slots=True)
class Case:
    """One fault at work: the verb's own words, what it hangs on, its strength, the machine and its setting."""

    words: re.Match[str]
    target: Target
    strength: float
    machine: Machine
    setting: Setting

    @property
    def named(self) -> str:
        """The circuit's part that the verb names, else the target's own."""
        name = (self.words["what"] or "").strip()
        if name.startswith("to "):
            return f"{self.target.name} {name}"
        return name or self.target.part

    @property
    def factor(self) -> float:
        """The factor that ``times S`` or ``times 1-S`` means."""
        return self.strength if self.words["times"] == "S" else 1.0 - self.strength

    @property
    def moved(self) -> bool:
        """Whether joints are moved by a hand or by heat."""
        return self.setting.stirred or self.setting.coil_celsius > _WORKING_CELSIUS


OnCircuit = Callable[[Circuit, Case], Circuit]
OnMachine = Callable[[Machine, Target, float, re.Match[str]], Machine]


def _opens(circuit: Circuit, case: Case) -> Circuit:
    return circuit.changed(case.named, closed=False)


def _welds(circuit: Circuit, case: Case) -> Circuit:
    return circuit.changed(case.named, closed=True)


def _breaks(circuit: Circuit, case: Case) -> Circuit:
    return circuit.changed(case.named, value=OPEN_OHMS)


def _times(circuit: Circuit, case: Case) -> Circuit:
    name = "run winding" if case.words["what"] == "run winding" else case.target.part
    return circuit.changed(name, value=circuit.part(name).value * case.factor)


def _set_value(circuit: Circuit, case: Case) -> Circuit:
    return circuit.changed(case.target.part, value=float(case.words["ohms"]))


def _touches(circuit: Circuit, case: Case) -> Circuit:
    """Split the coil at the strength's share of its length and join that place to the cabinet."""
    own = circuit.part(case.target.part)
    tap = f"{own.name} touch"
    far = Part(f"{own.name} rest", "resistance", tap, own.b, own.value * (1.0 - case.strength))
    bridge = Part(tap, "contact", tap, CABINET, _BRIDGE_OHMS)
    return circuit.changed(own.name, b=tap, value=own.value * case.strength).added(far, bridge)


def _breaks_and_touches(circuit: Circuit, case: Case) -> Circuit:
    """Break the coil at the strength's share of its length; the near piece's end lies on the cabinet."""
    own = circuit.part(case.target.part)
    tap = f"{own.name} touch"
    gap = Part(f"{own.name} gap", "resistance", tap, own.b, OPEN_OHMS)
    bridge = Part(tap, "contact", tap, CABINET, _BRIDGE_OHMS)
    return circuit.changed(own.name, b=tap, value=own.value * case.strength).added(gap, bridge)


def _leaks(circuit: Circuit, case: Case) -> Circuit:
    return circuit.added(Part("damp path", "resistance", case.target.points[-1], CABINET, case.strength))


def _more_ohms(circuit: Circuit, case: Case, ohms: float) -> Circuit:
    return circuit.changed(case.target.part, value=circuit.part(case.target.part).value + ohms)


def _loosens(circuit: Circuit, case: Case) -> Circuit:
    return _more_ohms(circuit, case, case.strength) if case.moved else circuit


def _burns(circuit: Circuit, case: Case) -> Circuit:
    return _more_ohms(circuit, case, case.strength * (_STIR if case.moved else 1.0))


def _joint(circuit: Circuit, case: Case) -> Circuit:
    return _more_ohms(circuit, case, case.strength)


def _chafes(circuit: Circuit, case: Case) -> Circuit:
    """Cut the wire in two halves at a bare place that lies on the cabinet."""
    own = circuit.part(case.target.part)
    bare = f"{own.name} bare"
    half = own.value / 2.0
    rest = Part(f"{own.name} rest", "wire", bare, own.b, half, closed=own.closed)
    bridge = Part(bare, "contact", bare, CABINET, _BRIDGE_OHMS)
    stray = Part(f"insulation {bare}", "resistance", bare, CABINET, case.machine.insulation_ohms)
    return circuit.changed(own.name, b=bare, value=half).added(rest, bridge, stray)


def _swaps_leads(circuit: Circuit, case: Case) -> Circuit:
    """Let the wires of the shared terminal and of an end change places at the box."""
    both = swapped_leads(case.machine.arrangement)
    if both is None:
        return circuit
    box = set(case.machine.arrangement.box_terminals)
    shared, end = (circuit.part(wire.name) for wire in both)
    ends = [part.a if part.a in box else part.b for part in (shared, end)]
    for part, own, other in ((shared, ends[0], ends[1]), (end, ends[1], ends[0])):
        circuit = circuit.changed(part.name, a=other) if part.a == own else circuit.changed(part.name, b=other)
    return circuit


def _swaps_sensors(circuit: Circuit, case: Case) -> Circuit:
    """Put each sensor's plug on the other's place at the board."""
    made = case.machine.arrangement
    leads = [made.wires_at(f"{sensor.name}.1")[0] for sensor in made.of_kind("exhaust sensor", "inlet sensor")]
    boards = [wire.b for wire in leads]
    for wire, other in zip(leads, reversed(boards), strict=True):
        circuit = circuit.changed(wire.name, b=other)
    return circuit


def _stays(circuit: Circuit, case: Case) -> Circuit:
    name, side = case.target.name, case.words["side"]
    other = {"2": "3", "3": "2"}[side]
    return circuit.changed(f"{name} to {side}", closed=True).changed(f"{name} to {other}", closed=False)


def _dark(circuit: Circuit, _case: Case) -> Circuit:
    return circuit.changed("board supply", value=OPEN_OHMS)


def _same(circuit: Circuit, _case: Case) -> Circuit:
    return circuit


_CIRCUIT: tuple[tuple[str, OnCircuit], ...] = (
    (r"breaks and touches", _breaks_and_touches),
    (r"board dies", _dark),
    (r"opens(?P<what> .+)?", _opens),
    (r"welds(?P<what> .+)?", _welds),
    (r"breaks(?P<what> .+)?", _breaks),
    (r"(?P<what>value|run winding) times (?P<times>S|1-S)", _times),
    (r"value (?P<ohms>[\d.]+) ohm", _set_value),
    (r"touches", _touches),
    (r"leaks", _leaks),
    (r"loosens", _loosens),
    (r"burns", _burns),
    (r"joint", _joint),
    (r"chafes", _chafes),
    (r"swaps leads", _swaps_leads),
    (r"swaps sensors", _swaps_sensors),
    (r"stays at (?P<side>[23])", _stays),
    (r"air lost S|nothing electrical", _same),
)


def _mark_moves(machine: Machine, target: Target, strength: float, _: re.Match[str]) -> Machine:
    keys = [key for key in ("opens", "closes") if key in machine.arrangement.by_name[target.name].numbers]
    return machine.with_own((target.name, key, machine.number(target.name, key) + strength) for key in keys)


def _supply(machine: Machine, _target: Target, _strength: float, found: re.Match[str]) -> Machine:
    return replace(machine, site=replace(machine.site, supply=found["supply"]))


def _sags(machine: Machine, _target: Target, strength: float, _: re.Match[str]) -> Machine:
    return replace(machine, site=replace(machine.site, leg_volts=machine.site.leg_volts * (1.0 - strength)))


def _longer(machine: Machine, _target: Target, strength: float, _: re.Match[str]) -> Machine:
    return replace(machine, site=replace(machine.site, extension_feet=machine.site.extension_feet + strength))


_MACHINE: tuple[tuple[str, OnMachine], ...] = (
    (r"mark moves S", _mark_moves),
    (r"supply (?P<supply>split|wye)", _supply),
    (r"supply sags S", _sags),
    (r"extension S", _longer),
)


@cache
def _circuit_effect(does: str) -> tuple[OnCircuit, re.Match[str]] | None:
    return next(((change, found) for pattern, change in _CIRCUIT if (found := re.fullmatch(pattern, does))), None)


@cache
def _machine_effect(does: str) -> tuple[OnMachine, re.Match[str]] | None:
    return next(((change, found) for pattern, change in _MACHINE if (found := re.fullmatch(pattern, does))), None)


def is_effect(does: str) -> bool:
    """Return whether ``does`` is something that a fault can do."""
    return _circuit_effect(does) is not None or _machine_effect(does) is not None


def on_machine(does: str, machine: Machine, target: Target, strength: float) -> Machine:
    """Return the machine that a fault makes of it: ratings moved, another supply, a longer cord."""
    effect = _machine_effect(does)
    return machine if effect is None else effect[0](machine, target, strength, effect[1])


def on_setting(does: str, setting: Setting) -> Setting:
    """Return the setting that a fault makes of it: a dead board works no relay."""
    return replace(setting, board_dark=True) if does == "board dies" else setting


def on_circuit(
    does: str, circuit: Circuit, target: Target, strength: float, machine: Machine, setting: Setting
) -> Circuit:
    """Return the circuit that a fault makes of it."""
    effect = _circuit_effect(does)
    if effect is None:
        return circuit
    return effect[0](circuit, Case(effect[1], target, strength, machine, setting))


def air_lost(does: str, strength: float) -> float:
    """Return the share of the air that a fault takes away."""
    return strength if does == "air lost S" else 0.0
