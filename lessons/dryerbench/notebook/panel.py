"""The bench panel: a drawing to click in a notebook. Every act goes through ``Bench.do``, as it does by code."""

from __future__ import annotations

import contextlib
import weakref
from collections.abc import Sequence
from pathlib import Path
from typing import Generic, TypeVar

import anywidget
import traitlets
from IPython.core.getipython import get_ipython

from dryerbench.bench.bench import Bench
from dryerbench.core.errors import LegToLegError
from dryerbench.notebook.bench_view import NO_PROBES, act_words
from dryerbench.notebook.class_link import note
from dryerbench.notebook.forms import LONGEST_TRAIL
from dryerbench.notebook.kept_bench import KeptBench
from dryerbench.notebook.panel_bench import OwnBench, PanelBench

STRANGE = "The panel sent something that is not an act. Run the cell of the bench again."


B = TypeVar("B", bound=Bench | PanelBench)


class Panel(anywidget.AnyWidget, Generic[B]):  # type: ignore[misc]
    """What every panel of a bench does: it takes what the page sends, does it, and shows the bench again."""

    bench: B
    kept: KeptBench | None = None
    seen = -1
    """How long the trail was when it was shown last."""

    def begin(self) -> None:
        """Show the bench for the first time, and listen to the page and to code."""
        self.refresh()
        self.on_msg(lambda _, content, __: self.receive(content))
        follow_code(self)

    def bundle(self) -> dict[str, object]:
        """Return the widget as one output of a notebook's cell."""
        made = self._repr_mimebundle_()
        view: dict[str, object] = made[0] if isinstance(made, tuple) else made
        return dict(view)

    def receive(self, content: object) -> None:
        """Do what the page asks for; what cannot be done is said in one line."""
        said, refused = "", False
        note("bench")
        try:
            said = self._do(*_asked(content))
        except LegToLegError as error:
            said, refused = self.clean(str(error)), True
        turn = content.get("turn", 0) if isinstance(content, dict) else 0
        said = " ".join(filter(None, [said, self.kept.trouble if self.kept else ""]))
        self.refresh(said=said, refused=refused, turn=turn if isinstance(turn, int) else 0)

    def clean(self, said: str) -> str:
        """Return a refusal as the page may read it."""
        return said

    def check_length(self) -> None:
        """Pass while the job may have more acts.

        Raises
        ------
        LegToLegError
            If it has the most that one job may have.
        """
        if len(self.bench.trail) >= LONGEST_TRAIL:
            raise LegToLegError(f"{LONGEST_TRAIL} acts are the most that one job may have: start this machine again.")

    def _do(self, act: str, given: dict[str, object]) -> str:
        raise NotImplementedError

    def refresh(self, *, said: str = "", refused: bool = False, turn: int = 0) -> None:
        """Show the bench as it now is."""
        raise NotImplementedError

    def follow(self) -> None:
        """Show the bench again if something was done to it by code."""
        if self.seen != len(self.bench.trail):
            self.refresh()


def _asked(content: object) -> tuple[str, dict[str, object]]:
    act, given = (content.get("act"), content.get("with", {})) if isinstance(content, dict) else (None, None)
    if not isinstance(act, str) or not isinstance(given, dict):
        raise LegToLegError(STRANGE)
    return act, given


class BenchPanel(Panel[PanelBench]):
    """The panel of one bench. The page sends acts; after each one it gets the whole view back."""

    _esm = Path(__file__).with_name("panel.js")
    menu = traitlets.Dict().tag(sync=True)
    view = traitlets.Dict().tag(sync=True)

    def __init__(self, bench: Bench | PanelBench, more: Sequence[str] = ()) -> None:
        self.bench = OwnBench(bench) if isinstance(bench, Bench) else bench
        self.kept = bench if isinstance(bench, KeptBench) else None
        self.probes: dict[str, str | None] = dict(NO_PROBES)
        super().__init__(menu={**self.bench.menu(more), "kept": self.kept is not None})
        self.begin()

    def _do(self, act: str, given: dict[str, object]) -> str:
        if act == "start_again" and self.kept:
            self.probes = dict(NO_PROBES)
            return self.kept.start_again()
        self.check_length()
        if act == "place":
            return self._place(given)
        if act == "lift":
            self.probes = dict(NO_PROBES)
            return "Both probes are off."
        if act == "again":
            return self._read()
        record = self.bench.do(act, **{str(key): value for key, value in given.items()})
        return "; ".join(record["happened"]) or f"Done: {act_words(record)}."

    def _place(self, given: dict[str, object]) -> str:
        """Put one probe on a point (``alone``: the other stays where it is); with both in place the meter reads."""
        letter, point = given.get("probe"), given.get("point")
        if not isinstance(letter, str) or letter not in self.probes or not isinstance(point, str):
            raise LegToLegError(STRANGE)
        self.bench.reach(point)
        if letter == "A" and not given.get("alone"):
            self.probes["B"] = None
        self.probes[letter] = point
        other = self.probes["B" if letter == "A" else "A"]
        if other is None:
            return f"Probe {letter} is on {point}. Now the other one."
        return self._read()

    def _read(self) -> str:
        a, b = self.probes["A"], self.probes["B"]
        if a is None or b is None:
            raise LegToLegError("Put both probes on a point first.")
        record = self.bench.do("probe", a=a, b=b)
        return "; ".join(record["happened"])

    def refresh(self, *, said: str = "", refused: bool = False, turn: int = 0) -> None:
        """Show the bench as it now is."""
        for letter, point in self.probes.items():
            if point is not None and not self._reachable(point):
                self.probes[letter] = None
        self.seen = len(self.bench.trail)
        self.view = {**self.bench.view(self.probes), "said": said, "refused": refused, "turn": turn}

    def _reachable(self, point: str) -> bool:
        try:
            self.bench.reach(point)
        except LegToLegError:
            return False
        return True


def follow_code(panel: Panel[B]) -> None:
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
