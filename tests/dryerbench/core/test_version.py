"""The course's version: from a kit's mark first, then from the distribution, and never from something odd."""

from __future__ import annotations

import importlib.metadata
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from dryerbench.core import version
from dryerbench.core.version import UNKNOWN, course_version, kit_version, readable_version


@pytest.fixture(autouse=True)
def anew() -> Iterator[None]:
    course_version.cache_clear()
    yield
    course_version.cache_clear()


def test_it_is_the_distributions() -> None:
    assert course_version() == importlib.metadata.version("leg-to-leg")


def test_without_kit_and_distribution_it_is_unknown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(version, "DISTRIBUTION", "leg-to-leg-that-is-not-installed")
    assert course_version() == UNKNOWN


def test_a_kits_own_mark_counts_before_what_is_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "kit.json").write_text(json.dumps({"apprentice": "ada-01", "course": "9.8.7"}), encoding="utf-8")
    monkeypatch.setattr(version, "__file__", str(tmp_path / "lessons" / "dryerbench" / "core" / "version.py"))
    assert course_version() == "9.8.7"


@pytest.mark.parametrize(
    "content", ["", "{", "[]", "3", '{"apprentice": "a"}', '{"course": 3}', '{"course": "<b>"}', "[" * 9000]
)
def test_a_mark_that_says_no_version_says_none(tmp_path: Path, content: str) -> None:
    (tmp_path / "kit.json").write_text(content, encoding="utf-8")
    assert kit_version(tmp_path) == ""
    assert kit_version(tmp_path / "nowhere") == ""


@pytest.mark.parametrize("text", ["0.1.0", "1.0rc1", "2026.11+local.3", UNKNOWN])
def test_what_can_be_a_version(text: str) -> None:
    assert readable_version(text) == text


@pytest.mark.parametrize("text", ["", " 1", "1\n", "=1+1", "<i>", "1" * 41, 1.0, None, ["1"], {}])
def test_what_cannot(text: object) -> None:
    assert readable_version(text) == ""
