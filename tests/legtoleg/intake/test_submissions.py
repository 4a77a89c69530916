"""Hand-ins: plain files are found; links, pipes, strangers and giants are named, never followed or read."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

import pytest

from legtoleg.intake.notebook_repair import LARGEST_FILE
from legtoleg.intake.submissions import HandInError, find_hand_ins, plain_file

LESSON = "03_heater_power"


def put(submitted: Path, who: str, lesson: str = LESSON) -> Path:
    path = submitted / who / lesson / f"{lesson}.ipynb"
    path.parent.mkdir(parents=True)
    path.write_text("{}", encoding="utf-8")
    return path


def test_found_in_order_and_the_odd_is_named(tmp_path: Path) -> None:
    put(tmp_path, "bo-02")
    put(tmp_path, "ada-01")
    put(tmp_path, "ada-01", "99_other")
    put(tmp_path, "bad name")
    (tmp_path / "cy-03" / LESSON).mkdir(parents=True)
    (tmp_path / "link").symlink_to(tmp_path / "ada-01")
    found, odd = find_hand_ins(tmp_path, [LESSON])
    assert [hand_in.apprentice for hand_in in found] == ["ada-01", "bo-02"]
    said = "\n".join(odd)
    assert all(word in said for word in ("99_other", "bad name", "cy-03", "link"))
    assert find_hand_ins(tmp_path, [LESSON], "01_x")[0] == []
    assert find_hand_ins(tmp_path / "none", [LESSON]) == ([], [])


def test_only_plain_files_are_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to("/etc/passwd")
    (tmp_path / "folder").mkdir()
    with (tmp_path / "giant").open("wb") as file:
        file.truncate(LARGEST_FILE + 1)
    for name, said in (("pipe", "pipe"), ("link", "link"), ("folder", "folder"), ("giant", "MB"), ("none", "cannot")):
        with pytest.raises(HandInError, match=said):
            plain_file(tmp_path / name)
    with pytest.raises(HandInError):
        plain_file(Path("/dev/zero"))


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("2026-05-02 12:00:00 UTC", datetime(2026, 5, 2, 12)),
        ("2026-05-02 12:00:00.123456 UTC", datetime(2026, 5, 2, 12, 0, 0, 123456)),
        ("2026-05-02 12:00:00 +0200", datetime(2026, 5, 2, 10)),
        ("2026-05-02T12:00:00+00:00", datetime(2026, 5, 2, 12)),
    ],
)
def test_when_it_came(tmp_path: Path, text: str, when: datetime) -> None:
    path = put(tmp_path, "ada-01")
    (hand_in,), _ = find_hand_ins(tmp_path, [LESSON])
    assert hand_in.timestamp() is None
    (path.parent / "timestamp.txt").write_text(text, encoding="utf-8")
    assert hand_in.timestamp() == when


_ODD_YEARS = (
    b"0001-01-01 00:00:00 UTC",
    b"0001-01-01 00:00:00 +1400",
    b"9999-12-31 23:59:59 UTC",
    b"9999-12-31 23:59:59 -1200",
)
"""Years in which nothing came; with their zone they are out of every calendar."""


@pytest.mark.parametrize("content", [b"", b"\xff\xfe", b"yesterday", b"9" * 10**6, *_ODD_YEARS])
def test_a_bad_timestamp_is_said(tmp_path: Path, content: bytes) -> None:
    path = put(tmp_path, "ada-01")
    (path.parent / "timestamp.txt").write_bytes(content)
    (hand_in,), _ = find_hand_ins(tmp_path, [LESSON])
    with pytest.raises(HandInError, match="does not hold a time"):
        hand_in.timestamp()
