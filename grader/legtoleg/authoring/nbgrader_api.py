"""nbgrader's own steps (generate, autograde, feedback), set up to mark by the course's way."""

from __future__ import annotations

import logging
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

import nbformat
from traitlets.config import Config

from dryerbench.core.errors import LegToLegError
from legtoleg.authoring import empty_book
from legtoleg.authoring.lesson_source import STUB, solved_notebook

if TYPE_CHECKING:
    from nbgrader.apps import NbGraderAPI

COURSE = "leg_to_leg"
"""The course's name in nbgrader's book."""


class NbgraderError(LegToLegError, RuntimeError):
    """A step of nbgrader that failed; the text says which, for whom, and what nbgrader said last."""


def configure(c: Config) -> None:
    """Set nbgrader's configuration object ``c``: what an empty answer looks like, and how a notebook is marked."""
    c.CourseDirectory.course_id = COURSE
    c.ClearSolutions.code_stub = {"python": STUB}
    c.OverwriteCells.add_missing_cells = True
    c.Autograde.sanitize_preprocessors = [
        "legtoleg.marking.bench_trail_recovery.KeepWork",
        "nbgrader.preprocessors.ClearOutput",
        "legtoleg.cohort.nbgrader_steps.RestoreMarks",
        "legtoleg.cohort.cell_ordering.RestoreOrder",
        "nbgrader.preprocessors.OverwriteKernelspec",
        "nbgrader.preprocessors.OverwriteCells",
        "nbgrader.preprocessors.CheckCellMetadata",
    ]
    c.Autograde.autograde_preprocessors = [
        "legtoleg.sandbox.run_notebook.RunNotebook",
        "legtoleg.cohort.nbgrader_steps.MarkAnswers",
        "nbgrader.preprocessors.LimitOutput",
        "nbgrader.preprocessors.SaveAutoGrades",
        "nbgrader.preprocessors.AssignLatePenalties",
        "nbgrader.preprocessors.CheckCellMetadata",
    ]


class _LastWords(logging.Handler):
    """Keeps what nbgrader complained of, for the error's text."""

    def __init__(self) -> None:
        super().__init__(logging.ERROR)
        self.words: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.words.append(record.getMessage().strip().splitlines()[-1][:300])


def config_of(folder: Path, book: str = "") -> Config:
    """Return nbgrader's configuration for ``folder``; ``book`` is the grade book's SQLAlchemy address."""
    config = Config()
    config.CourseDirectory.root = str(folder)
    config.CourseDirectory.db_url = book or f"sqlite:///{folder / 'gradebook.db'}"
    configure(config)
    return config


def run_step(config: Config, step: str, *who: str, **options: object) -> None:
    """Run one of nbgrader's steps (``generate_assignment``, ``autograde``, ``generate_feedback``) by ``config``.

    Raises
    ------
    NbgraderError
        If nbgrader says that it failed.
    """
    from nbgrader.apps import NbGraderAPI

    last = _LastWords()
    empty_book.begin(config.CourseDirectory.db_url)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # nbgrader's own, about its book; nothing an instructor can act on
        api = NbGraderAPI(config=config)
        result = _call(api, step, who, options, last)
    if not result["success"]:
        words = last.words[-1] if last.words else str(result.get("error", "no word"))[-300:]
        raise NbgraderError(f"nbgrader's {step} failed for {' of '.join(who)}: {words}")


def release(config: Config, lesson: str) -> Path:
    """Write the solved source of ``lesson``, let nbgrader release it, and return the released notebook's path.

    A release that is there already, of a source that has not changed, is left as it is.

    Raises
    ------
    NbgraderError
        If nbgrader cannot make the release.
    """
    folder = Path(config.CourseDirectory.root)
    source, released = (folder / stage / lesson / f"{lesson}.ipynb" for stage in ("source", "release"))
    text = str(nbformat.writes(solved_notebook(lesson))) + "\n"
    if not (source.is_file() and source.read_text(encoding="utf-8") == text and released.is_file()):
        source.parent.mkdir(parents=True, exist_ok=True)
        source.write_text(text, encoding="utf-8")
        run_step(config, "generate_assignment", lesson, force=True, create=True)
    return released


def _call(
    api: NbGraderAPI, step: str, who: tuple[str, ...], options: dict[str, object], last: _LastWords
) -> dict[str, object]:
    logger = api.log
    logger.addHandler(last)
    try:
        result: dict[str, object] = getattr(api, step)(*who, **options)
    finally:
        logger.removeHandler(last)
    return result
