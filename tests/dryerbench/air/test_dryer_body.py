import pytest

from dryerbench.air.dryer_body import DryerBody, Load, Room
from dryerbench.core.errors import OutOfRangeError


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        (lambda: DryerBody(box_capacity=0.0), "box capacity must be above 0"),
        (lambda: DryerBody(motor_heat_to_inlet=0.9), "add up to 1"),
        (lambda: Load(dry_kg=-1.0), "dry kg must be above 0"),
        (lambda: Load(moisture=0.02), "start wetter than dry"),
        (lambda: Load(moisture=4.0), "300 %"),
        (lambda: Load(celsius=120.0), "colder than boiling"),
        (lambda: Room(celsius=-5.0), "between 0 and 45"),
        (lambda: Room(relative_humidity=50.0), "between 0 and 1"),
        (lambda: Room(pressure=101.3), "60 to 110 kPa"),
        (lambda: Room(celsius=float("nan")), "between 0 and 45"),
    ],
)
def test_errors_are_one_clear_line(bad, words):
    with pytest.raises(OutOfRangeError, match=words) as caught:
        bad()
    assert "\n" not in str(caught.value)


def test_water_of_the_test_load():
    assert Load().water_kg == pytest.approx(0.575 * 8.45 * 0.45359237)
    assert 0.007 < Room().humidity_ratio < 0.009
