"""What any repair on the bench has to reach, told from the bench and its trail: read first, proved after."""

from __future__ import annotations

from collections.abc import Iterable

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue
from dryerbench.bench.machine import ELEMENTS, Machine
from dryerbench.bench.meter import DEAD_MODES
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import faults_found_on, machine_on
from dryerbench.core.tables import table
from dryerbench.family.arrangement import CABINET
from dryerbench.family.fault_readings import shown_by
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard

CLOSED_OHMS = 1.0
"""Ω up to which a bond reads as joined, leads included."""
SOUND_OHMS = 1e6
"""Ω of insulation from which a heater counts as clear of its case (common practice, from memory)."""
WARM = 40.0
"""°C at the exhaust from which the machine makes heat."""
_POWER = ("plug_in", "close_breaker")
_ENDS_RUN = ("stop", "unplug", "open_breaker", "open_door", "cool_down", "cover_off", "replace_part")
_HANDS = ("pull_wire", "put_back_wire", "warm_parts", "replace_part")
_LOOKS = ("look_vent", "look")
_HEATER = ("T0", "T1", "T2", "T3")
_OFF_BOND = ("vent",)
_OFF_HEATER = ("vent", "cord", "ground wire", "frame strap")
"""Parts that are worked at without a hand at the bond, or at the heater: what was read there before still holds."""


# --- what was read, and when ----------------------------------------------------------------------------------------


def repairs(bench: Bench) -> list[Act]:
    """Return the acts that replaced a part."""
    return [act for act in bench.trail if act["act"] == "replace_part"]


def after_work(bench: Bench, *but: str) -> list[Act]:
    """Return the acts after the last part replaced, ``but`` those parts; if none was, since the cover came off."""
    for place in range(len(bench.trail) - 1, -1, -1):
        act = bench.trail[place]
        if act["act"] == "replace_part" and act["with"].get("part") not in but:
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


def to_case(acts: Iterable[Act]) -> list[Act]:
    """Return the acts that read a terminal of the heater to the case, dead."""
    there = list(acts)
    return [act for point in _HEATER for act in dead_readings(there, point, "case")]


def heater_off_case(bench: Bench) -> bool:
    """Return whether the heater was read clear of the case after work at it, before power."""
    values = [act["reading"]["value"] for act in to_case(before_power(after_work(bench, *_OFF_HEATER)))]
    return bool(values) and all(value is None or value > SOUND_OHMS for value in values)


def elements_read(bench: Bench) -> bool:
    """Return whether each element was read alone, and as a number, after work at the heater, before power."""
    acts = before_power(after_work(bench, *_OFF_HEATER))
    alone = [dead_readings(acts, f"T{n}", "T0") for n in ELEMENTS]
    return all(
        any(act["reading"]["value"] is not None and not act["facts"]["other_path"] for act in found) for found in alone
    )


def bonded(bench: Bench) -> bool:
    """Return whether the bond was read as joined after work inside or at the cord, before power."""
    read = dead_readings(before_power(after_work(bench, *_OFF_BOND)), "plug-G", "case")
    return any(act["reading"]["value"] is not None and act["reading"]["value"] <= CLOSED_OHMS for act in read)


def _warm_runs(bench: Bench) -> list[list[Act]]:
    """Return what was done in each run with heat, closed up and after the work, until something ended it."""
    runs: list[list[Act]] = []
    running, covered, starts = False, True, len(bench.trail) - len(after_work(bench))
    for place, act in enumerate(bench.trail):
        name = act["act"]
        covered = name == "cover_on" or (covered and name != "cover_off")
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
    """Return whether, each time the cover came off, dead was tested at the block before hands went in."""
    tested, opened = False, False
    for act in bench.trail:
        name = act["act"]
        if name == "cover_off":
            tested, opened = False, True
        elif name == "test_dead" and act["with"].get("where") == "block":
            tested = not act["facts"]["found_live"]
        elif name in _POWER:
            tested = False
        elif name in _HANDS and opened and not tested and act["with"].get("part") not in ("vent", "cord"):
            return False
    return opened


# --- parts ----------------------------------------------------------------------------------------------------------


def _pairs(part: str) -> list[tuple[str, str]]:
    """Return the pairs of points between which ``part`` is read, by the table of what the lessons teach."""
    faults = {row["fault"] for row in table("faults").rows if row["part"] == part}
    rows = [row for row in table("taught-readings").rows if row["fault"] in faults and row["mode"] != "look"]
    return [(row.text("a"), row.text("b")) for row in rows]


def _read_before(bench: Bench, place: int, part: str) -> bool:
    acts = bench.trail[:place]
    if part == "vent":
        return any(act["act"] == "look_vent" for act in acts)
    seen = [set(act["reading"]["places"]) for act in acts if act.get("reading")]
    return any({a, b} in seen for a, b in _pairs(part))


def parts_read(bench: Bench) -> bool:
    """Return whether every part that was replaced had been read, or looked at, before."""
    placed = [
        (place, str(act["with"]["part"])) for place, act in enumerate(bench.trail) if act["act"] == "replace_part"
    ]
    return all(_read_before(bench, place, part) for place, part in placed)


def unneeded(bench: Bench) -> list[str]:
    """Return the parts that were replaced though nothing was wrong with them."""
    bad = {catalogue(fault.name)["part"] for fault in faults_found_on(bench)}
    return [part for act in repairs(bench) if (part := str(act["with"]["part"])) not in bad]


def wasted(bench: Bench) -> str:
    """Return how many sound parts were replaced and what they cost, in a sentence; which they were names the fault."""
    parts = unneeded(bench)
    costs = {row.text("part"): row.number("parts_cost") for row in table("faults").rows}
    price = sum(costs[part] for part in parts)
    return f"You replaced good parts: {len(parts)}. The customer would pay ${price:g} for them."


def searched(bench: Bench) -> bool:
    """Return whether a part was read or looked at in a way that is taught: without it nothing is shown."""
    taught = _telling(machine_on(bench))
    return any(
        act["act"] in _LOOKS or (act.get("reading") and frozenset(act["reading"]["places"]) in taught)
        for act in bench.trail
    )


def _telling(machine: Machine) -> frozenset[frozenset[str]]:
    """Return the pairs of points that the lessons read; on another machine those that show a fault of it."""
    if machine.stands is None:
        rows = table("taught-readings").rows
        return frozenset(frozenset((row.text("a"), row.text("b"))) for row in rows if row["mode"] != "look")
    made = machine.stands.arrangement
    shown = (one for fault in faults_of(made) for one in shown_by(standard(made), fault))
    return frozenset(frozenset("case" if point == CABINET else point for point in (one.a, one.b)) for one in shown)
