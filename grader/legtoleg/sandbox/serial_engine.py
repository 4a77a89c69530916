"""The engine for systems without namespaces and a safe fork (macOS, Windows): warm processes, one notebook each.

The next process warms up while the last notebook runs. A cohort that was made up here needs no such care: its notebooks
share the processes. Nothing is isolated; time and memory are watched from here.
"""

from __future__ import annotations

import json
import os
import queue
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path

import psutil

import dryerbench
from legtoleg.sandbox.engine import ENDS, FLOOD, LARGEST_ANSWER, LARGEST_LINE, TIME, EngineError, Job, Limits, Run, take
from legtoleg.sandbox.jail import QUIET
from legtoleg.sandbox.jupyter_kernels import marking_environment

_START_SECONDS = 120
_LOOK_SECONDS = 0.2


class _Worker:
    """One warm process, and the thread that reads its lines."""

    def __init__(self) -> None:
        here = Path(__file__).resolve().parent
        path = [str(Path(dryerbench.__file__).resolve().parent.parent), str(here)]
        self._home = tempfile.mkdtemp(prefix="leg-to-leg-desk-")
        home = dict.fromkeys(("HOME", "USERPROFILE", "TMPDIR", "IPYTHONDIR", "MPLCONFIGDIR"), self._home)
        variables = {**os.environ, **QUIET, **home, "PYTHONPATH": os.pathsep.join(path)}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "worker.one_by_one"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=variables,
            start_new_session=True,
        )
        self.lines: queue.Queue[bytes | None] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        """Put each line into the queue; at the end an empty one, after a flood None."""
        assert self.process.stdout is not None
        read = 0
        while read < LARGEST_ANSWER and (line := self.process.stdout.readline(LARGEST_LINE)):
            read += len(line)
            self.lines.put(line)
            if line.startswith(b'{"finished"'):
                read = 0
        self.lines.put(None if read >= LARGEST_ANSWER else b"")

    def send(self, wanted: object) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(json.dumps(wanted).encode("utf-8") + b"\n")
        self.process.stdin.flush()

    def megabytes(self) -> float:
        """Return what it and all below it hold."""
        try:
            top = psutil.Process(self.process.pid)
            return float(sum(one.memory_info().rss for one in [top, *top.children(recursive=True)])) / 2**20
        except psutil.Error:
            return 0.0

    def end(self) -> None:
        """End it, and what it started."""
        try:
            family = psutil.Process(self.process.pid).children(recursive=True)
        except psutil.Error:
            family = []
        for one in family:
            try:
                one.kill()
            except psutil.Error:
                continue
        self.process.kill()
        self.process.wait()
        for pipe in (self.process.stdin, self.process.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except OSError:
                    continue
        shutil.rmtree(self._home, ignore_errors=True)


class SerialEngine:
    """Runs each notebook in a warm process of its own; with ``together``, in processes that notebooks share."""

    def __init__(self, limits: Limits | None = None, *, together: bool = False) -> None:
        self.limits, self.together = limits or Limits(), together
        self._idle: list[_Worker] = []
        self._lock = threading.Lock()
        self._closed = False

    @contextmanager
    def _worker(self) -> Iterator[_Worker]:
        with self._lock:
            worker = self._idle.pop() if self._idle else _Worker()
            if not self.together and not self._idle:
                self._idle.append(_Worker())  # warms up meanwhile
        good = False
        try:
            yield worker
            good = self.together and worker.process.poll() is None
        finally:
            with self._lock:
                good = good and not self._closed
                if good:
                    self._idle.append(worker)
            if not good:
                worker.end()

    def run(self, job: Job) -> Run:
        """Run ``job`` and return what it showed.

        Raises
        ------
        EngineError
            If no process starts here.
        """
        with self._worker() as worker:
            result = self._talk(worker, job)
            result.ended = ENDS.get(result.ended, result.ended)
            if result.ended:
                worker.end()  # what is left in it is nobody's any more
        return result

    def _talk(self, worker: _Worker, job: Job) -> Run:
        result = Run()
        wanted = {
            "cells": job.cells,
            "environment": marking_environment(job.apprentice, job.try_number),
            "limits": asdict(self.limits),
        }
        try:
            worker.send(wanted)
        except OSError:
            raise EngineError("Python does not start for the notebooks here.") from None
        ends = time.monotonic() + self.limits.notebook_seconds + _START_SECONDS
        while True:
            try:
                line = worker.lines.get(timeout=_LOOK_SECONDS)
            except queue.Empty:
                if time.monotonic() > ends:
                    result.ended = TIME
                    return result
                if worker.megabytes() > self.limits.megabytes + 512:
                    result.ended = "memory"
                    return result
                continue
            if not line:
                result.ended = "died" if line == b"" else FLOOD
                return result
            if line.startswith(b'{"ready"'):
                ends = time.monotonic() + self.limits.notebook_seconds
            elif take(result, line, len(job.cells)):
                return result

    def close(self) -> None:
        """Leave no process behind."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
        for worker in idle:
            worker.end()
