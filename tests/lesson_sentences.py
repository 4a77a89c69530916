"""The sentences of a lesson's source, and how many words of each a reader has to carry to its end.

Tables, code, headings and cells are left out. A list of parts is read part by part: it counts only up to its colon.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from caution_words import count, sentences

FEWEST, LONGEST_PART = 4, 8
"""A list of parts has at least so many, and no part has more words than this: our own measure (no published source)."""


def prose(text: str) -> str:
    """Return a Markdown ``text`` without head, tables, headings, cells and marks; ``Code`` stands for typed code."""
    text = re.sub(r"\A---\n.*?^---\n|```.*?```", "", text, flags=re.DOTALL | re.MULTILINE)
    text = re.sub(r"(?m)^\s*(?:\||#|\+\+\+|---).*$", "", re.sub(r"(?m)^> ?", "", text))
    text = re.sub(r"`[^`]*`", "Code", text)  # with a capital: it may begin a sentence
    text = re.sub(r"</?(?:details|summary)>", "\n\n", text)
    return re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", re.sub(r"<[^>]+>|[*_]", "", text))


def carried(sentence: str) -> int:
    """Return the words of ``sentence``, without those of a list of parts behind its colon or its arrows."""
    head, colon, tail = sentence.partition(":") if "→" not in sentence else ("", ":", sentence)
    parts = re.split(r"[,;→]", tail)
    if colon and len(parts) >= FEWEST and all(count(part) <= LONGEST_PART for part in parts):
        return count(head)
    return count(sentence)


def longer_than(words: int, text: str) -> Iterator[str]:
    """Yield the sentences of a Markdown ``text`` in which a reader carries more than ``words``."""
    yield from (one for one in sentences(prose(text)) if carried(one) > words)
