"""Marking a table of readings: row by row, inside the band, with the slip of each row."""

from __future__ import annotations

import pytest

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Readings, Row
from dryerbench.registry import SLIPS
from legtoleg.keys.reference import Expected, ReadingsReference
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.readings_marking import judge_readings

CARD = JobCard("demo-01", "a_lesson")
TABLE = Readings(
    "q", "Q", 3, rows=(Row("one", "Element 1", "Ω"), Row("two", "Element 2", "Ω"), Row("case", "To the case", "Ω"))
)
REFERENCE = ReadingsReference(
    "q",
    lambda _: {
        "one": Expected(26.8, 27.2, slips={"series_for_parallel": 81.0}),
        "two": Expected(26.9, 27.3),
        "case": Expected(over_limit=True),
    },
    over_limit_slip="open_stops_all",
    number_slip="off_means_dead",
)


def number(value: float, unit: str = "Ω") -> Found:
    return Found("quantity", value, unit, 3)


RIGHT = {"one": number(27.0), "two": number(27.1), "case": Found("over_limit")}


def judged(**changed: Found):
    return judge_readings(TABLE, REFERENCE, Found("readings", rows={**RIGHT, **changed}), CARD)


def test_all_right() -> None:
    assert (judged().points, judged().note) == (3, "right")
    assert judged(two=number(0.0271, "kΩ")).points == 3


def test_a_row_that_is_off_costs_its_share_and_says_what_counts() -> None:
    off = judged(two=number(30.0))
    assert (off.points, off.note) == (2, "wrong")
    assert "Element 2" in off.says
    assert "26.9" in off.key
    assert "26.9" not in off.says


def test_the_slips_of_rows() -> None:
    assert judged(one=number(81.0)).note == "series_for_parallel"
    assert judged(one=number(0.027)).note == "kilo"
    assert judged(one=Found("over_limit")).note == "open_stops_all"
    assert judged(case=number(150_000.0)).note == "off_means_dead"
    assert judged(one=number(27.0, "V")).note == "wrong"


def test_a_row_left_out_or_forged_is_no_reading() -> None:
    assert judged(one=Found("blank")).points == 2
    assert judged(one=Found("bad_record")).points == 2
    nothing = judge_readings(TABLE, REFERENCE, Found("readings"), CARD)
    assert nothing.points == 0


@pytest.mark.parametrize(
    ("value", "note"),
    [(81.19, "series_for_parallel"), (80.81, "series_for_parallel"), (81.21, "wrong"), (80.79, "wrong"),
     (27_000.0, "kilo"), (0.027, "kilo"), (27_300.0, "wrong"), (0.0264, "wrong"), (2700.0, "wrong"), (26.79, "wrong")],
)  # fmt: skip
def test_a_slip_reaches_as_far_as_the_band_of_its_row(value: float, note: str) -> None:
    assert judged(one=number(value)).note == note


def test_the_slip_of_most_rows_is_named_first() -> None:
    both = judged(one=Found("over_limit"), two=Found("over_limit"), case=number(150_000.0))
    assert both.note == "open_stops_all+off_means_dead"
    turned = judged(one=number(81.0), two=Found("over_limit"), case=number(3.0))
    assert turned.note == "series_for_parallel+open_stops_all+off_means_dead"


def test_every_row_that_is_off_says_why_and_what_counts() -> None:
    off = judged(one=Found("blank"), two=number(27.0, "V"), case=Found("unreadable"))
    assert off.says == "Element 1: No reading. Element 2: Another quantity. To the case: Off."
    for counts in ("From 26.8 to 27.2 Ω counts.", "From 26.9 to 27.3 Ω counts.", "OL counts."):
        assert counts in off.key
    assert SLIPS["off_means_dead"].says in judged(case=number(3.0)).says


def test_without_slips_of_its_own_a_table_says_wrong() -> None:
    plain = ReadingsReference("q", REFERENCE.rows)
    for name, found in (("one", Found("over_limit")), ("case", number(3.0))):
        judged_plain = judge_readings(TABLE, plain, Found("readings", rows={**RIGHT, name: found}), CARD)
        assert (judged_plain.note, judged_plain.points) == ("wrong", 2)


@pytest.mark.parametrize(("value", "note"), [(80.5, "series_for_parallel"), (81.5, "series_for_parallel"), (28.0, "")])
def test_the_edge_itself_still_counts(value: float, note: str) -> None:
    exact = ReadingsReference("q", lambda _: {"one": Expected(27.0, 28.0, slips={"series_for_parallel": 81.0})})
    table = Readings("q", "Q", 3, rows=TABLE.rows[:1])
    judged_exact = judge_readings(table, exact, Found("readings", rows={"one": number(value)}), CARD)
    assert judged_exact.note == (note or "right")
