"""What goes short in a class is told in one line: a home, memory, the disk; and a seat that nobody uses ends."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import SimpleNamespace

import pytest

from dryerbench.notebook.class_bar import _last_words
from legtoleg.classroom import quotas
from legtoleg.classroom.board_state import Board
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.seat_files import SERVER, home_of
from legtoleg.classroom.seat_jail import Guard, limits_of
from legtoleg.classroom.service_state import Service


def test_a_home_that_is_too_large_is_told_to_both(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    home, _ = home_of(room, "ada-01")
    (home / "big").write_bytes(b"x" * (3 << 20))
    (home / "elsewhere").symlink_to("/usr")
    assert 2.9 < quotas.home_megabytes(home) < 3.5
    service = Service(room)
    service.read_roster()
    service.look()
    assert [row["trouble"] for row in service.rows()] == ["", "", ""]
    monkeypatch.setattr(quotas, "HOME_MEGABYTES", 2)
    service.look()
    told = {row["id"]: row["trouble"] for row in service.rows()}
    assert told["ada-01"] == "The home holds 3 MB; 2 MB is the most. Delete what is not a lesson."
    assert _last_words({"trouble": told["ada-01"]}, "02_two_legs").startswith("The home holds 3 MB")
    assert isinstance(service.board, Board)


def test_a_home_of_very_many_files_is_told(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    home, _ = home_of(room, "ada-01")
    for number in range(12):
        (home / f"f{number}").touch()
    monkeypatch.setattr(quotas, "_MOST_FILES", 10)
    assert "more than 10 files" in quotas.trouble_of(room, "ada-01")


@pytest.mark.parametrize("version", [1, 2])
def test_a_seat_that_was_stopped_at_its_memory_is_told(room: ClassFolder, tmp_path: Path, version: int) -> None:
    home_of(room, "ada-01")
    place = tmp_path / (
        f"memory/leg-to-leg/{room.group('ada-01')}" if version == 1 else f"leg-to-leg/{room.group('ada-01')}"
    )
    place.mkdir(parents=True)
    file = place / ("memory.oom_control" if version == 1 else "memory.events")
    file.write_text("under_oom 0\noom_kill 0\n")
    assert quotas.trouble_of(room, "ada-01", tmp_path) == ""
    file.write_text("under_oom 0\noom_kill 2\n")
    assert "used up its 1024 MB of memory" in quotas.trouble_of(room, "ada-01", tmp_path)


def test_a_disk_that_is_nearly_full_is_told(room: ClassFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=2 << 30))
    assert quotas.disk_trouble(room) == ""
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=300 << 20))
    assert quotas.disk_trouble(room).startswith("The disk has 300 MB left.")


def test_one_file_of_a_seat_has_an_end() -> None:
    most = limits_of(Guard.SAME_USER)["fsize"]
    code = f"f = open('/dev/shm/ltl-{os.getpid()}', 'wb'); f.truncate({most} + 1)"
    words = ["prlimit", f"--fsize={most}", sys.executable, "-c", code]
    done = subprocess.run(words, check=False, capture_output=True, text=True)
    Path(f"/dev/shm/ltl-{os.getpid()}").unlink(missing_ok=True)
    assert os.strerror(errno.EFBIG) in done.stderr


OFTEN = """
from tornado import ioloop
whole = ioloop.PeriodicCallback
ioloop.PeriodicCallback = lambda call, often, *more: whole(call, min(often, 1000), *more)
from jupyter_server.serverapp import main
main()
"""
"""Jupyter's server, which looks every minute whether it is in use; here every second."""


@pytest.mark.slow
@pytest.mark.server
def test_a_seat_that_nobody_uses_ends(tmp_path: Path) -> None:
    """With the seats' own settings, their hours made seconds: the kernel goes first, then the server."""
    content = json.loads(json.dumps(SERVER))
    content["MappingKernelManager"] = dict.fromkeys(content["MappingKernelManager"], 2) | {"cull_interval": 1}
    content["ServerApp"]["shutdown_no_activity_timeout"] = 2
    (tmp_path / "jupyter_server_config.json").write_text(json.dumps(content))
    words = ["-c", OFTEN, "--allow-root", f"--ServerApp.sock={tmp_path / 's'}", "--no-browser"]
    environment = {**os.environ, "JUPYTER_CONFIG_PATH": str(tmp_path), "HOME": str(tmp_path)}
    with subprocess.Popen([sys.executable, *words], env=environment, cwd=tmp_path, stderr=subprocess.DEVNULL) as server:
        try:
            began = time.monotonic()
            assert server.wait(100) == 0
            assert time.monotonic() - began > 2
        finally:
            if server.poll() is None:
                server.send_signal(signal.SIGKILL)
