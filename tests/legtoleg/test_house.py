"""The house is kept: `Any` and `noqa` stay where nothing better can be had."""

import re
import tokenize
from pathlib import Path

import pytest

import dryerbench
import legtoleg

MOST_ANY = 5
"""Lines; each stands for a library without types, or for data whose kind is told by other data."""
MOST_NOQA = 15
"""Lines; each says why beside it."""
MOST_LINES = 400
"""Of a module: what is longer holds more than one idea."""
IMPORTS = ("import ", "from ")


def tokens_of(path: Path) -> list[tokenize.TokenInfo]:
    """Return the tokens of `path`."""
    with tokenize.open(path) as file:
        return list(tokenize.generate_tokens(file.readline))


def lines_of_any(path: Path) -> list[int]:
    """Return the lines of `path` in whose code `Any` stands, but for its import."""
    tokens = tokens_of(path) if "Any" in path.read_text(encoding="utf-8") else []
    named = {one.start[0] for one in tokens if "Any" in _names(one) and not one.line.lstrip().startswith(IMPORTS)}
    return sorted(named)


def _names(token: tokenize.TokenInfo) -> set[str]:
    """Return the names in `token`; a type may stand in a short text."""
    if token.type == tokenize.NAME:
        return {token.string}
    typed = token.type == tokenize.STRING and re.search(r"[\[ ]Any[\],]", token.string)
    return {"Any"} if typed else set()


def lines_of_noqa(path: Path) -> list[int]:
    """Return the lines of `path` that ask ruff to look away."""
    tokens = tokens_of(path) if "noqa" in path.read_text(encoding="utf-8") else []
    return [one.start[0] for one in tokens if one.type == tokenize.COMMENT and "noqa" in one.string]


def sources() -> list[Path]:
    """Return every Python file of both packages."""
    return [path for package in (dryerbench, legtoleg) for path in Path(package.__file__).parent.rglob("*.py")]


@pytest.mark.parametrize(("find", "most"), [(lines_of_any, MOST_ANY), (lines_of_noqa, MOST_NOQA)])
def test_no_more_lines_than_there_have_to_be(find, most: int) -> None:
    found = [f"{path.name}:{line}" for path in sources() for line in find(path)]
    assert len(found) <= most, found


def test_no_module_is_too_long() -> None:
    long = {path.name: lines for path in sources() if (lines := len(lines_of(path))) > MOST_LINES}
    assert long == {}


def lines_of(path: Path) -> list[str]:
    return path.read_text(encoding="utf-8").splitlines()


def test_what_is_counted(tmp_path: Path) -> None:
    source = tmp_path / "one.py"
    source.write_text(
        'from typing import Any\nx: Any = "Any"\ny: "list[Any]" = []\nz = 1  # noqa: X1\nw = "# noqa"\n',
        encoding="utf-8",
    )
    assert (lines_of_any(source), lines_of_noqa(source)) == ([2, 3], [4])


def test_every_noqa_names_its_rule_and_says_why() -> None:
    bare = [
        f"{path.name}:{number}"
        for path in sources()
        for number in lines_of_noqa(path)
        if not _explained(path.read_text(encoding="utf-8").splitlines()[number - 1])
    ]
    assert bare == []


def _explained(line: str) -> bool:
    rule, _, why = line.partition("# noqa: ")[2].partition(" - ")
    return rule.isalnum() and bool(why)
