"""A cohort's settings for nbgrader's own commands, and the note of which version of the course made the cohort."""

from __future__ import annotations

import ast
import json
import logging
import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from dryerbench.core.version import course_version, readable_version
from legtoleg.core.files import write_whole

FILE = "nbgrader_config.py"
NOTE = "course.json"
"""Says with which version the cohort was made and set up last, and when its lessons are due."""

IMPORT = "from legtoleg.authoring.nbgrader_api import configure"
_OLD_IMPORT = re.compile(r"(?m)^([ \t]*)from[ \t]+grader\.cohorts[ \t]+import[ \t]+configure\b")
"""How older versions of the course wrote that line."""

_TEXT = f'''"""nbgrader's settings for this cohort: its own commands grade the course's way."""

{IMPORT}

c = get_config()
configure(c)
{{book}}'''
_BOOK = "c.CourseDirectory.db_url = "
_MADE, _SET_UP, _DUE = "made_with", "set_up_with", "due"
_LOG = logging.getLogger(__name__)


def _read(path: Path) -> str:
    """Return the text of ``path`` so that writing it gives the same bytes, whatever they are."""
    return path.read_bytes().decode("utf-8", "surrogateescape")


def _write(path: Path, text: str) -> None:
    write_whole(path, text.encode("utf-8", "surrogateescape"), path.stat().st_mode & 0o777)


def write(folder: Path, book: str = "") -> None:
    """Write the settings of the cohort in ``folder``; where there are some, bring them up to date and keep the rest.

    ``book`` is the SQLAlchemy address of a grade book elsewhere; empty, what the settings say stays.
    """
    path, line = folder / FILE, f"{_BOOK}{book!r}"
    if not path.is_file():
        write_whole(path, _TEXT.format(book=f"{line}\n" if book else "").encode("utf-8"))
        return
    renew(folder)
    if book and book_in(folder) != book:
        kept = [one for one in _read(path).splitlines(keepends=True) if not one.startswith(_BOOK)]
        text = "".join(kept)
        _write(path, f"{text}{'' if text.endswith(chr(10)) or not text else chr(10)}{line}\n")


def is_old(folder: Path) -> bool:
    """Tell whether the settings in ``folder`` are of an older version; nbgrader's own commands cannot use those."""
    return _OLD_IMPORT.search(_read(folder / FILE)) is not None


def renew(folder: Path) -> bool:
    """Bring settings that an older version wrote up to date, say so in one line, and tell whether there were such.

    Only the line that imports the course's way is changed; the book's address and the instructor's own lines stay.
    """
    path = folder / FILE
    old = _read(path)
    new = _OLD_IMPORT.sub(rf"\g<1>{IMPORT}", old)
    if new == old:
        return False
    try:
        _write(path, new)
    except OSError as error:
        _LOG.warning("%s is of an older version of the course and cannot be changed (%s).", path, error.strerror)
        return False
    _LOG.warning("%s was of an older version of the course: one line of it was brought up to date.", path)
    return True


def book_in(folder: Path) -> str:
    """Return the address of the grade book that the settings in ``folder`` name; empty if they name none."""
    path = folder / FILE
    if path.is_file():
        for line in _read(path).splitlines():
            if line.startswith(_BOOK):
                return str(ast.literal_eval(line.removeprefix(_BOOK)))
    return ""


def note_version(folder: Path) -> None:
    """Note in ``folder`` that this version sets the cohort up, and made it if there are no settings yet."""
    first = versions(folder)[0] if (folder / FILE).is_file() else course_version()
    _note(folder, {_MADE: first, _SET_UP: course_version()})


def _note(folder: Path, more: dict[str, object]) -> None:
    text = json.dumps(_noted(folder) | more, indent=2) + "\n"
    write_whole(folder / NOTE, text.encode("utf-8"))


def _noted(folder: Path) -> dict[str, object]:
    try:
        content = json.loads((folder / NOTE).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return content if isinstance(content, dict) else {}


def note_due(folder: Path, due: Mapping[str, datetime]) -> None:
    """Note in ``folder`` when lessons are due (UTC without zone), beside the book: a lost one is made again with it."""
    if due:
        _note(folder, {_DUE: {name: day.isoformat() for name, day in (due_dates(folder) | dict(due)).items()}})


def due_dates(folder: Path) -> dict[str, datetime]:
    """Return when lessons are due as it is noted in ``folder``; what cannot be read is left out."""
    noted = _noted(folder).get(_DUE)
    found = {}
    for name, day in noted.items() if isinstance(noted, dict) else ():
        with suppress(TypeError, ValueError):
            found[str(name)] = datetime.fromisoformat(day)
    return found


def versions(folder: Path) -> tuple[str, str]:
    """Return the versions of the course that made the cohort and set it up last; empty where nothing says it."""
    found = _noted(folder)
    return readable_version(found.get(_MADE)), readable_version(found.get(_SET_UP))
