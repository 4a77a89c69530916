"""A practice bench in a notebook: the job, the bench on another machine, every mistake named at once, a check."""

from __future__ import annotations

from functools import partial
from html import escape

from dryerbench.bench.bench import Bench
from dryerbench.bench.placement import placement_of
from dryerbench.course.practice_bench import Job, PracticeBench
from dryerbench.drawing.message_box import message_box
from dryerbench.family.tech_sheet import sheet_lines
from dryerbench.notebook.kept_bench import KeptBench
from dryerbench.notebook.practice_stand import Dealt, Series, show_series
from dryerbench.notebook.widget_row import widget_row
from dryerbench.registry import bench_to_practice, lesson_of

SHEET_HELPS = "Press a part on the wiring sheet: rings show its terminals in the dryer until you pick another part."


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


def dealt_bench(name: str, number: int) -> Dealt:
    """Return the practice dryer ``number`` before the graded question ``name``, as a stand shows it.

    Raises
    ------
    NoPracticeBenchError
        If there is none of that name, or ``number`` is no whole number from 1 on.
    """
    kind = bench_to_practice(name)
    job = kind.job(number)
    words = f"Practice dryer {number}, not graded: {job.made.name}, {job.machine.cord} cord. {kind.task}"
    words += f" {SHEET_HELPS}" if not kind.nameless else ""
    return Dealt(
        words,
        message_box(escape(words)),
        job.bench,
        lambda bench: PracticeBenchPad(kind, job, bench).view,
        lesson_of(name),
        named=not kind.nameless,
        practice=not kind.nameless,
    )


def practice_bench(name: str, number: int = 1) -> None:
    """Show the practice bench before the graded question ``name``, from the dryer ``number`` on.

    Raises
    ------
    NoPracticeBenchError
        If there is none of that name, or ``number`` is no whole number from 1 on.
    """
    show_series(Series(partial(dealt_bench, name), f"practice-bench/{name}"), number)
