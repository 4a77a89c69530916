"""Found records: what a run notebook's cells hold, read as untrusted data."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from string import ascii_lowercase
from typing import NotRequired, TypedDict

from dryerbench.answers.clarification import LARGEST, REASONS
from dryerbench.answers.parser import LONGEST
from dryerbench.answers.units import UNITS
from dryerbench.bench.trail import VERSION
from dryerbench.core.version import FIELD, readable_version
from dryerbench.notebook.answer_record import FORM, MIME
from dryerbench.notebook.forms import LONGEST_TRAIL

_SYMBOLS = frozenset(unit.symbol for unit in UNITS)

LARGEST_RECORD = 100_000
"""Characters; a record of ours has a few hundred, a long trail on the bench a few ten thousand."""

_ONCE_LARGEST = 1e30
"""The size up to which older kits took a number; what is larger never came from a hand-in."""

_DEEPEST = 6
"""Levels of lists and objects in a record; ours have four."""


GivenAct = TypedDict("GivenAct", {"act": str, "with": NotRequired[dict[str, object]]})
"""One act as it was handed in."""


@dataclass(frozen=True)
class Found:
    """The answer that one cell handed in, or why there is none.

    ``state`` is ``quantity``, ``over_limit``, ``letters``, ``readings``, ``work`` or ``fault`` for an answer, else one
    of ``unreadable``, ``blank``, ``no_record``, ``two_records``, ``bad_record``, ``python_error``, ``kernel_died``,
    ``newer``.
    """

    state: str
    magnitude: float = 0.0
    unit: str = ""
    figures: int | None = None
    typed: str = ""
    letters: str = ""
    rows: Mapping[str, Found] = field(default_factory=dict)
    acts: tuple[GivenAct, ...] = ()
    trail: int = VERSION
    """The version of the trail in which the acts were written; 1 in a record from before it was kept."""
    course: str = ""
    """The version of the course that wrote the record; empty in a record from before it was kept, or in no record."""
    working: str = ""
    """The sum that was typed, as text: whoever uses it reads it again, by the strict grammar."""
    reason: str = ""
    """Why an answer could not be read, by its code."""

    @property
    def answered(self) -> bool:
        """Tell whether there is a number to mark."""
        return self.state == "quantity"


def _records(outputs: Iterable[Mapping[str, object]]) -> list[object]:
    shown = (
        output.get("data")
        for output in outputs
        if output.get("output_type") in ("display_data", "execute_result", "update_display_data")
    )
    return [data[MIME] for data in shown if isinstance(data, dict) and MIME in data]


def _has_error(outputs: Iterable[Mapping[str, object]]) -> bool:
    return any(output.get("output_type") == "error" for output in outputs)


def _number(value: object) -> float | None:
    if (type(value) is not int and type(value) is not float) or abs(value) > _ONCE_LARGEST:
        return None
    return float(value) if math.isfinite(value) else None


def _text(record: Mapping[str, object], key: str) -> str:
    text = record.get(key)
    if type(text) is not str:
        return ""
    return "".join(letter if letter.isprintable() else "�" for letter in text[:LONGEST])


def _typed(record: Mapping[str, object]) -> str:
    return _text(record, "typed")


_BAD = Found("bad_record")


def read_record(record: object, question: str) -> Found:
    """Return what ``record`` says in answer to ``question``; one of the wrong form is ``bad_record``."""
    if not isinstance(record, dict) or len(record) > 20 or not _is_small(record):
        return _BAD
    if record.get("form") != FORM or record.get("question") != question:
        return _BAD
    kind = record.get("kind")
    reader = _READERS.get(kind) if isinstance(kind, str) else None
    return replace(reader(record), course=readable_version(record.get(FIELD))) if reader else _BAD


def _is_small(record: object) -> bool:
    return _depth(record) <= _DEEPEST and len(repr(record)) <= LARGEST_RECORD


def _depth(value: object, level: int = 0) -> int:
    if level > _DEEPEST or not isinstance(value, dict | list):
        return level
    inner = value.values() if isinstance(value, dict) else value
    return max((_depth(one, level + 1) for one in inner), default=level + 1)


def _plain(record: Mapping[str, object]) -> Found:
    reason = record.get("reason")
    known = reason if isinstance(reason, str) and reason in REASONS else ""
    return Found(str(record["kind"]), typed=_typed(record), reason=known)


def _quantity(record: Mapping[str, object]) -> Found:
    magnitude, unit, figures = _number(record.get("magnitude")), record.get("unit"), record.get("figures")
    if magnitude is None or type(unit) is not str or unit not in _SYMBOLS:
        return _BAD
    if figures is not None and (type(figures) is not int or not 0 <= figures <= 200):
        return _BAD
    if abs(magnitude) > LARGEST:
        return Found("unreadable", typed=_typed(record), reason="not_finite")
    return Found("quantity", magnitude, unit, figures, _typed(record), working=_text(record, "working"))


def _letters(record: Mapping[str, object]) -> Found:
    letters = record.get("letters")
    if type(letters) is not str or not letters or not set(letters) <= set(ascii_lowercase):
        return _BAD
    if len(set(letters)) != len(letters):
        return _BAD
    return Found("letters", typed=", ".join(letters), letters=letters)


def _readings(record: Mapping[str, object]) -> Found:
    rows = record.get("rows")
    if not isinstance(rows, dict) or len(rows) > 60 or not all(isinstance(row, dict) for row in rows.values()):
        return _BAD
    simple = {"quantity": _quantity, "over_limit": _plain, "unreadable": _plain, "blank": _plain}
    found = {}
    for key, row in rows.items():
        kind = row.get("kind")
        found[str(key)] = simple[kind](row) if isinstance(kind, str) and kind in simple else _BAD
    return Found("readings", rows=found)


def _acts(record: Mapping[str, object]) -> tuple[GivenAct, ...] | None:
    acts = record.get("acts")
    if not isinstance(acts, list) or len(acts) > LONGEST_TRAIL:
        return None
    if not all(isinstance(act, dict) and isinstance(act.get("act"), str) for act in acts):
        return None
    if not all(isinstance(act.get("with", {}), dict) for act in acts):
        return None
    given: tuple[GivenAct, ...] = tuple(acts)
    return given


def _trail(record: Mapping[str, object]) -> int:
    version = record.get("trail", 1)
    return version if type(version) is int and 1 <= version <= VERSION else VERSION


def _work(record: Mapping[str, object]) -> Found:
    acts = _acts(record)
    return _BAD if acts is None else Found("work", typed=f"{len(acts)} acts", acts=acts, trail=_trail(record))


def _fault(record: Mapping[str, object]) -> Found:
    named, acts = _letters(record), _acts(record)
    if named is _BAD or acts is None:
        return _BAD
    return Found("fault", typed=named.typed, letters=named.letters, acts=acts, trail=_trail(record))


_READERS: dict[str, Callable[[Mapping[str, object]], Found]] = {
    "quantity": _quantity,
    "over_limit": _plain,
    "unreadable": _plain,
    "blank": _plain,
    "letters": _letters,
    "readings": _readings,
    "work": _work,
    "fault": _fault,
}


def found_in_cell(outputs: list[Mapping[str, object]], question: str) -> Found:
    """Return what the outputs of a question's locked cell hand in. Other outputs are noise and count for nothing."""
    records = _records(outputs)
    if not records:
        return Found("python_error" if _has_error(outputs) else "no_record")
    if len(records) > 1:
        return Found("two_records")
    return read_record(records[0], question)


def record_in(outputs: Iterable[Mapping[str, object]], question: str) -> Mapping[str, object] | None:
    """Return the one record in ``outputs`` that answers ``question`` as it stands there, or None for any other case."""
    records = _records(outputs)
    one = records[0] if len(records) == 1 else None
    return one if isinstance(one, dict) and read_record(one, question).state != _BAD.state else None
