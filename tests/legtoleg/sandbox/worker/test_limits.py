"""Limits of a notebook's processes: set on a child, and what a family of processes holds."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="the worker's namespaces are Linux's")

CHILD = """
import json, resource, signal, tempfile
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
from legtoleg.sandbox.worker.limits import set_limits
set_limits({"megabytes": 300, "notebook_seconds": 7, "file_megabytes": 2, "processes": 5})
names = ("RLIMIT_CPU", "RLIMIT_FSIZE", "RLIMIT_NOFILE", "RLIMIT_NPROC", "RLIMIT_CORE")
found = {name: resource.getrlimit(getattr(resource, name)) for name in names}
try:
    bytearray(400_000_000)
except MemoryError:
    found["memory"] = "refused"
with tempfile.TemporaryFile(buffering=0) as file:
    found["written"] = file.write(bytes(3_000_000))
print(json.dumps(found))
"""


def test_a_child_is_held_to_its_limits() -> None:
    done = subprocess.run([sys.executable, "-c", CHILD], capture_output=True, check=True, text=True)
    found = json.loads(done.stdout)
    assert (found.pop("memory"), found.pop("written")) == ("refused", 2 * 1024 * 1024)
    assert {name: most for name, (most, _) in found.items()} == {
        "RLIMIT_CPU": 12,
        "RLIMIT_FSIZE": 2 * 1024 * 1024,
        "RLIMIT_NOFILE": 128,
        "RLIMIT_NPROC": 5,
        "RLIMIT_CORE": 0,
    }


def test_memory_is_that_of_a_process_and_all_below_it() -> None:
    from legtoleg.sandbox.worker.limits import megabytes_in_use

    script = "import sys; held = bytearray(60_000_000); print('ready', flush=True); sys.stdin.read()"
    processes = os.open("/proc", os.O_DIRECTORY)
    try:
        (before,) = megabytes_in_use(processes, [os.getpid()])
        with subprocess.Popen([sys.executable, "-c", script], stdin=-1, stdout=-1) as child:
            assert child.stdout is not None
            assert child.stdout.readline() == b"ready\n"
            alone, family = megabytes_in_use(processes, [child.pid, os.getpid()])
            child.communicate()
    finally:
        os.close(processes)
    assert 57 < alone < 120
    assert family > before + 50


def test_a_family_is_known_by_its_parents_and_not_by_the_order_of_its_numbers(tmp_path: Path) -> None:
    from legtoleg.sandbox.worker.limits import megabytes_in_use

    for number, parent, held in ((50, 1, 3), (60, 50, 5), (7, 60, 11), (8, 1, 100)):
        folder = tmp_path / str(number)
        folder.mkdir()
        about = f"Name:\ta (b) c\nPPid:\t{parent}\nRssAnon:\t{held * 1000} kB\nRssFile:\t9999 kB\n"
        about += f"RssShmem:\t{held * 24} kB\n"
        (folder / "status").write_text(about, encoding="ascii")
    processes = os.open(tmp_path, os.O_DIRECTORY)
    try:
        assert megabytes_in_use(processes, [50, 60, 8, 9]) == [3 + 5 + 11, 5 + 11, 100, 0]
    finally:
        os.close(processes)


def test_memory_that_is_shared_on_purpose_is_counted() -> None:
    from legtoleg.sandbox.worker.limits import megabytes_in_use

    script = (
        "import mmap, sys; area = mmap.mmap(-1, 60 << 20); area.write(bytes(60 << 20)); print('ready', flush=True); "
        "sys.stdin.read()"
    )
    processes = os.open("/proc", os.O_DIRECTORY)
    try:
        with subprocess.Popen([sys.executable, "-c", script], stdin=-1, stdout=-1) as child:
            assert child.stdout is not None
            assert child.stdout.readline() == b"ready\n"
            (held,) = megabytes_in_use(processes, [child.pid])
            child.communicate()
    finally:
        os.close(processes)
    assert 60 < held < 120
