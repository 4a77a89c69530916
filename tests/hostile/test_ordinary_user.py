"""The same corpus, run by root's test as an ordinary user, for whom the jail is made in another way."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from legtoleg.core.paths import ROOT
from legtoleg.sandbox import jail

from .conftest import WAY

pytestmark = [pytest.mark.slow, pytest.mark.jail]

USER = 64_204
"""An ordinary user that owns nothing."""

PASSABLE = """
set -e
keep=$(mktemp -d)
mount --bind "$1" "$keep"
mount -t tmpfs -o mode=755 none "$2"
mkdir -p "$1"
mount --move "$keep" "$1"
shift 2
exec "$@"
"""
"""In a mount namespace of its own: makes a Python under a closed home readable; this computer is not changed."""


def closed_folder(python: Path) -> tuple[Path, Path] | None:
    """Return the folder of Python and the closed folder above it, if there is one."""
    above = [folder for folder in python.parents if not folder.stat().st_mode & 0o001]
    if not above:
        return None
    top = above[-1]
    inside = python.relative_to(top).parts[0]
    return top / inside, top


def as_user(*command: str) -> list[str]:
    """Return ``command`` as run by an ordinary user."""
    become = ["setpriv", f"--reuid={USER}", f"--regid={USER}", "--clear-groups", *command]
    closed = closed_folder(Path(sys.base_prefix).resolve())
    if closed is None:
        return become
    return ["unshare", "--mount", "sh", "-c", PASSABLE, "sh", str(closed[0]), str(closed[1]), *become]


KINDS = (
    "fork-bomb or memory-bit or signal or os._exit or reads_and_reaches or leaves_nothing or program or FIFO or earn"
    " or control-words"
)


@pytest.mark.parametrize("way", ["BUBBLEWRAP", "NAMESPACES"])
def test_the_jail_holds_for_an_ordinary_user_too(tmp_path: Path, way: str) -> None:
    if sys.platform != "linux" or os.getuid() != 0 or not shutil.which("setpriv") or not jail.available():
        pytest.skip("Only root on Linux can run the corpus as somebody else; the others are the ordinary user.")
    home = tmp_path / "home"
    home.mkdir()
    os.chown(home, USER, USER)
    for folder in (tmp_path, *tmp_path.parents):
        if folder != Path("/") and not folder.stat().st_mode & 0o001:
            if folder.name.startswith(("pytest", "popen", "test_")):
                folder.chmod(folder.stat().st_mode | 0o011)
            else:
                pytest.skip(f"{folder} is closed to an ordinary user.")
    if not ROOT.stat().st_mode & 0o001:
        pytest.skip("The course is in a folder that is closed to an ordinary user.")
    kinds = os.environ.get("LEGTOLEG_HOSTILE_KINDS", KINDS)
    test = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--basetemp", str(home / "t"), "-k", kinds]
    files = [str(Path(__file__).parent / name) for name in ("test_code.py", "test_files.py")]
    done = subprocess.run(
        as_user(*test, *files),
        check=False,
        capture_output=True,
        text=True,
        timeout=600,
        cwd=ROOT,
        env={**os.environ, "HOME": str(home), "PYTHONDONTWRITEBYTECODE": "1", "CI": "", WAY: way, "PYTEST_ADDOPTS": ""},
    )
    said = done.stdout[-3000:] + done.stderr[-1000:]
    assert done.returncode == 0, said
    assert " passed" in said
    assert "skipped" not in said, said
