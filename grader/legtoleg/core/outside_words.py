"""The one door for words from outside: file names, ids and texts that others wrote, before a terminal or a page."""

from __future__ import annotations

import unicodedata

MOST = 300
"""Letters; a longer text is cut and ends with an ellipsis."""
_NOT_SHOWN = ("Cc", "Cf", "Co", "Cs", "Cn", "Zl", "Zp")
"""Unicode's classes of what moves the cursor, turns the direction of writing, or is no letter at all."""


def plain_words(text: object, most: int = MOST) -> str:
    """Return ``text`` as one line that holds no control character, at most ``most`` letters of it.

    A new line or a tab becomes a space; any other character that steers a terminal or turns the direction of
    writing is left out, so that the code that wipes a screen leaves no more than ``[2J``.
    """
    spaced = " ".join(str(text)[: most * 8].split())
    kept = "".join(letter for letter in spaced if unicodedata.category(letter) not in _NOT_SHOWN).strip()
    return kept if len(kept) <= most else f"{kept[: most - 1]}…"


def one_line(text: object, most: int = 4000) -> str:
    """Return ``text`` as ``plain_words`` does, but with its spaces as they are: columns stay below each other."""
    kept = "".join(
        " " if letter.isspace() else letter
        for letter in str(text)[: most * 8]
        if letter.isspace() or unicodedata.category(letter) not in _NOT_SHOWN
    )
    return kept if len(kept) <= most else f"{kept[: most - 1]}…"


def unsteered(text: str) -> str:
    """Return ``text`` with its lines and tabs, but without any other letter that ``plain_words`` leaves out."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(one for one in text if one in "\n\t" or unicodedata.category(one) not in _NOT_SHOWN)


def file_words(text: object, most: int = 80) -> str:
    """Return ``text`` as a name that any system takes for a file: no separator, no leading dot; ``file`` if empty."""
    kept = "".join("-" if letter in '<>:"/\\|?*' else letter for letter in plain_words(str(text)[-1000:], 1001))
    return kept.strip(" .")[-most:].strip(" .") or "file"
