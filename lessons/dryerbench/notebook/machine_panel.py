"""The panel on a page: it sends what was pressed, Python does it and sends the drawing back."""

from __future__ import annotations

import contextlib
import weakref
from pathlib import Path
from threading import RLock
from typing import Protocol

import anywidget
import traitlets
from IPython.core.getipython import get_ipython

from dryerbench.bench.bench import Bench
from dryerbench.core.errors import LegToLegError
from dryerbench.notebook.class_link import note
from dryerbench.notebook.machine_desk import MachineDesk
from dryerbench.notebook.machine_names import own_names
from dryerbench.notebook.machine_scene import Look, Shown
from dryerbench.notebook.panel_lists import ALL, Lists

SCRIPT = "\n".join(
    Path(__file__).with_name(name).read_text(encoding="utf-8")
    for name in ("panel_targets.js", "panel_zoom.js", "panel_motion.js", "panel_lists.js", "machine_panel.js")
)
"""What runs on the page: a widget has one script, this one is written in five files."""


class Desk(Protocol):
    """What a panel needs: the desk of a bench in this kernel, or the line to one that is elsewhere."""

    @property
    def acts(self) -> int:
        """How many acts the job has by now."""

    @property
    def trouble(self) -> str:
        """Why acts are not kept just now, in a sentence; empty if they are."""

    def menu(self) -> dict[str, object]:
        """Return what does not change while one works."""

    def ask(self, content: object) -> str:
        """Do what a page asks for and return what is said; a ``LegToLegError`` says why it cannot be done."""

    def shown(self) -> Shown:
        """Return what a page shows of the bench as it now is."""


class Panel(anywidget.AnyWidget):  # type: ignore[misc]
    """The panel of one desk: it takes what the page sends, has it done, and shows the bench again."""

    _esm = SCRIPT
    _css = Path(__file__).with_name("machine_panel.css")
    menu = traitlets.Dict().tag(sync=True)
    drawing = traitlets.Dict().tag(sync=True)
    faces = traitlets.List().tag(sync=True)
    view = traitlets.Dict().tag(sync=True)

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._heard: set[tuple[str, int]] = set()
        self._one_at_a_time = RLock()
        super().__init__(menu=desk.menu())
        self._refresh()
        self.on_msg(lambda _, content, __: self.receive(content))
        follow_code(self)

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return dict(view)

    def receive(self, content: object) -> None:
        """Do what the page asks for; what cannot be done is said in one line.

        A page sends a press again that is not answered; it is done once. Presses come by a thread of their own while
        a cell runs, and wait for each other.
        """
        turn, page = _press_of(content)
        with self._one_at_a_time:
            if page and (page, turn) in self._heard:
                self.view = {**self.view, "turn": turn, "page": page}
                self.send_state(["drawing", "faces", "view"])
                return
            self._heard.add((page, turn))
            self._answer(content, turn, page)

    def _answer(self, content: object, turn: int, page: str) -> None:
        said, refused = "", False
        note("bench")
        try:
            said = self.desk.ask(content)
        except LegToLegError as error:
            said, refused = str(error), True
        said = " ".join(filter(None, [said, self.desk.trouble]))
        self._refresh(said=said, refused=refused, turn=turn, page=page)

    def _refresh(self, *, said: str = "", refused: bool = False, turn: int = 0, page: str = "") -> None:
        """Show the bench as it now is."""
        shown = self.desk.shown()
        self.seen = self.desk.acts
        with self.hold_sync():
            self.drawing, self.faces = shown["drawing"], shown["faces"]
            self.view = {**shown["view"], "said": said, "refused": refused, "turn": turn, "page": page}

    def follow(self) -> None:
        """Show the bench again if something was done to it by code."""
        with self._one_at_a_time:
            if self.seen != self.desk.acts:
                self._refresh()


def _press_of(content: object) -> tuple[int, str]:
    """Return the number of a press and the page that sent it; 0 and nothing where it says none."""
    turn, page = (content.get("turn"), content.get("page")) if isinstance(content, dict) else (0, "")
    return (turn if isinstance(turn, int) else 0), (page if isinstance(page, str) else "")


class MachinePanel(Panel):
    """The panel of a bench in this kernel; ``named``: terminals and wires have the bench's names on the page.

    In ``practice`` the wiring sheet and the machine mark the part that was picked in the other.
    """

    desk: MachineDesk

    def __init__(self, bench: Bench, lists: Lists = ALL, *, named: bool = True, practice: bool = False) -> None:
        self.bench, self.names = bench, own_names(bench, named=named)
        super().__init__(MachineDesk(self.names, lists, practice=practice))

    @property
    def look(self) -> Look:
        """Where one looks, and where the tips are."""
        return self.desk.look


def follow_code(panel: Panel) -> None:
    """Let ``panel`` look at its bench after every cell that runs, as long as there is such a panel."""
    shell = get_ipython()
    if shell is None:
        return
    known = weakref.ref(panel)

    def look(*_: object) -> None:
        there = known()
        if there is not None:
            there.follow()
            return
        with contextlib.suppress(ValueError):
            shell.events.unregister("post_run_cell", look)

    shell.events.register("post_run_cell", look)
