"""What no reading tells apart is listed, and what the trade tells apart is not on the list."""

from __future__ import annotations

import itertools

from dryerbench.bench.faults import read_fault
from dryerbench.bench.machine import Machine
from dryerbench.diagnosis.ambiguity_groups import alike, same_to_the_meter


def test_what_no_reading_tells_apart_is_listed() -> None:
    listed = {(pair.one, pair.other) for pair in alike()}
    assert ("cycling-off-mark", "sound") in listed
    assert ("element-1-grounded", "element-2-grounded") in listed
    assert all(" and " in str(pair) for pair in alike())
    usual = [read_fault(name) for name in ("cut-off-blown", "high-limit-open", "element-1-open", "lost-leg-1")]
    for one, other in itertools.combinations(usual, 2):
        assert tuple(sorted((one.name, other.name))) not in listed
        assert not same_to_the_meter(Machine(), (one,), (other,))
