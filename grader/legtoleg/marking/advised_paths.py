"""Advised paths: how long the course's own advice takes to single out each fault.

The table is made by ``python -m legtoleg.marking.advised_paths``, since it takes seconds; make it anew when an act's
minutes, a fault or the advice changes.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from dryerbench.bench.faults import Fault, fault_names, fits, read_fault
from dryerbench.bench.machine import Machine
from dryerbench.core.tables import datasets_folder, table
from dryerbench.diagnosis.service_calls import dead_first

TABLE = "advised-paths"
FILE = "advised_paths.csv"
_NEARLY_SURE = 0.9
"""The odds from which the advice is said to have found the fault; what no reading tells apart stays below."""


def path_row(name: str) -> tuple[str, float, int] | None:
    """Return the fault ``name``, the minutes of the advice's path to it and its readings; None if there is no end.

    The machine has book values and the fault its usual strength; dead readings alone where they are enough.
    """
    fault = read_fault(name)
    machine = next(one for cord in ("four-wire", "three-wire") if fits(fault, one := Machine(cord=cord)))
    steps = dead_first(machine, [fault])
    if not steps or steps[-1].odds.get(name, 0.0) < _NEARLY_SURE:
        return None
    return name, round(sum(step.minutes for step in steps), 1), len(steps)


def table_text() -> str:
    """Return the table of all faults as the text of its file."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("fault", "minutes", "readings"))
    writer.writerows(row for name in fault_names() if (row := path_row(name)))
    return out.getvalue()


def table_path() -> Path:
    """Return where the table stands."""
    return datasets_folder() / FILE


@cache
def _minutes() -> dict[str, float]:
    return {row.text("fault"): row.number("minutes") for row in table(TABLE).rows}


def advised_minutes(faults: Sequence[Fault]) -> float | None:
    """Return the minutes of the advised path to the one fault in ``faults``; None for several, or without an end."""
    return _minutes().get(faults[0].name) if len(faults) == 1 else None


if __name__ == "__main__":
    table_path().write_text(table_text(), encoding="utf-8")
