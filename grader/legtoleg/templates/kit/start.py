"""Opens the lessons of this kit; the first time, fetches what they need into a folder of the kit's own."""

import importlib.util
import os
import re
import subprocess
import sys
import venv
from pathlib import Path

KIT = Path(__file__).resolve().parent
OWN = KIT / ".python"
LONGEST = 150  # Windows allows 260 characters; what is fetched needs about 110 below the kit's folder


def own_python() -> Path:
    """Return the Python in the kit's own folder."""
    return OWN / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def has_all() -> bool:
    """Tell whether this Python has everything that needs.txt names."""
    lines = (KIT / "needs.txt").read_text(encoding="utf-8").split()
    return all(importlib.util.find_spec(re.split(r"[^A-Za-z0-9_]", line)[0]) for line in lines)


def python_for_lessons() -> str:
    """Return a Python that has what the lessons need, made the first time."""
    if has_all():
        return sys.executable
    if not (OWN / "ready").is_file():
        print("Fetching what the lessons need. This happens once, needs the internet, and takes some minutes.")
        venv.create(OWN, with_pip=True, clear=True)
        subprocess.run([str(own_python()), "-m", "pip", "install", "-q", "-r", str(KIT / "needs.txt")], check=True)
        (OWN / "ready").write_text("ready\n")
    return str(own_python())


def main() -> int:
    """Open JupyterLab at the lessons and return its exit code."""
    if sys.version_info < (3, 11):
        print(f"This is Python {sys.version.split()[0]}. Install Python 3.11 or newer, then open this file again.")
        return 1
    if os.name == "nt" and len(str(KIT)) > LONGEST:
        print(f"The folder's name is too long for Windows. Move the folder {KIT.name} closer to the top of the disk.")
        return 1
    try:
        python = python_for_lessons()
    except (OSError, subprocess.CalledProcessError) as error:
        print(f"That did not work: {error}")
        print("Look whether the internet is there and the disk is not full, then open this file again.")
        return 1
    lessons = KIT / "lessons"
    paths = [str(lessons), *filter(None, [os.environ.get("PYTHONPATH")])]
    quiet = "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"
    first = "--LabApp.default_url=/lab/tree/00_start/00_start.ipynb"
    command = [python, "-m", "jupyterlab", f"--ServerApp.root_dir={lessons}", first, quiet, *sys.argv[1:]]
    print("The lessons open in your browser. Leave this window open while you work; close it when you are done.")
    settings = {"PYTHONPATH": os.pathsep.join(paths), "JUPYTERLAB_SETTINGS_DIR": str(KIT / "lab-settings")}
    return subprocess.run(command, check=False, env={**os.environ, **settings}).returncode


if __name__ == "__main__":
    sys.exit(main())
