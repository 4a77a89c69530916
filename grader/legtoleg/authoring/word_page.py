"""The glossary: ``lessons/WORDS.md`` from the table ``glossary``, and the links to it in the lessons.

In each lesson the first use of a word is a link to the page. Its plain meaning shows under the pointer, so nobody has
to leave the lesson: also in a caution or a table, if that is where it is first used. Headings, code and graded
questions stay as they are written.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from nbformat.notebooknode import NotebookNode

from dryerbench.core.tables import table

PAGE = "WORDS.md"
"""The name of the page beside the lessons."""

_HEAD = """# The words of this trade

What a tech calls it, what it is, and what customers say. The lessons use each word for one thing only.

| trade word | plain meaning | what customers say |
| --- | --- | --- |
"""

_LEFT_ALONE = re.compile(r"^\s*(#|<|```|\*\*\d+\.\*\*|- \[|!\[)")
"""How lines begin in which nothing is linked: headings, markup, questions, lists of links."""

_APART = re.compile(r"(`[^`]*`|\$[^$]*\$|\[[^\]]*\]\([^)]*\)|<[^>]*>|(?<!\*)\*(?!\*)[^*]+\*(?!\*))")
"""Pieces of a line in which nothing is linked: code, formulas, links, markup, and names of buttons."""


def glossary() -> dict[str, tuple[str, str]]:
    """Return each word with its plain meaning and what customers say (or an empty text), by the alphabet."""
    rows = sorted(table("glossary").rows, key=lambda row: str(row["word"]).lower())
    return {str(row["word"]): (str(row["meaning"]), str(row["customers"] or "")) for row in rows}


def page_text() -> str:
    """Return the page of all words."""
    lines = [
        f"| **{word}** | {meaning} | {f'“{customers}”' if customers else ''} |"
        for word, (meaning, customers) in glossary().items()
    ]
    return _HEAD + "\n".join(lines) + "\n"


def _pattern(words: Iterable[str]) -> re.Pattern[str]:
    """Return what finds each of ``words``, also in the plural, the longest first; capitals count in short forms."""
    longest = sorted(words, key=len, reverse=True)
    each = (re.escape(word) if word.isupper() else f"(?i:{re.escape(word)}(?:s|es)?)" for word in longest)
    return re.compile(rf"(?<![\w-])({'|'.join(each)})(?![\w-])")


def _word_of(found: str, words: Iterable[str]) -> str:
    return next(word for word in words if found.lower() in (word.lower(), f"{word.lower()}s", f"{word.lower()}es"))


def unlinked(text: str) -> str:
    """Return the Markdown ``text`` without its links to the page of words: paper has nowhere to go."""
    return re.sub(rf'\[([^\]]*)\]\(\.\./{re.escape(PAGE)} "[^"]*"\)', r"\1", text)


class WordLinks:
    """Links for one lesson: each word is linked once, where it is first used."""

    def __init__(self) -> None:
        self._words = glossary()
        self._finds = _pattern(self._words)
        self._linked: set[str] = set()

    def _link(self, match: re.Match[str]) -> str:
        word = _word_of(match[1], self._words)
        if word in self._linked:
            return match[0]
        self._linked.add(word)
        return f'[{match[1]}](../{PAGE} "{self._words[word][0]}")'

    def linked(self, text: str) -> str:
        """Return the Markdown ``text`` with a link at the first use of each word."""
        lines, fenced = [], False
        for line in text.split("\n"):
            fenced ^= line.lstrip().startswith("```")
            if fenced or _LEFT_ALONE.match(line):
                lines.append(line)
                continue
            parts = _APART.split(line)
            parts[::2] = [self._finds.sub(self._link, part) for part in parts[::2]]
            lines.append("".join(parts))
        return "\n".join(lines)


def link_words(cells: Iterable[NotebookNode]) -> None:
    """Link the first use of each word in the lesson's own text ``cells``; what is asked stays as it is."""
    links, asked = WordLinks(), False
    for cell in cells:
        if cell.cell_type != "markdown" or not cell.id.startswith("markdown-"):
            continue
        asked = asked or bool(re.match(r"##? Graded", cell.source))
        if not asked:
            cell.source = links.linked(cell.source)
