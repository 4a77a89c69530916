"""What a machine's sheet says of heat: its good air, and which switch of it opens where and what it feels."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from dryerbench.air.dryer_body import WARM_EXHAUST, WARM_RATIO, DryerBody, Load, Room, household_load
from dryerbench.air.drying import LIMIT, THERMOSTAT
from dryerbench.air.ducts import CFM
from dryerbench.air.moist_air import dry_air_density
from dryerbench.air.thermostats import HeatSwitch
from dryerbench.air.warm_machine import HeatParts, MotorHeat
from dryerbench.core.errors import OutOfRangeError


def dry_air(cfm: float) -> float:
    """Return the dry air [kg/s] in ``cfm`` of warm exhaust."""
    return cfm * CFM * dry_air_density(WARM_EXHAUST, WARM_RATIO)


@dataclass(frozen=True, slots=True)
class HeatRatings:
    """One arrangement's air and heat switches; any arrangement gives its own, under the names of its own parts.

    ``good_air_cfm`` is what it moves through a clean vent. ``in_exhaust`` holds the switches that feel the exhaust
    (cycling thermostats, a board's set point, a motor's thermal fuse), ``on_box`` those on the heater box.

    Raises
    ------
    OutOfRangeError
        If the air is not above zero, or two switches have one name.
    """

    good_air_cfm: float
    in_exhaust: tuple[HeatSwitch, ...]
    on_box: tuple[HeatSwitch, ...]
    overload: HeatSwitch | None = None
    motor: MotorHeat = field(default_factory=MotorHeat)
    body: DryerBody = field(default_factory=DryerBody)

    def __post_init__(self) -> None:
        names = [switch.name for switch in (*self.in_exhaust, *self.on_box)]
        if len(set(names)) < len(names):
            raise OutOfRangeError(f"Two thermostats have one name: {', '.join(sorted(names))}.")
        if not self.good_air_cfm > 0:
            raise OutOfRangeError(f"A dryer moves some air through a clean vent, not {self.good_air_cfm:g} cfm.")

    def parts(
        self,
        air_lost: float = 0.0,
        stuck: Collection[str] = (),
        load: Load | None = None,
        room: Room | None = None,
    ) -> HeatParts:
        """Return what decides the heat with ``air_lost`` (0 to 1) of the air gone and the switches in ``stuck`` shut.

        Raises
        ------
        OutOfRangeError
            If the share is outside 0 to 1.
        """
        if not 0.0 <= air_lost <= 1.0:
            raise OutOfRangeError(f"A share of the air is from 0 to 1, not {air_lost:g}.")
        felt = {switch.name: (switch, THERMOSTAT) for switch in self.in_exhaust}
        felt |= {switch.name: (switch, LIMIT) for switch in self.on_box}
        return HeatParts(
            flow=dry_air(self.good_air_cfm) * (1.0 - air_lost),
            switches={name: both for name, both in felt.items() if name not in stuck},
            overload=self.overload,
            motor=self.motor,
            body=self.body,
            load=load or household_load(),
            room=room or Room(),
        )
