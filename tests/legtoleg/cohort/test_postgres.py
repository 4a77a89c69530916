"""A grade book in PostgreSQL, on a server of the test's own: the same marks as in a file."""

from __future__ import annotations

import contextlib
import os
import pwd
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest

from legtoleg.authoring.building import built_path
from legtoleg.cohort.batch_marking import Marker
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.cohort_setup import set_up
from legtoleg.cohort.gradebook import Book
from legtoleg.demo.simulated_apprentices import filled_in, simulate
from legtoleg.sandbox.thread_pool import local_pool

pytestmark = [pytest.mark.slow, pytest.mark.server, pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")]
LESSON = "03_heater_power"


def ordinary() -> int:
    """Return the user that the server runs as when the test runs as root: the server refuses root."""
    for name in ("postgres", "nobody"):
        with contextlib.suppress(KeyError):
            return pwd.getpwnam(name).pw_uid
    pytest.skip("There is no ordinary user to run PostgreSQL as.")


def program(name: str) -> str:
    places = [str(path) for path in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]
    found = shutil.which(name) or shutil.which(name, path=os.pathsep.join(places))
    if found is None:
        pytest.skip("PostgreSQL is missing on this computer.")
    return found


@pytest.fixture
def server() -> Iterator[str]:
    """Start a server without network and return the address of its database."""
    pytest.importorskip("psycopg", reason="The extra “postgres” is not installed.")
    initdb, postgres = program("initdb"), program("postgres")
    root = sys.platform == "linux" and os.getuid() == 0
    user = ordinary() if root else os.getuid()
    as_user: dict[str, Any] = {"user": user, "extra_groups": []} if root else {}
    folder = Path(tempfile.mkdtemp(prefix="leg-to-leg-pg-", dir="/tmp"))
    if root:
        os.chown(folder, user, -1)
    data = folder / "data"
    quiet: dict[str, Any] = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE, "cwd": folder, **as_user}
    made = subprocess.run(
        [initdb, "-D", str(data), "-U", "book", "--auth=trust", "-N"], check=False, text=True, **quiet
    )
    assert made.returncode == 0, made.stderr[-800:]
    options = ["-D", str(data), "-k", str(folder), "-c", "listen_addresses=", "-c", "fsync=off"]
    running = subprocess.Popen([postgres, *options], **{**quiet, "stderr": subprocess.DEVNULL})
    try:
        import psycopg

        for _ in range(200):
            try:
                psycopg.connect(host=str(folder), user="book", dbname="postgres").close()
                break
            except psycopg.OperationalError:
                time.sleep(0.1)
        yield f"postgresql+psycopg://book@/postgres?host={folder}"
    finally:
        running.terminate()
        running.wait(30)
        shutil.rmtree(folder)


def hand_in(cohort: Cohort, numbers: range) -> None:
    for number in numbers:
        person = simulate(number, 1, LESSON)
        path = cohort.submitted(person.apprentice, LESSON)
        path.parent.mkdir(parents=True, exist_ok=True)
        nbformat.write(filled_in(nbformat.read(built_path(LESSON), as_version=4), person), path)


def test_the_book_may_be_postgresql(server: str, fresh: Cohort, tmp_path: Path) -> None:
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\ndemo-01,Demo One\n", encoding="utf-8")
    shared = set_up(tmp_path / "shared", roster, book=server).cohort
    assert shared.book == server
    assert not (shared.folder / "gradebook.db").exists()
    marks = []
    for cohort in (fresh, shared):
        hand_in(cohort, range(1, 4))
        with Book(cohort.book) as book, local_pool(2) as pool:
            assert Marker(cohort, book).mark(pool).marked == 3
            assert Marker(cohort, book).mark(pool).unchanged == 3
            marks.append(book.points(LESSON))
    assert marks[0] == marks[1]
    assert len(marks[0]) == 3
    shared.run("autograde", LESSON, "demo-02", force=True)
    with Book(server) as book:
        assert book.points(LESSON) == marks[0]


def test_a_shops_ledger_may_be_in_postgresql(server: str, tmp_path: Path) -> None:
    from sqlalchemy import create_engine, text
    from sqlalchemy.exc import DBAPIError
    from sqlalchemy.pool import NullPool

    from legtoleg.ledger.hash_chain import DamagedLedgerError
    from legtoleg.ledger.ledger import Ledger, TwiceError
    from legtoleg.refresher.record.ledger_entry import FORM
    from legtoleg.refresher.record.shop import Settings, Shop

    people = tmp_path / "people.csv"
    people.write_text("id,name\nada-01,Ada Demo\n", encoding="utf-8")
    shop = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver", ledger=server), people)
    draft = shop.draft("issued", "ada-01", shop.today(), issue="ada-01.r1", attempt=1, items=[], note="Ω “x”")
    shop.enter(draft)
    with pytest.raises(TwiceError):
        shop.enter(draft)
    assert [entry.kind for entry in Shop.at(shop.folder).entries()] == ["opened", "issued"]
    assert shop.ledger.guarded()
    raw = create_engine(server, poolclass=NullPool)
    for change in ("UPDATE entries SET body = 'x'", "DELETE FROM entries", "TRUNCATE entries"):
        with pytest.raises(DBAPIError, match="never changed"), raw.begin() as connection:
            connection.execute(text(change))
    with raw.begin() as connection:
        connection.execute(text("ALTER TABLE entries DISABLE TRIGGER USER"))
        connection.execute(text("UPDATE entries SET body = replace(body, 'ada-01', 'bob-01') WHERE number = 2"))
    assert not Ledger(server, FORM).guarded()
    with pytest.raises(DamagedLedgerError, match="entry 2"):
        shop.entries()
