"""The text of a clean notebook: letter for letter what nbformat writes, for every lesson and for strange cells."""

from __future__ import annotations

import nbformat
import pytest

from dryerbench.notebook.answer_record import MIME
from dryerbench.registry import SHEETS
from legtoleg.authoring.building import built_path
from legtoleg.core.notebook_format import clean_text
from legtoleg.intake.notebook_repair import repair


@pytest.mark.parametrize("lesson", sorted(SHEETS))
def test_as_nbformat_writes_it(lesson: str) -> None:
    notebook = repair(built_path(lesson).read_bytes()).notebook
    notebook.metadata["leg_to_leg"] = {"apprentice": "ada-01", "try": 2}
    assert clean_text(notebook) == nbformat.writes(notebook)


def test_strange_cells_too() -> None:
    sources = ["", "\n", "a\r\nb\u2028c\x0cd", 'José "½"\n\n', "x\n" * 3]
    acts = {MIME: {"question": "q", "acts": [{"act": "a", "with": {"é": "two\nlines"}}]}}
    output = {"output_type": "display_data", "data": acts, "metadata": {}}
    cells = [{"cell_type": "code", "source": one, "outputs": [output], "metadata": {}} for one in sources]
    cells += [{"cell_type": "markdown", "source": one, "metadata": {}} for one in sources]
    raw = nbformat.from_dict({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5})
    notebook = repair(clean_text(raw).encode()).notebook
    assert notebook.cells[0].outputs, "a trail is kept"
    assert clean_text(notebook) == nbformat.writes(notebook)
