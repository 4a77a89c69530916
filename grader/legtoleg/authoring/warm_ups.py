"""The recall questions that open the lessons, taken out of their text for the ten minutes a day.

In a source they stand under a heading that begins with “Warm up”, numbered, each with the lesson that it comes from
(its own, where it names none) and its answer folded; a ⚠ makes it a question of safety::

    1. ⚠ (Lesson 01) You pull the plug. It drops behind the dryer. What now?
       <details><summary>Answer</summary>Get it back in sight, or lock the breaker.</details>
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from dryerbench.core.errors import LegToLegError
from dryerbench.recall.cards import COLUMNS, FILE, Card
from legtoleg.core.paths import course_folder, lesson_names

_SECTION = re.compile(r"^#+ Warm up.*?$(.*?)(?=^#|^```\{|\Z)", re.MULTILINE | re.DOTALL)
_ITEM = re.compile(r"^\d+\.\s+(.*?)(?=^\d+\.\s|\Z)", re.MULTILINE | re.DOTALL)
_PARTS = re.compile(
    r"^(?P<sign>⚠\s*)?(?:\(Lessons? (?P<lesson>\d\d)[^)]*\)\s*)?(?P<asks>.*?)"
    r"<details>\s*<summary>[^<]*</summary>(?P<answer>.*?)</details>",
    re.DOTALL,
)
_MARKS = re.compile(r"\*\*|\*(?=\S)|(?<=\S)\*|`|<[^>]*>")

PLACE = f"dryerbench/recall/{FILE}"
"""Where the table stands, from the folder of the lessons."""


class WarmUpError(LegToLegError, ValueError):
    """A recall question that cannot be read; the text says which."""


def _plain(text: str) -> str:
    return " ".join(_MARKS.sub("", text).split())


def warm_ups(lesson: str, source: str) -> Iterator[Card]:
    """Yield the recall questions in ``source``, the text of ``lesson``, as cards of the lessons they come from.

    Raises
    ------
    WarmUpError
        If one names no lesson that there is, or has no question or no answer.
    """
    known = {name[:2]: name for name in lesson_names()}
    for section in _SECTION.findall(source):
        for number, item in enumerate(_ITEM.findall(section), 1):
            found = _PARTS.search(item)
            of = (found["lesson"] or lesson[:2]) if found else ""
            if found is None or of not in known:
                raise WarmUpError(
                    f"{lesson}: warm-up {number} needs a question, its answer folded, and a lesson that there is."
                )
            asks, answer = _plain(found["asks"]), _plain(found["answer"])
            if not asks or not answer:
                raise WarmUpError(f"{lesson}: warm-up {number} has no question or no answer.")
            yield Card(f"recall-{lesson[:2]}-{number}", known[of], bool(found["sign"]), asks, answer)


def table() -> str:
    """Return the text of the table of all recall questions, as the course ships it."""
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\n")
    rows.writerow(COLUMNS)
    for lesson in lesson_names():
        source = (course_folder("solutions") / f"{lesson}.md").read_text(encoding="utf-8")
        for card in warm_ups(lesson, source):
            rows.writerow([card.name, card.lesson, "yes" if card.safety else "no", card.asks, card.answer])
    return written.getvalue()
