"""The marking cache: for each hand-in, a small file that says what was marked and what a person should look at."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from legtoleg.core.files import write_whole
from legtoleg.core.try_ledger import CACHE

FOLDER = CACHE


@dataclass(frozen=True)
class MarkedLine:
    """One marked hand-in: digests of what came and of the lesson it was marked by, and remarks for a person."""

    apprentice: str
    lesson: str
    handed_in: str
    released: str
    remarks: tuple[str, ...] = ()
    course: str = ""
    """The version of the course that marked it; empty in an entry from before it was kept."""
    try_number: int = 1


@dataclass(frozen=True)
class MarkingCache:
    """The marking cache of the cohort in ``folder``."""

    folder: Path

    def _path(self, apprentice: str, lesson: str) -> Path:
        return self.folder / FOLDER / lesson / f"{apprentice}.json"

    def write(self, line: MarkedLine) -> None:
        """Enter one hand-in; call it last, when book, notebook and page are written."""
        text = json.dumps(asdict(line), ensure_ascii=False, indent=1) + "\n"
        write_whole(self._path(line.apprentice, line.lesson), text.encode("utf-8"))

    def read(self, apprentice: str, lesson: str) -> MarkedLine | None:
        """Return what is entered for one hand-in; None if nothing is, or it cannot be read."""
        try:
            data = json.loads(self._path(apprentice, lesson).read_text(encoding="utf-8"))
            return MarkedLine(**{**data, "remarks": tuple(data["remarks"])})
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def forget(self, apprentice: str, lesson: str) -> None:
        """Take out what is entered for one hand-in, so that it is marked again."""
        self._path(apprentice, lesson).unlink(missing_ok=True)

    def lines(self) -> Iterator[MarkedLine]:
        """Yield every entry, by lesson and apprentice."""
        for path in sorted((self.folder / FOLDER).glob("*/*.json")):
            line = self.read(path.stem, path.parent.name)
            if line is not None:
                yield line
