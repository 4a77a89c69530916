"""What the bench work of the three calls of lesson 10 has to reach, told from the bench and its trail."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue
from dryerbench.bench.meter import DEAD_MODES
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import faults_found_on, faults_on, machine_on
from dryerbench.core.tables import table
from dryerbench.diagnosis.call_dealing import ELECTRICIAN, HANDED_OVER, QUALIFIED, UTILITY
from dryerbench.diagnosis.complaints import behind, heard_of
from dryerbench.diagnosis.hypotheses import Hypotheses
from legtoleg.keys.reference import Goal

THERMOSTAT_HOT, LIMIT_HOT = 73.0, 127.0
"""Temperatures [°C] at which a sound thermostat and a sound high limit must be open, tolerance and all."""
CLOSED_OHMS = 1.0
"""Ω up to which a bond reads as joined, leads included."""
SOUND_OHMS = 1e6
"""Ω of insulation from which a heater counts as clear of its case (common practice, from memory)."""
WARM = 40.0
"""°C at the exhaust from which the machine makes heat."""
_POWER = ("plug_in", "close_breaker")
_ENDS_RUN = ("stop", "unplug", "open_breaker", "open_door", "cool_down", "cover_off", "replace_part")
_HANDS = ("pull_wire", "put_back_wire", "warm_parts", "replace_part")
_HEATER = ("T0", "T1", "T2", "T3")


# --- what was read, and when ----------------------------------------------------------------------------------------


def _repairs(bench: Bench) -> list[Act]:
    return [act for act in bench.trail if act["act"] == "replace_part"]


def _after_work(bench: Bench) -> list[Act]:
    """Return the acts after the last part replaced; if none was, those after the cover came off last."""
    for what in ("replace_part", "cover_off"):
        places = [place for place, act in enumerate(bench.trail) if act["act"] == what]
        if places:
            return bench.trail[places[-1] + 1 :]
    return []


def _before_power(acts: list[Act]) -> list[Act]:
    names = [act["act"] for act in acts]
    return acts[: min((names.index(name) for name in _POWER if name in names), default=len(acts))]


def _dead(acts: Iterable[Act], *places: str) -> list[Act]:
    """Return the acts that read ``places`` with a dead setting and showed a number or OL."""
    return [act for act in acts if act.get("reading") and set(act["reading"]["places"]) == set(places)
            and act["reading"]["mode"] in DEAD_MODES and act["reading"]["mode"] != "continuity"
            and (act["reading"]["value"] is not None or act["reading"]["shown"] == "OL")]  # fmt: skip


def _to_case(acts: Iterable[Act]) -> list[Act]:
    there = list(acts)
    return [act for point in _HEATER for act in _dead(there, point, "case")]


def _heater_off_case(bench: Bench) -> bool:
    """Return whether the heater was read clear of the case after the work, before power."""
    values = [act["reading"]["value"] for act in _to_case(_before_power(_after_work(bench)))]
    return bool(values) and all(value is None or value > SOUND_OHMS for value in values)


def _bonded(bench: Bench) -> bool:
    read = _dead(_before_power(_after_work(bench)), "plug-G", "case")
    return any(act["reading"]["value"] is not None and act["reading"]["value"] <= CLOSED_OHMS for act in read)


def _ran(bench: Bench) -> bool:
    """Return whether it ran closed up with heat after the work, and the exhaust was read while it ran."""
    running = False
    covered = not bench.trail or all(act["act"] != "cover_off" for act in bench.trail)
    for act in _after_work(bench):
        name, reading = act["act"], act.get("reading")
        covered = name == "cover_on" or (covered and name != "cover_off")
        if name == "let_run":
            running = covered and "warm air comes out" in act["happened"]
        elif name in _ENDS_RUN:
            running = False
        elif running and reading and reading["places"] == ["exhaust"] and (reading["value"] or 0.0) >= WARM:
            return True
    return False


def _closed_up(bench: Bench) -> bool:
    return not bench.state.pulled and not bench.cover_off


def _dead_inside(bench: Bench) -> bool:
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


def _parts_read(bench: Bench) -> bool:
    """Return whether every part that was replaced had been read, or looked at, before."""
    placed = [
        (place, str(act["with"]["part"])) for place, act in enumerate(bench.trail) if act["act"] == "replace_part"
    ]
    return all(_read_before(bench, place, part) for place, part in placed)


def unneeded(bench: Bench) -> list[str]:
    """Return the parts that were replaced though nothing was wrong with them."""
    bad = {catalogue(fault.name)["part"] for fault in faults_found_on(bench)}
    return [part for act in _repairs(bench) if (part := str(act["with"]["part"])) not in bad]


def _wasted(bench: Bench) -> str:
    """Return how many sound parts were replaced and what they cost, in a sentence; which they were names the fault."""
    parts = unneeded(bench)
    costs = {row.text("part"): row.number("parts_cost") for row in table("faults").rows}
    price = sum(costs[part] for part in parts)
    return f"Sound parts replaced: {len(parts)}. The customer would pay ${price:g} for them."


# --- call 2: the cause ----------------------------------------------------------------------------------------------


def _hot(acts: Iterable[Act], a: str, b: str, celsius: float, which: str) -> bool:
    return any(
        getattr(State.from_data(act["asked"]), which) >= celsius and not act["facts"]["other_path"]
        for act in _dead(acts, a, b)
    )


def _cause_looked_for(bench: Bench) -> bool:
    """Return whether thermostat and limit hot, heater to case, and vent were looked at before the first part."""
    names = [act["act"] for act in bench.trail]
    acts = bench.trail[: names.index("replace_part")] if "replace_part" in names else bench.trail
    return (
        _hot(acts, "H3", "H4", THERMOSTAT_HOT, "exhaust_celsius")
        and _hot(acts, "H7", "H8", LIMIT_HOT, "limit_celsius")
        and bool(_to_case(acts))
        and any(act["act"] == "look_vent" for act in acts)
    )


# --- call 3: whose work it is ---------------------------------------------------------------------------------------


def _handed_to(bench: Bench) -> str:
    given = [act["with"]["to"] for act in bench.trail if act["act"] == "stop_and_hand_over"]
    return str(given[-1]) if given else ""


def _theirs(to: str) -> frozenset[str]:
    """Return the faults that ``to`` takes over; a qualified person goes on from any that shows only live."""
    if to == QUALIFIED:
        return frozenset(HANDED_OVER)
    return frozenset(name for name, whose in HANDED_OVER.items() if whose == to)


def _right_hands(bench: Bench) -> bool:
    to = _handed_to(bench)
    names = [fault.name for fault in faults_found_on(bench)]
    if names == ["open-service-neutral"]:
        return to in (UTILITY, ELECTRICIAN)
    return all(name in _theirs(to) for name in names)


def _whose_is_shown(bench: Bench) -> bool:
    """Return whether the readings leave, of what is heard like this, only what those who take it over take on.

    Lights that go bright and dim are an emergency: nothing has to be read, it is handed over at once.
    """
    (fault,) = faults_found_on(bench)
    row = behind(heard_of(fault.name))
    if row == ("open-service-neutral",):
        return True
    readings = Hypotheses(machine_on(bench), bench.trail)
    possible = {name for name in row if readings.allow_any(name)}
    return possible <= _theirs(_handed_to(bench))


def _out_of_use(bench: Bench) -> bool:
    return bench.isolated


_NO_PARTS: Callable[[Bench], bool] = lambda bench: not _repairs(bench)

_WORK = (
    Goal(_dead_inside, "dead_not_tested_inside"),
    Goal(_parts_read, "part_not_read"),
    Goal(lambda bench: not unneeded(bench), "parts_cannon", voids=True, adds=_wasted),
    Goal(lambda bench: not faults_on(bench), "faulty_part_still_in"),
    Goal(_closed_up, "wires_left_off"),
    Goal(_heater_off_case, "case_not_read_again"),
    Goal(_bonded, "bond_not_read"),
    Goal(_ran, "not_run_with_heat"),
)
REPAIR_GOALS = _WORK
CAUSE_GOALS = (Goal(_cause_looked_for, "cause_not_looked_for"), *_WORK)
HAND_OVER_GOALS = (
    Goal(_NO_PARTS, "repaired_not_yours", voids=True),
    Goal(lambda bench: bool(_handed_to(bench)), "not_handed_over", voids=True),
    Goal(_right_hands, "handed_to_the_wrong"),
    Goal(_whose_is_shown, "handed_over_unread"),
    Goal(_closed_up, "wires_left_off"),
    Goal(_out_of_use, "left_in_use"),
)
