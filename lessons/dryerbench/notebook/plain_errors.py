"""Plain errors: what Python stumbled over in an answer cell, in a mechanic's words."""

from __future__ import annotations

import os
import re
from html import escape
from types import TracebackType

from IPython.core.interactiveshell import ExecutionInfo, InteractiveShell
from IPython.display import display

from dryerbench.bench.acts import ACTS
from dryerbench.core.errors import LegToLegError
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.drawing.message_box import message_box

_ANSWER = re.compile(
    r"^\s*(?P<name>[A-Za-z_]\w*)\s*=\s*(?P<number>[-+−]?[\d.,]+)\s*(?P<unit>[A-Za-zΩ°%µ][^\"'#]*?)\s*(#.*)?$",
    re.MULTILINE,
)
_FIRST_CELL = ("hand_in", "job_card", "practice", "options", "open_bench", "card", "bench")


def in_words(kind: str, message: str, cell: str) -> str | None:
    """Return what went wrong in ``cell`` in plain words, or None where Python's own message has to do.

    ``kind`` and ``message`` are Python's: ``SyntaxError``, ``NameError``, ``AttributeError`` or ``TypeError``.
    """
    read = _READERS.get(kind)
    return read(message, cell) if read else None


def _syntax(message: str, cell: str) -> str | None:
    if "unterminated string" in message:
        return 'The answer is not closed: put a quote at its end too, like "8.94 A".'
    found = _ANSWER.search(cell)
    if found:
        answer = f"{found['number']} {found['unit'].strip()}"
        return f'There is a word after the number. Put the whole answer between quotes: {found["name"]} = "{answer}"'
    if re.search(r"=\s*(#.*)?$", cell, re.MULTILINE):
        return 'There is nothing after the = sign. Put the answer there, between quotes, like "8.94 A".'
    if "“" in cell or "”" in cell or "‘" in cell:
        return 'Those are curly quotes. Type straight ones from the keyboard: "8.94 A".'
    return None


def _name(message: str, cell: str) -> str | None:
    found = re.search(r"name '(\w+)' is not defined", message)
    if not found:
        return None
    word = found[1]
    if word in _FIRST_CELL:
        return "Run the first gray cell of this page first (click into it, Shift + Enter), then come back here."
    if re.search(rf"hand_in\(.*\b{word}\b", cell):
        return (
            "There is no answer to hand in. Run the answer cell right above first (Shift + Enter), then this one. "
            "If that cell shows an error, fix it first."
        )
    if re.search(rf"=\s*{word}\b", cell):
        return f'Python does not know the word {word}. If it is your answer, put it between quotes: "{word}"'
    return None


def _attribute(message: str, _: str) -> str | None:
    found = re.search(r"'Bench' object has no attribute '(\w+)'", message)
    if not found:
        return None
    if found[1] in ACTS:
        return f'Write that act like this: bench.do("{found[1]}").'
    return (
        f"The bench does not know {found[1]}. Readings are bench.ohms, bench.volts, bench.low_impedance, "
        "bench.continuity, bench.insulation, each with two points; everything else is bench.do with the act's name."
    )


def _type(message: str, _: str) -> str | None:
    if not re.search(r"Bench\.(ohms|volts|low_impedance|continuity|insulation|measure)\(\)", message):
        return None
    return 'A reading needs two points, each between quotes, with a comma: bench.ohms("T1", "T0").'


_READERS = {"SyntaxError": _syntax, "NameError": _name, "AttributeError": _attribute, "TypeError": _type}


def _explain(
    shell: InteractiveShell,
    kind: type[BaseException],
    value: BaseException,
    trace: TracebackType | None,
    tb_offset: int | None = None,
) -> None:
    cell = str(getattr(shell, "dryerbench_cell", ""))
    ours = isinstance(value, LegToLegError)
    words = str(value) if ours else in_words(kind.__name__, str(value), cell)
    if words is None:
        if issubclass(kind, SyntaxError):
            shell.showsyntaxerror()
        else:
            shell.showtraceback((kind, value, trace), tb_offset=tb_offset)
        return
    html = message_box(f" {escape(words)}", sign="!", fine=False)
    display({"text/plain": f"! {words}", "text/html": html}, raw=True)
    short = kind.__name__ if ours else f"{kind.__name__}: {value}"
    shell._showtraceback(kind, value, [short])  # noqa: SLF001 - the short form, still an error


def _remember(info: ExecutionInfo) -> None:
    from IPython import get_ipython

    shell = get_ipython()
    if shell is not None:
        shell.dryerbench_cell = info.raw_cell


def switch_on() -> None:
    """Explain errors in this notebook from now on; not where it runs to be marked, nor outside a notebook."""
    from IPython import get_ipython

    shell = get_ipython()
    if shell is None or os.environ.get(MODE) == "words" or hasattr(shell, "dryerbench_cell"):
        return
    shell.dryerbench_cell = ""
    shell.events.register("pre_run_cell", _remember)
    shell.set_custom_exc((SyntaxError, NameError, AttributeError, TypeError, LegToLegError), _explain)
