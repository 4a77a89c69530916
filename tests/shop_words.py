"""Every text of the project that a person reads, place by place, and the words that none of them may use.

These are the literals of both packages (no docstrings, no names), what panels and pages say (JavaScript, templates),
the words of the tables, of faults and machines, the sources of the lessons, README.md and the built pages beside the
lessons.
"""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = (ROOT / "lessons" / "dryerbench", ROOT / "grader" / "legtoleg")


class Said(NamedTuple):
    """One text and its place: file from the top folder on, and line."""

    file: str
    line: int
    words: str


def for_people(words: str) -> bool:
    """Tell whether a literal is a text for people: at least two words, and no pattern, address or markup alone."""
    return bool(re.search(r"[A-Za-z]{2,}[,.:;?!”\"]? [a-zA-Z“{(]", words)) and not re.search(
        r"\\[bdswS(\[]|\(\?|^\s*[.#@][\w-]+[\w\s,.#>:-]*\{|^SELECT |^CREATE |^INSERT ", words
    )


def literals(text: str) -> Iterator[tuple[int, str]]:
    """Yield line and words of each literal of a Python source; the gaps of an f-string are ``{}``."""
    tree = ast.parse(text)
    apart: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            apart.add(id(node.value))  # a docstring
        if isinstance(node, ast.JoinedStr):
            apart.update(id(part) for part in ast.walk(node) if part is not node)
    for node in ast.walk(tree):
        if id(node) in apart:
            continue
        if isinstance(node, ast.JoinedStr):
            parts = [str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values]
            yield node.lineno, "".join(parts)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


class _Page(HTMLParser):
    """The texts of a page, without its styles; of its scripts the literals."""

    def __init__(self) -> None:
        super().__init__()
        self.inside, self.found = "", list[tuple[int, str]]()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        self.found += [
            (self.getpos()[0], value)
            for name, value in attrs
            if name in ("title", "alt", "aria-label", "placeholder") and value
        ]

    def handle_data(self, data: str) -> None:
        if self.inside == "script":
            self.found += [(self.getpos()[0] + line - 1, words) for line, words in script_words(data)]
        elif self.inside != "style":
            self.found.append((self.getpos()[0], data))

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""


def script_words(text: str) -> Iterator[tuple[int, str]]:
    """Yield line and words of each literal of a JavaScript source, comments left out."""
    for number, line in enumerate(text.splitlines(), 1):
        bare = re.sub(r"(^|\s)//.*$", "", line)
        for found in re.finditer(r'"((?:[^"\\]|\\.)*)"|`([^`]*)`|\'((?:[^\'\\]|\\.)*)\'', bare):
            words = next(part for part in found.groups() if part is not None) if any(found.groups()) else ""
            yield number, re.sub(r"\$\{[^}]*\}", "{}", words)


def paragraphs(text: str) -> Iterator[tuple[int, str]]:
    """Yield the first line and the words of each paragraph, so that a phrase over two lines is found."""
    for found in re.finditer(r"(?:^[ \t]*\S.*(?:\n|\Z))+", text, re.MULTILINE):
        yield text.count("\n", 0, found.start()) + 1, " ".join(found[0].split())


def _of_file(path: Path) -> Iterator[tuple[int, str]]:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        yield from literals(text)
    elif path.suffix == ".js":
        yield from script_words(text)
    elif path.suffix == ".html":
        page = _Page()
        page.feed(re.sub(r"\{%.*?%\}|\{#.*?#\}", " ", re.sub(r"\{\{.*?\}\}", "{}", text), flags=re.DOTALL))
        yield from page.found
    elif path.suffix == ".csv":
        with path.open(encoding="utf-8", newline="") as file:
            rows = csv.reader(file)
            for row in rows:
                yield from ((rows.line_num, cell) for cell in row)
    elif path.suffix == ".txt":  # faults and machines: what stands behind the colon
        for number, line in enumerate(text.splitlines(), 1):
            key, _, words = line.partition(": ")
            if key in ("title", "says", "seen", "idea", "tells", "note"):
                yield number, words
    else:
        text = re.sub(r"```\{code-cell\}.*?```", lambda cell: "\n" * cell[0].count("\n"), text, flags=re.DOTALL)
        yield from paragraphs(text)


def said() -> Iterator[Said]:
    """Yield every text that a person reads."""
    paths = [
        path for room in PACKAGES for ending in ("py", "js", "html", "csv", "txt") for path in room.rglob(f"*.{ending}")
    ]
    paths += (ROOT / "datasets").glob("*.csv")
    paths += (ROOT / "solutions").glob("*.md")
    paths += [ROOT / "README.md", ROOT / "lessons" / "ANSWERS.md", ROOT / "lessons" / "WORDS.md"]
    for path in sorted(path for path in paths if path.is_file()):
        for line, words in _of_file(path):
            if path.suffix == ".md" or for_people(words):
                yield Said(path.relative_to(ROOT).as_posix(), line, words)


with (Path(__file__).parent / "shop_words.csv").open(encoding="utf-8", newline="") as _file:
    NEVER = [(re.compile(row["never"]), row["say"]) for row in csv.DictReader(_file)]
"""Each pattern that no text may hold, and what to say instead."""


def unsaid(words: str) -> list[str]:
    """Return what ``words`` says that this shop does not, with the right word."""
    return [f"“{found[0]}”: say {right}" for never, right in NEVER if (found := never.search(words))]
