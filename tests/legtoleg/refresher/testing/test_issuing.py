"""Issuing: what was missed in the lessons and last time, the open test again, and a test of another course."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import nbformat
import pytest

from legtoleg.marking.outcomes import MIME, Outcome
from legtoleg.refresher.record.history import history
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.testing.issuing import OtherCourseError, issue, items_of, missed_by, missed_words
from legtoleg.refresher.testing.question_pool import pool


def marked(folder: Path, who: str, lesson: str, outcomes: list[Outcome]) -> None:
    """Write a marked notebook where a cohort keeps it."""
    (folder / "release" / lesson).mkdir(parents=True, exist_ok=True)
    (folder / "nbgrader_config.py").touch()
    nbformat.write(nbformat.v4.new_notebook(), folder / "release" / lesson / f"{lesson}.ipynb")
    page = nbformat.v4.new_notebook()
    for outcome in outcomes:
        output = nbformat.v4.new_output("execute_result", {MIME: outcome.as_data(), "text/plain": "0"})
        marks = {"nbgrader": {"grade": True, "grade_id": outcome.question}}
        page.cells.append(nbformat.v4.new_code_cell("", outputs=[output], metadata=marks))
    path = folder / "autograded" / who / lesson / f"{lesson}.ipynb"
    path.parent.mkdir(parents=True)
    nbformat.write(page, path)


def test_what_was_missed_in_the_lessons_counts(shop: Shop, tmp_path: Path, clock: Any) -> None:
    outcomes = [
        Outcome("lint_traps", 0.0, 3.0, "wrong", "", safety="held"),
        Outcome("vent_flow", 1.0, 3.0, "rounded", ""),
        Outcome("cleaning", 3.0, 3.0, "right", "", safety="clear"),
    ]
    marked(tmp_path / "cohort", "ada-01", "08_air_and_drying", outcomes)
    shop = Shop(shop.folder, replace(shop.settings, cohort=str(tmp_path / "cohort")), clock)
    assert missed_by(shop, history(shop.entries(), "ada-01")) == {"lint_traps": 2.0, "vent_flow": 1.0}
    assert missed_by(shop, history(shop.entries(), "bo-02")) == {}
    items = issue(shop, "ada-01").items
    assert "lint_traps" in {item.name for item in items}
    assert sum(item.topic == "vent-and-lint" for item in items) >= 2


def test_what_was_missed_last_time_counts_more(shop: Shop) -> None:
    first = issue(shop, "ada-01")
    missed = {"question": "weekend", "points": 0, "of": 2, "safety": "held", "note": "wrong"}
    right = {"question": "hand_over", "points": 3, "of": 3, "safety": "clear", "note": "right"}
    data = {"issue": first.issue.name, "passed": False, "held": ["safety-switches"], "topics": [], "points": 1, "of": 5}
    shop.enter(shop.draft("recorded", "ada-01", shop.today(), questions=[missed, right], **data))
    past = history(shop.entries(), "ada-01")
    assert missed_by(shop, past) == {"weekend": 4.0}
    assert missed_words(past.last_missed) == pool()["weekend"].question.title
    second = issue(shop, "ada-01")
    assert second.issue.attempt == 2
    assert "weekend" in {item.name for item in second.items}


def test_a_test_of_another_course_is_said(shop: Shop) -> None:
    entry = issue(shop, "ada-01").issue.entry
    odd = replace(entry, data={**entry.data, "items": [["isolation", "01_made_dead", "gone_question"]]})
    with pytest.raises(OtherCourseError, match="asks gone_question, which this version of the course does not have"):
        items_of(odd)
