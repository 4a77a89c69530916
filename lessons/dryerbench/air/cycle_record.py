"""What a cycle leaves: temperatures, current and moisture over time, minutes, energy and its balance."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np

from dryerbench.air.dryer_body import POUND
from dryerbench.air.drying import (
    BOX,
    CLOTHES,
    DRUM,
    ELEMENT,
    HOUSING,
    LIMIT,
    THERMOSTAT,
    TO_EXHAUST,
    TO_ROOM,
    WATER,
    AirPath,
    DryingModel,
)
from dryerbench.air.moist_air import relative_humidity
from dryerbench.core.errors import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from dryerbench.air.stepping import Trace
    from dryerbench.air.thermostats import HeatSwitch
    from dryerbench.core.temperatures import Floats

JOULES_PER_KWH = 3.6e6

Place = Literal[
    "element",
    "box",
    "limit",
    "clothes",
    "drum",
    "housing",
    "thermostat",
    "box outlet",
    "after load",
    "exhaust",
]
_METAL: dict[str, int] = {
    "element": ELEMENT,
    "box": BOX,
    "limit": LIMIT,
    "clothes": CLOTHES,
    "drum": DRUM,
    "housing": HOUSING,
    "thermostat": THERMOSTAT,
}
_AIR: dict[str, str] = {"box outlet": "box_outlet", "after load": "after_load", "exhaust": "exhaust"}


@dataclass(frozen=True)
class Stretch:
    """The cycle between two switch moves: its trace, the heater's watts and amps, heat and motor on."""

    trace: Trace
    watts: float
    amps: float
    heating: bool
    motor: bool

    @property
    def start(self) -> float:
        """[s]."""
        return self.trace.times[0]

    @property
    def end(self) -> float:
        """[s]."""
        return self.trace.times[-1]

    @property
    def seconds(self) -> float:
        """How long it lasts [s]."""
        return self.end - self.start


@dataclass(frozen=True)
class SwitchMove:
    """A switch that opened or closed: its name, when [s], and whether it is closed after it."""

    switch: str
    time: float
    closed: bool


@dataclass(frozen=True)
class EnergyBalance:
    """Where a cycle's energy came from and went, all in J: in = out + stored + missing."""

    heater: float
    motor: float
    exhaust: float
    room: float
    stored: float

    @property
    def missing(self) -> float:
        """What the integration lost or made [J]."""
        return self.heater + self.motor - self.exhaust - self.room - self.stored

    @property
    def relative(self) -> float:
        """What is missing, as a share of what went in."""
        put_in = self.heater + self.motor
        return abs(self.missing) / put_in if put_in else abs(self.missing)


@dataclass(frozen=True)
class CycleRecord:
    """A computed cycle. Times are asked for in minutes, a number or an array; temperatures come in °C."""

    running: DryingModel
    standing: DryingModel
    stretches: tuple[Stretch, ...]
    moves: tuple[SwitchMove, ...]
    dry_time: float | None
    """[s], None if the load never got dry."""
    heat_end: float
    """When the control stopped calling for heat for good [s]."""
    fitted: Mapping[str, HeatSwitch]
    """The switches that can open, by name: thermostat, control, high_limit, cutoff."""

    @cached_property
    def _knots(self) -> tuple[Floats, Floats, Floats, Floats]:
        """Times [s], states, rates and motor on (1) or off (0), one row for each end of a step."""
        parts = [stretch for stretch in self.stretches if stretch.seconds > 0]
        return (
            np.concatenate([stretch.trace.times for stretch in parts]),
            np.concatenate([np.array(stretch.trace.states) for stretch in parts]),
            np.concatenate([np.array(stretch.trace.rates) for stretch in parts]),
            np.concatenate([np.full(len(stretch.trace.times), float(stretch.motor)) for stretch in parts]),
        )

    def _rows(self, minutes: Floats | Sequence[float] | float) -> tuple[Floats, Floats]:
        """Return states [time, place] by the cubic through each step's ends, and motor on (1) or off (0)."""
        times, states, rates, motor = self._knots
        at = np.atleast_1d(np.asarray(minutes, dtype=float)) * 60.0
        if not (np.isfinite(at).all() and (at >= 0).all() and (at <= times[-1] + 1e-6).all()):
            raise OutOfRangeError(f"This cycle was computed from 0 to {self.minutes:g} minutes.")
        row = np.clip(np.searchsorted(times, at, side="right") - 1, 0, len(times) - 2)
        step = times[row + 1] - times[row]
        theta = np.clip((at - times[row]) / np.where(step > 0, step, 1.0), 0.0, 1.0)[:, None]
        y0, y1, f0, f1 = (
            states[row],
            states[row + 1],
            rates[row] * step[:, None],
            rates[row + 1] * step[:, None],
        )
        bend = theta * (1 - theta)
        values = y0 + theta * (y1 - y0) + bend * ((2 * theta - 1) * (y1 - y0) + (1 - theta) * f0 - theta * f1)
        return values, motor[row]

    def _air(self, minutes: Floats | Sequence[float] | float) -> AirPath[Floats]:
        states, motor = self._rows(minutes)
        on, off = self.running.air_over_time(states), self.standing.air_over_time(states)
        return AirPath(*(np.where(motor > 0, a, b) for a, b in zip(on, off, strict=True)))

    @property
    def minutes(self) -> float:
        """Length of the record [min]."""
        return self.stretches[-1].end / 60.0

    def celsius(self, place: Place, minutes: Floats | Sequence[float] | float) -> Floats:
        """Return the temperature [°C] of a part, or of the air at a ``Place``, over time.

        Raises
        ------
        OutOfRangeError
            If there is no such place, or a time is outside the record.
        """
        if place in _METAL:
            return self._rows(minutes)[0][:, _METAL[place]]
        if place in _AIR:
            return np.asarray(getattr(self._air(minutes), _AIR[place]))
        raise OutOfRangeError(f"No probe fits at {place!r}; places: {', '.join((*_METAL, *_AIR))}.")

    def moisture(self, minutes: Floats | float) -> Floats:
        """Return the water in the load [kg per kg bone-dry] over time."""
        return self._rows(minutes)[0][:, WATER] / self.running.load.dry_kg

    def exhaust_humidity(self, minutes: Floats | float) -> Floats:
        """Return the relative humidity of the exhaust air (0 to 1) over time."""
        air = self._air(minutes)
        return np.asarray(relative_humidity(air.exhaust, air.ratio, self.running.room.pressure))

    def _over_time(self, minutes: Floats | float, values: list[float]) -> Floats:
        ends = np.array([stretch.end for stretch in self.stretches])
        at = np.atleast_1d(np.asarray(minutes, dtype=float)) * 60.0
        return np.array(values)[np.minimum(np.searchsorted(ends, at, side="right"), len(ends) - 1)]

    def heater_watts(self, minutes: Floats | float) -> Floats:
        """Return the heater's power [W] over time."""
        return self._over_time(minutes, [stretch.watts for stretch in self.stretches])

    def clamp_amps(self, minutes: Floats | float) -> Floats:
        """Return the heater's current [A] over time: what a clamp on the heater's own lead reads."""
        return self._over_time(minutes, [stretch.amps for stretch in self.stretches])

    def heating(self, minutes: Floats | float) -> Floats:
        """Return 1 where every contact of the heater is closed, else 0."""
        return self._over_time(minutes, [float(stretch.heating) for stretch in self.stretches])

    @property
    def minutes_to_dry(self) -> float | None:
        """Minutes until the load is dry enough, or None if it never was."""
        return None if self.dry_time is None else self.dry_time / 60.0

    def openings(self, switch: str) -> int:
        """Return how often a switch opened: thermostat, control, high_limit or cutoff."""
        return sum(move.switch == switch and not move.closed for move in self.moves)

    def closed(self, switch: str, minute: float) -> bool:
        """Return whether a switch is closed at ``minute``; one that is stuck closed always is."""
        before = [move.closed for move in self.moves if move.switch == switch and move.time <= minute * 60.0]
        return before[-1] if before else True

    @property
    def cutoff_blown(self) -> bool:
        """Whether the one-shot cut-off opened."""
        return self.openings("cutoff") > 0

    def peak(self, place: Place) -> float:
        """Return the highest temperature [°C] of a part or of air, to within a sample each second."""
        return float(self.celsius(place, np.linspace(0.0, self.minutes, int(self.minutes * 60) + 1)).max())

    def heater_joules(self, until: float | None = None) -> float:
        """Return the energy [J] that the heater made until ``until`` [s], or in all."""
        end = self.stretches[-1].end if until is None else until
        return sum(s.watts * max(0.0, min(s.end, end) - s.start) for s in self.stretches)

    def motor_joules(self, until: float | None = None) -> float:
        """Return the energy [J] that the motor took until ``until`` [s], or in all."""
        end = self.stretches[-1].end if until is None else until
        return self.running.motor_watts * sum(max(0.0, min(s.end, end) - s.start) for s in self.stretches if s.motor)

    @property
    def kwh(self) -> float:
        """Energy of heater and motor in the whole record [kWh]."""
        return (self.heater_joules() + self.motor_joules()) / JOULES_PER_KWH

    @property
    def kwh_to_dry(self) -> float | None:
        """Energy of heater and motor until the load is dry enough [kWh], or None if it never was."""
        if self.dry_time is None:
            return None
        return (self.heater_joules(self.dry_time) + self.motor_joules(self.dry_time)) / JOULES_PER_KWH

    @property
    def pounds_per_kwh(self) -> float:
        """Bone-dry load over the whole record's energy [lb/kWh], as the US federal test counts efficiency."""
        return self.running.load.dry_kg / POUND / self.kwh

    @property
    def balance(self) -> EnergyBalance:
        """The energy of the whole record; exhaust is what the air carried out over what it brought in."""
        first, last = self.stretches[0].trace.states[0], self.stretches[-1].trace.states[-1]
        return EnergyBalance(
            heater=self.heater_joules(),
            motor=self.motor_joules(),
            exhaust=float(last[TO_EXHAUST] - first[TO_EXHAUST]),
            room=float(last[TO_ROOM] - first[TO_ROOM]),
            stored=float(self.running.stored(last) - self.running.stored(first)),
        )

    @property
    def dried_kg(self) -> float:
        """Water that left the load [kg]."""
        first, last = self.stretches[0].trace.states[0], self.stretches[-1].trace.states[-1]
        return float(first[WATER] - last[WATER])
