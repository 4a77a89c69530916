"""What the readings of a job say of the path to the case, the bond and the strap; the truth behind them is not asked.

Common practice, no published source: the heater reads no number to the case, 1 MΩ and more on the insulation test; the
bond of a four-wire cord, or the strap of a three-wire one, reads near 0 Ω; a four-wire cord has no strap.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from dryerbench.bench.reading import ReadingData

CLEAR_OHMS = 1e6
"""Ω from which the heater counts as clear of its case (common practice, no published source)."""
JOINED_OHMS = 1.0
"""Ω up to which a bond or a strap counts as joined, leads included (common practice, no published source)."""
_HEATER = ("T0", "T1", "T2", "T3", "H8", "M1")
_NEUTRAL = ("N", "plug-N")
_BONDS = ("ground wire", "frame strap")
_NUMBERS = ("ohms", "insulation")


@dataclass
class CaseReadings:
    """The last dead reading of each place to the case since what it reads was last worked on: Ω, None for OL."""

    heater: dict[str, float | None] = field(default_factory=dict)
    bond: dict[str, float | None] = field(default_factory=dict)
    strap: dict[str, float | None] = field(default_factory=dict)

    def read(self, reading: ReadingData, *, four_wire: bool, plugged: bool) -> None:
        """Note one reading of the meter, if it is a number, or OL, of a place to the case.

        With the plug in, neutral and case are joined in the panel: what is read between them says nothing of a strap.
        """
        places = [place for place in reading["places"] if place != "case"]
        whole = reading["value"] is not None or reading["shown"] == "OL"
        if reading["mode"] not in _NUMBERS or "case" not in reading["places"] or len(places) != 1 or not whole:
            return
        (place,) = places
        if place in _HEATER or place.startswith("Box."):
            self.heater[place] = reading["value"]
        elif place == "plug-G":
            self.bond[place] = reading["value"]
        elif place in _NEUTRAL and not plugged:
            (self.strap if four_wire else self.bond)[place] = reading["value"]

    def worked_on(self, part: str) -> None:
        """Forget what was read of what ``part`` may have changed."""
        if part in _BONDS:
            self.bond, self.strap = {}, {}
        else:
            self.heater = {}

    @property
    def path_shown(self) -> bool:
        """Whether a reading stands that shows a path from the heater to the case."""
        return any(ohms is not None and ohms < CLEAR_OHMS for ohms in self.heater.values())

    @property
    def bond_bad(self) -> bool:
        """Whether a reading stands that shows no bond, or a strap that the cord must not have."""
        return any(not _joined(ohms) for ohms in self.bond.values()) or any(map(_joined, self.strap.values()))

    @property
    def complete(self) -> bool:
        """Whether heater and bond were both read since they were last worked on."""
        return bool(self.heater) and bool(self.bond)

    @property
    def good(self) -> bool:
        """Whether readings show the heater clear of the case and the case bonded as its cord wants it."""
        return self.complete and not self.path_shown and not self.bond_bad


def _joined(ohms: float | None) -> bool:
    return ohms is not None and ohms <= JOINED_OHMS
