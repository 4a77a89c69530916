"""The marking day: people's names, the pool's warning and every wish reach the marker; a cluster only if asked for."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from legtoleg.cohort import marking_run
from legtoleg.cohort.batch_marking import Summary
from legtoleg.cohort.cohort_folder import ROSTER, CohortError
from legtoleg.cohort.marking_run import mark_cohort


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    found: dict[str, Any] = {}

    @contextmanager
    def local_pool(workers: int, *, made_up: bool) -> Iterator[Any]:
        found["workers"] = workers
        yield SimpleNamespace(warning="no jail")

    class Marker:
        def __init__(self, _cohort: Any, _book: Any, names: dict[str, str]) -> None:
            found["names"] = names

        def mark(self, _pool: Any, **wishes: Any) -> Summary:
            found.update(wishes)
            return Summary(marked=3)

    @contextmanager
    def book(_url: str) -> Iterator[Any]:
        yield SimpleNamespace(correct_names=lambda names: found.update(corrected=names))

    monkeypatch.setattr(marking_run, "local_pool", local_pool)
    monkeypatch.setattr(marking_run, "Marker", Marker)
    monkeypatch.setattr(marking_run, "Book", book)
    monkeypatch.setattr(marking_run, "cores", lambda: 5)
    return found


def test_every_wish_reaches_the_marker(asked: dict[str, Any], tmp_path: Path) -> None:
    (tmp_path / "nbgrader_config.py").touch()
    (tmp_path / ROSTER).write_text("id,name\nada-01,Ada Demo\n", encoding="utf-8")
    warned: list[str] = []
    assert mark_cohort(tmp_path, lesson="3", again=True, warn=warned.append).marked == 3
    assert asked["names"] == asked["corrected"] == {"ada-01": "Ada Demo"}
    assert (asked["workers"], asked["lesson"], asked["again"], warned) == (5, "3", True, ["no jail"])
    mark_cohort(tmp_path, workers=2)
    assert (asked["workers"], asked["lesson"], asked["again"]) == (2, None, False)


def test_a_folder_without_a_cohort_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CohortError, match=r"is not a cohort's folder\. Make one with"):
        mark_cohort(tmp_path)
