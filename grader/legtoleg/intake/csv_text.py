"""CSV files as people save them: any of the usual encodings, and a comma, a semicolon or a tab between the cells."""

from __future__ import annotations

import csv
import errno
import io
from pathlib import Path

_BINARY = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF")
"""How the workbooks of spreadsheet programs, old and new, and PDF begin."""


def csv_text(path: Path) -> str:
    """Return the text of a CSV file, whatever program saved it.

    Raises
    ------
    OSError
        If it cannot be opened, or is a workbook or other file that is no text.
    """
    content = path.read_bytes()
    if content.startswith(_BINARY):
        raise OSError(errno.EINVAL, "It is a workbook, not text: in the spreadsheet program save it as CSV", str(path))
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1")


def delimiter(text: str) -> str:
    """Return what stands between the cells of the first line of ``text``."""
    lines = text.splitlines()
    return max(",;\t", key=(lines[0] if lines else "").count)


def rows(text: str) -> list[dict[str, str]]:
    """Return the rows of a table with names in its first line; names in lower case, cells without blanks around."""
    reader = csv.DictReader(io.StringIO(text.replace("\0", ""), newline=""), delimiter=delimiter(text))
    try:
        return [
            {
                str(name).strip().lower(): (cell or "").strip()
                for name, cell in row.items()
                if isinstance(name, str) and not isinstance(cell, list)
            }
            for row in reader
        ]
    except csv.Error:
        return []


def cell_text(text: str) -> str:
    """Return ``text`` as a cell that a spreadsheet takes for text: a quote before what begins like a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text
