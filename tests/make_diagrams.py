"""The three pictures of DEVELOPERS.md, drawn into ``.pictures/``: ``python tests/make_diagrams.py``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import matplotlib as mpl

mpl.use("agg")
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, FancyBboxPatch

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / ".pictures"
INK, OUTSIDE, INSIDE, KEPT = "#222222", "#F4EFE6", "#E3EEF7", "#E6F2E6"
QUESTION, TOPIC, LESSON = "neutral_current", "two_legs", "02_two_legs"
"""The question whose files are shown."""


@dataclass(frozen=True)
class Box:
    """A box: its left lower corner and size in units of the sheet, its words, the file that it stands for."""

    x: float
    y: float
    wide: float
    high: float
    title: str
    words: str
    path: str = ""
    color: str = OUTSIDE

    def draw(self, ax: Axes, *, frame: bool = False) -> None:
        """Draw the box; a ``frame`` holds others and has its words at the top."""
        ax.add_patch(
            FancyBboxPatch(
                (self.x, self.y),
                self.wide,
                self.high,
                boxstyle="round,pad=0,rounding_size=0.12",
                facecolor=self.color,
                edgecolor=INK,
                linewidth=1.0,
                linestyle="--" if frame else "-",
            )
        )
        top = self.y + self.high - 0.16
        ax.text(self.x + 0.15, top, self.title, va="top", fontsize=10, weight="bold", color=INK)
        ax.text(self.x + 0.15, top - 0.3, self.words, va="top", fontsize=8.5, color=INK, linespacing=1.35)
        if self.path:
            ax.text(
                self.x + self.wide - 0.12,
                self.y + 0.1,
                self.path,
                ha="right",
                va="bottom",
                fontsize=7,
                color=INK,
                family="monospace",
            )


def arrow(ax: Axes, a: tuple[float, float], b: tuple[float, float], words: str = "", *, lift: float = 0.1) -> None:
    """Draw an arrow from ``a`` to ``b`` with its words beside the middle."""
    ax.add_patch(FancyArrowPatch(a, b, arrowstyle="-|>", mutation_scale=13, linewidth=1.2, color=INK))
    if words:
        ax.text((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + lift, words, ha="center", va="bottom", fontsize=8.5, color=INK)


def sheet(wide: float, high: float) -> tuple[Figure, Axes]:
    """Return an empty sheet of ``wide`` by ``high`` inches, one unit an inch."""
    figure = Figure(figsize=(wide, high), dpi=110)
    ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    ax.set(xlim=(0, wide), ylim=(0, high))
    ax.axis("off")
    return figure, ax


MARKER = Box(
    0.2,
    1.1,
    2.6,
    2.9,
    "the marker",
    "ordinary process: book,\nkeys, hand-ins.\n\nPasses one end of a socket\n"
    "pair for each notebook;\nreads lines of JSON from\nthe other, as untrusted\ndata.",
    "sandbox/engine.py",
)
JAIL = Box(
    3.7,
    0.2,
    6.1,
    4.6,
    "the jail (bubblewrap)",
    "no network; no files but Python, dryerbench, the tables; read-only",
    "sandbox/jail.py",
    INSIDE,
)
PARENT = Box(
    3.95,
    2.15,
    2.6,
    1.75,
    "warm parent",
    "one thread, all imported,\nnobody's data; forks,\nwatches, ends at limits",
    "sandbox/worker/parent.py",
    "white",
)
CHILDREN = tuple(
    Box(7.1, y, 2.45, 1.0, f"child of notebook {n}", words, "sandbox/worker/shell.py" if n == 1 else "", KEPT)
    for n, y, words in (
        (1, 2.95, "its own users, processes,\nnetwork, empty folder"),
        (2, 1.8, "closes what leads to parent\nand siblings, then reads"),
        (3, 0.65, "limits: time, memory,\nprocesses, files"),
    )
)
PROCESSES = (MARKER, JAIL, PARENT, *CHILDREN)


def draw_processes() -> Figure:
    """Draw who runs where while a notebook is marked."""
    figure, ax = sheet(10.0, 5.0)
    JAIL.draw(ax, frame=True)
    for box in (MARKER, PARENT, *CHILDREN):
        box.draw(ax)
    arrow(ax, (2.8, 3.2), (3.95, 3.2), "a socket", lift=0.06)
    for child in CHILDREN:
        arrow(ax, (6.55, 3.0), (child.x, child.y + 0.5))
    ax.text(6.62, 3.35, "fork", fontsize=8.5, color=INK)
    arrow(ax, (7.1, 0.95), (2.8, 1.5))
    says = "outputs of each cell, a line each;\nthe last line says how it ended"
    ax.text(3.95, 0.95, says, va="top", fontsize=8.5, color=INK)
    return figure


WRITES = (
    ("book", "all points of the batch,\nin one transaction", "cohort/gradebook_writes.py"),
    ("marked notebook", "written whole,\nread-only", "cohort/batch_marking.py"),
    ("feedback page", "written whole", "cohort/feedback_page.py"),
    ("signed-off note", "for the start page;\nproves nothing", "cohort/signed_off_note.py"),
    ("marking cache", "digests of hand-in and\nlesson: done", "cohort/marking_cache.py"),
)
"""What a batch writes, in this order."""


def draw_writes() -> Figure:
    """Draw the order in which a batch is saved."""
    figure, ax = sheet(13.2, 2.5)
    for n, (title, words, path) in enumerate(WRITES):
        Box(
            0.2 + 2.6 * n, 0.75, 2.3, 1.5, f"{n + 1}. {title}", words, path, KEPT if n == len(WRITES) - 1 else OUTSIDE
        ).draw(ax)
        if n:
            arrow(ax, (2.6 * n - 0.1, 1.5), (2.6 * n + 0.2, 1.5))
    ax.text(
        6.6,
        0.3,
        "Killed between any two of these, the next run marks the same hand-in again: the cache is written last.",
        ha="center",
        fontsize=9.5,
        color=INK,
    )
    return figure


def places() -> Iterator[tuple[str, str]]:
    """Yield each file that speaks of the question or its task, and the lines where it does."""
    task = re.search(
        rf'"{QUESTION}",\s*"(\w+)"', (ROOT / f"grader/legtoleg/keys/{TOPIC}.py").read_text(encoding="utf-8")
    )
    assert task is not None
    words = re.compile(rf"\b(?:{QUESTION}|{task.group(1)})\b")
    topic = ROOT / "lessons/dryerbench/topics" / TOPIC
    files = [*sorted(topic.glob("*.py")), ROOT / f"grader/legtoleg/keys/{TOPIC}.py", ROOT / f"solutions/{LESSON}.md"]
    files.append(ROOT / f"lessons/{LESSON}/{LESSON}.ipynb")
    for path in files:
        lines = [n for n, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if words.search(line)]
        if lines:
            shown = ", ".join(map(str, lines[:5])) + (" …" if len(lines) > 5 else "")
            yield path.relative_to(ROOT).as_posix(), shown


SAYS = {
    "sheet.py": "what is asked: unit, figures, points; the card's numbers",
    "models.py": "the right model and the wrong ones",
    "drills.py": "practice on other numbers",
    "figures.py": "the drawing that uses the same model",
    "slips.py": "what each wrong model is told",
    f"{TOPIC}.py": "the key: which numbers of the card go into the model",
    f"{LESSON}.md": "words, figure, worked answer: the source",
    f"{LESSON}.ipynb": "built from it, without the answer",
}
"""What each file of a question is for."""


def draw_question() -> Figure:
    """Draw the files of one question, found by looking for its name and its task's."""
    found = list(places())
    figure, ax = sheet(10.0, 0.75 + 0.62 * len(found))
    top = 0.3 + 0.62 * len(found)
    ax.text(
        0.2,
        top + 0.2,
        f"The question {QUESTION} of lesson {LESSON[:2]}, and where it stands",
        fontsize=11,
        weight="bold",
    )
    for n, (path, lines) in enumerate(found):
        y = top - 0.62 * (n + 1) + 0.12
        who = KEPT if path.startswith("lessons/") else OUTSIDE
        ax.add_patch(
            FancyBboxPatch((0.2, y), 9.6, 0.5, boxstyle="round,pad=0,rounding_size=0.08", facecolor=who, edgecolor=INK)
        )
        ax.text(0.35, y + 0.25, path, va="center", fontsize=8.5, family="monospace")
        ax.text(5.0, y + 0.25, SAYS[path.rpartition("/")[2]], va="center", fontsize=8.5)
        ax.text(9.7, y + 0.25, f"line {lines}", va="center", ha="right", fontsize=7)
    ax.text(0.2, 0.12, "Green: the apprentice holds it. Cream: instructor and marker.", fontsize=8)
    return figure


def main() -> None:
    """Draw all three."""
    PICTURES.mkdir(exist_ok=True)
    for name, draw in (("processes", draw_processes), ("writes", draw_writes), ("question", draw_question)):
        draw().savefig(PICTURES / f"{name}.png")


if __name__ == "__main__":
    main()
