"""What was done on a bench and proved there, told from the bench and its trail: dead, read, closed up, run.

Practice benches ask for it at once, and the marker's goals ask the same of graded work.
"""

from __future__ import annotations

from collections.abc import Iterable

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.meter import DEAD_MODES
from dryerbench.bench.schoolroom import POINTS, setting_of
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import machine_on
from dryerbench.family.arrangement import CABINET, Arrangement

CLOSED_OHMS = 1.0
"""Ω up to which a bond reads as joined, leads included."""
SOUND_OHMS = 1e6
"""Ω of insulation from which a heater counts as clear of its case (common practice, from memory)."""
WARM = 40.0
"""°C at the exhaust from which the machine makes heat."""
_POWER = ("plug_in", "close_breaker")
_ENDS_RUN = ("stop", "unplug", "open_breaker", "open_door", "cool_down", "cover_off", "replace_part")
_HANDS = ("pull_wire", "put_back_wire", "warm_parts", "replace_part", "reset", "tighten")
_NEUTRAL = ("plug-N", "N")
_OFF_BOND = ("vent",)
_OFF_HEATER = ("vent", "cord", "ground wire", "frame strap")
"""Parts that are worked at without a hand at the bond, or at the heater: what was read there before still holds."""


def is_repair(act: Act) -> bool:
    """Return whether an act put something right: a part replaced, a trip reset, a joint tightened."""
    return act["act"] == "replace_part" or bool(act.get("facts", {}).get("put_right", False))


def repairs(bench: Bench) -> list[Act]:
    """Return the acts that replaced a part."""
    return [act for act in bench.trail if act["act"] == "replace_part"]


def after_work(bench: Bench, *but: str) -> list[Act]:
    """Return the acts after the last work inside: a part replaced, ``but`` those parts, or a joint tightened.

    If there was none, the acts since the cover came off.
    """
    for place in range(len(bench.trail) - 1, -1, -1):
        act = bench.trail[place]
        worked = act["act"] == "replace_part" and act["with"].get("part") not in but
        if worked or (act["act"] == "tighten" and is_repair(act)):
            return bench.trail[place + 1 :]
    opened = [place for place, act in enumerate(bench.trail) if act["act"] == "cover_off"]
    return bench.trail[opened[-1] + 1 :] if opened else []


def before_power(acts: list[Act]) -> list[Act]:
    """Return those of ``acts`` that come before power does."""
    names = [act["act"] for act in acts]
    return acts[: min((names.index(name) for name in _POWER if name in names), default=len(acts))]


def dead_readings(acts: Iterable[Act], *places: str) -> list[Act]:
    """Return the acts that read ``places`` with a dead setting and showed a number or OL."""
    return [act for act in acts if act.get("reading") and set(act["reading"]["places"]) == set(places)
            and act["reading"]["mode"] in DEAD_MODES and act["reading"]["mode"] != "continuity"
            and (act["reading"]["value"] is not None or act["reading"]["shown"] == "OL")]  # fmt: skip


def point_on(machine: Machine, point: str) -> str:
    """Return the bench's name of a point that the family calls ``point``."""
    if machine.stands is None:
        return POINTS.get(point, point)
    return "case" if point == CABINET else point


def to_case(machine: Machine, acts: Iterable[Act]) -> dict[str, list[Act]]:
    """Return the acts that read each terminal of the heater of ``machine`` to the case, dead: itself, or by what joins.

    Coils and wires that are on join terminals: of a heater whose coils hang together one reading is of all of it.
    """
    made, there = arrangement_of(machine), list(acts)
    found: dict[str, list[Act]] = {point: [] for point in made.box_terminals}
    for point in made.box_terminals:
        for act in dead_readings(there, point_on(machine, point), "case"):
            for other in _joined(made, point, setting_of(State.from_data(act["asked"])).pulled):
                found[other].append(act)
    return found


def _joined(made: Arrangement, point: str, pulled: frozenset[str]) -> set[str]:
    """Return the heater's terminals that coils, and wires of which none is ``pulled``, join to ``point``."""
    pairs = [coil.ends for coil in made.coils]
    pairs += [(wire.a, wire.b) for wire in made.wires if wire.name not in pulled]
    reached, edge = {point}, [point]
    while edge:
        here = edge.pop()
        new = {other for pair in pairs if here in pair for other in pair} - reached
        reached |= new
        edge += new
    return reached & set(made.box_terminals)


def heater_read(machine: Machine, acts: Iterable[Act]) -> bool:
    """Return whether every coil of ``machine`` was read to the case, dead."""
    return all(to_case(machine, acts).values())


def heater_off_case(bench: Bench) -> bool:
    """Return whether all of the heater was read clear of the case after work at it, before power."""
    found = to_case(machine_on(bench), before_power(after_work(bench, *_OFF_HEATER)))
    values = [act["reading"]["value"] for acts in found.values() for act in acts]
    return all(found.values()) and all(value is None or value > SOUND_OHMS for value in values)


def elements_read(bench: Bench) -> bool:
    """Return whether each element was read alone, and as a number, after work at the heater, before power."""
    acts = before_power(after_work(bench, *_OFF_HEATER))
    alone = [dead_readings(acts, f"T{n}", "T0") for n in ELEMENTS]
    return all(
        any(act["reading"]["value"] is not None and not act["facts"]["other_path"] for act in found) for found in alone
    )


def bonded(bench: Bench) -> bool:
    """Return whether the bond was read as joined after work inside or at the cord, before power.

    It is the ground wire of a four-wire cord, the strap at the neutral of a three-wire one. That one is read with the
    plug out: in the panel neutral and case are joined.
    """
    acts = before_power(after_work(bench, *_OFF_BOND))
    if machine_on(bench).cord == "four-wire":
        read = dead_readings(acts, "plug-G", "case")
    else:
        read = [act for point in _NEUTRAL for act in dead_readings(acts, point, "case")
                if not State.from_data(act["asked"]).plugged]  # fmt: skip
    return any(act["reading"]["value"] is not None and act["reading"]["value"] <= CLOSED_OHMS for act in read)


def _warm_runs(bench: Bench) -> list[list[Act]]:
    """Return what was done in each run with heat, closed up and after the work, until something ended it."""
    runs: list[list[Act]] = []
    running, starts = False, len(bench.trail) - len(after_work(bench))
    for place, act in enumerate(bench.trail):
        name = act["act"]
        covered = not act["scene"]["cover_off"]
        if name == "let_run":
            running = place >= starts and covered and "warm air comes out" in act["happened"]
            runs += [[]] if running else []
        elif name in _ENDS_RUN:
            running = False
        elif running:
            runs[-1].append(act)
    return runs


def ran(bench: Bench) -> bool:
    """Return whether it ran closed up with heat after the work."""
    return bool(_warm_runs(bench))


def exhaust_read(bench: Bench) -> bool:
    """Return whether warm air was read at the exhaust while it ran closed up with heat after the work."""
    acts = [act for run in _warm_runs(bench) for act in run]
    readings = [act["reading"] for act in acts if act.get("reading")]
    return any(reading["places"] == ["exhaust"] and (reading["value"] or 0.0) >= WARM for reading in readings)


def closed_up(bench: Bench) -> bool:
    """Return whether every wire and the cover are on."""
    return not bench.state.pulled and not bench.cover_off


def dead_inside(bench: Bench) -> bool:
    """Return whether, each time the machine was opened, dead was tested at the block before hands went in."""
    tested, opened, is_open = False, False, False
    for act in bench.trail:
        name = act["act"]
        if name == "cover_off":
            tested, opened = tested and is_open, True
        elif name == "test_dead" and act["with"].get("where") == "block":
            tested = not act["facts"]["found_live"]
        elif name in _POWER:
            tested = False
        elif name in _HANDS and opened and not tested and act["with"].get("part") not in ("vent", "cord"):
            return False
        is_open = act["scene"]["cover_off"]
    return opened
