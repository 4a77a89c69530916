"""Answer entries: one question of an open lesson, answered by its code cell or, where that is newer, by its box.

What is typed in a box is kept in the work log, with a mark of what the code cell said then. It counts as long as the
code cell says the same: whoever changes the cell later has answered anew. The record in the page says both things too,
so the marker judges by the same rule without the log.
"""

from __future__ import annotations

import weakref
from collections.abc import Callable

from IPython.core.getipython import get_ipython
from IPython.display import DisplayHandle

from dryerbench.bench.bench import Bench
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import AnyQuestion, BenchQuestion, FaultQuestion
from dryerbench.notebook.answer_record import BOX, boxed_record, mark_of
from dryerbench.notebook.kept_bench import KeptBench
from dryerbench.notebook.taken_answer import TakenAnswer, take
from dryerbench.notebook.work_log import WorkLog, work_log

KIND = "answer"
"""The kind of a line of the work log that holds what was typed in a box."""


class AnswerEntry:
    """The answer to one question: ``code`` is what its code cell says, ``taken`` what counts."""

    def __init__(self, question: AnyQuestion, card: JobCard, value: object) -> None:
        self.question, self.card = question, card
        self.code = take(question, card, value)
        self.log: WorkLog | None = work_log(card.lesson) if get_ipython() is not None else None
        self.typed: object = None
        """What the box says; None where the code cell counts."""
        self._value = value
        self._handle: DisplayHandle | None = None
        self._watcher: Callable[[], None] | None = None
        self._find_typed()
        self.taken = self._taken()
        self._follow_bench()

    @property
    def by_box(self) -> bool:
        """Whether the box counts."""
        return self.taken.record.get("by") == BOX

    def _find_typed(self) -> None:
        for line in self.log.read(self.card.seed).lines if self.log else ():
            if line["kind"] == KIND and line.get("question") == self.question.name:
                self.typed = line.get("value") if line.get("over") == mark_of(self.code.record) else None

    def _taken(self) -> TakenAnswer:
        if self.typed is None:
            return self.code
        value = self.typed
        if isinstance(self.question, FaultQuestion):
            value = (value, _bench_in(self._value))
        made = take(self.question, self.card, value)
        return TakenAnswer(boxed_record(made.record, self.code.record), made.heading, made.lines, made.odd)

    def _follow_bench(self) -> None:
        on = _bench_in(self._value)
        if isinstance(on, KeptBench) and isinstance(self.question, BenchQuestion | FaultQuestion):
            known = weakref.ref(self)
            on.follow(lambda: entry.renew() if (entry := known()) is not None else None)

    def renew(self) -> None:
        """Take the answer down again as it now is, and show it where it was shown."""
        self.code = take(self.question, self.card, self._value)
        self.taken = self._taken()
        if self._handle is not None:
            self._handle.update(self.taken.bundle, raw=True)
        if self._watcher is not None:
            self._watcher()

    def type_in(self, value: object) -> TakenAnswer:
        """Take ``value`` from the box, keep it, show it, and return how it was taken; None takes the box back."""
        blank = value is None or value == "" or (isinstance(value, dict) and not any(value.values()))
        self.typed = None if blank else value
        if self.log is not None:
            name = self.question.name
            over = mark_of(self.code.record)
            self.log.add(KIND, self.card.seed, question=name, value=self.typed, over=over)
        self.renew()
        return self.taken

    def shown_by(self, handle: DisplayHandle | None) -> None:
        """Show what changes from now on where ``handle`` shows it."""
        self._handle = handle

    def watched_by(self, watcher: Callable[[], None]) -> None:
        """Call ``watcher`` whenever the answer was taken down again."""
        self._watcher = watcher


def _bench_in(value: object) -> Bench | None:
    """Return the bench in what a cell handed in, if there is one."""
    one = value[1] if type(value) is tuple and len(value) == 2 else value
    return one if isinstance(one, Bench) else None
