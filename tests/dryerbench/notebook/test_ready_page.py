"""The page to hand in: answers put into it as they stand, the file whole or not at all, and said where it is."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from dryerbench.core import identity
from dryerbench.core.errors import LegToLegError
from dryerbench.notebook import class_bar
from dryerbench.notebook.answer_record import MIME
from dryerbench.notebook.class_bar import ClassBar, Page
from dryerbench.notebook.ready_page import completed, write_ready
from dryerbench.notebook.taken_answer import take
from dryerbench.registry import sheet

LESSON, NAME = "03_heater_power", "element_current"
PAPER = sheet(LESSON)
BUNDLE = take(PAPER.question(NAME), PAPER.card("demo-01"), "8.8 A").bundle
OLD = take(PAPER.question(NAME), PAPER.card("demo-01"), "9 A").bundle


def notebook(outputs: list[dict], **cell: object) -> bytes:
    code = {"cell_type": "code", "id": f"{NAME}-hand-in", "source": "", "metadata": {}, "outputs": outputs, **cell}
    text = {"cell_type": "markdown", "id": "a", "source": "°F", "metadata": {}}
    return json.dumps({"cells": [text, code], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}).encode()


def shown(content: bytes) -> list[dict]:
    return json.loads(content)["cells"][1]["outputs"]


def output(bundle: dict) -> dict:
    return {"output_type": "display_data", "data": bundle, "metadata": {}}


def test_an_answer_that_the_page_does_not_show_is_put_in() -> None:
    widget = output({"text/plain": "A box"})
    for before in ([], [widget], [output(OLD), widget], [output(OLD), output(OLD)], [{"output_type": "error"}]):
        found = shown(completed(notebook(before), {NAME: BUNDLE}))
        assert [one["data"][MIME]["typed"] for one in found if MIME in one["data"]] == ["8.8 A"]
        assert (widget in found) == (widget in before)
    marked = {"nbgrader": {"grade": True, "grade_id": NAME}}
    assert shown(completed(notebook([], id="x", metadata=marked), {NAME: BUNDLE}))


def test_a_page_that_says_it_all_is_left_as_it_is() -> None:
    for content in (notebook([output(BUNDLE)]), notebook([output(OLD)], id="other"), b"no notebook", b"[]", b"\xff"):
        assert completed(content, {NAME: BUNDLE}) == content
    assert completed(notebook([output(OLD)]), {}) == notebook([output(OLD)])


def test_the_button_makes_the_file_and_says_where(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / identity.MARK).write_text('{"apprentice": "demo-01"}')
    page = tmp_path / "lessons" / LESSON / f"{LESSON}.ipynb"
    page.parent.mkdir(parents=True)
    page.write_bytes(notebook([output(OLD)]))
    monkeypatch.chdir(page.parent)
    monkeypatch.setenv("JPY_SESSION_NAME", str(page))
    monkeypatch.setattr(class_bar, "_SAVING", 0.0)
    bar = ClassBar(None, Page("demo-01", LESSON, lambda: "Not answered: 2.", lambda: {NAME: BUNDLE}))
    assert not bar.in_class
    bar.receive({"want": "hand-in"})
    made = tmp_path / identity.READY / f"{LESSON}-demo-01.ipynb"
    assert shown(made.read_bytes())[0]["data"][MIME]["typed"] == "8.8 A"
    assert bar.fine
    assert str(made) in bar.said
    assert bar.said.endswith("Not answered: 2.")
    assert page.read_bytes() == notebook([output(OLD)])
    bar.receive({"want": "hand"})
    assert not bar.hand
    made.unlink()
    made.parent.rmdir()
    made.parent.write_text("no folder")
    bar.receive({"want": "hand-in"})
    assert not bar.fine
    assert "cannot be written" in bar.said


def test_the_practice_machine_is_not_handed_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    bar = ClassBar(None, Page("practice", LESSON, str, dict))
    bar.receive({"want": "hand-in"})
    assert "nothing here can be handed in" in bar.said
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    path = write_ready("a.ipynb", b"one")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(LegToLegError, match="No space left"):
        write_ready("a.ipynb", b"two")
    assert path.read_bytes() == b"one"
    assert [one.name for one in path.parent.iterdir()] == ["a.ipynb"]
