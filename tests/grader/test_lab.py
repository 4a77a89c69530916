"""JupyterLab at the lessons, as an apprentice has it: a real server, a real browser."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from grader.cohorts import Cohort
from grader.lab import lab_command, lab_environment
from grader.rooms import ROOT

LESSON = "03_heater_power"
PATIENCE = 120_000
"""Milliseconds; a busy machine takes its time."""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def server(command: list[str], environment: dict[str, str], log: Path, port: int, where: Path) -> Iterator[str]:
    options = ["--no-browser", f"--port={port}", "--IdentityProvider.token=token", "--ServerApp.port_retries=0"]
    options += ["--allow-root"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with log.open("w") as out:
        process = subprocess.Popen([*command, *options], env=environment, stdout=out, stderr=out, cwd=where)
        try:
            address = f"http://localhost:{port}"
            _wait(address, process, log)
            yield address
        finally:
            process.terminate()
            process.wait(timeout=30)


def _wait(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(240):
        if process.poll() is not None:
            raise AssertionError(log.read_text()[-2000:])
        try:
            urllib.request.urlopen(f"{address}/api?token=token", timeout=5).close()
        except (urllib.error.URLError, OSError):
            time.sleep(0.25)
        else:
            return
    raise AssertionError("JupyterLab did not start: " + log.read_text()[-2000:])


@pytest.fixture
def page(chromium: str) -> Iterator:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]
        browser = playwright.chromium.launch(executable_path=chromium, args=options)
        yield browser.new_page(viewport={"width": 1400, "height": 1000})
        browser.close()


def copy_of_the_course(folder: Path) -> Path:
    for name in ("lessons", "datasets"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    (folder / "kit.json").write_text('{"apprentice": "demo-02"}', encoding="utf-8")
    return folder / "lessons"


@pytest.mark.slow
@pytest.mark.browser
def test_an_apprentice_opens_the_lesson_moves_a_slider_and_practises(page, tmp_path: Path) -> None:
    lessons = copy_of_the_course(tmp_path)
    environment = {**lab_environment(tmp_path), "PYTHONPATH": str(lessons)}
    with server(lab_command(lessons), environment, tmp_path / "log", free_port(), lessons) as address:
        page.goto(f"{address}/lab/tree/{LESSON}/{LESSON}.ipynb?token=token")
        page.wait_for_selector(".jp-Notebook-ExecutionIndicator[data-status='idle']", timeout=PATIENCE)
        page.get_by_role("menuitem", name="Run", exact=True).click()
        page.get_by_text("Run All Cells", exact=True).click()
        page.get_by_text("The machine of demo-02").first.wait_for(timeout=PATIENCE)
        canvas = page.locator(".jupyter-matplotlib-canvas-container").first
        canvas.wait_for(timeout=PATIENCE)
        page.wait_for_timeout(1500)
        before, said = canvas.screenshot(), page.get_by_text("240 V across 27.0 Ω").first
        assert said.is_visible()
        handle = page.locator(".noUi-handle").first
        handle.focus()
        for _ in range(20):
            handle.press("ArrowLeft")
        page.get_by_text("220 V across 27.0 Ω").first.wait_for(timeout=10_000)
        page.wait_for_timeout(500)
        assert canvas.screenshot() != before
        box = page.get_by_placeholder("number and unit").first
        box.scroll_into_view_if_needed()
        box.fill("9 V")
        box.press("Enter")
        page.get_by_text("V measures voltage").first.wait_for(timeout=10_000)
        assert page.locator("[data-mime-type='application/vnd.jupyter.stderr']").count() == 0
        assert page.get_by_text("Create Assignment").count() == 0
        assert page.get_by_text("Validate", exact=True).count() == 0


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
def test_an_instructor_sees_the_cohort_in_the_formgrader(page, tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path / "cohort", [LESSON])
    path = cohort.submitted("demo-01", LESSON)
    path.parent.mkdir(parents=True)
    shutil.copy(ROOT / "lessons" / LESSON / f"{LESSON}.ipynb", path)
    cohort.run("autograde", LESSON, "demo-01")
    command = [sys.executable, "-m", "jupyterlab", f"--ServerApp.root_dir={cohort.folder}"]
    environment = {**os.environ, "JUPYTERLAB_SETTINGS_DIR": lab_environment(tmp_path)["JUPYTERLAB_SETTINGS_DIR"]}
    with server(command, environment, tmp_path / "log", free_port(), cohort.folder) as address:
        page.goto(f"{address}/lab?token=token")
        page.wait_for_selector(".jp-Launcher, .jp-FileBrowser", timeout=PATIENCE)
        page.goto(f"{address}/formgrader?token=token")
        page.get_by_text(LESSON).first.wait_for(timeout=30_000)
        marks = page.request.get(f"{address}/formgrader/api/submissions/{LESSON}?token=token")
        assert marks.ok
        assert [(one["student"], one["autograded"], one["score"]) for one in marks.json()] == [("demo-01", True, 0.0)]


def test_settings_ask_for_no_news_and_no_updates(tmp_path: Path) -> None:
    environment = lab_environment(tmp_path)
    settings = Path(environment["JUPYTERLAB_SETTINGS_DIR"])
    text = "".join(path.read_text() for path in settings.rglob("*.jupyterlab-settings"))
    assert '"fetchNews": "false"' in text
    assert '"checkForUpdates": false' in text
    config = Path(environment["JUPYTER_CONFIG_PATH"].split(os.pathsep)[0])
    assert "@jupyter/nbgrader" in (config / "labconfig" / "page_config.json").read_text()
