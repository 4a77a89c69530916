"""A kit: what an apprentice gets. The lessons, ``dryerbench``, the tables, a start file, and the mark whose it is.

The mark says which version of the course made the kit, too.
"""

from __future__ import annotations

import json
import time
import zipfile
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import dryerbench
from dryerbench.core.identity import MARK, TRIES, checked_id
from dryerbench.core.version import DISTRIBUTION, FIELD, course_version
from legtoleg.core.lab_settings import SETTINGS
from legtoleg.core.notebook_format import MARK_KEY
from legtoleg.core.paths import START, TEMPLATES, course_folder

_LEFT_OUT = ("__pycache__", ".ipynb_checkpoints", "progress.json", "progress.json.new", "signed_off.json", TRIES)
TOP = "leg-to-leg"
"""The folder that a kit unpacks to."""

NEEDS = (
    "anywidget",
    "fluids",
    "ipympl",
    "ipywidgets",
    "jupyterlab",
    "matplotlib",
    "numpy",
    "pint",
    "psychrolib",
    "scipy",
    "traitlets",
)
"""The packages that the lessons use; their versions are those of this course."""

START_FILES = {"start-windows.bat": 0o644, "start-mac.command": 0o755, "start-linux.sh": 0o755, "start.py": 0o644}
"""The files that open a kit, and their rights; ``start.py`` does the work for all three."""


_START_PAGE = f"{START}/{START}.ipynb"


def kit_files() -> Iterator[tuple[Path, str]]:
    """Yield each file of a kit that comes from the course as it is, and its name inside the kit."""
    lessons = course_folder("lessons")
    yield from _files(lessons, "lessons")
    if not (lessons / "dryerbench").is_dir():  # an installed course: the package stands elsewhere, its tables in it
        yield from _files(Path(dryerbench.__file__).resolve().parent, "lessons/dryerbench", "datasets")
    yield from _files(course_folder("datasets"), "datasets")


def _files(folder: Path, name: str, *but: str) -> Iterator[tuple[Path, str]]:
    for path in sorted(folder.rglob("*")):
        inside = path.relative_to(folder)
        if path.is_file() and inside.parts[0] not in but and not set(inside.parts) & {*_LEFT_OUT}:
            yield path, f"{TOP}/{name}/{inside.as_posix()}"


def needs() -> list[str]:
    """Return what a kit's Python has to have, as lines of a requirements file, with this course's versions."""
    wanted = {canonicalize_name(need.name): str(need) for need in requirements()}
    return [wanted.get(canonicalize_name(name), name) for name in NEEDS]


def requirements() -> list[Requirement]:
    """Return the packages that this course itself needs on this computer, without its extras."""
    try:
        listed = [Requirement(line) for line in requires(DISTRIBUTION) or []]
    except PackageNotFoundError:  # a checkout that is run without being installed
        return []
    return [need for need in listed if need.marker is None or need.marker.evaluate({"extra": ""})]


def stamped(path: Path, apprentice: str) -> str:
    """Return a lesson's notebook as text, with whose it is, which lesson and of which course in its metadata."""
    notebook = json.loads(path.read_text(encoding="utf-8"))
    notebook["metadata"][MARK_KEY] = {"apprentice": apprentice, "lesson": path.stem, FIELD: course_version()}
    return json.dumps(notebook, ensure_ascii=False, indent=1) + "\n"


def kit_name(apprentice: str) -> str:
    """Return the file name of the kit of ``apprentice``."""
    return f"leg-to-leg-{apprentice}.zip"


def put(parcel: zipfile.ZipFile, name: str, text: str, mode: int = 0o644) -> None:
    """Put ``text`` into ``parcel`` as the file ``name``, with today's date and the rights ``mode``."""
    about = zipfile.ZipInfo(name, time.localtime()[:6])
    about.external_attr = mode << 16
    about.compress_type = zipfile.ZIP_DEFLATED
    parcel.writestr(about, text)


def start_texts(mark: str, page: str) -> Iterator[tuple[str, str, int]]:
    """Yield name, text and rights of what opens ``page`` for a person without Python, with ``mark`` as whose it is."""
    yield MARK, json.dumps({"apprentice": mark, FIELD: course_version()}, indent=2) + "\n", 0o644
    yield "needs.txt", "\n".join(needs()) + "\n", 0o644
    for name, values in SETTINGS.items():
        yield f"lab-settings/@jupyterlab/{name}.jupyterlab-settings", json.dumps(values, indent=2) + "\n", 0o644
    for name, mode in START_FILES.items():
        text = (TEMPLATES / "kit" / name).read_text(encoding="utf-8").replace(_START_PAGE, page)
        yield name, text.replace("\n", "\r\n") if name.endswith(".bat") else text, mode


def pack(apprentice: str, out: Path) -> Path:
    """Write the kit of ``apprentice`` into the folder ``out`` and return its path.

    Raises
    ------
    KitError
        If ``apprentice`` cannot be an id.
    """
    mark = checked_id(apprentice)
    out.mkdir(parents=True, exist_ok=True)
    path = out / kit_name(apprentice)
    part = path.with_suffix(".part")
    with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as kit:
        for name, text, mode in start_texts(mark, _START_PAGE):
            put(kit, f"{TOP}/{name}", text, mode)
        for source, name in kit_files():
            if source.suffix == ".ipynb":
                put(kit, name, stamped(source, apprentice))
            else:
                kit.write(source, name)
    part.replace(path)
    return path
