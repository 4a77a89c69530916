"""How a supervised test counts to the three calls: what the report says by each rule, and the last test alone."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from dryerbench.topics.call_to_close.sheet import LESSON
from legtoleg.marking.judgements import UNSAFE
from legtoleg.marking.outcomes import Outcome
from legtoleg.report.call_closing import calls
from legtoleg.report.supervised_calls import (
    CallsTest,
    Counts,
    CountsError,
    counts_in,
    read_results,
    set_counts,
    write_results,
)
from legtoleg.report.three_parts import Part, parts

DAY = 86_400.0


def outcomes(*, share: float = 1.0, unsafe: bool = False, call: str = "call 2") -> tuple[Outcome, ...]:
    """Return the work of three calls, all of it right but for the one ``call``."""
    row = [Outcome(name, 6, 6, "right", "", safety="clear") for _, names in calls().values() for name in names]
    names = calls()[call][1]
    note, safety = (UNSAFE, "held") if unsafe else ("right", "clear")
    changed = {one: replace(one, points=6 * share, safety=safety, note=note) for one in row if one.question in names}
    return tuple(changed.get(one, one) for one in row)


def taken(**what: object) -> CallsTest:
    return CallsTest("calls-1", date(2026, 11, 27), DAY, outcomes(**what))  # type: ignore[arg-type]


def said(marks: tuple[Outcome, ...] | None, test: CallsTest | None, counts: Counts) -> Part:
    return parts(10, 10, {LESSON: marks} if marks else {}, "", test, counts).calls


WHOLE, PAGE = outcomes(), outcomes(share=0.5)


@pytest.mark.parametrize(
    ("marks", "test", "counts", "whole", "words"),
    [
        (None, taken(), Counts.TOO, True, "3 calls closed in the supervised test of 2026-11-27"),
        (None, taken(), Counts.ALONE, True, "3 calls closed in the supervised test of 2026-11-27"),
        (None, taken(), Counts.NOT, False, "call 1, call 2, call 3 not closed"),
        (WHOLE, None, Counts.TOO, True, "3 calls closed"),
        (WHOLE, None, Counts.ALONE, False, "no supervised test of the three calls yet"),
        (WHOLE, None, Counts.NOT, True, "3 calls closed"),
        (WHOLE, taken(share=0.5), Counts.TOO, True, "3 calls closed"),
        (WHOLE, taken(share=0.5), Counts.ALONE, False, "in the supervised test of 2026-11-27 call 2 not closed"),
        (WHOLE, taken(unsafe=True), Counts.TOO, False,
         "in the supervised test of 2026-11-27 something unsafe was done"),
        (WHOLE, taken(unsafe=True), Counts.NOT, True, "3 calls closed"),
        (PAGE, taken(share=0.79, call="call 3"), Counts.TOO, False, "call 2 not closed"),
        (PAGE, taken(share=0.8, call="call 3"), Counts.TOO, True,
         "3 calls closed in the supervised test of 2026-11-27"),
    ],
)  # fmt: skip
def test_the_shop_decides_what_closes_the_calls(
    marks: tuple[Outcome, ...] | None, test: CallsTest | None, counts: Counts, *, whole: bool, words: str
) -> None:
    part = said(marks, test, counts)
    assert (part.whole, part.words, part.of) == (whole, words, 3)


def test_the_last_test_of_each_person_is_read_back(tmp_path: Path) -> None:
    assert read_results(tmp_path).last == {}
    assert read_results(tmp_path).words == ""
    write_results(tmp_path, "calls-b", 2 * DAY, {"ada-01": WHOLE, "bo-02": PAGE})
    write_results(tmp_path, "calls-a", 3 * DAY, {"bo-02": WHOLE})
    write_results(tmp_path, "calls-c", 1 * DAY, {"ada-01": PAGE})
    found = read_results(tmp_path)
    assert {who: (one.test, one.passed) for who, one in found.last.items()} == {
        "ada-01": ("calls-b", True),
        "bo-02": ("calls-a", True),
    }
    assert found.last["ada-01"].outcomes == WHOLE
    assert found.words.startswith("A passed supervised test closes the calls as well")


def test_what_cannot_be_read_counts_for_nobody_and_is_said(tmp_path: Path) -> None:
    good = write_results(tmp_path, "calls-a", DAY, {"ada-01": WHOLE})
    for content in (b"\xff", b"{", b"[]", b'{"test": "x"}', b'{"test": "x", "day": "x", "at": 1, "takers": {}}',
                    json.dumps(json.loads(good.read_text())["takers"]["ada-01"]).encode()):  # fmt: skip
        good.with_name("calls-z.json").write_bytes(content)
        found = read_results(tmp_path)
        assert list(found.last) == ["ada-01"], content
        assert len(found.troubles) == 1
        assert "supervised mark COHORT calls-z" in found.troubles[0]


def test_the_rule_is_kept_and_a_broken_one_counts_nothing(tmp_path: Path) -> None:
    assert counts_in(tmp_path) is Counts.TOO
    for one in Counts:
        set_counts(tmp_path, one)
        assert counts_in(tmp_path) is one
    assert read_results(tmp_path).words == "Supervised tests do not count here."
    next(tmp_path.rglob("counts.json")).write_text('{"counts": "perhaps"}')
    with pytest.raises(CountsError, match="cannot be read"):
        counts_in(tmp_path)
    found = read_results(tmp_path)
    assert found.counts is Counts.NOT
    assert "until it is set again" in found.troubles[0]
