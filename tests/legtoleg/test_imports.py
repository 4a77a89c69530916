"""What the apprentice holds never reaches for what the marker holds."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

LESSONS = Path(__file__).resolve().parents[2] / "lessons"
MODULES = sorted(LESSONS.rglob("*.py"))


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.add(node.module.split(".")[0])
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.startswith("legtoleg."):
            names.add("legtoleg")  # import_module("legtoleg…") and the like
    return names


def test_there_is_something_to_look_at() -> None:
    assert len(MODULES) > 20


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_dryerbench_never_imports_the_marker(path: Path) -> None:
    assert "legtoleg" not in imported(path)


def test_the_check_can_fail(tmp_path: Path) -> None:
    for text in (
        "import legtoleg.marking.marking",
        "from legtoleg import marking",
        'import_module("legtoleg.marking.marking")',
    ):
        (tmp_path / "bad.py").write_text(text, encoding="utf-8")
        assert "legtoleg" in imported(tmp_path / "bad.py")


def test_no_name_of_a_lesson_is_also_a_module() -> None:
    import dryerbench

    modules = {path.stem for path in (LESSONS / "dryerbench").iterdir()}
    assert not modules & set(dryerbench.__all__)
    for name in dryerbench.__all__:
        assert getattr(dryerbench, name) is not None
