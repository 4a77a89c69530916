"""The feedback page: what the apprentice reads, with bench work in plain words, and nothing that runs."""

from __future__ import annotations

import html

from dryerbench.registry import sheet
from legtoleg.cohort.feedback_page import page
from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.outcomes import Outcome

LESSON = "05_path_to_case"
PAPER = sheet(LESSON)


def outcomes(**changed: Outcome) -> list[Outcome]:
    row = {
        q.name: Outcome(q.name, q.points, q.points, "right", "Right.", "a", "clear" * q.safety) for q in PAPER.questions
    }
    return list({**row, **changed}.values())


def test_bench_work_is_said_in_plain_words() -> None:
    thin = BenchWork(12.0, 19.9, "thin", ("coil 1 grounded", "leakage from the heater to the cabinet"))
    text = page(
        LESSON,
        "demo-01",
        "Demo One",
        outcomes(fault_to_case=Outcome("fault_to_case", 2.0, 4.0, "n", "M", "", "held", thin)),
    )
    said = html.unescape(text)
    assert "On the bench: 12 minutes. Our suggested way takes longer, about 20 minutes." in said
    assert "Your readings leave 2 faults possible: keep reading until one is left." in said
    assert "leakage from the heater" not in said
    assert "On the bench" not in page(LESSON, "demo-01", "Demo One", outcomes())


def test_three_ways_to_stand() -> None:
    held = Outcome("fault_to_case", 0.0, 4.0, "wrong", "M", "b", "held")
    blank = [Outcome(q.name, 0.0, q.points, "blank", "Not answered.") for q in PAPER.questions]
    assert "Signed off.</b>" in page(LESSON, "demo-01", "Demo One", outcomes())
    assert "Held for safety.</b>" in page(LESSON, "demo-01", "Demo One", outcomes(fault_to_case=held))
    assert "Not yet.</b>" in page(LESSON, "demo-01", "Demo One", blank)


def test_whatever_was_typed_is_only_text() -> None:
    odd = Outcome(
        "fault_to_case", 0.0, 4.0, "n", "<i>M</i>", "<script>x</script>", work=BenchWork(1.0, None, "thin", ("<b>",))
    )
    text = page(LESSON, "demo-01", "<u>One</u>", outcomes(fault_to_case=odd), ("was <s>odd</s>",))
    assert not [mark for mark in ("<script", "<i>M", "<u>", "<s>") if mark in text]
    signed = [Outcome(o.question, o.max_points, o.max_points, "n", "M", "", "clear" * bool(o.safety), o.work)
              for o in outcomes(fault_to_case=odd)]  # fmt: skip
    assert "still fit: &lt;b&gt;." in page(LESSON, "demo-01", "One", signed)


def test_a_bench_that_was_missed_leads_to_the_bench_to_practice_on() -> None:
    lost = Outcome("fault_to_case", 2.0, 4.0, "thin_case_evidence", "M", "", "clear")
    said = html.unescape(page(LESSON, "demo-01", "Demo One", outcomes(fault_to_case=lost)))
    assert said.count("Practice on the bench: lesson 05, “Practice on a bench”.") == 1
    assert "Practice on the bench" not in html.unescape(page(LESSON, "demo-01", "Demo One", outcomes()))
