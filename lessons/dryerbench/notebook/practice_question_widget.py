"""Practice questions in a notebook: a practice card in the box of a graded question, judged at once, not recorded."""

from __future__ import annotations

import os
from html import escape
from pathlib import Path

import anywidget
import traitlets

from dryerbench.answers.units import commensurable, convert
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.course.job_card import JobCard
from dryerbench.course.practice_question import (
    MOST_NUMBERS,
    Go,
    LettersGo,
    Missed,
    ReadingsGo,
    as_asked,
    practice_card,
)
from dryerbench.course.questions import AnyQuestion, Lettered, Readings
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook import answer_box
from dryerbench.notebook.answer_box import menu_of, sent_value
from dryerbench.notebook.forms import receive
from dryerbench.notebook.practice_verdict import Verdict
from dryerbench.registry import SLIPS, question_to_practice

_MOST_SAID = 3
"""Mistakes that are named at once; the rest waits for the next try."""


class PracticeCard:
    """One practice card before the graded question ``name``: what it tells, what it asks, how an answer is judged."""

    def __init__(self, name: str, number: int = 1) -> None:
        spec, practice = question_to_practice(name)
        self.name, self.number, self.read = name, number, practice.read
        self.go: Go = practice.go(name, number)
        self.card: JobCard = practice_card(spec.lesson, number)
        self.question: AnyQuestion = as_asked(spec.question(name), self.go)

    @property
    def told(self) -> str:
        """What the box says above the answer."""
        return f"Practice card {self.number}, not graded. {self.go.told}"

    @property
    def text(self) -> str:
        """The whole card as text, for a page without a box."""
        lines: list[str] = []
        if isinstance(self.question, Lettered):
            lines = [f"  {letter}  {option.text}" for letter, option in self.question.lettered(self.card).items()]
        elif isinstance(self.question, Readings):
            lines = [f"  {row.label}: ____ {row.unit}" for row in self.question.rows]
        return "\n".join([self.told, f"Answer {self.question.asked}.", *lines])

    def judge(self, value: object) -> Verdict:
        """Return what is said to ``value``; what cannot be read is asked about."""
        try:
            record = receive(self.question, self.card, value).record
        except UnreadableAnswerError as error:
            return Verdict(False, f"Answer {self.question.asked}." if error.reason == "blank" else str(error))
        missed = self._missed(record)
        if not missed:
            return Verdict(True, f"Right. {self.go.why}".rstrip())
        slips = tuple(dict.fromkeys(one.slip for one in missed if one.slip in SLIPS))
        return Verdict(False, self._said(missed), slips)

    def _missed(self, record: dict[str, object]) -> tuple[Missed, ...]:
        if isinstance(self.go, LettersGo) and isinstance(self.question, Lettered):
            options = self.question.lettered(self.card)
            return self.go.missed([options[letter].key for letter in str(record["letters"])])
        if isinstance(self.go, ReadingsGo):
            rows = record["rows"]
            return self.go.missed(_numbers(rows if isinstance(rows, dict) else {}, self.go))
        return ()

    def _said(self, missed: tuple[Missed, ...]) -> str:
        lines: list[str] = []
        told: set[str] = set()
        for one in missed[:_MOST_SAID]:
            why = SLIPS[one.slip].says if one.slip in SLIPS else one.slip or "Work this one again."
            lines.append(one.about if one.slip in told else f"{one.about} {why}".strip())
            told.add(one.slip)
        if len(missed) > _MOST_SAID:
            lines.append("There is more. Put these right first.")
        parts = dict.fromkeys([SLIPS[one.slip].cure for one in missed[:_MOST_SAID] if one.slip in SLIPS] or [self.read])
        named = " and ".join(f"“{part}”" for part in parts)
        return "\n".join(["Not yet.", *lines, f"Read again: {named}."])


def _numbers(rows: dict[str, dict[str, object]], go: ReadingsGo) -> dict[str, float | None]:
    """Return what was typed in each line that can be read, in the line's unit; None for OL."""
    found: dict[str, float | None] = {}
    for row in go.rows:
        kind, number, unit = (rows.get(row.key, {}).get(name) for name in ("kind", "magnitude", "unit"))
        if kind == "over_limit":
            found[row.key] = None
        elif isinstance(number, float | int) and commensurable(str(unit), row.unit):
            found[row.key] = convert(float(number), str(unit), row.unit)
    return found


class PracticeBox(anywidget.AnyWidget):  # type: ignore[misc]
    """The box of a practice card, with a button that judges it and one that deals another card."""

    _esm = Path(answer_box.__file__).with_suffix(".js")
    menu = traitlets.Dict().tag(sync=True)
    said = traitlets.Unicode().tag(sync=True)
    fine = traitlets.Bool(default_value=False).tag(sync=True)
    turn = traitlets.Int(default_value=0).tag(sync=True)

    def __init__(self, name: str, number: int = 1) -> None:
        self.practiced = PracticeCard(name, number)
        super().__init__(menu=self._menu())
        self.on_msg(lambda _, content, __: self.receive(content))

    def _menu(self) -> dict[str, object]:
        one = self.practiced
        return {**menu_of(one.question, one.card), "practice": one.number, "told": one.told}

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return {**view, "text/plain": self.practiced.text}

    def receive(self, content: object) -> None:
        """Take what the page sends: an answer to judge, or the wish for another card."""
        asked = content if isinstance(content, dict) else {}
        with self.hold_sync():
            if asked.get("another") is True:
                self.practiced = PracticeCard(self.practiced.name, self.practiced.number % MOST_NUMBERS + 1)
                self.menu, self.said, self.fine = self._menu(), "", False
            else:
                verdict = self.practiced.judge(sent_value(content))
                self.said, self.fine = f"{'✓' if verdict.right else '→'} {verdict.says}", verdict.right
            turn = asked.get("turn")
            self.turn = turn if isinstance(turn, int) else 0


def practice_question(name: str, number: int = 1) -> None:
    """Show the practice before the graded question ``name``; another ``number`` is another card.

    Raises
    ------
    NoPracticeQuestionError
        If there is no practice of that name, or ``number`` is no whole number from 1 on.
    """
    if os.environ.get(MODE, "live") == "live":
        show_bundle(PracticeBox(name, number).bundle())
        return
    text = PracticeCard(name, number).text
    lines = "".join(f"<div style='white-space:pre-wrap'>{escape(line)}</div>" for line in text.splitlines())
    show_bundle({"text/plain": text, "text/html": message_box(lines)})
