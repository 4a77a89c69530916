import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dryerbench.air.ducts import CFM, Duct, code_check, elbow
from dryerbench.core.errors import OutOfRangeError, TableError

FLOWS = st.floats(5.0, 300.0)


@given(FLOWS)
@settings(deadline=None)
def test_losses_add_up_and_grow_with_the_flow(cfm):
    duct = Duct(20.0, ("mitred_90", "mitred_45"), blocked=0.4)
    losses = duct.losses(cfm * CFM)
    assert sum(losses.values()) == pytest.approx(duct.pressure(cfm * CFM))
    assert all(loss > 0 for loss in losses.values())
    assert duct.pressure(1.05 * cfm * CFM) > duct.pressure(cfm * CFM)


@given(FLOWS, st.floats(0.0, 0.9), st.floats(0.005, 0.09))
@settings(deadline=None)
def test_more_blocked_costs_more(cfm, blocked, more):
    assert Duct(blocked=blocked + more).pressure(cfm * CFM) > Duct(blocked=blocked).pressure(cfm * CFM)


@given(FLOWS, st.floats(0.0, 30.0), st.floats(0.1, 10.0))
@settings(deadline=None)
def test_lint_and_length_cost_more(cfm, lint, more):
    assert Duct(lint_mm=lint + more).pressure(cfm * CFM) > Duct(lint_mm=lint).pressure(cfm * CFM)
    assert Duct(lint + more).pressure(cfm * CFM) > Duct(lint).pressure(cfm * CFM)


def test_blockage_is_smooth_from_an_open_duct():
    assert Duct(blocked=1e-6).losses(150 * CFM)["blockage"] == pytest.approx(0.0, abs=0.1)


def test_a_quarter_of_the_hole_is_dear():
    """Three quarters shut: the throat's velocity head is 16 times the duct's, and about all of it is lost."""
    duct = Duct(0.0, (), hood_loss=0.0, blocked=0.75)
    head = 0.5 * 1.2 * (150 * CFM / (3.14159265 / 4 * 0.1016**2)) ** 2
    assert 16 * 0.9 < duct.losses(150 * CFM)["blockage"] / head < 16 * 1.2


def test_no_flow_no_loss_even_when_shut():
    assert Duct(blocked=1.0).pressure(0.0) == 0.0


def test_errors_are_one_clear_line():
    for bad, words in (
        (lambda: Duct(-1.0), "0 ft long or more"),
        (lambda: Duct(blocked=1.2), "from 0"),
        (lambda: Duct(lint_mm=60.0), "no hole left"),
        (lambda: Duct(hood_loss=-1.0), "0 or more"),
        (lambda: Duct().pressure(-0.1), "0 or more"),
        (lambda: Duct(blocked=1.0).pressure(0.1), "shut duct"),
    ):
        with pytest.raises(OutOfRangeError, match=words) as caught:
            bad()
        assert "\n" not in str(caught.value)
    with pytest.raises(TableError, match="no row"):
        Duct(10.0, ("bendy",))


def test_codes_differ_and_say_so():
    duct = Duct(15.0, ("mitred_90", "mitred_90"))
    newer, older = code_check(duct), code_check(duct, edition="2006")
    other = code_check(duct, "UMC 504", "2015")
    assert (newer.allowed_ft, older.allowed_ft, other.allowed_ft) == (25.0, 15.0, 14.0)
    assert newer.passes
    assert older.passes
    assert not other.passes
    assert "longer than" in str(other)
    assert "Local code" in str(newer)


def test_elbows_beyond_those_included_are_counted():
    assert code_check(Duct(5.0, ("mitred_90",) * 4), "UMC 504", "2015").allowed_ft == 10.0
    assert elbow("smooth_10in_90").code_deduction_ft < elbow("mitred_90").code_deduction_ft
