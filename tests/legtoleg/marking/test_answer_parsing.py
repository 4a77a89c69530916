"""Found records: nothing that a notebook can print becomes more than an answer."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dryerbench.bench.trail import VERSION
from dryerbench.notebook.answer_record import FORM, MIME
from dryerbench.notebook.forms import LONGEST_TRAIL
from legtoleg.marking.answer_parsing import LARGEST_RECORD, Found, found_in_cell, read_record

GOOD: dict[str, Any] = {
    "form": FORM,
    "question": "q",
    "apprentice": "a",
    "kind": "quantity",
    "typed": "8.9 A",
    "magnitude": 8.9,
    "unit": "A",
    "figures": 2,
}


def shown(record: Any, kind: str = "display_data") -> dict[str, Any]:
    return {"output_type": kind, "data": {MIME: record, "text/plain": "x"}, "metadata": {}}


def test_a_good_record() -> None:
    assert found_in_cell([shown(GOOD)], "q") == Found("quantity", 8.9, "A", 2, "8.9 A")


@pytest.mark.parametrize(
    "change",
    [
        {"form": 99},
        {"form": "1"},
        {"question": "other"},
        {"kind": "right"},
        {"kind": None},
        {"magnitude": "8.9"},
        {"magnitude": "nan"},
        {"magnitude": math.nan},
        {"magnitude": math.inf},
        {"magnitude": -math.inf},
        {"magnitude": 1e300},
        {"magnitude": True},
        {"magnitude": None},
        {"magnitude": [8.9]},
        {"magnitude": {"__float__": 8.9}},
        {"unit": "florins"},
        {"unit": ["A"]},
        {"unit": None},
        {"figures": "3"},
        {"figures": True},
        {"figures": -1},
        {"figures": 10**9},
        {"points": 3, **{str(n): n for n in range(30)}},
        {"typed": "9" * 150_000},
    ],
)
def test_a_forged_record_is_no_answer(change: dict[str, Any]) -> None:
    assert read_record({**GOOD, **change}, "q") == Found("bad_record")


@pytest.mark.parametrize("record", [None, 7, "x", [], [GOOD], {}])
def test_what_is_no_record_at_all(record: Any) -> None:
    assert found_in_cell([shown(record)], "q").state == "bad_record"


@pytest.mark.parametrize("magnitude", [1e16, -1e16, 1e30])
def test_a_number_that_older_kits_took_is_unreadable_and_no_forgery(magnitude: float) -> None:
    assert read_record({**GOOD, "magnitude": magnitude}, "q").state == "unreadable"


def test_the_working_is_text_of_limited_length_or_nothing() -> None:
    assert read_record(GOOD, "q").working == ""
    assert read_record({**GOOD, "working": "240 V / 27 ohm"}, "q").working == "240 V / 27 ohm"
    assert len(read_record({**GOOD, "working": "9" * 5000}, "q").working) == 200
    assert "\x1b" not in read_record({**GOOD, "working": "\x1b[31m"}, "q").working
    for odd in (7, None, ["240 V"], {"a": 1}):
        assert read_record({**GOOD, "working": odd}, "q").working == ""


def test_the_reason_of_what_could_not_be_read_is_one_of_the_known() -> None:
    unread = {**GOOD, "kind": "unreadable", "reason": "sum_differs"}
    assert read_record(unread, "q").reason == "sum_differs"
    for odd in ("<b>", 7, None, ["sum_differs"]):
        assert read_record({**unread, "reason": odd}, "q").reason == ""


def test_points_in_a_record_count_for_nothing() -> None:
    assert read_record({**GOOD, "points": 1000, "note": "right"}, "q") == read_record(GOOD, "q")


def test_two_records_none_and_an_error() -> None:
    assert found_in_cell([shown(GOOD), shown(GOOD)], "q").state == "two_records"
    assert found_in_cell([], "q").state == "no_record"
    assert found_in_cell([{"output_type": "error", "ename": "NameError"}], "q").state == "python_error"


def test_noise_beside_a_record_does_no_harm() -> None:
    noise: list[dict[str, Any]] = [
        {"output_type": "stream", "name": "stderr", "text": "a warning"},
        {"output_type": "stream", "name": "stdout", "text": "3"},
        {"output_type": "execute_result", "data": {"text/plain": "1000"}},
        {"output_type": "error", "ename": "X"},
        {"output_type": "display_data", "data": None},
    ]
    assert found_in_cell([*noise, shown(GOOD), *noise], "q").state == "quantity"


def test_control_characters_do_not_get_through() -> None:
    assert "\x1b" not in read_record({**GOOD, "typed": "\x1b[31m8.9 A"}, "q").typed


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@given(st.fixed_dictionaries(dict.fromkeys(GOOD, JSON)))
def test_any_data_is_read_without_an_error(record: dict[str, Any]) -> None:
    found = found_in_cell([shown({**record, "form": FORM, "question": "q"})], "q")
    if found.answered:
        assert math.isfinite(found.magnitude)


@pytest.mark.parametrize(
    ("said", "course"),
    [("0.1.0", "0.1.0"), ("<b>", ""), ("9" * 41, ""), (3, ""), (None, ""), (["0.1.0"], ""), ({}, "")],
)
def test_the_version_of_the_course_is_read_as_anything_else_and_costs_nothing(said: Any, course: str) -> None:
    found = read_record({**GOOD, "course": said}, "q")
    assert (found.course, found.state, found.magnitude) == (course, "quantity", 8.9)


def test_a_record_from_before_the_version_was_kept_counts() -> None:
    assert "course" not in GOOD
    assert read_record(GOOD, "q") == Found("quantity", 8.9, "A", 2, "8.9 A")


def fault(letters: object, acts: object) -> Found:
    record = {"form": FORM, "question": "q", "kind": "fault", "letters": letters, "acts": acts}
    return read_record(record, "q")


def test_a_record_says_in_which_version_its_trail_was_written() -> None:
    """A record from before it was kept is version 1; what is no version is taken for the present one."""
    record = {"form": FORM, "question": "q", "kind": "work", "acts": [{"act": "unplug", "with": {}}]}
    assert read_record(record, "q").trail == 1
    for said, version in ((1, 1), (VERSION, VERSION), (VERSION + 1, VERSION), ("1", VERSION), (True, VERSION)):
        assert read_record({**record, "trail": said}, "q").trail == version
        letters = {**record, "kind": "fault", "letters": "a", "trail": said}
        assert read_record(letters, "q").trail == version


def test_a_fault_is_a_letter_with_its_acts() -> None:
    acts = [{"act": "unplug", "with": {}}]
    good = fault("b", acts)
    assert (good.state, good.letters, good.typed, good.acts) == ("fault", "b", "b", tuple(acts))
    assert fault("b", []).state == "fault"
    for letters, odd in (
        ("B", acts),
        ("bb", acts),
        ("", acts),
        (1, acts),
        ("b", None),
        ("b", [1]),
        ("b", [{"act": 1}]),
    ):
        assert fault(letters, odd).state == "bad_record"
    assert fault("b", [{"act": "unplug", "with": []}]).state == "bad_record"


def nested(levels: int) -> Any:
    return [nested(levels - 1)] if levels else []


@pytest.mark.parametrize(
    ("change", "good"),
    [
        ({"magnitude": 1e15}, True),
        ({"figures": 0}, True),
        ({"figures": 200}, True),
        ({"figures": 201}, False),
        ({"figures": -1}, False),
        ({"figures": None}, True),
        ({f"more {n}": n for n in range(20 - len(GOOD))}, True),
        ({f"more {n}": n for n in range(21 - len(GOOD))}, False),
        ({"more": nested(4)}, True),
        ({"more": nested(5)}, False),
        ({"more": "x" * (LARGEST_RECORD - 400)}, True),
        ({"more": "x" * LARGEST_RECORD}, False),
    ],
)
def test_a_record_up_to_the_very_limits_counts(change: dict[str, Any], good: bool) -> None:
    assert read_record({**GOOD, **change}, "q").state == ("quantity" if good else "bad_record")


@pytest.mark.parametrize(
    ("magnitude", "state", "reason"),
    [
        (-1.01e15, "unreadable", "not_finite"),
        (1e30, "unreadable", "not_finite"),
        (1.1e30, "bad_record", ""),
        (-1.1e30, "bad_record", ""),
    ],
)
def test_a_number_that_was_once_taken_says_so_and_a_larger_one_never_was(
    magnitude: float, state: str, reason: str
) -> None:
    found = read_record({**GOOD, "magnitude": magnitude}, "q")
    assert (found.state, found.reason) == (state, reason)


@pytest.mark.parametrize(("rows", "good"), [(60, True), (61, False)])
def test_a_table_up_to_its_limit_counts(rows: int, good: bool) -> None:
    record = {**GOOD, "kind": "readings", "rows": {str(n): GOOD for n in range(rows)}}
    found = read_record(record, "q")
    assert found.state == ("readings" if good else "bad_record")
    assert len(found.rows) == (rows if good else 0)


@pytest.mark.parametrize(("acts", "good"), [(LONGEST_TRAIL, True), (LONGEST_TRAIL + 1, False)])
def test_a_trail_up_to_its_limit_counts(acts: int, good: bool) -> None:
    found = read_record({**GOOD, "kind": "work", "acts": [{"act": "x"}] * acts}, "q")
    assert (found.state, len(found.acts)) == (("work", acts) if good else ("bad_record", 0))
    assert found.typed == (f"{acts} acts" if good else "")


@pytest.mark.parametrize("odd", [7, None, "OL", [1], []])
def test_one_odd_row_spoils_a_table(odd: object) -> None:
    record = {**GOOD, "kind": "readings", "rows": {"a": GOOD, "b": odd}}
    assert read_record(record, "q").state == "bad_record"


@pytest.mark.parametrize("kind", ["letters", "work", "fault", "readings", "", ["quantity"], None, 3])
def test_a_row_of_a_kind_that_is_no_reading_is_bad_by_itself(kind: object) -> None:
    record = {**GOOD, "kind": "readings", "rows": {"a": GOOD, "b": {**GOOD, "kind": kind}}}
    found = read_record(record, "q")
    assert (found.state, found.rows["a"].state, found.rows["b"].state) == ("readings", "quantity", "bad_record")
