"""What the bench work of the three calls of lesson 10 has to reach, told from the bench and its trail."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import takewhile

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State
from dryerbench.bench.trail import Act
from dryerbench.bench.work_done import (
    bonded,
    closed_up,
    dead_inside,
    dead_readings,
    exhaust_read,
    heater_off_case,
    heater_read,
    is_repair,
    point_on,
    repairs,
)
from dryerbench.bench.worksite import faults_found_on, faults_on, machine_on
from dryerbench.core.temperatures import celsius
from dryerbench.diagnosis.call_dealing import ELECTRICIAN, HANDED_OVER, QUALIFIED, UTILITY
from dryerbench.diagnosis.complaints import behind, heard_of
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.machine_hand_over import heard_alike, taken_over
from dryerbench.family.faults import Fault, faults_of
from legtoleg.keys.reference import Goal
from legtoleg.keys.repair_goals import parts_read, searched, unneeded, wasted

_MAKE_HOT = ("cycling-welded", "limit-stuck", "motor-contact-welded")
"""Faults that let a box get too hot, each shown by a reading of its own."""
_COLD = 30.0
"""°C up to which a part counts as cold, as it is in a room."""
_TOLERANCE = 8.0
"""°F above its mark at which any sound thermostat or limit of a tech sheet is open."""


# --- call 2: the cause ----------------------------------------------------------------------------------------------


def _shown_open(bench: Bench, acts: Iterable[Act], fault: Fault) -> bool:
    """Return whether what ``fault`` welds was read dead, nothing beside it, as warm as a sound one opens at.

    What reads OL while it is cold is not welded: to hold it hot says no more.
    """
    machine, part = machine_on(bench), arrangement_of(machine_on(bench)).by_name[fault.on]
    a, b = (point_on(machine, point) for point in part.terminals[:2])
    opens = celsius(part.numbers["opens"] + _TOLERANCE) if "opens" in part.numbers else -math.inf
    which = "exhaust_celsius" if part.kind.feels == "exhaust" else "limit_celsius"

    def tells(act: Act) -> bool:
        warmth = getattr(State.from_data(act["asked"]), which)
        return bool(warmth >= opens or (warmth <= _COLD and act["reading"]["shown"] == "OL"))

    return any(tells(act) and not act["facts"]["other_path"] for act in dead_readings(acts, a, b))


def _cause_looked_for(bench: Bench) -> bool:
    """Return whether all that can make the box too hot, the heater to the case and the vent were read before a part."""
    acts = list(takewhile(lambda act: not is_repair(act), bench.trail))
    machine = machine_on(bench)
    hot = [fault for fault in faults_of(arrangement_of(machine)) if fault.name in _MAKE_HOT]
    return (
        all(_shown_open(bench, acts, fault) for fault in hot)
        and heater_read(machine, acts)
        and any(act["act"] == "look_vent" for act in acts)
    )


# --- call 3: whose work it is ---------------------------------------------------------------------------------------

_EMERGENCIES = frozenset({"open-service-neutral", "service-neutral-lost"})


def _handed_to(bench: Bench) -> str:
    given = [act["with"]["to"] for act in bench.trail if act["act"] == "stop_and_hand_over"]
    return str(given[-1]) if given else ""


def _theirs(machine: Machine, to: str) -> frozenset[str]:
    """Return the faults that ``to`` takes over; a qualified person goes on from any that shows only live."""
    if machine.stands is not None:
        return taken_over(machine.stands.arrangement, to)
    if to == QUALIFIED:
        return frozenset(HANDED_OVER)
    return frozenset(name for name, whose in HANDED_OVER.items() if whose == to)


def _alike(machine: Machine, fault: str) -> tuple[str, ...]:
    """Return the faults of ``machine`` that a customer tells like ``fault``."""
    if machine.stands is not None:
        return heard_alike(machine.stands.arrangement, fault)
    return behind(heard_of(fault))


def _right_hands(bench: Bench) -> bool:
    to = _handed_to(bench)
    names = [fault.name for fault in faults_found_on(bench)]
    if set(names) <= _EMERGENCIES:
        return to in (UTILITY, ELECTRICIAN)
    return all(name in _theirs(machine_on(bench), to) for name in names)


def _whose_is_shown(bench: Bench) -> bool:
    """Return whether the readings leave, of what is heard like this, only what those who take it over take on.

    Lights that go bright and dim are an emergency: nothing has to be read, it is handed over at once.
    """
    (fault,) = faults_found_on(bench)
    if fault.name in _EMERGENCIES:
        return True
    machine = machine_on(bench)
    theirs, readings = _theirs(machine, _handed_to(bench)), Hypotheses(machine, bench.trail)
    others = [name for name in _alike(machine, fault.name) if name not in theirs]
    return not readings.which(others)


def _out_of_use(bench: Bench) -> bool:
    return bench.isolated


def _no_parts(bench: Bench) -> bool:
    return not repairs(bench)


def _whose_or_searched(bench: Bench) -> bool:
    return searched(bench) or _whose_is_shown(bench)


_WORK = (
    Goal(dead_inside, "dead_not_tested_inside"),
    Goal(parts_read, "part_not_read", shown_by=searched),
    Goal(lambda bench: not unneeded(bench), "parts_cannon", voids=True, adds=wasted, shown_by=searched),
    Goal(lambda bench: not faults_on(bench), "faulty_part_still_in", shown_by=searched),
    Goal(closed_up, "wires_left_off", shown_by=searched),
    Goal(heater_off_case, "case_not_read_again"),
    Goal(bonded, "bond_not_read"),
    Goal(exhaust_read, "not_run_with_heat"),
)
REPAIR_GOALS = _WORK
CAUSE_GOALS = (Goal(_cause_looked_for, "cause_not_looked_for"), *_WORK)
HAND_OVER_GOALS = (
    Goal(_no_parts, "repaired_not_yours", voids=True, shown_by=_whose_or_searched),
    Goal(lambda bench: bool(_handed_to(bench)), "not_handed_over", voids=True),
    Goal(_right_hands, "handed_to_the_wrong", shown_by=_whose_is_shown),
    Goal(_whose_is_shown, "handed_over_unread"),
    Goal(closed_up, "wires_left_off", shown_by=_whose_or_searched),
    Goal(_out_of_use, "left_in_use"),
)
