"""The desk: runs one piece of desk work after the other, each in a process of its own, and tells the board."""

from __future__ import annotations

import asyncio
import json
import sys
from collections.abc import Callable

from legtoleg.classroom.class_folder import ClassFolder

WORDS = {
    "mark": "Marking",
    "report": "Writing the report",
    "deal": "Dealing a new card",
    "test-open": "Opening a supervised test",
    "test-close": "Closing and grading supervised tests",
}


class Desk:
    """What waits, what runs, and what was said last."""

    def __init__(self, folder: ClassFolder, tell: Callable[[str, object], None]) -> None:
        self._folder, self._tell = folder, tell
        self._waiting: list[tuple[str, ...]] = []
        self._runner: asyncio.Task[None] | None = None
        self.said: dict[str, object] = {"what": "", "words": "", "done": 0, "of": 0, "busy": False}

    def wants_taking_in(self) -> None:
        """Let hand-ins go through collecting soon; those that come meanwhile go along."""
        self.wants("take-in")

    def wants(self, what: str, *more: str) -> None:
        """Let a piece of work be done, once, however often it is asked for while it waits."""
        if (what, *more) not in self._waiting:
            self._waiting.append((what, *more))
        if self._runner is None or self._runner.done():
            self._runner = asyncio.get_running_loop().create_task(self._run())

    async def _run(self) -> None:
        while self._waiting:
            if self._waiting[0] == ("take-in",):
                await asyncio.sleep(1)
            await self._one(*self._waiting.pop(0))

    async def _one(self, what: str, *more: str) -> None:
        shown = what in WORDS
        command = [sys.executable, "-m", "legtoleg.classroom.desk_work", str(self._folder.cohort.folder), what, *more]
        if shown:
            self._say(what, WORDS[what], busy=True)
        process = await asyncio.create_subprocess_exec(*command, stdout=asyncio.subprocess.PIPE)
        assert process.stdout is not None
        words = ""
        async for line in process.stdout:
            said = json.loads(line)
            words = said["words"]
            if shown:
                self._say(what, words, busy=True, done=said["done"], of=said["of"])
        code = await process.wait()
        if shown or code:
            self._say(what, words or f"{what} stopped; see the log of the service.", busy=False)

    def _say(self, what: str, words: str, *, busy: bool, done: int = 0, of: int = 0) -> None:
        self.said = {"what": what, "words": words, "done": done, "of": of, "busy": busy}
        self._tell("desk", self.said)
