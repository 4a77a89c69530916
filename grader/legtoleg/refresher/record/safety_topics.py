"""Topics: what is kept fresh, on whose word, for how long; the shop's own file goes before the course's table."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, replace
from pathlib import Path

from dryerbench.core.errors import LegToLegError
from dryerbench.core.tables import Row, table
from legtoleg.core.files import write_whole

FILE = "topics.csv"
"""The shop's own intervals, in its folder."""
BASES = ("regulation", "standard", "shop rule")
COLUMNS = ("topic", "months", "idle_months", "basis", "source", "why")
TITLE = "title"
"""A column for whoever edits the file; what stands there is not read."""
REMARK = "#"
"""What begins a line that is not read."""
NO_PERIOD = "none"
LONGEST = 120
"""Months; a longer interval is a typing error."""


class TopicError(LegToLegError, ValueError):
    """A file of topics that cannot be used, or a topic that is not there; the text names each wrong line."""


@dataclass(frozen=True)
class Topic:
    """One topic. ``months`` is how long a pass lasts, ``idle_months`` how long without doing it; None is no period."""

    topic: str
    title: str
    task: str
    critical: bool
    basis: str
    source: str
    months: int | None
    idle_months: int | None
    why: str
    known_by: str
    own: bool = False
    """Whether the shop has set it itself."""


@dataclass(frozen=True)
class Trigger:
    """What else makes a topic due at once: its name, what it is, and on whose word."""

    trigger: str
    title: str
    what: str
    source: str
    known_by: str


def _topic(row: Row) -> Topic:
    return Topic(
        row.text("topic"),
        row.text("title"),
        row.text("task"),
        row["critical"] == "yes",
        row.text("basis"),
        row.text("source"),
        None if row["months"] is None else row.whole("months"),
        None if row["idle_months"] is None else row.whole("idle_months"),
        row.text("why"),
        row.text("known_by"),
    )


def _trigger(row: Row) -> Trigger:
    return Trigger(*(row.text(column) for column in ("trigger", "title", "what", "source", "known_by")))


def course_topics() -> dict[str, Topic]:
    """Return the course's topics with their default intervals, by name."""
    return {row.text("topic"): _topic(row) for row in table("refresher-topics").rows}


def triggers() -> dict[str, Trigger]:
    """Return the triggers by name."""
    return {row.text("trigger"): _trigger(row) for row in table("refresher-triggers").rows}


def _months(text: str, before: int | None) -> int | None:
    if not text:
        return before
    if text.lower() == NO_PERIOD:
        return None
    if text.isascii() and text.isdigit() and 1 <= int(text) <= LONGEST:
        return int(text)
    raise TopicError(f"{text!r:.40} is not a number of months: write 1 to {LONGEST}, or {NO_PERIOD} for no period.")


def _changed(known: dict[str, Topic], row: dict[str, str]) -> Topic:
    name = row["topic"]
    if name not in known:
        raise TopicError(f"there is no topic {name!r:.60}; there are: {', '.join(known)}.")
    basis = row["basis"] or "shop rule"
    if basis not in BASES:
        raise TopicError(f"{basis!r:.40} is no basis: write one of {', '.join(BASES)}.")
    old = known[name]
    months, idle = _months(row["months"], old.months), _months(row["idle_months"], old.idle_months)
    if (months, idle) == (old.months, old.idle_months) and not (row["basis"] or row["source"] or row["why"]):
        return old
    return replace(
        old,
        months=months,
        idle_months=idle,
        basis=basis,
        source=row["source"] or f"Set by the shop in {FILE}",
        why=row["why"] or "Set by the shop.",
        known_by="the shop",
        own=True,
    )


def read_topics(folder: Path) -> dict[str, Topic]:
    """Return the topics by name, with what the shop's own file in ``folder``, if there is one, says instead.

    Raises
    ------
    TopicError
        If that file cannot be used, with every wrong line named.
    """
    topics, path = course_topics(), folder / FILE
    if not path.is_file():
        return topics
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        raise TopicError(f"{FILE} cannot be read: save it as CSV in UTF-8.") from None
    reader = csv.DictReader(io.StringIO(text, newline=""))
    names = [str(name).strip().lower() for name in reader.fieldnames or []]
    if "topic" not in names or not set(names) <= {*COLUMNS, TITLE}:
        raise TopicError(f"{FILE}, line 1: the columns are {', '.join(COLUMNS)}; found: {', '.join(names)[:200]}.")
    reader.fieldnames = names
    errors = []
    for raw in reader:
        row = {key: (raw.get(key) or "").strip() for key in COLUMNS}
        if not any(row.values()) or row["topic"].startswith(REMARK):
            continue
        try:
            topics[row["topic"]] = _changed(topics, row)
        except TopicError as error:
            errors.append(f"{FILE}, line {reader.line_num}: {error}")
    if errors:
        raise TopicError("\n".join(errors[:12]))
    return topics


_HOW = (
    f"{REMARK} Change months (how long a pass lasts) and idle_months (how long without doing the work) where your "
    "shop, the law where it is, its insurer or a manufacturer asks for another; "
    f"{NO_PERIOD} is no period. Then say in "
    f"basis ({', '.join(BASES)}), source and why on whose word. What you leave as it is stays the course's default."
)


def write_topics(folder: Path) -> Path:
    """Write the course's topics into the shop's own file in ``folder``, to be changed there, and return its path.

    Raises
    ------
    TopicError
        If the file is there already: what the shop has set is never written over.
    """
    path = folder / FILE
    if path.exists():
        raise TopicError(f"{FILE} is in {folder} already: change it there. Nothing was written.")
    text = io.StringIO(newline="")
    lines = csv.writer(text)
    lines.writerow([COLUMNS[0], TITLE, *COLUMNS[1:]])
    lines.writerow([_HOW])
    for topic in course_topics().values():
        periods = [NO_PERIOD if months is None else str(months) for months in (topic.months, topic.idle_months)]
        lines.writerow([topic.topic, topic.title, *periods, "", "", ""])
    write_whole(path, text.getvalue().encode("utf-8-sig"))
    return path


def chosen(topics: dict[str, Topic], names: list[str]) -> list[str]:
    """Return the topics called ``names``; all critical ones if none is named.

    Raises
    ------
    TopicError
        If there is no topic of that name.
    """
    for name in names:
        if name not in topics:
            raise TopicError(f"There is no topic {name!r:.60}; there are: {', '.join(topics)}.")
    return list(dict.fromkeys(names)) or [name for name, topic in topics.items() if topic.critical]
