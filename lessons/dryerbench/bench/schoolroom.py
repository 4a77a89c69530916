"""The lessons' dryer is the family's Schoolroom: its circuit in the words that lessons, trails and tables have for it.

Points are numbered in the order in which the current of leg 1 meets them: L1, H1 … H8 along the heater's line, T1 to
T3 at the elements, T0 at their shared terminal, M1 and M2 at the motor's centrifugal switch, L2. Short wires inside the
console and at the motor have no ohms here: what they join is one point, as long as they are on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache, lru_cache, partial

from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.states import State
from dryerbench.circuits.circuit import Circuit, Part
from dryerbench.family import machine as of_family
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.contacts import contacts as family_contacts
from dryerbench.family.settings import Setting
from dryerbench.family.shelf import arrangement

POINTS: Mapping[str, str] = {
    CABINET: "case",
    "Ctl.1": "H1",
    "Ctl.2": "H2",
    "Cyc.1": "H3",
    "Cyc.2": "H4",
    "Cut.1": "H5",
    "Cut.2": "H6",
    "Lim.1": "H7",
    "Lim.2": "H8",
    "Box.p": "T1",
    "Box.r": "T2",
    "Box.s": "T3",
    "Box.q": "T0",
    "Cen.1": "M1",
    "Cen.2": "M2",
    "Door.2": "D",
    "Mot.r": "W1",
    "Mot.s": "W2",
    "Mot.c": "W0",
    "Low.2": "low",
    "Bias.1": "Q",
    "The.1": "S1",
    "The.2": "S2",
    "Brd.s1": "B1",
}
"""The lessons' name of each point of the Schoolroom that has one; the others are the same, or one point with these."""
COILS: Mapping[int, str] = {1: "p-q", 2: "r-q", 3: "s-q"}
PARTS: Mapping[str, str] = {
    **{f"coil {coil}": f"element {number}" for number, coil in COILS.items()},
    "Ctl": "control contact",
    "Cyc": "cycling thermostat",
    "Cut": "thermal cut-off",
    "Lim": "high limit",
    "Cen": "motor centrifugal switch",
    "Door": "door switch",
    "Start": "start switch",
    "Hold": "motor hold contact",
    "start contact": "motor start contact",
    "Low": "low heat contact",
    "Bias": "bias heater",
    "The": "thermistor",
    "board input s1": "board input",
    "wire L1-Ctl.1": "wire H1",
    "wire Ctl.2-Cyc.1": "wire H3",
    "wire Cyc.2-Cut.1": "wire H5",
    "wire Cut.2-Lim.1": "wire H7",
    "wire Lim.2-Box.p": "wire T1",
    "wire Lim.2-Box.r": "wire T2",
    "wire Lim.2-Box.s": "wire T3",
    "wire Box.q-Cen.1": "wire T0",
    "wire Cen.2-L2": "wire L2",
    "wire Mot.c-N": "wire N",
    "wire Mot.s": "wire W2",
    "wire The.1-Brd.s1": "wire S1",
    "wire Low.2-Bias.1": "wire Q",
    "wire L1-Door.1": "wire L1",
    "wire Door.2-Start.1": "wire D",
    "wire Hold.2-Mot.r": "wire W1",
}
"""The lessons' name of each part and wire of the Schoolroom that has one."""
FAMILY_PARTS: Mapping[str, str] = {ours: theirs for theirs, ours in PARTS.items()}
"""The Schoolroom's name of a part, by the lessons'."""
SHORT = {
    "wire Cyc.1-Low.1": ("Cyc.1", "Low.1"),
    "wire Bias.2-N": ("N", "Bias.2"),
    "wire L1-Door.1": ("L1", "Door.1"),
    "wire Door.2-Start.1": ("Door.2", "Start.1"),
    "wire Start.1-Hold.1": ("Start.1", "Hold.1"),
    "wire Start.2-Hold.2": ("Hold.2", "Start.2"),
    "wire Hold.2-Mot.r": ("Mot.r", "Hold.2"),
    "wire L1-Brd.L": ("L1", "Brd.L"),
    "wire Brd.N-N": ("N", "Brd.N"),
    "wire The.2-Brd.s2": ("The.2", "Brd.s2"),
    "overload": ("Mot.c", "Mot.o"),
}
"""Short wires (and the overload): what each joins, the point that keeps its name first."""
_TAPS = {f"coil {coil} touch": f"T{number}-touch" for number, coil in COILS.items()}
_STRAY = ("insulation", "stray", "harness")
_PIECES = ("rest", "touch", "gap", "bare")
_FAHRENHEIT = 1.8
_MOST_PARTS = 4096


@cache
def schoolroom(cord: str = "four-wire") -> Arrangement:
    """Return the Schoolroom with one cord or the other."""
    made = arrangement("schoolroom")
    return made if made.cord == cord else replace(made, cord=cord)


@lru_cache(maxsize=1024)
def family_machine(machine: Machine) -> of_family.Machine:
    """Return ``machine`` as one of the family: the lessons' own as the Schoolroom, another as it is."""
    if machine.stands is not None:
        return machine.stands
    own = [(f"coil {COILS[number]}", "ohms", machine.element_ohms[number - 1]) for number in ELEMENTS]
    own += [(name, "ohms", 0.0) for name in SHORT]
    for part, opens in (("Cyc", machine.cycling_opens), ("Lim", machine.limit_opens), ("Cut", machine.cutoff_blows)):
        own += _marks(part, opens)
    own += [
        ("Bias", "ohms", machine.bias_ohms),
        ("Brd", "ohms", machine.board_ohms),
        ("Brd", "input", machine.board_input_ohms),
        ("The", "ohms", machine.thermistor_ohms * machine.thermistor_factor),
        ("The", "beta", machine.thermistor_beta),
    ]
    return of_family.Machine(
        schoolroom(machine.cord),
        machine.name,
        machine.site,
        contact_ohms=machine.contact_ohms,
        wire_ohms=machine.wire_ohms,
        insulation_ohms=machine.insulation_ohms,
        harness_farads=machine.harness_farads,
    ).with_own(own)


def _marks(part: str, opens: float) -> list[of_family.Own]:
    """Return the °F at which a switch that opens at ``opens`` °C opens, and those at which it closes again."""
    sheet = schoolroom().by_name[part].numbers
    mark = opens * _FAHRENHEIT + 32.0
    if abs(mark - sheet["opens"]) < 1e-9:
        mark = sheet["opens"]
    again = [(part, "closes", mark - (sheet["opens"] - sheet["closes"]))] if "closes" in sheet else []
    return [(part, "opens", mark), *again]


def setting_of(state: State) -> Setting:
    """Return a state of the bench as the family says it."""
    opened = {FAMILY_PARTS.get(name, name) for name in state.tripped} | ({"Cut"} if state.cutoff_blown else set())
    return Setting(
        plugged=state.plugged,
        breaker_on=state.breaker_on,
        door_closed=state.door_closed,
        start_pressed=state.start_pressed,
        running=state.running,
        dial=state.dial or (("low" if state.low_heat else "high") if state.calling else "off"),
        exhaust_celsius=state.exhaust_celsius,
        box_celsius=state.limit_celsius,
        coil_celsius=state.element_celsius,
        opened=frozenset(opened),
        stirred=state.stirred,
        pulled=frozenset(FAMILY_PARTS.get(name, name) for name in state.pulled),
    )


def our_name(machine: Machine, part: str) -> str:
    """Return the bench's name of a part that the family calls ``part``."""
    return PARTS.get(part, part) if machine.stands is None else part


def state_after(machine: Machine, state: State, setting: Setting) -> State:
    """Return ``state`` with what ``setting`` came to: motor, breaker, warmth and the switches that heat holds open."""
    opened = frozenset(our_name(machine, name) for name in setting.opened)
    return replace(
        state,
        breaker_on=setting.breaker_on,
        running=setting.running,
        exhaust_celsius=setting.exhaust_celsius,
        limit_celsius=setting.box_celsius,
        element_celsius=setting.coil_celsius,
        cutoff_blown=PARTS["Cut"] in opened,
        tripped=opened - {PARTS["Cut"]},
    )


def contacts(machine: Machine, state: State) -> dict[str, bool]:
    """Return which contacts are closed, by the lessons' name of the part."""
    closed = family_contacts(family_machine(machine), setting_of(state))
    return {PARTS.get(name, name): joined for name, joined in closed.items()}


@lru_cache(maxsize=256)
def _points(pulled: frozenset[str]) -> dict[str, str]:
    """Return the lessons' name of every point that has another one, with the wires ``pulled`` (family's names) off."""
    joined: dict[str, str] = {}
    for name, (keeps, merged) in SHORT.items():
        if name not in pulled:
            joined[merged] = keeps
    found = {**POINTS, **_TAPS}
    for point in joined:
        last = point
        while last in joined:
            last = joined[last]
        found[point] = POINTS.get(last, last)
    return found


def point_names() -> dict[str, str]:
    """Return the lessons' name of every terminal of the Schoolroom whose name differs, with all wires on."""
    return dict(_points(frozenset()))


def _named_part(part: Part, pulled: frozenset[str]) -> Part | None:
    """Return ``part`` in the lessons' words; None for a short wire, or the stray of a merged point."""
    points = _points(pulled)
    a, b = points.get(part.a, part.a), points.get(part.b, part.b)
    head, _, last = part.name.rpartition(" ")
    if a == b:
        return None
    if head in _STRAY and not last.startswith("touch") and part.a not in POINTS and part.a in points:
        return None
    if head == "harness" and part.a.startswith("Low."):
        return None
    return Part(_named(part.name, points), part.kind, a, b, part.value, part.closed, part.degrees)


def _named(name: str, points: Mapping[str, str]) -> str:
    if name in PARTS:
        return PARTS[name]
    head, _, last = name.rpartition(" ")
    if last in _PIECES and head in PARTS:
        return f"{PARTS[head]} {last}"
    if head in _STRAY:
        return f"{head} {points.get(last, last)}"
    return f"{head} case" if last == CABINET and "capacitance" in head else name


def _cased_part(part: Part) -> Part:
    """Return ``part`` with the cabinet called the case, as the bench calls it on every machine."""
    if CABINET not in (part.a, part.b):
        return part
    a, b = ("case" if end == CABINET else end for end in (part.a, part.b))
    return Part(part.name, part.kind, a, b, part.value, part.closed, part.degrees)


class _Named:
    """Parts in other words, one by one: most parts of a circuit are those of the one before."""

    def __init__(self, words: Callable[[Part], Part | None]) -> None:
        self._words = words
        self._known: dict[int, tuple[Part, Part | None]] = {}

    def all(self, circuit: Circuit) -> list[Part]:
        """Return the parts of ``circuit`` that there are in these words; an object that was met before is known."""
        known, found = self._known, []
        for part in circuit:
            met = known.get(id(part))
            if met is None or met[0] is not part:
                if len(known) >= _MOST_PARTS:
                    known.clear()
                met = known[id(part)] = part, self._words(part)  # keeps the part: no other one gets its id
            if met[1] is not None:
                found.append(met[1])
        return found


_CASED = _Named(_cased_part)


@lru_cache(maxsize=256)
def _named_by(pulled: frozenset[str]) -> _Named:
    return _Named(partial(_named_part, pulled=pulled))


def on_bench(machine: Machine, circuit: Circuit, pulled: frozenset[str] = frozenset()) -> Circuit:
    """Return a circuit of ``machine``, with the wires ``pulled`` (family's names) off, in the words of the bench."""
    if machine.stands is not None:
        return Circuit(_CASED.all(circuit), circuit.reference)
    return in_our_words(circuit, pulled)


def in_our_words(circuit: Circuit, pulled: frozenset[str] = frozenset()) -> Circuit:
    """Return a circuit of the Schoolroom, with the wires ``pulled`` (family's names) off, in the lessons' words."""
    return Circuit(_named_parts(circuit, pulled), circuit.reference)


def _named_parts(circuit: Circuit, pulled: frozenset[str]) -> list[Part]:
    return _named_by(frozenset(pulled & SHORT.keys())).all(circuit)
