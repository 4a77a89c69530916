"""Dealing again: another card, the marks of the last one kept, and what the apprentice's kit is told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from dryerbench.core.identity import TRIES
from dryerbench.registry import sheet
from legtoleg.cli.command import app
from legtoleg.cohort.cohort_folder import ROSTER, Cohort, CohortError
from legtoleg.cohort.dealing import deal_again
from legtoleg.cohort.signed_off_note import note_try
from legtoleg.core.try_ledger import ASKED, TRY, TryLedger

WHO, LESSON = "ada-01", "03_heater_power"


@pytest.fixture
def cohort(tmp_path: Path) -> Cohort:
    made = Cohort.make(tmp_path / "cohort", [])
    for lesson in (LESSON, "01_made_dead"):
        made.released(lesson).parent.mkdir(parents=True)
        made.released(lesson).touch()
    (made.folder / ROSTER).write_text("id,name\nada-01,Ada Demo\n", encoding="utf-8")
    return made


def marked(cohort: Cohort, number: int) -> None:
    notebook, page = cohort.autograded(WHO, LESSON), cohort.feedback(WHO, LESSON)
    for path in (notebook, page):
        path.parent.mkdir(parents=True, exist_ok=True)
    notebook.write_text(json.dumps({"cells": [], "metadata": {TRY: number}}), encoding="utf-8")
    page.write_text(f"page {number}", encoding="utf-8")


def told(cohort: Cohort) -> dict[str, int]:
    path = cohort.feedback(WHO, LESSON).parents[1] / TRIES
    return dict(json.loads(path.read_text(encoding="utf-8")))


def test_a_lesson_by_name_or_number_is_dealt_again_and_its_marks_are_kept(cohort: Cohort) -> None:
    marked(cohort, 1)
    assert deal_again(cohort, WHO, LESSON) == (LESSON, 2)
    marked(cohort, 2)
    assert deal_again(cohort, WHO, "3") == (LESSON, 3)
    ledger = TryLedger(cohort.folder)
    assert [deal.why for deal in ledger.deals(WHO, LESSON)] == [ASKED, ASKED]
    assert [ledger.kept(WHO, LESSON, number, ".html").read_text(encoding="utf-8") for number in (1, 2)] == [
        "page 1",
        "page 2",
    ]
    assert told(cohort) == {LESSON: 3}
    assert deal_again(cohort, WHO, "1") == ("01_made_dead", 2)
    assert told(cohort) == {LESSON: 3, "01_made_dead": 2}


@pytest.mark.parametrize(("who", "lesson"), [("nobody", LESSON), (WHO, "07_tracing"), (WHO, "0")])
def test_who_is_not_on_the_roster_and_what_is_no_lesson_is_said_and_nothing_dealt(
    cohort: Cohort, who: str, lesson: str
) -> None:
    with pytest.raises(CohortError):
        deal_again(cohort, who, lesson)
    assert not (cohort.folder / "tries").exists()


def test_the_command_says_which_card_and_where_the_file_is(cohort: Cohort) -> None:
    asked = ["deal-again", str(cohort.folder), "--who", WHO, "--lesson", "3"]
    result = CliRunner().invoke(app, asked)
    assert result.exit_code == 0, result.output
    said = " ".join(result.output.split())
    assert f"{WHO} gets card 2 of {LESSON}" in said
    assert TRIES in said
    assert TryLedger(cohort.folder).current(WHO, LESSON) == 2


def test_a_first_card_leaves_no_file_and_a_damaged_one_is_mended(tmp_path: Path) -> None:
    note_try(tmp_path, LESSON, 1)
    assert not (tmp_path / TRIES).exists()
    (tmp_path / TRIES).write_text("{", encoding="utf-8")
    note_try(tmp_path, LESSON, 2)
    assert json.loads((tmp_path / TRIES).read_text(encoding="utf-8")) == {LESSON: 2}


def test_another_card_has_other_numbers_and_other_letters_and_the_same_card_the_same() -> None:
    paper = sheet(LESSON)
    first, second = paper.card(WHO), paper.card(WHO, 2)
    assert [line.value for line in first.lines] != [line.value for line in second.lines]
    assert repr(paper.card(WHO, 2)) == repr(second)
    assert "card 2" in second.heading
    assert "card" not in first.heading.removeprefix("The dryer of")
    letters = sheet("02_two_legs").question("frame_strap")
    dealt = {
        tuple(option.key for option in letters.lettered(sheet("02_two_legs").card(WHO, number)).values())  # type: ignore[union-attr]
        for number in range(1, 20)
    }
    assert len(dealt) > 5
