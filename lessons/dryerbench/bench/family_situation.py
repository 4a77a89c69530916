"""A machine of the family, settled, in the form that the meter reads: the same meter for every machine."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from dryerbench.bench.machine import Machine
from dryerbench.bench.situation import Situation
from dryerbench.bench.states import State
from dryerbench.circuits.circuit import Circuit
from dryerbench.circuits.solver import Solution
from dryerbench.family.arrangement import CABINET
from dryerbench.family.settling import Settled


@dataclass(frozen=True)
class FamilySituation(Situation):
    """A settled machine of the family; its points are those of its arrangement, its cabinet is ``G``."""

    settled: Settled

    @cached_property
    def circuit(self) -> Circuit:
        """The circuit as it stands."""
        return self.settled.circuit

    @cached_property
    def live(self) -> Solution:
        """The circuit at mains frequency, in volts and amps."""
        return self.settled.live

    @cached_property
    def dead(self) -> Solution:
        """The circuit at direct current with its sources dead: what an ohmmeter drives."""
        return self.settled.dead

    @cached_property
    def tag(self) -> str:
        """A text that is the same for the same machine, faults and setting on every computer."""
        return self.settled.tag

    @property
    def case_volts(self) -> float:
        """The volts between the bare cabinet and earth, through a meter's 10 MΩ."""
        pair = self.live[CABINET, "earth"]
        return abs(pair.volts) * abs(1e7 / (1e7 + pair.ohms))

    def is_live(self, a: str, b: str) -> bool:
        """Return whether touching ``a`` and ``b`` closes more than ghost volts; the bench's ``case`` is the cabinet."""
        here, there = (CABINET if point == "case" else point for point in (a, b))
        return super().is_live(here, there)


def situation_of(settled: Settled) -> FamilySituation:
    """Return the situation that a meter reads on a settled machine of the family."""
    setting, site = settled.setting, settled.machine.site
    machine = Machine(
        name=settled.machine.name, leg_volts=site.leg_volts, supply=site.supply, cord=settled.machine.cord
    )
    state = State(
        plugged=setting.plugged,
        breaker_on=setting.breaker_on,
        door_closed=setting.door_closed,
        start_pressed=setting.start_pressed,
        running=setting.running,
        calling=setting.heat_called,
        low_heat=setting.dial == "low",
        exhaust_celsius=setting.exhaust_celsius,
        limit_celsius=setting.box_celsius,
        element_celsius=setting.coil_celsius,
    )
    return FamilySituation(machine, (), state, settled)
