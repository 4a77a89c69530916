"""The exhaust duct: what it costs in pressure, and how long a code lets it be."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from dryerbench.core.errors import OutOfRangeError
from dryerbench.core.tables import table

FOOT = 0.3048
"""[m]"""
INCH = 0.0254
"""[m]"""
CFM = FOOT**3 / 60.0
"""One cubic foot a minute [m³/s]."""
INCH_OF_WATER = 249.08891
"""One inch of water at 4 °C [Pa]."""
AIR_DENSITY = 1.2
"""Room air [kg/m³]."""
AIR_VISCOSITY = 1.82e-5
"""Room air [Pa·s], near 20 °C."""
HOOD_LOSS = 1.2
"""Velocity heads lost in an outside hood with its flap open, and on the air's way out of it.

Common practice, no published source.
"""


@dataclass(frozen=True)
class Elbow:
    """A bend of the duct: degrees turned, radius over diameter, and what a code takes off the length [ft]."""

    title: str
    angle: float
    radius_in_diameters: float
    code_deduction_ft: float


def elbow(name: str) -> Elbow:
    """Return an elbow of ``datasets/duct_elbows.csv``.

    Raises
    ------
    TableError
        If the table has no such elbow.
    """
    row = table("duct-elbows").row(elbow=name)
    return Elbow(
        row.text("title"), row.number("angle_deg"), row.number("radius_in_diameters"), row.number("code_deduction_ft")
    )


@dataclass(frozen=True)
class Duct:
    """An exhaust duct from the dryer to the outside.

    ``blocked`` is the part of the area that is shut at its narrowest place (0 open, 1 shut): a flap that
    sticks, a nest. ``lint_mm`` is a coat on the wall all along: it narrows the duct by twice its thickness.

    Raises
    ------
    OutOfRangeError
        If a length, share or coat is impossible.
    TableError
        If an elbow is not in ``datasets/duct_elbows.csv``.
    """

    straight_ft: float = 15.0
    elbows: tuple[str, ...] = ("mitred_90", "mitred_90")
    blocked: float = 0.0
    lint_mm: float = 0.0
    diameter_in: float = 4.0
    hood_loss: float = HOOD_LOSS
    roughness_mm: float = 0.09
    _bends: tuple[Elbow, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not (math.isfinite(self.straight_ft) and self.straight_ft >= 0):
            raise OutOfRangeError(f"A duct is 0 ft long or more, not {self.straight_ft:g} ft.")
        if not 0.0 <= self.blocked <= 1.0:
            raise OutOfRangeError(f"The blocked part of a duct is from 0 (open) to 1 (shut), not {self.blocked:g}.")
        if not self.lint_mm >= 0 or self.hood_loss < 0 or self.roughness_mm < 0:
            raise OutOfRangeError("Lint, hood loss and roughness are 0 or more.")
        if not self.bore > 0:
            raise OutOfRangeError(
                f"A {self.diameter_in:g} in duct with {self.lint_mm:g} mm of lint on its wall has no hole "
                "left. Use blocked=1 for a shut duct."
            )
        object.__setattr__(self, "_bends", tuple(elbow(name) for name in self.elbows))

    @property
    def bore(self) -> float:
        """Free diameter inside the lint [m]."""
        return self.diameter_in * INCH - 2.0 * self.lint_mm / 1000.0

    @property
    def shut(self) -> bool:
        """Whether no air can pass."""
        return self.blocked >= 1.0

    def losses(self, flow: float, density: float = AIR_DENSITY, viscosity: float = AIR_VISCOSITY) -> dict[str, float]:
        """Return the pressures lost [Pa] in straight run, elbows, hood and blockage at ``flow`` [m³/s].

        Darcy-Weisbach; friction factor, bends and the blockage's sharp edges by the ``fluids`` library.

        Raises
        ------
        OutOfRangeError
            If the flow is negative, or above zero through a shut duct.
        """
        if not (math.isfinite(flow) and flow >= 0):
            raise OutOfRangeError(f"A flow is 0 or more, not {flow:g} m³/s.")
        if flow == 0:
            return dict.fromkeys(("straight", "elbows", "hood", "blockage"), 0.0)
        if self.shut:
            raise OutOfRangeError("No air passes through a shut duct.")
        from fluids.fittings import bend_rounded
        from fluids.friction import friction_factor

        speed = flow / (math.pi / 4.0 * self.bore**2)
        head = 0.5 * density * speed**2
        reynolds = density * speed * self.bore / viscosity
        rough = self.roughness_mm / 1000.0
        friction = friction_factor(Re=reynolds, eD=rough / self.bore)
        bends = sum(
            bend_rounded(
                self.bore,
                bend.angle,
                friction,
                bend_diameters=bend.radius_in_diameters,
                Re=reynolds,
                roughness=rough,
            )
            for bend in self._bends
        )
        return {
            "straight": head * friction * self.straight_ft * FOOT / self.bore,
            "elbows": head * bends,
            "hood": head * self.hood_loss,
            "blockage": head * self._blockage_loss(),
        }

    def pressure(self, flow: float, density: float = AIR_DENSITY, viscosity: float = AIR_VISCOSITY) -> float:
        """Return the pressure [Pa] that drives ``flow`` [m³/s] through the duct.

        Raises
        ------
        OutOfRangeError
            If the flow is negative, or above zero through a shut duct.
        """
        return sum(self.losses(flow, density, viscosity).values())

    def _blockage_loss(self) -> float:
        """Return the velocity heads of the full bore lost at the narrowest place: sharp way in and out."""
        if self.blocked == 0:
            return 0.0
        from fluids.fittings import contraction_sharp, diffuser_sharp

        free = 1.0 - self.blocked
        throat = self.bore * math.sqrt(free)
        heads_at_throat = contraction_sharp(self.bore, throat) + diffuser_sharp(throat, self.bore)
        return float(heads_at_throat / free**2)


@dataclass(frozen=True)
class CodeCheck:
    """A duct against one code's longest length [ft]. Local code and the manufacturer's instructions come first."""

    code: str
    edition: str
    allowed_ft: float
    straight_ft: float

    @property
    def passes(self) -> bool:
        """Whether the straight run is within what the elbows leave."""
        return self.straight_ft <= self.allowed_ft

    def __str__(self) -> str:
        verdict = "within" if self.passes else "longer than"
        return (
            f"{self.straight_ft:g} ft of straight duct is {verdict} the {self.allowed_ft:g} ft that "
            f"{self.code} ({self.edition}) leaves after the elbows. "
            "Local code and the dryer manufacturer's instructions come first."
        )


def code_check(duct: Duct, code: str = "IRC M1502", edition: str = "2009 and later") -> CodeCheck:
    """Return how a duct stands against a code of ``datasets/duct_codes.csv``.

    Raises
    ------
    TableError
        If the table has no such code and edition.
    """
    row = table("duct-codes").row(code=code, edition=edition)
    bends = sorted((elbow(name) for name in duct.elbows), key=lambda bend: -bend.angle)[row.whole("elbows_included") :]
    flat = row.number_or_none("flat_deduction_ft")
    taken = sum(bend.code_deduction_ft if flat is None else flat for bend in bends)
    return CodeCheck(code, edition, row.number("longest_ft") - taken, duct.straight_ft)
