"""The ledger: what is written is read back; what is damaged is as if it were not there."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from legtoleg.cohort.marking_cache import FOLDER, MarkedLine, MarkingCache
from legtoleg.core.files import write_whole


def test_written_and_read(tmp_path: Path) -> None:
    ledger = MarkingCache(tmp_path)
    line = MarkedLine("ada-01", "03_x", "a" * 64, "b" * 64, ("was odd: Ω",), "0.1.0")
    ledger.write(line)
    assert ledger.read("ada-01", "03_x") == line
    assert list(ledger.lines()) == [line]
    assert ledger.read("bo-02", "03_x") is None


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b'{"apprentice": 1}', b"\xff"])
def test_damaged(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / FOLDER / "03_x" / "ada-01.json"
    path.parent.mkdir(parents=True)
    path.write_bytes(content)
    assert MarkingCache(tmp_path).read("ada-01", "03_x") is None
    assert list(MarkingCache(tmp_path).lines()) == []


def test_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x"
    write_whole(path, b"old", 0o444)
    assert path.stat().st_mode & 0o777 == 0o444

    def full(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(Path, "chmod", full)
    with pytest.raises(OSError, match="disk full"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["x"]


def test_an_entry_from_before_the_version_was_kept_is_read(tmp_path: Path) -> None:
    path = tmp_path / FOLDER / "03_x" / "ada-01.json"
    path.parent.mkdir(parents=True)
    old = {"apprentice": "ada-01", "lesson": "03_x", "handed_in": "a" * 64, "released": "b" * 64, "remarks": ["odd"]}
    path.write_text(json.dumps(old), encoding="utf-8")
    assert MarkingCache(tmp_path).read("ada-01", "03_x") == MarkedLine("ada-01", "03_x", "a" * 64, "b" * 64, ("odd",))
