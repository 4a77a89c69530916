"""The practice stand: one practice dryer after the other in the same place of a page, each kept as it was left.

A cell deals a series of dryers by their numbers. *Another dryer* shows the next number in place, *Dryer before* goes
back; the trail of each stays, and running the cell again shows the dryer that stood there last. A cell with another
number in its text begins at that number. Without a live kernel: the words and the bench of the first dryer.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from dryerbench.bench.bench import Bench
from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.bench_display import show_bench
from dryerbench.notebook.bench_view import words_of
from dryerbench.notebook.kept_bench import Keeper, keeper
from dryerbench.notebook.machine_names import own_names
from dryerbench.notebook.machine_scene import still_machine
from dryerbench.notebook.panel_lists import lists_of
from dryerbench.notebook.widget_row import widget_row

if TYPE_CHECKING:
    import ipywidgets as widgets

LOG = "practice_calls"
"""The work log of everything that is practiced on a bench."""


@dataclass(frozen=True)
class Dealt:
    """One dryer of a series: the words over it, also as HTML, a fresh bench, the buttons under it, and its panel's way.

    ``lesson``, ``named`` and ``practice`` are those of ``show_bench``.
    """

    words: str
    head: str
    fresh: Callable[[], Bench]
    buttons: Callable[[Bench], widgets.Widget]
    lesson: str = ""
    named: bool = True
    practice: bool = True


@dataclass(frozen=True)
class Series:
    """The dryers of one kind: how each is dealt by its number (from 1 on), and under what name they are kept."""

    deal: Callable[[int], Dealt]
    seed: str

    def kept_under(self, number: int) -> str:
        """Return the name under which the bench ``number`` is kept."""
        return f"{self.seed}/{number}"


class PracticeStand:
    """The widgets of one stand: the dryer that is shown, the buttons to the next and to the one before."""

    def __init__(self, series: Series, number: int, kept: Keeper) -> None:
        import ipywidgets as widgets

        self.series, self.number, self.kept = series, number, kept
        self.benches: dict[int, Bench] = {}
        self._shown: dict[int, list[widgets.Widget]] = {}
        self.another = widgets.Button(description="Another dryer", layout=widgets.Layout(width="10em"))
        self.before = widgets.Button(description="Dryer before", layout=widgets.Layout(width="10em"))
        self.says = widgets.HTML()
        self.view = widgets.VBox([], layout=widgets.Layout(overflow="visible"))
        self.another.on_click(lambda _: self.show(self.number + 1))
        self.before.on_click(lambda _: self.show(self.number - 1))
        self._put(number)

    def show(self, number: int) -> None:
        """Show the dryer ``number`` in place, say its number, and keep that it is shown; or say that there is none."""
        try:
            self._put(number)
        except LegToLegError as error:
            self.says.value = message_box(escape(str(error)), fine=False, spoken=True)
            return
        self.kept.note(self.series.seed, number)
        acts = len(self.benches[number].trail)
        left = f" as you left it, with {acts} act{'s' if acts > 1 else ''} done" if acts else ""
        self.says.value = message_box(f"This is dryer {number}{left}. The trail of each dryer is kept.", spoken=True)

    def _put(self, number: int) -> None:
        if number not in self._shown:
            self._shown[number] = self._made(number)
        self.number = number
        self.before.disabled = number <= 1
        head, panel, buttons = self._shown[number]
        self.view.children = [head, panel, widget_row(self.another, self.before), self.says, buttons]

    def _made(self, number: int) -> list[widgets.Widget]:
        import ipywidgets as widgets

        from dryerbench.notebook.machine_panel import MachinePanel

        dealt = self.series.deal(number)
        bench, said = self.kept.open(dealt.fresh, self.series.kept_under(number), number)
        self.benches[number] = bench
        head = widgets.HTML(dealt.head + (message_box(said) if said else ""))
        panel = MachinePanel(bench, lists_of(dealt.lesson), named=dealt.named, practice=dealt.practice)
        return [head, panel, dealt.buttons(bench)]


def show_series(series: Series, number: int) -> None:
    """Show the stand of ``series``: the dryer that this cell showed last, or ``number`` the first time.

    Raises
    ------
    LegToLegError
        If ``number`` is none that is dealt; it says which are.
    """
    dealt, kept = series.deal(number), keeper(LOG)
    if os.environ.get(MODE, "live") != "live":
        bench, _ = kept.open(dealt.fresh, series.kept_under(number), number)
        show_bundle({"text/plain": dealt.words, "text/html": dealt.head})
        show_bench(bench, dealt.lesson, named=dealt.named, practice=dealt.practice)
        return
    there = kept.last(series.seed) or number
    stand = PracticeStand(series, there, kept)
    dealt, bench = series.deal(there), stand.benches[there]
    words = f"{dealt.words}\n{words_of(bench, own_names(bench, named=dealt.named))}"
    view: dict[str, object] = stand.view._repr_mimebundle_()
    show_bundle({**view, "text/plain": words, "image/svg+xml": still_machine(bench)})
