"""What a newcomer types wrong, walked over every command that can be typed so: one line, and nothing is entered."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import click
import pytest
import typer

from legtoleg.cli.command import app
from legtoleg.cohort import cohort_config
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.refresher.record.shop import Settings, Shop
from legtoleg.witness.witness_record import WitnessRecord

from .conftest import Typed

PEOPLE = "id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n"
LISTED = f"{PEOPLE}zed-03,Zed Demo\n"
IDS = ("--who", "--for", "--with", "--to", "--as", "--new-code")
ELSE = {
    "--lesson": "3",
    "--dryer": "electric, three coils",
    "--passed": "1-9",
    "--trigger": "change",
    "--reason": "another person",
    "--entry": "2",
    "--who": "ada-01",
    "--for": "ada-01",
    "--with": "ada-01",
    "--by": "Wanda Demo",
    "--shop": "nowhere",
    "test": "calls-1",
    "files": "test.ipynb",
    "file": "backup.zip",
    "out": "export",
}
"""What else is typed, so that the mistake is the only one."""


def commands(group: click.Command, words: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    if not hasattr(group, "commands"):
        yield words, group
        return
    for name, one in group.commands.items():
        yield from commands(one, (*words, name))


ALL = dict(commands(typer.main.get_command(app)))


def takes(command: click.Command, what: str) -> bool:
    """Tell whether the command works in a cohort's or a shop's folder: ``what`` is how its help calls it."""
    return any(one.name == "folder" and what in str(getattr(one, "help", "")) for one in command.params)


IN_COHORT = {words: one for words, one in ALL.items() if words != ("cohort",) and takes(one, "cohort's folder")}
IN_SHOP = {words: one for words, one in ALL.items() if takes(one, "The shop's folder")}


def line(words: tuple[str, ...], command: click.Command, folder: Path, **wrong: str) -> list[str]:
    """Return the command with all that it has to have, in ``folder``, and with what is ``wrong`` in place of that."""
    typed = list(words)
    given = {f"--{name.replace('_', '-')}": value for name, value in wrong.items()}
    for one in command.params:
        option, is_option = one.opts[0], one.param_type_name == "option"
        if one.name == "folder":
            typed.append(str(folder))
        elif option in given:
            typed += [option, given[option]]
        elif one.required or option == "--passed":
            typed += [option, ELSE[option]] if is_option else [str(folder / ELSE[str(one.name)])]
    return typed


@pytest.fixture
def cohort(tmp_path: Path) -> Path:
    folder = tmp_path / "spring"
    Cohort.make(folder, [])
    (folder / "roster.csv").write_text(PEOPLE)
    return folder


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    people = tmp_path / "people.csv"
    people.write_text(PEOPLE)
    return Shop.make(tmp_path / "shop", Settings("Demo shop", "UTC"), people).folder


def size(folder: Path) -> int:
    """Return how much stands in the records of hand-made entries."""
    found = [WitnessRecord(folder).entries()] if (folder / "witness.db").is_file() else []
    found += [Shop.at(folder).entries()] if (folder / "shop.toml").is_file() else []
    return sum(map(len, found))


@pytest.mark.parametrize("kind", ["cohort", "shop"])
@pytest.mark.parametrize("where", ["above", "inside", "nowhere", "a file"])
def test_the_wrong_folder_is_told_and_the_right_one_named(kind: str, where: str, typed: Typed, tmp_path: Path) -> None:
    mark, there = (cohort_config.FILE, IN_COHORT) if kind == "cohort" else ("shop.toml", IN_SHOP)
    right = tmp_path / "spring"
    (right / "pages").mkdir(parents=True)
    (right / mark).write_text("")
    wrong = {
        "above": tmp_path,
        "inside": right / "pages",
        "nowhere": tmp_path.parent / "nowhere",
        "a file": right / mark,
    }
    for words, command in there.items():
        code, said = typed(*line(words, command, wrong[where]))
        assert code == 2, (words, said)
        assert len(said.splitlines()) == 1, (words, said)
        if words[0] != "witness":
            assert f"is not a {kind}'s folder" in said, (words, said)
            assert ("Make one with" if where == "nowhere" else str(right)) in said, (words, said)


@pytest.mark.parametrize(
    ("words", "option"),
    [(words, option) for words, one in ALL.items() for each in one.params for option in each.opts if option in IDS],
)
def test_an_id_with_a_slip_is_told_with_the_one_that_was_meant(
    words: tuple[str, ...], option: str, typed: Typed, cohort: Path, shop: Path
) -> None:
    if words[-1] in ("entries", "close"):
        pytest.skip("it asks the ledger or the test who there was, not the list of people")
    ELSE["--shop"] = str(shop)
    folder = shop if words in IN_SHOP else cohort
    wrong = {option.strip("-").replace("-", "_"): "ada-1"}
    code, said = typed(*line(words, ALL[words], folder, **wrong))
    assert code == 2, said
    assert len(said.splitlines()) == 1, said
    assert "ada-1" in said
    if words != ("supervised", "refresher"):
        assert "Did you mean ada-01?" in said


def test_capitals_of_an_id_do_not_count(typed: Typed, cohort: Path, shop: Path) -> None:
    for folder in (cohort, shop):
        code, said = typed(*line(("witness", "seen"), ALL["witness", "seen"], folder, who="ADA-01"))
        assert (code, "for ada-01 on" in said) == (0, True), said
    for words in (("refresher", "call"), ("refresher", "worked")):
        code, said = typed(*line(words, ALL[words], shop, who="Ada-01"))
        assert (code, "for ada-01 on" in said) == (0, True), said
    code, said = typed("refresher", "issue", shop, "--to", "BO-02")
    assert (code, said.startswith("bo-02: try 1")) == (0, True), said
    assert {one.who for one in Shop.at(shop).entries()} == {"", "ada-01", "bo-02"}
    assert {one.who for one in WitnessRecord(shop).entries()} == {"", "ada-01"}


@pytest.mark.parametrize(
    "words", [words for words, one in ALL.items() for each in one.params if each.opts[0] == "--by" and each.required]
)
@pytest.mark.parametrize("by", ["", "  ", "\x1b\n"])
def test_nothing_is_entered_without_a_name(
    words: tuple[str, ...], by: str, typed: Typed, cohort: Path, shop: Path
) -> None:
    for folder in [shop] if words in IN_SHOP else [cohort, shop]:
        if words == ("witness", "correct"):
            seen = WitnessRecord(folder)
            seen.see("ada-01", "Wanda Demo", "electric", dict.fromkeys(map(str, range(1, 10)), True), seen.day(None))
        before = size(folder)
        code, said = typed(*line(words, ALL[words], folder, by=by))
        assert code == 2, said
        assert "--by" in said
        assert len(said.splitlines()) == 1
        assert size(folder) == before


def test_what_is_entered_by_hand_holds_no_control_character(typed: Typed, shop: Path) -> None:
    for words in (("refresher", "call"), ("refresher", "worked"), ("refresher", "talked")):
        extra = {"note": "one\n\x1b[2Jtwo"} if words[1] != "worked" else {}
        code, said = typed(*line(words, ALL[words], shop, by="Wanda\n\x1b[2JDemo", **extra))
        assert code == 0, said
    for one in Shop.at(shop).entries()[1:]:
        assert one.data["by"] == "Wanda [2JDemo"
        assert str(one.data.get("note", "")) in ("", "one [2Jtwo")
    assert datetime.now(UTC).date() >= Shop.at(shop).entries()[0].on
