"""The shared terminal of a heater without names: which terminals the readings leave, and what a hand tagged.

Coils that share a terminal read one coil from it and two in series past it. Whether readings leave one terminal alone
is worked out from the readings; which terminal it is, from the machine's own arrangement.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.schoolroom import setting_of
from dryerbench.bench.states import State
from dryerbench.bench.work_done import dead_readings
from dryerbench.bench.worksite import machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement

GRADED = ("hallway", "mudroom", "pantry", "porch")
"""Dryers whose shared terminal is graded: three coils and two that share one, two coils apart, one coil."""
PRACTICED = ("alcove", "cellar", "attic", "workshop")
"""The same four kinds for practice, other machines."""
SHARED_TAG, NONE_TAG = "T0", "NONE"
"""What the tag says on the wire of the shared terminal, and on any wire of a heater that has none."""

_LEAST_COIL = 3.0
"""Ω under which two terminals are no two ends of a coil (no dryer's coil is so small: our own bound)."""
_SHARE, _LEADS = 0.03, 0.8
"""How far sums of readings may be apart: the meter's percent, and Ω of leads that were not subtracted."""
_NUMBER = 1000.0
"""Ω up to which a reading is one of coils and not of dirt."""

Pair = frozenset[str]
Readings = Mapping[Pair, float]


def deal_nameless(name: str, stream: Stream) -> Machine:
    """Return a good dryer of one of ``GRADED``, called ``name``."""
    return on_the_bench(drawn_machine(arrangement(stream.choose(GRADED)), stream, name))


def heater_wires(made: Arrangement) -> frozenset[str]:
    """Return the wires on the heater's terminals."""
    return frozenset(wire.name for point in made.box_terminals for wire in made.wires_at(point))


def pairs_read(bench: Bench) -> dict[Pair, float]:
    """Return the Ω of each pair of heater terminals that was read dead with every heater wire off; endless for OL."""
    made = arrangement_of(machine_on(bench))
    found = {}
    for act in bench.trail:
        reading = act.get("reading")
        if not reading or not set(reading["places"]) <= set(made.box_terminals):
            continue
        pulled = setting_of(State.from_data(act["asked"])).pulled
        if dead_readings([act], *reading["places"]) and heater_wires(made) <= pulled:
            found[frozenset(reading["places"])] = math.inf if reading["value"] is None else reading["value"]
    return found


def may_be_shared(terminals: Sequence[str], readings: Readings) -> tuple[str, ...]:
    """Return the terminals that ``readings`` leave as the shared one; an empty text stands for none at all."""
    found = [centre for centre in terminals if len(terminals) > 2 and _star_fits(centre, terminals, readings)]
    return (*found, *([""] if _apart_fits(terminals, readings) else []))


def _star_fits(centre: str, terminals: Sequence[str], readings: Readings) -> bool:
    """Return whether all terminals but ``centre`` can be the own ends of coils that meet there."""
    own = [terminal for terminal in terminals if terminal != centre]
    if any(ohms > _NUMBER for ohms in readings.values()):
        return False
    rows = np.array([[float(terminal in pair) for terminal in own] for pair in readings])
    sums = np.array(list(readings.values()))
    if not len(sums):
        return True
    coils, *_ = np.linalg.lstsq(rows, sums, rcond=None)
    near = np.abs(rows @ coils - sums) <= _LEADS + _SHARE * sums
    return bool(near.all() and (coils[rows.any(axis=0)] >= _LEAST_COIL).all())


def _pairings(terminals: Sequence[str]) -> Iterable[tuple[Pair, ...]]:
    """Yield every way to pair up ``terminals``."""
    if not terminals:
        yield ()
        return
    first, *rest = terminals
    for other in rest:
        left = [terminal for terminal in rest if terminal != other]
        for pairs in _pairings(left):
            yield (frozenset({first, other}), *pairs)


def _apart_fits(terminals: Sequence[str], readings: Readings) -> bool:
    """Return whether the terminals can be the ends of coils of which no two meet."""
    if len(terminals) % 2:
        return False
    return any(
        all((ohms <= _NUMBER) == (pair in pairs) for pair, ohms in readings.items()) for pairs in _pairings(terminals)
    )


def pairs_settle_it(bench: Bench) -> bool:
    """Return whether the pairs that were read leave one answer, and a coil was read as a number."""
    read = pairs_read(bench)
    left = may_be_shared(arrangement_of(machine_on(bench)).box_terminals, read)
    return len(left) == 1 and any(ohms <= _NUMBER for ohms in read.values())


def _said(text: str) -> str:
    """Return what a tag says: capitals or not, the letter O for a zero."""
    return text.strip().upper().replace("TO", SHARED_TAG)


def tagged_right(bench: Bench) -> bool:
    """Return whether the tags say which terminal is shared, and nothing else: the wire's own, or that there is none."""
    made = arrangement_of(machine_on(bench))
    tags = {wire: _said(text) for wire, text in bench.tags.items() if wire in heater_wires(made)}
    there = {wire for wire, text in tags.items() if text == SHARED_TAG}
    none = NONE_TAG in tags.values()
    if not made.shared:
        return none and not there
    return not none and bool(there) and there <= {wire.name for wire in made.wires_at(made.shared)}
