"""The kept bench: every act goes into the work log as it happens, and opening the bench does them all again.

What the log says was read is never asked: it holds acts and what they were given, and ``Bench.do`` is the judge again.
A cell that did acts before the page was opened again, and runs for the first time since, finds them done: they stand
in the trail already and are not done twice.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from dryerbench.bench.bench import Bench
from dryerbench.bench.shop_names import bench_names
from dryerbench.bench.trail import Act
from dryerbench.core.errors import LegToLegError
from dryerbench.core.sealed import unsealed
from dryerbench.course.bench_card import BenchCard
from dryerbench.course.bench_card import open_bench as fresh_bench
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.answer_cells import ANSWER_CELL
from dryerbench.notebook.running_cell import running_cell
from dryerbench.notebook.work_log import Line, WorkLog, work_log

__all__ = ["Keeper", "KeptBench", "keeper", "kept_bench", "open_bench"]

_SHOWN = "shown"
"""The kind of a line that says which practice dryer a cell shows."""
_DIAL = "set_dial"
_ELSEWHERE = (
    "This lesson is open in another page too, and only what is done there is kept. "
    "Close one of the two, then run all cells of the other."
)


@dataclass(frozen=True)
class Reopened:
    """What opening found: how many acts were done again, when the first was done, how many were not possible."""

    acts: int = 0
    since: float = 0.0
    impossible: int = 0

    @property
    def words(self) -> str:
        """What is said of it in one line; empty if there was nothing to do again."""
        said = []
        if self.acts:
            acts = f"{self.acts} act{'s' if self.acts > 1 else ''}"
            begun = datetime.fromtimestamp(self.since).astimezone()
            said.append(f"This bench is as you left it: {acts} from {begun:%b} {begun.day} at {begun:%H:%M} on.")
        if self.impossible:
            said.append(f"Not possible again, because a line before is damaged: {self.impossible} of the acts kept.")
        return " ".join(said)


class KeptBench(Bench):
    """The bench of one job, kept in ``log`` under ``seed`` and the number ``call``; ``fresh`` makes one untouched."""

    def __init__(self, fresh: Callable[[], Bench], seed: str, call: int, log: WorkLog) -> None:
        self._fresh, self._seed, self._call, self._log = fresh, seed, call, log
        self._opened_by = ""
        self._done_by: list[str] = []
        """Which cell did each act of the trail; empty for what was done by hand."""
        self._before: dict[str, deque[Act]] = {}
        """By cell: what it did before this bench was opened, and has not been asked for again."""
        self._pending: tuple[str, Mapping[str, object]] | None = None
        self._followers: list[Callable[[], None]] = []
        self._reset()

    @property
    def trouble(self) -> str:
        """Why acts are not kept just now, in a sentence; empty if they are."""
        return _ELSEWHERE if self._log.elsewhere else ""

    def follow(self, follower: Callable[[], None]) -> None:
        """Call ``follower`` after every act from now on, and when the machine is started again."""
        self._followers.append(follower)

    def _changed(self) -> None:
        for follower in self._followers:
            with suppress(LegToLegError):
                follower()

    def do(self, act: str, **given: object) -> Act:
        """Do one act by its name, keep it, and return its record.

        Raises
        ------
        BenchError
            For an act that does not exist, wrong details, or one that is not possible as things stand.
        """
        cell = running_cell()
        key = cell.key if cell else ""
        given = bench_names(given)
        found = self._found(key, act, given)
        if found is not None:
            return found
        self._before.clear()  # the machine moves on from here: what stands in the trail is no answer to a cell any more
        self._set_pending_dial(key)
        record = self._act(act, given, key, time.time())
        self._keep(act, given, key)
        self._changed()
        return record

    def _keep(self, act: str, given: Mapping[str, object], key: str) -> None:
        self._log.add("act", self._seed, call=self._call, act=act, cell=key, **{"with": given})

    def _act(self, act: str, given: Mapping[str, object], key: str, at: float) -> Act:
        record = super().do(act, **given)
        self.clock[-1] = at
        self._done_by.append(key)
        return record

    def _set_pending_dial(self, key: str) -> None:
        """Turn the dial where the cell that runs wanted it, if it turned it while it only found what it had done."""
        asked, self._pending = self._pending, None
        if asked is not None and asked[0] == key:
            given = asked[1]
            if (given.get("mode"), given.get("full_scale")) != (self.mode, self.full_scale):
                self._act(_DIAL, given, key, time.time())
                self._keep(_DIAL, given, key)

    def _found(self, key: str, act: str, given: Mapping[str, object]) -> Act | None:
        """Return the record of this act if the cell ``key`` did it before the bench was opened."""
        left = self._before.get(key)
        if not left:
            return None
        if act == _DIAL and not _same(left[0], act, given):
            self._pending = (
                key,
                given,
            )  # the dial stands elsewhere now than it did then: it is set if a new act follows
            return {"act": act, "with": dict(given), "minutes": 0.0, "happened": [], "facts": {}}
        wanted = next((place for place, one in enumerate(left) if one["act"] != _DIAL or act == _DIAL), 0)
        if not _same(left[wanted], act, given):
            return None
        for _ in range(wanted):
            left.popleft()
        self._pending = None
        return left.popleft()

    def reopen(self) -> Reopened:
        """Do again what is kept of this job, on the machine as it stood at first."""
        lines = [one for one in self._log.read(self._seed).lines if one.get("call") == self._call]
        starts = [place for place, one in enumerate(lines) if one["kind"] == "again"]
        self._reset()
        impossible = sum(not self._done_again(one) for one in lines[(starts[-1] + 1 if starts else 0) :])
        for record, key in zip(self.trail, self._done_by, strict=True):
            if key:
                self._before.setdefault(key, deque()).append(record)
        self._changed()
        return Reopened(len(self.trail), self.clock[0] if self.clock else 0.0, impossible)

    def _reset(self) -> None:
        self._before, self._pending, self._done_by = {}, None, []
        there = unsealed(self._fresh().sealed)
        super().__init__(there.machine, there.faults)

    def _done_again(self, line: Line) -> bool:
        """Do one kept act again and tell whether it was possible; other lines are passed over."""
        if line["kind"] != "act":
            return True
        act, given, key, at = (line.get(name) for name in ("act", "with", "cell", "at"))
        if not isinstance(act, str) or not isinstance(given, dict):
            return False
        try:
            self._act(act, given, str(key or ""), float(at) if isinstance(at, int | float) else 0.0)
        except LegToLegError:
            return False
        return True

    def start_again(self) -> str:
        """Put the machine back as it stood at first, and say so; what was done stays in the work log.

        What the cell that opened this bench does by itself is done again at once.
        """
        first = [dict(one["with"], act=one["act"]) for one, key in zip(self.trail, self._done_by, strict=True)
                 if key and key == self._opened_by]  # fmt: skip
        acts = len(self.trail)
        self._log.add("again", self._seed, call=self._call)
        self._reset()
        for given in first:
            act = str(given.pop("act"))
            self._act(act, given, self._opened_by, time.time())
            self._keep(act, given, self._opened_by)
        self._changed()
        return f"The dryer is as you found it. The {acts} acts before are kept, but no longer count."

    def opened_by(self, key: str) -> None:
        """Keep which cell opened this bench."""
        self._opened_by = key


def _same(record: Act, act: str, given: Mapping[str, object]) -> bool:
    return record["act"] == act and {k: v for k, v in record["with"].items() if v is not None} == {
        k: v for k, v in given.items() if v is not None
    }


_OPEN: dict[tuple[WorkLog, str, int], KeptBench] = {}
"""The benches of this page, by log, machine and job: opening one again gives the same bench."""


@dataclass(frozen=True)
class Keeper:
    """What a cell keeps of its benches: its log, and the key of the cell. Without a log nothing is kept."""

    log: WorkLog | None
    key: str = ""

    def open(self, fresh: Callable[[], Bench], seed: str, call: int) -> tuple[Bench, str]:
        """Return the bench that ``fresh`` makes as it was left, and what is said of that."""
        if self.log is None:
            return fresh(), ""
        key = (self.log, seed, call)
        bench = _OPEN.get(key) or _OPEN.setdefault(key, KeptBench(fresh, seed, call, self.log))
        bench.opened_by(self.key)
        return bench, bench.reopen().words

    def note(self, seed: str, number: int) -> None:
        """Keep that this cell shows the dryer ``number`` of ``seed`` now."""
        if self.log is not None:
            self.log.add(_SHOWN, seed, call=number, cell=self.key)

    def last(self, seed: str) -> int | None:
        """Return the number of the dryer of ``seed`` that this cell showed last; None if it showed none."""
        lines = self.log.read(seed).lines if self.log is not None else []
        found = [one.get("call") for one in lines if one["kind"] == _SHOWN and one.get("cell") == self.key]
        return next((one for one in reversed(found) if type(one) is int and one > 0), None)


def keeper(lesson: str) -> Keeper:
    """Return the keeper of the cell that runs; its log is that of ``lesson``.

    It keeps nothing where nothing can be kept: a page that is only run, an answer cell with its own bench.
    """
    cell = running_cell()
    if cell is None or cell.place.endswith(ANSWER_CELL):
        return Keeper(None)
    return Keeper(work_log(lesson), cell.key)


def kept_bench(fresh: Callable[[], Bench], lesson: str, seed: str, call: int) -> Bench:
    """Return the bench that ``fresh`` makes as it was left, and say so; nothing done yet the first time.

    Where nothing is kept (see ``keeper``) it is a fresh one each time.
    """
    bench, said = keeper(lesson).open(fresh, seed, call)
    if said:
        show_bundle({"text/plain": said, "text/html": message_box(said)})
    return bench


def open_bench(card: BenchCard, call: int = 1) -> Bench:
    """Return the bench with a machine of ``card`` as it was left; nothing done yet the first time.

    Raises
    ------
    CardError
        If ``card`` has no job ``call``.
    """
    return kept_bench(lambda: fresh_bench(card, call), card.lesson, card.seed, call)
