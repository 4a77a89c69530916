import pytest

from dryerbench.core.errors import OutOfRangeError
from dryerbench.electricity.contacts import millivolts, ohms_from_drop, watts


def test_a_worn_contact_at_heater_current():
    amps = 80 / 3  # three 27 Ω elements on 240 V
    assert millivolts(0.5, amps) == pytest.approx(13_333.3, abs=0.1)
    assert watts(0.5, amps) == pytest.approx(355.6, abs=0.1)
    assert ohms_from_drop(millivolts(0.02, amps), amps) == pytest.approx(0.02)


@pytest.mark.parametrize(("ohms", "amps"), [(-1.0, 1.0), (1.0, -1.0), (float("nan"), 1.0)])
def test_impossible_values(ohms, amps):
    for formula in (millivolts, watts):
        with pytest.raises(OutOfRangeError, match="0"):
            formula(ohms, amps)


def test_no_current_no_drop():
    with pytest.raises(OutOfRangeError, match="heater must be on"):
        ohms_from_drop(10.0, 0.0)
