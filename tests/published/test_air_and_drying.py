"""Checks of air, thermistors and drying against numbers from outside; the source stands beside each."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from CoolProp import CoolProp as coolprop  # noqa: N813

from dryerbench.air.airflow import operating_point
from dryerbench.air.cycle import Cycle
from dryerbench.air.dryer_body import DRY_ENOUGH, TEST_LOAD_KG, TEST_LOAD_MOISTURE, Load, household_load
from dryerbench.air.ducts import CFM, Duct, code_check
from dryerbench.air.heater_power import HeaterPower
from dryerbench.air.moist_air import (
    SENSIBLE_HEAT_RULE,
    SENSIBLE_HEAT_SI,
    MoistAir,
    enthalpy,
    humidity_ratio,
    latent_heat,
    saturation_pressure,
)
from dryerbench.air.thermistor import SteinhartHart

psychrolib.SetUnitSystem(psychrolib.SI)

SEA_LEVEL = 101_325.0


# Check 21: the handbook rule 1.08 BTU/(h·cfm·°F) for air's sensible heat; its SI value is arithmetic.
def test_sensible_heat_of_air():
    assert pytest.approx(1.08, rel=1e-12) == SENSIBLE_HEAT_RULE
    assert pytest.approx(1207.2, abs=0.05) == SENSIBLE_HEAT_SI
    # Dry room air by CoolProp: the rule is a round number, 0.1 % off at 20 °C.
    density = coolprop.PropsSI("D", "T", 294.26, "P", SEA_LEVEL, "Air")
    heat = coolprop.PropsSI("C", "T", 294.26, "P", SEA_LEVEL, "Air")
    assert pytest.approx(density * heat, rel=5e-3) == SENSIBLE_HEAT_SI


# Check 22: psychrolib 2.5.0 (computed) at 20 °C, 50 %, 101 325 Pa.
def test_moist_air_at_room_conditions():
    air = MoistAir(20.0, 0.5)
    assert air.humidity_ratio == pytest.approx(0.007262, abs=5e-7)
    assert air.wet_bulb == pytest.approx(13.783, abs=5e-4)
    assert air.dew_point == pytest.approx(9.272, abs=5e-4)
    assert air.enthalpy == pytest.approx(38_552, abs=0.5)


@pytest.mark.parametrize("celsius", [5.0, 20.0, 35.0, 50.0, 65.0, 80.0, 95.0])
@pytest.mark.parametrize("humidity", [0.1, 0.5, 0.9])
def test_closed_forms_are_the_handbooks(celsius, humidity):
    """The same equations as psychrolib: equal to rounding."""
    assert saturation_pressure(celsius) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-9)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, SEA_LEVEL)
    assert humidity_ratio(celsius, humidity) == pytest.approx(ratio, rel=1e-9)
    assert enthalpy(celsius, ratio) == pytest.approx(psychrolib.GetMoistAirEnthalpy(celsius, ratio), rel=1e-9)


@pytest.mark.parametrize("celsius", [5.0, 20.0, 35.0, 50.0, 65.0])
@pytest.mark.parametrize("humidity", [0.1, 0.5, 0.9])
def test_closed_forms_against_coolprop(celsius, humidity):
    """CoolProp counts what real air adds (the enhancement factor): 0.3 to 0.9 % more water."""
    state = ("T", celsius + 273.15, "P", SEA_LEVEL, "R", humidity)
    real = coolprop.HAPropsSI("W", *state)
    assert 1.003 < real / humidity_ratio(celsius, humidity) < 1.009
    zero = coolprop.HAPropsSI("H", "T", 273.15, "P", SEA_LEVEL, "W", 0.0)
    heat = coolprop.HAPropsSI("H", "T", celsius + 273.15, "P", SEA_LEVEL, "W", real) - zero
    assert enthalpy(celsius, real) == pytest.approx(heat, rel=3e-3)


@pytest.mark.parametrize("celsius", [5.0, 20.0, 50.0, 80.0, 95.0, 150.0])
def test_saturation_against_steam_tables(celsius):
    """Hyland and Wexler's equation is within 0.1 % of IAPWS-95, as CoolProp computes it."""
    steam = coolprop.PropsSI("P", "T", celsius + 273.15, "Q", 1, "Water")
    assert saturation_pressure(celsius) == pytest.approx(steam, rel=1e-3)


# Check 23: CoolProp 8 (computed): 2453.52 kJ/kg at 20 °C, 2357.65 at 60 °C. Ours: a straight line, 0.2 %.
@pytest.mark.parametrize(("celsius", "published"), [(20.0, 2_453_520.0), (60.0, 2_357_650.0)])
def test_latent_heat(celsius, published):
    vapour, liquid = (coolprop.PropsSI("H", "T", celsius + 273.15, "Q", q, "Water") for q in (1, 0))
    assert vapour - liquid == pytest.approx(published, rel=1e-5)
    assert latent_heat(celsius) == pytest.approx(published, rel=2e-3)


# Check 16: open worked example, read: three rows of its table, and 7000 Ω is 34.7531 °C.
ROWS = [(-25.0, 87_041.0), (0.0, 27_326.0), (25.0, 10_000.0)]


def test_thermistor_table_rows_and_reading_between():
    part = SteinhartHart.through(ROWS)
    for celsius, ohms in ROWS:
        assert part.ohms(celsius) == pytest.approx(ohms, rel=1e-9)
        assert part.celsius(ohms) == pytest.approx(celsius, abs=1e-9)
    assert part.celsius(7_000.0) == pytest.approx(34.7531, abs=5e-5)
    assert part.ohms(34.75314) == pytest.approx(7_000.0, rel=1e-6)


# Check 24: IRC M1502 as quoted (read at second hand): 35 ft less 5 ft for each 90° mitred elbow.
def test_three_elbows_leave_twenty_feet():
    assert code_check(Duct(20.0, ("mitred_90",) * 3)).allowed_ft == pytest.approx(20.0)
    assert code_check(Duct(20.0, ("mitred_90",) * 3)).passes
    assert not code_check(Duct(20.1, ("mitred_90",) * 3)).passes


# Check 25: fluids 1.3 (computed): 4 in duct, 35 ft, roughness 0.09 mm, air of 1.2 kg/m³.
@pytest.mark.parametrize(("cfm", "pascals"), [(100, 52.5), (150, 111.3), (200, 191.0)])
def test_duct_friction(cfm, pascals):
    duct = Duct(35.0, (), hood_loss=0.0)
    assert duct.pressure(cfm * CFM) == pytest.approx(pascals, rel=2e-3)


def test_elbows_deduction_is_their_friction():
    """The 5 ft taken off for a 90° elbow is what fluids' bend of that radius loses, within 15 %."""
    for cfm in (100, 150, 200):
        bend = Duct(0.0, ("mitred_90",), hood_loss=0.0).pressure(cfm * CFM)
        foot = Duct(1.0, (), hood_loss=0.0).pressure(cfm * CFM)
        assert bend / foot == pytest.approx(5.0, rel=0.15)


def test_flow_is_that_of_a_household_dryer():
    """A 4 in duct carries 100 to 200 cfm from a household dryer: common practice, no published source."""
    assert 100 < operating_point(Duct()).cfm < 200


# The US federal test of clothes dryers. All from memory, none read: the least combined energy factor of a
# vented electric standard dryer, 3.73 lb/kWh (10 CFR 430.32(h)); the 8.45 lb load at 57.5 % moisture and
# its end at 2.5 to 5 % (10 CFR 430 subpart B, appendices D1 and D2). Typical vented electric dryers are
# at the least or a little above it, to about 4.3 lb/kWh: from memory of what efficiency programmes ask
# for (3.93), and a margin.
LEAST_FACTOR = 3.73
TYPICAL_MOST = 4.3


def test_efficiency_of_the_standard_load():
    assert pytest.approx(8.45, rel=1e-12) == TEST_LOAD_KG / 0.45359237
    assert 0.025 <= DRY_ENOUGH <= 0.05
    record = Cycle(load=Load(), stop_when_dry=True, cool_down=5.0).run()
    assert record.running.load.moisture == TEST_LOAD_MOISTURE
    assert LEAST_FACTOR <= record.pounds_per_kwh <= TYPICAL_MOST


def test_a_household_load_takes_35_to_60_minutes():
    """Common practice, no published source: what a customer calls usual, 9 lb of mixed clothes."""
    assert Cycle().load == household_load()
    for ohms in (26.0, 27.0, 28.0):
        for duct in (Duct(6.0), Duct(24.0, ("mitred_90",) * 2)):
            heater = HeaterPower.parallel((ohms,) * 3, 240.0)
            assert 35.0 < Cycle(heater, duct, minutes=90.0).run().minutes_to_dry < 60.0
    for watts in (5200.0, 5600.0):
        assert 35.0 < Cycle(HeaterPower(watts, watts / 240.0), minutes=90.0).run().minutes_to_dry < 60.0


def test_no_dryer_beats_the_latent_heat():
    """Vaporising the water at the steam tables' latent heat is the least that the cycle can take."""
    record = Cycle(load=Load(), stop_when_dry=True).run()
    least = record.dried_kg * (2_453_520.0 - 4_186.0 * 20.0)
    assert record.balance.heater + record.balance.motor > least
    assert least / (record.balance.heater + record.balance.motor) > 0.5


def test_the_exhausts_heat_by_psychrolib():
    """What the exhaust carried off, by psychrolib's enthalpies of the air in and out: to 0.1 % over the cycle."""
    record = Cycle().run()
    minutes = np.linspace(0.0, record.minutes, 3601)
    air = record._air(minutes)
    room = record.running.room
    inward = psychrolib.GetMoistAirEnthalpy(room.celsius, room.humidity_ratio)
    outward = [psychrolib.GetMoistAirEnthalpy(*pair) for pair in zip(air.exhaust, air.ratio, strict=True)]
    carried = record.running.flow * np.trapezoid(np.array(outward) - inward, dx=1.0)
    assert carried == pytest.approx(record.balance.exhaust, rel=1e-3)
    put_in = record.balance.heater + record.balance.motor
    assert carried + record.balance.room + record.balance.stored == pytest.approx(put_in, rel=1e-3)
