"""Arrivals: the list of all that ever came to a cohort, with its fate, and what the instructor settled."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from legtoleg.cohort.cohort_folder import RECEIVED
from legtoleg.core.files import write_whole

FILE = "what_came.json"
NOBODY = "nobody"
"""What the instructor writes for a file that is to be left as it is."""
KEPT_AS = " It is kept as "
OPEN = ("asked", "refused")
"""The fates that need a person."""
_SAME = ("known", "kept")
_COUNTS = ("counts", "settled")


@dataclass(frozen=True)
class Arrival:
    """One file that came: its name, its content's digest, where it is kept, whose it is and what became of it."""

    file: str
    state: str
    words: str
    digest: str = ""
    kept: str = ""
    whose: str = ""
    lesson: str = ""
    saved: str = ""
    arrived: str = ""
    cure: str = ""
    said: str = ""
    """Whose the instructor said it is: an id, or ``nobody``."""

    @property
    def key(self) -> str:
        """A short name of it that no spreadsheet takes for a number."""
        return "f-" + hashlib.sha256(f"{self.file}\0{self.digest}".encode("utf-8", "replace")).hexdigest()[:10]

    @property
    def what_happened(self) -> str:
        """What became of it, without where it is kept and what to do about it."""
        words = self.words.removesuffix(self.cure) if self.cure else self.words
        return words.partition(KEPT_AS)[0].strip()

    @property
    def open(self) -> bool:
        """Tell whether it needs a person."""
        return self.state in OPEN


def _read(path: Path) -> list[Arrival]:
    names = {field.name for field in fields(Arrival)}
    try:
        listed = json.loads(path.read_text(encoding="utf-8"))
        return [Arrival(**{name: str(row[name]) for name in names if name in row}) for row in listed]
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return []


class Arrivals:
    """The list of one cohort; it is read when it is made and written by ``save``."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / RECEIVED / FILE
        self.all: dict[str, Arrival] = {one.key: one for one in _read(self._path) if one.digest}

    def is_list(self, path: Path | None) -> bool:
        """Tell whether ``path`` is the file of this list, which nobody handed in."""
        return path is not None and path.resolve() == self._path.resolve()

    def note(self, one: Arrival) -> Arrival:
        """Enter ``one``; of a file that came before, the first day and, if it counted, the first fate stay."""
        before = self.all.get(one.key)
        if before is not None:
            one = replace(one, arrived=before.arrived or one.arrived, said=one.said or before.said)
            if one.state in _SAME and not before.open:
                one = before
        self.all[one.key] = one
        return one

    def settle(self, key: str, whose: str, lesson: str, words: str) -> None:
        """Close the entry ``key``: the instructor said whose it is."""
        state = "aside" if whose == NOBODY or not lesson else "settled"
        held = self.all[key]
        self.all[key] = replace(
            held, state=state, words=words, cure="", said=whose, whose="" if whose == NOBODY else whose, lesson=lesson
        )

    def replaced_by(self, one: Arrival) -> None:
        """Note of what counted before ``one``, of the same person and lesson, that it does not count any more."""
        for key, before in self.all.items():
            if key != one.key and before.state in _COUNTS and (before.whose, before.lesson) == (one.whose, one.lesson):
                words = f"{before.words.rstrip()} A later one counts now; this one is kept."
                self.all[key] = replace(before, state="kept", words=words)

    def first_came(self, content: str) -> str:
        """Return when the content with this digest came first; empty if it never did."""
        return min((one.arrived for one in self.all.values() if one.digest == content and one.arrived), default="")

    def saved_first(self, content: str) -> str:
        """Return when the content with this digest was saved, as it was found when it came; empty if it never did."""
        return min((one.saved for one in self.all.values() if one.digest == content and one.saved), default="")

    def said_of(self, content: str) -> tuple[str, str]:
        """Return whose the instructor said the content with this digest is, and which lesson; empty if nothing."""
        said = [one for one in self.all.values() if one.digest == content and one.said]
        return (said[-1].said, said[-1].lesson) if said else ("", "")

    def said_of_file(self, file: str, content: str) -> tuple[str, str]:
        """Return what the instructor said of just this ``file``, which is no notebook; empty if nothing."""
        said = self.all.get(Arrival(file, "", "", content).key)
        return (said.said, said.lesson) if said is not None else ("", "")

    def open(self) -> list[Arrival]:
        """Return what needs a person, in the order in which it came."""
        return [one for one in self.all.values() if one.open]

    def save(self) -> None:
        """Write the list."""
        rows: Iterable[dict[str, str]] = [asdict(one) for one in self.all.values()]
        write_whole(self._path, (json.dumps(list(rows), ensure_ascii=True, indent=1) + "\n").encode("ascii"))
