"""Found records: what a run notebook's cells hold, read as untrusted data."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from dryerbench.records import FORM, MIME
from dryerbench.units import UNITS

_SYMBOLS = frozenset(unit.symbol for unit in UNITS)

LARGEST_RECORD = 20_000
"""Characters; a record of ours has a few hundred."""

_KINDS = ("quantity", "over_limit", "unreadable", "blank")


@dataclass(frozen=True)
class Found:
    """The answer that one cell handed in, or why there is none.

    ``state`` is one of ``quantity``, ``over_limit``, ``unreadable``, ``blank``, ``no_record``, ``two_records``,
    ``bad_record``, ``python_error`` or ``kernel_died``.
    """

    state: str
    magnitude: float = 0.0
    unit: str = ""
    figures: int | None = None
    typed: str = ""

    @property
    def answered(self) -> bool:
        """Tell whether there is a number to mark."""
        return self.state == "quantity"


def _records(outputs: Iterable[Mapping[str, Any]]) -> list[Any]:
    return [
        output["data"][MIME]
        for output in outputs
        if output.get("output_type") in ("display_data", "execute_result", "update_display_data")
        and isinstance(output.get("data"), dict)
        and MIME in output["data"]
    ]


def _has_error(outputs: Iterable[Mapping[str, Any]]) -> bool:
    return any(output.get("output_type") == "error" for output in outputs)


def _number(value: Any) -> float | None:
    if type(value) not in (int, float) or abs(value) > 1e15:  # noqa: PLR2004
        return None
    return float(value) if math.isfinite(value) else None


def _typed(record: Mapping[str, Any]) -> str:
    typed = record.get("typed")
    if type(typed) is not str:
        return ""
    return "".join(letter if letter.isprintable() else "�" for letter in typed[:200])


def read_record(record: Any, question: str) -> Found:
    """Return what ``record`` says in answer to ``question``; one of the wrong form is ``bad_record``."""
    bad = Found("bad_record")
    if not isinstance(record, dict) or len(record) > 20 or len(repr(record)) > LARGEST_RECORD:  # noqa: PLR2004
        return bad
    kind = record.get("kind")
    if record.get("form") != FORM or record.get("question") != question or kind not in _KINDS:
        return bad
    if kind != "quantity":
        return Found(kind, typed=_typed(record))
    magnitude, unit, figures = _number(record.get("magnitude")), record.get("unit"), record.get("figures")
    if magnitude is None or type(unit) is not str or unit not in _SYMBOLS:
        return bad
    if figures is not None and (type(figures) is not int or not 0 <= figures <= 200):  # noqa: PLR2004
        return bad
    return Found("quantity", magnitude, unit, figures, _typed(record))


def found_in_cell(outputs: list[Mapping[str, Any]], question: str) -> Found:
    """Return what the outputs of a question's locked cell hand in. Other outputs are noise and count for nothing."""
    records = _records(outputs)
    if not records:
        return Found("python_error" if _has_error(outputs) else "no_record")
    if len(records) > 1:
        return Found("two_records")
    return read_record(records[0], question)
