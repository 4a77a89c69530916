"""The ledger: entries in a database through SQLAlchemy; rows are added, and never changed or deleted."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import (
    URL,
    Column,
    Connection,
    Engine,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    create_engine,
    event,
    insert,
    inspect,
    select,
    text,
)
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, IntegrityError, NoSuchModuleError
from sqlalchemy.pool import NullPool

from dryerbench.core.errors import LegToLegError
from legtoleg.ledger.entry import START, Draft, Entry, Form, chained
from legtoleg.ledger.hash_chain import DamagedLedgerError, Row, followed

_META = MetaData()
_ROWS = Table(
    "entries",
    _META,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("body", Text, nullable=False),
    Column("before", String(64), nullable=False),
    Column("hash", String(64), nullable=False),
    Column("once", String(120), unique=True, nullable=True),
)

_REFUSAL = "SELECT RAISE(ABORT, 'a ledger is added to, never changed')"
_SQLITE = [
    f"CREATE TRIGGER entries_no_{what} BEFORE {what} ON entries BEGIN {_REFUSAL}; END" for what in ("UPDATE", "DELETE")
]
_CALL = "EXECUTE FUNCTION entries_refuse()"
_POSTGRES = [
    """CREATE OR REPLACE FUNCTION entries_refuse() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION 'a ledger is added to, never changed'; END $$""",
    f"CREATE TRIGGER entries_no_change BEFORE UPDATE OR DELETE ON entries FOR EACH ROW {_CALL}",
    f"CREATE TRIGGER entries_no_truncate BEFORE TRUNCATE ON entries FOR EACH STATEMENT {_CALL}",
]


class LedgerError(LegToLegError, RuntimeError):
    """A ledger that cannot be opened or added to; the text says why and what to do."""


class TwiceError(LedgerError):
    """Something that may be entered once, and is there already."""


class Ledger:
    """The ledger of ``form`` at a SQLAlchemy address."""

    def __init__(self, url: str | URL, form: Form) -> None:
        self.url, self.form = url, form
        self._engine = _engine(url)

    @staticmethod
    def open(url: str | URL, form: Form) -> Ledger:
        """Return the ledger at ``url``, which has to be there: a lost ledger is never replaced by an empty one.

        Raises
        ------
        LedgerError
            If there is none.
        """
        file = _file(url)
        if file is not None and not file.is_file():
            raise LedgerError(
                f"There is no ledger {file}. If it was here, {form.cure}; it is not made anew, so that nothing "
                "is hidden."
            )
        ledger = Ledger(url, form)
        if not ledger.made():
            raise LedgerError(f"The ledger's database has no entries: {form.cure}, or set it up first.")
        return ledger

    def made(self) -> bool:
        """Tell whether there is a ledger at this address."""
        with self._plainly():
            return bool(inspect(self._engine).has_table(_ROWS.name))

    def make(self, first: Draft) -> Entry:
        """Make the ledger with its ``first`` entry, in one step.

        Raises
        ------
        LedgerError
            If there is one already.
        """
        self._refuse_a_second()
        with self._writing() as connection:
            self._define(connection)
            return self._add(connection, [], first)

    def copy(self, entries: Sequence[Entry]) -> None:
        """Make the ledger with all of ``entries``, which another ledger held, in one step.

        Raises
        ------
        LedgerError
            If there is one already.
        """
        self._refuse_a_second()
        with self._writing() as connection:
            self._define(connection)
            for entry in entries:
                connection.execute(insert(_ROWS).values(**self._values(entry)))

    def _refuse_a_second(self) -> None:
        if self.made():
            raise LedgerError("There is a ledger at this address already, and a ledger is never replaced.")

    def _define(self, connection: Connection) -> None:
        _META.create_all(connection)
        for line in _POSTGRES if self._engine.dialect.name == "postgresql" else _SQLITE:
            connection.execute(text(line))

    def entries(self) -> list[Entry]:
        """Return all entries, in order, after following the whole chain.

        Raises
        ------
        DamagedLedgerError
            If the ledger is not whole.
        """
        with self._plainly(), self._engine.connect() as connection:
            return self._read(connection)

    def append(self, draft: Draft, unless: Callable[[list[Entry]], None] = lambda _: None) -> Entry:
        """Add ``draft`` in one step and return it as entered. ``unless`` sees all entries first, and may raise.

        Raises
        ------
        TwiceError
            If it may be entered once only, and is there.
        DamagedLedgerError
            If the ledger is not whole: nothing is added to a damaged one.
        """
        with self._writing() as connection:
            entries = self._read(connection)
            unless(entries)
            return self._add(connection, entries, draft)

    def guarded(self) -> bool:
        """Tell whether the database still refuses changes by itself (whoever owns the database can switch that off)."""
        asked = {
            "sqlite": "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'entries'",
            "postgresql": "SELECT count(*) FROM pg_trigger WHERE tgrelid = 'entries'::regclass "
            "AND NOT tgisinternal AND tgenabled <> 'D'",
        }
        with self._plainly(), self._engine.connect() as connection:
            return int(connection.execute(text(asked[self._engine.dialect.name])).scalar_one()) >= 2

    def examine(self) -> bool:
        """Let the database examine its own file, indexes and all; tell whether it can (PostgreSQL has no such command).

        The chain is followed first (``entries``): what is found here alone leaves every entry whole.

        Raises
        ------
        DamagedLedgerError
            If it finds something.
        """
        if self._engine.dialect.name != "sqlite":
            return False
        try:
            with self._plainly(), self._engine.connect() as connection:
                found = str(connection.execute(text("PRAGMA integrity_check(1)")).scalar_one())
        except DamagedLedgerError:
            found = "the database disk image is malformed"
        if found != "ok":
            raise DamagedLedgerError(
                "The ledger's file is damaged, though every entry can be read and the chain is whole: the database's "
                f"own check says: {' '.join(found.split())[:200]}. Enter nothing. Make a backup "
                f"now, and {self.form.cure}."
            )
        return True

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        with self._plainly(), self._engine.execution_options(writing=True).begin() as connection:
            if self._engine.dialect.name == "postgresql":
                connection.execute(text("SELECT pg_advisory_xact_lock(240240)"))
            yield connection

    def _values(self, entry: Entry) -> dict[str, object]:
        once = self.form.once(entry.kind, entry.data)
        return {"number": entry.number, "body": entry.body(), "before": entry.before, "hash": entry.hash, "once": once}

    def _read(self, connection: Connection) -> list[Entry]:
        asked = select(_ROWS.c.number, _ROWS.c.body, _ROWS.c.before, _ROWS.c.hash, _ROWS.c.once)
        try:
            return followed(self.form, (Row(*row) for row in connection.execute(asked.order_by(_ROWS.c.number))))
        except ValueError as error:
            if isinstance(error, LegToLegError):
                raise
            raise self._damage("something in it cannot be read") from None

    def _add(self, connection: Connection, entries: list[Entry], draft: Draft) -> Entry:
        before = entries[-1].hash if entries else START
        number, body = len(entries) + 1, draft.body()
        own = chained(self.form, number, before, body)
        entry = Entry(draft.kind, draft.who, draft.on, draft.entered, draft.data, number, before, own)
        try:
            connection.execute(insert(_ROWS).values(**self._values(entry)))
        except IntegrityError:
            raise TwiceError("That is in the ledger already. Nothing was entered.") from None
        return entry

    def _damage(self, what: str) -> DamagedLedgerError:
        cure = f"{self.form.cure[:1].upper()}{self.form.cure[1:]}"
        return DamagedLedgerError(f"The ledger is damaged: {what}. Nothing was changed. {cure}.")

    @contextmanager
    def _plainly(self) -> Iterator[None]:
        """Turn a database's complaint into one line; damage is called so only where the database itself says so."""
        try:
            yield
        except DBAPIError as error:
            said, code = _complaint(error)
            if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB) or said.startswith("Could not decode"):
                raise self._damage(f"its file cannot be read as a database ({said})") from None
            raise _refusal(said, code) from None
        except UnicodeDecodeError:  # the database's own complaint quotes bytes that are no text any more
            raise self._damage("its file cannot be read as a database") from None


def _file(url: str | URL) -> Path | None:
    parsed = _parsed(url)
    return Path(parsed.database) if parsed.get_backend_name() == "sqlite" and parsed.database else None


def _parsed(url: str | URL) -> URL:
    try:
        return make_url(url)
    except ArgumentError:
        raise LedgerError("The ledger's address in shop.toml is no SQLAlchemy address.") from None


def _engine(url: str | URL) -> Engine:
    if _parsed(url).get_backend_name() not in ("sqlite", "postgresql"):
        raise LedgerError("A ledger is kept in SQLite or PostgreSQL; shop.toml names another database.")
    try:
        engine = create_engine(url, poolclass=NullPool)
    except (NoSuchModuleError, ModuleNotFoundError) as error:
        raise LedgerError(
            f"The ledger's database needs a driver: pip install 'leg-to-leg[postgres]' ({error})."
        ) from None
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _no_driver_transactions)
        event.listen(engine, "begin", _begin)
    return engine


def _no_driver_transactions(connection: sqlite3.Connection, _: object) -> None:
    """Let SQLAlchemy's own BEGIN hold, so that reading and adding are one step; wait for another writer."""
    connection.isolation_level = None
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA busy_timeout = 30000")


def _begin(connection: Connection) -> None:
    """Take the right to write before reading what is to be added to; a reader takes none."""
    writing = connection.get_execution_options().get("writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def _complaint(error: DBAPIError) -> tuple[str, int]:
    """Return what the database says, in one line, and SQLite's own number of it."""
    said = str(error.orig).strip().splitlines()[0][:200] if str(error.orig).strip() else "no reason given"
    return said, getattr(error.orig, "sqlite_errorcode", 0) & 0xFF


def _refusal(said: str, code: int) -> LedgerError:
    """Return a database's complaint, other than damage, in one line."""
    known = {
        sqlite3.SQLITE_FULL: "The disk is full: nothing was entered. Make room, and type the command again.",
        sqlite3.SQLITE_READONLY: "The ledger is read-only here, so nothing was entered. Check who has the right to "
        "write to its file and folder, and if the disk is write-protected.",
        sqlite3.SQLITE_CANTOPEN: "The ledger's file cannot be opened. Check who has the right to read and write it "
        "and its folder.",
        sqlite3.SQLITE_BUSY: "Someone else is writing to the ledger: nothing was entered. Type the command again.",
        sqlite3.SQLITE_IOERR: "The disk reports an error: nothing was entered. Check the disk before you go on.",
    }
    return LedgerError(f"{known[code]} ({said})" if code in known else f"The ledger's database refused: {said}")
