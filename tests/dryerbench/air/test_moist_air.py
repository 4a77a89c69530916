import numpy as np
import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.moist_air import (
    MoistAir,
    dry_air_density,
    enthalpy,
    heating_watts,
    humidity_ratio,
    latent_heat,
    relative_humidity,
    saturation_pressure,
    saturation_pressure_by,
)
from dryerbench.core.errors import OutOfRangeError


@given(st.floats(0.0, 95.0), st.floats(0.0, 1.0))
@settings(deadline=None)
def test_humidity_comes_back(celsius, humidity):
    ratio = humidity_ratio(celsius, humidity)
    assert float(relative_humidity(celsius, ratio)) == pytest.approx(humidity, abs=1e-12)


@given(st.floats(0.0, 94.0), st.floats(0.5, 1.0))
@settings(deadline=None)
def test_warm_air_holds_more(celsius, humidity):
    assert humidity_ratio(celsius + 1.0, humidity) > humidity_ratio(celsius, humidity)


def test_arrays_and_floats_agree():
    celsius = np.linspace(1.0, 150.0, 30)
    array = saturation_pressure_by(celsius, np.exp, np.log)
    assert np.allclose(array, [saturation_pressure(float(t)) for t in celsius], rtol=1e-13)


def test_latent_heat_is_vapour_less_liquid():
    assert latent_heat(40.0) == pytest.approx(enthalpy(40.0, 1.0) - enthalpy(40.0, 0.0) - 4186.0 * 40.0)


def test_density_of_dry_air():
    assert dry_air_density(20.0) == pytest.approx(1.204, abs=1e-3)
    assert dry_air_density(20.0, 0.02) < dry_air_density(20.0)


def test_heating_watts_is_the_trades_rule():
    assert heating_watts(100 * 0.3048**3 / 60, 100 / 1.8) == pytest.approx(1.08 * 100 * 100 * 0.29307107, rel=1e-7)


@pytest.mark.parametrize(
    ("celsius", "humidity", "words"),
    [
        (20.0, 50.0, "between 0 and 1"),
        (20.0, -0.1, "between 0 and 1"),
        (250.0, 0.5, "0 to 200"),
        (150.0, 0.9, "vapour"),
    ],
)
def test_impossible_air_is_refused_in_one_line(celsius, humidity, words):
    with pytest.raises(OutOfRangeError, match=words) as caught:
        MoistAir(celsius, humidity)
    assert "\n" not in str(caught.value)


def test_psychrolibs_unit_system_is_left_alone():
    psychrolib.SetUnitSystem(psychrolib.IP)
    try:
        assert MoistAir(20.0, 0.5).dew_point == pytest.approx(9.272, abs=1e-3)
        assert psychrolib.GetUnitSystem() == psychrolib.IP
    finally:
        psychrolib.SetUnitSystem(psychrolib.SI)
