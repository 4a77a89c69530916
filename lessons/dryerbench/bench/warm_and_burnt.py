"""What eyes and hands have learned of heat: the boxes and ducts that are hot now, coils that glow, joints seen burnt.

A hand held near tells what is hot, eyes tell what glows: neither is an act. What is burnt is known after a look alone.
"""

from __future__ import annotations

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.faults import family_of
from dryerbench.bench.schoolroom import our_name
from dryerbench.bench.senses import place_seen
from dryerbench.bench.worksite import BURNS, Worksite, faults_on, machine_on, situation_on
from dryerbench.family.faults import target_of

GLOWS = 525.0
"""°C from which a wire glows so that an eye sees it (Draper, 1847: 798 K; from memory)."""
_WATTS = 1.0  # of a coil that carries current
_SCORCHES = ("burns", "joint")
_SAME_PLACE = {"heater box": "box"}


def box_is_hot(bench: Worksite) -> bool:
    """Return whether the heater box would burn a hand now."""
    return bench.state.limit_celsius > BURNS


def exhaust_is_hot(bench: Worksite) -> bool:
    """Return whether blower and duct would burn a hand now."""
    return bench.state.exhaust_celsius > BURNS


def glowing_coils(bench: Worksite) -> frozenset[str]:
    """Return the coils, by the family's names, that carry current and glow now."""
    if bench.state.element_celsius < GLOWS:
        return frozenset()
    machine, now = machine_on(bench), situation_on(bench).flows
    found = set()
    for coil in arrangement_of(machine).coils:
        name = our_name(machine, coil.name)
        pieces = [piece for piece in (name, f"{name} rest") if piece in now.circuit]
        if sum(now.watts(piece).real for piece in pieces) > _WATTS:
            found.add(coil.name)
    return frozenset(found)


def seen_burnt(bench: Worksite) -> frozenset[str]:
    """Return the points, by the family's names, of joints that are burnt and were looked at."""
    looked = [act["with"]["place"] for act in bench.trail if act["act"] == "look"]
    places = {_SAME_PLACE.get(str(place), str(place)) for place in looked}
    machine = machine_on(bench)
    made = arrangement_of(machine)
    burnt = [one for one in family_of(machine, faults_on(bench)) if one.kind.does in _SCORCHES]
    return frozenset(target_of(made, one).points[-1] for one in burnt if place_seen(made, one) in places)
