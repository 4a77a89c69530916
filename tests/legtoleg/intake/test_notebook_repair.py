"""Rescue: what is handed in, of any age and encoding, becomes a clean notebook; what is none is said in a few words."""

from __future__ import annotations

import contextlib
import json
from typing import Any

import nbformat
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from legtoleg.authoring.building import built_path
from legtoleg.intake.notebook_repair import LARGEST_FILE, UnreadableNotebookError, repair

LESSON = "03_heater_power"
TEXT = built_path(LESSON).read_text(encoding="utf-8")


def sources(content: bytes) -> list[str]:
    return [cell.source for cell in repair(content).notebook.cells]


WHOLE = sources(TEXT.encode())


@pytest.mark.parametrize(
    ("content", "remark"),
    [
        (TEXT.encode("utf-8-sig"), ""),
        (TEXT.encode("utf-16"), "UTF-16"),
        (TEXT.replace("Ω", "O").encode("cp1252", "ignore"), "not saved as UTF-8"),
        (TEXT.replace("\n", "\r\n").encode(), ""),
    ],
)
def test_encodings(content: bytes, remark: str) -> None:
    rescued = repair(content)
    assert len(rescued.notebook.cells) == len(WHOLE)
    assert remark in "".join(rescued.remarks)


def test_old_formats() -> None:
    old = nbformat.convert(nbformat.reads(TEXT, as_version=4), 3)
    content = json.dumps(old).encode()
    assert b"worksheets" in content
    rescued = repair(content)
    assert "old notebook format 3" in rescued.remarks[0]
    assert [c.source for c in rescued.notebook.cells if c.cell_type == "code"] == [
        c.source for c in nbformat.reads(TEXT, as_version=4).cells if c.cell_type == "code"
    ]
    marks = [c.metadata.nbgrader.grade_id for c in rescued.notebook.cells if "nbgrader" in c.metadata]
    assert "element_current" in marks


def test_nan_surrogates_lists_strange_cells_and_double_ids() -> None:
    cells: list[Any] = [
        {"cell_type": "code", "source": ["a = 1\n", "b"], "id": "same", "metadata": {"x": float("nan")}},
        {"cell_type": "code", "source": "c\ud800", "id": "same"},
        {"cell_type": "alien", "source": "x"},
        "no cell",
        {"cell_type": "markdown", "source": 3, "id": "bad id!"},
    ]
    rescued = repair(json.dumps({"cells": cells, "nbformat": 4}).encode())
    assert [cell.source for cell in rescued.notebook.cells] == ["a = 1\nb", "c?", ""]
    assert len({cell.id for cell in rescued.notebook.cells}) == 3
    assert rescued.remarks == ["had a cell that is none"]
    nbformat.validate(rescued.notebook)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (TEXT.encode()[: len(TEXT) // 2], "only a part"),
        (b"[1, 2]", "no notebook"),
        (b'{"cells": 3}', "no cells"),
        (b"[" * 200_000, "nested deeper"),
        (b'{"nbformat": 3, "worksheets": 7}', "cannot be converted"),
        (b" " * (LARGEST_FILE + 1), "MB"),
        (json.dumps({"cells": [{}] * 3000}).encode(), "3000 cells"),
    ],
)
def test_what_is_no_notebook(content: bytes, said: str) -> None:
    with pytest.raises(UnreadableNotebookError, match=said):
        repair(content)


def test_it_says_whose_kit_it_was() -> None:
    record = {"application/vnd.leg-to-leg.answer+json": {"apprentice": "ada-01"}}
    shown = {"output_type": "display_data", "data": record}
    notebook = {
        "cells": [{"cell_type": "code", "source": "", "outputs": [shown, 3, {"data": []}]}],
        "metadata": {"leg_to_leg": {"apprentice": "bo-02", "lesson": LESSON}},
    }
    rescued = repair(json.dumps(notebook).encode())
    assert rescued.claimed == {"ada-01", "bo-02"}
    assert rescued.lesson == LESSON


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inside: (
        st.lists(inside, max_size=4)
        | st.dictionaries(
            st.sampled_from(["cells", "cell_type", "source", "outputs", "data", "metadata", "nbgrader", "id", "x"]),
            inside,
            max_size=5,
        )
    ),
    max_leaves=30,
)


@settings(max_examples=300, deadline=None)
@given(json_values)
def test_no_json_breaks_it(value: Any) -> None:
    with contextlib.suppress(UnreadableNotebookError):
        nbformat.validate(repair(json.dumps(value).encode()).notebook)
