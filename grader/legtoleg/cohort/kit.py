"""A kit: what an apprentice gets. The lessons, ``dryerbench``, the tables, a start file, and the mark whose it is.

The mark says which version of the course made the kit, too.
"""

from __future__ import annotations

import json
import re
import time
import unicodedata
import zipfile
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import dryerbench
from dryerbench.core.identity import MARK, OWN, checked_id
from dryerbench.core.version import DISTRIBUTION, FIELD, course_version
from legtoleg.core.lab_settings import FIRST_VIEW, FIRST_VIEW_FILE, SETTINGS, WORKSPACES
from legtoleg.core.notebook_format import MARK_KEY
from legtoleg.core.outside_words import plain_words
from legtoleg.core.paths import START, TEMPLATES, course_folder
from legtoleg.intake.inbox import READ_ME_FILE

_LEFT_OUT = ("__pycache__", ".ipynb_checkpoints", *OWN)
TOP = "leg-to-leg"
"""How the folder begins that a kit unpacks to; whose it is follows."""

NEEDS = (
    "anywidget",
    "fluids",
    "fsrs",
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


_LONGEST_OF_A_PERSON = 120
LONGEST_NAME = 80
"""Letters of a kit's folder name, so that what is in it stays under the 260 that Windows allows."""

READ_ME = """This is the kit of {whose}. Leg to Leg, course version {course}.
If that is not you, give it back: the dryers in it are dealt to one person.

1. Unpack the zip first, all of it (Windows: right-click it, "Extract All").
2. Open the folder that came out of it, and in it this file, by a double-click:
      Windows   start-windows.bat
      Mac       start-mac.command   (if the Mac refuses: right-click it, then Open)
      Linux     start-linux.sh      (or in a terminal: sh start-linux.sh)
   It needs Python 3.11 or newer. If that is missing, it says so.
3. The first time it gets what the lessons need. That needs the internet and takes some minutes. It shows how far
   it is. Other kits and tests on the same computer use the same, and get nothing more.
4. The lessons open in your browser, at the start page. Leave the black window open while you work.
5. To stop, close the browser tab, then the black window. What you did is kept in this folder.
   To come back, double-click the same start file, and open the lesson.

Nothing you type leaves this computer. To hand in, press "Hand in this page" at the end of a lesson. It makes a file.
Give your instructor that file, or this folder as a zip.

House voltage kills. This course is training, not a license.
"""

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
            yield path, f"{name}/{inside.as_posix()}"


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


def kit_top(apprentice: str, name: str = "") -> str:
    """Return the folder that the kit of ``apprentice``, called ``name``, unpacks to: it tells one kit from another."""
    letters = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii")
    return "-".join([TOP, apprentice, *re.findall(r"[A-Za-z0-9]+", letters)])[:LONGEST_NAME].rstrip("-.")


def kit_name(apprentice: str, name: str = "") -> str:
    """Return the file name of the kit of ``apprentice``, called ``name``."""
    return f"{kit_top(apprentice, name)}.zip"


def _read_me(apprentice: str, name: str, course: str) -> str:
    whose = f"{name} ({apprentice})" if name else apprentice
    return READ_ME.format(whose=whose, course=course).replace("\n", "\r\n")


def _mark(apprentice: str, name: str) -> str:
    """Return the text of a kit's mark; lessons go by the id in it, and the start page may show the name."""
    named = {"name": name} if name else {}
    return json.dumps({"apprentice": apprentice, **named, FIELD: course_version()}, ensure_ascii=False, indent=2) + "\n"


def put(parcel: zipfile.ZipFile, name: str, text: str, mode: int = 0o644) -> None:
    """Put ``text`` into ``parcel`` as the file ``name``, with today's date and the rights ``mode``."""
    about = zipfile.ZipInfo(name, time.localtime()[:6])
    about.external_attr = mode << 16
    about.compress_type = zipfile.ZIP_DEFLATED
    parcel.writestr(about, text)


def start_texts(mark: str, page: str, name: str = "") -> Iterator[tuple[str, str, int]]:
    """Yield name, text and rights of what opens ``page`` for a person without Python.

    ``mark`` is whose it is, called ``name``.
    """
    yield MARK, _mark(mark, name), 0o644
    yield "needs.txt", "\n".join(needs()) + "\n", 0o644
    for setting, values in SETTINGS.items():
        yield f"lab-settings/@jupyterlab/{setting}.jupyterlab-settings", json.dumps(values, indent=2) + "\n", 0o644
    yield f"lab-settings/{WORKSPACES}/{FIRST_VIEW_FILE}", json.dumps(FIRST_VIEW) + "\n", 0o644
    for file, mode in START_FILES.items():
        text = (TEMPLATES / "kit" / file).read_text(encoding="utf-8").replace(_START_PAGE, page)
        yield file, text.replace("\n", "\r\n") if file.endswith(".bat") else text, mode


def pack(apprentice: str, out: Path, name: str = "") -> Path:
    """Write the kit of ``apprentice``, called ``name``, into the folder ``out`` and return its path.

    Raises
    ------
    KitError
        If ``apprentice`` cannot be an id.
    """
    mark, name = checked_id(apprentice), plain_words(name, _LONGEST_OF_A_PERSON)
    out.mkdir(parents=True, exist_ok=True)
    path, top = out / kit_name(apprentice, name), kit_top(apprentice, name)
    part = path.with_suffix(".part")
    with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as kit:
        put(kit, f"{top}/{READ_ME_FILE}", _read_me(apprentice, name, course_version()))
        for inside, text, mode in start_texts(mark, _START_PAGE, name):
            put(kit, f"{top}/{inside}", text, mode)
        for source, inside in kit_files():
            if source.suffix == ".ipynb":
                put(kit, f"{top}/{inside}", stamped(source, apprentice))
            else:
                kit.write(source, f"{top}/{inside}")
    part.replace(path)
    return path
