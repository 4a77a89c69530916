"""Opens the lessons of this kit; the first time, fetches what they need, for all kits of this computer."""

import hashlib
import importlib.util
import os
import re
import subprocess
import sys
import threading
import time
import venv
from pathlib import Path

KIT = Path(__file__).resolve().parent
LONGEST = 150  # Windows allows 260 characters; what is fetched needs about 110 below its folder
BEAT_SECONDS = 5  # so often a window that fetches shows on the lock that it still does
LOCK_SECONDS = 60  # a lock that shows nothing for so long was left behind by a window that was closed


def data_folder() -> Path:
    """Return where this system keeps the data of a user's programs."""
    if os.name == "nt":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")


def own_folder() -> Path:
    """Return the folder of what is fetched: one for each list of needs and each Python, shared by all kits."""
    needs = (KIT / "needs.txt").read_bytes() + "{}.{}".format(*sys.version_info[:2]).encode()
    name = hashlib.sha256(needs).hexdigest()[:10]
    shared = data_folder() / "leg-to-leg"
    try:
        shared.mkdir(parents=True, exist_ok=True)
        if os.access(str(shared), os.W_OK):
            return shared / name
    except OSError:
        pass
    return KIT / ".python"


def python_in(own: Path) -> Path:
    """Return the Python in the folder ``own``."""
    return own / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def has_all() -> bool:
    """Tell whether this Python has everything that needs.txt names."""
    lines = (KIT / "needs.txt").read_text(encoding="utf-8").split()
    return all(importlib.util.find_spec(re.split(r"[^A-Za-z0-9_]", line)[0]) for line in lines)


def fetch(own: Path) -> None:
    """Make a Python in ``own`` with everything that needs.txt names, and show how far it is."""
    print("Getting what the lessons need. This happens once on this computer, and takes some minutes.", flush=True)
    begun = time.time()
    venv.create(str(own), with_pip=True, clear=True)
    # Nothing is compiled ahead: what is used is compiled when it is used, which saves time and a quarter of the room.
    command = [str(python_in(own)), "-m", "pip", "install", "--no-compile", "--disable-pip-version-check"]
    command += ["--progress-bar", "off", "-r", str(KIT / "needs.txt")]
    said: list[str] = []
    count = 0
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, universal_newlines=True) as pip:
        for line in pip.stdout or ():
            said = [*said[-5:], line.strip()]
            found = re.match(r"\s*Collecting ([A-Za-z0-9._-]+)", line)
            if found:
                count += 1
                print(f"  {time.time() - begun:4.0f} s  {count:3}  {found.group(1)}", flush=True)
            elif line.startswith("Installing"):
                print(f"  {time.time() - begun:4.0f} s  all {count} are here; putting them in place", flush=True)
    if pip.returncode:
        raise OSError("; ".join(said)[-400:])
    print(f"Done in {time.time() - begun:.0f} seconds.", flush=True)


def age(lock: Path) -> float:
    """Return for how many seconds nobody has shown a sign of life on ``lock``; more than any if it is not there."""
    try:
        return abs(time.time() - lock.stat().st_mtime)
    except OSError:
        return float("inf")


def wait_for(lock: Path) -> None:
    """Wait while another window fetches; a lock that was left behind is taken away."""
    if age(lock) < LOCK_SECONDS:
        print("Another window is getting it already. Waiting for it.", flush=True)
        print("If that window was closed, this one goes on by itself within a minute.", flush=True)
    while age(lock) < LOCK_SECONDS:
        time.sleep(1)
    lock.unlink(missing_ok=True)


def fetch_alone(own: Path, lock: Path) -> bool:
    """Fetch if no other window does, and tell whether it was done."""
    try:
        os.close(os.open(str(lock), os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        return False
    done = threading.Event()

    def beat() -> None:
        while not done.wait(BEAT_SECONDS):
            try:
                os.utime(str(lock))
            except OSError:  # taken away while this computer slept
                return

    beating = threading.Thread(target=beat, daemon=True)
    beating.start()
    try:
        fetch(own)
    finally:
        done.set()
        beating.join()
        lock.unlink(missing_ok=True)
    return True


def python_for_lessons() -> str:
    """Return a Python that has what the lessons need, made the first time."""
    if has_all():
        return sys.executable
    own = own_folder()
    if os.name == "nt" and len(str(own)) > LONGEST:
        raise OSError("the folder's name is too long for Windows: move the kit closer to the top of the disk")
    ready, lock = own.parent / (own.name + ".ready"), own.parent / (own.name + ".lock")
    while not ready.is_file():
        wait_for(lock)
        if not ready.is_file() and fetch_alone(own, lock):
            ready.write_text("ready\n")
    return str(python_in(own))


def main() -> int:
    """Open JupyterLab at the lessons and return its exit code."""
    if sys.version_info < (3, 11):
        print(f"This is Python {sys.version.split()[0]}. Install Python 3.11 or newer, then open this file again.")
        return 1
    try:
        python = python_for_lessons()
    except (OSError, subprocess.CalledProcessError) as error:
        print(f"That did not work: {error}")
        print("Check the internet connection, and that the disk is not full. Then open this file again.")
        return 1
    lessons = KIT / "lessons"
    paths = [str(lessons), *filter(None, [os.environ.get("PYTHONPATH")])]
    quiet = "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"
    first = "--LabApp.default_url=/lab/tree/00_start/00_start.ipynb?file-browser-path=/"
    command = [python, "-m", "jupyterlab", f"--ServerApp.root_dir={lessons}", first, quiet, *sys.argv[1:]]
    print("The lessons open in your browser. Leave this window open while you work; close it when you are done.")
    settings = {
        "PYTHONPATH": os.pathsep.join(paths),
        "JUPYTERLAB_SETTINGS_DIR": str(KIT / "lab-settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(KIT / "lab-settings" / "workspaces"),
    }
    return subprocess.run(command, check=False, env={**os.environ, **settings}).returncode


if __name__ == "__main__":
    sys.exit(main())
