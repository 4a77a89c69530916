"""What tests of the marker share: a server, a page, an unpacked kit, a small cohort."""

from __future__ import annotations

import http.client
import os
import shutil
import socket
import subprocess
import time
import urllib.error
import urllib.request
import zipfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from dryerbench.core import identity
from dryerbench.drawing import interactive_figure
from legtoleg.authoring.lesson_source import solved_notebook
from legtoleg.cli.lab import lab_command, lab_environment
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.cohort.cohort_setup import set_up
from legtoleg.cohort.kit import kit_top, pack


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def server(command: list[str], environment: dict[str, str], log: Path, where: Path) -> Iterator[str]:
    port = free_port()
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
            try:
                process.wait(timeout=30)
            except subprocess.TimeoutExpired:  # a kernel that does not end holds JupyterLab up
                process.kill()
                process.wait()


def _wait(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(240):
        if process.poll() is not None:
            raise AssertionError(log.read_text()[-2000:])
        try:
            urllib.request.urlopen(f"{address}/api?token=token", timeout=5).close()
        except (urllib.error.URLError, OSError, http.client.HTTPException):
            time.sleep(0.25)
        else:
            return
    raise AssertionError("JupyterLab did not start: " + log.read_text()[-2000:])


@contextmanager
def new_page(browser: Any) -> Iterator[Any]:
    context = browser.new_context(viewport={"width": 1400, "height": 1000})
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE)
    # JupyterLab may ask something of its own at a busy moment; take what it proposes and go on.
    opened.add_locator_handler(opened.locator("dialog.jp-Dialog"), lambda: opened.keyboard.press("Enter"))
    yield opened
    context.close()


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    with new_page(browser) as opened:
        yield opened


PATIENCE = 120_000
"""Milliseconds; a busy machine takes its time."""

_OPEN = """async path => {
    const app = window.jupyterapp;
    await app.restored;
    const widget = await app.commands.execute("docmanager:open", { path });
    await widget.context.ready;
    await widget.sessionContext.ready;
    await widget.revealed;
}"""
_CLOSE = """async () => {
    for (const widget of [...window.jupyterapp.shell.widgets("main")]) {
        if (!widget.sessionContext) continue;
        await widget.sessionContext.shutdown();
        if (widget.context.model.dirty) await widget.context.save();
        widget.close();
    }
}"""


@dataclass
class Lab:
    """A JupyterLab at the lessons of one kit, and one browser's page at it; opened once, used for many notebooks."""

    page: Any
    lessons: Path
    apprentice: str

    def command(self, name: str) -> None:
        """Do what JupyterLab's menu does under ``name``, and wait until it is done."""
        self.page.evaluate("name => window.jupyterapp.commands.execute(name).then(() => null)", name)

    @contextmanager
    def notebook(self, path: str) -> Iterator[Any]:
        """Open ``path`` and give what is on the page of it; at the end its kernel stops and it is closed."""
        self.page.evaluate(_OPEN, path)
        try:
            yield self.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")
        finally:
            self.page.evaluate(_CLOSE)

    def run_all(self) -> None:
        """Run all cells of the open notebook, as the menu does, and wait for the last one."""
        self.command("notebook:run-all-cells")

    def save(self) -> None:
        """Save by keyboard, and wait until nothing is left to save."""
        self.page.keyboard.press("Control+s")
        self.page.wait_for_function("() => !window.jupyterapp.shell.currentWidget.context.model.dirty")


@pytest.fixture(scope="module")
def lab(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    """Give a JupyterLab at the kit of demo-02, unpacked as it was packed."""
    folder = tmp_path_factory.mktemp("lab")
    zipfile.ZipFile(pack("demo-02", folder)).extractall(folder)
    lessons = folder / kit_top("demo-02") / "lessons"
    own = {"PYTHONPATH": str(lessons)}
    command = lab_command(lessons, "--LabApp.expose_app_in_browser=True")
    environment = {**lab_environment(folder), **own}
    with server(command, environment, folder / "log", lessons) as address, new_page(browser) as opened:
        opened.goto(f"{address}/lab?token=token")
        opened.wait_for_function("() => window.jupyterapp !== undefined")
        yield Lab(opened, lessons, "demo-02")


@pytest.fixture
def serve() -> Callable[..., AbstractContextManager[str]]:
    """Return ``server``: a command started at a free port, its address, and its end."""
    return server


ROSTER = "id,name,mail,group\nada-01,Ada Demo,ada@example.org,one\nbo-02,Bo Demo,,one\ncy-03,Cy Demo,,two\n"


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made")
    roster = folder / "roster.csv"
    roster.write_text(ROSTER, encoding="utf-8")
    set_up(folder / "cohort", roster)
    return folder / "cohort"


@pytest.fixture
def worked_answers(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str, str], dict[str, Any]]]:
    """Return what gives the values that a solved lesson hands in for an apprentice, by question."""
    from IPython.core.interactiveshell import InteractiveShell
    from IPython.utils.capture import capture_output

    shell = InteractiveShell.instance()
    shell.history_manager.enabled = False
    shell.history_manager.end_session()

    def worked(lesson: str, apprentice: str) -> dict[str, Any]:
        with monkeypatch.context() as only_run:
            only_run.setenv(interactive_figure.MODE, "words")
            only_run.setenv(identity.VARIABLE, apprentice)
            found = {}
            for cell in solved_notebook(lesson).cells:
                if cell.cell_type == "code":
                    with capture_output():
                        shell.run_cell(cell.source, store_history=False)
                    if cell.metadata.nbgrader.grade:
                        found[cell.metadata.nbgrader.grade_id] = shell.user_ns[cell.metadata.nbgrader.grade_id]
        return found

    yield worked
    InteractiveShell.clear_instance()


@pytest.fixture
def fresh(made: Path, tmp_path: Path) -> Cohort:
    """Return a copy of a cohort of three in which nothing was handed in."""
    shutil.copytree(made, tmp_path / "cohort")
    return Cohort.at(tmp_path / "cohort")


@pytest.fixture
def like_windows(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    """Return what makes this system, from then on, replace and remove no file that is read-only, as Windows does."""
    replace, unlink = os.replace, os.unlink

    def checked(path: Any) -> None:
        if Path(path).exists() and not Path(path).stat().st_mode & 0o200:
            raise PermissionError(13, "Access is denied", str(path))

    def new_replace(here: Any, there: Any, **more: Any) -> None:
        checked(there)
        replace(here, there, **more)

    def new_unlink(path: Any, **more: Any) -> None:
        if not more:
            checked(path)
        unlink(path, **more)

    def switch_on() -> None:
        monkeypatch.setattr(os, "replace", new_replace)
        monkeypatch.setattr(os, "unlink", new_unlink)
        monkeypatch.setattr(os, "remove", new_unlink)

    return switch_on
