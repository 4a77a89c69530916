import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.heater_power import HeaterPower
from dryerbench.core.errors import OutOfRangeError

OHMS = st.lists(st.floats(5.0, 100.0), min_size=1, max_size=4)


def test_three_elements():
    sound = HeaterPower.parallel()
    assert sound.closed_watts == pytest.approx(6400.0)
    assert sound.closed_amps == pytest.approx(80 / 3)
    assert (sound.open_watts, sound.stopped_watts, sound.lit) == (0.0, 0.0, 1.0)


def test_one_of_three_open_leaves_two_thirds():
    broken = HeaterPower.parallel(open_elements=(2,))
    assert broken.closed_watts == pytest.approx(6400.0 * 2 / 3)
    assert broken.lit == pytest.approx(2 / 3)


def test_208_volts_gives_three_quarters():
    assert HeaterPower.parallel(volts=208.0).closed_watts / 6400.0 == pytest.approx(0.7511, abs=5e-5)


@given(OHMS, st.floats(50.0, 240.0))
@settings(deadline=None)
def test_power_is_volts_times_amps(ohms, volts):
    power = HeaterPower.parallel(ohms, volts)
    assert power.closed_watts == pytest.approx(volts * power.closed_amps)


def test_all_open_makes_nothing():
    assert HeaterPower.parallel(open_elements=(1, 2, 3)).closed_watts == 0.0


def test_grounded_in_the_middle_still_makes_full_heat_and_stays_on():
    """At the middle both halves see 120 V, as in series on 240 V: nothing shows until the contacts open."""
    power = HeaterPower.grounded(fraction=0.5)
    assert power.closed_watts == pytest.approx(6400.0)
    assert power.open_watts == pytest.approx(120**2 / 13.5 + 120**2 / (13.5 + 13.5))
    assert power.stopped_watts == 0.0
    assert HeaterPower.grounded(live_when_stopped=True).stopped_watts == power.open_watts


@given(st.floats(0.05, 0.95), st.integers(1, 3))
@settings(deadline=None)
def test_grounded_makes_at_least_the_sound_heat(fraction, element):
    """Power of the two parts, 1/f + 1/(1-f) over 4, is least in the middle."""
    power = HeaterPower.grounded(fraction=fraction, element=element)
    assert power.closed_watts >= 6400.0 - 1e-9
    assert power.open_amps < power.closed_amps


def test_a_single_grounded_element_has_no_way_back():
    power = HeaterPower.grounded((27.0,), fraction=0.25)
    assert power.open_watts == pytest.approx(120**2 / 6.75)


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        (lambda: HeaterPower.parallel(open_elements=(4,)), "no coil 4"),
        (lambda: HeaterPower.parallel(()), "at least one"),
        (lambda: HeaterPower.parallel(volts=-1.0), "0 V or more"),
        (lambda: HeaterPower.grounded(element=0), "no coil 0"),
        (lambda: HeaterPower.grounded(fraction=1.0), "inside the element"),
        (lambda: HeaterPower.parallel((0.1,)), "50 kW"),
        (lambda: HeaterPower(-1.0, 0.0), "0 or more"),
        (lambda: HeaterPower(1.0, 1.0, lit=0.0), "above 0"),
    ],
)
def test_errors(bad, words):
    with pytest.raises(OutOfRangeError, match=words):
        bad()
