"""The calls that are dealt are calls that the physics makes: what is said to have blown a cut-off blows it."""

from __future__ import annotations

import pytest

from dryerbench.bench.cycle_faults import faulty_cycle
from dryerbench.bench.faults import read_fault
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.call_dealing import HANDED_OVER, KINDS, deal_faults
from dryerbench.diagnosis.complaints import ComplaintError, behind, heard_of, near
from dryerbench.diagnosis.service_calls import draw_machine

CAUSES = {deal_faults("cause", Stream(f"test/cause/{n}"))[0] for n in range(80)}


@pytest.mark.parametrize("faults", sorted(CAUSES), ids=" ".join)
def test_the_causes_make_what_is_found(faults: tuple[str, ...]) -> None:
    before = [read_fault(fault) for fault in faults if fault != "cut-off-blown"]
    for ohms in (26.0, 28.0):
        record = faulty_cycle(draw_machine("a", Stream(f"test/{ohms}"), ohms), before, minutes=30).run()
        moved = [move.switch for move in record.moves if not move.closed]
        assert ("cutoff" in moved) == ("cut-off-blown" in faults)
        if "cut-off-blown" not in faults:
            assert moved.count("high_limit") > 5


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
