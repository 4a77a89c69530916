"""What of the course itself is really here: each lesson, source, table, key and page is opened, not only looked for."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import PRACTICE
from dryerbench.core.tables import datasets_folder, table
from dryerbench.core.version import UNKNOWN, course_version
from dryerbench.registry import SHEETS
from legtoleg.cli.check import Check
from legtoleg.core.paths import ROOT, START, TEMPLATES, course_folder, in_checkout

_AGAIN = "Install the course again; in a clone, “git status” says what is missing or changed."
_TEXTS = ("ANSWERS.md", "WORDS.md", "LICENSE.txt")
_PAGES = (
    *("report.html", "feedback.html", "what_came.html", "workbook.html"),
    *(f"refresher/{name}.html" for name in ("certificate", "due", "result", "shop", "topics")),
    "refresher/base.css",
    *(f"classroom/{name}.html" for name in ("board", "login", "slips", "supervised_result")),
    "witness/check_sheet.html",
    *(f"containers/{name}" for name in ("Containerfile", "books.sql", "class.yaml", "compose.yaml")),
    *(f"containers/{name}" for name in ("hub_config.txt", "secret.yaml", "variables.env")),
)
"""The templates that commands fill in."""


def _failing(names: Iterator[str] | list[str], attempt: Callable[[str], object]) -> list[str]:
    """Return those of ``names`` at which ``attempt`` raises, whatever it raises: a broken file may raise anything."""
    failing: list[str] = []
    for name in names:
        failing.append(name)
        with suppress(Exception):
            attempt(name)
            failing.pop()
    return failing


def _told(what: str, names: list[str], failing: list[str], cure: str = _AGAIN) -> Check:
    if failing:
        return Check(what, False, f"missing or damaged: {', '.join(failing)[:300]}", cure)
    return Check(what, True, f"all {len(names)} there")


def _version() -> Check:
    found = course_version()
    return Check("Course", found != UNKNOWN, f"version {found}", "Install the course: “pip install -e .” in a clone.")


def _checkout() -> Check:
    if in_checkout():
        return Check("Checkout", True, str(ROOT))
    cure = "All else works. To change lessons, clone the course and install it with “pip install -e .” in the clone."
    return Check("Checkout", False, "none, the course is installed: “legtoleg build” does not work", cure, must=False)


def _lessons() -> Check:
    names = [START, *sorted(SHEETS)]

    def attempt(name: str) -> None:
        folder = course_folder("lessons")
        if name in _TEXTS:
            (folder / name).read_text(encoding="utf-8")
        elif not json.loads((folder / name / f"{name}.ipynb").read_text(encoding="utf-8"))["cells"]:
            raise ValueError(name)

    return _told("Lessons", names, _failing([*names, *_TEXTS], attempt))


def _sources() -> Check:
    from legtoleg.authoring.lesson_source import solved_notebook, start_page

    names = [START, *sorted(SHEETS)]
    attempt: Callable[[str], object] = lambda name: start_page() if name == START else solved_notebook(name)
    return _told("Sources of the lessons", names, _failing(names, attempt))


def _tables() -> Check:
    try:
        described = json.loads((datasets_folder() / "datapackage.json").read_text(encoding="utf-8"))["resources"]
        names = [str(one["name"]) for one in described]
    except (LegToLegError, OSError, ValueError, LookupError, TypeError):
        return Check("Tables", False, "missing or damaged: datapackage.json", _AGAIN)
    # Each is read anew: what was read before it was lost must not count.
    return _told("Tables", names, _failing(names, table.__wrapped__))


def _keys() -> Check:
    from legtoleg.keys.answer_key import worked
    from legtoleg.marking.marking import mark_lesson

    def attempt(name: str) -> None:
        worked(name, SHEETS[name].card(PRACTICE))
        mark_lesson(name, PRACTICE, {})

    return _told("Reference answers and grading", sorted(SHEETS), _failing(sorted(SHEETS), attempt))


def _pages() -> Check:
    from legtoleg.cohort.kit import START_FILES

    names = [*_PAGES, *(f"kit/{name}" for name in START_FILES)]
    return _told("Pages and start files", names, _failing(names, lambda name: (TEMPLATES / name).read_bytes()))


def _kit() -> Check:
    from legtoleg.cohort.kit import pack

    try:
        with tempfile.TemporaryDirectory(prefix="leg-to-leg-") as folder:
            size = pack("doctor", Path(folder)).stat().st_size
    except (LegToLegError, OSError, ValueError, LookupError) as error:
        return Check("A kit", False, f"cannot be packed: {str(error)[:200]}", _AGAIN)
    return Check("A kit", True, f"packed for a try, {size / 1e6:.1f} MB")


def course_checks() -> Iterator[Check]:
    """Yield what is found of the course, one check after the other."""
    yield from (check() for check in (_version, _checkout, _lessons, _sources, _tables, _keys, _pages, _kit))
