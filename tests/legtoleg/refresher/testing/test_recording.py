"""Recording: by the real engine, once, for whom it is; every doubt is one clear line and enters nothing."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat
import pytest

from dryerbench.core.errors import LegToLegError
from legtoleg.intake.inbox import ReceivedFile
from legtoleg.ledger.entry import Draft
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.history import history
from legtoleg.refresher.record.shop import Shop, ShopError
from legtoleg.refresher.testing.issuing import HandedOverError, Issued, issue
from legtoleg.refresher.testing.question_pool import pool
from legtoleg.refresher.testing.recording import NotRecordedError, Recorder
from legtoleg.sandbox.engine import Engine

pytestmark = pytest.mark.slow
Fill = Callable[..., bytes]


def piece(content: bytes, name: str = "back.ipynb", kit_id: str = "") -> ReceivedFile:
    return ReceivedFile(name, content, None, kit_id)


def good(shop: Shop, who: str = "ada-01") -> bool:
    return next(one for one in dues(shop, shop.today()).people if one.person.id == who).may_work


def wrong_letter(issued: Issued, name: str) -> str:
    """Return an answer to the choice ``name`` that is wrong for anybody: all its letters but the right one, in turn."""
    question = pool()[name].question
    from dryerbench.registry import sheet
    from legtoleg.keys.answer_key import references

    lesson = pool()[name].lesson
    card = sheet(lesson).card(issued.issue.name)
    (reference,) = (one for one in references(lesson) if one.question == name)
    letters = {letter for letter, option in question.lettered(card).items() if option.key not in reference.right(card)}
    return f'{name} = "{min(letters)}"'


def test_a_right_test_is_passed_and_entered(shop: Shop, engine: Engine, filled: Fill) -> None:
    assert not good(shop)
    issued = issue(shop, "ada-01")
    assert 12 <= len(issued.items) <= 15
    again = issue(shop, "ada-01")
    assert again.again
    assert again.issue == issued.issue
    assert again.notebook.read_bytes() == issued.notebook.read_bytes()
    done = Recorder(shop, engine).record(piece(filled(issued)))
    assert done.marked.passed
    assert done.marked.points == done.marked.of
    assert done.marked.remarks == []
    assert good(shop)
    assert done.entry.data["held"] == []
    assert set(done.entry.data["topics"]) == set(shop.topics)
    assert "passed" in done.page.read_text(encoding="utf-8")
    with pytest.raises(LegToLegError, match="was recorded before: entry 3"):
        Recorder(shop, engine).record(piece(filled(issued)))
    assert len(shop.entries()) == 3


def test_a_missed_safety_question_fails_then_a_retry_then_the_instructor(
    shop: Shop, engine: Engine, filled: Fill
) -> None:
    first = issue(shop, "ada-01")
    recorder = Recorder(shop, engine)
    done = recorder.record(piece(filled(first, {"make_dead": 'bench.do("cover_off")\nmake_dead = bench'})))
    assert not done.marked.passed
    assert done.marked.points >= 0.8 * done.marked.of
    assert done.marked.held == ["isolation"]
    assert done.next_attempt == 2
    assert "You can try once more" in done.page.read_text(encoding="utf-8")
    second = issue(shop, "ada-01")
    assert second.issue.attempt == 2
    assert second.issue.name != first.issue.name
    assert "dead_order" in [item.name for item in second.items], "more is asked of a topic that was missed"
    with pytest.raises(LegToLegError, match="recorded before"):
        recorder.record(piece(filled(first)))
    done = recorder.record(piece(filled(second, leave=tuple(item.name for item in second.items[:6]))))
    assert not done.marked.passed
    assert done.next_attempt == 3
    assert "Your instructor" in done.page.read_text(encoding="utf-8")
    with pytest.raises(HandedOverError, match=r"goes to the instructor\. Missed last: .*Make this dryer dead"):
        issue(shop, "ada-01")
    shop.enter(shop.draft("talked", "ada-01", shop.today(), by="Ida Demo", note=""))
    third = issue(shop, "ada-01")
    assert third.issue.attempt == 1
    assert recorder.record(piece(filled(third))).marked.passed
    assert good(shop)


def test_work_by_click_counts_though_nothing_of_it_is_in_a_cell(shop: Shop, engine: Engine, filled: Fill) -> None:
    """The page is run as the person ran it, so that its outputs hold the record, then handed in without those acts."""
    from legtoleg.sandbox.engine import Job

    issued = issue(shop, "ada-01")
    page = nbformat.reads(filled(issued).decode(), as_version=4)
    code = [cell for cell in page.cells if cell.cell_type == "code"]
    run = engine.run(Job(issued.issue.name, "refresher", tuple(cell.source for cell in code)))
    for number, cell in enumerate(code):
        cell.outputs = [nbformat.from_dict(one) for one in run.outputs.get(number, [])]
        if cell.id == "make_dead-answer":
            cell.source = "make_dead = bench"
    back = nbformat.writes(page).encode()
    assert Recorder(shop, engine).record(piece(back)).marked.passed


def test_whatever_is_done_to_locked_cells_does_nothing(shop: Shop, engine: Engine, filled: Fill) -> None:
    issued = issue(shop, "ada-01")
    page = nbformat.reads(filled(issued).decode(), as_version=4)
    for cell in page.cells:
        if cell.id == "opening":
            cell.source = "raise SystemExit"
    page.cells = [cell for cell in page.cells if cell.id != "make_dead-hand-in"]
    page.cells.insert(4, nbformat.v4.new_code_cell("print('mine')"))
    done = Recorder(shop, engine).record(piece(nbformat.writes(page).encode()))
    assert done.marked.passed
    assert done.marked.points == done.marked.of


class NoEngine:
    """An engine that must not be asked."""

    def run(self, job: Any) -> Any:
        raise AssertionError("nothing is to be run")

    def close(self) -> None:
        pass


@pytest.fixture
def recorder(shop: Shop) -> Recorder:
    return Recorder(shop, NoEngine())


def test_a_file_of_somebody_else(shop: Shop, recorder: Recorder, filled: Fill) -> None:
    ada, bo = issue(shop, "ada-01"), issue(shop, "bo-02")
    before = shop.entries()
    both = json.loads(filled(ada))
    record = {"apprentice": bo.issue.name}
    mime = "application/vnd.leg-to-leg.answer+json"
    both["cells"][5]["outputs"] = [{"output_type": "display_data", "data": {mime: record}, "metadata": {}}]
    with pytest.raises(NotRecordedError, match="holds answers of two tests"):
        recorder.record(piece(json.dumps(both).encode()))
    with pytest.raises(NotRecordedError, match="is the test of ada-01, and was handed in as that of bo-02"):
        recorder.record(piece(filled(ada), "refresher-bo-02.ipynb"))
    with pytest.raises(NotRecordedError, match="is the test of ada-01, and was handed in as that of bo-02"):
        Recorder(shop, NoEngine(), "bo-02").record(piece(filled(ada)))
    with pytest.raises(NotRecordedError, match="two tests"):
        recorder.record(piece(filled(ada), kit_id=bo.issue.name))
    with pytest.raises(ShopError, match="Nobody with the id 'zed-99'"):
        Recorder(shop, NoEngine(), "zed-99")
    assert shop.entries() == before


def test_the_file_that_was_given_out_uses_up_no_try(shop: Shop, recorder: Recorder) -> None:
    issued = issue(shop, "ada-01")
    before = shop.entries()
    for given in (issued.notebook, issued.parcel):
        (came,) = [one for one in recorder.pieces([given]) if one.name.endswith(".ipynb")]
        with pytest.raises(NotRecordedError, match="is the test of ada-01 as it was given out: nothing in it is"):
            recorder.record(came)
    assert shop.entries() == before
    assert issue(shop, "ada-01").again


def test_what_is_no_test_of_this_shop(shop: Shop, recorder: Recorder, filled: Fill) -> None:
    stranger = filled(issue(shop, "ada-01")).replace(b"ada-01.r", b"ada-01.rff")
    with pytest.raises(NotRecordedError, match="which this shop never gave out"):
        recorder.record(piece(stranger))
    lesson = json.dumps({"cells": [], "metadata": {"leg_to_leg": {"apprentice": "ada-01", "lesson": "01_made_dead"}}})
    with pytest.raises(NotRecordedError, match="is no refresher"):
        recorder.record(piece(lesson.encode()))
    with pytest.raises(NotRecordedError, match="cannot be read: it is no notebook"):
        recorder.record(piece(b"{"))
    with pytest.raises(NotRecordedError, match="there is no such file"):
        recorder.record(next(recorder.pieces([Path("nowhere.ipynb")])))


def test_a_corrected_outcome_opens_the_test_again(shop: Shop, engine: Engine, filled: Fill) -> None:
    issued = issue(shop, "ada-01")
    recorder = Recorder(shop, engine)
    done = recorder.record(piece(filled(issued)))
    about = {"entry": done.entry.number, "reason": "the wrong file", "by": "Ida Demo"}
    shop.enter(Draft("corrected", "ada-01", shop.today(), shop.clock(), about))
    assert not good(shop)
    assert issue(shop, "ada-01").again
    assert recorder.record(piece(filled(issued))).entry.data["again"] == 1
    assert good(shop)
    assert history(shop.entries(), "ada-01").issues[0].passed
