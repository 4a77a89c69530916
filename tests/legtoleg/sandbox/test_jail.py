"""The jail's command: no network, no rights, and nothing of the marker's bound into it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from legtoleg.core.paths import ROOT
from legtoleg.sandbox import jail
from legtoleg.sandbox.jail import jail_command, worker_command

PRIVATE = ("solutions", "grader/legtoleg/keys", "grader/legtoleg/cli/command.py", "tests")


def bound(command: list[str]) -> list[str]:
    """Return what of this computer the command shows inside."""
    return [
        command[place + 1] for place, word in enumerate(command) if word in ("--bind", "--ro-bind", "--ro-bind-try")
    ]


@pytest.mark.parametrize("command", [jail_command(["x"], Path("/shared"), {}), worker_command(9, 100)])
def test_nothing_of_the_markers_is_inside(command: list[str]) -> None:
    assert "--clearenv" in command
    assert "--unshare-all" in command or "--unshare-net" in command
    assert command[command.index("--cap-drop") + 1] == "ALL"
    for place in map(Path, bound(command)):
        assert not [name for name in PRIVATE if (ROOT / name).is_relative_to(place)], place


def test_only_the_sockets_folder_can_be_written() -> None:
    command = jail_command(["x", "y"], Path("/shared"), {"WHO": "ada"})
    assert [command[place + 1] for place, word in enumerate(command) if word == "--bind"] == ["/shared"]
    assert command[-3:] == ["--", "x", "y"]
    assert command[command.index("WHO") + 1] == "ada"


@pytest.mark.parametrize("link", [False, True])
@pytest.mark.parametrize("kind", ["kernel", "warm parent"])
def test_the_marker_is_hidden_wherever_a_folder_that_python_reads_holds_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str, link: bool
) -> None:
    private = tmp_path / "python" / "site-packages" / "legtoleg"
    private.mkdir(parents=True)
    shown = tmp_path / "python"
    if link:
        shown = tmp_path / "another name"
        shown.symlink_to(tmp_path / "python")
    monkeypatch.setattr(jail, "private_folders", lambda: [private])
    monkeypatch.setattr(jail, "python_folders", lambda: [shown])
    words = jail_command(["x"], Path("/shared"), {}) if kind == "kernel" else worker_command(9, 100)
    inside = str(shown / "site-packages" / "legtoleg")
    hidden = words.index("--tmpfs", words.index(str(shown)))
    assert words[hidden + 1] == inside
    assert words[hidden + 2] == "--ro-bind"
    assert words[hidden + 4] == f"{inside}/__init__.py"
    assert words[hidden + 5 : hidden + 7] == ["--remount-ro", inside]


def refuse(*_: object, **__: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.CompletedProcess([], 1)


def stall(*_: object, **__: object) -> subprocess.CompletedProcess[bytes]:
    raise subprocess.TimeoutExpired("bwrap", 20)


@pytest.mark.parametrize("run", [refuse, stall])
def test_a_bubblewrap_that_does_not_work_is_none(monkeypatch: pytest.MonkeyPatch, run: object) -> None:
    monkeypatch.setattr(jail.shutil, "which", lambda _: "bwrap")
    monkeypatch.setattr(jail.subprocess, "run", run)
    assert jail.available.__wrapped__() is False


def test_without_bubblewrap_there_is_no_jail(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(jail.shutil, "which", lambda _: None)
    assert jail.available.__wrapped__() is False


def test_a_python_that_was_started_by_a_path_with_dots_is_named_as_it_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    there = Path(sys.executable)
    dotted = there.parent / ".." / there.parent.name
    monkeypatch.setattr(sys, "executable", str(dotted / there.name))
    monkeypatch.setattr(sys, "prefix", str(dotted / ".."))
    words = jail.worker_command(60, 2000)
    assert not [word for word in words if ".." in Path(word).parts]
    assert words[words.index("--") + 1] == str(there.parent.resolve() / there.name)
    assert str(there.parent.parent.resolve()) in words
