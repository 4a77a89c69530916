"""Practice in a notebook: a question, a box to type in, a hint at once, and new numbers as often as wanted."""

from __future__ import annotations

import os
from html import escape

from dryerbench.answers.parser import read
from dryerbench.core.errors import UnreadableAnswerError
from dryerbench.course.drills import Drill
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.class_link import note
from dryerbench.notebook.practice_verdict import Verdict, verdict
from dryerbench.notebook.progress import note_practiced
from dryerbench.notebook.widget_row import widget_row
from dryerbench.registry import drill


def check(name: str, typed: object, turn: int = 1) -> Verdict:
    """Return what is said to ``typed`` in the ``turn``-th go of ``name``; what cannot be read is asked about."""
    return check_dealt(drill(name), typed, turn)


def check_dealt(chosen: Drill, typed: object, turn: int) -> Verdict:
    """Return what is said to ``typed`` in the ``turn``-th go of ``chosen``; what cannot be read is asked about."""
    try:
        answer = read(typed)
    except UnreadableAnswerError as error:
        return Verdict(False, str(error))
    return verdict(chosen, chosen.numbers(turn), answer)


def _verdict_html(result: Verdict) -> str:
    return message_box(f" {escape(result.says)}", sign="✓" if result.right else "→", fine=result.right, spoken=True)


class Pad:
    """The widgets of one drill."""

    def __init__(self, name: str) -> None:
        import ipywidgets as widgets

        self.name, self.turn = name, 1
        self.question = widgets.HTML()
        self.box = widgets.Text(
            placeholder="number and unit",
            description="Answer",
            layout=widgets.Layout(width="20em"),
            continuous_update=False,
        )
        self.check = widgets.Button(description="Check it", layout=widgets.Layout(width="8em"))
        self.again = widgets.Button(description="New numbers", layout=widgets.Layout(width="9em"))
        self.says = widgets.HTML()
        self.view = widgets.VBox([self.question, widget_row(self.box, self.check, self.again), self.says])
        self.check.on_click(lambda _: self.answer())
        self.again.on_click(lambda _: self.next())
        self.box.observe(lambda _: self.answer(), "value")
        self.ask()

    def ask(self) -> None:
        """Show the question of this go."""
        chosen = drill(self.name)
        text = chosen.ask(chosen.numbers(self.turn))
        self.question.value = (
            f"<div style='font-size:1.05em;line-height:1.45;padding:0.3em 0;max-width:58em'>{escape(text)}</div>"
        )

    def answer(self) -> None:
        """Say what is to be said to what was typed."""
        if self.box.value.strip():
            said = check(self.name, self.box.value, self.turn)
            self.says.value = _verdict_html(said)
            note("practice", right=said.right)
            if said.right:
                note_practiced(self.name)

    def next(self) -> None:
        """Deal new numbers."""
        self.turn += 1
        self.says.value = ""
        self.box.value = ""
        self.ask()


def practice(name: str) -> None:
    """Show the drill ``name``: type an answer, press Enter, read what is said.

    Raises
    ------
    UnknownQuestionError
        If there is no drill of that name.
    """
    chosen = drill(name)
    text = chosen.ask(chosen.numbers(1))
    if os.environ.get(MODE, "live") != "live":
        show_bundle({"text/plain": f"Practice: {text}"})
        return
    pad = Pad(name)
    show_bundle({**pad.view._repr_mimebundle_(), "text/plain": f"Practice: {text}"})
