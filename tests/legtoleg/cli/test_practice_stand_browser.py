"""The practice stands in a real JupyterLab: another dryer comes by a button, and what was done on the last is kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_notebook

pytestmark = [pytest.mark.slow, pytest.mark.browser]
HEADS = {
    'practice_bench("make_dead")': "Practice dryer {}, not graded",
    "practice_call()": "Call {}. The customer says",
    "machine_call()": "Call {} on another dryer. The customer says",
}


@contextmanager
def shown(lab: Any, call: str) -> Iterator[Any]:
    """Give the page of a notebook with one stand, all cells run."""
    notebook = new_notebook(cells=[new_code_cell(f"from dryerbench import *\n\n{call}", id="stand")])
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(notebook, lab.lessons / "stand.ipynb")
    with lab.notebook("stand.ipynb") as opened:
        lab.run_all()
        opened.locator(".ltl-bench").wait_for(timeout=120_000)
        yield opened


def press(opened: Any, name: str) -> None:
    opened.get_by_role("button", name=name, exact=True).first.click()


def trail(opened: Any) -> str:
    opened.get_by_role("tab", name="Trail").click()
    return str(opened.locator(".ltl-bench").inner_text())


@pytest.mark.parametrize("call", HEADS)
def test_another_dryer_comes_in_place_and_the_trail_of_the_one_before_is_kept(lab: Any, call: str) -> None:
    head = HEADS[call]
    with shown(lab, call) as opened:
        opened.get_by_text(head.format(1)).wait_for()
        opened.get_by_role("button", name="Pull the plug", exact=True).first.wait_for()
        press(opened, "Pull the plug")
        opened.get_by_role("button", name="Put the plug in", exact=True).first.wait_for()
        first = opened.locator(".ltl-bench").bounding_box()
        press(opened, "Another dryer")
        opened.get_by_text(head.format(2)).wait_for()
        opened.get_by_text("This is dryer 2.").wait_for()
        opened.get_by_role("button", name="Pull the plug", exact=True).first.wait_for()
        assert opened.locator(".ltl-bench").count() == 1
        assert opened.locator(".ltl-bench").bounding_box()["width"] == first["width"] > 600
        press(opened, "Dryer before")
        opened.get_by_text("This is dryer 1 as you left it, with 1 act done.").wait_for()
        opened.get_by_role("button", name="Put the plug in", exact=True).first.wait_for()
        press(opened, "Another dryer")
        opened.get_by_text("This is dryer 2.").wait_for()
    with shown(lab, call) as opened:  # its kernel is a new one
        opened.get_by_text(head.format(2)).wait_for()
        press(opened, "Dryer before")
        opened.get_by_text("This is dryer 1 as you left it, with 1 act done.").wait_for()


def test_a_dryer_without_names_gives_hints_and_takes_a_name(lab: Any) -> None:
    with shown(lab, "machine_call()") as opened:
        press(opened, "Hint")
        opened.get_by_text("Hint 1: ").wait_for(timeout=120_000)
        press(opened, "Name it")
        opened.get_by_text("Keep measuring.").wait_for(timeout=60_000)
        press(opened, "Compare paths")
        opened.get_by_text("Our suggested way: ").wait_for(timeout=60_000)
