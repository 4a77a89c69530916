"""What became of the files taken in, for a person: one line for all that is plain, one for each that is not."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import PurePath

from legtoleg.collecting.collecting import Taken

_FATES = {"counts": "", "kept": "older than what counts, kept: ", "known": "taken in before: "}


def told(taken: Iterable[Taken]) -> list[str]:
    """Return the lines to show: files of one parcel with the same plain fate together, what needs a person last."""
    everything = list(taken)
    groups: dict[tuple[str, ...], list[Taken]] = {}
    for place, one in enumerate(everything):
        if not one.needs_a_person and not _is_start(one):
            alone = () if _is_plain(one) else (str(place),)
            groups.setdefault((one.parcel, one.state, one.apprentice, *alone), []).append(one)
    lines = [_line(group) for group in groups.values()]
    return lines + [f"! {one.name} {one.words}" for one in everything if one.needs_a_person]


def _is_start(one: Taken) -> bool:
    return one.state == "untouched" and not one.lesson


def _is_plain(one: Taken) -> bool:
    """Tell whether the file has its lesson's own name and nothing is to be said of it."""
    return not one.note and PurePath(one.name).stem == one.lesson


def _line(group: list[Taken]) -> str:
    first = group[0]
    if len(group) == 1:
        return f"· {first.name} {first.words}"
    lessons = ", ".join(one.lesson for one in group)
    if first.state == "untouched":
        return f"· {first.parcel}: nothing to hand in, as they were given out: {lessons}"
    return f"· {first.parcel}: {first.apprentice}, {_FATES[first.state]}{len(group)} lessons: {lessons}"
