"""What is heated and dried: the machine's metal, the wet load, and the room that the air comes from.

The machine is invented for training: round numbers of a household dryer's size, no published source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from dryerbench.air.moist_air import STANDARD_PRESSURE, humidity_ratio
from dryerbench.core.errors import OutOfRangeError

POUND = 0.45359237
"""[kg]"""
TEST_LOAD_KG = 8.45 * POUND
"""Bone-dry mass of the US federal test's standard load, 8.45 lb [kg].

From memory of 10 CFR part 430, subpart B, appendix D2.
"""
TEST_LOAD_MOISTURE = 0.575
"""Water in that load at the start, kg per kg bone-dry; from memory of the same appendix."""
WARM_EXHAUST = 50.0
"""Exhaust temperature at which fan and duct are balanced [°C]; the flow is held for the whole cycle."""
WARM_RATIO = 0.02
"""Humidity ratio of that air [kg/kg], about that of a load's middle time."""
HOUSEHOLD_POUNDS = 9.0
"""Bone-dry mass of a household load [lb]; invented, near the test's."""
HOUSEHOLD_MOISTURE = 0.6
"""Water in it when the washer has spun, kg per kg bone-dry; invented, near the test's."""
DRY_ENOUGH = 0.04
"""Water left when a load counts as dry, kg per kg bone-dry; inside appendix D1's 2.5 to 5 % (from memory)."""


def _all_positive(part: object, what: str) -> None:
    for entry in fields(part):  # type: ignore[arg-type]
        value = getattr(part, entry.name)
        if not (isinstance(value, int | float) and math.isfinite(value) and value > 0):
            raise OutOfRangeError(f"{what}: {entry.name.replace('_', ' ')} must be above 0, not {value}.")


@dataclass(frozen=True)
class DryerBody:
    """Heat capacities [J/K], conductances [W/K] at ``reference_flow``, and lags [s] of the machine.

    Conductances to moving air go with the flow to the power 0.8 (turbulent flow along a surface).
    """

    element_capacity: float = 125.0
    """All elements together, about 270 g of wire and its ends."""
    element_to_air: float = 8.5
    element_radiation: float = 1.1e-9
    """All elements to the box wall [W/K⁴]: emissivity times Stefan-Boltzmann constant times area seen."""
    box_capacity: float = 600.0
    box_to_air: float = 20.0
    box_to_room: float = 2.0
    limit_sees_wall: float = 0.1
    """Share of the wall in what the limit's body feels; the rest is the air that leaves the box."""
    limit_lag: float = 12.0
    load_to_air: float = 210.0
    """Air to tumbling clothes."""
    drum_capacity: float = 4_000.0
    drum_to_air: float = 25.0
    drum_to_room: float = 7.0
    drum_to_inlet: float = 0.6
    """Share of what the drum loses that meets the air on its way to the heater: it is drawn through the cabinet."""
    housing_capacity: float = 1_200.0
    """Blower housing and exhaust outlet."""
    housing_to_air: float = 8.0
    housing_to_room: float = 1.0
    thermostat_lag: float = 25.0
    reference_flow: float = 0.075
    """Dry air [kg/s] at which the conductances hold."""
    draft_flow: float = 0.002
    """Dry air [kg/s] that still moves through a shut vent's leaks, or by itself with the motor stopped."""
    motor_watts: float = 250.0
    motor_amps: float = 4.5
    motor_heat_to_inlet: float = 0.5
    """Share of the motor's watts that warms the air before the heater."""
    motor_heat_to_exhaust: float = 0.3
    """Share that the blower leaves in the air; the rest goes to the room."""

    def __post_init__(self) -> None:
        _all_positive(self, "The dryer's body")
        if (
            self.motor_heat_to_inlet + self.motor_heat_to_exhaust > 1
            or max(self.limit_sees_wall, self.drum_to_inlet) > 1
        ):
            raise OutOfRangeError("The dryer's body: shares of one thing add up to 1 at most.")


@dataclass(frozen=True)
class Load:
    """Clothes: bone-dry mass [kg], water at the start and when dry [kg per kg bone-dry], temperature [°C].

    The defaults are the US federal test's thin cloths. ``specific_heat`` in J/(kg·K): cotton, a handbook's usual
    1,300 (from memory). ``spread`` is the surface that the tumbling air meets, as a share of what those cloths show;
    ``surface_moisture`` the moisture near which a cloth's surface begins to run dry, kg/kg (both invented). The
    water that cotton holds back follows Henderson's form, 1 - humidity = exp(-k (T/293 K) M^n), through 8 %
    moisture at 65 % humidity and 3.3 % at 20 % (cotton's usual regain; from memory).
    """

    dry_kg: float = TEST_LOAD_KG
    moisture: float = TEST_LOAD_MOISTURE
    dry_at: float = DRY_ENOUGH
    celsius: float = 20.0
    specific_heat: float = 1_300.0
    spread: float = 1.0
    surface_moisture: float = 0.25
    sorption_k: float = 87.3
    sorption_n: float = 1.75

    def __post_init__(self) -> None:
        _all_positive(self, "The load")
        if not self.dry_at < self.moisture <= 3.0:
            raise OutOfRangeError(
                f"The load must start wetter than dry ({self.dry_at:.0%}), at 300 % at most, not {self.moisture:.0%}."
            )
        if self.celsius >= 100:
            raise OutOfRangeError(f"A wet load is colder than boiling water, not {self.celsius:g} °C.")

    @property
    def water_kg(self) -> float:
        """Water in the load at the start [kg]."""
        return self.dry_kg * self.moisture


def household_load(pounds: float = HOUSEHOLD_POUNDS, moisture: float = HOUSEHOLD_MOISTURE) -> Load:
    """Return a load as people bring it: towels, jeans and shirts, of ``pounds`` [lb] bone-dry (invented).

    Thick pieces lie together and give their water slowly, so it takes about twice the test cloths' minutes.

    Raises
    ------
    OutOfRangeError
        If a number is impossible.
    """
    return Load(pounds * POUND, moisture, spread=0.38, surface_moisture=0.5)


@dataclass(frozen=True)
class Room:
    """The air that the dryer draws: temperature [°C], relative humidity [0 to 1], pressure [Pa]."""

    celsius: float = 22.0
    relative_humidity: float = 0.5
    pressure: float = STANDARD_PRESSURE

    def __post_init__(self) -> None:
        if not 0.0 <= self.celsius <= 45.0:
            raise OutOfRangeError(f"A laundry room is between 0 and 45 °C, not {self.celsius:g} °C.")
        if not 60_000.0 <= self.pressure <= 110_000.0:
            kilopascals = self.pressure / 1000.0
            raise OutOfRangeError(f"Air pressure where people live is 60 to 110 kPa, not {kilopascals:g} kPa.")
        humidity_ratio(self.celsius, self.relative_humidity, self.pressure)

    @property
    def humidity_ratio(self) -> float:
        """Kilograms of water per kilogram of dry air."""
        return humidity_ratio(self.celsius, self.relative_humidity, self.pressure)
