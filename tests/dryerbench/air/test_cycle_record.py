import numpy as np
import pytest

from dryerbench.air.cycle import Cycle
from dryerbench.air.ducts import Duct
from dryerbench.core.errors import OutOfRangeError

RECORD = Cycle().run()
TIMES = np.linspace(0.0, 60.0, 241)


def test_readings_start_cold_and_wet():
    for place in ("element", "limit", "thermostat", "drum"):
        assert RECORD.celsius(place, 0.0)[0] == pytest.approx(22.0)
    assert RECORD.celsius("clothes", 0.0)[0] == pytest.approx(20.0)
    assert RECORD.moisture(0.0)[0] == pytest.approx(0.6)


def test_a_reading_between_steps_is_that_of_finer_steps():
    fine = Cycle().run(tolerance=1e-2, longest_step=5.0)
    for place, error in (("exhaust", 0.1), ("limit", 0.1), ("clothes", 0.05)):
        assert RECORD.celsius(place, TIMES) == pytest.approx(fine.celsius(place, TIMES), abs=error)
    assert RECORD.moisture(TIMES) == pytest.approx(fine.moisture(TIMES), abs=1e-5)


def test_clamp_and_watts_follow_the_contacts():
    on = RECORD.heating(TIMES) > 0
    assert RECORD.clamp_amps(TIMES)[on] == pytest.approx(80 / 3)
    assert (RECORD.clamp_amps(TIMES)[~on] == 0.0).all()
    assert (RECORD.heater_watts(TIMES) > 0).tolist() == on.tolist()
    assert RECORD.heater_joules() == pytest.approx(sum(s.watts * s.seconds for s in RECORD.stretches if s.heating))


def test_state_of_a_switch_at_a_minute():
    move = RECORD.moves[0]
    assert (move.switch, move.closed) == ("thermostat", False)
    assert RECORD.closed("thermostat", move.time / 60.0 - 0.01)
    assert not RECORD.closed("thermostat", move.time / 60.0 + 0.01)
    assert RECORD.closed("high_limit", 60.0)


def test_energy_to_dry_is_part_of_the_whole():
    assert 0 < RECORD.kwh_to_dry < RECORD.kwh
    assert RECORD.minutes_to_dry == pytest.approx(RECORD.dry_time / 60.0)
    assert RECORD.dried_kg == pytest.approx(RECORD.running.load.dry_kg * (0.6 - RECORD.moisture(60.0)[0]))
    assert RECORD.pounds_per_kwh == pytest.approx(9.0 / RECORD.kwh)
    assert 0 < RECORD.balance.heater < RECORD.kwh * 3.6e6


def test_never_dry_says_none():
    record = Cycle(duct=Duct(blocked=1.0)).run()
    assert record.minutes_to_dry is None
    assert record.kwh_to_dry is None


def test_exhaust_is_humid_while_wet_and_dry_at_the_end():
    humidity = RECORD.exhaust_humidity(TIMES)
    assert 0.2 < humidity[32] < 1.0
    assert humidity[-1] < 0.1
    assert (humidity > 0).all()


def test_peak_and_air_places():
    assert RECORD.peak("limit") >= RECORD.celsius("limit", TIMES).max()
    on = RECORD.celsius("box outlet", 8.0)[0]
    assert on > RECORD.celsius("after load", 8.0)[0] > RECORD.celsius("clothes", 8.0)[0]


def test_errors():
    with pytest.raises(OutOfRangeError, match="No probe fits"):
        RECORD.celsius("attic", 1.0)
    for minutes in (-1.0, 61.0, float("nan")):
        with pytest.raises(OutOfRangeError, match="0 to 60 minutes"):
            RECORD.celsius("limit", minutes)
