"""A cohort: nbgrader's folder and book, set up so that its own commands mark by our way."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from traitlets.config import Config

from dryerbench.core.errors import LegToLegError
from legtoleg.authoring.nbgrader_api import config_of, release, run_step
from legtoleg.cohort import cohort_config
from legtoleg.core.folder_search import marked_folder
from legtoleg.core.lesson_choice import lesson_called
from legtoleg.intake.roster import Person, id_called, read_roster

ROSTER = "roster.csv"
RECEIVED = "received"
"""The folder in which everything that came is kept as it came."""
UNCLEAR = "unclear"
"""The folder in it of what is nobody's yet."""
TRUTH = "truth.csv"
"""What everybody did, in a cohort that “legtoleg try” made up: only there is it known."""


class CohortError(LegToLegError, RuntimeError):
    """A folder that is no cohort; the text says how to make one."""


@dataclass(frozen=True)
class Cohort:
    """A folder in nbgrader's layout, with ``nbgrader_config.py`` and the book ``gradebook.db``."""

    folder: Path

    @property
    def made_up(self) -> bool:
        """Whether nobody in it is real; it changes what pages say, never how notebooks are run."""
        return (self.folder / TRUTH).is_file()

    @staticmethod
    def make(folder: Path, lessons: list[str], book: str = "") -> Cohort:
        """Set up ``folder`` with the solved source and the released notebook of each of ``lessons``.

        A lesson that is there already and has not changed is left as it is. ``book`` is the SQLAlchemy address of
        a grade book elsewhere; empty, it is a file in the folder.

        Raises
        ------
        CohortError
            If nbgrader could not work in a folder of that name.
        NbgraderError
            If nbgrader cannot make a release.
        """
        if set(str(folder.resolve())) & set("[]*?"):
            raise CohortError(f"{folder}: nbgrader reads [ ] * ? in a folder's name as a pattern. Take another name.")
        folder.mkdir(parents=True, exist_ok=True)
        cohort_config.note_version(folder)
        cohort_config.write(folder, book)
        cohort = Cohort(folder.resolve())
        for lesson in lessons:
            release(cohort.config(), lesson)
        return cohort

    @staticmethod
    def at(folder: Path) -> Cohort:
        """Return the cohort that is in ``folder``; settings that an older version wrote are brought up to date.

        Raises
        ------
        CohortError
            If there is none.
        """
        make = f"legtoleg cohort {folder} --roster FILE"
        marked_folder(folder, cohort_config.FILE, "cohort", make, CohortError)
        cohort_config.renew(folder)
        return Cohort(folder.resolve())

    def lessons(self) -> list[str]:
        """Return the names of the lessons released in this cohort, in order."""
        return sorted(path.parent.name for path in (self.folder / "release").glob("*/*.ipynb"))

    def lesson_called(self, said: str) -> str:
        """Return the lesson that was ``said`` by its name or its number.

        Raises
        ------
        CohortError
            If this cohort has none of that name.
        """
        return lesson_called(said, self.lessons(), CohortError, " in this cohort")

    def here(self) -> list[Person]:
        """Return who is on this cohort's roster and has not left by today.

        Raises
        ------
        RosterError
            If its roster has been damaged.
        """
        today = datetime.now().astimezone().date()
        return [person for person in self.people() if not person.gone(today)]

    def id_called(self, said: str) -> str:
        """Return the id on this cohort's roster that was ``said``; capitals do not count.

        Raises
        ------
        CohortError
            If there is none such.
        RosterError
            If the roster has been damaged.
        """
        return id_called(said, [person.id for person in self.people()], ROSTER, CohortError)

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
        return cohort_config.book_in(self.folder) or f"sqlite:///{self.folder / 'gradebook.db'}"

    def config(self) -> Config:
        """Return nbgrader's configuration for this folder."""
        return config_of(self.folder, self.book)

    def run(self, step: str, *who: str, **options: object) -> None:
        """Run one of nbgrader's steps (``generate_assignment``, ``autograde``, ``generate_feedback``) here.

        Raises
        ------
        NbgraderError
            If nbgrader says that it failed.
        """
        run_step(self.config(), step, *who, **options)

    def submitted(self, apprentice: str, lesson: str) -> Path:
        """Return where the notebook handed in by ``apprentice`` for ``lesson`` belongs."""
        return self.folder / "submitted" / apprentice / lesson / f"{lesson}.ipynb"

    def autograded(self, apprentice: str, lesson: str) -> Path:
        """Return where nbgrader puts the marked notebook."""
        return self.folder / "autograded" / apprentice / lesson / f"{lesson}.ipynb"

    def feedback(self, apprentice: str, lesson: str) -> Path:
        """Return where nbgrader puts the feedback page."""
        return self.folder / "feedback" / apprentice / lesson / f"{lesson}.html"
