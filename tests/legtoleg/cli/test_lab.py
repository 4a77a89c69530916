"""JupyterLab at the lessons, as an apprentice has it: a real server, a real browser."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest

from legtoleg.cli.lab import lab_environment
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.core.paths import ROOT

LESSON = "03_heater_power"
PATIENCE = 120_000
"""Milliseconds; a busy machine takes its time."""


@pytest.mark.slow
@pytest.mark.browser
@pytest.mark.filterwarnings("ignore::sqlalchemy.exc.SAWarning")
def test_an_instructor_sees_the_cohort_in_the_formgrader(page, serve, tmp_path: Path) -> None:
    cohort = Cohort.make(tmp_path / "cohort", [LESSON])
    path = cohort.submitted("demo-01", LESSON)
    path.parent.mkdir(parents=True)
    shutil.copy(ROOT / "lessons" / LESSON / f"{LESSON}.ipynb", path)
    cohort.run("autograde", LESSON, "demo-01")
    command = [sys.executable, "-m", "jupyterlab", f"--ServerApp.root_dir={cohort.folder}"]
    environment = {**os.environ, "JUPYTERLAB_SETTINGS_DIR": lab_environment(tmp_path)["JUPYTERLAB_SETTINGS_DIR"]}
    with serve(command, environment, tmp_path / "log", cohort.folder) as address:
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
