"""The book of supervised tests: who may take which, every act and every answer; rows are added and never changed."""

from __future__ import annotations

import json
import secrets
import sqlite3
import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import course_version
from legtoleg.classroom.class_folder import ClassFolder

BOOK = "supervised.sqlite"
_TABLES = {
    "tests": "test text primary key, kind text, at real, until real, minutes real, course text",
    "takers": "test text, who text, told text, primary key (test, who)",
    "acts": "test text, who text, job text, n integer, act text, answer text, at real, balance real,"
    " primary key (test, who, job, n)",
    "named": "test text, who text, job text, value text, n integer, at real, primary key (test, who, job)",
    "ends": "test text, who text, at real, primary key (test, who)",
}
EVERYBODY = ""
"""In the table of ends: the whole test was closed."""


class SupervisedError(LegToLegError, RuntimeError):
    """A supervised test that cannot be opened, closed or marked; the text says what to do."""


@dataclass(frozen=True)
class SupervisedTest:
    """One supervised test: its kind, when it was opened and until when it can be taken, in s since 1970."""

    test: str
    kind: str
    at: float
    until: float
    minutes: float
    course: str


@dataclass(frozen=True)
class DoneAct:
    """One act as it is written: what was asked, the text that was answered, when, and the pace that was left."""

    n: int
    act: dict[str, object]
    answer: str
    at: float
    balance: float


@dataclass(frozen=True)
class UnderWay:
    """A test that somebody may work on now: how many acts so far, when the last one was (0 before the first)."""

    test: str
    kind: str
    until: float
    acts: int
    acted: float


@dataclass(frozen=True)
class Named:
    """A fault as it was named: once, after ``n`` acts."""

    value: str
    n: int


def book_of(folder: ClassFolder) -> Path:
    """Return where the book of the class in ``folder`` is, once a test was opened."""
    return folder.root / "secrets" / BOOK


@dataclass
class SealedBook:
    """The book, one file that the class alone can read; ``clock`` gives s since 1970 and never goes back."""

    path: Path
    clock: Callable[[], float] = time.time
    _rows: sqlite3.Connection = field(init=False)
    _latest: float = 0.0

    def __post_init__(self) -> None:
        self.path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.path.touch(mode=0o600)
        self._rows = sqlite3.connect(self.path, timeout=20, isolation_level=None)
        self._rows.execute("pragma journal_mode=wal")
        self._rows.execute("pragma synchronous=full")
        for name, columns in _TABLES.items():
            self._rows.execute(f"create table if not exists {name} ({columns})")
            for what in ("update", "delete"):
                self._rows.execute(
                    f"create trigger if not exists {name}_{what} before {what} on {name} "
                    "begin select raise(abort, 'this book is only added to'); end"
                )

    @staticmethod
    def of(folder: ClassFolder) -> SealedBook:
        """Return the book of the class in ``folder``."""
        return SealedBook(book_of(folder))

    def close(self) -> None:
        """Close the file."""
        self._rows.close()

    def now(self) -> float:
        """Return the time in s since 1970, never earlier than anything that was written or told before."""
        if not self._latest:
            found = self._rows.execute(
                "select max(at) from (select at from acts union all select at from tests)"
            ).fetchone()
            self._latest = found[0] or 0.0
        self._latest = max(self._latest, self.clock())
        return self._latest

    def open(self, kind: str, takers: Mapping[str, Mapping[str, object]], minutes: float) -> SupervisedTest:
        """Open a test of ``kind`` for ``takers`` (id, and what the kind keeps of each), to be taken in ``minutes``.

        Raises
        ------
        SupervisedError
            If nobody is to take it, or somebody has another one open: one machine at a time.
        """
        if not takers:
            raise SupervisedError("Say who takes the test: --to ID.")
        now = self.now()
        busy = sorted(who for who in takers if any(self.is_open(one, who) for one in self.tests_of(who)))
        if busy:
            raise SupervisedError(f"{busy[0]} has a supervised test open: close that one first, or wait until it ends.")
        name = f"{kind}-{secrets.token_hex(4)}"
        made = SupervisedTest(name, kind, now, now + 60 * minutes, minutes, course_version())
        with self._whole():
            self._rows.execute("insert into tests values (?, ?, ?, ?, ?, ?)", tuple(vars(made).values()))
            rows = [(name, who, json.dumps(told)) for who, told in takers.items()]
            self._rows.executemany("insert into takers values (?, ?, ?)", rows)
        return made

    def _whole(self) -> _Whole:
        return _Whole(self._rows)

    def end(self, test: str, who: str = EVERYBODY) -> None:
        """End ``test`` for ``who``, or for everybody; a second time changes nothing."""
        self._rows.execute("insert or ignore into ends values (?, ?, ?)", (test, who, self.now()))

    def tests(self) -> list[SupervisedTest]:
        """Return every test, the latest first."""
        return [SupervisedTest(*row) for row in self._rows.execute("select * from tests order by at desc, rowid desc")]

    def test(self, name: str) -> SupervisedTest:
        """Return the test ``name``.

        Raises
        ------
        SupervisedError
            If there is none.
        """
        for one in self.tests():
            if one.test == name:
                return one
        raise SupervisedError(f"There is no supervised test {name[:60]!r} in this class. List them: supervised list.")

    def takers(self, test: str) -> dict[str, dict[str, object]]:
        """Return who may take ``test``, and what its kind keeps of each."""
        rows = self._rows.execute("select who, told from takers where test = ? order by rowid", (test,))
        return {who: json.loads(told) for who, told in rows}

    def tests_of(self, who: str) -> list[SupervisedTest]:
        """Return the tests of ``who``, the latest first."""
        mine = {row[0] for row in self._rows.execute("select test from takers where who = ?", (who,))}
        return [one for one in self.tests() if one.test in mine]

    def ended(self, test: str, who: str) -> bool:
        """Tell whether ``who`` or the instructor ended it."""
        sql = "select 1 from ends where test = ? and who in (?, ?)"
        return self._rows.execute(sql, (test, who, EVERYBODY)).fetchone() is not None

    def is_open(self, test: SupervisedTest, who: str) -> bool:
        """Tell whether ``who`` may work on ``test`` now; once its time is over it stays so, whatever the clock says."""
        if self.now() >= test.until:
            with suppress(sqlite3.Error):  # a full disk: it is written the next time
                self.end(test.test)
            return False
        return not self.ended(test.test, who)

    def under_way(self) -> dict[str, UnderWay]:
        """Return who may work on a test now, by id; nothing is written."""
        sql = """
            select takers.who, tests.test, tests.kind, tests.until, count(acts.n), coalesce(max(acts.at), 0)
            from tests join takers on takers.test = tests.test
            left join acts on acts.test = tests.test and acts.who = takers.who
            where tests.until > ? and not exists
                (select 1 from ends where ends.test = tests.test and ends.who in (takers.who, ?))
            group by tests.test, takers.who
        """
        return {who: UnderWay(*rest) for who, *rest in self._rows.execute(sql, (self.now(), EVERYBODY))}

    def acts(self, test: str, who: str, job: str) -> list[DoneAct]:
        """Return the acts of one job, in order."""
        sql = "select n, act, answer, at, balance from acts where test = ? and who = ? and job = ? order by n"
        return [DoneAct(n, json.loads(act), *rest) for n, act, *rest in self._rows.execute(sql, (test, who, job))]

    def act(self, test: str, who: str, job: str, n: int) -> DoneAct | None:
        """Return act ``n`` of one job; None if it was not done."""
        sql = "select n, act, answer, at, balance from acts where test = ? and who = ? and job = ? and n = ?"
        row = self._rows.execute(sql, (test, who, job, n)).fetchone()
        return None if row is None else DoneAct(row[0], json.loads(row[1]), *row[2:])

    def last(self, test: str, who: str) -> tuple[float, float] | None:
        """Return when ``who`` did the last act of ``test`` and what pace it left; None before the first."""
        sql = "select at, balance from acts where test = ? and who = ? order by at desc, rowid desc limit 1"
        row = self._rows.execute(sql, (test, who)).fetchone()
        return None if row is None else (row[0], row[1])

    def write(self, test: str, who: str, job: str, done: DoneAct) -> None:
        """Write one act; it is on the disk when this returns."""
        row = (test, who, job, done.n, json.dumps(done.act), done.answer, done.at, done.balance)
        self._rows.execute("insert into acts values (?, ?, ?, ?, ?, ?, ?, ?)", row)

    def named(self, test: str, who: str, job: str) -> Named | None:
        """Return the fault that ``who`` named at ``job``; None if none yet."""
        sql = "select value, n from named where test = ? and who = ? and job = ?"
        row = self._rows.execute(sql, (test, who, job)).fetchone()
        return None if row is None else Named(*row)

    def name(self, test: str, who: str, job: str, named: Named) -> None:
        """Write the fault that was named: there is one try."""
        row = (test, who, job, named.value, named.n, self.now())
        self._rows.execute("insert into named values (?, ?, ?, ?, ?, ?)", row)

    def did(self, test: str, who: str, jobs: Iterable[str]) -> dict[str, int]:
        """Return how many acts ``who`` did at each of ``jobs``."""
        sql = "select job, count(*) from acts where test = ? and who = ? group by job"
        found = dict(self._rows.execute(sql, (test, who)).fetchall())
        return {job: found.get(job, 0) for job in jobs}


@dataclass
class _Whole:
    """All rows, or none."""

    rows: sqlite3.Connection

    def __enter__(self) -> None:
        self.rows.execute("begin immediate")

    def __exit__(self, kind: object, *_: object) -> None:
        self.rows.execute("commit" if kind is None else "rollback")
