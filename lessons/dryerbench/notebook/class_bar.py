"""The class bar: in a class, a lesson's buttons to hand the page in and to raise a hand."""

from __future__ import annotations

import os
import time
from datetime import datetime
from pathlib import Path

import anywidget
import traitlets

from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.notebook.class_link import ClassLink, Receipt, class_link

PAGE = "JPY_SESSION_NAME"
"""The environment variable in which a Jupyter server names the page that a kernel belongs to."""
_SAVING = 3.0
"""Seconds in which the page may be saved after the button was pressed."""


def page_of(lesson: str) -> Path:
    """Return the file of the page of ``lesson`` that this kernel belongs to."""
    named = Path(os.environ.get(PAGE, ""))
    return named if named.suffix == ".ipynb" else Path.cwd() / f"{lesson}.ipynb"


def saved_page(path: Path, seconds: float) -> tuple[bytes, datetime]:
    """Return the page as it is saved within ``seconds`` or was saved last, and when that was.

    Raises
    ------
    LegToLegError
        If there is no such file.
    """
    try:
        before = path.stat().st_mtime_ns
        until = time.monotonic() + seconds
        while path.stat().st_mtime_ns == before and time.monotonic() < until:
            time.sleep(0.05)
        time.sleep(0.05)
        return path.read_bytes(), datetime.fromtimestamp(path.stat().st_mtime).astimezone()
    except OSError:
        raise LegToLegError(f"The page {path.name} is not saved here: press Ctrl + S, then the button again.") from None


def receipt_words(receipt: Receipt, saved: datetime) -> str:
    """Return what is said of a hand-in."""
    came = datetime.fromisoformat(receipt.at).astimezone()
    return (
        f"Handed in: lesson {receipt.lesson[:2]}, number {receipt.number}, at {came:%H:%M:%S}, as the page was saved "
        f"at {saved:%H:%M:%S}.\nReceipt (SHA-256): {receipt.sha256}\n"
        "If an answer is newer than that, save (Ctrl + S) and press the button again. The last one counts."
    )


class ClassBar(anywidget.AnyWidget):  # type: ignore[misc]
    """The bar of one page."""

    _esm = Path(__file__).with_name("class_bar.js")
    said = traitlets.Unicode().tag(sync=True)
    hand = traitlets.Bool(default_value=False).tag(sync=True)
    fine = traitlets.Bool(default_value=True).tag(sync=True)
    busy = traitlets.Bool(default_value=False).tag(sync=True)

    def __init__(self, link: ClassLink, lesson: str) -> None:
        self._link, self._lesson = link, lesson
        super().__init__()
        state = link.state()
        self.hand = state.get("hand") is True
        self.said = _last_words(state, lesson)
        self.on_msg(lambda _, content, __: self.receive(content))

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return dict(view)

    def receive(self, content: object) -> None:
        """Do what a button asks for."""
        want = content.get("want") if isinstance(content, dict) else None
        if want == "hand":
            self.hand = not self.hand if self._link.note("hand", up=not self.hand) else self.hand
        elif want == "hand-in":
            self.busy = True
            try:
                content_, saved = saved_page(page_of(self._lesson), _SAVING)
                self.said, self.fine = receipt_words(self._link.hand_in(self._lesson, content_), saved), True
            except LegToLegError as error:
                self.said, self.fine = str(error), False
            self.busy = False


def _last_words(state: dict[str, object], lesson: str) -> str:
    receipts = state.get("receipts")
    last = receipts.get(lesson) if isinstance(receipts, dict) else None
    if not isinstance(last, dict):
        return "Nothing of this lesson was handed in yet."
    return f"Handed in last: number {last.get('number')}. Receipt (SHA-256): {last.get('sha256')}"


def show_class_bar(lesson: str) -> None:
    """Show the bar of ``lesson``, where there is a class."""
    link = class_link()
    if link is not None and os.environ.get(MODE, "live") == "live":
        words = "This page belongs to a class: hand it in, raise a hand."
        show_bundle({**ClassBar(link, lesson).bundle(), "text/plain": words})
