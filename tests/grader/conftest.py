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
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest

from grader.cohorts import Cohort
from grader.rooms import ROOT
from grader.setting_up import set_up


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
            process.wait(timeout=30)


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


@pytest.fixture
def page(chromium: str) -> Iterator:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]
        browser = playwright.chromium.launch(executable_path=chromium, args=options)
        opened = browser.new_page(viewport={"width": 1400, "height": 1000})
        # JupyterLab may ask something of its own at a busy moment; take what it proposes and go on.
        opened.add_locator_handler(opened.locator("dialog.jp-Dialog"), lambda: opened.keyboard.press("Enter"))
        yield opened
        browser.close()


@pytest.fixture
def serve() -> Callable[..., AbstractContextManager[str]]:
    """Return ``server``: a command started at a free port, its address, and its end."""
    return server


@pytest.fixture
def course(tmp_path: Path) -> Path:
    """Return the lessons of a kit of demo-02, unpacked."""
    for name in ("lessons", "datasets"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "kit.json").write_text('{"apprentice": "demo-02"}', encoding="utf-8")
    return tmp_path / "lessons"


ROSTER = "id,name,mail,group\nada-01,Ada Demo,ada@example.org,one\nbo-02,Bo Demo,,one\ncy-03,Cy Demo,,two\n"


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("made")
    roster = folder / "roster.csv"
    roster.write_text(ROSTER, encoding="utf-8")
    set_up(folder / "cohort", roster)
    return folder / "cohort"


@pytest.fixture
def fresh(made: Path, tmp_path: Path) -> Cohort:
    """Return a copy of a cohort of three in which nothing was handed in."""
    shutil.copytree(made, tmp_path / "cohort")
    return Cohort.at(tmp_path / "cohort")
