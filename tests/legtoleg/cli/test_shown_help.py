"""The help of every command, and the card, questions and options of every lesson, are in the words of the shop."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
import typer

from dryerbench.registry import SHEETS, sheet
from legtoleg.cli.command import app

sys.path.insert(0, str(Path(__file__).parents[2]))

from shop_words import unsaid

APPRENTICES = ("practice", "ada-01", "bo-02", "cy-03")


def helps(group: click.Command, words: str = "legtoleg") -> Iterator[tuple[str, str]]:
    """Yield each command with its help, and with the help of its options; hidden ones are old names."""
    yield words, group.help or ""
    for one in group.params:
        yield words, getattr(one, "help", "") or ""
    for name, command in getattr(group, "commands", {}).items():
        if not command.hidden:
            yield from helps(command, f"{words} {name}")


HELPS = list(helps(typer.main.get_command(app)))


def test_the_help_of_every_command_is_in_the_words_of_the_shop() -> None:
    assert len({words for words, _ in HELPS}) > 40
    assert any("dryer" in said for _, said in HELPS)
    assert not [(words, found) for words, said in HELPS if (found := unsaid(said))]


@pytest.mark.parametrize("lesson", SHEETS)
def test_what_a_lesson_deals_and_asks_is_in_the_words_of_the_shop(lesson: str) -> None:
    paper = sheet(lesson)
    for apprentice in APPRENTICES:
        card = paper.card(apprentice)
        said = [repr(card), *(question.title for question in paper.questions)]
        for question in paper.questions:
            options = getattr(question, "options", ())
            said += [option.text for option in (options(card) if callable(options) else options)]
            said += [row.label for row in getattr(question, "rows", ())]
        assert len(said) > 5
        assert not [(words, found) for words in said if (found := unsaid(words))]
