"""Files that cannot be written or read: a full or write-protected disk is told in one line, never as a traceback."""

from __future__ import annotations

import errno
from pathlib import Path

from dryerbench.core.errors import LegToLegError


class FileTroubleError(LegToLegError, OSError):
    """A file that the system will not let us write or read; the text says which and why."""


def _place(error: OSError) -> str:
    """Return where it happened; the name that a file has only while it is written says nothing, so its folder."""
    path = Path(str(error.filename2 or error.filename or "a file"))
    return str(path.parent) if path.name.startswith(".part-") else str(path)


def plainly(error: OSError) -> FileTroubleError:
    """Return what the system says of a file, in one line."""
    where = _place(error)
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return FileTroubleError(
            f"The disk is full: {where} could not be written. What was entered before stays entered. Make room, and "
            "type the command again."
        )
    if error.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
        return FileTroubleError(
            f"{where} cannot be opened or changed here ({error.strerror}): check who has the right to write to it "
            "and its folder, if another program has it open, and if the disk is write-protected."
        )
    return FileTroubleError(f"{where} cannot be used: {error.strerror or error}.")
