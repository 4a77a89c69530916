"""The nine steps of the job on a real machine, and what a witness has to have seen in each."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import table

ALL, NONE = "all", "none"


class StepsError(LegToLegError, ValueError):
    """Steps that were not said so that each of the nine is passed or not."""


@dataclass(frozen=True)
class Step:
    """One step: its number from 1, its short name, what is done, what has to be seen, and the caution before it."""

    number: int
    name: str
    title: str
    safety: bool
    caution: str
    points: tuple[str, ...]


@cache
def job_steps() -> tuple[Step, ...]:
    """Return the steps in the order of the job."""
    points = table("witness-points").rows
    return tuple(
        Step(
            number,
            row.text("step"),
            row.text("title"),
            row["safety"] == "yes",
            str(row["caution"] or ""),
            tuple(point.text("point") for point in points if point["step"] == row["step"]),
        )
        for number, row in enumerate(table("witness-steps").rows, 1)
    )


def _numbers(said: str, word: str) -> list[int]:
    """Return the numbers that ``said`` names: ``1-5,7``, ``all`` or ``none``."""
    last = len(job_steps())
    if said.strip().lower() in ("", NONE):
        return []
    if said.strip().lower() == ALL:
        return list(range(1, last + 1))
    found: list[int] = []
    for part in said.replace("–", "-").split(","):
        first, dash, end = (one.strip() for one in part.partition("-"))
        ends = [first, end] if dash else [first, first]
        known = all(one.isascii() and one.isdigit() and len(one) < 5 and 1 <= int(one) <= last for one in ends)
        if not known or int(ends[0]) > int(ends[1]):
            raise StepsError(
                f"{part.strip()!r:.40} is not a step: write {word} like 1-3,5 with numbers from 1 to {last}."
            )
        found += range(int(ends[0]), int(ends[1]) + 1)
    return found


def _listed(numbers: Collection[int]) -> str:
    return f"step{'s' * (len(numbers) != 1)} {', '.join(map(str, sorted(numbers)))}"


def read_steps(passed: str, missed: str) -> dict[str, bool]:
    """Return by name whether each step was passed, from the numbers that were said of both.

    Raises
    ------
    StepsError
        If a step is named in neither, or in both, or is none.
    """
    good, bad = set(_numbers(passed, "--passed")), set(_numbers(missed, "--missed"))
    both, neither = good & bad, {one.number for one in job_steps()} - good - bad
    if both:
        raise StepsError(f"{_listed(both).capitalize()}: both passed and missed. Nothing was entered.")
    if neither:
        raise StepsError(
            f"Of {_listed(neither)} nothing is said: each of the nine is passed (--passed 1-9) or missed (--missed 4). "
            "A step that was not seen is missed. Nothing was entered."
        )
    return {one.name: one.number in good for one in job_steps()}
