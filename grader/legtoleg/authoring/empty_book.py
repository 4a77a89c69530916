"""An empty grade book: nbgrader finds the version of its tables there, and need not start a program to ask for it."""

from __future__ import annotations

from sqlalchemy import create_engine, inspect, text


def begin(url: str) -> None:
    """Write the version of nbgrader's tables into the database at ``url``, if there is no table in it yet.

    nbgrader itself starts the command ``alembic`` for this, by name, and reads its whole package anew in it. A book
    that is cut off after this is completed when it is opened next.

    Raises
    ------
    SQLAlchemyError
        If the database cannot be reached or written, or is none.
    """
    engine = create_engine(url)
    try:
        if inspect(engine).get_table_names():
            return
        with engine.begin() as connection:
            connection.execute(text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)"))
            connection.execute(text("INSERT INTO alembic_version (version_num) VALUES (:head)"), {"head": _head()})
    finally:
        engine.dispose()


def _head() -> str | None:
    """Return the newest version of nbgrader's tables."""
    from alembic.script import ScriptDirectory
    from nbgrader.dbutil import ALEMBIC_DIR

    return ScriptDirectory(ALEMBIC_DIR).get_current_head()
