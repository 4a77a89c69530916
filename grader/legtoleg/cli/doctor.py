"""The doctor: looks whether this computer can run the course, and says the cure for what it finds."""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from dryerbench.core.errors import TableError
from dryerbench.core.tables import table
from legtoleg.sandbox import jail
from legtoleg.sandbox.engine import EngineError, Job, WarmEngine

LONGEST_PATH = 120
"""Characters of a cohort's folder on Windows, so that what nbgrader puts below stays under 260."""
_ROOM = 500_000_000


@dataclass(frozen=True)
class Check:
    """One check: what was looked at, how it is, and the cure if it is not well. ``must``: without it nothing works."""

    what: str
    well: bool
    found: str
    cure: str = ""
    must: bool = True


def _python() -> Check:
    well = sys.version_info >= (3, 11)
    return Check("Python", well, sys.version.split()[0], "Install Python 3.11 or newer and set the course up again.")


def _packages() -> Check:
    missing = []
    for name in ("jupyterlab", "nbgrader", "ipympl", "ipywidgets", "matplotlib", "pint", "jupytext", "openpyxl"):
        try:
            version(name)
        except PackageNotFoundError:
            missing.append(name)
    found = f"missing: {', '.join(missing)}" if missing else "all there"
    return Check("Packages", not missing, found, "Run “pip install -e .” in the course's folder, with this Python.")


def _kernel() -> Check:
    from jupyter_client.kernelspec import KernelSpecManager, NoSuchKernel

    cure = f"Run “{Path(sys.executable).name} -m ipykernel install --sys-prefix” with the course's Python."
    try:
        first = KernelSpecManager().get_kernel_spec("python3").argv[0]
    except NoSuchKernel:
        return Check("Kernel", False, "there is no kernel called python3", cure)
    ours = Path(first).name == first or _same(first, sys.executable)
    return Check("Kernel", ours, "of this Python" if ours else f"of another Python: {first}", cure)


def _same(one: str, other: str) -> bool:
    return Path(one).parent.resolve() == Path(other).parent.resolve()


def _widgets() -> Check:
    from jupyter_core.paths import jupyter_path

    wanted = {"@jupyter-widgets/jupyterlab-manager", "jupyter-matplotlib"}
    off: set[str] = set()
    for place in map(Path, jupyter_path("labextensions")):
        wanted -= {name for name in wanted if (place / name / "package.json").is_file()}
    for place in map(Path, jupyter_path()):
        off |= _switched_off(place.parent.parent / "etc" / "jupyter" / "labconfig" / "page_config.json")
    bad = sorted(wanted) + sorted(name for name in off if "widgets" in name or "matplotlib" in name)
    found = f"missing or switched off: {', '.join(bad)}" if bad else "on"
    return Check("Widgets in JupyterLab", not bad, found, "Run “pip install --force-reinstall ipympl ipywidgets”.")


def _switched_off(path: Path) -> set[str]:
    try:
        disabled = json.loads(path.read_text(encoding="utf-8")).get("disabledExtensions", {})
    except (OSError, ValueError, AttributeError):
        return set()
    return {name for name, off in disabled.items() if off} if isinstance(disabled, dict) else set()


def _tables() -> Check:
    try:
        table("nichrome-80-20")
    except TableError as error:
        return Check("Tables", False, "missing", str(error))
    return Check("Tables", True, "readable")


def _alembic() -> Check:
    here = Path(sys.executable).parent
    found = shutil.which("alembic", path=os.pathsep.join([str(here), os.environ.get("PATH", os.defpath)]))
    return Check("alembic, for the grade book", found is not None, found or "missing", "Run “pip install alembic”.")


def _jail() -> Check:
    cure = "On Debian and Ubuntu: “apt install bubblewrap”. Without it, do not mark hand-ins of people you do not know."
    if sys.platform != "linux" or not jail.available():
        return Check("Jail for notebooks", False, "none: notebooks run with your own rights", cure, must=False)
    engine = WarmEngine()
    try:
        data = engine.run(Job("practice", "", ("6 * 7",))).outputs[0][0]["data"]
        shown = data["text/plain"] if isinstance(data, dict) else None
    except (EngineError, KeyError, IndexError) as error:
        return Check(
            "Jail for notebooks", False, f"slow only ({error})", "Allow user namespaces on this system.", must=False
        )
    finally:
        engine.close()
    return Check("Jail for notebooks", shown == "42", "no network, no files, limits on all")


def _write(folder: Path) -> Check:
    place = folder
    while not place.exists() and place != place.parent:
        place = place.parent
    try:
        with tempfile.TemporaryDirectory(dir=place):
            pass
    except OSError as error:
        return Check("Writing here", False, str(error.strerror), f"Choose a folder that is yours instead of {place}.")
    return Check("Writing here", True, str(place.resolve()))


def _length(folder: Path) -> Check:
    long = len(str(folder.resolve()))
    well = os.name != "nt" or long <= LONGEST_PATH
    return Check("Length of the path", well, f"{long} characters", "Use a folder closer to the top of the disk.")


def _room(folder: Path) -> Check:
    place = next(place for place in (folder.resolve(), *folder.resolve().parents) if place.exists())
    free = shutil.disk_usage(place).free
    return Check("Room on the disk", free > _ROOM, f"{free / 1e9:.1f} GB free", "Make room: 0.5 GB at least.")


def examine(folder: Path) -> Iterator[Check]:
    """Yield what is found on this computer and in ``folder``, the folder of a cohort, one check after the other."""
    here: tuple[Callable[[], Check], ...] = (_python, _packages, _kernel, _widgets, _tables, _alembic, _jail)
    yield from (check() for check in here)
    yield from (check(folder) for check in (_write, _length, _room))
