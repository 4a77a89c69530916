"""What is seen, and what moves while it is touched."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine
from dryerbench.bench.senses import LOOKS
from dryerbench.bench.worksite import BenchError


def opened(*faults: str, cord: str = "four-wire") -> Bench:
    bench = Bench(Machine(cord=cord), faults)
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off", "prove_meter"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    return bench


def seen(bench: Bench, place: str) -> str:
    return "; ".join(bench.do("look", place=place)["happened"])


@pytest.mark.parametrize(
    ("fault", "place", "words", "sound"),
    [
        ("burnt-joint", "terminal block", "brown", "clean"),
        ("missing-bond", "terminal block", "off the cabinet", "is on the cabinet"),
        ("strap-left-on", "terminal block", "a strap connects", "no strap connects"),
        ("thin-cord", "outside", "extension cord", "straight to the receptacle"),
        ("element-2-open", "heater box", "coil 2 is broken", "whole and clear"),
        ("element-3-grounded", "heater box", "coil 3 touches its frame", "whole and clear"),
        ("element-1-shorted", "heater box", "coil 1 has shorted turns", "whole and clear"),
        ("leakage-to-case", "heater box", "damp", "whole and clear"),
    ],
)
def test_a_fault_that_shows_is_seen_and_a_sound_machine_looks_sound(
    fault: str, place: str, words: str, sound: str
) -> None:
    for bench, wanted in ((opened(fault), words), (opened(), sound)):
        for wire in ("wire T0", "wire T1", "wire T2", "wire T3"):
            bench.do("pull_wire", wire=wire)
        assert wanted in seen(bench, place)


def test_a_blown_cut_off_looks_like_a_sound_one() -> None:
    assert seen(opened("cut-off-blown"), "heat switches") == seen(opened(), "heat switches")


def test_a_three_wire_machine_has_its_strap_and_no_green_wire() -> None:
    assert seen(opened(cord="three-wire"), "terminal block").endswith("a strap connects neutral to the cabinet")
    assert "no strap" in seen(opened("strap-missing", cord="three-wire"), "terminal block")


def test_what_is_covered_cannot_be_seen() -> None:
    bench = Bench()
    for place in set(LOOKS) - {"outside", "plug"}:
        with pytest.raises(BenchError, match="cover on"):
            bench.do("look", place=place)
    with pytest.raises(BenchError, match="Pull the plug"):
        bench.do("look", place="plug")
    with pytest.raises(BenchError, match="not at 'moon'"):
        bench.do("look", place="moon")
    with pytest.raises(BenchError, match="T0 to T3"):
        opened().do("look", place="heater box")


@pytest.mark.parametrize(("act", "given"), [("wiggle", {"wire": "cord"}), ("tap", {"part": "terminal block"})])
def test_a_burnt_joint_moves_its_reading_and_a_sound_one_does_not(act: str, given: dict[str, str]) -> None:
    moving, still = opened("burnt-joint"), opened()
    for bench in (moving, still):
        bench.do("set_dial", mode="ohms")
    words = moving.do(act, a="plug-1", b="L1", **given)["happened"][-1]
    assert "jumps between" in words
    assert len(moving.trail[-1]["readings"]) == 3
    assert "reading" not in moving.trail[-1]
    assert "stays at" in still.do(act, a="plug-1", b="L1", **given)["happened"][-1]
    assert moving.findings == still.findings == []


def test_the_wrong_wire_moves_nothing() -> None:
    bench = opened("burnt-joint")
    bench.do("set_dial", mode="ohms")
    assert "stays at" in bench.do("wiggle", wire="wire T1", a="plug-1", b="L1")["happened"][-1]
    with pytest.raises(BenchError, match="no wire 'tail' to move"):
        bench.do("wiggle", wire="tail", a="plug-1", b="L1")
    with pytest.raises(BenchError, match="not 'soul'"):
        bench.do("tap", part="soul", a="plug-1", b="L1")


def test_hands_that_wiggle_follow_the_rules_of_hands() -> None:
    bench = Bench()
    for act in ("gear_on", "cover_off"):
        bench.do(act)
    bench.do("wiggle", wire="wire H1", a="L1", b="H1")
    assert "hands-on-live" in {one.name for one in bench.findings}


def test_a_tag_stays_on_its_wire() -> None:
    bench = opened()
    bench.do("tag_wire", wire="wire T1", text=" left spade ")
    assert bench.tags == {"wire T1": "left spade"}
    for text in ("", "x" * 30, "two\nlines", 7):
        with pytest.raises(BenchError, match="1 to 24 letters"):
            bench.do("tag_wire", wire="wire T1", text=text)
    with pytest.raises(BenchError, match="no wire 'tail'"):
        bench.do("tag_wire", wire="tail", text="x")
    with pytest.raises(BenchError, match="behind the cover"):
        Bench().do("tag_wire", wire="wire T1", text="x")
