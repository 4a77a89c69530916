"""The message box: a sign, a heading that is text, and an edge that says how it went."""

from __future__ import annotations

from pathlib import Path

import dryerbench
import legtoleg
from dryerbench.drawing.figure_style import AMBER, BLUE
from dryerbench.drawing.message_box import message_box


def test_edge_sign_and_heading() -> None:
    fine, not_yet = message_box("<div>b</div>", heading="a", sign="✓"), message_box("b", sign="→", fine=False)
    assert f"solid {BLUE}" in fine
    assert fine.endswith("><b>✓ a</b><div>b</div></div>")
    assert f"solid {AMBER}" in not_yet
    assert not_yet.endswith("><b>→</b>b</div>")
    assert "<b>" not in message_box("b")


def test_a_box_that_answers_a_press_is_read_out_when_it_comes() -> None:
    assert message_box("b", spoken=True).startswith("<div role='alert' ")
    assert "role" not in message_box("b")


def test_a_heading_is_text() -> None:
    assert "<script>" not in message_box("", heading="<script>")


def test_no_other_module_draws_one() -> None:
    rooms = [Path(one.__file__).parent for one in (dryerbench, legtoleg)]
    drawn = [path.name for room in rooms for path in room.rglob("*.py") if "border-left" in path.read_text("utf-8")]
    assert drawn == ["message_box.py"]
