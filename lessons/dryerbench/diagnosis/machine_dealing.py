"""A plain call and one with a cause behind the fault, each on a machine of the family, to be marked.

A plain fault is one that the machine's own dead readings show and that a customer clearly hears
(``machine_complaints``). A call with a cause is one of several ``STORIES``. What heat makes, it has to make over a load
on that very machine (``is_made``); what wear makes (a limit that clicked for months, a burnt spade) is taken from the
pairs of the family's faults.
"""

from __future__ import annotations

from collections.abc import Collection
from functools import lru_cache

from dryerbench.bench.faults import from_family
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.call_dealing import KINDS, TRIES, DealingError, Visit
from dryerbench.diagnosis.complaints import customer_words
from dryerbench.diagnosis.machine_complaints import SLOW, told_on
from dryerbench.diagnosis.machine_hand_over import LESSONS_OWN, dead_readings_of, hands_of
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of, pairs_of
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

PLAIN, CAUSE, _ = KINDS
ONE_SHOT_FAULTS = ("cut-off-blown", "manual-tripped")
LIMIT_FAULTS = ("limit-open", "limit-open-of-two")
COIL_FAULTS = ("coil-open", "coil-open-of-several")
STORIES = {
    "limit stuck, little air": (("limit-stuck", "vent-restricted"), ("limit-stuck", "lint-clogged")),
    "limit stuck, motor contact welded": (("limit-stuck", "motor-contact-welded"),),
    "limit worn out by little air": (("vent-restricted",),),
    "limit worn out by a welded motor contact": (("motor-contact-welded",),),
    "coil burnt off at a burnt spade": (("spade-burnt",),),
}
"""What a call with a cause is dealt from: causes that a reading of their own, or a look into the vent, shows."""
_EFFECTS = {
    "limit stuck, little air": ONE_SHOT_FAULTS,
    "limit stuck, motor contact welded": ONE_SHOT_FAULTS,
    "limit worn out by little air": LIMIT_FAULTS,
    "limit worn out by a welded motor contact": LIMIT_FAULTS,
    "coil burnt off at a burnt spade": COIL_FAULTS,
}
_TOO, _GROUND_OFF = "cycling-welded", "ground-off"
_ONE_OF_SEVERAL = ("lead-chafed",)
"""What is found only by pulling one wire after the other: no plain call is dealt from it."""
_TOUCH = ("0.3", "0.7", "0.02")
_STRENGTHS = {
    "vent-restricted": ("0.65", "0.8", "0.05"),
    "lint-clogged": ("0.65", "0.8", "0.05"),
    "spade-burnt": ("1.5", "4.0", "0.5"),
}
"""How strong a cause is dealt: a share of the air lost, or ohms of a joint."""


@lru_cache(maxsize=16)
def plain_faults(made: Arrangement) -> tuple[Fault, ...]:
    """Return the faults with nothing behind them that a technician finds dead and a customer clearly hears."""
    told, hands = told_on(made), hands_of(made)
    return tuple(
        fault
        for fault in faults_of(made)
        if (name := from_family(fault).name) in told and name not in hands and fault.on not in _one_shots(made)
        and fault.kind.by == "technician" and fault.kind.electrical and dead_readings_of(made, fault)
        and fault.name not in _ONE_OF_SEVERAL
    )  # fmt: skip


def _one_shots(made: Arrangement) -> frozenset[str]:
    return frozenset(part.name for part in made.of_kind(*ONE_SHOT))


def _others(but: Collection[str]) -> tuple[str, ...]:
    """Return the machines but the lessons' own and ``but`` whose cabinet has a ground wire to be read."""
    there = (one for one in machine_names() if one != LESSONS_OWN and one not in but)
    return tuple(one for one in there if arrangement(one).cord == "four-wire")


def deal_plain(name: str, stream: Stream, but: Collection[str] = ()) -> Visit:
    """Return a plain call on a machine of the family called ``name``, of none of the arrangements ``but``.

    Of ten calls about one has nothing wrong, and one has no ground wire besides its fault.
    """
    made = arrangement(stream.choose(_others(but)))
    machine = on_the_bench(drawn_machine(made, stream, name))
    luck = stream.integer(1, 10)
    if luck == 1:
        return Visit(PLAIN, machine, (), SLOW, customer_words(SLOW, stream, wrong=False))
    fault = _chosen(made, stream)
    faults = (Fault(_GROUND_OFF), fault) if luck == 2 else (fault,)
    key = told_on(made)[from_family(fault).name]
    return Visit(PLAIN, machine, _written(faults), key, customer_words(key, stream))


def _chosen(made: Arrangement, stream: Stream) -> Fault:
    """Return a plain fault: each that has a name of its own as often as the other, whatever it hangs on."""
    there = plain_faults(made)
    name = stream.choose(tuple(dict.fromkeys(fault.name for fault in there)))
    fault = stream.choose(tuple(fault for fault in there if fault.name == name))
    return fault if fault.strength is None else Fault(fault.name, fault.on, stream.step(*_TOUCH))


def _written(faults: Collection[Fault]) -> tuple[str, ...]:
    return tuple(str(from_family(fault)) for fault in faults)


def story_of(faults: Collection[str]) -> str:
    """Return which story the faults of a call with a cause tell, given by their names without part; empty if none."""
    for story, causes in STORIES.items():
        rest = set(faults) - {_TOO}
        if any(rest - set(one) <= set(_EFFECTS[story]) and set(one) < rest for one in causes):
            return story
    return ""


@lru_cache(maxsize=16)
def cause_pairs(made: Arrangement) -> dict[str, tuple[tuple[Fault, ...], ...]]:
    """Return, by story, the causes with what they lead to (last), before a machine is asked if they do.

    A story that alone is told in its words on this machine is left out: nobody may know it from the complaint.
    """
    told = told_on(made)
    found: dict[str, list[tuple[Fault, ...]]] = {}
    for pair in pairs_of(made):
        story = story_of([fault.name for fault in pair])
        if story and from_family(pair[-1]).name in told:
            found.setdefault(story, []).append(pair)
    heard = {story: frozenset(told[from_family(pair[-1]).name] for pair in pairs) for story, pairs in found.items()}
    return {
        story: tuple(pairs)
        for story, pairs in sorted(found.items())
        if any(heard[story] <= others for other, others in heard.items() if other != story)
    }


def with_cause(but: Collection[str] = ()) -> tuple[str, ...]:
    """Return the machines of the family, but ``but``, on which a call with a cause can be."""
    return tuple(one for one in _others(but) if cause_pairs(arrangement(one)))


def deal_cause(name: str, stream: Stream, but: Collection[str] = ()) -> Visit:
    """Return a call with a cause behind its fault, on a machine called ``name``, of no arrangement of ``but``.

    Each story that the machine can have is dealt as often as the others. What its physics does not make of the causes
    is dealt anew.

    Raises
    ------
    DealingError
        If none of very many deals is one that this machine makes.
    """
    made = arrangement(stream.choose(with_cause(but)))
    machine = on_the_bench(drawn_machine(made, stream, name))
    for _ in range(TRIES):
        pair = _pair(made, stream)
        if is_made(machine, pair):
            key = told_on(made)[from_family(pair[-1]).name]
            return Visit(CAUSE, machine, _written((pair[-1], *pair[:-1])), key, customer_words(key, stream))
    raise DealingError(f"No cause blows a switch of the dryer {made.name}: it has no call with a cause.")


def _pair(made: Arrangement, stream: Stream) -> tuple[Fault, ...]:
    """Return causes with their effect (last); where a switch blows, now and then the thermostat is welded besides."""
    stories = cause_pairs(made)
    pair = stream.choose(stories[stream.choose(tuple(stories))])
    drawn = tuple(_strong(one, stream) for one in pair[:-1])
    blows = pair[-1].name in ONE_SHOT_FAULTS
    welded = tuple(one for one in faults_of(made) if one.name == _TOO) if blows else ()
    too = (stream.choose(welded),) if welded and stream.integer(1, 3) == 1 else ()
    return (*drawn, *too, pair[-1])


def _strong(cause: Fault, stream: Stream) -> Fault:
    if cause.strength is None:
        return cause
    return Fault(cause.name, cause.on, stream.step(*_STRENGTHS[cause.name]))


def is_made(machine: Machine, pair: tuple[Fault, ...]) -> bool:
    """Return whether a pair of causes and effect (last) is one that this machine makes: heat blows what it blows."""
    effect, made = pair[-1], machine.stands
    assert made is not None
    one_shots = {part.name for part in made.arrangement.of_kind(*ONE_SHOT)}
    if effect.kind.does != "opens" or effect.on not in one_shots:
        return True
    causes = tuple(from_family(fault) for fault in pair[:-1])
    return effect.on in over_a_load(machine, causes).blown
