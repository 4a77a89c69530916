"""One drying cycle, from a cold wet load to dry: heat, air and switches together."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import partial

import numpy as np

from dryerbench.air.airflow import Blower, DryerPassage, OperatingPoint, operating_point
from dryerbench.air.cycle_record import CycleRecord, Stretch, SwitchMove
from dryerbench.air.dryer_body import WARM_EXHAUST, WARM_RATIO, DryerBody, Load, Room, household_load
from dryerbench.air.drying import LIMIT, STATE_SIZE, THERMOSTAT, TO_EXHAUST, TO_ROOM, WATER, DryingModel
from dryerbench.air.ducts import Duct
from dryerbench.air.heater_power import HeaterPower
from dryerbench.air.moist_air import dry_air_density
from dryerbench.air.stepping import Crossing, Rates, Stepper, Trace
from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.core.errors import OutOfRangeError

WARM_VISCOSITY = 1.96e-5
"""Viscosity of air near 50 °C [Pa·s]."""
TEMPERATURE_ERROR = 2e-2
"""Error allowed in one step, in every temperature [K]."""
WATER_ERROR = 2e-6
"""Error allowed in one step, in the load's water [kg]."""
LONGEST_STEP = 60.0
"""[s]"""
MOST_MINUTES = 600.0
MOST_MOVES = 5_000
"""Switch moves after which a cycle counts as chattering."""
SECONDS = 60.0
DRY, DONE = "dry", "done"
"""Names of the crossings that move no switch: the load is dry, the control is done."""


@dataclass(frozen=True)
class Cycle:
    """Everything that decides how a cycle goes; ``Cycle().run()`` is a sound machine with a household load.

    A switch that is None is stuck closed (welded, or by-passed). ``control``, if fitted, also sits in the
    exhaust and must be closed as well: a control that reads a thermistor (``thermistor_control``). The heat
    ends when the load is dry (``stop_when_dry``), when the exhaust is ``ends_at`` [°C], or with the motor's
    time less the ``cool_down`` [min] (unless ``control_welded``); the motor runs that much longer. Then the
    machine stands until ``minutes`` are over.

    Raises
    ------
    OutOfRangeError
        If a time is impossible.
    """

    heater: HeaterPower = field(default_factory=HeaterPower.parallel)
    duct: Duct = field(default_factory=Duct)
    passage: DryerPassage = field(default_factory=DryerPassage)
    blower: Blower | None = None
    thermostat: HeatSwitch | None = field(default_factory=partial(usual_switch, "cycling_thermostat"))
    control: HeatSwitch | None = None
    high_limit: HeatSwitch | None = field(default_factory=partial(usual_switch, "high_limit"))
    cutoff: HeatSwitch | None = field(default_factory=partial(usual_switch, "thermal_cutoff"))
    body: DryerBody = field(default_factory=DryerBody)
    load: Load = field(default_factory=household_load)
    room: Room = field(default_factory=Room)
    minutes: float = 60.0
    cool_down: float = 0.0
    stop_when_dry: bool = False
    ends_at: float | None = None
    control_welded: bool = False
    run_minutes: float | None = None
    """The motor's time, if it is to stop before ``minutes`` are over."""

    def __post_init__(self) -> None:
        if not 0 < self.minutes <= MOST_MINUTES:
            raise OutOfRangeError(f"A cycle lasts up to {MOST_MINUTES:g} minutes, not {self.minutes:g}.")
        if not 0 <= self.cool_down < self.motor_minutes <= self.minutes:
            raise OutOfRangeError("The cool-down is part of the motor's time, and that part of the cycle's.")

    @property
    def motor_minutes(self) -> float:
        """How long the motor runs at most [min]."""
        return self.minutes if self.run_minutes is None else self.run_minutes

    @property
    def air(self) -> OperatingPoint:
        """The flow and pressures of the warm machine."""
        density = self._dry_density * (1.0 + WARM_RATIO)
        return operating_point(self.duct, self.passage, self.blower, density, WARM_VISCOSITY)

    @property
    def dry_air_flow(self) -> float:
        """Dry air through the drum while the motor runs [kg/s]; leaks carry a little past a shut vent."""
        return max(self.air.flow * self._dry_density, self.body.draft_flow)

    @property
    def _dry_density(self) -> float:
        """Dry air in the warm exhaust [kg/m³]."""
        return dry_air_density(WARM_EXHAUST, WARM_RATIO, self.room.pressure)

    def run(self, tolerance: float = 1.0, longest_step: float = LONGEST_STEP) -> CycleRecord:
        """Compute the cycle.

        ``tolerance`` scales the errors allowed in a step; ``longest_step`` in s.

        Raises
        ------
        OutOfRangeError
            If the switches chatter without end.
        """
        return _Run(self, tolerance, longest_step).record()


class _Run:
    """The cycle while it runs: which switches are closed, what was traced, where time stands."""

    def __init__(self, cycle: Cycle, tolerance: float, longest_step: float) -> None:
        errors = np.full(STATE_SIZE, TEMPERATURE_ERROR * tolerance)
        errors[WATER] = WATER_ERROR * tolerance
        errors[[TO_EXHAUST, TO_ROOM]] = math.inf
        self.cycle = cycle
        self.stepper = Stepper(errors, longest_step)
        flow = cycle.dry_air_flow
        parts = (cycle.body, cycle.load, cycle.room)
        self.running = DryingModel(*parts, flow, cycle.heater.lit)
        self.standing = DryingModel(*parts, cycle.body.draft_flow, cycle.heater.lit, running=False)
        fitted = {
            "thermostat": (cycle.thermostat, THERMOSTAT),
            "control": (cycle.control, THERMOSTAT),
            "high_limit": (cycle.high_limit, LIMIT),
            "cutoff": (cycle.cutoff, LIMIT),
        }
        self.switches = {name: (part, place) for name, (part, place) in fitted.items() if part is not None}
        self.closed = dict.fromkeys(self.switches, True)
        self.openings = {
            name: Crossing(name, place, part.opens, upward=True) for name, (part, place) in self.switches.items()
        }
        self.closings = {
            name: Crossing(name, place, part.closes, upward=False)
            for name, (part, place) in self.switches.items()
            if part.closes is not None
        }
        self.calling = True
        self.time, self.state = 0.0, np.array(self.running.start())
        self.dry_time: float | None = None
        self.stretches: list[Stretch] = []
        self.moves: list[SwitchMove] = []
        self.made: dict[tuple[bool, float], Rates] = {}

    def record(self) -> CycleRecord:
        cycle = self.cycle
        motor_end = cycle.motor_minutes * SECONDS
        heat_end = motor_end - cycle.cool_down * SECONDS
        self.go(heat_end)
        self.calling = False
        heat_end = self.time
        motor_end = min(motor_end, heat_end + cycle.cool_down * SECONDS)
        self.go(motor_end)
        self.go(cycle.minutes * SECONDS, motor=False)
        return CycleRecord(
            running=self.running,
            standing=self.standing,
            stretches=tuple(self.stretches),
            moves=tuple(self.moves),
            dry_time=self.dry_time,
            heat_end=heat_end,
            fitted={name: part for name, (part, _) in self.switches.items()},
        )

    def go(self, end: float, motor: bool = True) -> None:
        """Run to ``end`` [s], or until dry if that ends the heat, moving switches as they come."""
        while self.time < end:
            crossing = self.stretch(end, motor)
            if crossing is None:
                return
            if crossing.name == DRY:
                self.dry_time = self.time
            elif crossing.name != DONE:
                self.move(crossing)
            if self.calling and (crossing.name == DONE or (crossing.name == DRY and self.cycle.stop_when_dry)):
                return

    def move(self, crossing: Crossing) -> None:
        """Open or close the switch that reached its mark."""
        closed = not crossing.upward
        self.closed[crossing.name] = closed
        self.moves.append(SwitchMove(crossing.name, self.time, closed))
        if len(self.moves) > MOST_MOVES:
            raise OutOfRangeError("These switches would never stop opening and closing: set them further apart.")

    def stretch(self, end: float, motor: bool) -> Crossing | None:
        """Integrate to the next switch move or ``end`` with the heat as it now is."""
        heater, model = self.cycle.heater, self.running if motor else self.standing
        heating = motor and (self.calling or self.cycle.control_welded) and all(self.closed.values())
        if heating:
            watts, amps = heater.closed_watts, heater.closed_amps
        elif motor:
            watts, amps = heater.open_watts, heater.open_amps
        elif heater.stopped_through_switches and not all(self.closed.values()):
            watts, amps = 0.0, 0.0
        else:
            watts, amps = heater.stopped_watts, heater.stopped_amps
        trace = Trace()
        self.time, self.state, crossing = self.stepper.run(
            self.rates(model, watts), self.time, self.state, end, self.watched(), trace
        )
        self.stretches.append(Stretch(trace, watts, amps, heating, motor))
        return crossing

    def rates(self, model: DryingModel, watts: float) -> Rates:
        """Return the model's rates at ``watts``, made once."""
        key = (model.running, watts)
        if key not in self.made:
            self.made[key] = model.rates(watts)
        return self.made[key]

    def watched(self) -> list[Crossing]:
        """Return what could happen next: each closed switch may open, each open one close unless one-shot."""
        crossings = []
        for name, closed in self.closed.items():
            if closed:
                crossings.append(self.openings[name])
            elif name in self.closings:
                crossings.append(self.closings[name])
        if self.calling and self.cycle.ends_at is not None:
            crossings.append(Crossing(DONE, THERMOSTAT, self.cycle.ends_at, upward=True))
        if self.dry_time is None:
            dry = self.cycle.load.dry_at * self.cycle.load.dry_kg
            crossings.append(Crossing(DRY, WATER, dry, upward=False))
        return crossings
