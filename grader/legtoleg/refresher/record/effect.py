"""Effects: what one entry changed in where its person stands, said in one line; no effect is said too, and why."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from legtoleg.ledger.corrections import in_force
from legtoleg.ledger.entry import CORRECTED, Entry
from legtoleg.refresher.record.history import ATTEMPTS, History, history, topics_of
from legtoleg.refresher.record.ledger_entry import CALLED, TALKED, WORKED
from legtoleg.refresher.record.safety_topics import Topic
from legtoleg.refresher.record.shop import Shop
from legtoleg.refresher.record.standing import NEVER, Standing, standings


def _stands(one: Standing) -> str:
    if one.until is None:
        return one.state if one.state != NEVER else "never passed here"
    return f"{one.state} {'since' if one.called else 'until'} {one.until}"


def _why_not(entry: Entry, topic: Topic, now: Standing) -> str:
    """Return why ``entry`` leaves ``topic`` as it was."""
    if now.passed is None:
        return "never passed here, so it stays so until it is passed"
    if entry.on < now.passed:
        return f"passed on {now.passed}, after that day"
    if entry.kind == CALLED:
        return f"due already, {_stands(now)}"
    if entry.kind == WORKED and topic.idle_months is None:
        return "it has no limit on how long it is not done"
    return f"it stays {_stands(now)}"


def _tries(past: History) -> str:
    return f"try {past.next_attempt}" if past.next_attempt <= ATTEMPTS else "the instructor's turn"


def _changed(before: Sequence[Standing], after: Sequence[Standing]) -> list[str]:
    """Return each new standing with its topics, the topics that changed alike together."""
    alike: dict[str, list[str]] = {}
    for old, new in zip(before, after, strict=True):
        if _stands(old) != _stands(new):
            alike.setdefault(_stands(new), []).append(new.topic.topic)
    return [f"{', '.join(names)}: now {stands}" for stands, names in alike.items()]


def _unchanged(entry: Entry, before: Sequence[Standing], after: Sequence[Standing]) -> list[str]:
    """Return why the topics that ``entry`` names are as they were, those alike together."""
    named, alike = set(topics_of(entry)), dict[str, list[str]]()
    for old, new in zip(before, after, strict=True):
        if new.topic.topic in named and _stands(old) == _stands(new):
            alike.setdefault(_why_not(entry, new.topic, new), []).append(new.topic.topic)
    return [f"no effect on {', '.join(names)} ({why})" for why, names in alike.items()]


def effect(shop: Shop, entry: Entry, entries: Sequence[Entry], day: date) -> str:
    """Return what ``entry``, the last of ``entries``, changes in where its person stands on ``day``, in one line."""
    topics = list(shop.topics.values())
    past = [history(in_force(some), entry.who) for some in (entries[: entry.number - 1], entries[: entry.number])]
    before, after = (standings(one, topics, day, shop.settings.days) for one in past)
    said = _changed(before, after)
    if entry.kind in (TALKED, CORRECTED) and _tries(past[0]) != _tries(past[1]):
        said.append(f"next test: {_tries(past[1])} instead of {_tries(past[0])}")
    left = "; ".join(_unchanged(entry, before, after))
    if said:
        return f"Effect: {'; '.join([*said, left] if left else said)}."
    return f"{left[:1].upper()}{left[1:]}." if left else f"No effect: {_nothing(entry)}."


def _nothing(entry: Entry) -> str:
    if entry.kind == TALKED:
        return "no missed test was waiting for it"
    return "nobody's standing changes"
