"""How long a drawing takes to follow its knob: made anew each time, beside kept and redrawn. Run by hand:

OPENBLAS_NUM_THREADS=1 python -m tests.benchmarks.bench_redraw
"""

from __future__ import annotations

import inspect
import io
import os
import statistics
import time
from collections.abc import Callable

from matplotlib.figure import Figure
from tests.dryerbench.machine_view.looks import PLATES

import dryerbench
from dryerbench.drawing import interactive_figure
from dryerbench.drawing.interactive_figure import Explorer, Places, Values

LEFT_OUT = (
    "show_path",
    "show_bench",
    "show_run",
    "show_cabinet",
    "show_second_sheet",
    *(f"show_{plate.__name__}" for plate in PLATES),
)
MOVES = 6
DOTS = 110


def asks(call: Callable[..., object]) -> bool:
    """Return whether ``call`` cannot be made without arguments, as what shows an apprentice's own machine cannot."""
    return any(one.default is one.empty for one in inspect.signature(call).parameters.values())


def caught() -> dict[str, Explorer]:
    """Return every explorer of the course by the name of its call."""
    found: dict[str, Explorer] = {}
    os.environ[interactive_figure.MODE] = "words"
    for name in dryerbench.__all__:
        if name.startswith("show_") and name not in LEFT_OUT and not asks(getattr(dryerbench, name)):
            Explorer.show = lambda self, name=name: found.setdefault(name, self)  # type: ignore[method-assign,misc]
            getattr(dryerbench, name)()
    return {name: explorer for name, explorer in found.items() if explorer.knobs}


def moves(explorer: Explorer) -> list[Values]:
    """Return some places of the first knob, on its steps."""
    knob = explorer.knobs[0]
    steps = round((knob.high - knob.low) / knob.step)
    return [
        {**explorer.start, knob.name: knob.low + knob.step * round(steps * (n + 1) / (MOVES + 1))} for n in range(MOVES)
    ]


def took(act: Callable[[], None]) -> float:
    """Return the milliseconds of this process's own time that ``act`` takes."""
    begun = time.process_time()
    act()
    return 1000.0 * (time.process_time() - begun)


def as_png(figure: Figure) -> None:
    """Make the picture that a page gets."""
    figure.savefig(io.BytesIO(), format="png", dpi=DOTS, pil_kwargs={"compress_level": 1})


def one(explorer: Explorer) -> tuple[float, float]:
    """Return the median milliseconds from a move to the picture ready to send: all made anew, and kept and redrawn."""
    kept = explorer.figure()
    places = Places.of(kept)
    kept.picture(DOTS)

    def anew(at: Values) -> None:
        figure = Figure(figsize=kept.get_size_inches(), dpi=100, layout="constrained")
        explorer.paint(figure, at)
        as_png(figure)

    def redrawn(at: Values) -> None:
        explorer.redraw(kept, at, places)
        kept.picture(DOTS)

    for at in moves(explorer):  # what is kept once computed is kept for both
        explorer.paint(explorer.figure(), at)
    pairs = [(took(lambda at=at: anew(at)), took(lambda at=at: redrawn(at))) for at in moves(explorer)]  # type: ignore[misc]
    return statistics.median(a for a, _ in pairs), statistics.median(b for _, b in pairs)


def main() -> None:
    """Print a line for each drawing, and the ratio over all."""
    ratios = []
    for name, explorer in caught().items():
        before, after = one(explorer)
        ratios.append(before / after)
        print(f"{name:22} made anew {before:6.1f} ms   redrawn {after:6.1f} ms   {before / after:4.2f} times")
    print(f"median ratio {statistics.median(ratios):.2f}")


if __name__ == "__main__":
    main()
