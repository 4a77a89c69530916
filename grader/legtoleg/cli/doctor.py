"""The doctor: looks whether this computer can run the course, and says the cure for what it finds."""

from __future__ import annotations

import json
import os
import shutil
import socket
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from importlib import import_module
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path
from subprocess import CalledProcessError
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from sqlalchemy.engine import make_url

from legtoleg.authoring.pdf import ChromiumMissingError, PrintingError, find_chromium, print_pdf
from legtoleg.cli.check import Check
from legtoleg.cli.course_checks import course_checks
from legtoleg.cohort.cohort_config import FILE, is_old, versions
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.gradebook import Book, BookError
from legtoleg.cohort.kit import requirements
from legtoleg.core.paths import private_folders
from legtoleg.sandbox.engine import Engine, EngineError, Job
from legtoleg.sandbox.engine_choice import choose_engine

LONGEST_PATH = 120
"""Characters of a cohort's folder on Windows, so that what nbgrader puts below stays under 260."""
_ROOM = 500_000_000


def _python() -> Check:
    well = sys.version_info >= (3, 11)
    return Check("Python", well, sys.version.split()[0], "Install Python 3.11 or newer and set the course up again.")


def _packages() -> Check:
    """Look for each package that this course says it needs, hold its version against that, and import it."""
    found = [(need, _trouble(need)) for need in requirements()]
    bad = [f"{need.name} ({trouble})" for need, trouble in found if trouble]
    said = ", ".join(bad) if bad else f"all {len(found)} there" if found else "the course is not installed here"
    cure = "Install the course again, with this Python: its packages come with it."
    return Check("Packages", bool(found) and not bad, said, cure)


def _trouble(need: Requirement) -> str:
    """Return what is wrong with one package; empty if nothing is."""
    try:
        there = distribution(need.name)
    except PackageNotFoundError:
        return "missing"
    if not need.specifier.contains(there.version, prereleases=True):
        return f"version {there.version}; {need.specifier} is needed"
    with suppress(Exception):  # a broken package may raise anything when it is imported
        for name in _modules(there):
            import_module(name)
        return ""
    return "cannot be imported"


def _modules(there: Distribution) -> list[str]:
    """Return the importable packages of a distribution that carry its own name, or all if none does."""
    inits = [path.parts[0] for path in there.files or [] if len(path.parts) == 2 and path.name == "__init__.py"]
    named = [name for name in inits if canonicalize_name(name) == canonicalize_name(there.name)]
    return sorted({name for name in named or inits if name.isidentifier() and name != "tests"})


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

    wanted = {"@jupyter-widgets/jupyterlab-manager", "anywidget"}
    off: set[str] = set()
    for place in map(Path, jupyter_path("labextensions")):
        wanted -= {name for name in wanted if (place / name / "package.json").is_file()}
    for place in map(Path, jupyter_path()):
        off |= _switched_off(place.parent.parent / "etc" / "jupyter" / "labconfig" / "page_config.json")
    bad = sorted(wanted) + sorted(name for name in off if "widget" in name)
    found = f"missing or switched off: {', '.join(bad)}" if bad else "on"
    return Check("Widgets in JupyterLab", not bad, found, "Run “pip install --force-reinstall anywidget ipywidgets”.")


def _switched_off(path: Path) -> set[str]:
    try:
        disabled = json.loads(path.read_text(encoding="utf-8")).get("disabledExtensions", {})
    except (OSError, ValueError, AttributeError):
        return set()
    return {name for name, off in disabled.items() if off} if isinstance(disabled, dict) else set()


_PROBE = """
import os, socket
reached = []
for name in ("legtoleg", "legtoleg.keys.reference"):
    try:
        __import__(name)
        reached.append("the marker")
    except ImportError:
        pass
for place in {places!r}:
    if os.path.isdir(place) and set(os.listdir(place)) - {{"__init__.py"}}:
        reached.append(place)
    elif os.path.isfile(place):
        reached.append(place)
try:
    socket.create_connection(("127.0.0.1", {port}), 1).close()
    reached.append("the network")
except OSError:
    pass
reached
"""
"""What a notebook in the jail tries; it shows what it reached, and must show an empty list."""


def _jail() -> Check:
    cure = (
        "On Debian and Ubuntu: “apt install bubblewrap”. Without it, do not grade hand-ins from people you do not know."
    )
    chosen = choose_engine(1)
    try:
        if chosen.warning:
            return Check("Jail for notebooks", False, f"none: notebooks run {chosen.how}", cure, must=False)
        shown = _shown_in_jail(chosen.engine)
    except (EngineError, LookupError, OSError) as error:
        return Check("Jail for notebooks", False, f"none ({str(error)[:200]})", cure, must=False)
    finally:
        chosen.engine.close()
    if shown != "[]":
        leak = "Do not grade hand-ins here: the jail does not hold. Tell whoever keeps the course."
        return Check("Jail for notebooks", False, f"a notebook reached {shown[:300]}", leak)
    found = f"tried: no marker, no solutions, no file of yours, no network; notebooks run {chosen.how}"
    return Check("Jail for notebooks", True, found)


def _shown_in_jail(engine: Engine) -> str:
    """Return what a notebook shows that tries to reach the marker, a file of the user's, and the network."""
    with socket.create_server(("127.0.0.1", 0)) as server, tempfile.NamedTemporaryFile() as secret:
        places = [*map(str, private_folders()), secret.name]
        probe = _PROBE.format(places=places, port=server.getsockname()[1])
        outputs = engine.run(Job("practice", "", (probe,))).outputs[0]
        data = outputs[0]["data"]
        return str(data["text/plain"]) if isinstance(data, dict) else "nothing"


def _chromium() -> Check:
    cure = "On Debian and Ubuntu: “apt install chromium”. Without it “workbook” makes HTML pages, and no PDF."
    try:
        chromium = find_chromium()
        with tempfile.TemporaryDirectory(prefix="leg-to-leg-") as folder:
            page = Path(folder, "page.html")
            page.write_text("<p>240 V</p>", encoding="utf-8")
            print_pdf(page, chromium)
    except (ChromiumMissingError, PrintingError) as error:
        return Check("Chromium, for PDFs", False, str(error).split(",", maxsplit=1)[0], cure, must=False)
    return Check("Chromium, for PDFs", True, f"printed a page: {chromium}")


def _zones() -> Check:
    try:
        ZoneInfo("America/Denver")
    except ZoneInfoNotFoundError:
        return Check("Time zones, for the refresher", False, "missing", "Run “pip install tzdata”.")
    return Check("Time zones, for the refresher", True, "there")


def _book(folder: Path) -> Check:
    """Write into the cohort's book and take it back; where there is no cohort yet, make a book and throw it away."""
    cure = "Close what else has the book open, and look at the rights of the folder and the database."
    try:
        address = _address(folder)
        if address:
            with Book(address) as book:
                book.try_writing()
            return Check("Grade book", True, "the cohort's own can be written")
        with (
            tempfile.TemporaryDirectory(prefix="leg-to-leg-", dir=_there(folder)) as place,
            Book(f"sqlite:///{Path(place, 'gradebook.db')}") as book,
        ):
            book.try_writing()
    except (OSError, BookError, ValueError, SyntaxError, ImportError, CalledProcessError) as error:
        return Check("Grade book", False, (str(error) or type(error).__name__).splitlines()[0][:200], cure)
    return Check("Grade book", True, "a new one can be made")


def _address(folder: Path) -> str:
    """Return the address of the book of the cohort in ``folder``; empty if there is none yet."""
    if not (folder / FILE).is_file():
        return ""
    address = Cohort(folder.resolve()).book
    file = make_url(address).database if address.startswith("sqlite") else None
    return "" if file and not Path(file).is_file() else address


def _there(folder: Path) -> Path:
    """Return ``folder``, or the nearest folder above it that is there."""
    return next(place for place in (folder.absolute(), *folder.absolute().parents) if place.exists())


def _settings(folder: Path) -> Check:
    if not (folder / FILE).is_file():
        return Check("Cohort", True, "none here yet")
    cohort = Cohort(folder.resolve())
    if is_old(folder):
        cure = f"Any command of ours fixes it: “legtoleg report {folder}”. Do that before nbgrader's own commands."
        return Check("Cohort", False, "its settings are of an older version of the course", cure, must=False)
    made = versions(folder)[0]
    return Check("Cohort", True, f"{len(cohort.lessons())} lessons, made with version {made or 'not noted'}")


def _write(folder: Path) -> Check:
    place = _there(folder)
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
    place = _there(folder)
    free = shutil.disk_usage(place).free
    return Check("Room on the disk", free > _ROOM, f"{free / 1e9:.1f} GB free", "Make room: 0.5 GB at least.")


def examine(folder: Path) -> Iterator[Check]:
    """Yield what is found on this computer and in ``folder``, the folder of a cohort, one check after the other."""
    here: tuple[Callable[[], Check], ...] = (_python, _packages, _kernel, _widgets)
    yield from (check() for check in here)
    yield from course_checks()
    yield from (check() for check in (_jail, _chromium, _zones))
    yield from (check(folder) for check in (_settings, _write, _book, _length, _room))
