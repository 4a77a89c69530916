"""Practice cards on a page: judged at once with the slip and its cure, another card, nothing kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from dryerbench.course.practice_question import NoPracticeQuestionError, PickMany, ReadingsGo
from dryerbench.course.questions import Lettered
from dryerbench.drawing import interactive_figure
from dryerbench.notebook import practice_question_widget
from dryerbench.notebook.practice_question_widget import PracticeBox, PracticeCard, practice_question
from dryerbench.registry import PRACTICE_QUESTIONS, SLIPS


def letters_that_fit(card: PracticeCard, fits: object) -> str:
    """Return the letters of the options of ``card`` whose text is in ``fits``."""
    assert isinstance(card.question, Lettered)
    return " ".join(letter for letter, one in card.question.lettered(card.card).items() if one.text in set(fits))


def test_all_that_fits_is_right_and_nothing_else_is() -> None:
    pool = PRACTICE_QUESTIONS["fit_kits"]
    assert isinstance(pool, PickMany)
    for number in (1, 2, 3):
        card = PracticeCard("fit_kits", number)
        right = letters_that_fit(card, pool.fits)
        assert card.judge(right).right
        assert card.judge(right.replace(" ", ",").upper()).right
        wrong = card.judge(letters_that_fit(card, pool.fits_not))
        assert not wrong.right
        assert set(wrong.slips) <= set(SLIPS)
        assert SLIPS[wrong.slips[0]].says in wrong.says
        assert f"Read again: “{SLIPS[wrong.slips[0]].cure}”" in wrong.says


def test_a_table_is_judged_line_by_line_in_any_unit() -> None:
    card = PracticeCard("case_readings", 1)
    assert isinstance(card.go, ReadingsGo)
    right = {one.label: f"{one.number:g} ohm" for one in card.go.readings}
    assert card.judge(right).right
    first = card.go.readings[0]
    in_kilohms = {**right, first.label: f"{first.number / 1000:g} kohm"}
    assert card.judge(in_kilohms).right
    assert card.judge({**right, first.label: "OL"}).slips == (first.other,)
    assert first.label in card.judge({**right, first.label: ""}).says
    assert first.label in card.judge({**right, first.label: "240 V"}).says
    far = card.go.readings[2]
    assert card.judge({**right, far.label: right[card.go.readings[3].label]}).slips == ("from_far_end",)


@pytest.mark.parametrize("value", ["", None, "zz", "a a", "<script>", 7, {}, "a b c d e f g h i j k l"])
def test_what_cannot_be_read_is_asked_about(value: object) -> None:
    for name in ("dead_order", "fit_kits", "first_aid", "case_readings"):
        said = PracticeCard(name).judge(value)
        assert not said.right
        assert said.slips == ()
        assert "Read again" not in said.says


def test_the_box_judges_and_deals_another_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    box = PracticeBox("fit_kits")
    pool = PRACTICE_QUESTIONS["fit_kits"]
    assert isinstance(pool, PickMany)
    assert box.menu["practice"] == 1
    box.receive({"value": letters_that_fit(box.practiced, pool.fits), "turn": 1})
    assert (box.said[:7], box.fine, box.turn) == ("✓ Right", True, 1)
    before = box.menu["options"]
    box.receive({"another": True, "turn": 2})
    assert (box.said, box.fine, box.menu["practice"]) == ("", False, 2)
    assert box.menu["options"] != before
    box.receive({"value": letters_that_fit(box.practiced, pool.fits_not), "turn": 3})
    assert box.said.startswith("→ Not yet.")
    for odd in (None, 5, {"value": 7}, {"turn": "x"}, {"another": "yes"}):
        box.receive(odd)
        assert not box.fine
    assert list(tmp_path.rglob("*")) == []


def test_nothing_of_the_answer_goes_to_the_page() -> None:
    for name in PRACTICE_QUESTIONS:
        menu = PracticeBox(name).menu
        assert set(menu) <= {"name", "kind", "title", "asked", "options", "rows", "practice", "told"}


def test_in_words_for_a_page_without_a_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(interactive_figure.MODE, "words")
    shown: list[dict] = []
    monkeypatch.setattr(practice_question_widget, "show_bundle", shown.append)
    practice_question("first_aid", 2)
    practice_question("case_readings")
    assert "Practice card 2, not graded." in shown[0]["text/plain"]
    assert "\n  a  " in shown[0]["text/plain"]
    assert "From A to C: ____ Ω" in shown[1]["text/plain"]


def test_a_name_or_a_number_that_is_none_is_one_line() -> None:
    for name, number in (("nothing", 1), ("first_aid", 0), ("first_aid", "2")):
        with pytest.raises(NoPracticeQuestionError) as told:
            practice_question(name, number)  # type: ignore[arg-type]
        assert "\n" not in str(told.value)
