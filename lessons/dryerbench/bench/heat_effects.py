"""What a set of causes does to the heat switches over a load: which of them click, which blow.

A load is followed as a household lives it: dried on high heat for an hour; once with the door opened in the middle,
while heat is still called for; and once on the setting without heat. Cause and effect of a call are dealt by this.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.bench.access import limits, one_shots, thermostats
from dryerbench.bench.faults import Fault
from dryerbench.bench.heat import After, cold_heat, pass_minutes
from dryerbench.bench.machine import Machine
from dryerbench.bench.states import State

LOAD_MINUTES = 60.0
DOOR_OPENED_AFTER, DOOR_OPEN_FOR = 10.0, 10.0
"""When the door is opened in the middle of a load, and for how long heat is then still called for [min]."""
CLICKS = 5
"""Openings in one load from which a switch is heard to click on and off."""
_DRYING = State(running=True, calling=True)


@dataclass(frozen=True, slots=True)
class Effects:
    """What the heat switches did over a load: how often each opened at most, which one-shot switches blew."""

    cycling: int
    limit: int
    blown: frozenset[str]

    @property
    def cutoff_blown(self) -> bool:
        """Whether a one-shot switch blew: the cut-off, or on some machines a fuse."""
        return bool(self.blown)

    @property
    def limit_clicks(self) -> bool:
        """Whether the limit opens again and again."""
        return self.limit >= CLICKS


@lru_cache(maxsize=1024)
def over_a_load(machine: Machine, faults: tuple[Fault, ...]) -> Effects:
    """Return what ``faults`` make the heat switches of ``machine`` do over a load.

    Raises
    ------
    FaultError
        For a fault that this machine cannot have.
    """
    runs = tuple(_runs(machine, faults))
    blown = frozenset(switch for run in runs for switch in _blown_in(machine, run))
    return Effects(_most(runs, thermostats(machine)), _most(runs, limits(machine)), blown)


def _runs(machine: Machine, faults: tuple[Fault, ...]) -> Iterator[After]:
    """Yield what a load comes to: dried, aired, dried until the door is opened, and with the door open."""
    cold = cold_heat(machine, faults)
    yield pass_minutes(machine, faults, _DRYING, cold, LOAD_MINUTES)
    without = replace(_DRYING, calling=False, dial="air" if machine.stands else "")
    yield pass_minutes(machine, faults, without, cold, LOAD_MINUTES)
    begun = pass_minutes(machine, faults, _DRYING, cold, DOOR_OPENED_AFTER)
    yield begun
    stopped = replace(begun.state, running=False, door_closed=False)
    yield pass_minutes(machine, faults, stopped, begun.heat, DOOR_OPEN_FOR)


def _blown_in(machine: Machine, run: After) -> list[str]:
    return [switch for switch in one_shots(machine) if run.opened(switch)]


def _most(runs: Sequence[After], switches: Collection[str]) -> int:
    return max((run.opened(switch) for run in runs for switch in switches), default=0)


def blows(machine: Machine, faults: Sequence[Fault]) -> bool:
    """Return whether ``faults`` blow the cut-off of ``machine`` over a load; whole before, so leave that one out."""
    return any(_blown_in(machine, run) for run in _runs(machine, tuple(faults)))


def has_a_part(machine: Machine, cause: Fault, beside: Sequence[Fault]) -> bool:
    """Return whether ``cause`` and what is ``beside`` it blow the cut-off, which ``beside`` alone does not."""
    return blows(machine, (*beside, cause)) and not blows(machine, beside)
