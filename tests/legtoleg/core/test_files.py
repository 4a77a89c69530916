"""Files written whole: on any system, over a file that is read-only too, and nothing left when it cannot be."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from legtoleg.core.files import write_whole


@pytest.mark.parametrize("windows", [False, True])
def test_a_read_only_file_is_replaced(tmp_path: Path, like_windows: Callable[[], None], windows: bool) -> None:
    if windows:
        like_windows()
    for content in (b"one", b"two"):
        write_whole(tmp_path / "a" / "file", content, 0o444)
        assert (tmp_path / "a" / "file").read_bytes() == content
        assert (tmp_path / "a" / "file").stat().st_mode & 0o777 == 0o444
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["file"]


@pytest.mark.parametrize("windows", [False, True])
def test_what_cannot_be_written_leaves_the_old_file_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, like_windows: Callable[[], None], windows: bool
) -> None:
    if windows:
        like_windows()
    write_whole(tmp_path / "file", b"old")

    def refuse(*_: Any) -> None:
        raise PermissionError(13, "opened by another program")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(PermissionError, match="another program"):
        write_whole(tmp_path / "file", b"new", 0o444)
    assert (tmp_path / "file").read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
