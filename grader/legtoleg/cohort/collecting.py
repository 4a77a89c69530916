"""Taking in: what came back becomes hand-ins; everything that came is kept as it came, and nothing is overwritten."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import nbformat

from dryerbench.core.identity import checked_id
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.core.files import write_whole
from legtoleg.core.notebook_format import MARK_KEY as CLAIM
from legtoleg.core.paths import START
from legtoleg.intake.inbox import ReceivedFile, open_received
from legtoleg.intake.notebook_repair import RepairedNotebook, UnreadableNotebookError, repair
from legtoleg.intake.ownership import lesson_of, owner_of
from legtoleg.intake.roster import Person
from legtoleg.intake.submissions import STAMP, digest

RECEIVED = "received"
"""Where everything that came is kept as it came."""
UNCLEAR = "unclear"
_STAMP_FORM = "%Y-%m-%d %H:%M:%S UTC"


@dataclass(frozen=True)
class Taken:
    """What became of one file.

    ``state``: ``counts``, ``kept`` (an older one), ``known``, ``untouched``, ``asked`` or ``refused``.
    """

    name: str
    state: str
    words: str
    apprentice: str = ""
    lesson: str = ""
    note: str = ""
    """What is to be known of it besides: that it was put right, that it replaces another."""

    @property
    def parcel(self) -> str:
        """The zip or the folder that it came in."""
        zipped, mark, _ = self.name.rpartition(": ")
        return zipped if mark else str(Path(self.name).parent)

    @property
    def needs_a_person(self) -> bool:
        """Tell whether the instructor has to decide or ask for it again."""
        return self.state in ("asked", "refused")


class Collector:
    """Takes files in for one cohort."""

    def __init__(self, cohort: Cohort, said: str = "") -> None:
        self.cohort = cohort
        self.people: list[Person] = cohort.people()
        self.lessons = cohort.lessons()
        self.said = checked_id(said) if said else ""
        self._start = self._answers(repair(built_path(START).read_bytes()).notebook)
        self._released = {lesson: self._answers(repair(self._read(lesson)).notebook) for lesson in self.lessons}

    def _read(self, lesson: str) -> bytes:
        return self.cohort.released(lesson).read_bytes()

    @staticmethod
    def _answers(notebook: nbformat.NotebookNode) -> list[str]:
        return [cell.source.strip() for cell in notebook.cells if cell.cell_type == "code"]

    def _is_start_page(self, name: str, rescued: RepairedNotebook) -> bool:
        """Tell whether it is the page that asks nothing, also under a name that a browser made of it."""
        return name == START or (START in name and self._answers(rescued.notebook) == self._start)

    def collect(self, paths: Iterable[Path]) -> Iterator[Taken]:
        """Take in every notebook in ``paths`` (zips, folders, files) and yield what became of each."""
        for path in paths:
            for piece in open_received(path):
                yield self._refused(piece) if piece.refused else self._take(piece)

    def _refused(self, piece: ReceivedFile) -> Taken:
        return Taken(piece.name, "refused", f"was not opened: {piece.refused}.")

    def _take(self, piece: ReceivedFile) -> Taken:
        try:
            rescued = repair(piece.content)
        except UnreadableNotebookError as error:
            kept = self._keep(piece, UNCLEAR, "")
            return Taken(piece.name, "refused", f"cannot be read: {error}. It is kept as {_typed(kept)}.")
        lesson = lesson_of(rescued, Path(piece.name).name, self.lessons)
        if not lesson and self._is_start_page(Path(piece.name).stem, rescued):
            return Taken(piece.name, "untouched", "is the start page, which asks nothing: nothing to hand in.")
        if not lesson:
            kept = self._keep(piece, UNCLEAR, "")
            return Taken(piece.name, "refused", f"is none of this cohort's lessons. It is kept as {_typed(kept)}.")
        if self._answers(rescued.notebook) == self._released[lesson] and not _has_trail(rescued.notebook):
            return Taken(
                piece.name, "untouched", f"is lesson {lesson} as it was given out: nothing to hand in.", "", lesson
            )
        owner = owner_of(piece, rescued, self.people, self.said)
        if owner.doubt:
            kept = self._keep(piece, UNCLEAR, lesson)
            cure = f"Say whose it is: legtoleg collect {_typed(self.cohort.folder)} {_typed(kept)} --as ID"
            return Taken(piece.name, "asked", f"is lesson {lesson}, but {owner.doubt}. {cure}", "", lesson)
        return self._place(piece, rescued, owner.apprentice, lesson)

    def _keep(self, piece: ReceivedFile, who: str, lesson: str) -> Path:
        """Keep the file as it came, under a name made of its content, and return where."""
        name = f"{lesson or 'notebook'}-{digest(piece.content)[:16]}.ipynb"
        path = self.cohort.folder / RECEIVED / who / name
        if not path.is_file():
            write_whole(path, piece.content)
        return path

    def _place(self, piece: ReceivedFile, rescued: RepairedNotebook, who: str, lesson: str) -> Taken:
        kept = self.cohort.folder / RECEIVED / who / f"{lesson}-{digest(piece.content)[:16]}.ipynb"
        target = self.cohort.submitted(who, lesson)
        known = kept.is_file()
        self._keep(piece, who, lesson)
        text = _written(rescued)
        how = f" ({'; '.join(rescued.remarks)}; put right)" if rescued.remarks else ""
        now = piece.changed or datetime.now(UTC)
        if target.is_file() and target.read_bytes() == text:
            return Taken(piece.name, "known", f"was taken in before as {who}, {lesson}.", who, lesson, how)
        standing = self._standing(who, lesson)
        if target.is_file() and (standing is None or now < standing or (known and now == standing)):
            words = f"is an older hand-in of {who}, {lesson}{how}: kept, does not count."
            return Taken(piece.name, "kept", words, who, lesson, how)
        replaced = " It replaces an earlier one, which is kept." if target.is_file() else ""
        self._rescue_stranger(target, who, lesson)
        write_whole(target.parent / STAMP, now.strftime(_STAMP_FORM).encode("ascii"))
        write_whole(target, text)
        return Taken(piece.name, "counts", f"is {who}, {lesson}{how}.{replaced}", who, lesson, how + replaced)

    def _rescue_stranger(self, target: Path, who: str, lesson: str) -> None:
        """Keep a file that someone put there by hand before it is replaced."""
        if target.is_symlink() or not target.is_file():
            return
        standing = target.read_bytes()
        kept = (self.cohort.folder / RECEIVED / who).glob(f"{lesson}-*.ipynb")
        if not any(_became(path) == standing for path in kept):
            self._keep(ReceivedFile(str(target), standing), who, lesson)

    def _standing(self, who: str, lesson: str) -> datetime | None:
        try:
            text = (self.cohort.submitted(who, lesson).parent / STAMP).read_text(encoding="ascii")
            return datetime.strptime(text.strip(), _STAMP_FORM).replace(tzinfo=UTC)
        except (OSError, ValueError):
            return datetime.fromtimestamp(0, UTC)


def _typed(path: Path) -> str:
    """Return ``path`` as it is shortest to type here, quoted where it has to be."""
    here = Path.cwd()
    shortest = str(path.relative_to(here) if path.is_relative_to(here) else path)
    return f'"{shortest}"' if " " in shortest else shortest


def _has_trail(notebook: nbformat.NotebookNode) -> bool:
    """Tell whether work on the bench was handed in: the only outputs that a rescued notebook keeps."""
    return any(cell.get("outputs") for cell in notebook.cells)


def _became(kept: Path) -> bytes:
    """Return what a kept file was turned into; nothing if it is no notebook."""
    try:
        return _written(repair(kept.read_bytes()))
    except UnreadableNotebookError:
        return b""


def _written(rescued: RepairedNotebook) -> bytes:
    """Return the clean notebook as a file, with the claim that it came with, which marking compares with its place."""
    notebook = rescued.notebook
    claim: dict[str, object] = {"apprentice": next(iter(rescued.claimed))} if len(rescued.claimed) == 1 else {}
    if rescued.tries:
        claim["try"] = max(rescued.tries)
    if rescued.old_letters:
        claim["old_letters"] = True
    if claim:
        notebook.metadata[CLAIM] = claim
    return str(nbformat.writes(notebook)).encode("utf-8")
