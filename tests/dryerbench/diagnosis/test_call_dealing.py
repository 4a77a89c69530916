"""The calls that are dealt are calls that the physics makes: what is said to have blown a cut-off blows it."""

from __future__ import annotations

import pytest

from dryerbench.bench.faults import read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.call_dealing import HANDED_OVER, KINDS, deal_faults
from dryerbench.diagnosis.complaints import ComplaintError, behind, heard_of, near
from dryerbench.diagnosis.service_calls import draw_machine

CAUSES = {deal_faults("cause", Stream(f"test/cause/{n}"))[0] for n in range(80)}


@pytest.mark.parametrize("faults", sorted(CAUSES), ids=" ".join)
def test_the_causes_make_what_is_found(faults: tuple[str, ...]) -> None:
    """On machines at both ends of what is dealt, not on the practice machine alone."""
    before = tuple(read_fault(fault) for fault in faults if fault != "cut-off-blown")
    for ohms in (26.0, 28.0):
        done = over_a_load(draw_machine("a", Stream(f"test/{ohms}"), ohms), before)
        assert done.cutoff_blown == ("cut-off-blown" in faults)
        assert done.cutoff_blown or done.limit > 5


def test_causes_are_of_several_kinds() -> None:
    kinds = {tuple(sorted(read_fault(fault).name for fault in faults)) for faults in CAUSES}
    grounded = [kind for kind in kinds if any(name.endswith("-grounded") for name in kind)]
    assert len({kind for kind in kinds if kind not in grounded}) == 4
    assert grounded
    assert all("high-limit-stuck" in kind for kind in grounded)


def test_every_kind_hears_what_it_deals() -> None:
    for kind in KINDS:
        for number in range(40):
            faults, key = deal_faults(kind, Stream(f"test/{kind}/{number}"))
            names = {read_fault(fault).name for fault in faults}
            assert not names or names & set(behind(key))
            assert (kind == "hand over") == bool(names & set(HANDED_OVER))
    with pytest.raises(ComplaintError, match="missing-bond"):
        heard_of("missing-bond")
    assert not set(near("dead")) & set(behind("dead"))
