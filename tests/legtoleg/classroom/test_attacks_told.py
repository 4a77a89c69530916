"""The README's tables of attacks: each row names tests that exist, and says what those check."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from legtoleg.core.paths import ROOT

HERE = Path(__file__).parent
HEAD = "| attack | what it gets | the test |"
ATTACKED = ("test_sealed_attacks.py", "test_running_class.py")


def rows() -> list[tuple[str, str, list[str]]]:
    """Return attack, what it gets, and the names of tests, of every row of both tables."""
    found = []
    for table in (ROOT / "README.md").read_text(encoding="utf-8").split(HEAD)[1:]:
        for line in table.split("\n\n")[0].splitlines()[2:]:
            attack, gets, tests = (part.strip() for part in line.strip("|").split("|"))
            found.append((attack, gets, re.findall(r"`(test_\w+)`", tests)))
    return found


def names_in(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {one.name for one in ast.walk(tree) if isinstance(one, ast.FunctionDef) and one.name.startswith("test_")}


def test_each_attack_names_a_test_that_there_is() -> None:
    there = set().union(*(names_in(path) for path in HERE.glob("test_*.py")))
    assert len(rows()) == 20
    for attack, gets, named in rows():
        assert gets, attack
        assert named, attack
        assert set(named) <= there, attack


def test_what_is_refused_in_so_many_words_stands_in_the_code() -> None:
    code = "".join(
        path.read_text(encoding="utf-8") for path in (ROOT / "grader" / "legtoleg" / "classroom").glob("*.py")
    )
    quoted = [words for _, gets, _ in rows() for words in re.findall(r'"([^"]+)"', gets)]
    assert len(quoted) == 6
    for words in quoted:
        fixed = re.sub(r"This job has \d+ acts", "This job has {acts}", words)
        assert fixed.rstrip(".") in code, words


def test_what_a_seat_tries_in_the_running_class_is_told() -> None:
    tree = ast.parse((HERE / "test_running_class.py").read_text(encoding="utf-8"))
    tried = next(
        ast.literal_eval(one.value)
        for one in ast.walk(tree)
        if isinstance(one, ast.Assign) and [getattr(name, "id", "") for name in one.targets] == ["ATTACKS"]
    )
    told = " ".join(attack for attack, _, _ in rows())
    words = {"another's home": "homes", "the kit is read-only": "kit", "feedback is read-only": "feedback",
             "replace the own server's socket": "server's", "replace the service's socket": "class's",
             "become root": "root"}  # fmt: skip
    for attack in tried:
        assert words.get(attack, attack) in told, attack
