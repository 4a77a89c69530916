"""Owners: the kit's mark, then the name; a doubt is asked about, never guessed."""

from __future__ import annotations

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_notebook

from legtoleg.authoring.building import built_path
from legtoleg.intake.inbox import ReceivedFile
from legtoleg.intake.notebook_repair import RepairedNotebook, repair
from legtoleg.intake.ownership import lesson_of, owner_of
from legtoleg.intake.roster import Person

PEOPLE = [Person("ada-01", "Ada Demo"), Person("ada-011", "Ida Demo"), Person("bo", "Bo von Demo")]
LESSONS = ["01_made_dead", "03_heater_power"]


def rescued(*claims: str) -> RepairedNotebook:
    return RepairedNotebook(new_notebook(), [], frozenset(claims))


@pytest.mark.parametrize(
    ("name", "kit_id", "claims", "who"),
    [
        ("x.ipynb", "ada-01", (), "ada-01"),
        ("x.ipynb", "", ("bo",), "bo"),
        ("ada-01.ipynb", "ada-01", ("ada-01",), "ada-01"),
        ("ADA-011 late.ipynb", "", (), "ada-011"),
        ("bo.ipynb", "", (), "bo"),
        ("hand in/von demo bo.zip: 03.ipynb", "", (), "bo"),
        ("bo_von_demo.ipynb", "", (), "bo"),
        ("bottom.ipynb", "", (), ""),
        ("ada-01 and bo.ipynb", "", (), ""),
        ("bo.ipynb", "ada-01", (), ""),
        ("x.ipynb", "ada-01", ("bo",), ""),
        ("x.ipynb", "zed", (), ""),
    ],
)
def test_whose(name: str, kit_id: str, claims: tuple[str, ...], who: str) -> None:
    owner = owner_of(ReceivedFile(name, kit_id=kit_id), rescued(*claims), PEOPLE)
    assert owner.apprentice == who
    assert bool(owner.doubt) == (who == "")


def test_what_the_instructor_says_settles_it() -> None:
    assert (
        owner_of(ReceivedFile("bo.ipynb", kit_id="ada-01"), rescued("zed"), PEOPLE, "ada-011").apprentice == "ada-011"
    )


@pytest.mark.parametrize("lesson", LESSONS)
def test_which_lesson_by_its_cells_whatever_its_name(lesson: str) -> None:
    whole = repair(built_path(lesson).read_bytes())
    assert lesson_of(whole, "anything.ipynb", LESSONS) == lesson
    for cell in whole.notebook.cells:
        cell.metadata = {}
    assert lesson_of(whole, "anything.ipynb", LESSONS) == lesson


def test_which_lesson_by_stamp_or_name_or_not_at_all() -> None:
    empty = RepairedNotebook(new_notebook(cells=[new_code_cell("1")]), [], frozenset(), "01_made_dead")
    assert lesson_of(empty, "x.ipynb", LESSONS) == "01_made_dead"
    assert lesson_of(rescued(), "my 03_heater_power (2).ipynb", LESSONS) == "03_heater_power"
    assert lesson_of(rescued(), "x.ipynb", LESSONS) == ""
    nbformat.validate(empty.notebook)
