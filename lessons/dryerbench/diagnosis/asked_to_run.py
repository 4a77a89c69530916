"""What a machine of the family does with each fault when it is asked to run with heat.

It stays dead, hums, or turns and stays cold. ``python -m dryerbench.diagnosis.asked_to_run`` writes the table
``asked-to-run``, so that nobody who deals a call works it out again; a machine or a fault that the table lacks is
worked out. Make it anew when a machine or a fault changes.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from dryerbench.bench.faults import from_family
from dryerbench.core.tables import datasets_folder, table
from dryerbench.family.arrangement import Arrangement
from dryerbench.family.faults import Fault, faults_of
from dryerbench.family.machine import standard
from dryerbench.family.readings import coil_watts
from dryerbench.family.settings import read_setting
from dryerbench.family.settling import Settled, flowing_all, motor_volts, settle_all
from dryerbench.family.shelf import arrangement, machine_names

NO_HEAT, DEAD, HUMS, LIGHTS = "no-heat", "dead", "hums", "lights"
SERVICE = "service-neutral-lost"
FILE = "asked_to_run.csv"
_COLD_SHARE = 0.02  # of the watts of a sound machine
_HUM_VOLTS = 30.0


def _key(settled: Settled, pressed: float, share: float) -> str:
    """Return the short name of what is heard of a machine that was asked to run with heat; empty for nothing of ours.

    ``pressed`` are the motor's volts with start pressed, ``share`` the heater's watts to those of a sound machine.
    """
    if "the breaker trips" in settled.happened:
        return ""
    if settled.setting.running:
        return NO_HEAT if share < _COLD_SHARE else ""
    if "the motor does not turn" not in settled.happened:
        return ""
    return HUMS if pressed > _HUM_VOLTS else DEAD


@dataclass(frozen=True, slots=True)
class Asked:
    """What a machine with one fault does when it is asked to run with heat: what is heard, its watts, if it turns.

    ``heard`` is a short name, empty for nothing of ours; ``share`` is of a sound machine's watts.
    """

    heard: str
    share: float
    turns: bool


@lru_cache(maxsize=16)
def asked_to_run(made: Arrangement) -> dict[Fault, Asked]:
    """Return what the machine does with each of its faults: as the table has it, or worked out."""
    there, written = faults_of(made), _written(made)
    return written if written.keys() == set(there) else worked_out(made, there)


def _written(made: Arrangement) -> dict[Fault, Asked]:
    """Return what the table ``asked-to-run`` has of ``made``: of a machine as it is on the shelf, and of no other."""
    name = made.name.lower()
    if name not in machine_names() or arrangement(name) is not made:
        return {}
    rows = {row.text("fault"): row for row in table("asked-to-run").rows if row["machine"] == name}
    return {
        fault: Asked(str(row["heard"] or ""), row.number("share"), row["turns"] == "yes")
        for fault in faults_of(made)
        if (row := rows.get(from_family(fault).name))
    }


def worked_out(made: Arrangement, there: Sequence[Fault]) -> dict[Fault, Asked]:
    """Return what the machine does with each of the faults ``there``, by its circuit."""
    machine, setting = standard(made), read_setting(f"run {made.heats[0]}")
    settled = settle_all(machine, [((), setting), *(((fault,), setting) for fault in there)])
    watts = [coil_watts(made, solved) for solved in flowing_all(settled)]
    start = replace(setting, running=False, start_pressed=True)
    pressed = settle_all(machine, [((fault,), start) for fault in there])
    volts = [motor_volts(made, solved) for solved in flowing_all(pressed)]
    found = {}
    for fault, one, own, at_motor in zip(there, settled[1:], watts[1:], volts, strict=True):
        share = own / watts[0]
        key = LIGHTS if fault.name == SERVICE else _key(one, at_motor, share)
        found[fault] = Asked(key, share, one.setting.running)
    return found


def table_text() -> str:
    """Return the table of every machine on the shelf as the text of its file."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("machine", "fault", "heard", "share", "turns"))
    for name in machine_names():
        made = arrangement(name)
        for fault, one in worked_out(made, faults_of(made)).items():
            row = (name, from_family(fault).name, one.heard, f"{one.share:.3f}", "yes" if one.turns else "no")
            writer.writerow(row)
    return out.getvalue()


if __name__ == "__main__":
    (datasets_folder() / FILE).write_text(table_text(), encoding="utf-8")
