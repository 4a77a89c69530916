"""The dryer's wiring, from the service to the case, as a circuit of the solver.

Points are numbered in the order in which the current of leg 1 meets them: L1, H1 … H8 along the heater's line, T1 to
T3 at the elements, T0 at their shared terminal, M1 and M2 at the motor's heat contact, L2. The supply up to the block
is every machine's (``family.house``). Capacitance, leakage and the motor's winding numbers are of the usual size, from
memory, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import chain

from dryerbench.air.thermistor import BetaThermistor, DriftedThermistor
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.states import ROOM, State, contacts
from dryerbench.circuits.circuit import Circuit, Part
from dryerbench.core.tables import table
from dryerbench.electricity.conductors import hot_factor
from dryerbench.family.house import branch, cord_parts, service

_HOUSE = ("panel-1", "panel-2", "panel-N", "breaker-1", "breaker-2", "outlet-1", "outlet-2", "outlet-N", "outlet-G")
_HEATER = ("H1", "H2", "H3", "H4", "H5", "H6", "H7", "H8", "T1", "T2", "T3", "T0", "M1", "M2")
_INSIDE = ("L1", "L2", "N", *_HEATER, "D", "W1", "W2", "W0", "Q", "S1", "S2", "B1")
RUN_OHMS, START_OHMS = 2.2, 3.5
"""The motor's windings, cold [Ω]: usual sizes, no published source."""
_STRAY_FARADS = 4e-12  # a wire of the harness beside the one that the door switch feeds
_FLOOR_OHMS, _FLOOR_FARADS = 1e9, 100e-12  # a case on its feet


def points() -> tuple[str, ...]:
    """Return the test points, in the order of the table ``test-points``."""
    return tuple(table("test-points").texts("point"))


def pullable() -> tuple[str, ...]:
    """Return the wires of the machine that a hand can pull off."""
    heater = (part.name for part in _heater_line(Machine()) if part.name.startswith("wire "))
    return (*heater, "wire N", "wire W2", "wire S1", "wire Q", "bond wire")


def _heater_line(machine: Machine) -> Iterator[Part]:
    wire, contact = machine.wire_ohms, machine.contact_ohms
    yield Part("wire H1", "wire", "L1", "H1", wire)
    yield Part("control contact", "contact", "H1", "H2", contact)
    yield Part("wire H3", "wire", "H2", "H3", wire)
    yield Part("cycling thermostat", "contact", "H3", "H4", contact)
    yield Part("wire H5", "wire", "H4", "H5", wire)
    yield Part("thermal cut-off", "contact", "H5", "H6", contact)
    yield Part("wire H7", "wire", "H6", "H7", wire)
    yield Part("high limit", "contact", "H7", "H8", contact)
    for number in ELEMENTS:
        yield Part(f"wire T{number}", "wire", "H8", f"T{number}", wire)
        yield Part(f"element {number}", "resistance", f"T{number}", "T0", machine.element_ohms[number - 1])
    yield Part("wire T0", "wire", "T0", "M1", wire)
    yield Part("motor heat contact", "contact", "M1", "M2", contact)
    yield Part("wire L2", "wire", "M2", "L2", wire)


def _motor(machine: Machine, state: State) -> Iterator[Part]:
    """Yield a single-phase motor: winding ohms, leakage, magnetising inductance and the rotor's ohms."""
    yield Part("door switch", "contact", "L1", "D", machine.contact_ohms)
    yield Part("start switch", "contact", "D", "W1", machine.contact_ohms)
    yield Part("motor hold contact", "contact", "D", "W1", machine.contact_ohms)
    yield Part("run winding", "resistance", "W1", "run-a", RUN_OHMS)
    yield Part("run winding leakage", "inductance", "run-a", "run-b", 8e-3)
    yield Part("rotor", "resistance", "run-b", "W0", 30.0 if state.running else 2.5)
    yield Part("magnetising", "inductance", "run-b", "W0", 0.106)
    yield Part("motor start contact", "contact", "W1", "start-lead", machine.contact_ohms)
    yield Part("wire W2", "wire", "start-lead", "W2", machine.wire_ohms)
    yield Part("start winding", "resistance", "W2", "start-a", START_OHMS)
    yield Part("start winding leakage", "inductance", "start-a", "W0", 5e-3)
    yield Part("wire N", "wire", "W0", "N", machine.wire_ohms)


def thermistor_ohms(machine: Machine, celsius: float) -> float:
    """Return the thermistor's Ω at ``celsius`` °C: the beta law, times what it has drifted by."""
    sound = BetaThermistor(machine.thermistor_ohms, machine.thermistor_beta)
    return DriftedThermistor(sound, machine.thermistor_factor).ohms(celsius)


def _control(machine: Machine, state: State) -> Iterator[Part]:
    yield Part("low heat contact", "contact", "H3", "low", machine.contact_ohms)
    yield Part("wire Q", "wire", "low", "Q", machine.wire_ohms)
    yield Part("bias heater", "resistance", "Q", "N", machine.bias_ohms)
    yield Part("thermistor", "resistance", "S1", "S2", thermistor_ohms(machine, state.exhaust_celsius))
    yield Part("wire S1", "wire", "S1", "B1", machine.wire_ohms)
    yield Part("board input", "resistance", "B1", "S2", machine.board_input_ohms)
    yield Part("board common", "resistance", "S2", "N", 1000.0)
    yield Part("board supply", "resistance", "L1", "N", machine.board_ohms)


def _strays(machine: Machine) -> Iterator[Part]:
    """Yield the insulation and stray capacitance that tie every node to its surroundings."""
    four = machine.cord == "four-wire"
    inside = (
        *_INSIDE,
        "low",
        "start-lead",
        "run-a",
        "run-b",
        "start-a",
        "plug-1",
        "plug-2",
        "plug-N",
        *(["plug-G"] * four),
    )
    for node in inside:
        yield Part(f"insulation {node}", "resistance", node, "case", machine.insulation_ohms)
        yield Part(f"stray {node}", "capacitance", node, "case", machine.harness_farads)
    for node in _HEATER:
        yield Part(f"harness {node}", "capacitance", node, "D", _STRAY_FARADS)
    for node in _HOUSE if four else _HOUSE[:-1]:
        yield Part(f"insulation {node}", "resistance", node, "earth", machine.insulation_ohms)
        yield Part(f"stray {node}", "capacitance", node, "earth", machine.harness_farads)
    yield Part("case on floor", "resistance", "case", "earth", _FLOOR_OHMS)
    yield Part("case stray", "capacitance", "case", "earth", _FLOOR_FARADS)


def _placed(parts: Iterator[Part], machine: Machine, state: State) -> Iterator[Part]:
    """Yield the parts with contacts where the state puts them, pulled wires off and elements as hot as they are."""
    closed = contacts(machine, state) | dict.fromkeys(state.pulled, False)
    hot = hot_factor(max(state.element_celsius, 20.0)) / hot_factor(ROOM)
    for part in parts:
        if part.name in closed:
            yield replace(part, closed=closed[part.name])
        elif part.name.startswith("element "):
            yield replace(part, value=part.value * hot)
        else:
            yield part


@lru_cache(maxsize=4096)
def wire_up(machine: Machine, state: State) -> Circuit:
    """Return the circuit of ``machine`` in ``state``: every contact where the state puts it, pulled wires off.

    Raises
    ------
    TableError
        For a conductor or an element temperature outside the tables.
    """
    parts = chain(
        service(machine.site),
        branch(machine.site, machine.cord),
        cord_parts(machine.site, machine.cord, "case"),
        _heater_line(machine),
        _motor(machine, state),
        _control(machine, state),
        _strays(machine),
    )
    return Circuit(_placed(parts, machine, state))
