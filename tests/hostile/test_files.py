"""Hostile and broken files: each is marked for what it holds, or named to the instructor; nobody else is touched."""

from __future__ import annotations

import copy
import json
import os
from collections.abc import Callable
from pathlib import Path

import nbformat
import pytest

from .conftest import LESSON, PAPER, Day, Notebook, find, honest, right

pytestmark = [
    pytest.mark.slow,
    pytest.mark.jail,
    pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning"),
]
ALL = tuple(question.name for question in PAPER.questions)


def old_format(notebook: Notebook) -> bytes:
    return json.dumps(nbformat.convert(nbformat.reads(json.dumps(notebook), as_version=4), 3)).encode()


def shuffled(notebook: Notebook) -> Notebook:
    cells = notebook["cells"]
    cells.append(copy.deepcopy(find(notebook, "drift-hand-in")))
    cells.append({**copy.deepcopy(find(notebook, "hot_ohms-answer")), "id": "a-copy"})
    moved = find(notebook, "hot_ohms-answer")
    cells.remove(moved)
    cells.insert(4, moved)
    cells.remove(find(notebook, "sag_share-hand-in"))
    return notebook


def worth_more(notebook: Notebook) -> Notebook:
    for cell in notebook["cells"]:
        marks = cell["metadata"].get("nbgrader", {})
        marks.update({"points": 1000, "schema_version": 1, "locked": False, "checksum": "0"})
        cell["execution_count"] = 1
    find(notebook, "drift-hand-in")["source"] = "1000"
    return notebook


def other_kernel(notebook: Notebook) -> Notebook:
    notebook["metadata"]["kernelspec"] = {"name": "bash", "display_name": "Bash", "language": "bash"}
    return notebook


FINE: dict[str, Callable[[Notebook], Notebook | bytes]] = {
    "format 3": old_format,
    "byte-order mark": lambda notebook: json.dumps(notebook).encode("utf-8-sig"),
    "utf-16": lambda notebook: json.dumps(notebook).encode("utf-16"),
    "not utf-8": lambda notebook: (
        json.dumps(notebook, ensure_ascii=False).replace("Ω", "ohm").encode("cp1252", "ignore")
    ),
    "moved, copied and deleted cells": shuffled,
    "marks and locked cells changed": worth_more,
    "wrong kernel": other_kernel,
    "NaN in the JSON": lambda notebook: json.dumps({**notebook, "x": float("nan")}).encode(),
    "metadata of another kind": lambda notebook: {**notebook, "metadata": [1]},
    "cells that are none": lambda notebook: {**notebook, "cells": [7, None, [], *notebook["cells"]]},
}


@pytest.mark.parametrize("name", FINE, ids=[name.replace(" ", "-") for name in FINE])
def test_right_work_in_a_strange_form_earns_what_it_should(day: Day, name: str) -> None:
    day.put("bo-02", FINE[name](honest("bo-02")))
    outcomes = day.mark()
    assert len(outcomes) == len(ALL)
    assert [o.question for o in outcomes if o.points != o.max_points] == []
    worth = {outcome.question: outcome.max_points for outcome in outcomes}
    assert worth == {question.name: question.points for question in PAPER.questions}


def deep(_: Notebook) -> bytes:
    return b'{"cells": ' + b"[" * 100_000 + b"]" * 100_000 + b"}"


REFUSED: dict[str, tuple[Callable[[Notebook], Notebook | bytes], str]] = {
    "50 MB": (lambda notebook: json.dumps({**notebook, "x": "y" * 50_000_000}).encode(), "MB"),
    "deep JSON": (deep, "nested deeper"),
    "half a file": (lambda notebook: json.dumps(notebook).encode()[:5000], "only a part"),
    "empty file": (lambda _: b"", "empty"),
    "binary": (lambda _: bytes(range(256)) * 100, "no notebook"),
    "a list": (lambda _: b"[]", "no notebook"),
    "no cells": (lambda _: b"{}", "no cells"),
    "100,000 cells": (lambda _: {"cells": [{"cell_type": "code", "source": "1"}] * 100_000}, "cells"),
}


@pytest.mark.parametrize("name", REFUSED, ids=[name.replace(" ", "-") for name in REFUSED])
def test_what_is_no_notebook_is_named(day: Day, name: str) -> None:
    make, said = REFUSED[name]
    day.put("bo-02", make(honest("bo-02")))
    assert day.mark() == []
    assert said in day.said()
    assert "was not graded" in day.said()


def link(path: Path, day: Day) -> None:
    path.symlink_to(day.cohort.folder / "source" / LESSON / f"{LESSON}.ipynb")


PLACES: dict[str, tuple[Callable[[Path, Day], None], str]] = {
    "symlink to the solution": (link, "link"),
    "dangling link": (lambda path, _: path.symlink_to("/nowhere"), "link"),
    "FIFO": (lambda path, _: os.mkfifo(path), "pipe"),
    "device": (lambda path, _: path.symlink_to("/dev/zero"), "link"),
    "folder": (lambda path, _: path.mkdir(), "folder"),
}


@pytest.mark.parametrize("name", PLACES, ids=[name.replace(" ", "-") for name in PLACES])
def test_what_is_no_plain_file_is_named(day: Day, name: str) -> None:
    make, said = PLACES[name]
    path = day.put("bo-02", b"")
    path.unlink()
    make(path, day)
    assert day.mark() == []
    assert said in day.said()


def test_a_folder_that_is_a_link(day: Day) -> None:
    submitted = day.cohort.folder / "submitted"
    submitted.mkdir(exist_ok=True)
    (submitted / "bo-02").symlink_to(day.cohort.folder / "source")
    assert day.mark() == []
    assert "link" in day.said()


def test_somebody_elses_work(day: Day) -> None:
    notebook = honest("ada-01")
    notebook["metadata"]["leg_to_leg"] = {"apprentice": "ada-01"}
    day.put("bo-02", notebook)
    outcomes = day.mark()
    assert sum(outcome.points for outcome in outcomes) < 10
    assert "kit of ada-01" in day.said()


SCRIPT = "<script>document.title='ran'</script><img src=x onerror=alert(1)>\"'{{ 7 * 7 }}"


def test_html_and_script_in_answers(day: Day) -> None:
    notebook = honest("bo-02", but=("drift", "hot_ohms"))
    find(notebook, "drift-answer")["source"] = f"drift = {SCRIPT!r}"
    find(notebook, "hot_ohms-answer")["source"] = (
        f"from IPython.display import display, HTML\nhot_ohms = ''\ndef hand_in(name, value): display(HTML({SCRIPT!r}))"
    )
    day.put("bo-02", notebook)
    day.mark()
    page = day.cohort.feedback("bo-02", LESSON).read_text(encoding="utf-8")
    assert "<script" not in page
    assert "<img" not in page
    assert "&lt;script&gt;" in page
    assert "49" not in page.split("ran")[1][:80]


def test_right_answers_are_still_right(day: Day) -> None:
    """The corpus's own honest hand-in is honest: it would not notice anything if it were not."""
    day.put("bo-02", honest("bo-02"))
    outcomes = day.mark()
    assert {outcome.answer for outcome in outcomes} >= {right("bo-02")["breaker_limit"]}
    assert all(outcome.points == outcome.max_points for outcome in outcomes)
