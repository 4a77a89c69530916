"""A call on a machine of the family that is not yours: what it can be, what is heard alike there, and whose each is.

What a customer hears is what the physics makes of each fault (``asked_to_run``). So a lost leg is heard as its own
machine is wired.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import from_family
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.asked_to_run import DEAD, LIGHTS, NO_HEAT, SERVICE, asked_to_run
from dryerbench.diagnosis.call_dealing import Visit
from dryerbench.diagnosis.complaints import customer_words
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_readings import ShownBy, shown_by
from dryerbench.family.faults import Fault, faults_of
from dryerbench.family.machine import drawn_machine, standard
from dryerbench.family.settings import read_setting
from dryerbench.family.shelf import arrangement, machine_names

ELECTRICIAN, UTILITY, QUALIFIED = HANDS
KIND = "hand over"
LESSONS_OWN = "schoolroom"
"""The machine that the lessons teach on: a call on a machine not seen before is on any other."""
_TINGLES = "neutral-lost-three-wire"


@lru_cache(maxsize=64)
def heard_among(made: Arrangement, names: frozenset[str]) -> dict[str, str]:
    """Return the short name of what is heard of each of the faults ``names`` that is heard at all, by its name."""
    there = [fault for fault in faults_of(made) if from_family(fault).name in names]
    asked = asked_to_run(made)
    return {from_family(fault).name: asked[fault].heard for fault in there if asked[fault].heard}


def heard_on(made: Arrangement) -> dict[str, str]:
    """Return the short name of what is heard of each fault of an arrangement that is heard at all, by its name."""
    return heard_among(made, frozenset(from_family(fault).name for fault in faults_of(made)))


def heard_alike(made: Arrangement, fault: str) -> tuple[str, ...]:
    """Return the faults of an arrangement that are heard as ``fault`` is, itself among them."""
    heard = heard_on(made)
    return tuple(name for name, key in heard.items() if key == heard.get(fault))


@lru_cache(maxsize=16)
def hands_of(made: Arrangement) -> dict[str, str]:
    """Return whose each fault is that is not a technician's to find on the dead machine; those that are, are left out.

    What shows only while it runs, or while start is held, is a qualified person's; house wiring is an electrician's.
    """
    found = {}
    for fault in faults_of(made):
        by = fault.kind.by
        if fault.name == SERVICE:
            found[from_family(fault).name] = UTILITY
        elif "electrician" in by:
            found[from_family(fault).name] = ELECTRICIAN
        elif by == "technician" and not dead_readings_of(made, fault):
            found[from_family(fault).name] = QUALIFIED
    return found


def dead_readings_of(made: Arrangement, fault: Fault) -> tuple[ShownBy, ...]:
    """Return the readings that show ``fault`` with nothing powered, held, moved or warmed; often there is none."""
    if fault.kind.needs_live:
        return ()
    shown = shown_by(standard(made), fault)
    return tuple(one for one in shown if _still(one))


def _still(one: ShownBy) -> bool:
    setting = read_setting(one.state)
    return not (setting.powered or setting.start_pressed or setting.stirred or "held" in one.state)


def taken_over(made: Arrangement, to: str) -> frozenset[str]:
    """Return the faults that ``to`` takes over; a qualified person goes on from any that is not a technician's."""
    return frozenset(name for name, whose in hands_of(made).items() if to in (QUALIFIED, whose))


def dealt_from(made: Arrangement) -> tuple[str, ...]:
    """Return the faults that a call to hand over is dealt from: none that stands a person at a live cabinet."""
    three = made.cord == "three-wire"
    heard = heard_among(made, frozenset(hands_of(made)))
    return tuple(
        name
        for name in hands_of(made)
        if heard.get(name) in (NO_HEAT, DEAD, LIGHTS) and not (three and name in (_TINGLES, SERVICE))
    )


def deal_hand_over(name: str, stream: Stream) -> Visit:
    """Return a call to hand over, on a machine of the family drawn from ``stream`` and called ``name``."""
    made = arrangement(stream.choose(tuple(one for one in machine_names() if one != LESSONS_OWN)))
    machine = on_the_bench(drawn_machine(made, stream, name))
    fault = stream.choose(_evenly(made, stream))
    key = heard_among(made, frozenset(hands_of(made)))[fault]
    return Visit(KIND, machine, (fault,), key, customer_words(key, stream))


def _evenly(made: Arrangement, stream: Stream) -> Sequence[str]:
    """Return the faults of one pair of hands: an electrician's twice as often as each other's."""
    there = dealt_from(made)
    whose = [hand for hand in (ELECTRICIAN, ELECTRICIAN, QUALIFIED, UTILITY)
             if any(hands_of(made)[name] == hand for name in there)]  # fmt: skip
    hand = stream.choose(tuple(whose))
    return tuple(name for name in there if hands_of(made)[name] == hand)
