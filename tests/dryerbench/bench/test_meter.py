"""The meter errs inside its accuracy, always the same way, and its band holds the truth."""

from __future__ import annotations

import json
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.bench.meter import DEAD_MODES, PROBE_MODES, Meter, Source, own_error
from dryerbench.bench.meter_ranges import MeterError, ranges
from dryerbench.bench.reading import Reading
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import named_state
from dryerbench.circuits.circuit import CircuitError
from dryerbench.circuits.solver import Pair

METER = Meter()


def there(state: str, *faults: str, machine: Machine | None = None) -> Situation:
    return settle(machine or Machine(), [read_fault(fault) for fault in faults], named_state(state))[0]


def test_accuracy_is_percent_of_reading_and_counts() -> None:
    scale = next(scale for scale in ranges("volts") if scale.full_scale == 600)
    assert scale.band(240.0).high - 240.0 == pytest.approx(2.7)


@settings(max_examples=150, deadline=None)
@given(st.floats(min_value=0.0, max_value=650.0), st.integers(min_value=0, max_value=10**9))
def test_a_reading_lies_in_its_accuracy_and_its_band_holds_the_truth(volts: float, seed: int) -> None:
    for mode in ("volts", "low-impedance", "clamp"):
        reading = METER._show(mode, volts, ("A", "B"), Source(f"test {seed % 97}", f"{seed}"), None)
        if reading.value is None:
            assert volts > 0.9 * ranges(mode)[-1].full_scale
            assert reading.low <= volts
            continue
        assert reading.low - 1e-9 <= volts <= reading.high + 1e-9
        counts = reading.value / reading.resolution
        assert counts == pytest.approx(round(counts), abs=1e-6)


@settings(max_examples=150, deadline=None)
@given(st.floats(min_value=0.0, max_value=5e7), st.booleans(), st.integers(min_value=0, max_value=10**9))
def test_the_band_of_ohms_at_the_tips_holds_the_truth(ohms: float, nulled: bool, seed: int) -> None:
    reading = METER._ohms("ohms", ohms, ("A", "B"), Source(f"test {seed % 97}", f"{seed}"), None, nulled=nulled)
    assert reading.low - 1e-9 <= ohms <= reading.high + 1e-9


def test_the_same_act_always_reads_the_same_and_errors_differ() -> None:
    one = METER.read(there("elements-free"), "ohms", "T1", "T0")
    assert one == METER.read(there("elements-free"), "ohms", "T1", "T0")
    swapped = METER.read(there("elements-free"), "ohms", "T0", "T1")
    assert swapped.value == one.value
    seen = {
        METER.read(there("elements-free", machine=Machine(name=f"m{k}")), "ohms", "T1", "T0").value for k in range(9)
    }
    assert len(seen) > 2


def test_golden_readings() -> None:
    """A change here changes what every apprentice's meter shows."""
    now = there("elements-free")
    shown = [str(METER.read(now, "ohms", f"T{n}", "T0")) for n in (1, 2, 3)]
    volts = str(METER.read(there("standing"), "volts", "L1", "L2"))
    assert (shown, volts) == GOLDEN


GOLDEN = (["27.3 Ω", "27.3 Ω", "27.2 Ω"], "239.7 V")


def test_leads_add_ohms_until_they_are_nulled() -> None:
    now = there("unplugged")
    plain = [METER.read(now, "ohms", f"H{n}", f"H{n + 1}") for n in (3, 5, 7)]
    nulled = [METER.read(now, "ohms", f"H{n}", f"H{n + 1}", nulled=True) for n in (3, 5, 7)]
    assert sum(r.value or 0 for r in plain) > sum(r.value or 0 for r in nulled)
    assert METER.lead_null("practice") == pytest.approx(0.24, abs=0.25)


def test_over_the_range_is_ol_by_hand_and_by_itself() -> None:
    now = there("all-wires-off")
    assert METER.read(now, "ohms", "T1", "case").shown == "OL"
    by_hand = METER.read(now, "ohms", "S1", "S2", full_scale=600)
    assert by_hand.shown == "OL"
    assert by_hand.value is None
    assert math.isinf(by_hand.high)
    assert by_hand.low < 600
    assert METER.read(now, "ohms", "S1", "S2").full_scale == 60000
    coarse = METER.read(now, "ohms", "T1", "T0", full_scale=60000)
    assert coarse.resolution == 10


def test_ten_megohms_loads_a_phantom_and_3_kilohms_collapses_it() -> None:
    now = there("standing", "lost-leg-2")
    ideal = METER.ideal(now, "volts", "H8", "case")
    shown = METER.read(now, "volts", "H8", "case").value or 0.0
    assert 1.0 < shown < 0.8 * ideal
    assert (METER.read(now, "low-impedance", "H8", "case").value or 0.0) < 0.5


def test_the_meters_own_input_is_ohms_and_capacitance() -> None:
    admittance = 1e-7 + 2j * math.pi * 60 * 100e-12
    behind = 1 / (2j * math.pi * 60 * 1e-9)
    expected = 120 * abs((1 / admittance) / (1 / admittance + behind))
    assert METER.loaded_volts(Pair(120 + 0j, behind), "volts") == pytest.approx(expected, rel=1e-12)


def test_a_beeper_sounds_for_sound_grounded_and_shorted_alike() -> None:
    for fault in ((), ("element-1-shorted",), ("element-1-grounded",)):
        assert METER.read(there("elements-free", *fault), "continuity", "T1", "T0").beeps
    assert METER.read(there("elements-free", "element-1-grounded"), "continuity", "T1", "case").beeps
    assert METER.read(there("elements-free"), "continuity", "T1", "case").beeps is False
    assert METER.read(there("elements-free"), "ohms", "T1", "T0").beeps is None


@pytest.mark.parametrize("mode", DEAD_MODES)
def test_a_live_circuit_spoils_every_setting_that_drives_current(mode: str) -> None:
    reading = METER.read(there("standing"), mode, "L1", "L2")
    assert reading.shown == "----"
    assert "fuse" in reading.trouble


def test_insulation_finds_damp_that_is_over_the_ohms_range() -> None:
    damp, sound = there("elements-free", "leakage-to-case=2000000"), there("elements-free")
    assert METER.read(damp, "insulation", "T0", "case").value == pytest.approx(2e6, rel=0.04)
    assert (METER.read(sound, "insulation", "T0", "case").value or 0) > 1e8


def test_the_clamp_reads_what_does_not_cancel() -> None:
    now = there("heating")
    cord = ("cord 1", "cord 2", "cord N", "ground wire")
    assert METER.clamp(now, ("cord 1",), "cord 1").value == pytest.approx(28.2, abs=1.0)
    assert METER.clamp(now, cord, "cord").value == pytest.approx(0.0, abs=0.1)


def test_degrees_at_three_spots() -> None:
    now = there("heating")
    for spot, celsius in (("room", 25), ("exhaust", 45), ("limit", 95)):
        assert METER.temperature(now, spot).value == pytest.approx(celsius, abs=2)
    with pytest.raises(MeterError, match="cannot be put at 'drum'"):
        METER.temperature(now, "drum")


def test_settings_and_points_that_are_not_there() -> None:
    now = there("unplugged")
    with pytest.raises(MeterError, match="no range of 50"):
        METER.read(now, "ohms", "T1", "T0", full_scale=50)
    with pytest.raises(MeterError, match="takes no probes"):
        METER.read(now, "clamp", "T1", "T0")
    with pytest.raises(MeterError, match="no mode 'smell'"):
        ranges("smell")
    with pytest.raises(CircuitError, match="no point named 'X'"):
        METER.read(now, "ohms", "X", "T0")


def test_a_reading_is_plain_data() -> None:
    for mode in PROBE_MODES:
        reading = METER.read(there("all-wires-off"), mode, "T1", "case")
        data = json.loads(json.dumps(reading.as_data(), allow_nan=False))
        assert data["shown"] == reading.shown
        assert set(data) == set(Reading.__slots__)


def test_shown_digits_have_short_units() -> None:
    now = there("all-wires-off")
    assert METER.read(now, "ohms", "S1", "S2").shown.endswith(" kΩ")
    assert METER.read(now, "ohms", "T1", "T0").shown.endswith(" Ω")


def test_an_ol_reading_says_from_where_on_the_true_ohms_lie() -> None:
    """Of 600 Ω at ±(0.9 % + 2 counts of 0.1 Ω), OL needs at least (600 - 0.2)/1.009 Ω at the jacks, leads included."""
    by_hand = METER.read(there("all-wires-off"), "ohms", "S1", "S2", full_scale=600)
    assert by_hand.low == pytest.approx((600.0 - 0.2) / 1.009 - 0.5, abs=1e-9)
    insulation = METER.read(there("all-wires-off"), "insulation", "T1", "case", full_scale=4e6)
    assert insulation.shown == "OL"
    assert insulation.low == pytest.approx((4e6 - 5 * 1000.0) / 1.03)
    scale = ranges("ohms")[0]
    least = (scale.full_scale - scale.counts * scale.resolution) / (1 + scale.percent / 100)
    assert scale.band(least).high <= scale.full_scale + 1e-9  # below it no error within the accuracy shows OL


def test_a_range_errs_alike_wherever_it_is_put() -> None:
    """Three equal coils on one range differ by the digits of noise and rounding, not by the accuracy."""
    now = there("elements-free", machine=Machine(name="alike", element_ohms=(270.0, 270.0, 270.0)))
    for nulled in (False, True):
        shown = [METER.read(now, "ohms", f"T{n}", "T0", nulled=nulled).value or 0.0 for n in (1, 2, 3)]
        assert max(shown) - min(shown) <= 0.2 + 1e-9
    running = there("heating", machine=Machine(name="alike"))
    amps = [METER.clamp(running, (wire,), wire).value or 0.0 for wire in ("wire H1", "wire H3", "wire H5", "wire H7")]
    assert max(amps) - min(amps) <= 0.02 + 1e-9


def test_a_later_point_of_one_conductor_never_reads_much_more() -> None:
    """Volts fall along a conductor; one meter on one range shows no rise beyond a digit or two."""
    for number in range(60):
        now = there("heating", machine=Machine(name=f"along {number}"))
        shown = [METER.read(now, "volts", "L2", point).value or 0.0 for point in ("L1", "H1", "H2", "H3", "H4", "H5")]
        assert all(later - earlier <= 0.2 + 1e-9 for earlier, later in pairwise(shown))


def test_meters_differ_from_one_another_and_from_range_to_range() -> None:
    for mode in (*PROBE_MODES, "clamp", "temperature"):
        for scale in ranges(mode):
            errors = [own_error(f"owner {number}", mode, scale.full_scale) for number in range(60)]
            gains = [error.gain for error in errors]
            assert max(gains) > 0.4 * scale.percent / 100.0
            assert min(gains) < -0.4 * scale.percent / 100.0
            assert len(set(gains)) == 60
            assert max(abs(error.offset) for error in errors) < scale.counts
    assert own_error("one", "continuity", 600.0) == own_error("one", "ohms", 600.0)
    assert own_error("one", "ohms", 600.0) != own_error("one", "ohms", 6000.0)


def test_ten_thousand_readings_stay_inside_their_bands() -> None:
    inside = 0
    for number in range(10_000):
        mode = (*PROBE_MODES, "clamp", "temperature")[number % 7]
        scale = ranges(mode)[number // 7 % len(ranges(mode))]
        true = scale.full_scale * (number * 0.6180339887 % 1.0) * (0.999 if number % 3 else 0.01)
        by_hand = scale.full_scale if number % 2 else None
        reading = METER._show(mode, true, ("A", "B"), Source(f"owner {number % 211}", f"{number}"), by_hand)
        inside += reading.low - 1e-9 <= true <= reading.high + 1e-9
    assert inside == 10_000


@pytest.mark.parametrize("mode", PROBE_MODES)
def test_a_blown_fuse_cuts_the_tips_off_every_setting(mode: str) -> None:
    reading = METER.read(there("standing"), mode, "L1", "L2", fuse=False)
    if mode in DEAD_MODES:
        assert (reading.shown, reading.value, reading.trouble) == ("OL", None, "")
        assert reading.beeps is (False if mode == "continuity" else None)
    else:
        assert (reading.value or 0.0) < 1.0
