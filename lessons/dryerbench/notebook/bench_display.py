"""The bench on the page: the panel where a kernel is live, a still picture and words where none is."""

from __future__ import annotations

import os

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import BenchError, machine_on
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.notebook.bench_view import words_of
from dryerbench.notebook.machine_names import own_names
from dryerbench.notebook.machine_scene import still_machine
from dryerbench.notebook.panel_lists import lists_of
from dryerbench.notebook.sealed_bench import SealedBench


def show_bench(
    bench: Bench | SealedBench, lesson: str = "", *, named: bool | None = None, practice: bool = False
) -> None:
    """Show the panel of ``bench``: the machine as it stands there, the meter, the acts, the trail.

    In a ``lesson`` the panel has the lists of acts that the lesson needs, elsewhere all. ``named`` shows the names of
    terminals and wires: if nothing is said, on the lessons' own dryer, and on no other. In ``practice`` the wiring
    sheet and the machine mark the part that was picked in the other; in graded work neither does.

    Everything done there is done on ``bench`` itself, as by code. Without a live kernel: a still picture and words.

    Raises
    ------
    BenchError
        If ``bench`` is no bench.
    """
    if isinstance(bench, SealedBench):
        _show_sealed(bench)
        return
    if not isinstance(bench, Bench):
        raise BenchError("Give show_bench the bench: show_bench(bench).")
    mode = os.environ.get(MODE, "live")
    lessons_own = machine_on(bench).stands is None
    shown = lessons_own if named is None else named
    bundle: dict[str, object] = {"text/plain": words_of(bench, own_names(bench, named=shown))}
    if mode == "live":
        from dryerbench.notebook.machine_panel import MachinePanel

        bundle = {**MachinePanel(bench, lists_of(lesson), named=shown, practice=practice).bundle(), **bundle}
    if mode != "words":
        bundle["image/svg+xml"] = still_machine(bench)
    show_bundle(bundle)


def _show_sealed(bench: SealedBench) -> None:
    bundle: dict[str, object] = {"text/plain": bench.words()}
    if os.environ.get(MODE, "live") == "live":
        from dryerbench.notebook.far_desk import FarDesk
        from dryerbench.notebook.machine_panel import Panel

        bundle = {**Panel(FarDesk(bench)).bundle(), **bundle}
    show_bundle(bundle)
