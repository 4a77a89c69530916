"""A shell that runs a notebook's cells and records what they show, without Jupyter's messages."""

from __future__ import annotations

import _thread
import json
import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType, TracebackType

from IPython.core.displayhook import DisplayHook
from IPython.core.displaypub import DisplayPublisher
from IPython.core.interactiveshell import InteractiveShell
from traitlets import Any as AnyTrait
from traitlets import Type

from . import plain_cells
from .plain_cells import PlainCells
from .watchdog import Watchdog, make_watchdog

Output = dict[str, object]

_Raised = tuple[type[BaseException], BaseException, TracebackType | None]

_TRACEBACK_LINES = 40
_HAS_ALARM = hasattr(signal, "SIGALRM")
"""Windows has none."""


class Record:
    """What the running cell has shown so far, bounded: beyond ``most`` characters nothing more is kept."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.outputs: list[Output] = []
        self.used = 0

    def start(self) -> None:
        """Begin a new cell."""
        self.outputs, self.used = [], 0

    def _fits(self, size: int) -> bool:
        self.used += size + 50
        return self.used <= self.most

    def text(self, name: str, text: str) -> None:
        """Record ``text`` written to stream ``name``; what does not fit is cut off."""
        room = self.most - self.used
        if room <= 0 or not text:
            return
        kept = text[:room]
        self.used += len(kept)
        if self.outputs and self.outputs[-1].get("name") == name:
            self.outputs[-1]["text"] = f"{self.outputs[-1]['text']}{kept}"
        else:
            self.used += 50
            self.outputs.append({"output_type": "stream", "name": name, "text": kept})

    def show(self, kind: str, data: object, metadata: object, shown_as: object = None) -> None:
        """Record a display; one of the same ``shown_as`` takes the place of an earlier one of this cell."""
        if not self._fits(len(json.dumps([data, metadata], default=str))):
            return
        output: Output = {"output_type": kind, "data": data, "metadata": metadata or {}}
        if shown_as is not None:
            output["shown_as"] = shown_as
            self.outputs = [old for old in self.outputs if old.get("shown_as") != shown_as]
        if kind == "execute_result":
            output["execution_count"] = None
        self.outputs.append(output)

    def error(self, name: str, value: str, lines: list[str]) -> None:
        """Record a Python error."""
        if self._fits(sum(map(len, lines)) + len(value)):
            self.outputs.append({"output_type": "error", "ename": name, "evalue": value, "traceback": lines})


class _Stream:
    """Stands for standard output or error while cells run."""

    encoding = "utf-8"
    errors = "replace"

    def __init__(self, record: Record, name: str) -> None:
        self._record, self.name = record, name

    def write(self, text: str) -> int:
        if type(text) is not str:
            raise TypeError(f"write() argument must be str, not {type(text).__name__}")
        self._record.text(self.name, text)
        return len(text)

    def writelines(self, lines: list[str]) -> None:
        for line in lines:
            self.write(line)

    def flush(self) -> None:
        """Do nothing; all is kept in memory."""

    def isatty(self) -> bool:
        return False

    def fileno(self) -> int:
        return 1 if self.name == "stdout" else 2


class _Publisher(DisplayPublisher):  # type: ignore[misc]
    record = AnyTrait()

    def publish(self, data: object, metadata: object = None, *_: object, **more: object) -> None:
        transient = more.get("transient")
        shown_as = transient.get("display_id") if isinstance(transient, dict) else None
        self.record.show("display_data", data, metadata, shown_as)

    def clear_output(self, *_: object, **__: object) -> None:
        self.record.start()


class _Hook(DisplayHook):  # type: ignore[misc]
    record = AnyTrait()

    def quiet(self) -> bool:
        return False

    def write_output_prompt(self) -> None:
        """Write no prompt."""

    def write_format_data(self, format_dict: object, md_dict: object = None) -> None:
        self.record.show("execute_result", format_dict, md_dict)

    def log_output(self, format_dict: object) -> None:
        """Keep no log."""

    def finish_displayhook(self) -> None:
        """Leave nothing to finish."""


class RecordingShell(InteractiveShell):  # type: ignore[misc]
    """IPython's shell; displays, results and errors go to a ``Record``."""

    display_pub_class = Type(_Publisher)
    displayhook_class = Type(_Hook)
    record = AnyTrait()

    def enable_gui(self, gui: object = None) -> None:
        """Do nothing: there is no screen here."""

    def _format_exception_for_storage(self, *_: object, **__: object) -> dict[str, object]:
        """Format nothing: IPython keeps a colored traceback of every error for a history that nobody reads here."""
        return {}

    def _record_error(self, kind: object, value: object, lines: list[str]) -> None:
        try:
            says = str(value)
        except BaseException:  # noqa: BLE001 - an error may lie about itself, and worse
            says = "(an error that cannot be read)"
        name = getattr(kind, "__name__", "Error")
        self.record.error(str(name)[:200], says[:2000], lines)

    def showtraceback(self, exc_tuple: _Raised | None = None, *_: object, **__: object) -> None:
        """Record the error that just happened, in plain text, without this shell's own frames."""
        kind, value, where = exc_tuple or sys.exc_info()
        try:
            lines = traceback.format_exception(kind, value, _in_cells(where), limit=_TRACEBACK_LINES)
        except BaseException:  # noqa: BLE001 - the same
            lines = []
        self._record_error(kind, value, [line.rstrip("\n")[:2000] for line in lines[-_TRACEBACK_LINES:]])

    def showsyntaxerror(self, *_: object, **__: object) -> None:
        """Record text that is no Python."""
        kind, value = sys.exc_info()[:2]
        lines = [line.rstrip("\n")[:2000] for line in traceback.format_exception_only(kind, value)]
        self._record_error(kind, value, lines)


def _in_cells(where: TracebackType | None) -> TracebackType | None:
    """Return the traceback from the first frame of a cell on."""
    while where is not None and _is_the_shells(where.tb_frame.f_code.co_filename):
        where = where.tb_next
    return where


def _is_the_shells(file: str) -> bool:
    return "IPython" in file or file == plain_cells.__file__


def make_shell(most_characters: int) -> RecordingShell:
    """Return the one shell of this process, ready to be forked; it keeps no history and starts no thread."""
    shell: RecordingShell = RecordingShell.instance()
    shell.history_manager.enabled = False
    shell.history_manager.end_session()
    shell.record = shell.display_pub.record = shell.displayhook.record = Record(most_characters)
    shell.run_cell("None", store_history=False)
    shell.run_cell("1 +", store_history=False)
    shell.run_cell("1 / 0", store_history=False)
    shell.record.start()
    return shell


class CellTimeError(KeyboardInterrupt):
    """A cell ran longer than it may."""


class _Alarm:
    """Calls ``ring`` in the main thread: by the system's timer, every 3 s again, or once by a thread without one."""

    def __init__(self, ring: Callable[[int, FrameType | None], None]) -> None:
        self._thread: threading.Timer | None = None
        signal.signal(signal.SIGALRM if _HAS_ALARM else signal.SIGINT, ring)

    def start(self, seconds: int) -> None:
        if _HAS_ALARM:
            signal.setitimer(signal.ITIMER_REAL, seconds, 3)
        else:
            self._thread = threading.Timer(seconds, _thread.interrupt_main)
            self._thread.daemon = True
            self._thread.start()

    def stop(self) -> None:
        if _HAS_ALARM:
            signal.setitimer(signal.ITIMER_REAL, 0)
        elif self._thread is not None:
            self._thread.cancel()


@contextmanager
def _time_limit(seconds: int, watchdog: Watchdog) -> Iterator[None]:
    """Interrupt after ``seconds``; end the process if that is ignored for 3 s more, even by what is no Python."""
    calls = 0

    def ring(_signal: int, _frame: FrameType | None) -> None:
        nonlocal calls
        calls += 1
        if calls > 1:
            os._exit(75)
        raise CellTimeError(f"This cell ran longer than {seconds} s and was stopped.")

    alarm = _Alarm(ring)
    alarm.start(seconds)
    watchdog.start(seconds + 5)
    try:
        yield
    finally:
        alarm.stop()
        watchdog.stop()


def run_cells(shell: RecordingShell, cells: list[str], seconds: int, tell: Callable[[int, list[Output]], None]) -> None:
    """Run ``cells`` one after the other, each for at most ``seconds``; ``tell`` gets a cell's number and outputs."""
    record, watchdog, plain = shell.record, make_watchdog(), PlainCells(shell)
    sys.stdout, sys.stderr = _Stream(record, "stdout"), _Stream(record, "stderr")
    with plain.traps():
        for number, source in enumerate(cells):
            record.start()
            try:
                with _time_limit(seconds, watchdog):
                    plain.run(source)
            except BaseException as error:  # noqa: BLE001 - whatever a cell raises past the shell costs that cell only
                record.error(type(error).__name__, str(error)[:2000], [str(error)[:2000]])
            tell(number, record.outputs)
