"""One thread for linear algebra, said before NumPy is there and never against the user; short turns, then as before."""

from __future__ import annotations

import os
import subprocess
import sys
from contextlib import suppress

import pytest

from legtoleg.core.one_thread import ONE_THREAD, keep_to_one_thread, short_turns


def test_what_the_user_has_set_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ONE_THREAD:
        monkeypatch.setenv(name, "")  # so that what stands there now is put back
        monkeypatch.delenv(name)
    monkeypatch.setenv("OMP_NUM_THREADS", "3")
    keep_to_one_thread()
    assert {name: os.environ[name] for name in ONE_THREAD} == {**ONE_THREAD, "OMP_NUM_THREADS": "3"}


def test_the_command_is_there_before_numpy() -> None:
    """NumPy reads its threads once, when it is imported: the command says how many before that."""
    asked = "import sys, legtoleg.cli.command; print('numpy' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", asked], check=True, capture_output=True, text=True)
    assert told.stdout.strip() == "False"


def test_turns_are_short_while_answers_are_judged_and_afterwards_as_before() -> None:
    before = sys.getswitchinterval()
    with suppress(KeyError), short_turns():
        assert sys.getswitchinterval() < before
        raise KeyError
    assert sys.getswitchinterval() == before
