"""What goes short in a class, one line each: room on the disk, a home that grows, a seat stopped at its memory."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.seat_limits import ROOT, Limits

HOME_MEGABYTES = 500
"""From here on a home is told as too large; a lesson with all its outputs takes about one."""
DISK_MEGABYTES = 1024
"""Less room than this on the disk is told."""
_MOST_FILES = 20_000
"""So many files of a home are looked at; more of them are a trouble of their own."""


def home_megabytes(home: Path) -> float:
    """Return what a home takes on the disk; links are not followed, and files that vanish meanwhile count nothing."""
    size = seen = 0
    for folder, _, names in os.walk(home):
        for name in names:
            with suppress(OSError):
                size += Path(folder, name).lstat().st_blocks * 512
            seen += 1
        if seen > _MOST_FILES:
            return float("inf")
    return size / (1 << 20)


def memory_ends(name: str, root: Path = ROOT) -> int:
    """Return how often the kernel ended something of the seat ``name`` because its memory was used up."""
    for place in (
        root / "memory" / "leg-to-leg" / name / "memory.oom_control",
        root / "leg-to-leg" / name / "memory.events",
    ):
        with suppress(OSError):
            for line in place.read_text(encoding="ascii").splitlines():
                word, _, number = line.partition(" ")
                if word == "oom_kill":
                    return int(number)
    return 0


def trouble_of(folder: ClassFolder, who: str, root: Path = ROOT) -> str:
    """Return what goes short in the seat of ``who``, in one line; empty if nothing."""
    size, ends = home_megabytes(folder.homes / who), memory_ends(folder.group(who), root)
    if size > HOME_MEGABYTES:
        much = f"{size:.0f} MB" if size < float("inf") else f"more than {_MOST_FILES} files"
        return f"The home holds {much}; {HOME_MEGABYTES} MB is the most. Delete what is not a lesson."
    if ends:
        return f"The seat used up its {Limits().megabytes} MB of memory, and a page was stopped. Run its cells again."
    return ""


def disk_trouble(folder: ClassFolder) -> str:
    """Return that the disk is nearly full, in one line; empty if it is not."""
    free = shutil.disk_usage(folder.root).free >> 20
    if free >= DISK_MEGABYTES:
        return ""
    return f"The disk has {free} MB left. Make room before the class goes on: a full disk takes no hand-ins."
