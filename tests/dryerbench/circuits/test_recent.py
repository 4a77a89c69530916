"""What was asked for last stays; what was not asked for the longest goes."""

from __future__ import annotations

from dryerbench.circuits.recent import Recent


def test_what_was_asked_for_last_stays() -> None:
    kept: Recent[str, int] = Recent(2)
    kept.put("a", 1)
    kept.put("b", 2)
    assert kept.get("a") == 1
    kept.put("c", 3)
    assert len(kept) == 2
    assert kept.get("b") is None
    assert (kept.get("a"), kept.get("c")) == (1, 3)


def test_the_same_key_is_kept_once_with_what_came_last() -> None:
    kept: Recent[str, int] = Recent(2)
    kept.put("a", 1)
    kept.put("a", 2)
    assert len(kept) == 1
    assert kept.get("a") == 2
