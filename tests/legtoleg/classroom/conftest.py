"""What tests of the classroom share: a running class of three, and visitors of it."""

from __future__ import annotations

import asyncio
import importlib.util
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.cohort.cohort_folder import Cohort

CALL = "import sys; from legtoleg.cli.command import main; sys.argv[0] = 'legtoleg'; main()"
SLIP = re.compile(r'Your id: <span class="code">([^<]*)</span></p>\s*<p>Your code: <span class="code">([^<]*)<')


def beside(name: str) -> ModuleType:
    """Return the module ``name`` that lies beside this file: tests are no package."""
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


@dataclass
class Running:
    """A class that runs, in a process of its own."""

    folder: Path
    port: int
    process: subprocess.Popen[bytes] | None = None
    codes: dict[str, str] = field(default_factory=dict)
    visitors: list[Any] = field(default_factory=list)
    password: str = "meter-7-leads"
    """What everybody here chooses."""
    chosen: set[str] = field(default_factory=set)
    """Who has chosen the password: in a class that several tests share, a code is good once."""
    files: tuple[Path, Path] | None = None
    """The certificate and its key."""

    @property
    def address(self) -> str:
        return f"{'https' if self.files else 'http'}://127.0.0.1:{self.port}"

    @property
    def room(self) -> ClassFolder:
        return ClassFolder(Cohort(self.folder.resolve()))

    def command(self, *words: str) -> list[str]:
        """Return the class command for this cohort."""
        return [sys.executable, "-c", CALL, "class", str(self.folder), *words]

    def slips(self) -> dict[str, str]:
        """Return the codes that stand on the page of slips, by id."""
        page = self.room.root / "slips.html"
        return dict(SLIP.findall(page.read_text(encoding="utf-8"))) if page.is_file() else {}

    def start(self) -> None:
        log = self.folder.parent / "class.log"
        command = self.command("--port", str(self.port))
        if self.files:
            command += ["--certificate", str(self.files[0]), "--key", str(self.files[1])]
        with log.open("wb") as out:
            self.process = subprocess.Popen(command, stdout=out, stderr=out)
        until = time.monotonic() + 90
        while "The class is open" not in log.read_text():
            assert self.process.poll() is None, log.read_text()[-2000:]
            assert time.monotonic() < until, log.read_text()[-2000:]
            time.sleep(0.1)
        self.codes |= self.slips()

    def end(self, sign: int = signal.SIGINT) -> int:
        assert self.process is not None
        self.process.send_signal(sign)
        return self.process.wait(timeout=60)

    def pid_of(self, name: str) -> int:
        """Return the process of one sibling."""
        assert self.process is not None
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text().split()
        words = {
            "door": "classroom.door",
            "hub": "jupyterhub",
            "service": "classroom.class_service",
            "bench": "classroom.sealed_service",
            "warm": "warm_seats.parent",
        }[name]
        found = [int(one) for one in children if words in Path(f"/proc/{one}/cmdline").read_text()]
        assert len(found) == 1, (name, children)
        return found[0]

    def visitor(self, who: str) -> Any:
        trusted = str(self.files[0]) if self.files else ""
        self.visitors.append(beside("visitor").Visitor(self.address, who, trusted))
        return self.visitors[-1]

    async def close_visitors(self) -> None:
        while self.visitors:
            await self.visitors.pop().close()
        await asyncio.sleep(0.25)  # aiohttp ends its connections a moment after it says so


@contextmanager
def running(cohort: Path, port: int, files: tuple[Path, Path] | None = None) -> Iterator[Running]:
    one = Running(cohort, port, files=files)
    try:
        one.start()
        yield one
    finally:
        if one.process is not None and one.process.poll() is None:
            one.end()


def needs_root_and_bubblewrap() -> None:
    """Skip where seats cannot be jailed with users of their own; in CI they have to be."""
    pytest.importorskip("jupyterhub")
    if sys.platform != "linux" or os.getuid() or shutil.which("bwrap") is None:
        if os.environ.get("CI") == "true":
            pytest.fail("root and bubblewrap are missing, and in CI they must not be.")
        pytest.skip("needs root and bubblewrap")


@pytest.fixture(name="free_port")
def free_port_of_this_computer() -> int:
    return free_port()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="session")
def class_of_three(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """Give a class that runs for all tests of this folder."""
    needs_root_and_bubblewrap()
    from legtoleg.classroom.supervisor import seats_of

    folder = tmp_path_factory.mktemp("class") / "cohort"
    shutil.copytree(made, folder)
    with running(folder, free_port()) as one:
        yield one
    assert seats_of(one.room) == []


@pytest.fixture
def own_class(made: Path, tmp_path: Path) -> Iterator[Callable[..., Running]]:
    """Give what starts a class of this test's own, with a certificate, and a learning platform for the log-in."""
    needs_root_and_bubblewrap()
    with ExitStack() as open_ones:

        def start(*, files: tuple[Path, Path] | None = None, platform: dict[str, str] | None = None) -> Running:
            folder = tmp_path / "own-class" / "cohort"
            shutil.copytree(made, folder)
            if platform:
                (folder / "class").mkdir(mode=0o700, exist_ok=True)
                (folder / "class" / "platform.json").write_text(json.dumps(platform))
            return open_ones.enter_context(running(folder, free_port(), files))

        yield start


@pytest.fixture
def room(fresh: Cohort, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ClassFolder:
    """Give the folder of a class that does not run."""
    folder = ClassFolder(fresh)
    monkeypatch.setattr(ClassFolder, "sockets", property(lambda _: tmp_path / "s"))
    folder.prepare()
    return folder


@pytest.fixture
def load() -> Callable[[str], ModuleType]:
    return beside
