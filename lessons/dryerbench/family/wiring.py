"""A machine in a setting as a circuit of the solver: the compiler from arrangement to netlist.

Every terminal is a node under its own name (``Cut.1``, ``Box.q``, ``L1``); the cabinet is ``G``, the reference
``earth``. A wire is ``wire A-B``, a contact has its part's name, a coil is ``coil p-q``. The motor's start winding
hangs on ``Mot.s`` and its overload between the inner joint ``Mot.o`` and ``Mot.c``. Motor numbers that a file leaves
out, leakage and capacitance are of the usual size, from memory, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import chain

from dryerbench.air.thermistor import BetaThermistor
from dryerbench.circuits.circuit import Circuit, Part
from dryerbench.electricity.conductors import hot_factor
from dryerbench.family.arrangement import BLOCK, CABINET, Arrangement
from dryerbench.family.contacts import contacts
from dryerbench.family.house import branch, cord_parts, service
from dryerbench.family.kinds import Component
from dryerbench.family.machine import Machine
from dryerbench.family.settings import ALL_WIRES, BOX_WIRES, ROOM, Setting

ROTOR_TURNING, ROTOR_AT_REST = 30.0, 2.5
"""The rotor's ohms as the run winding sees them [Ω]."""
_LEAKAGE, _MAGNETIZING, _START_LEAKAGE = 8e-3, 0.106, 5e-3
_BOARD_INPUT, _BOARD_COMMON = 22_000.0, 1000.0
_FLOOR_OHMS, _FLOOR_FARADS = 1e9, 100e-12
_HOUSE = ("panel-1", "panel-2", "panel-N", "breaker-1", "breaker-2", "outlet-1", "outlet-2", "outlet-N", "outlet-G")
_HEATERS = ("heater", "second coil", "third coil", "low heat")
START_LEAD = "start-lead"
OPEN_OHMS = 1e9
"""A broken coil or winding: its ends still face each other."""


def node(point: str) -> str:
    """Return the circuit's node of a point as the sheets call it."""
    return "earth" if point == "E" else point


def heater_points(made: Arrangement) -> tuple[str, ...]:
    """Return the terminals along the heater's ways, in their order, without the block."""
    found: dict[str, None] = {}
    for way in made.ways:
        if not way.title.startswith(_HEATERS):
            continue
        for step in way.steps:
            for name in step:
                if " coil " in name:
                    found.update(dict.fromkeys(f"Box.{letter}" for letter in name.split(" coil ")))
                elif name in made.by_name and made.by_name[name].kind.throws:
                    found.update(dict.fromkeys(made.by_name[name].terminals))
    return tuple(found)


def _harness(machine: Machine) -> Iterator[Part]:
    for wire in machine.arrangement.wires:
        if wire.mark.tone != "bare":
            yield Part(wire.name, "wire", wire.a, wire.b, machine.number_or(wire.name, "ohms", machine.wire_ohms))


def _component(machine: Machine, part: Component) -> Iterator[Part]:
    for name, a, b in part.contacts:
        yield Part(name, "contact", a, b, machine.contact_ohms)
    kind = part.kind.name
    if kind == "motor":
        yield from _motor(machine, part)
    elif kind == "board":
        yield from _board(machine, part)
    elif "ohms" in part.kind.must:
        a, b = part.terminals
        yield Part(part.name, "resistance", a, b, machine.number(part.name, "ohms"))


def _motor(machine: Machine, part: Component) -> Iterator[Part]:
    """Yield a single-phase motor: winding ohms, leakage, magnetizing inductance, the rotor's ohms, the overload."""
    run, start, common = part.terminals
    joint, told = f"{part.name}.o", part.numbers
    yield Part("run winding", "resistance", run, "run-a", machine.number(part.name, "run"))
    yield Part("run winding leakage", "inductance", "run-a", "run-b", told.get("leakage", _LEAKAGE))
    yield Part("rotor", "resistance", "run-b", joint, ROTOR_AT_REST)
    yield Part("magnetizing", "inductance", "run-b", joint, told.get("magnetizing", _MAGNETIZING))
    yield Part("start contact", "contact", run, START_LEAD, machine.contact_ohms)
    yield Part(f"wire {part.name}.s", "wire", START_LEAD, start, machine.wire_ohms)
    yield Part("start winding", "resistance", start, "start-a", machine.number(part.name, "start"))
    yield Part("start winding leakage", "inductance", "start-a", joint, _START_LEAKAGE)
    ohms = machine.number_or("overload", "ohms", machine.contact_ohms)
    yield Part("overload", "contact", joint, common, ohms)


def _board(machine: Machine, part: Component) -> Iterator[Part]:
    there = machine.arrangement.present(part)
    line, neutral, common = f"{part.name}.L", f"{part.name}.N", f"{part.name}.s2"
    yield Part("board supply", "resistance", line, neutral, machine.number(part.name, "ohms"))
    ohms = machine.number_or(part.name, "input", part.numbers.get("input", _BOARD_INPUT))
    for end in (f"{part.name}.s1", f"{part.name}.s3"):
        if end in there:
            yield Part(f"board input {end[-2:]}", "resistance", end, common, ohms)
    if common in there:
        yield Part("board common", "resistance", common, neutral, part.numbers.get("common", _BOARD_COMMON))


def _coils(machine: Machine) -> Iterator[Part]:
    for coil in machine.arrangement.coils:
        yield Part(coil.name, "resistance", *coil.ends, machine.number(coil.name, "ohms"))


def _strays(machine: Machine, parts: list[Part]) -> Iterator[Part]:
    """Yield the insulation and stray capacitance that tie every node to its surroundings."""
    made, four = machine.arrangement, machine.cord == "four-wire"
    house = (*_HOUSE, "service-1", "service-2", "service-N", "earth", CABINET)
    nodes = dict.fromkeys((*BLOCK, *(end for part in parts for end in (part.a, part.b) if end not in house)))
    for place in nodes:
        yield Part(f"insulation {place}", "resistance", place, CABINET, machine.insulation_ohms)
        yield Part(f"stray {place}", "capacitance", place, CABINET, machine.harness_farads)
    for place in heater_points(made):
        if place != made.beside:
            yield Part(f"harness {place}", "capacitance", place, made.beside, machine.beside_farads)
    for place in _HOUSE if four else _HOUSE[:-1]:
        yield Part(f"insulation {place}", "resistance", place, "earth", machine.insulation_ohms)
        yield Part(f"stray {place}", "capacitance", place, "earth", machine.harness_farads)
    yield Part("case on floor", "resistance", CABINET, "earth", _FLOOR_OHMS)
    yield Part("case stray", "capacitance", CABINET, "earth", _FLOOR_FARADS)


@lru_cache(maxsize=512)
def _unset(machine: Machine) -> Circuit:
    """Return the circuit of ``machine`` with every wire on and every contact closed."""
    made = machine.arrangement
    parts = [
        *chain(service(machine.site), branch(machine.site, machine.cord)),
        *cord_parts(machine.site, machine.cord, CABINET),
        *_harness(machine),
        *chain.from_iterable(_component(machine, part) for part in made.parts),
        *_coils(machine),
    ]
    return Circuit([*parts, *_strays(machine, parts)])


def pulled_wires(made: Arrangement, setting: Setting) -> frozenset[str]:
    """Return the names of the wires that are off in ``setting``."""
    all_of_them = [wire for wire in made.wires if wire.mark.tone != "bare"]
    if ALL_WIRES in setting.pulled:
        return frozenset({*(wire.name for wire in all_of_them), f"wire {made.motor.name}.s"})
    found = set(setting.pulled - {BOX_WIRES})
    if BOX_WIRES in setting.pulled:
        found |= {wire.name for wire in all_of_them if {wire.a, wire.b} & set(made.box_terminals)}
    return frozenset(found)


def pullable(made: Arrangement) -> tuple[str, ...]:
    """Return the wires of the machine that a hand can pull off."""
    harness = tuple(wire.name for wire in made.wires if wire.mark.tone != "bare")
    return (*harness, f"wire {made.motor.name}.s", *(("ground wire",) if made.cord == "four-wire" else ()))


def _changed(machine: Machine, setting: Setting, circuit: Circuit) -> Iterator[Part]:
    made = machine.arrangement
    closed = contacts(machine, setting) | dict.fromkeys(pulled_wires(made, setting), False)
    for name, joined in closed.items():
        if name in circuit and circuit.part(name).closed != joined:
            yield replace(circuit.part(name), closed=joined)
    hot = hot_factor(max(setting.coil_celsius, 20.0)) / hot_factor(ROOM)
    if hot != 1.0:
        for coil in made.coils:
            yield replace(circuit.part(coil.name), value=circuit.part(coil.name).value * hot)
    if setting.running:
        turning = made.motor.numbers.get("rotor", ROTOR_TURNING)
        yield replace(circuit.part("rotor"), value=turning)
    for sensor in made.of_kind("exhaust sensor", "inlet sensor"):
        here = setting.box_celsius if sensor.kind.feels == "box" else setting.exhaust_celsius
        law = BetaThermistor(machine.number(sensor.name, "ohms"), machine.number(sensor.name, "beta"))
        yield replace(circuit.part(sensor.name), value=law.ohms(here))


@lru_cache(maxsize=8192)
def wire_up(machine: Machine, setting: Setting) -> Circuit:
    """Return the circuit of ``machine`` in ``setting``: every contact where it puts it, pulled wires off.

    Raises
    ------
    TableError
        For a conductor or a coil temperature outside the tables.
    """
    circuit = _unset(machine)
    return circuit.replaced(_changed(machine, setting, circuit))


def clear_wiring() -> None:
    """Forget every circuit that was wired up: for a benchmark that starts from nothing."""
    wire_up.cache_clear()
    _unset.cache_clear()
