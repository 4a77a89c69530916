"""A machine's heat from any state on: temperatures, water and switches after so many seconds at given watts.

The same equations and steps as a whole cycle (``drying``, ``stepping``), begun where the machine stands. What is kept
between two calls is rounded, so that the last digits of a processor's exponential never reach a reading.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from dryerbench.air.dryer_body import DryerBody, Load, Room, household_load
from dryerbench.air.drying import BOX, ELEMENT, STATE_SIZE, TO_EXHAUST, TO_ROOM, WATER, DryingModel
from dryerbench.air.stepping import Crossing, Stepper, Trace
from dryerbench.air.thermostats import HeatSwitch
from dryerbench.core.errors import OutOfRangeError

TEMPERATURE_ERROR = 5e-2
"""Error allowed in one step, in every temperature [K]."""
WATER_ERROR = 1e-5
"""Error allowed in one step, in the load's water [kg]."""
LONGEST_STEP = 120.0
"""[s]"""
MOST_MOVES = 2_000
"""Switch moves in one call after which the machine counts as chattering."""
_DIGITS = 4  # of a temperature kept [K]; the water of a load has two more
_WARM, _DAMP = 0.5, 12.0  # K above the room from which a part is warm, and below it that a wet load cools by itself
_LEAST_AIR = 1e-3  # kg/s: what still moves when the wheel slips or the duct is shut


@dataclass(frozen=True, slots=True)
class MotorHeat:
    """The motor's windings as one lump: heat capacity [J/K] and loss to its surroundings [W/K]; invented."""

    capacity: float = 600.0
    loss: float = 1.6

    def after(self, celsius: float, room: float, watts: float, seconds: float) -> float:
        """Return the windings' temperature [°C] after ``seconds`` at ``watts``; exact."""
        level = room + watts / self.loss
        return level + (celsius - level) * math.exp(-seconds * self.loss / self.capacity)

    def reaches(self, mark: float, celsius: float, room: float, watts: float) -> float:
        """Return the seconds until the windings pass ``mark`` [°C] at ``watts``; inf if they never do."""
        level = room + watts / self.loss
        if (mark - celsius) * (level - mark) <= 0:
            return math.inf
        return self.capacity / self.loss * math.log((celsius - level) / (mark - level))


@dataclass(frozen=True, slots=True)
class HeatParts:
    """What of a machine decides its heat besides its watts; any arrangement gives its own.

    ``flow`` is the dry air with the motor running [kg/s], as the vent now lets it. ``switches`` are the heat switches
    by name with the place that they feel (``LIMIT``: the heater box; ``THERMOSTAT``: the exhaust); leave out what is
    not fitted or stuck closed. ``overload`` is the motor's own switch, which feels its windings.
    """

    flow: float
    switches: Mapping[str, tuple[HeatSwitch, int]]
    overload: HeatSwitch | None = None
    motor: MotorHeat = field(default_factory=MotorHeat)
    body: DryerBody = field(default_factory=DryerBody)
    load: Load = field(default_factory=household_load)
    room: Room = field(default_factory=Room)


OVERLOAD = "motor overload"
"""Name under which the motor's own switch moves."""


@dataclass(frozen=True, slots=True)
class Power:
    """What flows with the switches as they stand: heater [W], share of the elements lit, the motor's own heat [W]."""

    watts: float = 0.0
    lit: float = 1.0
    running: bool = False
    motor_watts: float = 0.0


@dataclass(frozen=True, slots=True)
class Heat:
    """How warm a machine is: the places of ``drying`` (°C, and kg of water), and the motor's windings [°C].

    ``lit`` is the share of the elements that the element's temperature belongs to; the others are as warm as their box.
    """

    places: tuple[float, ...]
    motor: float
    lit: float = 1.0

    @property
    def water(self) -> float:
        """Water in the load [kg]."""
        return self.places[WATER]


@dataclass(frozen=True, slots=True)
class Moved:
    """A switch that opened or closed, and when [s]."""

    switch: str
    closed: bool
    seconds: float


def cold(parts: HeatParts, water: float | None = None) -> Heat:
    """Return a machine at the room's temperature, with its load wet, or with ``water`` [kg] in it."""
    places = [parts.room.celsius] * STATE_SIZE
    places[WATER] = parts.load.water_kg if water is None else water
    places[TO_EXHAUST] = places[TO_ROOM] = 0.0
    return Heat(tuple(places), parts.room.celsius)


def at_rest(heat: Heat, parts: HeatParts) -> bool:
    """Return whether no part is warm; a wet load may be some kelvin below the room."""
    warm = (value for place, value in enumerate(heat.places) if place not in (WATER, TO_EXHAUST, TO_ROOM))
    return all(-_DAMP < value - parts.room.celsius < _WARM for value in (*warm, heat.motor))


@dataclass(frozen=True, slots=True)
class Passed:
    """What the time did: the heat, the switches left open, their moves, and the heater's energy [J]."""

    heat: Heat
    open: frozenset[str]
    moves: tuple[Moved, ...]
    joules: float


def let_pass(
    heat: Heat,
    open_now: frozenset[str],
    parts: HeatParts,
    power: Callable[[frozenset[str]], Power],
    seconds: float,
) -> Passed:
    """Return how the machine stands ``seconds`` later; ``power`` says what flows with some switches open.

    Raises
    ------
    OutOfRangeError
        If the switches chatter without end.
    """
    now = _Passing(heat, open_now, parts)
    while now.time < seconds:
        flows = power(now.open)
        if flows == Power(lit=flows.lit) and now.cold():
            now.rests = True
            break
        now.stretch(flows, seconds)
        if len(now.moves) > MOST_MOVES:
            raise OutOfRangeError("These switches would never stop opening and closing: set them further apart.")
    return Passed(now.kept(), now.open, tuple(now.moves), now.joules)


class _Passing:
    """The machine while time passes."""

    def __init__(self, heat: Heat, open_now: frozenset[str], parts: HeatParts) -> None:
        errors = np.full(STATE_SIZE, TEMPERATURE_ERROR)
        errors[WATER] = WATER_ERROR
        errors[[TO_EXHAUST, TO_ROOM]] = math.inf
        self.stepper = Stepper(errors, LONGEST_STEP)
        self.parts, self.open = parts, open_now
        self.time, self.joules = 0.0, 0.0
        self.state, self.motor, self.lit = np.array(heat.places), heat.motor, heat.lit
        self.moves: list[Moved] = []
        self.rests = False

    def cold(self) -> bool:
        return at_rest(self._heat(), self.parts)

    def _heat(self) -> Heat:
        return Heat(tuple(self.state.tolist()), self.motor, self.lit)

    def kept(self) -> Heat:
        """Return the heat as it is kept: rounded, or at the room's temperature if the machine came to rest."""
        heat = self._heat()
        if self.rests:
            return replace(cold(self.parts, round(heat.water, _DIGITS + 2)))
        digits = [_DIGITS + 2 * (place == WATER) for place in range(STATE_SIZE)]
        places = [round(value, few) for value, few in zip(heat.places, digits, strict=True)]
        places[TO_EXHAUST] = places[TO_ROOM] = 0.0
        return Heat(tuple(places), round(heat.motor, _DIGITS), heat.lit)

    def stretch(self, flows: Power, seconds: float) -> None:
        """Go to the next switch move, or to the end."""
        parts = self.parts
        flow = max(parts.flow, _LEAST_AIR) if flows.running else parts.body.draft_flow
        self._light(flows)
        model = DryingModel(parts.body, parts.load, parts.room, flow, self.lit, flows.running)
        end, overload_moves = seconds, False
        if parts.overload is not None:
            at = self.time + self._overload_in(parts.overload, flows)
            overload_moves = at <= seconds
            end = min(end, at)
        start = self.time
        crossing = None
        if end > start:
            self.time, self.state, crossing = self.stepper.run(
                model.rates(flows.watts), start, self.state, end, self._watched(), Trace()
            )
        self.joules += flows.watts * (self.time - start)
        self.motor = parts.motor.after(self.motor, parts.room.celsius, flows.motor_watts, self.time - start)
        if crossing is not None:
            self._move(crossing.name, not crossing.upward)
        elif overload_moves:
            self._move(OVERLOAD, OVERLOAD in self.open)

    def _light(self, flows: Power) -> None:
        """Let the elements that now carry current be the warm ones: what comes to it is as warm as the box."""
        if not flows.watts or flows.lit == self.lit:
            return
        if flows.lit > self.lit:
            more = flows.lit - self.lit
            warmer = self.lit * self.state[ELEMENT] + more * self.state[BOX]
            self.state[ELEMENT] = warmer / flows.lit
        self.lit = flows.lit

    def _overload_in(self, overload: HeatSwitch, flows: Power) -> float:
        mark = overload.closes if OVERLOAD in self.open else overload.opens
        if mark is None:
            return math.inf
        passed = self.motor <= mark if OVERLOAD in self.open else self.motor >= mark
        room = self.parts.room.celsius
        return 0.0 if passed else self.parts.motor.reaches(mark, self.motor, room, flows.motor_watts)

    def _move(self, switch: str, closed: bool) -> None:
        self.open = self.open - {switch} if closed else self.open | {switch}
        self.moves.append(Moved(switch, closed, self.time))

    def _watched(self) -> list[Crossing]:
        found = []
        for name, (part, place) in self.parts.switches.items():
            if name not in self.open:
                found.append(Crossing(name, place, part.opens, upward=True))
            elif part.closes is not None:
                found.append(Crossing(name, place, part.closes, upward=False))
        return found
