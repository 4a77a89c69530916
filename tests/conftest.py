"""What all tests share: what may be missing on a machine, and must not be missing in CI."""

from __future__ import annotations

import os
import shutil
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

# A kernel that a test starts finds the course as the test does, installed or not.
ROOT = Path(__file__).resolve().parent.parent


def _missing(what: str) -> None:
    if os.environ.get("CI") == "true":
        pytest.fail(f"{what} is missing, and in CI it must not be.")
    pytest.skip(f"{what} is missing on this computer.")


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return the path of Chromium, or skip."""
    if CHROMIUM is None:
        _missing("Chromium")
    return str(CHROMIUM)


@contextmanager
def open_browser(chromium: str) -> Iterator[Any]:
    """Give a running Chromium, and end it."""
    from playwright.sync_api import sync_playwright

    options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=options)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Any]:
    """Give one Chromium for all pages of a file: Playwright allows one at a time."""
    with open_browser(chromium) as opened:
        yield opened


@pytest.fixture
def bubblewrap() -> None:
    """Skip where notebooks cannot be jailed."""
    from legtoleg.sandbox import jail

    if sys.platform != "linux" or not jail.available():
        _missing("bubblewrap")


# A shared machine is slow at times: how long one example takes says nothing about the code.
settings.register_profile("course", deadline=None)
settings.load_profile("course")


RERUN = ("browser", "server")
"""Marks of what depends on a program of somebody else's, which may be slow to start."""


LONG = (*RERUN, "jail", "slow")
"""Marks of what takes seconds and more a test."""


def pytest_configure(config: pytest.Config) -> None:
    """Have workers side by side take whole files in the order of ``pytest_collection_modifyitems``."""
    if hasattr(config.option, "loadscopereorder"):
        config.option.loadscopereorder = False


def _marked(item: pytest.Item, names: tuple[str, ...]) -> bool:
    return any(item.get_closest_marker(name) for name in names)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Give tests of servers and browsers another try: a busy machine is no fault of the code. All others get none.

    Files with the most long tests come first, so that no worker waits at the end for a long file of another's.
    """
    for item in items:
        if _marked(item, RERUN):
            item.add_marker(pytest.mark.flaky(reruns=2))
    long = Counter(item.path for item in items if _marked(item, LONG))
    items.sort(key=lambda item: -long[item.path])
