"""Answer boxes: a question's answer typed or clicked on the page; the kernel reads it as it reads a code cell's."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import anywidget
import traitlets

from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, Lettered, Question, Readings
from dryerbench.notebook.answer_entry import AnswerEntry

_LONGEST = 400
"""Letters that one field may hold: more than any answer has."""


class AnswerBox(anywidget.AnyWidget):  # type: ignore[misc]
    """The box of one entry; ``changed`` is called after each answer."""

    _esm = Path(__file__).with_name("answer_box.js")
    menu = traitlets.Dict().tag(sync=True)
    value = traitlets.Instance(object, allow_none=True).tag(sync=True)
    said = traitlets.Unicode().tag(sync=True)
    fine = traitlets.Bool(default_value=False).tag(sync=True)
    boxed = traitlets.Bool(default_value=False).tag(sync=True)
    turn = traitlets.Int(default_value=0).tag(sync=True)

    def __init__(self, entry: AnswerEntry, changed: Callable[[AnswerEntry], None]) -> None:
        self.entry, self._changed = entry, changed
        super().__init__(menu=menu_of(entry.question, entry.card))
        self.refresh()
        entry.watched_by(self.refresh)
        self.on_msg(lambda _, content, __: self.receive(content))

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return {**view, "text/plain": "A box to answer in."}

    def receive(self, content: object) -> None:
        """Take what the page sends: a text, a dictionary of texts, or nothing to take the box's answer back."""
        self.entry.type_in(sent_value(content))
        self._changed(self.entry)
        turn = content.get("turn") if isinstance(content, dict) else None
        self.refresh(turn if isinstance(turn, int) else 0)

    def refresh(self, turn: int | None = None) -> None:
        """Show what the entry says now; ``turn`` is the page's own number of what it sent last."""
        taken = self.entry.taken
        with self.hold_sync():
            self.value, self.said = value_of(self.entry), taken.said
            self.fine, self.boxed = taken.fine, self.entry.by_box
            self.turn = self.turn if turn is None else turn


def sent_value(content: object) -> object:
    """Return what the page sent as an answer, cut to size: a text, a dictionary of texts, or None."""
    value = content.get("value") if isinstance(content, dict) else None
    if isinstance(value, dict):
        return {str(key)[:_LONGEST]: str(text)[:_LONGEST] for key, text in list(value.items())[:60]}
    return None if value is None else str(value)[:_LONGEST]


def menu_of(question: AnyQuestion, card: JobCard) -> dict[str, object]:
    """Return what the box of ``question`` offers on ``card``, as plain data: its kind, words, options, rows."""
    menu: dict[str, object] = {
        "name": question.name,
        "kind": question.kind,
        "title": question.title,
        "asked": question.asked,
    }
    if isinstance(question, Question):
        menu["placeholder"] = f"number and unit, or the sum ({question.unit})"
    if isinstance(question, Lettered):
        menu["options"] = [[letter, option.text] for letter, option in question.lettered(card).items()]
    if isinstance(question, Readings):
        menu["rows"] = [row.label for row in question.rows]
    return menu


def value_of(entry: AnswerEntry) -> object:
    """Return what a box shows as the answer of ``entry``: a text, letters in a row, or a text for each row."""
    record = entry.taken.record
    if isinstance(entry.question, Readings):
        rows = record.get("rows")
        found = rows if isinstance(rows, dict) else {}
        return {row.label: str(found.get(row.key, {}).get("typed", "")) for row in entry.question.rows}
    if isinstance(entry.question, Lettered):
        return str(record.get("letters") or (entry.typed if isinstance(entry.typed, str) else ""))
    return "" if record.get("kind") == "blank" else str(entry.typed if entry.typed is not None else record["typed"])
