"""JupyterLab at the lessons, as an apprentice has it: a real server, a real browser."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest
from jupyterlab_server.workspaces_handler import WorkspacesManager

from dryerbench.notebook import progress
from legtoleg.cli import lab
from legtoleg.cli.lab import LabError, lab_environment, lessons_to_open
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.core.lab_settings import FIRST_VIEW
from legtoleg.core.paths import ROOT, START

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


def test_the_window_as_somebody_left_it_is_never_written_over(tmp_path: Path) -> None:
    folder = Path(lab_environment(tmp_path)["JUPYTERLAB_WORKSPACES_DIR"])
    first = WorkspacesManager(str(folder)).load("default")
    assert first["data"] == FIRST_VIEW["data"]
    (only,) = folder.iterdir()
    only.write_text("as I left it")
    lab_environment(tmp_path)
    assert only.read_text() == "as I left it"


@pytest.mark.slow
@pytest.mark.browser
def test_the_list_of_files_is_closed_at_first_and_opens_at_the_lessons(lab: Any) -> None:
    page = lab.page
    page.set_viewport_size({"width": 390, "height": 844})
    with lab.notebook(f"{START}/{START}.ipynb") as notebook:
        assert notebook.bounding_box()["width"] > 300
        assert not page.locator(".jp-FileBrowser").is_visible()
        page.keyboard.press("Control+b")
        page.locator(".jp-DirListing-item", has_text=LESSON).wait_for()
        page.keyboard.press("Control+b")


_CUT_ON_A_PHONE = """() => {
    const outer = document.querySelector(".jp-NotebookPanel:not(.lm-mod-hidden) .jp-WindowedPanel-outer");
    const right = outer.getBoundingClientRect().right;
    const all = [...outer.querySelectorAll(".widget-button, .jp-OutputArea-output table, .jp-OutputArea-output input")];
    const cut = (one) => one.scrollWidth > one.clientWidth + 1 || one.getBoundingClientRect().right > right;
    return all.filter((one) => one.clientWidth && cut(one)).map((one) => one.textContent.slice(0, 40));
}"""


@pytest.mark.slow
@pytest.mark.browser
def test_on_a_phone_no_button_is_squeezed_and_no_number_of_the_job_card_is_cut(lab: Any) -> None:
    lab.page.set_viewport_size({"width": 390, "height": 844})
    with lab.notebook(f"{LESSON}/{LESSON}.ipynb") as notebook:
        lab.run_all()
        notebook.locator(".widget-button", has_text="New numbers").last.wait_for()
        notebook.locator(".jp-OutputArea-output table").first.wait_for()
        assert lab.page.evaluate(_CUT_ON_A_PHONE) == []


def test_a_checkouts_lessons_are_opened_where_they_stand(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert lessons_to_open() == ROOT / "lessons"
    assert list(tmp_path.iterdir()) == []


def test_an_installed_courses_lessons_are_copied_and_work_in_them_stays(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    monkeypatch.setattr(lab, "in_checkout", lambda: False)
    own = lessons_to_open()
    assert own == tmp_path / "leg-to-leg" / "lessons"
    page = own / LESSON / f"{LESSON}.ipynb"
    assert page.read_bytes() == (ROOT / "lessons" / LESSON / f"{LESSON}.ipynb").read_bytes()
    assert (own / "ANSWERS.md").is_file()
    assert not (own / "dryerbench").exists()
    page.write_text("my work", encoding="utf-8")
    (own / "00_start" / "00_start.ipynb").unlink()
    assert lessons_to_open() == own
    assert page.read_text(encoding="utf-8") == "my work"
    assert (own / "00_start" / "00_start.ipynb").is_file()
    assert progress.root(own / LESSON) == own
    assert lessons_to_open(tmp_path / "mine") == tmp_path / "mine"


def test_a_folder_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(LabError, match=r"cannot be put into .*/file: .*\. Name another: --folder\."):
        lessons_to_open(tmp_path / "file")
