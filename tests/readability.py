"""How hard each lesson is to read, by formula: words, words a sentence, reading ease, school grade.

    python tests/readability.py [COMMIT ...]

With no commit: this checkout's sources. With commits: those of each, one table after the other, to lay side by side.

Words and syllables are textstat's (0.7.4 counts them by the hyphenation of ``pyphen``; later ones download a list).
Sentences are split by ``lesson_sentences``; tables, headings, cells and code are left out. Ease and grade are the
formulas of Flesch (1948) and of Kincaid and others (1975) on these counts, without textstat's rounding.
A formula sees neither word order nor odd senses: a low grade does not show that a text is clear.
"""

from __future__ import annotations

import re
import subprocess
import sys
import warnings
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from caution_words import sentences
from lesson_sentences import prose

with warnings.catch_warnings():  # its import of pkg_resources is deprecated
    warnings.simplefilter("ignore")
    from textstat import textstat

ROOT = Path(__file__).resolve().parents[1]


class Figures(NamedTuple):
    """What the formulas say of one text."""

    words: int
    sentences: int
    syllables: int

    @property
    def length(self) -> float:
        """Words a sentence."""
        return self.words / self.sentences

    @property
    def ease(self) -> float:
        """Flesch's reading ease: 206.835 - 1.015 words a sentence - 84.6 syllables a word."""
        return 206.835 - 1.015 * self.length - 84.6 * self.syllables / self.words

    @property
    def grade(self) -> float:
        """Flesch-Kincaid grade: 0.39 words a sentence + 11.8 syllables a word - 15.59."""
        return 0.39 * self.length + 11.8 * self.syllables / self.words - 15.59


def figures(text: str) -> Figures:
    """Return the figures of a lesson's source."""
    there = [one for one in sentences(prose(text)) if re.search(r"[A-Za-z]{2}", one)]
    words, syllables = (sum(map(count, there)) for count in (textstat.lexicon_count, textstat.syllable_count))
    return Figures(words, len(there), syllables)


def sources_here() -> dict[str, str]:
    """Return the text of each lesson's source in this checkout, by its name."""
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted((ROOT / "solutions").glob("[0-9]*.md"))}


def sources_at(commit: str) -> dict[str, str]:
    """Return the text of each lesson's source as it was at ``commit``, by its name."""

    def git(*words: str) -> str:
        return subprocess.run(["git", *words], cwd=ROOT, check=True, capture_output=True, text=True).stdout

    names = git("ls-tree", "--name-only", commit, "solutions/").split()
    return {Path(name).stem: git("show", f"{commit}:{name}") for name in sorted(names) if name.endswith(".md")}


def table(texts: Mapping[str, str]) -> str:
    """Return a line for each text, and one for all of them."""
    found = {name: figures(text) for name, text in texts.items()}
    whole = Figures(*map(sum, zip(*found.values(), strict=True)))
    lines = [f"{'lesson':<24} {'words':>6} {'words a sentence':>17} {'ease':>6} {'grade':>6}"]
    lines += [
        f"{name:<24} {one.words:>6} {one.length:>17.1f} {one.ease:>6.1f} {one.grade:>6.1f}"
        for name, one in {**found, "all": whole}.items()
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    for commit in sys.argv[1:]:
        sys.stdout.write(f"{commit}\n{table(sources_at(commit))}\n\n")
    if not sys.argv[1:]:
        sys.stdout.write(f"{table(sources_here())}\n")
