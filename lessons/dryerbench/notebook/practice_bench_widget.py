"""A practice bench in a notebook: the job, the bench on another machine, every mistake named at once, a check."""

from __future__ import annotations

import os
from html import escape

from dryerbench.bench.bench import Bench
from dryerbench.bench.placement import placement_of
from dryerbench.course.practice_bench import Job, PracticeBench
from dryerbench.drawing.interactive_figure import MODE, show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.family.tech_sheet import sheet_lines
from dryerbench.notebook.bench_display import show_bench
from dryerbench.notebook.kept_bench import KeptBench, kept_bench
from dryerbench.notebook.widget_row import widget_row
from dryerbench.registry import bench_to_practice, lesson_of

SHEET_HELPS = "Press a part on the wiring sheet: rings show its terminals in the machine until you pick another part."


class PracticeBenchPad:
    """The buttons around one practice bench, and the line that names a mistake as soon as it is made."""

    def __init__(self, kind: PracticeBench, job: Job, bench: Bench) -> None:
        import ipywidgets as widgets

        self.kind, self.job, self.bench = kind, job, bench
        self._known = len(bench.findings)
        self.at_once, self.says = widgets.HTML(), widgets.HTML()
        self.sheet = widgets.Button(description="Tech sheet", layout=widgets.Layout(width="9em"))
        self.check = widgets.Button(description="Check the job", layout=widgets.Layout(width="10em"))
        row = [self.sheet, self.check]
        self.fault = widgets.Dropdown(
            options=list(job.offers or ()),
            description="The fault is",
            layout=widgets.Layout(width="32em", max_width="98%"),
        )
        self.name = widgets.Button(description="Name it", layout=widgets.Layout(width="8em"))
        if job.offers:
            row += [self.fault, self.name]
        line = widget_row(*row)
        self.view = widgets.VBox([self.at_once, line, self.says])
        self.sheet.on_click(lambda _: self.say("\n".join(sheet_lines(job.made, placement_of(job.machine).marks))))
        self.check.on_click(lambda _: self.say(kind.checked(job, bench)))
        self.name.on_click(lambda _: self.say(kind.named(job, bench, str(self.fault.value))))
        if isinstance(bench, KeptBench):
            bench.follow(self.look)

    def say(self, words: str) -> None:
        """Show ``words``, line by line."""
        lines = "".join(f"<div style='white-space:pre-wrap'>{escape(line)}</div>" for line in words.splitlines())
        self.says.value = message_box(lines)

    def look(self) -> None:
        """Name what the last act did wrong; say nothing if it did nothing wrong."""
        there = self.bench.findings
        new, self._known = there[self._known :], len(there)
        words = " ".join(dict.fromkeys(str(one) for one in new))
        self.at_once.value = message_box(escape(words), heading="At once: ", fine=False) if words else ""


def practice_bench(name: str, number: int = 1) -> None:
    """Show the practice bench before the graded question ``name``; another ``number`` is another dryer.

    Raises
    ------
    NoPracticeBenchError
        If there is none of that name, or ``number`` is no whole number from 1 on.
    """
    kind = bench_to_practice(name)
    job = kind.job(number)
    bench = kept_bench(job.bench, "practice_calls", f"practice-bench/{name}/{number}", number)
    words = f"Practice dryer {number}, not graded: {job.made.name}, {job.machine.cord} cord. {kind.task} {SHEET_HELPS}"
    show_bundle({"text/plain": words, "text/html": message_box(escape(words))})
    show_bench(bench, lesson_of(name), named=True, practice=True)
    if os.environ.get(MODE, "live") == "live":
        view: dict[str, object] = PracticeBenchPad(kind, job, bench).view._repr_mimebundle_()
        show_bundle({**view, "text/plain": "Tech sheet, check the job."})
