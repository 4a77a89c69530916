"""A call on a machine of the family that is not yours: what it can be, what is heard alike there, and whose each is.

What a customer hears is what the physics makes of each fault: the machine is asked to run with heat, and stays dead,
hums, or turns and stays cold. So a lost leg is heard as its own machine is wired.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import from_family
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.call_dealing import Visit
from dryerbench.diagnosis.complaints import customer_words
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.fault_readings import ShownBy, shown_by
from dryerbench.family.faults import Fault, faults_of
from dryerbench.family.machine import drawn_machine, standard
from dryerbench.family.readings import coil_watts
from dryerbench.family.settings import read_setting
from dryerbench.family.settling import Settled, flowing_all, motor_volts, settle_all
from dryerbench.family.shelf import arrangement, machine_names

ELECTRICIAN, UTILITY, QUALIFIED = HANDS
KIND = "hand over"
LESSONS_OWN = "schoolroom"
"""The machine that the lessons teach on: a call on a machine not seen before is on any other."""
_NO_HEAT, _DEAD, _HUMS, _LIGHTS = "no-heat", "dead", "hums", "lights"
_COLD_SHARE = 0.02  # of the watts of a sound machine
_HUM_VOLTS = 30.0
_TINGLES = "neutral-lost-three-wire"
_SERVICE = "service-neutral-lost"
_FEW = 3
"""Up to so many faults a machine is asked with these alone, else with all: what is known is asked again."""


def _key(settled: Settled, pressed: float, share: float) -> str:
    """Return the short name of what is heard of a machine that was asked to run with heat; empty for nothing of ours.

    ``pressed`` are the motor's volts with start pressed, ``share`` the heater's watts to those of a sound machine.
    """
    if "the breaker trips" in settled.happened:
        return ""
    if settled.setting.running:
        return _NO_HEAT if share < _COLD_SHARE else ""
    if "the motor does not turn" not in settled.happened:
        return ""
    return _HUMS if pressed > _HUM_VOLTS else _DEAD


@dataclass(frozen=True, slots=True)
class Asked:
    """What a machine with one fault does when it is asked to run with heat: what is heard, its watts, if it turns.

    ``heard`` is a short name, empty for nothing of ours; ``share`` is of a sound machine's watts.
    """

    heard: str
    share: float
    turns: bool


@lru_cache(maxsize=16)
def asked_to_run(made: Arrangement) -> dict[Fault, Asked]:
    """Return what the machine does with each of its faults."""
    return _asked(made, faults_of(made))


def _asked(made: Arrangement, there: Sequence[Fault]) -> dict[Fault, Asked]:
    machine, setting = standard(made), read_setting(f"run {made.heats[0]}")
    settled = settle_all(machine, [((), setting), *(((fault,), setting) for fault in there)])
    watts = [coil_watts(made, solved) for solved in flowing_all(settled)]
    start = replace(setting, running=False, start_pressed=True)
    pressed = settle_all(machine, [((fault,), start) for fault in there])
    volts = [motor_volts(made, solved) for solved in flowing_all(pressed)]
    found = {}
    for fault, one, own, at_motor in zip(there, settled[1:], watts[1:], volts, strict=True):
        share = own / watts[0]
        key = _LIGHTS if fault.name == _SERVICE else _key(one, at_motor, share)
        found[fault] = Asked(key, share, one.setting.running)
    return found


@lru_cache(maxsize=64)
def heard_among(made: Arrangement, names: frozenset[str]) -> dict[str, str]:
    """Return the short name of what is heard of each of the faults ``names`` that is heard at all, by its name."""
    there = [fault for fault in faults_of(made) if from_family(fault).name in names]
    asked = _asked(made, there) if len(there) <= _FEW else asked_to_run(made)
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
        if fault.name == _SERVICE:
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
        if heard.get(name) in (_NO_HEAT, _DEAD, _LIGHTS) and not (three and name in (_TINGLES, _SERVICE))
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
