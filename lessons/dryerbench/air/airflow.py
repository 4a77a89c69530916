"""Where blower and duct agree: the flow that a dryer really moves, and the pressures that go with it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from dryerbench.air.curves import root, smooth_curve
from dryerbench.air.ducts import AIR_DENSITY, AIR_VISCOSITY, CFM, INCH_OF_WATER, Duct
from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.tables import table


class Blower:
    """A blower by points of its curve: flows [m³/s] rising from 0, and pressures [Pa] falling to 0.

    Between the points a monotone cubic (Fritsch and Carlson's, by SciPy).

    Raises
    ------
    OutOfRangeError
        If the flows do not rise from 0 or the pressures do not fall to 0.
    """

    def __init__(self, flows: list[float], pressures: list[float]) -> None:
        rising = flows[0] == 0 and all(a < b for a, b in pairwise(flows))
        falling = pressures[-1] == 0 and all(a > b for a, b in pairwise(pressures))
        if not (rising and falling):
            raise OutOfRangeError("A blower's curve starts at no flow and falls all the way to no pressure.")
        self.free_flow = flows[-1]
        """Flow against nothing [m³/s]."""
        self.shut_pressure = pressures[0]
        """Pressure against a shut duct [Pa]."""
        self._curve = smooth_curve(flows, pressures)

    def pressure(self, flow: float) -> float:
        """Return the pressure [Pa] made at ``flow`` [m³/s].

        Raises
        ------
        OutOfRangeError
            If the flow is off the curve.
        """
        if not 0 <= flow <= self.free_flow:
            raise OutOfRangeError(f"This blower moves from 0 to {self.free_flow:.3g} m³/s, not {flow:g} m³/s.")
        return float(self._curve(flow))


@cache
def usual_blower() -> Blower:
    """Return the blower of ``datasets/blower_curve.csv`` (invented for training)."""
    rows = table("blower-curve")
    return Blower([cfm * CFM for cfm in rows.numbers("cfm")], rows.numbers("pressure_pa"))


@dataclass(frozen=True)
class DryerPassage:
    """The air's way through the dryer itself: heater box, drum, lint filter. Invented for training.

    ``loss`` is the pressure over the flow squared [Pa/(m³/s)²] with a clean filter; ``filter_share`` the
    filter's part of it; ``filter_blocked`` the part of its mesh that is shut (0 clean, up to but not 1).

    Raises
    ------
    OutOfRangeError
        If a share is outside its range.
    """

    loss: float = 20_000.0
    filter_share: float = 0.35
    filter_blocked: float = 0.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.filter_blocked < 1.0:
            raise OutOfRangeError(
                f"The blocked part of the lint filter is 0 or more and below 1, not {self.filter_blocked:g}."
            )
        if self.loss < 0 or not 0.0 <= self.filter_share <= 1.0:
            raise OutOfRangeError("The dryer's own loss is 0 or more and the filter's share of it from 0 to 1.")

    def pressure(self, flow: float, density: float = AIR_DENSITY) -> float:
        """Return the pressure lost [Pa] at ``flow`` [m³/s] in air of ``density`` [kg/m³]."""
        share = self.filter_share / (1.0 - self.filter_blocked) ** 2 + 1.0 - self.filter_share
        return self.loss * share * flow**2 * density / AIR_DENSITY


@dataclass(frozen=True)
class OperatingPoint:
    """What blower, dryer and duct agree on: flow [m³/s], and the pressures [Pa] made and lost there."""

    flow: float
    blower_pressure: float
    dryer_pressure: float
    duct_pressure: float

    @property
    def cfm(self) -> float:
        """Flow in cubic feet a minute."""
        return self.flow / CFM

    @property
    def back_pressure_inches(self) -> float:
        """Pressure at the dryer's outlet in inches of water: what a gauge in the duct reads there."""
        return self.duct_pressure / INCH_OF_WATER


def operating_point(
    duct: Duct,
    passage: DryerPassage | None = None,
    blower: Blower | None = None,
    density: float = AIR_DENSITY,
    viscosity: float = AIR_VISCOSITY,
) -> OperatingPoint:
    """Return the flow at which the blower makes just the pressure that dryer and duct lose.

    The blower's pressure is taken in proportion to the ``density`` [kg/m³] (fan laws); ``viscosity`` in Pa·s.

    Raises
    ------
    OutOfRangeError
        If the density or viscosity is not above zero.
    """
    passage = passage or DryerPassage()
    blower = blower or usual_blower()
    if not (density > 0 and viscosity > 0):
        raise OutOfRangeError("Air has a density and a viscosity above zero.")
    thinner = density / AIR_DENSITY

    def surplus(flow: float) -> float:
        lost = passage.pressure(flow, density) + duct.pressure(flow, density, viscosity)
        return blower.pressure(flow) * thinner - lost

    if duct.shut:
        return OperatingPoint(0.0, blower.shut_pressure * thinner, 0.0, blower.shut_pressure * thinner)
    against_nothing = surplus(blower.free_flow) >= 0.0
    flow = blower.free_flow if against_nothing else root(surplus, 0.0, blower.free_flow, 1e-9)
    return OperatingPoint(
        flow,
        blower.pressure(flow) * thinner,
        passage.pressure(flow, density),
        duct.pressure(flow, density, viscosity),
    )
