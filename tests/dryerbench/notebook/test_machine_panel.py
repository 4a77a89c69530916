"""The panel of a drawn machine does by press what code does, writes the same trail, and says what cannot be done."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from IPython.core.interactiveshell import InteractiveShell

from dryerbench.bench.acts import ACTS, DETAILS
from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.worksite import faults_on
from dryerbench.core.random_stream import Stream
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook import machine_panel as module
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.machine_scene import DIAL, WORDS
from dryerbench.notebook.panel_lists import ALL

JOB: tuple[tuple[str, dict[str, Any]], ...] = (
    ("unplug", {}),
    ("prove_meter", {}),
    ("test_dead", {"where": "plug"}),
    ("prove_meter", {}),
    ("cover_off", {}),
    ("pull_wire", {"wire": "wire T1"}),
    ("set_dial", {"mode": "ohms", "full_scale": None}),
)


def worked() -> MachinePanel:
    panel = MachinePanel(Bench(faults=["element-1-open"]))
    for act, with_ in JOB:
        panel.receive({"act": act, "with": with_})
    return panel


def place(panel: MachinePanel, probe: str, spot: str, *, alone: bool = False) -> None:
    panel.receive({"act": "place", "with": {"probe": probe, "spot": spot, "alone": alone}})


def read(panel: MachinePanel) -> list[dict[str, object]]:
    return [act["with"] for act in panel.bench.trail if act["act"] == "probe"]


def test_panel_and_code_write_the_same_trail() -> None:
    panel, bench = worked(), Bench(faults=["element-1-open"])
    for act, with_ in JOB:
        bench.do(act, **with_)
    place(panel, "A", panel.names.spot_of["T1"])
    place(panel, "B", panel.names.spot_of["T0"])
    bench.ohms("T1", "T0")
    assert panel.bench.trail == bench.trail
    assert panel.view["reading"]["shown"] == "OL"
    assert panel.view["minutes"] == bench.minutes


@pytest.mark.parametrize("name", machine_names())
def test_every_cover_comes_off_in_order_by_press_and_goes_on_again(name: str) -> None:
    bench = Bench(on_the_bench(drawn_machine(arrangement(name), Stream(name), name)))
    panel = MachinePanel(bench, named=False)
    for at in ("plug", "breaker"):
        panel.receive({"act": "press", "with": {"at": at}})
    assert not panel.view["plugged"]
    assert not panel.view["breaker_on"]
    covers = [at for at, _ in panel.menu["covers"]]
    for at in covers:
        panel.receive({"act": "press", "with": {"at": at}})
        assert not panel.view["refused"], panel.view["said"]
    assert panel.view["covers_off"] == covers
    for at, _ in panel.view["places"]:
        panel.receive({"act": "go", "with": {"at": at}})
        assert panel.drawing["at"] == at
    acts = len(bench.trail)
    for at in reversed(covers):
        panel.receive({"act": "press", "with": {"at": at}})
    assert panel.view["covers_off"] == []
    assert len(bench.trail) == acts + len(covers)
    assert panel.drawing["at"] in ("front", "rear", "wall")


def test_the_first_probe_of_a_pair_lifts_the_other_and_one_alone_does_not() -> None:
    panel = worked()
    place(panel, "A", "T1")
    assert panel.view["said"] == "Probe A is on T1. Now the other one."
    place(panel, "B", "T0")
    place(panel, "A", "case")
    assert panel.view["tip_words"] == {"A": "cabinet", "B": ""}
    place(panel, "B", "T0")
    place(panel, "A", "T2", alone=True)
    assert panel.view["tip_words"] == {"A": "T2", "B": "T0"}
    assert read(panel) == [{"a": "T1", "b": "T0"}, {"a": "case", "b": "T0"}, {"a": "T2", "b": "T0"}]
    panel.receive({"act": "again"})
    assert len(read(panel)) == 4
    panel.receive({"act": "lift"})
    panel.receive({"act": "again"})
    assert panel.view["refused"]
    assert "both probes" in panel.view["said"]


def test_a_refused_act_is_one_line_and_leaves_no_trail() -> None:
    panel = MachinePanel(Bench())
    panel.receive({"act": "plug_in", "with": {}, "turn": 3})
    assert panel.view["refused"]
    assert panel.view["said"] == "The plug is in already."
    assert panel.view["turn"] == 3
    place(panel, "A", "T1")
    assert "T1 is behind the cover" in panel.view["said"]
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    assert "behind a cover" in panel.view["said"]
    panel.receive({"act": "press", "with": {"at": "cover-99"}})
    assert panel.view["refused"]
    assert panel.bench.trail == []
    panel.receive({"act": "unplug", "with": {}})
    assert not panel.view["refused"]


def test_probes_come_off_what_is_closed_again_and_one_stands_before_the_machine() -> None:
    panel = worked()
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    place(panel, "A", "T1")
    place(panel, "B", "case")
    panel.receive({"act": "cover_on", "with": {}})
    assert panel.view["tip_words"] == {"A": "", "B": "cabinet"}
    assert panel.drawing["at"] == "front"


def test_every_setting_of_the_bench_has_its_place_on_the_dial() -> None:
    panel = worked()
    for at, mode in DIAL.items():
        panel.receive({"act": "dial", "with": {"at": at}})
        assert panel.bench.mode == mode
        assert panel.view["dial"] == at
    assert {WORDS[mode] for mode in DIAL.values()} == set(DIAL)
    acts = len(panel.bench.trail)
    for at in ("off", "clamp", "temp"):
        panel.receive({"act": "dial", "with": {"at": at}})
        assert panel.view["dial"] == at
        place(panel, "A", "T1")
        place(panel, "B", "T0")
        assert panel.view["refused"]
        assert f"dial is on {at}" in panel.view["said"]
    assert len(panel.bench.trail) == acts
    panel.receive({"act": "dial", "with": {"at": "500 V"}})
    assert len(panel.bench.trail) == acts
    panel.receive({"act": "clamp", "with": {"conductor": "cord"}})
    assert panel.view["dial"] == "clamp"


def test_the_three_keys_of_the_meter() -> None:
    panel = worked()
    seen = []
    for _ in range(12):
        panel.receive({"act": "key", "with": {"name": "range"}})
        seen.append(panel.bench.full_scale)
        if seen[-1] is None:
            break
    assert seen[-1] is None
    assert len(set(seen)) == len(seen) > 3
    panel.receive({"act": "key", "with": {"name": "relative"}})
    assert panel.view["nulled"]
    place(panel, "A", "T2")
    place(panel, "B", "T0")
    first = panel.view["reading"]
    panel.receive({"act": "key", "with": {"name": "hold"}})
    panel.receive({"act": "pull_wire", "with": {"wire": "wire T2"}})
    held = panel.view["reading"]
    assert (held["shown"], held["held"], held["old"]) == (first["shown"], True, False)
    panel.receive({"act": "key", "with": {"name": "hold"}})
    assert panel.view["reading"]["old"]
    panel.receive({"act": "key", "with": {"name": "fly"}})
    assert panel.view["refused"]


def test_parts_are_held_at_fahrenheit() -> None:
    panel = worked()
    panel.receive({"act": "warm_parts", "with": {"fahrenheit": 122}})
    assert panel.bench.trail[-1]["with"] == {"celsius": 50.0}
    assert panel.view["fahrenheit"] == 122
    for wrong in ("nothing", True, 900, None):
        panel.receive({"act": "warm_parts", "with": {"fahrenheit": wrong}})
        assert "°F" in panel.view["said"]
        assert panel.view["refused"]


def test_everything_listed_for_the_lessons_dryer_can_be_done() -> None:
    menu = MachinePanel(Bench()).menu
    for part, _ in menu["parts"]:
        panel = worked()
        panel.receive({"act": "replace_part", "with": {"part": part}})
        assert not panel.view["refused"], panel.view["said"]
    panel = worked()
    for token, _, off, spots in panel.view["wires"]:
        assert spots or token == "ground wire"
        panel.receive({"act": "wire", "with": {"wire": token}})
        assert not panel.view["refused"], panel.view["said"]
        assert {one[0]: one[2] for one in panel.view["wires"]}[token] is not off
        panel.receive({"act": "clamp", "with": {"conductor": token}})
        assert not panel.view["refused"], panel.view["said"]
    panel = worked()
    for heat, _ in menu["heats"]:
        panel.receive({"act": "ask_heat", "with": {"heat": heat}})
        assert panel.view["heat"] == heat


@pytest.mark.parametrize("named", [True, False])
@pytest.mark.parametrize("name", ["cabin", "closet"])
def test_every_act_of_the_list_more_can_be_asked_for(name: str, named: bool) -> None:
    """What no part of the machine has, a reset button, is not offered."""
    bench = Bench(on_the_bench(drawn_machine(arrangement(name), Stream(name), "tried")))
    panel = MachinePanel(bench, named=named)
    listed = panel.menu["more"]
    assert [one["act"] for one in listed] == [one for one in ALL.more if one != "reset" or name == "closet"]
    for one in listed:
        with_ = {field["name"]: (field["choices"] or [["a tag", ""]])[0][0] for field in one["fields"]}
        panel.receive({"act": one["act"], "with": with_, "turn": 1})
        assert "needs:" not in panel.view["said"]
        assert "does not know" not in panel.view["said"]
        assert "no such" not in panel.view["said"], one["act"]
        assert panel.view["said"]


@pytest.mark.parametrize("named", [True, False])
def test_a_reset_and_a_tightened_joint_are_done_from_the_list_more(named: bool) -> None:
    machine = on_the_bench(drawn_machine(arrangement("closet"), Stream("closet"), "tried"))
    lead = next(wire.name for wire in arrangement("closet").wires if "Box." in f"{wire.a}{wire.b}")
    bench = Bench(machine, ["manual-tripped@Man", f"spade-loose@{lead.removeprefix('wire ')}=20"])
    panel = MachinePanel(bench, named=named)
    for act in ("unplug", "prove_meter", "cover_off"):
        panel.receive({"act": act, "with": {}})
    fields = {one["act"]: {field["name"]: field["choices"] for field in one["fields"]} for one in panel.menu["more"]}
    ((part, _),) = fields["reset"]["part"]
    panel.receive({"act": "reset", "with": {"part": part}})
    assert "the button stays in with a click" in panel.view["said"]
    for wire, _ in fields["tighten"]["wire"]:
        panel.receive({"act": "tighten", "with": {"wire": wire}})
        assert not panel.view["refused"], panel.view["said"]
    assert not faults_on(bench)
    assert [act["act"] for act in bench.trail].count("reset") == 1


def test_an_end_to_the_acts() -> None:
    panel = MachinePanel(Bench())
    for turn in range(401):
        panel.receive({"act": "unplug" if turn % 2 == 0 else "plug_in", "with": {}})
    assert len(panel.bench.trail) == 400
    assert "400 acts" in panel.view["said"]
    panel.receive({"act": "key", "with": {"name": "range"}})
    panel.receive({"act": "dial", "with": {"at": "ohms"}})
    assert len(panel.bench.trail) == 400


_JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)
_KEYS = sorted(
    {key for keys in DETAILS.values() for key in keys} | {"probe", "spot", "alone", "at", "name", "fahrenheit"}
)
_PANEL = MachinePanel(Bench())


@settings(max_examples=150, deadline=None)
@given(
    _JUNK
    | st.fixed_dictionaries(
        {
            "act": st.sampled_from([*ACTS, "place", "lift", "again", "go", "press", "wire", "dial", "key"]) | _JUNK,
            "with": st.dictionaries(st.sampled_from(_KEYS), _JUNK, max_size=3) | _JUNK,
            "turn": _JUNK,
        }
    )
)
def test_nothing_that_the_page_sends_breaks_the_panel(content: object) -> None:
    _PANEL.receive(content)
    assert isinstance(_PANEL.view["said"], str)
    assert "\n" not in _PANEL.view["said"]


@pytest.fixture
def shell() -> Iterator[InteractiveShell]:
    made = InteractiveShell.instance()
    yield made
    InteractiveShell.clear_instance()


def test_acts_by_code_are_shown_after_the_cell(shell: InteractiveShell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "get_ipython", lambda: shell)
    bench = Bench()
    panel = MachinePanel(bench)
    bench.do("unplug")
    assert panel.view["plugged"]
    shell.events.trigger("post_run_cell", None)
    assert not panel.view["plugged"]


def test_a_press_that_a_page_sends_again_is_done_once() -> None:
    panel = MachinePanel(Bench())
    first = {"act": "unplug", "with": {}, "turn": 1, "page": "one"}
    panel.receive(first)
    panel.receive({"act": "press", "with": {"at": "plug"}, "turn": 3, "page": "one"})
    panel.receive(first)
    assert [act["act"] for act in panel.bench.trail] == ["unplug", "plug_in"]
    assert (panel.view["turn"], panel.view["page"]) == (1, "one")
    panel.receive({"act": "press", "with": {"at": "plug"}, "turn": 2, "page": "one"})  # it came late
    panel.receive({**first, "act": "plug_in", "page": "two"})
    assert [act["act"] for act in panel.bench.trail] == ["unplug", "plug_in", "unplug", "plug_in"]


def test_a_probe_that_is_no_name_is_said_in_one_line() -> None:
    panel = MachinePanel(Bench())
    panel.receive({"act": "place", "with": {"probe": [], "spot": "case"}, "turn": 1})
    assert panel.view["refused"]


def test_an_act_that_nothing_follows_from_is_said_too() -> None:
    panel = MachinePanel(Bench())
    panel.receive({"act": "unplug", "with": {}, "turn": 1})
    assert panel.view["said"] == "Done: pull the plug and keep it in sight."


def test_the_page_asks_for_acts_that_exist() -> None:
    text = module.SCRIPT
    sent = set(re.findall(r'send\("(\w+)"', text))
    sent |= {act for pair in re.findall(r'toggle\(.*", "(\w+)"\], \[.*", "(\w+)"\]', text) for act in pair}
    own = {"place", "lift", "again", "start_again", "go", "press", "wire", "dial", "key"}
    known = set(ACTS) | own
    assert sent <= known
    # pulled by "wire", turned by "dial", put on and off one by one by "press", named in a box of its own
    assert known - sent == {"name_fault", "probe", "pull_wire", "put_back_wire", "set_dial", *ALL.more}
