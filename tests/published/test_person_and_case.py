"""Checks 8 to 10: what a person and a case get. Source: OpenStax College Physics 2e, electrical safety (read)."""

import pytest

from dryerbench.core.tables import table
from dryerbench.electricity.ohms_law import current
from dryerbench.electricity.shock import body_milliamps, case_volts, shock_effect


def test_08_a_case_with_a_fault():
    """A person of 3.00 kΩ takes 5.00 mA at 15.0 V; through 0.200 Ω of ground wire that is 75.0 A (read)."""
    fault = current(15.0, 0.200)
    assert fault == pytest.approx(75.0)
    assert case_volts(fault, 0.200) == pytest.approx(15.0)
    assert body_milliamps(case_volts(75.0, 0.200), 3000.0) == pytest.approx(5.00)
    assert fault > 20.0, "it trips a 20 A breaker"


@pytest.mark.parametrize(("ohms", "milliamps"), [(300e3, 0.400), (4.5e3, 26.7), (10e3, 12.0)])
def test_09_body_current_at_120_volts(ohms, milliamps):
    """Dry, wet, and a third case (read)."""
    assert body_milliamps(120.0, ohms) == pytest.approx(milliamps, rel=0.002)


def test_10_the_table_of_effects_has_its_thresholds():
    """The thresholds in mA of the source's table (read)."""
    assert table("shock-effects").column("milliamps") == [1.0, 5.0, 10.0, 50.0, 100.0, 300.0]


@pytest.mark.parametrize(
    ("milliamps", "word"),
    [
        (0.5, "not felt"),
        (1.0, "felt"),
        (5.0, "harmless"),
        (10.0, "let go"),
        (20.0, "let go"),
        (50.0, "pain"),
        (100.0, "fibrillation"),
        (299.0, "fibrillation"),
        (300.0, "burns"),
    ],
)
def test_10_effects_of_current(milliamps, word):
    """1 felt; 5 the most that is harmless; 10-20 cannot let go; 50 pain; 100-300 fibrillation; 300 burns (read)."""
    assert word in shock_effect(milliamps)
