"""Files written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import stat
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Write ``content`` to ``path`` in one step: a kill leaves the old file or the new one, never a part."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".part-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        Path(name).chmod(mode)
        _put(Path(name), path)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).chmod(0o600)  # Windows removes no file that is read-only
        with contextlib.suppress(FileNotFoundError):
            Path(name).unlink()
        raise


def _put(new: Path, path: Path) -> None:
    """Put ``new`` in the place of ``path``; Windows replaces no file that is read-only, as marked notebooks are."""
    try:
        new.replace(path)
    except PermissionError:
        if not path.is_file() or path.stat().st_mode & stat.S_IWUSR:
            raise
        path.chmod(path.stat().st_mode | stat.S_IWUSR)
        new.replace(path)
