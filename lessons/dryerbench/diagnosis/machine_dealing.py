"""A plain call and one with a cause behind the fault, each on a machine of the family, to be marked.

A plain fault is one that the machine's own dead readings show and that a customer clearly hears
(``machine_complaints``). Causes are dealt with the one-shot switch that they blow over a load on that very machine
(``is_made``).
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
from dryerbench.diagnosis.machine_hand_over import LESSONS_OWN, dead_readings_of, hands_of, heard_among
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of, pairs_of
from dryerbench.family.kinds import ONE_SHOT
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

PLAIN, CAUSE, _ = KINDS
CAUSES = ("limit-stuck", "vent-restricted", "lint-clogged", "motor-contact-welded")
"""What a call with a cause is dealt from: what its own reading, or a look into the vent, shows."""
_TOO, _GROUND_OFF = "cycling-welded", "ground-off"
_ONE_OF_SEVERAL = ("lead-chafed",)
"""What is found only by pulling one wire after the other: no plain call is dealt from it."""
_AIR, _TOUCH = ("0.65", "0.8", "0.05"), ("0.3", "0.7", "0.02")


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


@lru_cache(maxsize=16)
def cause_pairs(made: Arrangement) -> tuple[tuple[Fault, ...], ...]:
    """Return the causes with the one-shot switch that they blow (last), before a machine is asked if they do."""
    return tuple(
        pair
        for pair in pairs_of(made)
        if pair[-1].on in _one_shots(made) and pair[-1].kind.does == "opens"
        and all(cause.name in CAUSES for cause in pair[:-1])
    )  # fmt: skip


def with_cause(but: Collection[str] = ()) -> tuple[str, ...]:
    """Return the machines of the family, but ``but``, on which a call with a cause can be."""
    return tuple(one for one in _others(but) if cause_pairs(arrangement(one)))


def deal_cause(name: str, stream: Stream, but: Collection[str] = ()) -> Visit:
    """Return a call with a cause behind its fault, on a machine called ``name``, of no arrangement of ``but``.

    What this machine's physics does not make of the causes is dealt anew.

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
            key = _heard(machine, pair[-1])
            return Visit(CAUSE, machine, _written((pair[-1], *pair[:-1])), key, customer_words(key, stream))
    raise DealingError(f"No cause blows a switch of the dryer {made.name}: it has no call with a cause.")


def _pair(made: Arrangement, stream: Stream) -> tuple[Fault, ...]:
    """Return causes with their effect (last); now and then the thermostat is welded besides."""
    pair = stream.choose(cause_pairs(made))
    drawn = tuple(Fault(one.name, one.on, stream.step(*_AIR)) if one.strength is not None else one for one in pair[:-1])
    welded = tuple(one for one in faults_of(made) if one.name == _TOO)
    too = (stream.choose(welded),) if welded and stream.integer(1, 3) == 1 else ()
    return (*drawn, *too, pair[-1])


def _heard(machine: Machine, effect: Fault) -> str:
    assert machine.stands is not None
    name = from_family(effect).name
    return heard_among(machine.stands.arrangement, frozenset((name,)))[name]


def is_made(machine: Machine, pair: tuple[Fault, ...]) -> bool:
    """Return whether a pair of causes and effect (last) is one that this machine makes: heat blows what it blows."""
    effect, made = pair[-1], machine.stands
    assert made is not None
    one_shots = {part.name for part in made.arrangement.of_kind(*ONE_SHOT)}
    if effect.kind.does != "opens" or effect.on not in one_shots:
        return True
    causes = tuple(from_family(fault) for fault in pair[:-1])
    return effect.on in over_a_load(machine, causes).blown
