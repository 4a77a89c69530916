"""Facts put together for the page: those of one kind about the same people are one line; the table has each of them."""

from __future__ import annotations

from collections import defaultdict

from legtoleg.report.integrity_facts import Fact, odds_words

MOST = 20
"""Lines on the page; the table has the rest."""


def _joined(pairs: list[tuple[str, ...]]) -> list[frozenset[str]]:
    """Return who hangs together by ``pairs``: the connected parts of their graph, by union and find."""
    above: dict[str, str] = {}

    def top(who: str) -> str:
        while above.setdefault(who, who) != who:
            above[who] = who = above[above[who]]
        return who

    for first, *others in pairs:
        for other in (first, *others):
            above[top(other)] = top(first)
    groups: dict[str, set[str]] = defaultdict(set)
    for who in above:
        groups[top(who)].add(who)
    return [frozenset(group) for group in groups.values()]


def fact_lines(facts: list[Fact]) -> list[dict[str, str]]:
    """Return the lines of the page, the least likely by chance first: kind, lessons, and what was seen, with odds."""
    by_lesson: dict[tuple[str, str], list[Fact]] = defaultdict(list)
    for fact in facts:
        by_lesson[fact.kind, fact.lesson].append(fact)
    groups: dict[tuple[str, frozenset[str]], list[Fact]] = defaultdict(list)
    for (kind, _), those in by_lesson.items():
        part = {who: group for group in _joined([fact.people for fact in those]) for who in group}
        for fact in those:
            groups[kind, part[fact.people[0]]].append(fact)
    ordered = sorted(groups.items(), key=lambda item: min(1.0 if fact.odds is None else fact.odds for fact in item[1]))
    return [_line(kind, sorted(group), those) for (kind, group), those in ordered]


def _line(kind: str, people: list[str], facts: list[Fact]) -> dict[str, str]:
    lessons = ", ".join(dict.fromkeys(fact.lesson[:2] for fact in facts))
    if len(facts) == 1:
        return {"kind": kind, "lessons": lessons, "words": facts[0].words}
    least = min((fact.odds for fact in facts if fact.odds is not None), default=None)
    odds = "" if least is None else f" The least likely of them happens by chance {odds_words(least)}."
    shown = ", ".join(people[:8]) + (f" and {len(people) - 8} more" if len(people) > 8 else "")
    about = f"{len(facts)} times among {len(people)} people" if len(people) > 1 else f"in {len(facts)} lessons"
    return {"kind": kind, "lessons": lessons, "words": f"{shown}: {about}.{odds}"}
