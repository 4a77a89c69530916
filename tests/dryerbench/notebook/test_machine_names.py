"""On an unnamed machine nothing that leaves Python says which terminal is which; what comes back leads to the point."""

from __future__ import annotations

import json
import random
import re

import pytest

from dryerbench.bench.access import behind
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import from_family
from dryerbench.bench.machine import on_the_bench
from dryerbench.bench.senses import LONGEST_TAG
from dryerbench.bench.worksite import machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.machine_names import COIL, NoSuchPlaceError, own_machine_of, own_names
from dryerbench.notebook.machine_panel import MachinePanel
from dryerbench.notebook.tool_places import clamp_places, probe_choices, touched_places

NAMES = tuple(name for name in machine_names() if name != "schoolroom")


def stood(name: str, luck: str = "1") -> Bench:
    return Bench(on_the_bench(drawn_machine(arrangement(name), Stream(f"{name}/{luck}"), f"tried {luck}")))


def leaked(panel: MachinePanel) -> set[str]:
    """Return the names of terminals, wires and coils in all that the page gets."""
    sent = json.dumps([panel.menu, panel.drawing, panel.faces, panel.view], ensure_ascii=False)
    sent = re.sub(r'"(?:svg|locator|colors)": "(?:[^"\\]|\\.)*"', "", sent) + re.sub(
        r"-?\d[\d.]*", "", str(panel.drawing["svg"])
    )
    made = panel.names.own.arrangement
    terminals = [point for point in made.points if "." in point]
    wires = [wire.name for wire in made.wires] + [f"wire {made.motor.name}.s"]
    return {name for name in (*terminals, *wires, *(coil.name for coil in made.coils)) if name in sent}


def everything(panel: MachinePanel, luck: random.Random) -> None:
    """Press everything that the page offers, in an order of luck, with whatever can be chosen."""
    for act in ("unplug", "prove_meter", "cover_off"):
        panel.receive({"act": act, "with": {}})
    spots = [spot for _, there in panel.view["reach"] for spot, _ in there]
    panel.receive({"act": "dial", "with": {"at": "ohms"}})
    for probe, spot in zip("AB", spots, strict=False):
        panel.receive({"act": "place", "with": {"probe": probe, "spot": spot}})
    more = [(one["act"], {f["name"]: luck.choice(f["choices"] or [["a tag", ""]])[0] for f in one["fields"]})
            for one in panel.menu["more"] if one["act"] != "leave"]  # fmt: skip
    tried = [("place", {"probe": luck.choice("AB"), "spot": luck.choice(spots)}) for _ in range(12)]
    tried += [("dial", {"at": at}) for at in ("ohms", "beep", "500 V", "volts", "LoZ", "clamp", "temp", "off", "ohms")]
    tried += [("replace_part", {"part": part}) for part, _ in luck.sample(panel.menu["parts"], 4)] + more
    tried += [("replace_part", {"a": luck.choice(spots), "b": luck.choice(spots)}) for _ in range(4)]
    tried += [
        (act, {}) for act in ("press_start", "let_run", "close_door", "plug_in", "unplug", "cover_on", "cover_off")
    ]
    luck.shuffle(tried)
    for act, given in tried:
        for at, _ in panel.view["places"]:
            if luck.random() < 0.03:
                panel.receive({"act": "go", "with": {"at": at}})
                for token, *_ in panel.view["wires"]:
                    if luck.random() < 0.2:
                        panel.receive({"act": "wire", "with": {"wire": token}})
                        assert leaked(panel) == set()
        panel.receive({"act": act, "with": given})
        assert leaked(panel) == set(), (act, given, panel.view["said"])


@pytest.mark.parametrize("name", NAMES)
def test_no_name_reaches_the_page_whatever_is_pressed(name: str) -> None:
    panel = MachinePanel(stood(name), named=False)
    assert leaked(panel) == set()
    everything(panel, random.Random(name))
    assert len(panel.bench.trail) > 15
    assert any("reading" in act for act in panel.bench.trail)


def test_that_comparison_would_see_a_name() -> None:
    panel = MachinePanel(stood("cabin"), named=True)
    panel.receive({"act": "cover_off"})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    assert any(name.startswith("Box.") for name in leaked(panel))
    assert any(name.startswith("wire ") for name in leaked(panel))


@pytest.mark.parametrize("name", NAMES)
def test_what_is_asked_for_by_a_name_is_refused_without_it(name: str) -> None:
    panel = MachinePanel(stood(name), named=False)
    made = panel.names.own.arrangement
    panel.receive({"act": "cover_off"})
    acts = len(panel.bench.trail)
    for act, given in (
        ("place", {"probe": "A", "spot": made.box_terminals[0]}),
        ("wire", {"wire": made.wires[0].name}),
        ("replace_part", {"part": made.coils[0].name}),
        ("pull_wire", {"wire": made.wires[0].name}),
        ("clamp", {"conductor": made.wires[0].name}),
    ):
        panel.receive({"act": act, "with": given})
        assert panel.view["refused"], act
        assert leaked(panel) == set()
    assert len(panel.bench.trail) == acts


@pytest.mark.parametrize("name", NAMES)
def test_every_spot_is_a_test_point_and_every_test_point_has_one(name: str) -> None:
    bench = stood(name)
    names = own_names(bench, named=False)
    there = set(behind(machine_on(bench)))
    assert set(names.point_at.values()) <= there
    assert there - set(names.spot_of) <= {"plug-G", "outlet-G"}
    seats = names.own.placement.in_order
    assert [names.of_point(seat) for seat in seats if names.own.seats[seat].box == 0] == [
        f"heater box terminal {number}"
        for number in range(1, sum(one.box == 0 for one in names.own.seats.values()) + 1)
    ]


def test_the_lessons_dryer_has_its_names_on_every_terminal_and_wire() -> None:
    names = own_names(Bench(), named=True)
    assert {"T0", "T1", "T2", "T3", "L1", "L2", "N", "case", "plug-1", "outlet-N"} <= set(names.spot_of)
    assert set(behind(machine_on(Bench()))) == set(names.spot_of) - {"low", "B1"}
    assert names.terminal_tags()["Box.q"] == "T0"
    assert "Low.2" not in names.terminal_tags()
    assert names.wire_of["wire T0"] == "wire T0"


def test_the_lessons_dryer_can_stand_there_without_names() -> None:
    panel = MachinePanel(Bench(), named=False)
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    for letter, spot in zip("AB", (seat.spot for seat in panel.names.own.seats.values()), strict=False):
        panel.receive({"act": "place", "with": {"probe": letter, "spot": spot}})
    sent = json.dumps([panel.view["reading"], panel.view["trail"], panel.view["wires"]])
    assert not re.search(r"\b[TH]\d\b", sent)
    assert "heater box terminal" in sent


def test_places_follow_from_the_machine_alone() -> None:
    one, same, other = (own_machine_of(stood("cabin", luck)) for luck in ("1", "1", "2"))
    assert one.seats == same.seats
    assert one.marks == same.marks
    assert (one.seats, one.marks) != (other.seats, other.marks)


def test_a_tag_stands_at_its_wires_terminals_and_in_the_trail() -> None:
    panel = MachinePanel(stood("cabin"), named=False)
    assert panel.menu["tag"] == LONGEST_TAG
    panel.receive({"act": "unplug"})
    panel.receive({"act": "cover_off"})
    panel.receive({"act": "go", "with": {"at": "box-1"}})
    token = panel.view["wires"][0][0]
    panel.receive({"act": "tag_wire", "with": {"wire": token, "text": "back left"}})
    assert panel.view["trail"][-1].endswith(": tag a wire (the slate ring wire at heater box terminal 1, “back left”)")
    assert panel.view["said"].count("back left") == 1
    assert "back left" in panel.drawing["svg"]
    spot = token.partition("/")[0]
    assert "“back left”" in panel.names.at_spot(spot)


def test_where_names_are_shown_nothing_is_tagged() -> None:
    assert MachinePanel(Bench(), named=True).menu["tag"] == 0


def test_a_coil_is_fitted_by_its_ends_and_only_after_a_reading_between_them() -> None:
    bench = stood("cabin")
    names = own_names(bench, named=False)
    coil = names.own.arrangement.coils[0]
    a, b = (names.spot_of[end] for end in coil.ends)
    with pytest.raises(NoSuchPlaceError, match="Read ohms"):
        names.coil_between(a, b)
    bench.do("unplug")
    bench.do("cover_off")
    bench.do("set_dial", mode="ohms")
    bench.do("probe", a=coil.ends[0], b=coil.ends[1])
    assert names.coil_between(b, a) == coil.name
    assert names.of_part(coil.name) == COIL


@pytest.mark.parametrize("name", NAMES)
def test_no_name_reaches_the_page_wherever_clamp_and_probe_of_heat_are_put(name: str) -> None:
    panel = MachinePanel(stood(name), named=False)
    for act in ("unplug", "cover_off"):
        panel.receive({"act": act})
    put = 0
    for at, act, key in (("clamp", "clamp", "conductor"), ("temp", "temperature", "spot")):
        panel.receive({"act": "dial", "with": {"at": at}})
        for view, _ in panel.view["places"]:
            panel.receive({"act": "go", "with": {"at": view}})
            for place in re.findall(r'data-(?:jaw|warm)="([^"]+)"', str(panel.drawing["svg"])):
                panel.receive({"act": act, "with": {key: place}})
                assert not panel.view["refused"], panel.view["said"]
                assert leaked(panel) == set(), (view, place)
                assert panel.view["put"][at]
                put += 1
    assert put > 25
    assert len(panel.bench.trail) == put + 2


@pytest.mark.parametrize("name", machine_names())
def test_where_the_tools_can_be_put_tells_no_fault(name: str) -> None:
    made = on_the_bench(drawn_machine(arrangement(name), Stream(f"{name}/faults"), f"faults {name}"))

    def seen(*faults: str) -> list[object]:
        bench = Bench(made, faults)
        for act in ("unplug", "open_breaker", "cover_off"):
            bench.do(act)
        names = own_names(bench, named=False)
        return [probe_choices(names), clamp_places(names), touched_places(names)]

    sound, faults = seen(), faults_of(arrangement(name))
    assert len(faults) > 30
    for fault in faults:
        assert seen(str(from_family(fault))) == sound, str(fault)
