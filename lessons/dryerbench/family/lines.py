"""The text files of this room: one fact a line, ``key: words``; what cannot be read is named by file and line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dryerbench.core.errors import LegToLegError


class FamilyFileError(LegToLegError, ValueError):
    """A line of a machine's or of the faults' file that cannot be right; the text names file and line."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a file: where it stands, its key, and the words after the colon."""

    file: str
    number: int
    key: str
    words: str

    def wrong(self, why: str) -> FamilyFileError:
        """Return the error that says ``why`` this line cannot stand."""
        return FamilyFileError(f"{self.file}, line {self.number}: {why}")

    def items(self) -> list[str]:
        """Return the words between the commas."""
        return [item.strip() for item in self.words.split(",")]


def read_lines(file: str, text: str, keys: tuple[str, ...]) -> Iterator[Line]:
    """Yield the lines of ``text``; a line that starts with # is a remark.

    Raises
    ------
    FamilyFileError
        For a line without a colon, without words after it, or with a key that is none of ``keys``.
    """
    for number, raw in enumerate(text.splitlines(), start=1):
        words = raw.strip()
        if not words or words.startswith("#"):
            continue
        key, colon, rest = words.partition(":")
        line = Line(file, number, key.strip(), rest.strip())
        if not colon:
            raise line.wrong(f"'{words}' has no colon: write a word of {', '.join(keys)}, a colon, and the fact.")
        if line.key not in keys:
            raise line.wrong(f"'{line.key}' is no word that starts a line here; those are {', '.join(keys)}.")
        if not line.words:
            raise line.wrong(f"nothing stands after '{line.key}:'.")
        yield line
