"""The terminal: the one way in which commands say something, so that no word from outside steers it.

Names, ids, file names and folders are others' words: what would move the cursor, change a color, ring, or turn the
direction of writing is left out of every line, and nothing in a line is read as markup.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn
from rich.text import Text

from legtoleg.core.outside_words import one_line, unsteered

_say = Console(highlight=False, soft_wrap=True, emoji=False, markup=False)
_LONGEST_STEP = 44

Tell = Callable[[str, int, int | None], None]
"""Is told what is done now, how many steps are done, and how many there are."""


def say_line(words: object) -> None:
    """Say ``words`` as one line."""
    _say.print(Text(one_line(words)))


def say_lines(text: str) -> None:
    """Say each line of ``text``, which a command wrote itself."""
    for line in text.splitlines():
        say_line(line)


def say_text(text: str) -> None:
    """Print ``text``, a file's worth of lines, as it is, for a pipe or a file."""
    sys.stdout.write(unsteered(text))


def say_trouble(error: BaseException) -> None:
    """Say the lines of an error of ours where errors go."""
    console = Console(stderr=True, highlight=False, soft_wrap=True, emoji=False, markup=False)
    lines = str(error).splitlines() or [""]
    console.print(Text("\n".join(one_line(line) for line in [f"legtoleg: {lines[0]}", *lines[1:]])))


@contextmanager
def progress_bar() -> Iterator[tuple[Callable[[str], None], Tell]]:
    """Give a way to say a line beside a progress bar, and the bar's own; it shows itself with the first step."""
    progress = Progress(
        TextColumn("{task.description:<44}", markup=False),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        console=_say,
    )
    bar = progress.add_task("starting", total=None)

    def tell(what: str, done: int, of: int | None) -> None:
        progress.start()
        progress.update(bar, description=one_line(what, _LONGEST_STEP), completed=done, total=of)

    try:
        yield (lambda words: progress.console.print(Text(one_line(words)))), tell
    finally:
        if progress.live.is_started:
            progress.stop()
