"""How long a drawing takes to follow its knob: laid out anew each time, beside put where it stood before. Run by hand:

OPENBLAS_NUM_THREADS=1 python tests/benchmarks/bench_redraw.py
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

from ipympl.backend_nbagg import Canvas, FigureManager

import dryerbench
from dryerbench.drawing.interactive_figure import Explorer, Places, Values

LEFT_OUT = ("show_path", "show_bench", "show_run")
MOVES = 6


def caught() -> dict[str, Explorer]:
    """Return every explorer of the course by the name of its call."""
    found: list[Explorer] = []
    Explorer.show = lambda self: found.append(self)  # type: ignore[method-assign]
    names = [name for name in dryerbench.__all__ if name.startswith("show_") and name not in LEFT_OUT]
    for name in names:
        getattr(dryerbench, name)()
    return dict(zip(names, found, strict=True))


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


def one(explorer: Explorer) -> tuple[float, float]:
    """Return the median milliseconds from a move to the picture ready to send: laid out anew, and put in place."""
    figure = explorer.figure()
    canvas = Canvas(figure)
    FigureManager(canvas, 0)
    places = Places.of(figure)
    canvas.draw()

    def anew(at: Values) -> None:
        figure.clear()
        figure.set_layout_engine("constrained")
        explorer.paint(figure, at)
        canvas.draw()

    def placed(at: Values) -> None:
        explorer.redraw(figure, at, places)
        canvas.draw()

    for at in moves(explorer):  # what is kept once computed is kept for both
        explorer.paint(explorer.figure(), at)
    pairs = [(took(lambda at=at: anew(at)), took(lambda at=at: placed(at))) for at in moves(explorer)]  # type: ignore[misc]
    return statistics.median(a for a, _ in pairs), statistics.median(b for _, b in pairs)


def main() -> None:
    """Print a line for each drawing, and the ratio over all."""
    ratios = []
    for name, explorer in caught().items():
        before, after = one(explorer)
        ratios.append(before / after)
        print(f"{name:22} laid out anew {before:6.1f} ms   put in place {after:6.1f} ms   {before / after:4.2f} times")
    print(f"median ratio {statistics.median(ratios):.2f}")


if __name__ == "__main__":
    main()
