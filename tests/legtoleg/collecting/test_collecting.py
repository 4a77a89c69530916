"""Taking in: whose, which lesson, which one counts; nothing that came is lost or overwritten."""

from __future__ import annotations

import copy
import json
import os
import shutil
import zipfile
from pathlib import Path
from typing import Any

import nbformat
import pytest

from dryerbench.core.errors import KitError
from dryerbench.notebook.answer_record import MIME
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import RECEIVED, Cohort
from legtoleg.collecting.collecting import Collector, Taken
from legtoleg.core.paths import START
from legtoleg.intake.submissions import digest

pytestmark = pytest.mark.slow
LESSON = "03_heater_power"


def answered(text: str, stamp: str = "", kit: Path | None = None) -> dict[str, Any]:
    """Return a notebook of the lesson with one answer, as JupyterLab would save it."""
    assert kit is not None
    with zipfile.ZipFile(kit) as archive:
        notebook: dict[str, Any] = json.loads(
            archive.read(f"leg-to-leg-ada-01-Ada-Demo/lessons/{LESSON}/{LESSON}.ipynb")
        )
    cell = next(cell for cell in notebook["cells"] if cell["id"] == "element_current-answer")
    cell["source"] = f'element_current = "{text}"'
    if stamp:
        notebook["metadata"]["leg_to_leg"]["apprentice"] = stamp
    else:
        del notebook["metadata"]["leg_to_leg"]
    return notebook


class Inbox:
    """A folder that things are dropped into, and the collector that takes them in."""

    def __init__(self, cohort: Cohort, folder: Path) -> None:
        self.cohort, self.folder = cohort, folder
        folder.mkdir()

    def drop(self, name: str, notebook: dict[str, Any] | bytes, time: int = 0) -> Path:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(notebook if isinstance(notebook, bytes) else json.dumps(notebook).encode())
        if time:
            os.utime(path, (time, time))
        return path

    def take(self, *paths: Path, said: str = "") -> list[Taken]:
        return list(Collector(self.cohort, said).collect(paths or (self.folder,)))

    def notebook(self, text: str, stamp: str = "") -> dict[str, Any]:
        return answered(text, stamp, self.cohort.folder / "kits" / "leg-to-leg-ada-01-Ada-Demo.zip")

    def stands(self, who: str) -> str:
        notebook = nbformat.read(self.cohort.submitted(who, LESSON), as_version=4)
        return str(next(cell.source for cell in notebook.cells if cell.id == "element_current-answer"))


@pytest.fixture
def inbox(fresh: Cohort, tmp_path: Path) -> Inbox:
    return Inbox(fresh, tmp_path / "inbox")


def test_the_kits_mark_wins_over_no_name(inbox: Inbox) -> None:
    (taken,) = inbox.take(inbox.drop("Copy of homework (3).ipynb", inbox.notebook("1 A", "bo-02")))
    assert (taken.state, taken.apprentice, taken.lesson) == ("counts", "bo-02", LESSON)
    assert inbox.stands("bo-02") == 'element_current = "1 A"'
    nbformat.validate(nbformat.read(inbox.cohort.submitted("bo-02", LESSON), as_version=4))


@pytest.mark.parametrize(
    "name", ["bo-02.ipynb", "Demo, Bo - lesson.ipynb", "Bo Demo/03.ipynb", "bo_demo_late.ipynb", "x_bo-02_y.ipynb"]
)
def test_without_a_mark_the_name_says_it(inbox: Inbox, name: str) -> None:
    (taken,) = inbox.take(inbox.drop(name, inbox.notebook("1 A")).parent)
    assert (taken.state, taken.apprentice) == ("counts", "bo-02")


def test_a_conflict_is_asked_about_and_can_be_settled(inbox: Inbox) -> None:
    path = inbox.drop("bo-02.ipynb", inbox.notebook("1 A", "ada-01"))
    (taken,) = inbox.take(path)
    assert taken.state == "asked"
    assert "label says ada-01, its name says bo-02" in taken.words
    assert "--as" in taken.words
    assert not inbox.cohort.submitted("ada-01", LESSON).exists()
    kept = next((inbox.cohort.folder / "received" / "unclear").iterdir())
    assert kept.read_bytes() == path.read_bytes()
    (settled,) = inbox.take(kept, said="bo-02")
    assert (settled.state, settled.apprentice) == ("counts", "bo-02")
    with pytest.raises(KitError):
        inbox.take(kept, said="../x")


def test_nobody_a_stranger_and_two_kits(inbox: Inbox) -> None:
    (nobody,) = inbox.take(inbox.drop("untitled.ipynb", inbox.notebook("1 A")))
    assert "nothing in it or in its name" in nobody.words
    (stranger,) = inbox.take(inbox.drop("s.ipynb", inbox.notebook("1 A", "zed-99")))
    assert "not on the roster" in stranger.words
    both = inbox.notebook("1 A", "ada-01")
    record = {"application/vnd.leg-to-leg.answer+json": {"apprentice": "bo-02"}}
    both["cells"][-1] = {**copy.deepcopy(both["cells"][2]), "cell_type": "code", "outputs": [{"data": record}]}
    (two,) = inbox.take(inbox.drop("t.ipynb", both))
    assert "ada-01 and bo-02" in two.words


def test_the_last_counts_and_all_are_kept(inbox: Inbox) -> None:
    first = inbox.drop("a/ada-01.ipynb", inbox.notebook("1 A"), 1_700_000_000)
    last = inbox.drop("b/ada-01.ipynb", inbox.notebook("3 A"), 1_700_000_200)
    middle = inbox.drop("c/ada-01.ipynb", inbox.notebook("2 A"), 1_700_000_100)
    states = [taken.state for taken in inbox.take(first, last, middle)]
    assert states == ["counts", "counts", "kept"]
    assert inbox.stands("ada-01") == 'element_current = "3 A"'
    kept = {path.read_bytes() for path in (inbox.cohort.folder / "received" / "ada-01").iterdir()}
    assert kept == {path.read_bytes() for path in (first, last, middle)}
    assert [taken.state for taken in inbox.take(first, last, middle)] == ["kept", "known", "kept"]
    assert inbox.stands("ada-01") == 'element_current = "3 A"'


@pytest.mark.parametrize("last", ["9.9 A", "7.7 A"])
def test_what_was_received_brings_lost_hand_ins_back(inbox: Inbox, last: str) -> None:
    """The last one counts again, in whichever order the kept files are read."""
    inbox.drop("a/one.ipynb", inbox.notebook("8.9 A", "ada-01"), 1_700_000_000)
    inbox.drop("b/two.ipynb", inbox.notebook(last, "ada-01"), 1_700_100_000)
    first = Collector(inbox.cohort)
    assert [one.state for one in first.collect((inbox.folder,))] == ["counts", "counts"]
    first.save()
    target = inbox.cohort.submitted("ada-01", LESSON)
    before = target.read_bytes()
    shutil.rmtree(inbox.cohort.folder / "submitted")
    again = Collector(inbox.cohort)
    states = [one.state for one in again.collect((inbox.cohort.folder / RECEIVED,))]
    assert states.count("counts") >= 1
    assert not {"asked", "refused"} & set(states)
    assert target.read_bytes() == before
    assert inbox.stands("ada-01") == f'element_current = "{last}"'


def test_a_file_put_there_by_hand_is_not_lost(inbox: Inbox) -> None:
    by_hand = inbox.cohort.submitted("ada-01", LESSON)
    by_hand.parent.mkdir(parents=True)
    by_hand.write_bytes(b"put by hand")
    inbox.take(inbox.drop("ada-01.ipynb", inbox.notebook("1 A")))
    kept = [path.read_bytes() for path in (inbox.cohort.folder / "received" / "ada-01").iterdir()]
    assert b"put by hand" in kept


def test_an_untouched_lesson_is_no_hand_in(inbox: Inbox) -> None:
    (taken, *others) = inbox.take(inbox.cohort.folder / "kits" / "leg-to-leg-ada-01-Ada-Demo.zip")
    assert {one.state for one in (taken, *others)} == {"untouched"}
    assert not inbox.cohort.submitted("ada-01", LESSON).exists()


def test_a_whole_kit_in_a_zip_with_moved_copied_and_deleted_cells(inbox: Inbox) -> None:
    notebook = inbox.notebook("1 A")
    cells = notebook["cells"]
    cells.insert(0, cells.pop(20))
    cells.append(copy.deepcopy(cells[12]))
    del cells[4:6]
    path = inbox.folder / "anything.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("stuff/kit.json", '{"apprentice": "cy-03"}')
        archive.writestr("stuff/renamed by me.ipynb", json.dumps(notebook))
    (taken,) = inbox.take(path)
    assert (taken.state, taken.apprentice, taken.lesson) == ("counts", "cy-03", LESSON)


def test_old_and_strangely_encoded_files_are_put_right_and_kept_as_they_came(inbox: Inbox) -> None:
    old = nbformat.convert(nbformat.reads(json.dumps(inbox.notebook("1 A")), as_version=4), 3)
    content = json.dumps(old).encode("utf-16")
    (taken,) = inbox.take(inbox.drop("ada-01.ipynb", content))
    assert taken.state == "counts"
    assert "old notebook format 3" in taken.words
    assert "UTF-16" in taken.words
    (kept,) = (inbox.cohort.folder / "received" / "ada-01").iterdir()
    assert kept.read_bytes() == content


def test_what_cannot_be_read_is_kept_and_said(inbox: Inbox) -> None:
    (broken,) = inbox.take(inbox.drop("ada-01.ipynb", b'{"cells": ['))
    assert broken.needs_a_person
    assert "only a part" in broken.words
    (other,) = inbox.take(inbox.drop("ada-01b.ipynb", json.dumps({"cells": []}).encode()))
    assert "none of this cohort's lessons" in other.words
    unclear = {
        path.name.split("-")[-1].split(".")[0] for path in (inbox.cohort.folder / "received" / "unclear").iterdir()
    }
    assert digest(b'{"cells": [')[:16] in unclear
    assert len(unclear) == 2


def test_work_by_click_alone_is_a_hand_in(inbox: Inbox) -> None:
    lesson = "10_call_to_close"
    with zipfile.ZipFile(inbox.cohort.folder / "kits" / "leg-to-leg-ada-01-Ada-Demo.zip") as archive:
        notebook = json.loads(archive.read(f"leg-to-leg-ada-01-Ada-Demo/lessons/{lesson}/{lesson}.ipynb"))
    record = {"form": 1, "question": "call_repair", "kind": "work", "acts": [{"act": "unplug", "with": {}}]}
    cell = next(cell for cell in notebook["cells"] if cell["id"] == "call_repair-hand-in")
    cell["outputs"] = [{"output_type": "display_data", "data": {MIME: record}, "metadata": {}}]
    (taken,) = inbox.take(inbox.drop("a.ipynb", notebook))
    assert (taken.state, taken.apprentice, taken.lesson) == ("counts", "ada-01", lesson)
    stands = json.loads(inbox.cohort.submitted("ada-01", lesson).read_text(encoding="utf-8"))
    assert [output["data"] for cell in stands["cells"] for output in cell.get("outputs", [])] == [{MIME: record}]


def test_the_start_page_is_known_by_what_it_holds_under_a_browsers_name_too(inbox: Inbox) -> None:
    page = json.loads(built_path(START).read_text(encoding="utf-8"))
    inbox.drop("00_start.ipynb", page)
    inbox.drop("00_start (2).ipynb", page)
    own = {**page, "cells": [{"cell_type": "code", "id": "own", "metadata": {}, "source": "work = 1", "outputs": []}]}
    inbox.drop("my 00_start.ipynb", own)
    states = {Path(one.name).name: one.state for one in inbox.take()}
    assert states == {"00_start.ipynb": "untouched", "00_start (2).ipynb": "untouched", "my 00_start.ipynb": "refused"}
    assert len(list((inbox.cohort.folder / "received").rglob("*.ipynb"))) == 1
