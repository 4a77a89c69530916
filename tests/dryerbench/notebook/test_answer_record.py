"""Records: plain data, of one form."""

from __future__ import annotations

import json
from importlib.metadata import version

from dryerbench.answers.parser import read
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.notebook.answer_record import FORM, answer_record, unread_record


def test_a_record_survives_json_as_it_is() -> None:
    record = answer_record("q", "demo-01", read("8.90 A"))
    assert json.loads(json.dumps(record, allow_nan=False)) == record
    assert (record["form"], record["magnitude"], record["unit"], record["figures"]) == (FORM, 8.9, "A", 3)


def test_a_sum_keeps_its_working_and_one_number_has_none() -> None:
    record = answer_record("q", "demo-01", read("240 V / 27 ohm = 8.9 A"))
    assert (record["magnitude"], record["figures"], record["working"]) == (8.9, 2, "240 V / 27 ohm")
    assert json.loads(json.dumps(record, allow_nan=False)) == record
    assert "working" not in answer_record("q", "demo-01", read("8.9 A"))


def test_over_limit_has_no_number() -> None:
    record = answer_record("q", "demo-01", read("OL"))
    assert (record["kind"], record["magnitude"]) == ("over_limit", None)
    json.dumps(record, allow_nan=False)


def test_what_was_not_read_keeps_its_text_short_and_its_reason() -> None:
    error = UnreadableAnswerError("Is it?", "unclear_number", None)
    record = unread_record("q", "demo-01", "9" * 500, error)
    assert (record["kind"], record["reason"], len(record["typed"])) == ("unreadable", "unclear_number", 200)
    assert unread_record("q", "demo-01", "", UnreadableAnswerError("?", "blank", None))["kind"] == "blank"


def test_every_record_says_the_course_that_wrote_it() -> None:
    error = UnreadableAnswerError("?", "blank", None)
    for record in (answer_record("q", "demo-01", read("8.9 A")), unread_record("q", "demo-01", "", error)):
        assert record["course"] == version("leg-to-leg")
