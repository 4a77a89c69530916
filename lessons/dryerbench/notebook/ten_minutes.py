"""Ten minutes a day in a notebook: today's cards one after the other, what is solid and what is fading."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from datetime import UTC, date, datetime
from functools import partial
from html import escape
from pathlib import Path

from fsrs import Rating

from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.practice_widget import check_dealt
from dryerbench.notebook.progress import MISSED, Progress, load, root
from dryerbench.notebook.widget_row import widget_row
from dryerbench.recall.cards import Card, cards
from dryerbench.recall.daily_set import Asked, Missed, standing, todays_set
from dryerbench.recall.memory import Memory
from dryerbench.recall.review_log import FILE, Review, add
from dryerbench.recall.review_log import load as load_reviews
from dryerbench.recall.sums import dealt
from dryerbench.registry import SHEETS

KNEW = (("Did not know it", Rating.Again), ("Knew it, with effort", Rating.Hard), ("Knew it", Rating.Good))
"""What somebody says of a recall question after reading the answer."""

_TEXT = "<div style='font-size:1.05em;line-height:1.45;padding:0.3em 0;max-width:58em'>{}</div>"


def begun(progress: Progress) -> set[str]:
    """Return the lessons in which anything was practiced, answered or signed off, and every lesson before them."""
    order = list(SHEETS)
    lessons = {one.lesson for one in cards().values() if one.name in progress.practiced}
    reached = [order.index(one) for one in {*lessons, *progress.answered, *progress.signed} if one in order]
    return set(order[: max(reached, default=-1) + 1])


def missed(folder: Path | None) -> dict[str, Missed]:
    """Return what graded work missed, by lesson, as the note in ``folder`` says; a damaged note counts as none."""
    try:
        content = json.loads((folder / MISSED).read_text(encoding="utf-8-sig")) if folder else {}
    except (OSError, ValueError):
        return {}
    found = {}
    for lesson, note in content.items() if isinstance(content, dict) else ():
        try:
            day, drills = date.fromisoformat(note["day"]), frozenset(map(str, note["drills"]))
            named = frozenset(map(str, note.get("cards", ())))
        except (KeyError, TypeError, ValueError):
            continue
        old = "cards" not in note  # a note from before missed questions named cards
        found[str(lesson)] = Missed(day, drills | named, old and note.get("safety") is True)
    return found


class Sitting:
    """One sitting: today's cards, and how each went; without widgets, so that it can be tested and read aloud."""

    def __init__(self, folder: Path | None, now: Callable[[], datetime]) -> None:
        self.folder, self.now = folder, now
        self.path = folder / FILE if folder else None
        self.memory = Memory(load_reviews(self.path) if self.path else ())
        self.begun = begun(load(folder)) if folder else set(SHEETS)
        self.set = todays_set(cards(), self.memory, now(), begun=self.begun, missed=missed(folder))
        self.place, self.kept = 0, True

    @property
    def asked(self) -> Asked | None:
        """The card that is asked now; None at the end."""
        return self.set[self.place] if self.place < len(self.set) else None

    def turn(self, card: Card) -> int:
        """Return which numbers a drill deals: others each time that it is asked, and none of the lesson's own first."""
        return 1001 + self.memory.asked(card.name)

    def went(self, rating: Rating) -> None:
        """Note how the card went, and go on to the next."""
        if self.asked is None:
            return
        review = Review(self.asked.card.name, self.now().astimezone(UTC), rating)
        self.memory.note(review)
        self.kept = bool(self.path and add(self.path, review))
        self.place += 1

    def standing_words(self) -> str:
        """Return in words what is solid, known, fading and never asked."""
        now = standing(cards(), self.memory, self.now(), begun=self.begun)
        return f"Solid: {now.solid} · known for now: {now.known} · fading: {now.fading} · never asked: {now.never}."

    def words(self) -> str:
        """Return today's set as plain text, a line for each card."""
        lines = [f"{n}. {_asks(self, one.card)} ({one.why})" for n, one in enumerate(self.set, 1)]
        return "\n".join([f"Ten minutes today: {len(self.set)} cards. {self.standing_words()}", *lines])


def _asks(sitting: Sitting, card: Card) -> str:
    chosen = dealt(card.name) if card.is_drill else None
    return chosen.ask(chosen.numbers(sitting.turn(card))) if chosen else card.asks


class TenMinutes:
    """The widgets of one sitting."""

    def __init__(self, sitting: Sitting) -> None:
        import ipywidgets as widgets

        self.sitting, self.tries = sitting, 0
        self.head, self.question, self.says = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.box = widgets.Text(placeholder="number and unit", description="Answer", continuous_update=False)
        wide = widgets.Layout(width="auto")
        words = ("Check it", "I don't know", "Show the answer", "Next card")
        self.check, self.give_up, self.show, self.next = (widgets.Button(description=one, layout=wide) for one in words)
        self.knew = [(widgets.Button(description=one, layout=wide), rating) for one, rating in KNEW]
        self.row = widget_row()
        self.view = widgets.VBox([self.head, self.question, self.row, self.says])
        self.check.on_click(lambda _: self.answer())
        self.box.observe(lambda _: self.answer(), "value")
        self.give_up.on_click(lambda _: self.close(Rating.Again))
        self.show.on_click(lambda _: self.reveal())
        self.next.on_click(lambda _: self.ask())
        for button, rating in self.knew:
            button.on_click(partial(self._knew, rating))
        self.ask()

    def _knew(self, rating: Rating, _: object) -> None:
        self.sitting.went(rating)
        self.ask()

    def ask(self) -> None:
        """Show the card that is asked now, or the end."""
        asked, self.tries = self.sitting.asked, 0
        self.says.value = ""
        if asked is None:
            self.head.value = f"<b>{'Done for today.' if self.sitting.set else 'Nothing to ask today.'}</b>"
            lost = "" if self.sitting.kept else " It could not be kept in this folder."
            self.question.value = _TEXT.format(escape(self.sitting.standing_words() + lost))
            self.row.children = ()
            return
        sign = " · ⚠ safety" if asked.card.safety else ""
        number = f"{self.sitting.place + 1} of {len(self.sitting.set)} · lesson {asked.card.lesson[:2]}{sign}"
        self.head.value = f"<b>{number}</b> · {escape(asked.why)}"
        self.question.value = _TEXT.format(escape(_asks(self.sitting, asked.card)))
        with self.box.hold_trait_notifications():
            self.box.value = ""
        self.row.children = (self.box, self.check, self.give_up) if asked.card.is_drill else (self.show,)

    def answer(self) -> None:
        """Say at once what is to be said to what was typed."""
        asked = self.sitting.asked
        if asked is None or not asked.card.is_drill or not self.box.value.strip() or self.next in self.row.children:
            return
        said = check_dealt(dealt(asked.card.name), self.box.value, self.sitting.turn(asked.card))
        self.says.value = message_box(
            f" {escape(said.says)}", sign="✓" if said.right else "→", fine=said.right, spoken=True
        )
        if said.right:
            self.close(Rating.Good if self.tries == 0 else Rating.Hard if self.tries == 1 else Rating.Again)
        elif said.slips or said.says.startswith("Not that"):
            self.tries += 1  # what only could not be read costs nothing

    def close(self, rating: Rating) -> None:
        """Note how a drill went; after giving up, say where to read."""
        asked = self.sitting.asked
        if asked is None:
            return
        if not self.says.value or rating is Rating.Again:
            words = f" Read lesson {asked.card.lesson[:2]} again for this. It comes back soon."
            self.says.value += message_box(words, sign="→", fine=False, spoken=True)
        self.sitting.went(rating)
        self.row.children = (self.next,)

    def reveal(self) -> None:
        """Show the answer of a recall question, and ask how it went."""
        if self.sitting.asked is not None:
            self.says.value = _TEXT.format(
                f"<span role='alert'><b>Answer:</b> {escape(self.sitting.asked.card.answer)}</span>"
            )
            self.row.children = tuple(button for button, _ in self.knew)


def ten_minutes() -> None:
    """Show today's cards: what this person missed and is about to forget, from the files of this computer."""
    sitting = Sitting(root(), lambda: datetime.now().astimezone())
    if os.environ.get(MODE, "live") != "live":
        show_bundle({"text/plain": "Ten minutes a day: open this page in Jupyter."})
        return
    made = TenMinutes(sitting)
    show_bundle({**made.view._repr_mimebundle_(), "text/plain": sitting.words()})
