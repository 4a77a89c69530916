"""What tests of commands share: a command typed in this process, with its code and all that it says."""

from __future__ import annotations

import sys
from collections.abc import Callable

import pytest

from legtoleg.cli.command import main

Typed = Callable[..., tuple[int, str]]


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Typed:
    """Return how to type a command: what it ends with, and what stood on the terminal; an error of any other kind
    than ours comes through, as a traceback would."""

    def run(*words: object) -> tuple[int, str]:
        monkeypatch.setattr(sys, "argv", ["legtoleg", *map(str, words)])
        capfd.readouterr()
        code: object = 0
        try:
            main()
        except SystemExit as end:
            code = end.code
        said = "".join(capfd.readouterr())
        return int(code) if isinstance(code, int) else int(code is not None), said

    return run
