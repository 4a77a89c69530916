"""Taking in: what came back becomes hand-ins; everything that came is kept as it came, and nothing is overwritten."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

import nbformat

from dryerbench.core.identity import checked_id
from legtoleg.authoring.building import built_path
from legtoleg.cohort.cohort_folder import RECEIVED, UNCLEAR, Cohort
from legtoleg.collecting.arrivals import KEPT_AS, NOBODY, OPEN, Arrival, Arrivals
from legtoleg.collecting.keeping import Keeper, sweep
from legtoleg.core.files import write_whole
from legtoleg.core.notebook_format import MARK_KEY as CLAIM
from legtoleg.core.notebook_format import clean_text
from legtoleg.core.outside_words import plain_words
from legtoleg.core.paths import START
from legtoleg.intake.answered import answered
from legtoleg.intake.arrival_time import Saved, clipped, read_stamp, saved, stamp_text
from legtoleg.intake.inbox import ReceivedFile, open_received
from legtoleg.intake.name_matching import named_in
from legtoleg.intake.notebook_repair import RepairedNotebook, UnreadableNotebookError, repair
from legtoleg.intake.ownership import lesson_of, owner_of
from legtoleg.intake.roster import Person
from legtoleg.intake.submissions import STAMP, digest

__all__ = ["RECEIVED", "Collector", "Taken"]
ASK_FOR_IT = "Ask for the .ipynb file again, then collect that."


@dataclass(frozen=True)
class Taken:
    """What became of one file.

    ``state``: ``counts``, ``kept`` (an older one), ``known``, ``untouched``, ``aside`` (the instructor said so),
    ``asked`` or ``refused``.
    """

    name: str
    state: str
    words: str
    apprentice: str = ""
    lesson: str = ""
    note: str = ""
    """What is to be known of it besides: that it was put right, that it replaces another."""
    digest: str = ""
    kept: Path | None = None
    saved: datetime | None = None
    cure: str = ""
    """What the instructor can do about it."""

    @property
    def parcel(self) -> str:
        """The zip or the folder that it came in."""
        zipped, mark, _ = self.name.rpartition(": ")
        return zipped if mark else str(Path(self.name).parent)

    @property
    def needs_a_person(self) -> bool:
        """Tell whether the instructor has to decide or ask for it again."""
        return self.state in OPEN


class Collector:
    """Takes files in for one cohort; all that came is listed in ``arrivals``, which ``save`` writes."""

    def __init__(self, cohort: Cohort, said: str = "", lesson: str = "") -> None:
        self.cohort = cohort
        self.people: list[Person] = cohort.people()
        self.lessons = cohort.lessons()
        self.said = checked_id(said) if said else ""
        self.lesson = lesson
        self.arrivals = Arrivals(cohort.folder)
        self._keeper = Keeper(cohort.folder)
        self._now = datetime.now(UTC)
        self._start = self._answers(repair(built_path(START).read_bytes()).notebook)
        self._given = {lesson: repair(self._read(lesson)).notebook for lesson in self.lessons}
        self._released = {lesson: self._answers(notebook) for lesson, notebook in self._given.items()}

    def _read(self, lesson: str) -> bytes:
        return self.cohort.released(lesson).read_bytes()

    @staticmethod
    def _answers(notebook: nbformat.NotebookNode) -> list[str]:
        return [cell.source.strip() for cell in notebook.cells if cell.cell_type == "code"]

    def _is_start_page(self, name: str, rescued: RepairedNotebook) -> bool:
        """Tell whether it is the page that asks nothing, also under a name that a browser made of it."""
        return name == START or (START in name and self._answers(rescued.notebook) == self._start)

    def collect(self, paths: Iterable[Path]) -> Iterator[Taken]:
        """Take in every file in ``paths`` (zips, folders, files), list it, and yield what became of each."""
        sweep(self.cohort.folder)
        for path in paths:
            for piece in open_received(path):
                if self.arrivals.is_list(piece.source):
                    continue
                taken = self._refused(piece) if piece.refused else self._take(piece, self.said, self.lesson)
                self._list(piece, taken)
                yield taken

    def settle(self, held: Arrival, whose: str, lesson: str) -> Taken:
        """Take in what was kept aside as ``held``, now that the instructor said ``whose`` it is, and which lesson."""
        kept = self.cohort.folder / RECEIVED / held.kept
        name = held.file
        lesson = lesson or held.lesson
        if whose == NOBODY:
            taken = Taken(name, "aside", "is left as it is, as you said.", digest=held.digest)
        elif held.state == "asked" or (lesson and kept.suffix == ".ipynb"):
            when = read_stamp(held.saved)
            taken = self._take(ReceivedFile(name, kept.read_bytes(), when, path=name, source=kept), whose, lesson)
        else:
            words = f"is {whose}'s, as you said; it cannot be graded, and is kept."
            taken = Taken(name, "aside", words, whose, digest=held.digest)
        if not taken.needs_a_person:
            self.arrivals.settle(held.key, whose, taken.lesson, taken.words)
        self._count(taken, self.arrivals.all[held.key])
        return taken

    def save(self) -> None:
        """Write the list of all that came."""
        self.arrivals.save()

    def _list(self, piece: ReceivedFile, taken: Taken) -> None:
        """Enter what became of ``piece``; what was kept in doubt and is given again is no new file that came."""
        received, ours = self.cohort.folder / RECEIVED, self._is_kept(piece)
        before = [one for one in self.arrivals.all.values() if taken.digest and one.digest == taken.digest]
        settled = self.said if not taken.needs_a_person and taken.apprentice == self.said else ""
        for one in before:
            if settled and one.open:
                self.arrivals.settle(one.key, settled, taken.lesson, taken.words)
                self._count(taken, self.arrivals.all[one.key])
        if ours and before:
            return
        came = Arrival(
            file=plain_words(piece.path or piece.name),
            state=taken.state,
            words=taken.words,
            digest=taken.digest,
            kept="" if taken.kept is None else taken.kept.relative_to(received).as_posix(),
            whose=taken.apprentice,
            lesson=taken.lesson,
            saved=stamp_text(taken.saved) if taken.saved else "",
            arrived=stamp_text(self._now),
            cure=taken.cure,
            said=settled,
        )
        self._count(taken, self.arrivals.note(came))

    def _is_kept(self, piece: ReceivedFile) -> bool:
        """Tell whether ``piece`` is one that was received before, given again from where it is kept."""
        return piece.source is not None and (self.cohort.folder / RECEIVED).resolve() in piece.source.resolve().parents

    def _count(self, taken: Taken, one: Arrival) -> None:
        """Of a person's hand-ins of a lesson one counts: if this is ``one``, those before it do not any more."""
        if taken.state == "counts":
            self.arrivals.replaced_by(one)

    def _refused(self, piece: ReceivedFile) -> Taken:
        try:
            kept, content = self._keeper.keep_file(piece.source)
        except OSError as error:
            words = f"was not opened: {piece.refused}. It could not be kept either ({error.strerror})."
            return Taken(piece.name, "refused", words, cure=ASK_FOR_IT)
        named = named_in(piece.path, self.people, self.lessons)
        who = next(iter(named)) if len(named) == 1 else ""
        one = Taken(piece.name, "refused", f"was not opened: {piece.refused}.", who, "", "", content, kept)
        said, _ = self.arrivals.said_of_file(plain_words(piece.path or piece.name), content)
        if said:
            return replace(one, state="aside", words="is left as it is, as you said.")
        if kept is None:
            return one
        cure = "" if "ask for" in piece.refused else ASK_FOR_IT
        return replace(one, words=f"{one.words}{KEPT_AS}{_typed(kept)}. {cure}".strip(), cure=cure)

    def _take(self, piece: ReceivedFile, said: str, lesson: str) -> Taken:
        mark = digest(piece.content)
        one = Taken(piece.name, "", "", digest=mark, saved=self._saved(piece, mark).at)
        if not said:
            said, settled = self.arrivals.said_of(mark)
            lesson = lesson or settled
        try:
            rescued = repair(piece.content)
        except UnreadableNotebookError as error:
            return self._unclear(one, piece, said, f"cannot be read: {error}.")
        lesson = lesson or lesson_of(rescued, Path(piece.name).name, self.lessons)
        one = replace(one, lesson=lesson)
        nothing = self._nothing_in(piece, rescued, lesson)
        if nothing and said != NOBODY:
            return replace(one, state="untouched", words=nothing)
        if not lesson:
            return self._unclear(one, piece, said, "is none of this cohort's lessons.")
        if said == NOBODY:
            kept = self._keeper.keep(UNCLEAR, lesson, piece.content)
            return replace(one, state="aside", words="is left as it is, as you said.", kept=kept)
        owner = owner_of(piece, rescued, self.people, said, self.lessons)
        if owner.doubt:
            return self._asked(one, piece, f"is lesson {lesson}, but {owner.doubt}.", "ID")
        return self._place(replace(one, apprentice=owner.apprentice), piece, rescued, settled=bool(said))

    def _nothing_in(self, piece: ReceivedFile, rescued: RepairedNotebook, lesson: str) -> str:
        """Return why there is nothing to hand in in ``piece``; empty if there is."""
        if not lesson and self._is_start_page(Path(piece.name).stem, rescued):
            return "is the start page, which asks nothing: nothing to hand in."
        same = bool(lesson) and self._answers(rescued.notebook) == self._released[lesson]
        if same and not _has_trail(rescued.notebook):
            return f"is lesson {lesson} as it was given out: nothing to hand in."
        return ""

    def _unclear(self, one: Taken, piece: ReceivedFile, said: str, words: str) -> Taken:
        """Keep what is no lesson; it needs a person until the instructor said something about it."""
        kept = self._keeper.keep(UNCLEAR, "", piece.content)
        if said and not self.said:
            return replace(one, state="aside", words="is left as it is, as you said.", kept=kept)
        words = f"{words}{KEPT_AS}{_typed(kept)}. {ASK_FOR_IT}"
        return replace(one, state="refused", words=words, kept=kept, cure=ASK_FOR_IT)

    def _asked(self, one: Taken, piece: ReceivedFile, words: str, who: str) -> Taken:
        """Keep aside what is in doubt, and say how to settle it."""
        kept = self._keeper.keep(UNCLEAR, one.lesson, piece.content)
        command = f"legtoleg collect {_typed(self.cohort.folder)} {_typed(kept)} --as {who}"
        cure = f"Say whose it is: {command}" if who == "ID" else f"If it is to count: {command}"
        return replace(one, state="asked", words=f"{words} {cure}", kept=kept, cure=cure)

    def _saved(self, piece: ReceivedFile, mark: str, kept: Path | None = None) -> Saved:
        arrived = read_stamp(self.arrivals.first_came(mark)) or self._now
        if kept is not None and kept.is_file():
            arrived = min(arrived, datetime.fromtimestamp(kept.stat().st_mtime, UTC))
        before = read_stamp(self.arrivals.saved_first(mark)) if self._is_kept(piece) else None
        return saved(before or piece.changed, arrived)

    def _place(self, one: Taken, piece: ReceivedFile, rescued: RepairedNotebook, *, settled: bool) -> Taken:
        who, lesson = one.apprentice, one.lesson
        kept = self._keeper.place(who, lesson, piece.content)
        target = self.cohort.submitted(who, lesson)
        known, when = kept.is_file(), self._saved(piece, one.digest, kept)
        text = _written(rescued)
        remarks = [*rescued.remarks, *([f"{when.doubt}, taken as the day it came"] if when.doubt else [])]
        how = f" ({'; '.join(remarks)}; fixed)" if remarks else ""
        one = replace(one, kept=kept, note=how, saved=when.at)
        there = target.is_file()
        if there and target.read_bytes() == text:
            self._keeper.keep(who, lesson, piece.content)
            self._finish_stamp(target, when)
            return replace(one, state="known", words=f"was taken in before as {who}, {lesson}.")
        standing = self._standing(who, lesson)
        decided = known and self.arrivals.first_came(one.digest) != ""
        older = when.at < standing or (known and when.at == standing) or (bool(when.doubt) and decided)
        if there and not settled and not (known and older):
            fewer = self._fewer(target, rescued, lesson, older=older)
            if fewer:
                return self._asked(one, piece, f"is {who}, {lesson}, but {fewer}.", who)
        self._keeper.keep(who, lesson, piece.content)
        if there and older:
            return replace(
                one, state="kept", words=f"is an older hand-in of {who}, {lesson}{how}: kept, does not count."
            )
        replaced = " It replaces an earlier one, which is kept." if there else ""
        self._rescue_stranger(target, who, lesson)
        write_whole(target, text)
        self._stamp(target, when.stamp_after(standing if there else None))
        return replace(one, state="counts", words=f"is {who}, {lesson}{how}.{replaced}", note=how + replaced)

    def _fewer(self, target: Path, rescued: RepairedNotebook, lesson: str, *, older: bool) -> str:
        """Return what is lost if what stands is replaced (or, if it is newer, if it stays); empty if nothing."""
        given = self._given[lesson]
        try:
            stands = len(answered(repair(target.read_bytes()).notebook, given, lesson))
        except UnreadableNotebookError:
            return ""
        comes = len(answered(rescued.notebook, given, lesson))
        if older and comes > stands:
            return f"it is older than what counts and has more answers ({comes}, not {stands})"
        if not older and comes < stands:
            return f"it is newer than what counts and has fewer answers ({comes}, not {stands})"
        return ""

    @staticmethod
    def _stamp(target: Path, when: datetime) -> None:
        """Write when a hand-in came, after the hand-in itself: a kill between the two is seen by the files' times."""
        write_whole(target.parent / STAMP, stamp_text(when).encode("ascii"))

    def _finish_stamp(self, target: Path, when: Saved) -> None:
        """Write the time that a kill kept from being written: the one that is there is older than the hand-in."""
        stamp = target.parent / STAMP
        if not stamp.is_file() or stamp.stat().st_mtime_ns < target.stat().st_mtime_ns:
            self._stamp(target, when.stamp_after(None))

    def _rescue_stranger(self, target: Path, who: str, lesson: str) -> None:
        """Keep a file that someone put there by hand before it is replaced."""
        if target.is_symlink() or not target.is_file():
            return
        standing = target.read_bytes()
        kept = (self.cohort.folder / RECEIVED / who).glob(f"{lesson}-*.ipynb")
        if not any(_became(path) == standing for path in kept):
            self._keeper.keep(who, lesson, standing)

    def _standing(self, who: str, lesson: str) -> datetime:
        try:
            text = (self.cohort.submitted(who, lesson).parent / STAMP).read_text(encoding="ascii")
        except (OSError, ValueError):
            text = ""
        return clipped(read_stamp(text) or datetime.fromtimestamp(0, UTC), self._now)


def _typed(path: Path) -> str:
    """Return ``path`` as it is shortest to type here, quoted where it has to be."""
    here = Path.cwd()
    shortest = plain_words(path.relative_to(here) if path.is_relative_to(here) else path)
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
    return clean_text(notebook).encode("utf-8")
