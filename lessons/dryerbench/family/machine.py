"""One machine of an arrangement: its own ohms and ratings, and the site on which it stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.house import Site

COIL_SPREAD, WINDING_SPREAD = 0.05, 0.10
"""The sheet's tolerance on cold coils and on windings, bias heater and dial motor; invented, of the usual size."""
_RATING_SPREAD = {
    "cycling thermostat": 5, "low thermostat": 5, "high limit": 8, "cut-off": 12, "manual cut-off": 12,
    "thermal fuse": 12,
}  # fmt: skip
_WINDINGS = ("run", "start", "ohms")

Own = tuple[str, str, float]


def default_site(made: Arrangement) -> Site:
    """Return the site that an arrangement is made for: 120/240 V, or two phases of 208Y/120."""
    return Site(supply="wye" if made.made_for == 208 else "split")


@dataclass(frozen=True, slots=True)
class Machine:
    """A dryer: its arrangement, its site, and the numbers in which it differs from the sheet.

    ``own`` holds (part, number, value) in the units of ``Component.numbers``; of a coil or a wire it is ``ohms``.
    """

    arrangement: Arrangement
    name: str = "practice"
    site: Site = field(default_factory=Site)
    own: tuple[Own, ...] = ()
    contact_ohms: float = 0.01
    wire_ohms: float = 0.005
    insulation_ohms: float = 5e9
    harness_farads: float = 20e-12
    beside_farads: float = 4e-12

    @property
    def cord(self) -> str:
        """Its cord, ``four-wire`` or ``three-wire``."""
        return self.arrangement.cord

    def number(self, part: str, key: str) -> float:
        """Return a number of this machine: its own, else the sheet's.

        Raises
        ------
        KeyError
            If the part has no such number.
        """
        for name, what, value in self.own:
            if (name, what) == (part, key):
                return value
        for coil in self.arrangement.coils:
            if coil.name == part:
                return coil.ohms
        return self.arrangement.by_name[part].numbers[key]

    def number_or(self, part: str, key: str, otherwise: float) -> float:
        """Return a number of this machine's own, or ``otherwise``."""
        return next((value for name, what, value in self.own if (name, what) == (part, key)), otherwise)

    def with_own(self, changes: Iterable[Own]) -> Machine:
        """Return the machine with numbers of its own changed."""
        fresh = {(name, key): value for name, key, value in self.own}
        fresh |= {(name, key): value for name, key, value in changes}
        return replace(self, own=tuple((name, key, value) for (name, key), value in sorted(fresh.items())))


def standard(made: Arrangement) -> Machine:
    """Return the machine that is as its sheet says, on the site it is made for."""
    return Machine(made, site=default_site(made))


def drawn_machine(made: Arrangement, stream: Stream, name: str) -> Machine:
    """Return a machine of one's own: coils ±5 %, windings ±10 %, ratings and supply drawn from ``stream``.

    Legs 117 to 123 V, 20 to 80 ft of 10 AWG to the panel, as the course's other machines have them.
    """
    own: list[Own] = [
        (coil.name, "ohms", round(coil.ohms * stream.step("0.95", "1.05", "0.005"), 3)) for coil in made.coils
    ]
    for part in made.parts:
        for key, value in part.numbers.items():
            if key in _WINDINGS and part.kind.name not in ("exhaust sensor", "inlet sensor", "board", "lamp"):
                own.append((part.name, key, round(value * stream.step("0.90", "1.10", "0.01"), 3)))
            elif key == "opens":
                spread = _RATING_SPREAD[part.kind.name]
                shift = stream.integer(-spread, spread)
                own.append((part.name, key, value + shift))
                if "closes" in part.numbers:
                    own.append((part.name, "closes", part.numbers["closes"] + shift))
    site = replace(
        default_site(made),
        leg_volts=stream.step("117", "123", "0.5"),
        run_feet=stream.step("20", "80", "5"),
        cord_feet=stream.choose((4.0, 6.0)),
        house_watts=(stream.step("100", "1500", "50"), stream.step("100", "1500", "50")),
    )
    return Machine(made, name, site).with_own(own)
