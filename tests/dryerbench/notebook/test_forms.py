"""Forms: each kind of answer as it is received, and what is asked when it cannot be."""

from __future__ import annotations

import json

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.course.job_card import JobCard
from dryerbench.course.lesson_spec import LessonSpec
from dryerbench.course.questions import (
    BenchQuestion,
    Choice,
    Choices,
    FaultQuestion,
    Option,
    Order,
    Question,
    Readings,
    Row,
)
from dryerbench.notebook.forms import LONGEST_TRAIL, measured, read_letters, receive
from dryerbench.registry import SHEETS, sheet

CARD = JobCard("demo-01", "a_lesson")
OPTIONS = tuple(Option(key, key) for key in ("one", "two", "three", "four"))
CHOICE = Choice("q", "Q", 1, options=OPTIONS)
CHOICES = Choices("q", "Q", 1, options=OPTIONS)
ORDER = Order("q", "Q", 1, options=OPTIONS)
TABLE = Readings("q", "Q", 1, rows=(Row("one", "Element 1", "Ω"), Row("case", "To the case", "Ω")))
WORK = BenchQuestion("q", "Q", 1)
FAULT = FaultQuestion("q", "Q", 1, options=OPTIONS)


def refused(question, value: object) -> UnreadableAnswerError:
    with pytest.raises(UnreadableAnswerError) as caught:
        receive(question, CARD, value)
    assert "\n" not in str(caught.value)
    return caught.value


AS_TYPED = [
    *("c a d b", "cadb", "C, A, D, B", "c > a > d > b", "c→a→d→b", " c.a.d.b ", "c) a) d) b)", "(c) (a) (d) (b)"),
    *("c + a + d + b", "c, a, d and b", "C then A then D then B", "c & a & d & b", "c/a/d/b", "c; a; d; b."),
]


@pytest.mark.parametrize("typed", AS_TYPED)
def test_letters_as_people_type_them(typed: str) -> None:
    assert read_letters(typed, "abcd") == "cadb"


@pytest.mark.parametrize("typed", ["", "  ", None, "e", "a a", "1", "answer", 7, ["a"], "a" * 300, True])
def test_what_is_no_letters(typed: object) -> None:
    with pytest.raises(UnreadableAnswerError):
        read_letters(typed, "abcd")


def test_one_letter_several_and_an_order() -> None:
    assert receive(CHOICE, CARD, "b").record["letters"] == "b"
    assert "several" in str(refused(CHOICE, "a b"))
    assert receive(CHOICES, CARD, "d, a").reads == "a, d"
    assert receive(ORDER, CARD, "d a c b").record["letters"] == "dacb"
    assert receive(ORDER, CARD, "d a").odd == ["2 of the 4 steps are there."]


def test_a_table_is_read_row_by_row() -> None:
    received = receive(TABLE, CARD, {"Element 1": "27.1 ohm", "To the case": "OL"})
    assert received.record["rows"]["one"]["magnitude"] == 27.1
    assert received.record["rows"]["case"]["kind"] == "over_limit"
    assert received.odd == []
    half = receive(TABLE, CARD, {"Element 1": "27,1", "To the case": ""})
    assert len(half.odd) == 2
    assert receive(TABLE, CARD, {"Element 1": "27 V"}).odd[0].startswith("Element 1: V measures voltage")


@pytest.mark.parametrize("paper", SHEETS.values(), ids=list(SHEETS))
def test_no_two_lines_of_a_table_read_the_same(paper: LessonSpec) -> None:
    for question in paper.questions:
        if isinstance(question, Readings):
            assert len({measured(row.label) for row in question.rows}) == len(question.rows)


def test_a_page_of_before_is_read_by_what_its_lines_read() -> None:
    table = sheet("04_trusting_the_meter").question("bench_table")
    card = sheet("04_trusting_the_meter").card("ada-01")
    of_before = ("The leads, tips joined", "Element 1: T1 to T0", "Element 2: T2 to T0", "Element 3: T3 to T0",
                 "High limit, cold: H7 to H8", "Elements to the case: T0 to the case")  # fmt: skip
    taken = receive(table, card, {label: f"{place}.0 ohm" for place, label in enumerate(of_before)})
    assert [row["magnitude"] for row in taken.record["rows"].values()] == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]


def test_a_table_that_is_none() -> None:
    assert refused(TABLE, {"Element 1": "", "To the case": ""}).reason == "blank"
    assert "no line" in str(refused(TABLE, {"Element 9": "27 ohm"}))
    assert refused(TABLE, [27]).reason == "not_an_answer"
    assert refused(TABLE, {1: "27 ohm"}).reason == "not_an_answer"


def test_work_is_the_acts_of_a_bench() -> None:
    bench = Bench()
    assert refused(WORK, bench).reason == "blank"
    bench.do("unplug")
    bench.do("prove_meter")
    record = receive(WORK, CARD, bench).record
    assert [act["act"] for act in record["acts"]] == ["unplug", "prove_meter"]
    assert json.loads(json.dumps(record, allow_nan=False)) == record
    assert refused(WORK, "bench").reason == "not_an_answer"


def test_a_trail_has_an_end() -> None:
    bench = Bench()
    for _ in range(LONGEST_TRAIL + 1):
        bench.do("prove_meter")
    assert str(LONGEST_TRAIL) in str(refused(WORK, bench))


def test_a_fault_is_a_letter_and_a_bench() -> None:
    bench = Bench()
    bench.do("unplug")
    record = receive(FAULT, CARD, ("b", bench)).record
    assert (record["letters"], len(record["acts"])) == ("b", 1)
    assert refused(FAULT, ("", bench)).reason == "blank"
    assert refused(FAULT, "b").reason == "not_an_answer"


def test_every_kind_says_how_and_has_an_empty_answer() -> None:
    for question in (Question("q", "Q", 1, unit="A"), CHOICE, CHOICES, ORDER, TABLE, WORK, FAULT):
        assert question.asked
        assert question.hint.startswith("#")
        compile(f"q = {question.empty}", "cell", "exec")
