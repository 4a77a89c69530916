"""A meter that errs as one meter does: ranges, counts, ±(% of reading + counts), leads, loading and over-range.

The ranges stand in the table ``meter-ranges``. Each range of the meter that lies beside a machine has a gain and an
offset of its own, drawn once from the course's stream: they are the same for every pair of points and every conductor,
so two readings on one range can be compared more closely than its accuracy says. On top comes half a digit of noise,
drawn for each machine, state and pair: the same act always shows the same digits. All of it lies inside the accuracy.

Its fuse sits behind the tips, in front of every setting that takes probes, as it does in fused leads: once it is gone,
volts read nothing and ohms read OL, on a live circuit too. That is why a meter is proved.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache

from dryerbench.bench.meter_ranges import RATINGS, MeterError, Range, by_hand, ranges
from dryerbench.bench.reading import Reading
from dryerbench.bench.situation import TOUCH_VOLTS, Situation
from dryerbench.bench.states import ROOM
from dryerbench.circuits.solver import MAINS_HERTZ, Pair
from dryerbench.core.random_stream import Stream
from dryerbench.core.temperatures import fahrenheit

PROBE_MODES = ("volts", "low-impedance", "ohms", "continuity", "insulation")
SPOILING_VOLTS = 2.0
DEAD_MODES = ("ohms", "continuity", "insulation")
SPOTS = ("room", "exhaust", "limit")
_GAIN_SHARE = 0.8
"""The share of a range's percent that its own gain may take."""
_NOISE_COUNTS = 0.5


@dataclass(frozen=True, slots=True)
class Source:
    """What the errors of a reading are drawn from: whose meter it is, and the tag of what it is put on."""

    owner: str
    tag: str


@dataclass(frozen=True, slots=True)
class Error:
    """The error of one range of one meter: ``gain`` as a share of the reading, ``offset`` in counts."""

    gain: float
    offset: float


@cache
def own_error(owner: str, mode: str, full_scale: float) -> Error:
    """Return the gain and the offset of one range of the meter that lies beside the machine ``owner``.

    The beeper is the ohms setting with a sound. Each is drawn evenly from what the accuracy of the range leaves beside
    the noise and the rounding.

    Raises
    ------
    MeterError
        For a mode or a range that the meter does not have.
    """
    mode = "ohms" if mode == "continuity" else mode
    scale = by_hand(mode, full_scale)
    stream = Stream(f"leg-to-leg/meter/2/{owner}/{mode}/{scale.full_scale!r}")
    share = scale.percent / 100.0
    counts = scale.counts * (1.0 - share) - _NOISE_COUNTS - 0.56
    gain, offset = (stream.integer(-1_000_000, 1_000_000) / 1_000_000 for _ in range(2))
    return Error(_GAIN_SHARE * share * gain, counts * offset)


@dataclass(frozen=True, slots=True)
class Meter:
    """The meter's make-up: ohms in Ω, capacitance in F. Usual figures, no published source."""

    category: str = RATINGS[0]
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
        fuse: bool = True,
    ) -> Reading:
        """Return what the meter shows with its probes on ``a`` and ``b``; ``full_scale`` picks a range by hand.

        Without its ``fuse`` the tips are cut off: no volts, and OL in ohms, whatever they are on.

        Raises
        ------
        MeterError
            For an unknown mode or range.
        CircuitError
            For a point that this machine does not have.
        """
        ideal = self.ideal(situation, mode, a, b)
        probes, source = (a, b), Source(situation.machine.name, situation.tag)
        if mode not in DEAD_MODES:
            true = self.loaded_volts(situation.live[a, b], mode) if fuse else 0.0
            return self._show(mode, true, probes, source, full_scale)
        if not fuse:
            return self._ohms(mode, math.inf, probes, source, full_scale, nulled=nulled)
        if (
            not situation.cannot_reach(SPOILING_VOLTS, a, b)
            and (found := self.spoiled_by(situation, a, b)) > SPOILING_VOLTS
        ):
            return _spoiled(mode, probes, found)
        if mode == "insulation":
            return self._show(mode, ideal, probes, source, full_scale)
        return self._ohms(mode, ideal, probes, source, full_scale, nulled=nulled)

    def clamp(self, situation: Situation, conductors: tuple[str, ...], name: str) -> Reading:
        """Return what the jaw shows around ``conductors`` together, called ``name``: the amps that do not cancel.

        Raises
        ------
        CircuitError
            For a conductor that this machine does not have.
        """
        amps = abs(sum((situation.flows.amps(part) for part in conductors), 0j))
        return self._show("clamp", amps, (name,), Source(situation.machine.name, situation.tag), None)

    def temperature(
        self, situation: Situation, spot: str, unit: str = "°C", *, celsius: float | None = None
    ) -> Reading:
        """Return the reading of the temperature probe at ``spot``: its number in °C, what it shows in ``unit``.

        ``celsius`` is how warm it is there; of the spots in ``SPOTS`` the state says it.

        Raises
        ------
        MeterError
            For a spot of which nobody says it, or a unit other than °F and °C.
        """
        if unit not in ("°F", "°C"):
            raise MeterError(f"The probe shows °F or °C, not '{unit}'.")
        if celsius is None:
            if spot not in SPOTS:
                raise MeterError(f"The probe cannot be put at '{spot}'; it can at {', '.join(SPOTS)}.")
            state = situation.state
            celsius = {"room": ROOM, "exhaust": state.exhaust_celsius, "limit": state.limit_celsius}[spot]
        reading = self._show("temperature", celsius, (spot,), Source(situation.machine.name, situation.tag), None)
        if unit == "°C" or reading.value is None:
            return reading
        return replace(reading, shown=f"{fahrenheit(reading.value):.1f} °F")

    def gauge(self, situation: Situation, mode: str, true: float, place: str) -> Reading:
        """Return what the instrument ``mode`` (airflow, pressure, leakage) shows of ``true`` at ``place``.

        Raises
        ------
        MeterError
            For an instrument that there is not.
        """
        return self._show(mode, true, (place,), Source(situation.machine.name, situation.tag), None)

    def lead_null(self, owner: str) -> float:
        """Return the Ω that the meter beside the machine ``owner`` stores when its tips are joined: its own leads."""
        return _rounded(ranges("ohms")[0], self.lead_ohms, "leads", Source(owner, "leads"))

    def _ohms(
        self,
        mode: str,
        ideal: float,
        probes: tuple[str, str],
        source: Source,
        full_scale: float | None,
        *,
        nulled: bool,
    ) -> Reading:
        null = self.lead_null(source.owner) if nulled else 0.0
        plain = self._show(mode, ideal + self.lead_ohms, probes, source, full_scale, less=null)
        beeps = ideal + self.lead_ohms < self.beeps_below if mode == "continuity" else None
        slack = ranges("ohms")[0].band(self.lead_ohms_most).high - self.lead_ohms_most
        low = plain.low - (slack if nulled else self.lead_ohms_most)
        high = plain.high + (slack if nulled else -self.lead_ohms_least)
        return replace(plain, low=max(0.0, low), high=max(high, 0.0), beeps=beeps)

    def _show(
        self,
        mode: str,
        true: float,
        places: tuple[str, ...],
        source: Source,
        full_scale: float | None,
        *,
        less: float = 0.0,
    ) -> Reading:
        """Return what is shown of ``true``, ``less`` what the meter has stored of its leads."""
        key = "/".join(sorted(places))
        choices = ranges(mode) if full_scale is None else (by_hand(mode, full_scale),)
        for scale in choices:
            value = _rounded(scale, true, key, source, less) if math.isfinite(true) else math.inf
            if value <= scale.full_scale:
                band, shown = scale.band(value), scale.show(value)
                span = (max(0.0, band.low), band.high, scale.full_scale, scale.resolution)
                return Reading(mode, places, shown, value, scale.unit, *span)
        top = choices[-1]
        low = (top.full_scale - top.counts * top.resolution) / (1.0 + top.percent / 100.0)
        return Reading(mode, places, "OL", None, top.unit, low, math.inf, top.full_scale, top.resolution)


def _spoiled(mode: str, probes: tuple[str, str], volts: float) -> Reading:
    scale = ranges(mode)[0]
    trouble = "live: the meter's fuse blows" if volts > TOUCH_VOLTS else "unsteady: volts on the circuit"
    shown = "----"
    return Reading(
        mode, probes, shown, None, scale.unit, 0.0, math.inf, scale.full_scale, scale.resolution, None, trouble
    )


def _rounded(scale: Range, true: float, key: str, source: Source, less: float = 0.0) -> float:
    """Return what is shown of ``true`` on a whole count: true·(1 + gain) + offset + noise, less what is stored.

    The band of a reading r is ±(p·r + n counts): gain, offset, noise and rounding together stay inside it.
    """
    own = own_error(source.owner, scale.mode, scale.full_scale)
    word = Stream(f"leg-to-leg/reading/2/{scale.mode}/{scale.full_scale!r}/{source.tag}/{key}").integer(0, 1_000_000)
    noise = _NOISE_COUNTS * (word / 500_000 - 1.0)
    drawn = true * (1.0 + own.gain) + (own.offset + noise) * scale.resolution - less
    counts = round(max(0.0, drawn) / scale.resolution)
    return float(f"{counts * scale.resolution:.12g}")
