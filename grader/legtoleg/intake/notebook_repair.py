"""Rescue: a handed-in file of any age and make, read as untrusted bytes into a clean notebook of today's form."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field

import nbformat
from nbformat.notebooknode import NotebookNode

from dryerbench.core.errors import LegToLegError
from dryerbench.core.identity import MOST_TRIES
from dryerbench.notebook.answer_record import BOX, DEAL, MIME
from legtoleg.core.notebook_format import KERNEL, MARK_KEY
from legtoleg.core.outside_words import plain_words
from legtoleg.sandbox.output_sanitizer import plain_data

LARGEST_FILE = 20_000_000
"""Bytes; an honest lesson with all its pictures has a few hundred thousand."""
MOST_CELLS = 2000
_KINDS = ("code", "markdown", "raw")
_CELL_ID = re.compile(r"[a-zA-Z0-9_-]{1,64}")


class UnreadableNotebookError(LegToLegError, ValueError):
    """A file that cannot be read as a notebook; the text says why, in a few words."""


@dataclass
class RepairedNotebook:
    """A clean notebook, what had to be put right, and the ids and lesson that the file claims.

    Of its outputs only records of acts on the bench and of answers in boxes are left.
    """

    notebook: NotebookNode
    remarks: list[str] = field(default_factory=list)
    claimed: frozenset[str] = frozenset()
    lesson: str = ""
    tries: frozenset[int] = frozenset()
    """On which cards the saved answers say that they were worked out: a claim, no proof."""
    old_letters: bool = False
    """Whether saved letters come from a version of the course that dealt them otherwise."""


def _decoded(content: bytes, remarks: list[str]) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        remarks.append("was saved as UTF-16")
        return content.decode("utf-16", "replace")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        remarks.append("was not saved as UTF-8")
        return content.decode("cp1252", "replace")


def _parsed(text: str) -> dict[str, object]:
    try:
        data = json.loads(text.lstrip("\ufeff"), parse_constant=lambda _: None)
    except RecursionError:
        raise UnreadableNotebookError("it is nested deeper than any notebook") from None
    except ValueError:
        said = "it is empty" if not text.strip() else "it is no notebook, or only a part of one"
        raise UnreadableNotebookError(said) from None
    if not isinstance(data, dict):
        raise UnreadableNotebookError("it is no notebook")
    return data


def _upgraded(data: dict[str, object], remarks: list[str]) -> dict[str, object]:
    form = data.get("nbformat")
    if "cells" in data or "worksheets" not in data:
        return data
    remarks.append(f"was saved in the old notebook format {plain_words(form, 20)}")
    try:
        return dict(nbformat.convert(nbformat.from_dict(data), 4))
    except Exception:  # noqa: BLE001 - nbformat's converter may raise anything on what is no notebook
        raise UnreadableNotebookError("its old format cannot be converted") from None


def _text(source: object) -> str:
    if isinstance(source, list):
        source = "".join(part for part in source if isinstance(part, str))
    return str(plain_data(source)) if isinstance(source, str) else ""


def _records(cell: dict[str, object]) -> list[dict[str, object]]:
    found = []
    outputs = cell.get("outputs")
    for output in outputs if isinstance(outputs, list) else []:
        data = output.get("data") if isinstance(output, dict) else None
        record = data.get(MIME) if isinstance(data, dict) else None
        if isinstance(record, dict):
            found.append(record)
    return found


def _are_acts(acts: object) -> bool:
    """Tell whether ``acts`` is a trail that can be done again: each a name and what goes with it, of plain types."""
    return (
        isinstance(acts, list)
        and bool(acts)
        and all(
            isinstance(act, dict) and isinstance(act.get("act"), str) and isinstance(act.get("with", {}), dict)
            for act in acts
        )
    )


def _kept(cell: dict[str, object]) -> list[NotebookNode]:
    """Return the outputs of ``cell`` that hand in what is in no cell's source: acts on the bench, answers in boxes."""
    return [
        NotebookNode(output_type="display_data", data={MIME: plain_data(record)}, metadata={})
        for record in _records(cell)[:2]
        if _are_acts(record.get("acts")) or (record.get("by") == BOX and "acts" not in record)
    ]


def _clean_cell(cell: dict[str, object], seen: set[str]) -> NotebookNode | None:
    kind = cell.get("cell_type")
    if not isinstance(kind, str) or kind not in _KINDS:
        return None
    # Written out: nbformat's own makers check each cell against the schema, which takes most of a marker's time.
    made = NotebookNode(cell_type=kind, metadata=NotebookNode(), source=_text(cell.get("source")))
    if kind == "code":
        made.update(execution_count=None, outputs=_kept(cell))
    wanted = cell.get("id")
    if isinstance(wanted, str) and _CELL_ID.fullmatch(wanted) and wanted not in seen:
        made.id = wanted
    else:
        made.id = f"cell-{len(seen) + 1}"
    seen.add(made.id)
    metadata = cell.get("metadata")
    marks = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    if isinstance(marks, dict):
        made.metadata = NotebookNode(nbgrader=NotebookNode(plain_data(marks)))
    return made


def _claim(record: dict[str, object]) -> str:
    who = record.get("apprentice")
    return plain_words(who) if isinstance(who, str) and len(who) <= 64 and who != "practice" else ""


def _try(record: dict[str, object]) -> int:
    number = record.get("try", 1)
    return number if isinstance(number, int) and not isinstance(number, bool) and 1 <= number <= MOST_TRIES else 1


def _stamp(data: dict[str, object]) -> dict[str, object]:
    metadata = data.get("metadata")
    stamp = metadata.get(MARK_KEY) if isinstance(metadata, dict) else None
    return stamp if isinstance(stamp, dict) else {}


def repair(content: bytes) -> RepairedNotebook:
    """Return the clean notebook in ``content``, whatever its age, encoding and damage.

    Raises
    ------
    UnreadableNotebookError
        If there is no notebook in it, or it is larger than any honest one.
    """
    if len(content) > LARGEST_FILE:
        megabytes = len(content) / 1e6
        raise UnreadableNotebookError(
            f"it has {megabytes:.0f} MB; a lesson never has more than {LARGEST_FILE // 10**6}"
        )
    remarks: list[str] = []
    data = _upgraded(_parsed(_decoded(content, remarks)), remarks)
    cells = data.get("cells")
    if not isinstance(cells, list):
        raise UnreadableNotebookError("it has no cells")
    if len(cells) > MOST_CELLS:
        raise UnreadableNotebookError(f"it has {len(cells)} cells; a lesson never has more than {MOST_CELLS}")
    seen: set[str] = set()
    claims: set[str] = set()
    tries: set[int] = set()
    old_letters = False
    clean = []
    for cell in cells:
        made = _clean_cell(cell, seen) if isinstance(cell, dict) else None
        if made is None:
            remarks.append("had a cell that is none")
            continue
        clean.append(made)
        records = _records(cell)
        claims.update(_claim(record) for record in records)
        tries.update(_try(record) for record in records)
        old_letters = old_letters or any("letters" in record and record.get("deal") != DEAL for record in records)
    stamp = _stamp(data)
    claims.add(_claim(stamp))
    if "try" in stamp:
        tries.add(_try(stamp))
    about = NotebookNode(kernelspec=NotebookNode(KERNEL), language_info=NotebookNode(name="python"))
    notebook = NotebookNode(cells=clean, metadata=about, nbformat=4, nbformat_minor=5)
    lesson = stamp.get("lesson")
    return RepairedNotebook(
        notebook,
        list(dict.fromkeys(remarks)),
        frozenset(claims - {""}),
        plain_words(lesson) if isinstance(lesson, str) else "",
        frozenset(tries),
        old_letters or stamp.get("old_letters") is True,
    )
