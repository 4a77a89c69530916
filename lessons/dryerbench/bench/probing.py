"""What two probes really meet: a part alone or another path beside it, ghost volts, a board under 500 V, a fed case."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dryerbench.bench.meter import Meter
from dryerbench.bench.situation import Situation
from dryerbench.circuits.circuit import Part
from dryerbench.circuits.solver import Solution
from dryerbench.electricity.leakage import leakage_limit

_BOARD_VOLTS = 5.5
"""Volts that the sensor input of a control board stands (usual size, no published source)."""
_PHANTOM_VOLTS = 2.0
_ALIKE = 0.05
_SLACK_OHMS = 0.5
_OPEN_FROM = 1e8
_BODY_OHMS = 1000.0
_HARMLESS_MILLIAMPS = 5.0
_LET_GO_MILLIAMPS = 10.0
"""Up to here a hand can let go (OpenStax, table of the effects of current)."""
BURNING_AMPS = 0.3
"""A current to the case that can start a fire (from memory of IEC 60364-4-42)."""
_PATH_OHMS = 1e6
_BOARD = ("board input", "board supply")
"""How the parts of a board begin that its own terminals end at."""


def _across(situation: Situation, a: str, b: str) -> Iterator[Part]:
    circuit = situation.circuit
    for part in circuit:
        if part.kind in ("resistance", "contact") and {part.a, part.b} == {a, b}:
            yield part
        rest = f"{part.name} rest"
        if rest in circuit and {part.a, circuit.part(rest).b} == {a, b}:
            yield part


def part_alone(situation: Situation, a: str, b: str) -> float | None:
    """Return the Ω of the part that ends at ``a`` and ``b``, by itself; inf if open; None if no part does."""
    parts = [part for part in _across(situation, a, b) if not part.name.startswith("insulation ")]
    if not parts:
        return None
    siemens = 0.0
    for part in parts:
        rest = f"{part.name} rest"
        more = situation.circuit.part(rest).value if rest in situation.circuit else 0.0
        siemens += 1.0 / (part.value + more) if part.closed else 0.0
    return 1.0 / siemens if siemens else math.inf


def reads_another_path(situation: Situation, a: str, b: str) -> bool:
    """Return whether an ohmmeter on the two ends of a part reads something other than that part."""
    alone = part_alone(situation, a, b)
    if alone is None:
        return False
    read = situation.dead[a, b].ohms.real
    if alone > _OPEN_FROM:
        return read < _OPEN_FROM
    return abs(read - alone) > _ALIKE * alone + _SLACK_OHMS


def is_phantom(meter: Meter, situation: Situation, a: str, b: str) -> bool:
    """Return whether the volts that 10 MΩ shows collapse in the low-impedance setting."""
    pair = situation.live[a, b]
    shown = meter.loaded_volts(pair, "volts")
    return shown > _PHANTOM_VOLTS and meter.loaded_volts(pair, "low-impedance") < 0.1 * shown


def stresses_board(meter: Meter, situation: Situation, a: str, b: str) -> bool:
    """Return whether the insulation test drives the sensor input of the control board beyond its volts."""
    dead = situation.dead
    ends = [dead.index(point) for point in (a, b)]
    ohms = dead[a, b].ohms.real
    most = meter.insulation_volts / meter.insulation_amps
    amps = meter.insulation_volts / (ohms + most)

    def volts(node: str) -> float:
        row = dead.index(node)
        if row < 0:
            return 0.0
        into, out = (float(dead.impedance[row, end]) if end >= 0 else 0.0 for end in ends)
        return (into - out) * amps

    inputs = [part for part in situation.circuit if part.name.startswith("board input")]
    return any(abs(volts(part.a) - volts(part.b)) > _BOARD_VOLTS for part in inputs)


def touch_milliamps(situation: Situation) -> float:
    """Return the mA through a person between the bare case and earth: |V/(Z + 1000 Ω)|.

    1000 Ω is the usual model of a body at house voltage (IEC 60479-1, from memory).
    """
    pair = situation.live["case", "earth"]
    return 1000.0 * abs(pair.volts / (pair.ohms + _BODY_OHMS))


def _body_takes(situation: Situation, milliamps: float) -> bool:
    """Return whether a person between the bare case and earth gets more than so many mA."""
    if situation.cannot_reach(milliamps / 1000.0 * _BODY_OHMS, "case", "earth"):
        return False
    return touch_milliamps(situation) > milliamps


def case_shocks(situation: Situation) -> bool:
    """Return whether the case drives more than 5 mA through a person (OpenStax: the most that is harmless)."""
    return _body_takes(situation, _HARMLESS_MILLIAMPS)


def ground_amps(situation: Situation) -> float:
    """Return the amps that a touching element or a damp path drives into the case."""
    if not (situation.state.plugged and situation.state.breaker_on):
        return 0.0
    touching = (part for part in situation.circuit if part.name.endswith(" touch") or part.name == "damp path")
    return max((abs(situation.flows.amps(part.name)) for part in touching), default=0.0)


def case_is_fed(situation: Situation) -> bool:
    """Return whether the supply puts the case in a state that can hurt: a leak through a person, or a fire.

    A person at the case gets more than a sound appliance may leak (0.75 mA), or the fault itself carries more than
    0.3 A (IEC 60364-4-42: devices against fire trip at 0.3 A; from memory). A bond that holds a small leak does its
    work. While a motor comes up to speed the neutral's drop lifts the case of a sound three-wire dryer for a moment, by
    up to 6 V on a long run: then what a hand can let go counts.
    """
    if not (situation.state.plugged and situation.state.breaker_on):
        return False
    starting = situation.state.start_pressed and not situation.state.running
    most = _LET_GO_MILLIAMPS if starting else leakage_limit(0.0)
    return _body_takes(situation, most) or ground_amps(situation) > BURNING_AMPS


def is_fed_back(situation: Situation) -> bool:
    """Return whether volts come into the machine another way than through its breaker."""
    return situation.state.plugged and bool(situation.hot_points(("L1", "L2", "N", "case")))


def reaches_board(situation: Situation, a: str, b: str) -> bool:
    """Return whether a path of metal, contacts or loads joins one of two points to the control board.

    Contacts count as joined: those of the control sit on the board. Case, supply and insulation are no such path.
    """
    circuit = situation.circuit
    board = {end for part in circuit if part.name.startswith(_BOARD) for end in (part.a, part.b)}
    reached = {point for point in (a, b) if point != "case"}
    edge = list(reached)
    while edge:
        here = edge.pop()
        for part in circuit:
            if here in (part.a, part.b) and _joins(part):
                other = part.b if part.a == here else part.a
                if other not in reached and other != "case":
                    reached.add(other)
                    edge.append(other)
    return bool(reached & board)


def _joins(part: Part) -> bool:
    if part.kind == "contact":
        return not part.name.startswith(("plug blade", "frame strap"))
    if part.kind == "resistance":
        return part.value < _PATH_OHMS and not part.name.startswith((*_BOARD, "board common"))
    return part.kind == "wire" and part.closed


def leak_milliamps(live: Solution) -> float:
    """Return the mA that go home another way than through the cord's conductors, its ground left out."""
    return 1000.0 * abs(sum((live.amps(part) for part in ("cord 1", "cord 2", "cord N")), 0j))
