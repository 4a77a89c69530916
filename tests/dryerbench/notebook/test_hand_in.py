"""Hand in: what is recorded, what is said, and that right or wrong never is."""

from __future__ import annotations

import pytest

from dryerbench.core import identity
from dryerbench.core.errors import LegToLegError, UnknownQuestionError
from dryerbench.notebook import class_bar, hand_in
from dryerbench.notebook.answer_record import MIME
from dryerbench.notebook.kept_bench import open_bench

LESSON = "03_heater_power"


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(hand_in, "display", lambda bundle, raw: found.append(bundle))
    monkeypatch.setenv(identity.VARIABLE, "demo-01")
    monkeypatch.setattr(hand_in, "_SESSION", hand_in._Session())
    return found


def test_a_record_is_left_and_shown(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "7.88 A")
    record = shown[0][MIME]
    assert record["question"] == "element_current"
    assert record["apprentice"] == "demo-01"
    assert (record["kind"], record["magnitude"], record["unit"], record["figures"]) == ("quantity", 7.88, "A", 3)
    assert "7.88 A" in shown[0]["text/html"]


def test_a_sum_is_recorded_with_its_result(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "240 V / 27 ohm")
    record = shown[0][MIME]
    assert (record["kind"], record["figures"], record["working"]) == ("quantity", None, "240 V / 27 ohm")
    assert "8.89 A, from 240 V / 27 ohm" in shown[0]["text/html"]
    assert "figures" not in shown[0]["text/plain"]
    hand_in.hand_in("element_current", "240 V / 27 ohm = 9.8 A")
    assert shown[1][MIME]["kind"] == "unreadable"
    assert "comes to 8.889 A, not to 9.8 A" in shown[1]["text/plain"]


@pytest.mark.parametrize(
    ("typed", "asked"),
    [("6360 VA", 'Is it "6360 W"?'), ("240 V * 26.5 A = 6360 VA", 'Is it "6360 W"?'), ("6.36 kVA", "Type it in W.")],
)
def test_volt_amperes_are_no_watts(shown: list[dict], typed: str, asked: str) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("heater_power", typed)
    assert shown[0][MIME]["kind"] == "unreadable"
    assert asked in shown[0]["text/plain"]


def test_what_no_meter_shows_is_refused_in_one_line(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "1e16 A")
    assert shown[0][MIME]["kind"] == "unreadable"
    assert "not a number that a meter can show" in shown[0]["text/plain"]


def test_right_and_wrong_look_the_same(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "7.88 A")
    hand_in.hand_in("element_current", "9.99 A")
    right, wrong = (one["text/html"].replace("7.88", "x").replace("9.99", "x") for one in shown)
    assert right == wrong


def test_another_quantity_and_few_figures_are_said(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "8 W")
    text = shown[0]["text/plain"]
    assert "power" in text
    assert "current" in text
    assert "1 of the 3 figures" in text


@pytest.mark.parametrize("value", ["", "   ", None])
def test_blank(shown: list[dict], value: str | None) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", value)
    assert shown[0][MIME]["kind"] == "blank"
    assert "not answered yet" in shown[0]["text/plain"]


@pytest.mark.parametrize("value", [True, [8.9], float("nan"), float("inf"), 3j, object(), b"8.9 A", 8.9])
def test_what_is_no_answer_is_recorded_as_unreadable(shown: list[dict], value: object) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", value)
    assert shown[0][MIME]["kind"] == "unreadable"
    assert shown[0][MIME]["magnitude"] is None


def test_an_object_that_lies_is_not_asked(shown: list[dict]) -> None:
    class Liar(str):
        __slots__ = ()

        def __eq__(self, other: object) -> bool:
            raise AssertionError

        def __hash__(self) -> int:
            raise AssertionError

        def __repr__(self) -> str:
            raise AssertionError

        def __str__(self) -> str:
            raise AssertionError

        def __float__(self) -> float:
            raise AssertionError

    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", Liar("8.9 A"))
    assert shown[0][MIME]["kind"] == "unreadable"


def test_over_limit(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "OL")
    assert shown[0][MIME]["kind"] == "over_limit"


def test_html_in_an_answer_is_shown_as_text(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "<b>8.9</b> A")
    assert "<b>8.9" not in shown[0]["text/html"]


def test_before_the_card_and_for_an_unknown_question(shown: list[dict]) -> None:
    with pytest.raises(LegToLegError, match="job card first"):
        hand_in.hand_in("element_current", "8.9 A")
    hand_in.job_card(LESSON)
    with pytest.raises(UnknownQuestionError, match="no question called"):
        hand_in.hand_in("color", "8.9 A")


def test_the_practice_machine_says_so(shown: list[dict], monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    monkeypatch.delenv(identity.VARIABLE)
    monkeypatch.chdir(tmp_path)
    card = hand_in.job_card(LESSON)
    assert "PRACTICE DRYER" in repr(card)
    assert "PRACTICE DRYER" in card._repr_html_()
    hand_in.hand_in("element_current", "7.88 A")
    assert "practice dryer" in shown[0]["text/plain"]


def test_before_handing_in_it_says_what_is_there_and_never_what_is_right(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    hand_in.hand_in("element_current", "7.88 A")
    hand_in.hand_in("element_power", "1 A")
    hand_in.before_you_hand_in()
    text = shown[-1]["text/plain"]
    assert "Not ready yet" in text
    assert "1. Current of coil 1: answered and saved" in text
    assert "2. Power of coil 1: A measures current" in text
    assert "3. Ohms of the whole heater: not answered yet" in text


def test_all_answered_is_ready(shown: list[dict]) -> None:
    hand_in.job_card(LESSON)
    for question in hand_in._SESSION.sheet.questions:
        hand_in.hand_in(question.name, f"12.3 {question.unit}")
    hand_in.before_you_hand_in()
    assert "Ready to hand in" in shown[-1]["text/plain"]


def test_the_last_word_is_the_button_where_there_is_one(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    hand_in.job_card(LESSON)
    hand_in.before_you_hand_in()
    assert "Last, save this page (Ctrl + S)." in shown[-1]["text/plain"]
    pages: list[class_bar.Page] = []
    monkeypatch.setattr(class_bar, "show_class_bar", pages.append)
    monkeypatch.setattr(hand_in, "_with_boxes", lambda: True)
    hand_in.before_you_hand_in()
    assert "Last, press the button “Hand in this page” below." in shown[-1]["text/plain"]
    assert "Not run since you opened this page, so they go in as the page shows them: 1, 2," in pages[0].check()
    monkeypatch.setattr(hand_in, "_with_boxes", lambda: False)
    hand_in.hand_in("element_current", "7.88 A")
    hand_in.hand_in("element_power", "7.88 A")
    hand_in.hand_in("heater_ohms", "")
    assert pages[0].check().startswith("Not answered: 3. Look at what is said of: 2. Not run")
    assert list(pages[0].bundles()) == ["element_current", "element_power", "heater_ohms"]
    assert (pages[0].apprentice, pages[0].lesson) == ("demo-01", LESSON)


def test_options_fold_where_the_box_has_them_too(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    hand_in.job_card("02_two_legs")
    hand_in.options("frame_strap")
    monkeypatch.setattr(hand_in, "_with_boxes", lambda: True)
    hand_in.options("frame_strap")
    assert "<details>" not in shown[0]["text/html"]
    assert "<details>" in shown[1]["text/html"]
    assert shown[0]["text/plain"] == shown[1]["text/plain"]


def test_several_lessons_at_once(shown: list[dict]) -> None:
    heater, air = hand_in.job_cards(LESSON, "08_air_and_drying")
    assert (heater.lesson, air.lesson) == (LESSON, "08_air_and_drying")
    assert heater == hand_in.sheet(LESSON).card("demo-01")
    hand_in.hand_in("cleaning", "a b")
    hand_in.hand_in("element_current", "7.88 A")
    assert [one[MIME]["question"] for one in shown] == ["cleaning", "element_current"]
    hand_in.options("lint_found")
    hand_in.before_you_hand_in("element_current", "lint_found")
    text = shown[-1]["text/plain"]
    assert "1. Current of coil 1: answered and saved" in text
    title = hand_in.sheet("08_air_and_drying").question("lint_found").title
    assert f"2. {title}: not answered yet" in text
    assert "Restart" not in text
    with pytest.raises(UnknownQuestionError, match="has no question called 'make_dead'"):
        hand_in.hand_in("make_dead", "x")


def test_the_note_for_the_board_tells_the_same_answer_from_another(
    shown: list[dict], monkeypatch: pytest.MonkeyPatch
) -> None:
    noted: list[dict] = []
    monkeypatch.setattr(hand_in, "note", lambda kind, **more: noted.append(more) if kind == "answered" else None)

    def marks(lesson: str, name: str, *values: object) -> list[str]:
        noted.clear()
        for value in values:
            hand_in.job_card(lesson)
            hand_in.hand_in(name, value)
        assert [one["question"] for one in noted] == [name] * len(values)
        return [one["mark"] for one in noted]

    first, again, other = marks(LESSON, "element_current", "7.88 A", "7.88 A", "7.9 A")
    assert first == again != other
    card = hand_in.job_card("01_made_dead")
    benches = [open_bench(card) for _ in range(3)]
    for bench, acts in zip(benches, (["unplug"], ["unplug"], ["unplug", "plug_in"]), strict=True):
        for act in acts:
            bench.do(act)
    first, again, other = marks("01_made_dead", "make_dead", *benches)
    assert first == again != other
