"""A kit: marked with whose it is, enough to work with, and nothing of the marker's in it."""

from __future__ import annotations

import ast
import contextlib
import importlib.util
import json
import os
import re
import runpy
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
import zipfile
from concurrent.futures import ThreadPoolExecutor
from importlib.metadata import version
from pathlib import Path

import pytest

from dryerbench.core.errors import KitError
from dryerbench.registry import sheet
from legtoleg.authoring.building import released_notebook
from legtoleg.authoring.lesson_source import worked_source
from legtoleg.cohort import kit
from legtoleg.core import paths
from legtoleg.intake.inbox import READ_ME_FILE
from legtoleg.keys.answer_key import worked

LESSON = "03_heater_power"


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return kit.pack("demo-01", tmp_path_factory.mktemp("kits"))


def texts(path: Path) -> dict[str, str]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name).decode("utf-8", "replace") for name in archive.namelist()}


def test_it_knows_whose_it_is(packed: Path) -> None:
    assert json.loads(texts(packed)["leg-to-leg-demo-01/kit.json"]) == {
        "apprentice": "demo-01",
        "course": version("leg-to-leg"),
    }
    with pytest.raises(KitError):
        kit.pack("../evil", packed.parent)


def test_mark_and_read_me_say_by_name_whose_it_is(tmp_path: Path) -> None:
    inside = texts(kit.pack("eve-05", tmp_path, 'Eve "Núñez"\x1b[2J\r\n{course} Demo'))
    name = 'Eve "Núñez"[2J {course} Demo'
    (mark,) = (json.loads(text) for path, text in inside.items() if path.endswith("/kit.json"))
    assert mark == {"apprentice": "eve-05", "name": name, "course": version("leg-to-leg")}
    (read_me,) = (text for path, text in inside.items() if path.endswith(READ_ME_FILE))
    assert read_me.startswith(f"This is the kit of {name} (eve-05). Leg to Leg, course version ")
    assert "\x1b" not in "".join([read_me, *inside])


def test_only_lessons_and_tables_are_in_it(packed: Path) -> None:
    rooms_inside = {name.split("/")[1] for name in texts(packed)}
    starts = {*kit.START_FILES, READ_ME_FILE, "needs.txt", "lab-settings"}
    assert rooms_inside == {"kit.json", "lessons", "datasets", *starts}
    assert not [name for name in texts(packed) if "solution" in name or "grader" in name or "__pycache__" in name]


def test_no_worked_answer_and_no_reference_number_is_in_it(packed: Path) -> None:
    everything = "\n".join(texts(packed).values())
    card = sheet(LESSON).card("demo-01")
    for question, number in worked(LESSON, card).items():
        assert worked_source(LESSON, question) not in everything
        if number % 1:
            assert f"{number:.6g}" not in everything
    assert "BEGIN SOLUTION" not in everything
    assert "REFERENCES" not in everything


def test_a_canary_in_every_source_of_the_marker_does_not_get_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    canary = "canary-5b1f"
    for name in ("lessons", "datasets", "solutions", "grader"):
        shutil.copytree(paths.course_folder(name), tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    for path in (tmp_path / "grader").rglob("*.py"):
        path.write_text(path.read_text(encoding="utf-8") + f"\n# {canary}\n", encoding="utf-8")
    for path in (tmp_path / "solutions").glob("*.md"):
        text = path.read_text(encoding="utf-8")
        marked = re.sub(r"(:question: \w+\n)", rf"\1# {canary}\n", text)
        assert marked.count(canary) == text.count(":question: ") >= (0 if path.stem == paths.START else 7)
        path.write_text(marked, encoding="utf-8")
    monkeypatch.setattr(paths, "ROOT", tmp_path)
    built = tmp_path / "lessons" / LESSON / f"{LESSON}.ipynb"
    from legtoleg.authoring.building import as_text

    built.write_text(as_text(released_notebook(LESSON)), encoding="utf-8")
    assert canary not in "\n".join(texts(kit.pack("demo-01", tmp_path)).values())


def test_an_unpacked_kit_deals_its_own_machine(packed: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path)
    lessons = tmp_path / "leg-to-leg-demo-01" / "lessons"
    code = (
        f"from dryerbench import job_card; import dryerbench; print(dryerbench.__file__); print(job_card({LESSON!r}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        check=True,
        capture_output=True,
        text=True,
        cwd=lessons / LESSON,
        env={"PYTHONPATH": str(lessons), "PATH": ""},
    )
    assert str(lessons) in done.stdout
    assert "The dryer of demo-01" in done.stdout


def test_an_unpacked_kit_says_its_own_version_whatever_is_installed(packed: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path)
    top = tmp_path / "leg-to-leg-demo-01"
    code = (
        f"from dryerbench import hand_in, job_card; job_card({LESSON!r}); "
        "from dryerbench.notebook.answer_record import answer_record; from dryerbench.answers.parser import read; "
        "print(answer_record('q', 'a', read('8.9 A'))['course'])"
    )

    def says() -> str:
        command = [sys.executable, "-c", code]
        environment = {"PYTHONPATH": str(top / "lessons"), "PATH": ""}
        done = subprocess.run(
            command, check=True, capture_output=True, text=True, cwd=top / "lessons" / LESSON, env=environment
        )
        return done.stdout.splitlines()[-1]

    assert says() == version("leg-to-leg")
    (top / "kit.json").write_text('{"apprentice": "demo-01", "course": "9.8.7"}', encoding="utf-8")
    assert says() == "9.8.7"
    (top / "kit.json").write_text('{"apprentice": "demo-01"}', encoding="utf-8")  # a kit from before it was kept
    assert says() == version("leg-to-leg")


def test_a_start_file_for_each_system_and_what_it_needs(packed: Path) -> None:
    with zipfile.ZipFile(packed) as archive:
        rights = {one.filename: one.external_attr >> 16 for one in archive.infolist()}
        windows = archive.read("leg-to-leg-demo-01/start-windows.bat")
        needed = archive.read("leg-to-leg-demo-01/needs.txt").decode().split()
    assert rights["leg-to-leg-demo-01/start-linux.sh"] & 0o111
    assert rights["leg-to-leg-demo-01/start-mac.command"] & 0o111
    assert windows.count(b"\r\n") == windows.count(b"\n") > 5
    assert {line.split(">")[0] for line in needed} == set(kit.NEEDS)
    assert all(">=" in line for line in needed)


def test_a_start_file_misses_each_package_that_is_not_there(
    packed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path)
    start = runpy.run_path(str(tmp_path / "leg-to-leg-demo-01" / "start.py"), run_name="start")
    assert start["has_all"]()
    there = importlib.util.find_spec
    for missing in kit.NEEDS:
        monkeypatch.setattr(
            importlib.util, "find_spec", lambda name, gone=missing: None if name == gone else there(name)
        )
        assert not start["has_all"](), missing


def test_the_lessons_import_nothing_that_a_kit_does_not_name() -> None:
    found = set()
    for path in (paths.course_folder("lessons") / "dryerbench").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {name.name.split(".")[0] for name in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.split(".")[0])
    outside = found - sys.stdlib_module_names - {"dryerbench"}
    # IPython comes with jupyterlab, PIL with matplotlib, which writes its pictures by it.
    assert outside <= {*kit.NEEDS, "IPython", "PIL"}, outside


def test_each_notebook_is_stamped_with_whose_it_is(packed: Path) -> None:
    inside = json.loads(texts(packed)[f"leg-to-leg-demo-01/lessons/{LESSON}/{LESSON}.ipynb"])
    assert inside["metadata"]["leg_to_leg"] == {
        "apprentice": "demo-01",
        "lesson": LESSON,
        "course": version("leg-to-leg"),
    }
    built = json.loads((paths.course_folder("lessons") / LESSON / f"{LESSON}.ipynb").read_text(encoding="utf-8"))
    assert inside["cells"] == built["cells"]


def test_forty_kits_can_be_told_apart(tmp_path: Path) -> None:
    for name, wanted in (
        ("Ann O’Lee", "leg-to-leg-7-Ann-OLee"),
        ("Zoë Ünal", "leg-to-leg-7-Zoe-Unal"),
        ("李", "leg-to-leg-7"),
        ("x" * 300, f"leg-to-leg-7-{'x' * 67}"),
    ):
        assert kit.kit_top("7", name) == wanted
    made = kit.pack("7", tmp_path, "Ann Lee")
    assert made.name == "leg-to-leg-7-Ann-Lee.zip"
    inside = texts(made)
    assert {name.split("/")[0] for name in inside} == {"leg-to-leg-7-Ann-Lee"}
    said = inside[f"leg-to-leg-7-Ann-Lee/{READ_ME_FILE}"]
    assert said.startswith(f"This is the kit of Ann Lee (7). Leg to Leg, course version {version('leg-to-leg')}.")
    assert all(name in said for name in kit.START_FILES if name != "start.py")


@pytest.fixture
def start(packed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, object]:
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    return runpy.run_path(str(tmp_path / "leg-to-leg-demo-01" / "start.py"), run_name="start")


def test_kits_of_one_computer_share_what_was_fetched(
    start: dict[str, object], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fetched = []

    def fetch(own: Path) -> None:
        own.mkdir(parents=True)
        fetched.append(own)

    inside = start["python_for_lessons"].__globals__
    monkeypatch.setitem(inside, "has_all", lambda: False)
    monkeypatch.setitem(inside, "fetch", fetch)
    first = start["python_for_lessons"]()
    assert start["python_for_lessons"]() == first
    assert len(fetched) == 1
    assert tmp_path / "leg-to-leg-demo-01" not in fetched[0].parents, "it is outside of the kit"
    needs = tmp_path / "leg-to-leg-demo-01" / "needs.txt"
    needs.write_text(needs.read_text() + "more\n")
    start["python_for_lessons"]()
    assert len(set(fetched)) == 2, "another list of needs is another folder"


def test_two_windows_fetch_once_and_one_that_was_closed_holds_nobody_up(
    start: dict[str, object], monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = start["python_for_lessons"].__globals__
    fetched, began, end = [], threading.Event(), threading.Event()

    def fetch(own: Path) -> None:
        fetched.append(own)
        began.set()
        assert end.wait(20)

    for name, value in (("has_all", lambda: False), ("fetch", fetch), ("BEAT_SECONDS", 0.02), ("LOCK_SECONDS", 0.5)):
        monkeypatch.setitem(inside, name, value)
    with ThreadPoolExecutor(2) as pool:
        windows = [pool.submit(start["python_for_lessons"]) for _ in range(2)]
        assert began.wait(20)
        time.sleep(1.2)  # longer than a lock without a sign of life holds
        end.set()
        assert len({one.result(timeout=20) for one in windows}) == 1
    assert len(fetched) == 1, "the second waited, although it took longer than a lock that shows nothing"
    ready = next(fetched[0].parent.glob("*.ready"))
    ready.unlink()
    lock = ready.with_suffix(".lock")
    for age in (-3600, 0, 3600):  # left behind by a window that was closed, and by a clock that was wrong
        lock.write_text("")
        os.utime(lock, (time.time() - age, time.time() - age))
        begun = time.monotonic()
        start["python_for_lessons"]()
        assert time.monotonic() - begun < 10
        assert ready.is_file()
        assert not lock.exists()
        ready.unlink()


def test_a_fetch_that_failed_is_not_taken_for_ready(start: dict[str, object], monkeypatch: pytest.MonkeyPatch) -> None:
    def fetch(own: Path) -> None:
        own.mkdir(parents=True, exist_ok=True)
        raise OSError("no internet")

    inside = start["python_for_lessons"].__globals__
    monkeypatch.setitem(inside, "has_all", lambda: False)
    monkeypatch.setitem(inside, "fetch", fetch)
    for _ in range(2):
        with pytest.raises(OSError, match="no internet"):
            start["python_for_lessons"]()


@pytest.mark.slow
@pytest.mark.server
def test_the_start_file_opens_the_lessons(packed: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path)
    top = tmp_path / "leg-to-leg-demo-01"
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    options = ["--no-browser", f"--port={port}", "--ServerApp.port_retries=0", "--ServerApp.token=t", "--allow-root"]
    started = subprocess.Popen([sys.executable, str(top / "start.py"), *options], start_new_session=True)
    try:
        address = f"http://127.0.0.1:{port}/api/contents/{LESSON}/{LESSON}.ipynb?token=t"
        for _ in range(240):
            with contextlib.suppress(OSError), urllib.request.urlopen(address, timeout=5) as answer:
                assert json.load(answer)["content"]["metadata"]["leg_to_leg"]["apprentice"] == "demo-01"
                break
            time.sleep(0.25)
        else:
            pytest.fail("JupyterLab did not open")
    finally:
        os.killpg(started.pid, signal.SIGTERM)
        started.wait(20)
