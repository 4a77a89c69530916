"""Parcels: zips and folders as they come, and as they should never come."""

from __future__ import annotations

import io
import os
import stat
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from legtoleg.intake import inbox
from legtoleg.intake.inbox import ReceivedFile, open_received

MARK = b'{"apprentice": "ada-01"}'


def zipped(path: Path, entries: dict[str, bytes], **kinds: int) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries.items():
            about = zipfile.ZipInfo(name, (2026, 5, 4, 3, 2, 2))
            about.compress_type = zipfile.ZIP_DEFLATED
            about.external_attr = kinds.get(name, stat.S_IFREG | 0o644) << 16
            archive.writestr(about, content)
    return path


def opened(path: Path) -> list[ReceivedFile]:
    return list(open_received(path))


def test_a_kit_sent_back_whole(tmp_path: Path) -> None:
    entries = {
        "leg-to-leg/kit.json": MARK,
        "leg-to-leg/lessons/a/a.ipynb": b"{}",
        "leg-to-leg/lessons/a/.ipynb_checkpoints/a-checkpoint.ipynb": b"old",
        "__MACOSX/leg-to-leg/._a.ipynb": b"fork",
        "leg-to-leg/datasets/x.csv": b"1",
        "leg-to-leg/lessons/progress.json": b"{}",
        "leg-to-leg/lessons/kept_work/a.jsonl": b"{}",
    }
    (piece,) = opened(zipped(tmp_path / "x.zip", entries))
    assert (piece.content, piece.kit_id, piece.refused) == (b"{}", "ada-01", "")
    assert piece.changed is not None


def test_zips_in_a_zip_each_with_its_own_mark(tmp_path: Path) -> None:
    inner = io.BytesIO()
    with zipfile.ZipFile(inner, "w") as archive:
        archive.writestr("kit.json", MARK)
        archive.writestr("a.ipynb", "{}")
    pieces = opened(zipped(tmp_path / "all.zip", {"ada.zip": inner.getvalue(), "b.ipynb": b"{}"}))
    assert [(piece.kit_id, piece.refused) for piece in pieces] == [("ada-01", ""), ("", "")]


@pytest.mark.parametrize(
    ("name", "kind", "said"),
    [
        ("../../a.ipynb", stat.S_IFREG, "out of the zip"),
        ("/etc/a.ipynb", stat.S_IFREG, "out of the zip"),
        ("C:\\a.ipynb", stat.S_IFREG, "out of the zip"),
        ("..\\a.ipynb", stat.S_IFREG, "out of the zip"),
        ("a.ipynb", stat.S_IFLNK, "a link or a device"),
        ("a.ipynb", stat.S_IFCHR, "a link or a device"),
    ],
)
def test_paths_and_links_in_a_zip(tmp_path: Path, name: str, kind: int, said: str) -> None:
    (piece,) = opened(zipped(tmp_path / "x.zip", {name: b"/etc/passwd"}, **{name: kind | 0o644}))
    assert said in piece.refused
    assert piece.content == b""


def test_a_bomb(tmp_path: Path) -> None:
    (piece,) = opened(zipped(tmp_path / "x.zip", {"a.ipynb": b"0" * 60_000_000}))
    assert "more than any lesson" in piece.refused


def test_a_bomb_that_lies_about_its_size(tmp_path: Path) -> None:
    path = zipped(tmp_path / "x.zip", {"a.ipynb": b"0" * 30_000_000})
    content = path.read_bytes().replace((30_000_000).to_bytes(4, "little"), (100).to_bytes(4, "little"))
    path.write_bytes(content)
    (piece,) = opened(path)
    assert piece.refused
    assert len(piece.content) == 0


def test_many_small_bombs_share_one_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(inbox, "LIMITS", replace(inbox.LIMITS, size=10_000_000))
    pieces = opened(zipped(tmp_path / "x.zip", {f"{n}.ipynb": b"0" * 4_000_000 for n in range(5)}))
    assert [bool(piece.refused) for piece in pieces] == [False, False, True, True, True]


def test_zips_in_a_zip_share_one_limit_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each alone is within the limit, together they are not; what was read before still counts."""
    monkeypatch.setattr(inbox, "LIMITS", replace(inbox.LIMITS, size=10_000_000))
    inner = zipped(tmp_path / "inner.zip", {"a.ipynb": b"0" * 4_000_000}).read_bytes()
    pieces = opened(zipped(tmp_path / "x.zip", {f"{n}.zip": inner for n in range(4)}))
    assert [bool(piece.refused) for piece in pieces] == [False, False, True, True]
    assert "more than any lesson" in pieces[2].refused


def test_entries_of_zips_in_a_zip_are_counted_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(inbox, "LIMITS", replace(inbox.LIMITS, entries=25))
    inner = zipped(tmp_path / "inner.zip", {f"{n}.ipynb": b"" for n in range(9)}).read_bytes()
    pieces = opened(zipped(tmp_path / "x.zip", {f"{n}.zip": inner for n in range(3)}))
    assert [bool(piece.refused) for piece in pieces] == [False] * 18 + [True]
    assert "9 entries" in pieces[-1].refused


def test_a_zip_three_deep_is_named(tmp_path: Path) -> None:
    content = b"{}"
    for name in ("a.ipynb", "b.zip", "c.zip"):
        content = zipped(tmp_path / "deep.zip", {name: content}).read_bytes()
    (piece,) = opened(tmp_path / "deep.zip")
    assert "a zip in a zip in a zip" in piece.refused


def test_too_many_entries(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(inbox, "LIMITS", replace(inbox.LIMITS, entries=10))
    (piece,) = opened(zipped(tmp_path / "x.zip", {f"{n}.ipynb": b"" for n in range(11)}))
    assert "11 entries" in piece.refused


def test_no_zip_a_part_of_one_and_other_files(tmp_path: Path) -> None:
    whole = zipped(tmp_path / "whole.zip", {"a.ipynb": os.urandom(5000)}).read_bytes()
    (tmp_path / "part.zip").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "text.zip").write_bytes(b"hello")
    (tmp_path / "a.pdf").write_bytes(b"%PDF")
    for name in ("part.zip", "text.zip"):
        (piece,) = opened(tmp_path / name)
        assert "not a whole zip" in piece.refused
    assert "neither a notebook nor a zip" in opened(tmp_path / "a.pdf")[0].refused
    assert "no such file" in opened(tmp_path / "none.zip")[0].refused


def test_a_folder_links_pipes_and_its_marks(tmp_path: Path) -> None:
    top = tmp_path / "came"
    (top / "ada" / "lessons").mkdir(parents=True)
    (top / "ada" / "kit.json").write_bytes(MARK)
    (top / "ada" / "lessons" / "a.ipynb").write_bytes(b"{}")
    (top / "b.ipynb").symlink_to("/etc/passwd")
    (top / "c").symlink_to("/etc")
    os.mkfifo(top / "d.ipynb")
    pieces = {Path(piece.name).name: piece for piece in opened(top)}
    assert pieces["a.ipynb"].kit_id == "ada-01"
    assert "link" in pieces["b.ipynb"].refused
    assert "link" in pieces["c"].refused
    assert "not a plain file" in pieces["d.ipynb"].refused
    (tmp_path / "link.zip").symlink_to(top)
    assert "link" in opened(tmp_path / "link.zip")[0].refused


def test_a_damaged_mark_is_no_mark() -> None:
    assert [inbox.kit_mark(text) for text in (b"", b"[]", b'{"apprentice": 3}', b"[" * 100_000)] == [""] * 4
