"""A judgement: what one answer is worth and why, before it becomes an outcome."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.registry import SLIPS
from legtoleg.marking.bench_work import BenchWork

UNSAFE = "unsafe_act"
"""The note of work on the bench that would be dangerous on a real machine: it holds the lesson, whatever was asked."""


@dataclass(frozen=True)
class Judgement:
    """Points, the short note, the sentence. ``safe`` is whether a safety question is clear; None: if all points are.

    ``work`` is how it was done on the bench; None where there was no bench.
    """

    points: float
    note: str
    says: str
    safe: bool | None = None
    work: BenchWork | None = None
    key: str = ""
    """What would have been right, in a sentence: for the page of a lesson that is signed off, never for safety."""


def slipped(
    codes: tuple[str, ...],
    points: float = 0.0,
    *,
    safe: bool | None = None,
    work: BenchWork | None = None,
    key: str = "",
) -> Judgement:
    """Return the judgement of one known slip, or of several that cannot be told apart or came together."""
    return Judgement(points, "+".join(codes), " ".join(SLIPS[code].says for code in codes), safe, work, key)
