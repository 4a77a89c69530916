"""The coupled equations: element, heater box, drum, wet load and exhaust, with the air that links them.

The air holds almost no heat of its own (seconds of flow), so it is taken as steady and followed from part
to part: over the element, along the box, through the load, along drum and housing. Heat that the air gives
up is heat that a part takes; water that the load loses is water that the air carries. So energy and mass
close by construction, but for the integration's own error, which the record keeps. The load is one lump,
evenly wet and freely tumbling: a tangled load of the same mass takes longer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, NamedTuple, Protocol

import numpy as np

from dryerbench.air.moist_air import (
    CP_DRY_AIR,
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_HEAT_AT_ZERO,
    MOLAR_RATIO,
    enthalpy,
    saturation_pressure_by,
)
from dryerbench.core.temperatures import KELVIN_AT_ZERO_CELSIUS, FloatOrFloats, Floats

if TYPE_CHECKING:
    from dryerbench.air.dryer_body import DryerBody, Load, Room

ELEMENT, BOX, LIMIT, CLOTHES, WATER, DRUM, HOUSING, THERMOSTAT, TO_EXHAUST, TO_ROOM = range(10)
"""Places in the state: temperatures [°C], water [kg], and energies [J] that left by exhaust and walls."""
STATE_SIZE = 10
SORPTION_KELVIN = 293.0
"""Temperature at which the cloth's sorption constant holds [K]."""
MOST_VAPOUR = 0.98
"""Vapour at the cloth is held below this share of the air pressure: the clothes are then all but boiling."""

Rates = Callable[[Sequence[float]], tuple[float, ...]]


class AirPath(NamedTuple, Generic[FloatOrFloats]):
    """Air at each station [°C], and the humidity ratio that leaves the load; floats, or arrays over time."""

    box_outlet: FloatOrFloats
    after_load: FloatOrFloats
    after_drum: FloatOrFloats
    exhaust: FloatOrFloats
    ratio: FloatOrFloats


Air = tuple[FloatOrFloats, FloatOrFloats, FloatOrFloats, FloatOrFloats, FloatOrFloats]
"""The values of an ``AirPath``, in its order."""


class _FollowAir(Protocol):
    """From a state to the air's values, by the functions of ``math`` for floats or of ``numpy`` for arrays."""

    def __call__(
        self,
        state: Sequence[FloatOrFloats],
        exp: Callable[[FloatOrFloats], FloatOrFloats],
        log: Callable[[FloatOrFloats], FloatOrFloats],
        at_least: Callable[[FloatOrFloats, float], FloatOrFloats],
        at_most: Callable[[FloatOrFloats, float], FloatOrFloats],
    ) -> Air[FloatOrFloats]: ...


@dataclass(frozen=True)
class DryingModel:
    """One machine with one load in one room, at one flow of dry air [kg/s] with the motor running or not.

    ``lit`` is the share of the elements that carry current: the rest neither heat the air nor store heat.
    """

    body: DryerBody
    load: Load
    room: Room
    flow: float
    lit: float = 1.0
    running: bool = True

    def start(self) -> list[float]:
        """Return the state of a cold machine with its wet load, laid out as ``ELEMENT`` … ``TO_ROOM``."""
        state = [self.room.celsius] * STATE_SIZE
        state[CLOTHES], state[WATER] = self.load.celsius, self.load.water_kg
        state[TO_EXHAUST] = state[TO_ROOM] = 0.0
        return state

    def stored(self, state: Floats) -> float:
        """Return the heat [J] in element, box, drum, housing and load, counted from 0 °C and liquid water."""
        body, load = self.body, self.load
        metal = (
            body.element_capacity * self.lit * state[ELEMENT]
            + body.box_capacity * state[BOX]
            + body.drum_capacity * state[DRUM]
            + body.housing_capacity * state[HOUSING]
        )
        return float(metal + (load.dry_kg * load.specific_heat + CP_LIQUID * state[WATER]) * state[CLOTHES])

    @property
    def _capacity(self) -> float:
        """Heat that the drawn air carries for each kelvin [W/K]."""
        return self.flow * (CP_DRY_AIR + CP_VAPOUR * self.room.humidity_ratio)

    @property
    def _inlet(self) -> float:
        """Air before the heater while the drum is cold [°C]: the room's, warmed by the motor."""
        return self.room.celsius + self.body.motor_heat_to_inlet * self.motor_watts / self._capacity

    @property
    def _drum_to_inlet(self) -> float:
        """How far the drum's loss brings the drawn air to its own temperature on the way to the heater (0 to 1)."""
        return 1.0 - math.exp(-self.body.drum_to_inlet * self.body.drum_to_room / self._capacity)

    def _share(self, conductance: float) -> float:
        """Return how far air comes to a surface's temperature along it (0 to 1), by its transfer units."""
        return 1.0 - math.exp(-self._transfer_units(conductance))

    def _transfer_units(self, conductance: float) -> float:
        speed = float((self.flow / self.body.reference_flow) ** 0.8)
        return conductance * speed / self._capacity

    @property
    def motor_watts(self) -> float:
        """Power of the motor [W], 0 when it stands."""
        return self.body.motor_watts if self.running else 0.0

    def air_over_time(self, states: Floats) -> AirPath[Floats]:
        """Return the air at each station for ``states`` [time, place]."""
        follow = self._follow_air()
        return AirPath(*follow(list(states.T), np.exp, np.log, np.maximum, np.minimum))

    def _follow_air(self) -> _FollowAir:
        """Return the function from a state to an ``AirPath``'s values; numpy's functions: arrays."""
        body, load, room = self.body, self.load, self.room
        inlet_ratio, pressure = room.humidity_ratio, room.pressure
        cold_inlet, from_drum, room_celsius = self._inlet, self._drum_to_inlet, room.celsius
        transfer = self._transfer_units(body.load_to_air * load.spread)
        at_element, at_box = self._share(body.element_to_air * self.lit), self._share(body.box_to_air)
        at_load, at_drum = self._share(body.load_to_air * load.spread), self._share(body.drum_to_air)
        at_housing = self._share(body.housing_to_air)
        blower_heat = body.motor_heat_to_exhaust * self.motor_watts / self.flow
        most = MOST_VAPOUR * pressure
        dry_kg, surface = load.dry_kg, load.surface_moisture
        sorption, power = load.sorption_k / SORPTION_KELVIN, load.sorption_n

        def follow(
            state: Sequence[FloatOrFloats],
            exp: Callable[[FloatOrFloats], FloatOrFloats],
            log: Callable[[FloatOrFloats], FloatOrFloats],
            at_least: Callable[[FloatOrFloats, float], FloatOrFloats],
            at_most: Callable[[FloatOrFloats, float], FloatOrFloats],
        ) -> Air[FloatOrFloats]:
            element, box, _, clothes, water, drum, housing = state[:7]
            inlet = cold_inlet + from_drum * (drum - room_celsius)
            over_element = inlet + at_element * (element - inlet)
            box_outlet = over_element + at_box * (box - over_element)
            moisture = at_least(water / dry_kg, 1e-9)
            held = 1.0 - exp(-sorption * (clothes + KELVIN_AT_ZERO_CELSIUS) * moisture**power)
            vapour = at_most(held * saturation_pressure_by(clothes, exp, log), most)
            at_cloth = MOLAR_RATIO * vapour / (pressure - vapour)
            wetted = 1.0 - exp(-moisture / surface)
            ratio = inlet_ratio + (1.0 - exp(-transfer * wetted)) * (at_cloth - inlet_ratio)
            after_load = box_outlet + at_load * (clothes - box_outlet)
            after_drum = after_load + at_drum * (drum - after_load)
            exhaust = after_drum + at_housing * (housing - after_drum)
            exhaust = exhaust + blower_heat / (CP_DRY_AIR + CP_VAPOUR * ratio)
            return box_outlet, after_load, after_drum, exhaust, ratio

        return follow

    def rates(self, heater_watts: float) -> Rates:
        """Return the function from a state to its rates [1/s] while the heater makes ``heater_watts`` [W]."""
        body, load, room = self.body, self.load, self.room
        follow, flow = self._follow_air(), self.flow
        room_celsius, inlet_ratio = room.celsius, room.humidity_ratio
        capacity, cold_inlet, from_drum = self._capacity, self._inlet, self._drum_to_inlet
        to_element = capacity * self._share(body.element_to_air * self.lit)
        radiation = body.element_radiation * self.lit
        element_capacity = body.element_capacity * self.lit
        cloth_capacity = load.dry_kg * load.specific_heat
        blower_watts = body.motor_heat_to_exhaust * self.motor_watts
        motor_to_room = (1.0 - body.motor_heat_to_inlet - body.motor_heat_to_exhaust) * self.motor_watts
        inlet_enthalpy = enthalpy(room_celsius, inlet_ratio)
        wall, air_share = body.limit_sees_wall, 1.0 - body.limit_sees_wall
        box_loss, drum_loss, housing_loss = body.box_to_room, body.drum_to_room, body.housing_to_room
        box_capacity, drum_capacity, housing_capacity = (
            body.box_capacity,
            body.drum_capacity,
            body.housing_capacity,
        )
        limit_lag, thermostat_lag = body.limit_lag, body.thermostat_lag
        absolute_zero = -KELVIN_AT_ZERO_CELSIUS

        def rates(state: Sequence[float]) -> tuple[float, ...]:
            element, box, limit, clothes, water, drum, housing, thermostat = state[:8]
            box_outlet, after_load, after_drum, exhaust, ratio = follow(state, math.exp, math.log, max, min)
            inlet = cold_inlet + from_drum * (drum - room_celsius)
            element_to_air = to_element * (element - inlet)
            element_to_box = radiation * ((element - absolute_zero) ** 4 - (box - absolute_zero) ** 4)
            box_to_air = capacity * (box_outlet - inlet) - element_to_air
            box_to_room = box_loss * (box - room_celsius)
            drying = flow * (ratio - inlet_ratio)
            to_clothes = capacity * (box_outlet - after_load) - drying * (
                LATENT_HEAT_AT_ZERO + CP_VAPOUR * after_load - CP_LIQUID * clothes
            )
            moist_capacity = flow * (CP_DRY_AIR + CP_VAPOUR * ratio)
            to_drum = moist_capacity * (after_load - after_drum)
            drum_to_room = drum_loss * (drum - room_celsius)
            to_housing = moist_capacity * (after_drum - exhaust) + blower_watts
            housing_to_room = housing_loss * (housing - room_celsius)
            return (
                (heater_watts - element_to_air - element_to_box) / element_capacity,
                (element_to_box - box_to_air - box_to_room) / box_capacity,
                (air_share * box_outlet + wall * box - limit) / limit_lag,
                to_clothes / (cloth_capacity + CP_LIQUID * water),
                -drying,
                (to_drum - drum_to_room) / drum_capacity,
                (to_housing - housing_to_room) / housing_capacity,
                (exhaust - thermostat) / thermostat_lag,
                moist_capacity * exhaust + flow * (ratio * LATENT_HEAT_AT_ZERO - inlet_enthalpy),
                box_to_room + drum_to_room - capacity * (inlet - cold_inlet) + housing_to_room + motor_to_room,
            )

        return rates
