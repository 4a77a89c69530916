"""One dryer and the supply it stands on: the numbers that make it this machine and no other."""

from __future__ import annotations

from dataclasses import dataclass, fields

from dryerbench.air.thermistor import USUAL_BETA, USUAL_OHMS
from dryerbench.air.thermostats import usual_switch
from dryerbench.core.random_stream import Stream
from dryerbench.family.house import Site
from dryerbench.family.machine import Machine as FamilyMachine

ELEMENTS = (1, 2, 3)
_CYCLING, _LIMIT, _CUTOFF = (
    usual_switch(part).opens for part in ("cycling_thermostat", "high_limit", "thermal_cutoff")
)


@dataclass(frozen=True, slots=True)
class Machine(Site):
    """The dryer of the lessons on its site; defaults are common practice, no published source, unless the docs say so.

    Ohms in Ω, lengths in ft, temperatures in °C, capacitances in F. ``cord`` is ``four-wire`` or ``three-wire``.
    """

    name: str = "practice"
    element_ohms: tuple[float, float, float] = (27.0, 27.0, 27.0)
    cord: str = "four-wire"
    contact_ohms: float = 0.01
    wire_ohms: float = 0.005
    thermistor_ohms: float = USUAL_OHMS
    thermistor_beta: float = USUAL_BETA
    thermistor_factor: float = 1.0
    bias_ohms: float = 7200.0
    board_ohms: float = 12_000.0
    board_input_ohms: float = 22_000.0
    cycling_opens: float = _CYCLING
    limit_opens: float = _LIMIT
    cutoff_blows: float = _CUTOFF
    insulation_ohms: float = 5e9
    harness_farads: float = 20e-12
    stands: FamilyMachine | None = None
    """Another machine of the family in the place of the lessons' own; ohms and marks are then its own."""

    @property
    def tag(self) -> str:
        """What tells this machine from another, as text that new fields do not change."""
        if self.stands is not None:
            own = " ".join(f"{name}.{key}={value:g}" for name, key, value in self.stands.own)
            return f"{self.stands.arrangement.name}/{self.name}/{own}/{self.leg_volts:g}/{self.supply}"
        ohms = " ".join(f"{value:g}" for value in self.element_ohms)
        return f"{self.name}/{ohms}/{self.leg_volts:g}/{self.supply}/{self.cord}"

    @property
    def site(self) -> Site:
        """Where it stands: supply, branch and cord, as every machine's wiring takes them."""
        return Site(**{one.name: getattr(self, one.name) for one in fields(Site)})


def on_the_bench(stands: FamilyMachine) -> Machine:
    """Return a machine of the family as one that can stand on the bench."""
    site = {one.name: getattr(stands.site, one.name) for one in fields(Site)}
    return Machine(name=stands.name, cord=stands.cord, stands=stands, **site)


def drawn_machine(stream: Stream, name: str, cord: str = "four-wire") -> Machine:
    """Return a machine of one's own: its elements, supply and wiring drawn from ``stream``.

    Elements 26.0 to 28.0 Ω (27 Ω is common practice), legs 117 to 123 V, 20 to 80 ft of 10 AWG to the panel.
    """
    return Machine(
        name=name,
        element_ohms=(
            stream.step("26", "28", "0.1"),
            stream.step("26", "28", "0.1"),
            stream.step("26", "28", "0.1"),
        ),
        leg_volts=stream.step("117", "123", "0.5"),
        run_feet=stream.step("20", "80", "5"),
        cord=cord,
        cord_feet=stream.choose((4.0, 6.0)),
        house_watts=(stream.step("100", "1500", "50"), stream.step("100", "1500", "50")),
    )
