"""Checks 14 to 17, 19 and 20: sensors, a measured impedance, interrupters, leakage (18 is in test_meter_band)."""

import math

import numpy as np
import pytest
import rtd_sensor.pt100
import thermocouple_its90
import uncertainties
from uncertainties import umath

from dryerbench.air.sensors import platinum_ohms, type_k_millivolts
from dryerbench.air.thermistor import SteinhartHart
from dryerbench.bench.meter_ranges import ranges
from dryerbench.circuits.circuit import read_circuit
from dryerbench.circuits.solver import solve
from dryerbench.electricity.leakage import INTERRUPTER_HOLDS, INTERRUPTER_TRIPS, interrupter_seconds, leakage_limit


def test_14_platinum_at_100_degrees():
    """138.5055 Ω by the IEC 60751 coefficients; the whole range by ``rtd-sensor`` 0.8.0 (computed)."""
    assert platinum_ohms(100.0) == pytest.approx(138.5055, abs=5e-5)
    for celsius in range(-200, 851, 50):
        assert platinum_ohms(celsius) == pytest.approx(rtd_sensor.pt100.celsius_to_resistance(celsius), rel=1e-9)


def test_15_type_k_at_100_degrees():
    """4.0962 mV, reference at 0 °C, ITS-90; the bench's range by ``thermocouple-its90`` 1.0.2 (computed)."""
    assert type_k_millivolts(100.0) == pytest.approx(4.0962, abs=5e-5)
    pair = thermocouple_its90.TypeK
    for celsius in range(0, 401, 25):
        assert type_k_millivolts(celsius) == pytest.approx(pair.emf(float(celsius)), abs=2e-5)


def test_16_steinhart_hart_through_three_points():
    """(-25 °C, 87041 Ω), (0, 27326), (25, 10000): 7000 Ω is 34.7531 °C (an open worked example, read)."""
    curve = SteinhartHart.through([(-25.0, 87041.0), (0.0, 27326.0), (25.0, 10000.0)])
    assert curve.celsius(7000.0) == pytest.approx(34.7531, abs=5e-4)


def gum_h2():
    """The five readings of GUM example H.2 (JCGM 100:2008; from memory): their means with the covariance of those."""
    volts = [5.007, 4.994, 5.005, 4.990, 4.999]
    amps = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3]
    phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
    return uncertainties.correlated_values(np.mean([volts, amps, phase], axis=1), np.cov([volts, amps, phase]) / 5)


def test_17_impedance_of_gum_example_h2():
    """R 127.732 (0.071), X 219.847 (0.296), Z 254.260 (0.236) Ω; ``uncertainties`` 3.2 carries the correlations."""
    volts, amps, phase = gum_h2()
    found = {"R": volts / amps * umath.cos(phase), "X": volts / amps * umath.sin(phase), "Z": volts / amps}
    for name, value, sigma in (("R", 127.732, 0.071), ("X", 219.847, 0.296), ("Z", 254.260, 0.236)):
        assert found[name].nominal_value == pytest.approx(value, abs=6e-4)
        assert found[name].std_dev == pytest.approx(sigma, abs=6e-4)


def test_17_the_solver_gives_back_the_phase_and_amps_of_that_impedance():
    henries = 219.847 / (math.tau * 60.0)
    solution = solve(
        read_circuit(
            "source: source from earth to A, 4.999 V at 0 deg\nr: resistance from A to B, 127.732 ohm\n"
            f"x: inductance from B to earth, {henries!r} H\n"
        )
    )
    amps = solution.amps("x")
    assert abs(amps) == pytest.approx(19.6610e-3, rel=1e-5)
    assert -math.atan2(amps.imag, amps.real) == pytest.approx(1.04446, abs=1e-5)


def test_18_the_benchs_own_volts_range_has_that_accuracy():
    """±(1.0 % + 3 counts) at 240.0 V is ±2.7 V (arithmetic)."""
    scale = next(scale for scale in ranges("volts") if scale.full_scale == 600.0)
    assert (scale.band(240.0).low, scale.band(240.0).high) == pytest.approx((237.3, 242.7))


def test_19_class_a_interrupter():
    """Must trip at 6 mA, must not under 4 mA; 5.594 s at 6 mA (UL 943 as quoted, read at second hand)."""
    assert (INTERRUPTER_TRIPS, INTERRUPTER_HOLDS) == (6.0, 4.0)
    assert interrupter_seconds(6.0) == pytest.approx(5.594, abs=5e-4)


def test_20_leakage_of_a_heating_appliance():
    """2.625 mA at 3.5 kW (IEC 60335-1 clause 13.2 as quoted, read at second hand)."""
    assert leakage_limit(3.5) == pytest.approx(2.625)
