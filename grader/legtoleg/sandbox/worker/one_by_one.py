"""One Python that runs notebooks one after the other, where a system cannot fork: warm, and with no marker to import.

It is asked by a line of JSON on its standard input and answers by lines on its standard output, one for each cell.
Names are emptied between notebooks, but what a cell changes inside a library stays: so people who do not know each
other each get a process of their own (``serial_engine``), and only a cohort that was made up shares one.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import tempfile
from pathlib import Path
from typing import BinaryIO

from .desks import hide_marker, remove
from .shell import Output, RecordingShell, run_cells
from .warming import line_of, warm_shell


def _limit(limits: dict[str, int]) -> None:
    """Hold this process to its limits, where the system has them."""
    try:
        from .limits import set_limits
    except ImportError:  # Windows
        return
    with contextlib.suppress(OSError, ValueError):
        set_limits({name: most for name, most in limits.items() if name != "processes"})


def _run(shell: RecordingShell, wanted: dict[str, object], answer: BinaryIO) -> None:
    cells, limits, environment = wanted["cells"], wanted["limits"], wanted["environment"]
    assert isinstance(cells, list)
    assert isinstance(limits, dict)
    assert isinstance(environment, dict)
    os.environ.update(environment)

    def tell(number: int, outputs: list[Output]) -> None:
        answer.write(line_of({"cell": number, "outputs": outputs}))
        answer.flush()

    desk = tempfile.mkdtemp(prefix="desk-", dir=Path.home())
    os.chdir(desk)
    try:
        run_cells(shell, cells, int(limits["cell_seconds"]), tell)
    finally:
        os.chdir(Path.home())
        remove(desk)
    shell.reset(new_session=False)
    answer.write(line_of({"finished": True}))
    answer.flush()


def main() -> None:
    """Answer until there is nothing more to do."""
    answer, asked = os.fdopen(os.dup(1), "wb"), os.fdopen(os.dup(0), "rb")
    nowhere = os.open(os.devnull, os.O_RDWR)
    for handle in (0, 1, 2):
        os.dup2(nowhere, handle)
    hide_marker()
    os.chdir(Path.home())  # which is this process's alone
    out, err = sys.stdout, sys.stderr
    shell = warm_shell()
    limited = False
    answer.write(line_of({"ready": True}))
    answer.flush()
    for line in asked:
        wanted = json.loads(line)
        if not limited:
            _limit(wanted["limits"])
            limited = True
        _run(shell, wanted, answer)
        sys.stdout, sys.stderr = out, err


if __name__ == "__main__":
    main()
