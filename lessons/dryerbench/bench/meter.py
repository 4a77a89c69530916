"""A meter that errs like a meter: ranges, counts, ±(% of reading + counts), leads, loading and over-range.

The ranges stand in the table ``meter-ranges``. An error is drawn for each machine, state, pair of probes, mode and
range from the course's stream: the same act always shows the same digits, and they always lie inside the accuracy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import TypedDict

from dryerbench.answers.tolerance import Band, accuracy_band
from dryerbench.bench.situation import TOUCH_VOLTS, Situation
from dryerbench.bench.states import ROOM
from dryerbench.circuits.solver import MAINS_HERTZ, Pair
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table

PROBE_MODES = ("volts", "low-impedance", "ohms", "continuity", "insulation")
SPOILING_VOLTS = 2.0
DEAD_MODES = ("ohms", "continuity", "insulation")
SPOTS = ("room", "exhaust", "limit")


class MeterError(LegToLegError, ValueError):
    """A setting or a place that the meter does not have, or an act that it cannot do."""


@dataclass(frozen=True, slots=True)
class Range:
    """One range: full scale, resolution and test amps in its unit, accuracy ±(``percent`` + ``counts``)."""

    mode: str
    full_scale: float
    unit: str
    resolution: float
    percent: float
    counts: int

    def band(self, reading: float) -> Band:
        """Return the band of the accuracy at ``reading``, in the unit of the range."""
        return accuracy_band(reading, self.percent, self.counts, self.resolution)

    def show(self, value: float) -> str:
        """Return ``value`` with the digits of this range, scaled to a short unit."""
        factor, prefix = _prefix(self.full_scale)
        decimals = max(0, round(-math.log10(self.resolution / factor)))
        unit = {"ohm": "Ω"}.get(self.unit, self.unit)
        return f"{value / factor:.{decimals}f} {prefix}{unit}"


def _prefix(full_scale: float) -> tuple[float, str]:
    for factor, prefix in ((1e9, "G"), (1e6, "M"), (1e3, "k")):
        if full_scale > factor:
            return factor, prefix
    return 1.0, ""


@cache
def ranges(mode: str) -> tuple[Range, ...]:
    """Return the ranges of ``mode``, the smallest first.

    Raises
    ------
    MeterError
        For a mode that the meter does not have.
    """
    rows = [row for row in table("meter-ranges").rows if row["mode"] == mode]
    if not rows:
        modes = ", ".join(dict.fromkeys(table("meter-ranges").texts("mode")))
        raise MeterError(f"The meter has no mode '{mode}'. Its modes are: {modes}.")
    return tuple(
        Range(
            row.text("mode"),
            row.number("full_scale"),
            row.text("unit"),
            row.number("resolution"),
            row.number("percent"),
            row.whole("counts"),
        )
        for row in rows
    )


class ReadingData(TypedDict):
    """A reading as plain data for JSON; an endless ``high`` is None."""

    mode: str
    places: list[str]
    shown: str
    value: float | None
    unit: str
    low: float
    high: float | None
    full_scale: float
    resolution: float
    beeps: bool | None
    trouble: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What the meter shows, and the band (low, high) in which the true value at the tips lies; ``high`` may be inf.

    ``value`` is None for OL and for a spoiled reading; ``beeps`` is None outside continuity.
    """

    mode: str
    places: tuple[str, ...]
    shown: str
    value: float | None
    unit: str
    low: float
    high: float
    full_scale: float
    resolution: float
    beeps: bool | None = None
    trouble: str = ""

    def __str__(self) -> str:
        beep = {None: "", True: ", beeps", False: ", silent"}[self.beeps]
        return f"{self.shown}{beep}"

    def as_data(self) -> ReadingData:
        """Return the reading as plain data for JSON; an endless ``high`` becomes None."""
        return {
            "mode": self.mode,
            "places": list(self.places),
            "shown": self.shown,
            "value": self.value,
            "unit": self.unit,
            "low": self.low,
            "high": None if math.isinf(self.high) else self.high,
            "full_scale": self.full_scale,
            "resolution": self.resolution,
            "beeps": self.beeps,
            "trouble": self.trouble,
        }

    @staticmethod
    def from_data(data: ReadingData) -> Reading:
        """Return the reading that became ``data``."""
        return Reading(
            mode=data["mode"],
            places=tuple(data["places"]),
            shown=data["shown"],
            value=data["value"],
            unit=data["unit"],
            low=data["low"],
            high=math.inf if data["high"] is None else data["high"],
            full_scale=data["full_scale"],
            resolution=data["resolution"],
            beeps=data["beeps"],
            trouble=data["trouble"],
        )


@dataclass(frozen=True, slots=True)
class Meter:
    """The meter's make-up: ohms in Ω, capacitance in F. Usual figures, no published source."""

    category: str = "CAT III 600 V"
    input_ohms: float = 10e6
    input_farads: float = 100e-12
    low_input_ohms: float = 3000.0
    lead_ohms: float = 0.24
    lead_ohms_least: float = 0.1
    lead_ohms_most: float = 0.5
    beeps_below: float = 40.0
    insulation_volts: float = 500.0
    insulation_amps: float = 1e-3
    guard_ohms: float = 2000.0

    def loaded_volts(self, pair: Pair, mode: str) -> float:
        """Return the volts left between two probes once the meter loads them: |V·Z/(Z + Z_behind)|."""
        admittance = 1.0 / self.input_ohms + 1j * math.tau * MAINS_HERTZ * self.input_farads
        load = 1.0 / admittance if mode == "volts" else complex(self.low_input_ohms)
        return abs(pair.volts * load / (load + pair.ohms))

    def ideal(self, situation: Situation, mode: str, a: str, b: str) -> float:
        """Return what a faultless meter without leads would read: V unloaded, or Ω.

        Raises
        ------
        MeterError
            For a mode that takes no probes.
        CircuitError
            For a point that this machine does not have.
        """
        if mode not in PROBE_MODES:
            raise MeterError(f"The mode '{mode}' takes no probes; these do: {', '.join(PROBE_MODES)}.")
        if mode in DEAD_MODES:
            return max(0.0, situation.dead[a, b].ohms.real)
        return abs(situation.live[a, b].volts)

    def spoiled_by(self, situation: Situation, a: str, b: str) -> float:
        """Return the volts that an ohms setting finds across itself: they spoil the reading, or the fuse."""
        pair = situation.live[a, b]
        return abs(pair.volts * self.guard_ohms / (self.guard_ohms + pair.ohms))

    def read(
        self,
        situation: Situation,
        mode: str,
        a: str,
        b: str,
        *,
        full_scale: float | None = None,
        nulled: bool = False,
    ) -> Reading:
        """Return what the meter shows with its probes on ``a`` and ``b``; ``full_scale`` picks a range by hand.

        Raises
        ------
        MeterError
            For an unknown mode or range.
        CircuitError
            For a point that this machine does not have.
        """
        ideal = self.ideal(situation, mode, a, b)
        probes = (a, b)
        if mode not in DEAD_MODES:
            true = self.loaded_volts(situation.live[a, b], mode)
            return self._show(mode, true, probes, situation.tag, full_scale)
        found = self.spoiled_by(situation, a, b)
        if found > SPOILING_VOLTS:
            return _spoiled(mode, probes, found)
        if mode == "insulation":
            return self._show(mode, ideal, probes, situation.tag, full_scale)
        return self._ohms(mode, ideal, probes, situation.tag, full_scale, nulled=nulled)

    def clamp(self, situation: Situation, conductors: tuple[str, ...], name: str) -> Reading:
        """Return what the jaw shows around ``conductors`` together, called ``name``: the amps that do not cancel.

        Raises
        ------
        CircuitError
            For a conductor that this machine does not have.
        """
        amps = abs(sum((situation.live.amps(part) for part in conductors), 0j))
        return self._show("clamp", amps, (name,), situation.tag, None)

    def temperature(self, situation: Situation, spot: str) -> Reading:
        """Return what the temperature probe shows at ``spot``, in °C.

        Raises
        ------
        MeterError
            For a spot other than those in ``SPOTS``.
        """
        if spot not in SPOTS:
            raise MeterError(f"The probe cannot be put at '{spot}'; it can at {', '.join(SPOTS)}.")
        state = situation.state
        celsius = {"room": ROOM, "exhaust": state.exhaust_celsius, "limit": state.limit_celsius}[spot]
        return self._show("temperature", celsius, (spot,), situation.tag, None)

    def lead_null(self) -> float:
        """Return the Ω that the meter stores when its tips are joined: what it shows of its own leads."""
        return _rounded(ranges("ohms")[0], self.lead_ohms, "leads")

    def _ohms(
        self, mode: str, ideal: float, probes: tuple[str, str], tag: str, full_scale: float | None, *, nulled: bool
    ) -> Reading:
        null = self.lead_null() if nulled else 0.0
        plain = self._show(mode, max(0.0, ideal + self.lead_ohms - null), probes, tag, full_scale)
        beeps = ideal + self.lead_ohms < self.beeps_below if mode == "continuity" else None
        slack = ranges("ohms")[0].band(self.lead_ohms_most).high - self.lead_ohms_most
        low = plain.low - (slack if nulled else self.lead_ohms_most)
        high = plain.high + (slack if nulled else -self.lead_ohms_least)
        return _with(plain, low=max(0.0, low), high=max(high, 0.0), beeps=beeps)

    def _show(self, mode: str, true: float, places: tuple[str, ...], tag: str, full_scale: float | None) -> Reading:
        key = f"{tag}/{'/'.join(sorted(places))}"
        choices = ranges(mode) if full_scale is None else (_by_hand(mode, full_scale),)
        for scale in choices:
            value = _rounded(scale, true, key)
            if value <= scale.full_scale:
                band, shown = scale.band(value), scale.show(value)
                span = (max(0.0, band.low), band.high, scale.full_scale, scale.resolution)
                return Reading(mode, places, shown, value, scale.unit, *span)
        top = choices[-1]
        low = (top.full_scale - top.counts * top.resolution) / (1.0 + top.percent / 100.0)
        return Reading(mode, places, "OL", None, top.unit, low, math.inf, top.full_scale, top.resolution)


def _with(reading: Reading, *, low: float, high: float, beeps: bool | None) -> Reading:
    return Reading(
        reading.mode,
        reading.places,
        reading.shown,
        reading.value,
        reading.unit,
        low,
        high,
        reading.full_scale,
        reading.resolution,
        beeps,
        reading.trouble,
    )


def _spoiled(mode: str, probes: tuple[str, str], volts: float) -> Reading:
    scale = ranges(mode)[0]
    trouble = "live: the fuse of the meter goes" if volts > TOUCH_VOLTS else "unsteady: volts on the circuit"
    shown = "----"
    return Reading(
        mode, probes, shown, None, scale.unit, 0.0, math.inf, scale.full_scale, scale.resolution, None, trouble
    )


def _by_hand(mode: str, full_scale: float) -> Range:
    choices = ranges(mode)
    for scale in choices:
        if math.isclose(scale.full_scale, full_scale):
            return scale
    offered = ", ".join(scale.show(scale.full_scale) for scale in choices)
    raise MeterError(f"The mode {mode} has no range of {full_scale:g}; its ranges are {offered}.")


def _rounded(scale: Range, true: float, key: str) -> float:
    """Return a reading within the accuracy, on a whole count, that stays inside its own band.

    The band of a reading r is ±(p·r + n counts), so r may lie from (x - n)/(1 + p) to (x + n)/(1 - p) for a true x;
    a little over half a count of n is left for the rounding.
    """
    share = scale.percent / 100.0
    slack = (scale.counts - 0.56) * scale.resolution
    least, most = (true - slack) / (1.0 + share), (true + slack) / (1.0 - share)
    word = Stream(f"leg-to-leg/reading/1/{scale.mode}/{scale.full_scale!r}/{key}").integer(0, 1_000_000)
    drawn = least + (most - least) * word / 1_000_000
    counts = round(max(0.0, drawn) / scale.resolution)
    return float(f"{counts * scale.resolution:.12g}")
