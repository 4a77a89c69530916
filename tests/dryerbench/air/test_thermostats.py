import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.thermostats import HeatSwitch, usual_switch
from dryerbench.core.errors import OutOfRangeError, TableError
from dryerbench.core.temperatures import celsius

CYCLING = HeatSwitch("thermostat", 68.0, 54.0, tolerance=3.0, ohms_closed=0.02)
CUTOFF = HeatSwitch("cut-off", 177.0, None, tolerance=6.0)


def test_hysteresis_up_and_down():
    curve = CYCLING.operating_curve([20, 60, 67.9, 68, 60, 54.1, 54, 60, 70])
    assert [closed for _, closed in curve] == [True, True, True, False, False, False, True, True, False]


def test_a_cut_off_opens_once():
    assert [closed for _, closed in CUTOFF.operating_curve([20, 176, 177, 20, -40])] == [True, True] + [False] * 3
    assert CUTOFF.one_shot
    assert not CYCLING.one_shot


@given(st.floats(-20, 250), st.booleans())
@settings(deadline=None)
def test_between_its_marks_it_stays(temperature, was_closed):
    now = CYCLING.closed_after(temperature, was_closed)
    if CYCLING.closes < temperature < CYCLING.opens:
        assert now == was_closed
    else:
        assert now == (temperature <= CYCLING.closes)


@pytest.mark.parametrize(
    ("temperature", "warming", "state"),
    [
        (20, True, "closed"),
        (64.9, True, "closed"),
        (66, True, "either"),
        (71, True, "either"),
        (72, True, "open"),
        (60, False, "open"),
        (55, False, "either"),
        (50, False, "closed"),
    ],
)
def test_what_a_sound_part_must_read(temperature, warming, state):
    assert CYCLING.expected(temperature, warming) == state


def test_an_opened_cut_off_is_open_at_any_temperature():
    assert CUTOFF.expected(20.0, warming=False) == "open"
    assert CUTOFF.expected(20.0) == "closed"


@given(st.floats(-1, 1), st.floats(-20, 200))
@settings(deadline=None)
def test_every_part_of_the_batch_keeps_to_what_is_expected(where, temperature):
    expected = CYCLING.expected(temperature)
    if expected != "either":
        assert CYCLING.drawn(where).closed_after(temperature) == (expected == "closed")


def test_off_its_mark():
    worn = CYCLING.off_its_mark(10.0)
    assert (worn.opens, worn.closes) == (78.0, 64.0)
    assert CUTOFF.off_its_mark(-5.0).closes is None


def test_impossible_switches():
    with pytest.raises(OutOfRangeError, match="close again below"):
        HeatSwitch("thermostat", 60.0, 60.0)
    with pytest.raises(OutOfRangeError, match="tolerance"):
        HeatSwitch("thermostat", 60.0, 50.0, tolerance=-1.0)
    with pytest.raises(OutOfRangeError, match="-1 to 1"):
        CYCLING.drawn(2.0)


def test_usual_parts_come_from_the_table_in_order_of_heat():
    cycling, limit, cutoff = (usual_switch(part) for part in ("cycling_thermostat", "high_limit", "thermal_cutoff"))
    assert cycling.opens < limit.opens < cutoff.opens
    assert cycling.opens == pytest.approx(celsius(155.0))
    assert cutoff.one_shot
    with pytest.raises(TableError, match="no row"):
        usual_switch("fuse")
