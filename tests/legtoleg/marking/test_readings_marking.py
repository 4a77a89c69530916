"""Marking a table of readings: row by row, inside the band, with the slip of each row."""

from __future__ import annotations

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import Readings, Row
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
