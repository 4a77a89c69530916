"""The wheel: all that the command needs is in it, nothing else is, it works alone, and its jail hides the marker."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from email.parser import Parser
from importlib.metadata import version
from pathlib import Path

import pytest

from dryerbench.registry import SHEETS
from legtoleg.cohort import kit
from legtoleg.core.paths import ROOT, START

pytestmark = pytest.mark.slow
NAME = f"leg_to_leg-{version('leg-to-leg')}"
CALL = "import sys; from legtoleg.cli.command import main; sys.argv[0] = 'legtoleg'; main()"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a copy of what git would hand on, with some litter in it, as pip would."""
    if os.environ.get("CI") != "true":
        pytest.importorskip("hatchling")
    top = tmp_path_factory.mktemp("wheel")
    clone = top / "clone"
    litter = shutil.ignore_patterns(
        "__pycache__", ".venv", ".git", ".mypy_cache", ".pytest_cache", ".ruff_cache", "try"
    )
    shutil.copytree(ROOT, clone, ignore=litter)
    for place in ("lessons/dryerbench/core", "lessons/01_made_dead", "solutions", "datasets", "grader/legtoleg/core"):
        (clone / place / "__pycache__").mkdir()
        (clone / place / "__pycache__" / "old.cpython-311.pyc").write_bytes(b"old")
    (clone / "lessons" / "01_made_dead" / ".ipynb_checkpoints").mkdir()
    (clone / "lessons" / "01_made_dead" / ".ipynb_checkpoints" / "x.ipynb").write_text("{}", encoding="utf-8")
    (clone / "lessons" / "progress.json").write_text("{}", encoding="utf-8")
    for own in ("kept_work", "hand_in"):
        (clone / "lessons" / own).mkdir(exist_ok=True)
        (clone / "lessons" / own / "03_heater_power.jsonl").write_text("{}", encoding="utf-8")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-t", "sdist", "-d", str(top / "dist")]
    done = subprocess.run(build, check=False, capture_output=True, text=True, cwd=clone, timeout=300)
    assert done.returncode == 0, done.stdout + done.stderr
    return top / "dist" / f"{NAME}-py3-none-any.whl"


@pytest.fixture(scope="module")
def names(built: Path) -> set[str]:
    with zipfile.ZipFile(built) as wheel:
        return set(wheel.namelist())


def below(folder: Path, suffixes: tuple[str, ...] = ()) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and (not suffixes or path.suffix in suffixes)
    }


def test_everything_that_must_be_in_it_is(names: set[str]) -> None:
    lessons = {f"legtoleg/course/lessons/{name}/{name}.ipynb" for name in (START, *SHEETS)}
    sources = {f"legtoleg/course/solutions/{name}.md" for name in (START, *SHEETS)}
    texts = {f"legtoleg/course/lessons/{name}" for name in ("ANSWERS.md", "WORDS.md", "LICENSE.txt")}
    tables = {f"dryerbench/datasets/{name}" for name in below(ROOT / "datasets")}
    packages = {f"dryerbench/{name}" for name in below(ROOT / "lessons" / "dryerbench")}
    packages |= {f"legtoleg/{name}" for name in below(ROOT / "grader" / "legtoleg")}
    about = {f"{NAME}.dist-info/{name}" for name in ("METADATA", "WHEEL", "RECORD", "entry_points.txt")}
    about.add(f"{NAME}.dist-info/licenses/lessons/LICENSE.txt")
    assert names == lessons | sources | texts | tables | packages | about


def test_nothing_that_must_not_be_in_it_is(names: set[str]) -> None:
    odd = (
        "__pycache__",
        "tests/",
        ".ipynb_checkpoints",
        "progress.json",
        "signed_off.json",
        "kept_work",
        "lessons/hand_in",
        "course_files",
        "lessons/dryerbench",
    )
    assert [name for name in names if any(word in name for word in odd) or name.endswith(".pyc")] == []
    assert {name.split("/")[0] for name in names} == {"dryerbench", "legtoleg", f"{NAME}.dist-info"}


def test_what_it_says_of_itself(built: Path) -> None:
    with zipfile.ZipFile(built) as wheel:
        said = Parser().parsestr(wheel.read(f"{NAME}.dist-info/METADATA").decode("utf-8"))
    assert (said["Name"], said["Version"]) == ("leg-to-leg", version("leg-to-leg"))
    assert said["Author"] == "Leg to Leg contributors"
    assert said["License-Expression"] == "MIT AND CC-BY-4.0"
    assert said["License-File"] == "lessons/LICENSE.txt"
    assert said["Keywords"]
    assert "Framework :: Jupyter" in said.get_all("Classifier", [])
    assert said.get_all("Project-URL") is None


def test_a_source_distribution_can_build_the_same_wheel(built: Path, names: set[str], tmp_path: Path) -> None:
    with tarfile.open(built.parent / f"{NAME}.tar.gz") as sources:
        sources.extraction_filter = getattr(tarfile, "data_filter", None)  # Python before 3.11.4 has none
        sources.extractall(tmp_path)
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "again")]
    subprocess.run(build, check=True, capture_output=True, cwd=tmp_path / NAME, timeout=300)
    with zipfile.ZipFile(tmp_path / "again" / built.name) as wheel:
        assert set(wheel.namelist()) == names


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the wheel alone into a folder; what it needs comes from the Python that runs this test."""
    site = tmp_path_factory.mktemp("installed") / "site"
    pip = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", str(site), str(built)]
    done = subprocess.run(pip, check=False, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    return site


def legtoleg(site: Path, where: Path, *words: object) -> tuple[int, str]:
    environment = {**os.environ, "PYTHONPATH": str(site), "PYTHONDONTWRITEBYTECODE": "1", "HOME": str(where)}
    done = subprocess.run(
        [sys.executable, "-c", CALL, *map(str, words)],
        check=False, capture_output=True, text=True, timeout=300, cwd=where, env=environment,
    )  # fmt: skip
    assert "Traceback" not in done.stderr, done.stderr
    return done.returncode, done.stdout + done.stderr


def test_it_is_not_the_clone_that_runs(installed: Path, tmp_path: Path) -> None:
    code = "import dryerbench, legtoleg; print(dryerbench.__file__); print(legtoleg.__file__)"
    environment = {**os.environ, "PYTHONPATH": str(installed)}
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, check=True, capture_output=True, text=True, cwd=tmp_path, env=environment)
    assert [Path(line).is_relative_to(installed) for line in done.stdout.splitlines()] == [True, True]


def test_it_works_outside_the_clone(installed: Path, tmp_path: Path) -> None:
    assert legtoleg(installed, tmp_path, "--version")[1].startswith(f"Leg to Leg {version('leg-to-leg')}, Python ")
    code, said = legtoleg(installed, tmp_path, "doctor")
    lines = said.splitlines()
    assert code == 0, said
    assert "✓ Lessons: all 11 there" in lines
    assert [line.split(":")[0] for line in lines if line.startswith("! ")][:1] == ["! Checkout"]
    code, said = legtoleg(installed, tmp_path, "netlist", "--state", "heating")
    assert (code, ".end" in said.lower()) == (0, True)
    for words in (["build"], ["build", "--check"]):
        code, said = legtoleg(installed, tmp_path, *words)
        assert (code, len(said.splitlines())) == (2, 1)
        assert "needs a checkout of the course" in said


def test_its_kit_is_the_clones_kit(installed: Path, tmp_path: Path) -> None:
    code, said = legtoleg(installed, tmp_path, "kit", "ada-01", "--out", tmp_path / "theirs")
    assert code == 0, said
    ours, theirs = kit.pack("ada-01", tmp_path), tmp_path / "theirs" / kit.kit_name("ada-01")
    with zipfile.ZipFile(ours) as one, zipfile.ZipFile(theirs) as other:
        assert sorted(one.namelist()) == sorted(other.namelist())
        assert [name for name in one.namelist() if one.read(name) != other.read(name)] == []
        assert json.loads(other.read("leg-to-leg-ada-01/kit.json")) == {
            "apprentice": "ada-01",
            "course": version("leg-to-leg"),
        }


PIECES = {
    "legtoleg/course/lessons": "Lessons",
    "legtoleg/course/solutions/03_heater_power.md": "Sources of the lessons",
    "dryerbench/datasets/faults.csv": "",
}
"""Pieces, and which check names each; empty where the command itself cannot start without it, and ends in an error."""


@pytest.mark.parametrize("piece", PIECES)
def test_a_wheel_with_a_piece_gone_is_never_well(installed: Path, tmp_path: Path, piece: str) -> None:
    site = tmp_path / "site"
    shutil.copytree(installed, site)
    shutil.rmtree(site / piece) if (site / piece).is_dir() else (site / piece).unlink()
    environment = {**os.environ, "PYTHONPATH": str(site), "HOME": str(tmp_path)}
    command = [sys.executable, "-c", CALL, "doctor"]
    done = subprocess.run(
        command, check=False, capture_output=True, text=True, timeout=300, cwd=tmp_path, env=environment
    )
    assert done.returncode != 0, done.stdout
    assert f"! {PIECES[piece]}" in done.stdout or not PIECES[piece]


REACH = """
import importlib, json, os, sys
reached = []
for name in ("legtoleg", "legtoleg.keys.reference", "legtoleg.keys.heater_power", "legtoleg.core.paths"):
    try:
        importlib.import_module(name)
        reached.append(name)
    except ImportError:
        pass
for folder, _, files in os.walk(sys.argv[1]):
    for name in files:
        with open(os.path.join(folder, name), "rb") as file:
            if b"The marker is not in here" not in file.read():
                reached.append(name)
import dryerbench.core.tables
print(json.dumps({"rows": len(dryerbench.core.tables.table("faults").rows), "reached": reached}))
"""
"""What a notebook tries in the jail of an installed course: to import the marker, and to read any file of it."""

ASK = """
import json, sys
from pathlib import Path
from legtoleg.sandbox import jail
kind, shared = sys.argv[1:]
words = jail.jail_command([], Path(shared), {}) if kind == "kernel" else jail.worker_command(9, 900)
print(json.dumps(words[: words.index("--") + 1]))
"""
"""Prints the beginning of a jail's command, as the installed course itself makes it."""


@pytest.fixture(scope="module")
def own_python(built: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Make an environment with the wheel in it; return its Python and where the marker lies there."""
    folder = tmp_path_factory.mktemp("own") / "python"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True, timeout=300)
    python = folder / "bin" / "python"
    code = "import sysconfig; print(sysconfig.get_paths()['purelib'])"
    site = subprocess.run([str(python), "-c", code], check=True, capture_output=True, text=True).stdout.strip()
    pip = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", site, str(built)]
    subprocess.run(pip, check=True, capture_output=True, timeout=300)
    return python, Path(site) / "legtoleg"


def opened(command: list[str], place: str) -> list[str]:
    """Return a jail's command without what hides the marker at ``place``."""
    at = command.index(place)
    assert command[at - 1] == "--tmpfs"
    return [*command[: at - 3], *command[at + 6 :]]


@pytest.mark.jail
@pytest.mark.parametrize("kind", ["kernel", "warm parent"])
def test_a_notebook_in_its_jail_reaches_nothing_of_the_marker(
    bubblewrap: None, own_python: tuple[Path, Path], tmp_path: Path, kind: str
) -> None:
    python, marker = own_python
    assert (marker / "course" / "solutions" / "03_heater_power.md").is_file()
    environment = {"PATH": os.environ["PATH"], "PYTHONDONTWRITEBYTECODE": "1"}
    asked = [str(python), "-c", ASK, kind, str(tmp_path)]
    said = subprocess.run(asked, check=True, capture_output=True, text=True, env=environment, cwd=tmp_path)
    jail = json.loads(said.stdout)

    def tried(words: list[str]) -> dict[str, object]:
        command = [*words, str(python), "-c", REACH, str(marker)]
        done = subprocess.run(command, check=False, capture_output=True, text=True, timeout=60)
        assert done.returncode == 0, done.stderr
        result: dict[str, object] = json.loads(done.stdout)
        return result

    shut = tried(jail)
    assert shut["reached"] == []
    assert shut["rows"], "dryerbench and its tables have to be there"
    control = tried(opened(jail, str(marker)))["reached"]
    assert isinstance(control, list)
    assert {"legtoleg", "legtoleg.core.paths", "reference.py", "03_heater_power.md"} <= {*control}
