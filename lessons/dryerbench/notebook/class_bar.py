"""The bar at the end of a page: a button to hand it in, to the class or as a file; in a class one to raise a hand."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import anywidget
import traitlets
from IPython.display import display

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import PRACTICE
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.notebook.class_link import ClassLink, Receipt, class_link, in_front
from dryerbench.notebook.class_news import ClassNews
from dryerbench.notebook.ready_page import completed, write_ready

PAGE = "JPY_SESSION_NAME"
"""The environment variable in which a Jupyter server names the page that a kernel belongs to."""
_FILE = "The button checks this page, saves it, makes the file to hand in, and says where that is."
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


@dataclass(frozen=True)
class Page:
    """What the bar asks of its page: whose it is, what is not in order yet, what was answered as outputs of cells."""

    apprentice: str
    lesson: str
    check: Callable[[], str]
    bundles: Callable[[], Mapping[str, Mapping[str, object]]]


def ready_words(path: Path, saved: datetime) -> str:
    """Return what is said of a file that was made to be handed in."""
    return (
        f"The file to hand in is made, from the page as it was saved at {saved:%H:%M:%S}: "
        f"{path.name} in the folder {path.parent.name}.\n"
        f"It is here: {path}\n"
        "Give that file to your instructor. If you change an answer, press the button again: it makes the file anew."
    )


class ClassBar(anywidget.AnyWidget):  # type: ignore[misc]
    """The bar of one page, or of the start page, which is not handed in.

    Without a ``link`` to a class the button makes a file to hand in. In a class the bar asks for its state every
    minute, shows what the instructor gave back since, and then calls ``on_news``.
    """

    _esm = Path(__file__).with_name("class_bar.js")
    said = traitlets.Unicode().tag(sync=True)
    hand = traitlets.Bool(default_value=False).tag(sync=True)
    fine = traitlets.Bool(default_value=True).tag(sync=True)
    busy = traitlets.Bool(default_value=False).tag(sync=True)
    in_class = traitlets.Bool(default_value=False).tag(sync=True)
    gives = traitlets.Bool(default_value=True).tag(sync=True)
    """Whether there is a page to hand in."""
    asked = traitlets.Int(0).tag(sync=True)
    """How often the class was asked: the page asks again when it has been answered."""

    def __init__(self, link: ClassLink | None, page: Page | None, on_news: Callable[[], None] = lambda: None) -> None:
        self._link, self._page, self._on_news = link, page, on_news
        super().__init__(in_class=link is not None, gives=page is not None)
        state = link.state() if link else {}
        self.news = ClassNews(state)
        self.hand = state.get("hand") is True
        if page is None:
            self.said = _trouble(state)
        else:
            self.said = _last_words(state, page.lesson) if link else _FILE
        self.on_msg(lambda _, content, __: self.receive(content))

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return dict(view)

    def receive(self, content: object) -> None:
        """Do what a button asks for."""
        want = content.get("want") if isinstance(content, dict) else None
        if want == "hand" and self._link is not None:
            self.hand = not self.hand if self._link.note("hand", up=not self.hand) else self.hand
        elif want == "state" and self._link is not None:
            self._look(self._link.state())
        elif want == "hand-in" and self._page is not None:
            self.busy = True
            try:
                said = [self._hand_in(self._page), self._page.check()]
                self.said, self.fine = "\n".join(filter(None, said)), True
            except LegToLegError as error:
                self.said, self.fine = str(error), False
            self.busy = False

    def _look(self, state: dict[str, object]) -> None:
        """Show how it stands now."""
        if state:
            self.hand = state.get("hand") is True
        if self.news.take(state):
            self._on_news()
        self.asked += 1

    def _hand_in(self, page: Page) -> str:
        """Hand the page in as it stands now, and return what is to be said of it."""
        if page.apprentice == PRACTICE:
            raise LegToLegError(
                "This is the practice dryer: nothing here can be handed in. Open this page from the folder of your kit."
            )
        file = page_of(page.lesson)
        content, saved = saved_page(file, _SAVING)
        whole = completed(content, page.bundles())
        if self._link is not None:
            return receipt_words(self._link.hand_in(page.lesson, whole), saved)
        stem = file.stem if page.apprentice in file.stem else f"{file.stem}-{page.apprentice}"
        return ready_words(write_ready(f"{stem}.ipynb", whole), saved)


def _trouble(state: dict[str, object]) -> str:
    return f"{state['trouble']}\n" if state.get("trouble") else ""


def _last_words(state: dict[str, object], lesson: str) -> str:
    receipts = state.get("receipts")
    last = receipts.get(lesson) if isinstance(receipts, dict) else None
    trouble = _trouble(state)
    if not isinstance(last, dict):
        return f"{trouble}Nothing of this lesson was handed in yet."
    return f"{trouble}Handed in last: number {last.get('number')}. Receipt (SHA-256): {last.get('sha256')}"


def show_class_bar(page: Page | None, on_news: Callable[[], None] = lambda: None) -> None:
    """Show the bar of ``page``, or of the start page, where somebody is at it; ``on_news`` is called with each news."""
    if not in_front():
        return

    def told() -> None:
        on_news()
        if line is not None:
            line.update(bar.news.bundle, raw=True)

    bar = ClassBar(class_link(), page, told)
    line = display(bar.news.bundle, raw=True, display_id=True) if bar.in_class else None
    show_bundle(
        {**bar.bundle(), "text/plain": "A button to hand this page in." if page else "A button for your class."}
    )
