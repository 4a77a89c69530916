"""The catalogue of faults read from ``faults.txt``: what each hangs on, who hears what, what it does, what shows it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.family.effects import is_effect
from dryerbench.family.fault_targets import CONDITIONS, is_target
from dryerbench.family.lines import FamilyFileError, Line, read_lines

FILE = Path(__file__).with_name("faults.txt")
_KEYS = (
    "fault", "title", "on", "where", "says", "seen", "does", "strength", "reads", "live", "by", "job", "after",
    "leads to",
)  # fmt: skip
_ONCE = ("title", "on", "says", "seen", "does", "live", "by", "job")
_MANY = ("reads",)
WHO = ("owner", "technician", "electrician", "utility")
_N = r"(-?\d+(?:\.\d+)?)"


class UnknownFaultError(LegToLegError, LookupError):
    """A fault that the catalogue does not have, or that a machine cannot have."""


@dataclass(frozen=True, slots=True)
class Strength:
    """The range of a fault's strength, the usual one, and what it means."""

    low: float
    high: float
    usual: float
    means: str


@dataclass(frozen=True, slots=True)
class Job:
    """How common a fault is (a weight), the minutes to mend it, and the dollars of parts; invented for training."""

    weight: float
    minutes: float
    dollars: float


@dataclass(frozen=True, slots=True)
class FaultReading:
    """Two points and a state, what the fault shows there, and what a sound machine shows."""

    a: str
    b: str
    state: str
    bad: str
    good: str


@dataclass(frozen=True, slots=True)
class FaultKind:
    """One entry of the catalogue; ``after`` and ``leads_to`` are the pairs that the physics makes."""

    name: str
    title: str
    on: tuple[str, ...]
    where: str
    says: str
    seen: str
    does: str
    strength: Strength | None
    reads: tuple[FaultReading, ...]
    live: str
    by: str
    job: Job
    after: tuple[tuple[str, ...], ...]
    leads_to: tuple[str, ...]
    line: int

    @property
    def needs_live(self) -> bool:
        """Whether dead readings cannot tell it: a qualified person must read live."""
        return not self.live.startswith("no")

    @property
    def electrical(self) -> bool:
        """Whether a meter can see it at all."""
        return bool(self.reads)


def _strength(line: Line) -> Strength:
    found = re.fullmatch(rf"{_N} to {_N}, usually {_N}, (.+)", line.words)
    if found is None:
        raise line.wrong("write it as in: strength: 0.15 to 0.7, usually 0.3, share of its turns")
    low, high, usual = (float(found[group]) for group in (1, 2, 3))
    if not low <= usual <= high:
        raise line.wrong(f"the usual strength, {usual:g}, must lie between {low:g} and {high:g}.")
    return Strength(low, high, usual, found[4])


def _job(line: Line) -> Job:
    found = re.fullmatch(r"weight (\d+), (\d+) minutes, (\d+) dollars", line.words)
    if found is None:
        raise line.wrong("write it as in: job: weight 6, 35 minutes, 38 dollars")
    return Job(*(float(found[group]) for group in (1, 2, 3)))


def _reading(line: Line) -> FaultReading:
    found = re.fullmatch(r"(\S+) to (\S+), ([^:]+): (.+); good (.+)", line.words)
    if found is None:
        raise line.wrong("write it as in: reads: {1} to {2}, alone: OL; good 0.0 ohm")
    return FaultReading(found[1], found[2], found[3], found[4], found[5])


def _kind(lines: list[Line]) -> FaultKind:
    head = lines[0]
    by_key: dict[str, list[Line]] = {}
    for line in lines:
        if line.key in by_key and line.key not in _MANY:
            raise line.wrong(f"a second line '{line.key}' for {head.words}.")
        by_key.setdefault(line.key, []).append(line)
    for key in _ONCE:
        if key not in by_key:
            raise head.wrong(f"{head.words} has no line '{key}'.")
    _check_words(head, by_key)
    text = {key: found[0].words for key, found in by_key.items()}
    return FaultKind(
        name=head.words,
        title=text["title"],
        on=tuple(text["on"].split(" or ")),
        where=text.get("where", ""),
        says=text["says"],
        seen=text["seen"],
        does=text["does"],
        strength=_strength(by_key["strength"][0]) if "strength" in text else None,
        reads=tuple(_reading(line) for line in by_key.get("reads", [])),
        live=text["live"],
        by=text["by"],
        job=_job(by_key["job"][0]),
        after=tuple(tuple(cause.split(" with ")) for cause in text["after"].split("; ")) if "after" in text else (),
        leads_to=tuple(text["leads to"].split("; ")) if "leads to" in text else (),
        line=head.number,
    )


def _check_words(head: Line, by_key: dict[str, list[Line]]) -> None:
    text = {key: found[0].words for key, found in by_key.items()}
    on = tuple(text["on"].split(" or "))
    for where in on:
        if not is_target(where):
            raise by_key["on"][0].wrong(f"'{where}' is nothing that a fault hangs on.")
    if "where" in text and text["where"] not in CONDITIONS:
        raise by_key["where"][0].wrong(f"'{text['where']}' is none of {', '.join(CONDITIONS)}.")
    if not is_effect(text["does"]):
        raise by_key["does"][0].wrong(f"'{text['does']}' is nothing that a fault does.")
    if not any(who in text["by"] for who in WHO):
        raise by_key["by"][0].wrong(f"'{text['by']}' names none of {', '.join(WHO)}.")
    if ("strength" in text) != bool(re.search(r"\bS\b", text["does"]) or text["does"] in _WITH_STRENGTH):
        raise by_key["does"][0].wrong(f"{head.words}: a strength is told where the fault has one, and only there.")


_WITH_STRENGTH = ("touches", "breaks and touches", "leaks", "loosens", "burns", "joint")


def read_faults(file: str, text: str) -> tuple[FaultKind, ...]:
    """Return the faults that the text of ``file`` describes.

    Raises
    ------
    FamilyFileError
        For a line that cannot be right, or a fault named that the file does not have; file and line are named.
    """
    blocks: list[list[Line]] = []
    for line in read_lines(file, text, _KEYS):
        if line.key == "fault":
            blocks.append([])
        if not blocks:
            raise line.wrong("the first line must be 'fault: NAME'.")
        blocks[-1].append(line)
    found = tuple(_kind(block) for block in blocks)
    names = [one.name for one in found]
    for one in found:
        if names.count(one.name) > 1:
            raise FamilyFileError(f"{file}, line {one.line}: {one.name} is in the file twice.")
        for other in (*(name for cause in one.after for name in cause), *one.leads_to):
            if other not in names:
                raise FamilyFileError(f"{file}, line {one.line}: {one.name} names '{other}', which is no fault here.")
    return found


@cache
def catalogue() -> dict[str, FaultKind]:
    """Return the faults of ``faults.txt`` by name, in its order."""
    return {one.name: one for one in read_faults(FILE.name, FILE.read_text(encoding="utf-8"))}


def fault_kind(name: str) -> FaultKind:
    """Return the entry ``name`` of the catalogue.

    Raises
    ------
    UnknownFaultError
        For a name that it does not have.
    """
    if name not in catalogue():
        raise UnknownFaultError(f"There is no fault '{name}'. The faults are: {', '.join(catalogue())}.")
    return catalogue()[name]


def pairs() -> tuple[tuple[tuple[str, ...], str], ...]:
    """Return the causes and the effect of each pair that the physics makes, each once: (causes, effect)."""
    found: dict[tuple[tuple[str, ...], str], None] = {}
    for one in catalogue().values():
        found.update(dict.fromkeys((cause, one.name) for cause in one.after))
        found.update(dict.fromkeys(((one.name,), effect) for effect in one.leads_to))
    alone = [(causes, effect) for causes, effect in found if len(causes) == 1]
    helped = {(cause, effect) for causes, effect in found if len(causes) > 1 for cause in causes}
    return tuple(pair for pair in found if pair not in [((c,), e) for (c,), e in alone if (c, e) in helped])
