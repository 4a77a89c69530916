"""Practice: what it says, and the pad of widgets that says it."""

from __future__ import annotations

import pytest

from dryerbench.core.errors import UnknownQuestionError
from dryerbench.drawing import interactive_figure
from dryerbench.notebook import practice_widget


def test_what_cannot_be_read_is_asked_about() -> None:
    said = practice_widget.check("amps", "22,5 A")
    assert not said.right
    assert "22.5 A" in said.says


def test_an_unknown_name_says_what_there_is() -> None:
    with pytest.raises(UnknownQuestionError, match="side_by_side"):
        practice_widget.practice("nothing")


def test_the_pad_checks_and_deals_new_numbers() -> None:
    pad = practice_widget.Pad("amps")
    before = pad.question.value
    pad.box.value = "1 V"
    assert "voltage" in pad.says.value
    pad.again.click()
    assert pad.question.value != before
    assert pad.box.value == ""
    assert pad.says.value == ""
    pad.box.value = "8.9"
    assert "8.9 A" in pad.says.value or "unit" in pad.says.value


def test_what_is_typed_cannot_become_markup() -> None:
    pad = practice_widget.Pad("amps")
    pad.box.value = "<script>alert(1)</script>"
    assert "<script>" not in pad.says.value


def test_in_words_for_a_page_without_a_kernel(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    shown: list[dict] = []
    monkeypatch.setattr(practice_widget, "show_bundle", shown.append)
    practice_widget.practice("amps")
    assert shown[0]["text/plain"].startswith("Practice: One coil of")
    assert list(shown[0]) == ["text/plain"]
