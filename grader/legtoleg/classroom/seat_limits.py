"""Limits of a seat: memory, processes and its share of the processor, by the kernel's control groups (v1 or v2)."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

ROOT = Path("/sys/fs/cgroup")
_PROBE = "is-it-held"
"""The name of a group that is made only to see what can be set, and removed at once."""


@dataclass(frozen=True)
class Limits:
    """What one seat may take."""

    megabytes: int = 1024
    processes: int = 256
    processors: float = 1.5

    def _v1(self) -> dict[str, dict[str, str]]:
        return {
            "memory": {"memory.limit_in_bytes": str(self.megabytes << 20)},
            "pids": {"pids.max": str(self.processes)},
            "cpu": {"cpu.cfs_period_us": "100000", "cpu.cfs_quota_us": str(round(self.processors * 100_000))},
        }

    def _v2(self) -> dict[str, str]:
        return {
            "memory.max": str(self.megabytes << 20),
            "memory.swap.max": "0",
            "pids.max": str(self.processes),
            "cpu.max": f"{round(self.processors * 100_000)} 100000",
        }

    def groups(self, name: str, root: Path = ROOT) -> list[Path]:
        """Make the control groups of the seat ``name`` and return where its process has to be entered; empty if none.

        A kernel that lets us set none of them gives no list: the seat then runs under the limits of a process alone.
        """
        made = []
        if (root / "cgroup.controllers").is_file():
            with suppress(OSError):
                (root / "leg-to-leg").mkdir(exist_ok=True)
                (root / "leg-to-leg" / "cgroup.subtree_control").write_text("+memory +pids +cpu")
                made.append(_group(root / "leg-to-leg" / name, self._v2()))
            return made
        for kind, values in self._v1().items():
            with suppress(OSError):
                if (root / kind / "cgroup.procs").is_file():
                    made.append(_group(root / kind / "leg-to-leg" / name, values))
        return made

    def not_held(self, root: Path = ROOT) -> list[str]:
        """Return what of memory, processes and processor the kernel here does not hold a seat to, in words."""
        words = {
            "memory": (f"memory ({self.megabytes} MiB)", "memory.max"),
            "pids": (f"processes ({self.processes})", "pids.max"),
            "cpu": (f"processor ({self.processors:g} cores)", "cpu.max"),
        }
        groups = self.groups(_PROBE, root)
        try:
            if (root / "cgroup.controllers").is_file():
                there = {
                    kind for kind, (_, file) in words.items() if any((one.parent / file).exists() for one in groups)
                }
            else:
                there = {kind for kind in words if any(one.is_relative_to(root / kind) for one in groups)}
        finally:
            leave(groups)
        return [said for kind, (said, _) in words.items() if kind not in there]


def _group(place: Path, values: dict[str, str]) -> Path:
    place.mkdir(parents=True, exist_ok=True)
    for file, value in values.items():
        if (place / file).exists():
            (place / file).write_text(value)
    return place / "cgroup.procs"


def entering(groups: list[Path]) -> list[str]:
    """Return the words that enter a process into ``groups`` and then become the command that follows them."""
    if not groups:
        return []
    lines = "; ".join(f'echo $$ > "${number}"' for number in range(1, len(groups) + 1))
    return ["sh", "-c", f'{lines}; shift {len(groups)}; exec "$@"', "enter", *map(str, groups)]


def leave(groups: list[Path]) -> None:
    """Remove the groups of a seat that has ended."""
    for place in groups:
        with suppress(OSError):
            place.parent.rmdir()
