"""What a customer hears of each fault of a machine of the family: the machine's own physics, and what stays unclear.

A fault is clear if the machine stays dead, hums, stays cold, dries with part of its coils or too little air, or has
live metal at the heater that takes the breaker out. What some customers would tell one way and some another is unclear:
it is neither right nor wrong as an answer, and no call is dealt from it.
"""

from __future__ import annotations

from functools import lru_cache

from dryerbench.bench.faults import from_family
from dryerbench.diagnosis.asked_to_run import Asked, asked_to_run
from dryerbench.diagnosis.machine_hand_over import hands_of, heard_among
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of

SLOW, TRIPS = "slow", "trips"
_SLOW_SHARE = 0.75  # of a sound machine's watts, up to which a household notices
_LITTLE_AIR = 0.5  # share of the air lost from which it does
_CUTS, _TOUCHES = ("breaks", "opens"), ("touches", "chafes")
_UNCLEAR = ("coil-broken-touches", "overload-tripped", "service-neutral-lost")
_NEAR = {
    "dead": ("hums", TRIPS, "lights"),
    "no-heat": (TRIPS, "lights"),
    "hums": ("lights",),
    SLOW: ("lights",),
    TRIPS: ("lights",),
}
"""What some customers would tell like what is heard: common practice, no published source."""


@lru_cache(maxsize=16)
def told_on(made: Arrangement) -> dict[str, str]:
    """Return the short name of what is heard of each fault of an arrangement that is clear, by the fault's name."""
    there = [fault for fault in faults_of(made) if fault.name not in _UNCLEAR]
    heard = heard_among(made, frozenset(from_family(fault).name for fault in there))
    asked = asked_to_run(made)
    found = {}
    for fault in there:
        name = from_family(fault).name
        key = TRIPS if fault.kind.does in _TOUCHES else heard.get(name, "")
        key = key or (SLOW if _is_slow(fault, asked[fault]) else "")
        if key:
            found[name] = key
    return found


def _is_slow(fault: Fault, asked: Asked) -> bool:
    if fault.kind.on == ("machine",) and fault.air_lost:
        return fault.air_lost >= _LITTLE_AIR
    return fault.kind.does in _CUTS and asked.turns and 0.0 < asked.share < _SLOW_SHARE


def told_alike(made: Arrangement, key: str) -> tuple[str, ...]:
    """Return the faults of an arrangement that are clearly heard as ``key``."""
    return tuple(name for name, own in told_on(made).items() if own == key)


def told_near(made: Arrangement, key: str) -> frozenset[str]:
    """Return the clear faults that some customers would tell as ``key`` too: neither right nor wrong."""
    near = frozenset(name for name, own in told_on(made).items() if own in _NEAR[key])
    return near | house_faults(made) if key == "hums" else near


@lru_cache(maxsize=16)
def house_faults(made: Arrangement) -> frozenset[str]:
    """Return the faults of the house's wiring."""
    return frozenset(name for name in hands_of(made) if "@" not in name)


@lru_cache(maxsize=16)
def to_cabinet(made: Arrangement) -> tuple[str, ...]:
    """Return the faults that the reading of the heater to the cabinet has to clear, whatever is heard."""
    touching = (*_TOUCHES, "breaks and touches")
    return tuple(from_family(fault).name for fault in faults_of(made) if fault.kind.does in touching)


def suspects(made: Arrangement, key: str) -> tuple[str, ...]:
    """Return what readings of the dead machine have to clear where ``key`` is heard, one by one."""
    own = [name for name in told_alike(made, key) if name not in hands_of(made)]
    return tuple(dict.fromkeys((*own, *to_cabinet(made))))
