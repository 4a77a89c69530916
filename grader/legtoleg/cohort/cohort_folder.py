"""A cohort: nbgrader's folder and book, set up so that its own commands mark by our way."""

from __future__ import annotations

import ast
import logging
import os
import sys
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import nbformat
from traitlets.config import Config

from dryerbench.core.errors import LegToLegError
from legtoleg.authoring.lesson_source import STUB, solved_notebook
from legtoleg.cohort.gradebook import COURSE
from legtoleg.intake.roster import Person, read_roster
from legtoleg.sandbox.jupyter_kernels import environment

CONFIG = '''"""nbgrader's settings for this cohort: its own commands mark by the course's way."""

from legtoleg.cohort.cohort_folder import configure

c = get_config()  # noqa: F821
configure(c)
{book}'''

ROSTER = "roster.csv"
_BOOK = "c.CourseDirectory.db_url = "


class CohortError(LegToLegError, RuntimeError):
    """A step of nbgrader that failed; the text says which, for whom, and what nbgrader said last."""


def configure(c: Any) -> None:
    """Set nbgrader's configuration object ``c``: what an empty answer looks like, and how a notebook is marked."""
    ours = "legtoleg.cohort.nbgrader_steps"
    c.CourseDirectory.course_id = COURSE
    c.ClearSolutions.code_stub = {"python": STUB}
    c.OverwriteCells.add_missing_cells = True
    c.Autograde.sanitize_preprocessors = [
        "legtoleg.marking.bench_trail_recovery.KeepWork",
        "nbgrader.preprocessors.ClearOutput",
        f"{ours}.RestoreMarks",
        "nbgrader.preprocessors.OverwriteKernelspec",
        "nbgrader.preprocessors.OverwriteCells",
        "nbgrader.preprocessors.CheckCellMetadata",
    ]
    c.Autograde.autograde_preprocessors = [
        f"{ours}.RunNotebook",
        f"{ours}.MarkAnswers",
        "nbgrader.preprocessors.LimitOutput",
        "nbgrader.preprocessors.SaveAutoGrades",
        "nbgrader.preprocessors.AssignLatePenalties",
        "nbgrader.preprocessors.CheckCellMetadata",
    ]


def _tools_on_path() -> dict[str, str]:
    """Return a PATH that starts at this environment's commands: nbgrader starts ``alembic`` by name for a new book."""
    return {"PATH": os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", os.defpath)])}


class _LastWords(logging.Handler):
    """Keeps what nbgrader complained of, for the error's text."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.words: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.words.append(record.getMessage().strip().splitlines()[-1][:300])


@dataclass(frozen=True)
class Cohort:
    """A folder in nbgrader's layout, with ``nbgrader_config.py`` and the book ``gradebook.db``."""

    folder: Path

    @staticmethod
    def make(folder: Path, lessons: list[str], book: str = "") -> Cohort:
        """Set up ``folder`` with the solved source and the released notebook of each of ``lessons``.

        A lesson that is there already and has not changed is left as it is. ``book`` is the SQLAlchemy address of
        a grade book elsewhere; empty, it is a file in the folder.

        Raises
        ------
        CohortError
            If nbgrader cannot make a release.
        """
        folder.mkdir(parents=True, exist_ok=True)
        settings = folder / "nbgrader_config.py"
        if book or not settings.is_file():
            line = f"{_BOOK}{book!r}\n" if book else ""
            settings.write_text(CONFIG.format(book=line), encoding="utf-8")
        cohort = Cohort(folder.resolve())
        for lesson in lessons:
            cohort._release(lesson)
        return cohort

    def _release(self, lesson: str) -> None:
        source = self.folder / "source" / lesson / f"{lesson}.ipynb"
        text = str(nbformat.writes(solved_notebook(lesson))) + "\n"
        same = source.is_file() and source.read_text(encoding="utf-8") == text
        if same and self.released(lesson).is_file():
            return
        source.parent.mkdir(parents=True, exist_ok=True)
        source.write_text(text, encoding="utf-8")
        self.run("generate_assignment", lesson, force=True, create=True)

    @staticmethod
    def at(folder: Path) -> Cohort:
        """Return the cohort that is in ``folder``.

        Raises
        ------
        CohortError
            If there is none.
        """
        if not (folder / "nbgrader_config.py").is_file():
            raise CohortError(
                f"{folder} is no cohort's folder: make one with “legtoleg cohort {folder} --roster FILE”."
            )
        return Cohort(folder.resolve())

    def lessons(self) -> list[str]:
        """Return the names of the lessons released in this cohort, in order."""
        return sorted(path.parent.name for path in (self.folder / "release").glob("*/*.ipynb"))

    def released(self, lesson: str) -> Path:
        """Return where the released notebook of ``lesson`` stands."""
        return self.folder / "release" / lesson / f"{lesson}.ipynb"

    def people(self) -> list[Person]:
        """Return who is on this cohort's roster; nobody if it has none.

        Raises
        ------
        RosterError
            If its roster has been damaged.
        """
        path = self.folder / ROSTER
        return read_roster(path) if path.is_file() else []

    @property
    def book(self) -> str:
        """The SQLAlchemy address of the grade book."""
        settings = self.folder / "nbgrader_config.py"
        if settings.is_file():
            for line in settings.read_text(encoding="utf-8").splitlines():
                if line.startswith(_BOOK):
                    return str(ast.literal_eval(line.removeprefix(_BOOK)))
        return f"sqlite:///{self.folder / 'gradebook.db'}"

    def config(self) -> Config:
        """Return nbgrader's configuration for this folder."""
        config = Config()
        config.CourseDirectory.root = str(self.folder)
        config.CourseDirectory.db_url = self.book
        configure(config)
        return config

    def run(self, step: str, *who: str, **options: Any) -> None:
        """Run one of nbgrader's steps (``generate_assignment``, ``autograde``, ``generate_feedback``) here.

        Raises
        ------
        CohortError
            If nbgrader says that it failed.
        """
        from nbgrader.apps import NbGraderAPI  # noqa: PLC0415 - its import alone takes two seconds

        last = _LastWords()
        with environment(_tools_on_path()), warnings.catch_warnings():
            warnings.simplefilter("ignore")  # nbgrader's own, about its book; nothing an instructor can act on
            api = NbGraderAPI(config=self.config())
            result = _call(api, step, who, options, last)
        if not result["success"]:
            words = last.words[-1] if last.words else str(result.get("error", "no word"))[-300:]
            raise CohortError(f"nbgrader's {step} failed for {' of '.join(who)}: {words}")

    def submitted(self, apprentice: str, lesson: str) -> Path:
        """Return where the notebook handed in by ``apprentice`` for ``lesson`` belongs."""
        return self.folder / "submitted" / apprentice / lesson / f"{lesson}.ipynb"

    def autograded(self, apprentice: str, lesson: str) -> Path:
        """Return where nbgrader puts the marked notebook."""
        return self.folder / "autograded" / apprentice / lesson / f"{lesson}.ipynb"

    def feedback(self, apprentice: str, lesson: str) -> Path:
        """Return where nbgrader puts the feedback page."""
        return self.folder / "feedback" / apprentice / lesson / f"{lesson}.html"


def _call(api: Any, step: str, who: tuple[str, ...], options: dict[str, Any], last: _LastWords) -> dict[str, Any]:
    logger = api.log
    logger.addHandler(last)
    try:
        result: dict[str, Any] = getattr(api, step)(*who, **options)
    finally:
        logger.removeHandler(last)
    return result
