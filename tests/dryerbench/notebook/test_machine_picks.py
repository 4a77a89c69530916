"""In practice a part picked on the wiring sheet is marked in the machine, and back; in graded work never."""

from __future__ import annotations

import re

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.family.shelf import machine_names
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.machine_picks import symbol_marks

from .test_machine_names import stood


def opened(machine: str = "", *, practice: bool = True) -> MachinePanel:
    """Return the panel of a dead, open machine with names: the lessons' own, or one of the family."""
    panel = MachinePanel(stood(machine) if machine else Bench(), named=True, practice=practice)
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    return panel


def marked(panel: MachinePanel, kind: str) -> set[str]:
    """Return the ids of what is marked as chosen in the drawing."""
    svg = str(panel.drawing["svg"])
    return set(re.findall(rf'data-{kind}="([^"]+)"[^>]*aria-pressed="true"', svg))


def go(panel: MachinePanel, at: str) -> str:
    panel.receive({"act": "go", "with": {"at": at}})
    assert not panel.view["refused"], panel.view["said"]
    return str(panel.view["said"])


@pytest.mark.parametrize("machine", ["", *(name for name in machine_names() if name != "schoolroom")])
def test_every_symbol_of_the_sheet_is_marked_where_it_stands(machine: str) -> None:
    panel = opened(machine)
    for mark, symbol in symbol_marks(panel.names).items():
        go(panel, "sheet")
        said = go(panel, mark)
        assert marked(panel, "place") == {mark}, symbol
        view = re.search(r"Look at the (.+?)(?: and at the .+)?: rings show its terminals", said)
        assert view, said
        at = next(at for at, words in panel.view["places"] if words == view[1])
        go(panel, at)
        assert {panel.names.terminal(spot).rpartition(".")[0] for spot in marked(panel, "point")} == {
            "Box" if " coil " in symbol else symbol
        }


def test_a_probe_on_a_terminal_marks_all_that_is_joined_there() -> None:
    panel = opened()
    go(panel, "box-1")
    panel.receive({"act": "place", "with": {"probe": "A", "spot": "T0"}})
    go(panel, "sheet")
    marks = symbol_marks(panel.names)
    assert [marks[one] for one in sorted(marked(panel, "place"), key=list(marks).index)] == [
        "p coil q", "r coil q", "s coil q"]  # fmt: skip


def test_a_pick_is_no_act() -> None:
    panel = opened()
    before = len(panel.bench.trail)
    go(panel, "sheet")
    go(panel, "part-1")
    assert len(panel.bench.trail) == before


def test_outside_practice_nothing_is_picked_and_nothing_marked() -> None:
    panel = opened(practice=False)
    go(panel, "sheet")
    assert "part-" not in str(panel.drawing["svg"])
    panel.receive({"act": "go", "with": {"at": "part-1"}})
    assert panel.view["refused"]
    go(panel, "box-1")
    panel.receive({"act": "place", "with": {"probe": "A", "spot": "T0"}})
    assert marked(panel, "point") == set()
