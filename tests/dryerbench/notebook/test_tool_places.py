"""Clamp and temperature probe on the desk: a press is the act of the list, and what is put comes off again."""

from __future__ import annotations

from typing import Any

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.panel_lists import lists_of
from dryerbench.notebook.tool_places import bead_place, jaw_place, place_of, probe_choices

from .test_machine_names import stood


def opened(*, named: bool = True) -> MachinePanel:
    panel = MachinePanel(Bench() if named else stood("cabin"), named=named)
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    return panel


def done(panel: MachinePanel, act: str, **given: Any) -> str:
    panel.receive({"act": act, "with": given})
    assert not panel.view["refused"], panel.view["said"]
    return str(panel.view["said"])


def test_a_wire_that_is_chosen_by_its_name_is_clamped_where_one_looks() -> None:
    panel = opened()
    done(panel, "go", at="block")
    done(panel, "clamp", conductor="wire H1")
    at_block = panel.look.jaw
    assert at_block.startswith("block-1/")
    done(panel, "go", at="console")
    done(panel, "clamp", conductor="wire H1")
    assert panel.look.jaw.startswith("console-")
    assert [act["with"] for act in panel.bench.trail[-2:]] == [{"conductor": "wire H1"}] * 2
    assert jaw_place(panel.names, "wire H1", "front") in panel.names.wire_of


def test_the_cords_wires_and_its_ground_are_clamped_at_the_block() -> None:
    panel = opened()
    for conductor, place in (("cord 1", "block-1/cord"), ("cord 2", "block-3/cord"), ("cord N", "block-2/cord"),
                             ("ground wire", "ground wire"), ("cord", "cord")):  # fmt: skip
        done(panel, "clamp", conductor=conductor)
        assert panel.look.jaw == place
        done(panel, "clamp", conductor=place)
        assert panel.bench.trail[-1]["with"] == panel.bench.trail[-2]["with"] == {"conductor": conductor}


def test_the_clamp_comes_off_with_the_wire_the_cover_the_dial_and_by_hand() -> None:
    for act, given in (
        ("wire", {}),
        ("cover_on", {}),
        ("dial", {"at": "volts"}),
        ("dial", {"at": "temp"}),
        ("lift", {}),
        ("temperature", {"spot": "room"}),
    ):
        panel = opened(named=False)
        done(panel, "go", at="box-1")
        token = panel.view["wires"][0][0]
        done(panel, "clamp", conductor=token)
        assert panel.view["put"]["clamp"].startswith("the ")
        done(panel, act, **(given or ({"wire": token} if act == "wire" else {})))
        assert panel.look.jaw == ""
        assert panel.view["put"]["clamp"] == ""


def test_at_a_terminal_the_words_say_the_end_that_was_pressed() -> None:
    panel = opened(named=False)
    for at, _ in panel.view["places"]:
        done(panel, "go", at=at)
        for token, *_ in panel.view["wires"]:
            if "/" in token:
                said = done(panel, "clamp", conductor=token)
                seat = panel.names.at_spot(token.partition("/")[0])
                assert f"wire at {seat}: " in said
                assert panel.view["reading"]["of"].endswith(seat)


def test_read_again_repeats_the_act_of_the_tool_in_hand() -> None:
    panel = opened(named=False)
    done(panel, "dial", at="clamp")
    panel.receive({"act": "again"})
    assert panel.view["said"] == "Press a wire first."
    done(panel, "clamp", conductor="block-2/cord")
    done(panel, "again")
    done(panel, "dial", at="temp")
    panel.receive({"act": "again"})
    assert panel.view["said"] == "Press a place for the probe first."
    done(panel, "temperature", spot="box-1-body-1", unit="°C")
    done(panel, "again")
    acts = [(act["act"], act["with"]) for act in panel.bench.trail[2:]]
    assert acts[0] == acts[1] == ("clamp", {"conductor": "cord N"})
    assert acts[2] == acts[3] == ("temperature", {"spot": "Lim", "unit": "°C"})


def test_the_probes_old_and_new_words_lead_to_one_place() -> None:
    names = opened().names
    assert place_of(names, "limit") == "limit"
    assert bead_place(names, "limit") == bead_place(names, "high limit") != ""
    for spot, words in probe_choices(names):
        assert place_of(names, words) == place_of(names, spot)
    panel = opened(named=False)
    for wrong in ("Lim", "Box.p", "block", "box-1-body-99", "", None, 3, ["room"]):
        panel.receive({"act": "temperature", "with": {"spot": wrong}})
        assert panel.view["said"] == "The temperature probe has no such place on this dryer."
    assert panel.look.bead == ""


@pytest.mark.parametrize("named", [True, False])
def test_every_choice_of_the_list_is_read_and_drawn(named: bool) -> None:
    panel = opened(named=named)
    assert len(panel.menu["warm"]) > 5
    for spot, words in panel.menu["warm"]:
        said = done(panel, "temperature", spot=spot)
        assert said.startswith(f"The temperature probe is at {words}: ")
        assert panel.look.bead == spot
        assert panel.view["put"]["temp"] == words
        assert panel.view["dial"] == "temp"


def test_a_refused_clamp_or_probe_moves_nothing() -> None:
    panel = MachinePanel(stood("cabin"), named=False)
    done(panel, "clamp", conductor="cord")
    for act, given in (
        ("clamp", {"conductor": "block-1/cord"}),
        ("clamp", {"conductor": "box-1-1-1/1"}),
        ("clamp", {"conductor": "wire Lim.2-Cut.1"}),
        ("clamp", {"conductor": None}),
        ("temperature", {"spot": "box-1-body-1"}),
        ("temperature", {"spot": "room", "unit": "K"}),
    ):
        panel.receive({"act": act, "with": given})
        assert panel.view["refused"], act
        assert panel.look.jaw == "cord"
        assert panel.look.bead == ""
    assert len(panel.bench.trail) == 1


def test_a_lesson_in_which_nothing_runs_has_no_clamp() -> None:
    panel = MachinePanel(Bench(), lists_of("01_made_dead"))
    panel.receive({"act": "dial", "with": {"at": "clamp"}})
    assert "data-jaw" not in panel.drawing["svg"]


def test_in_a_line_splitter_one_conductor_is_clamped_with_every_cover_on() -> None:
    panel = MachinePanel(stood("cabin"), named=False)
    for act in ("unplug", "fit_splitter", "plug_in"):
        done(panel, act)
    done(panel, "dial", at="clamp")
    done(panel, "go", at="wall")
    for place, cord in enumerate(("cord 1", "cord N", "cord 2"), start=1):
        token = f"wall-{place}/cord"
        assert f'data-jaw="{token}"' in panel.drawing["svg"]
        done(panel, "clamp", conductor=token)
        assert panel.bench.trail[-1]["with"] == {"conductor": cord}
        assert not panel.bench.trail[-1]["facts"]["live_bare"]
        done(panel, "clamp", conductor=cord)
        assert panel.look.jaw == token
    assert [one for one in panel.bench.findings if one.gate] == []
    done(panel, "unplug")
    assert panel.look.jaw == ""
