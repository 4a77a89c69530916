"""Any machine of the family stands on the bench: acts, readings, heat, covers, looks and safety as on the lessons'."""

from __future__ import annotations

import pytest

from dryerbench.bench.access import arrangement_of, behind, covers_before, pullable, replaceable
from dryerbench.bench.acts import heats_of
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.faults import FaultError, catalogue, read_fault
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.probing import case_is_fed
from dryerbench.bench.schoolroom import schoolroom
from dryerbench.bench.senses import looks
from dryerbench.bench.situation import Situation, settle
from dryerbench.bench.states import State
from dryerbench.bench.worksite import BenchError, situation_on
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard
from dryerbench.family.readings import plain_value
from dryerbench.family.shelf import arrangement, machine_names

OTHERS = [name for name in machine_names() if name != "schoolroom"]


def machine(name: str) -> Machine:
    return on_the_bench(standard(arrangement(name)))


def dead(name: str, *faults: str) -> Bench:
    """Return a bench at which the machine stands dead and open, tested, the gloves on."""
    bench = Bench(machine(name), faults)
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "gear_on", "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    bench.do("set_dial", mode="ohms")
    return bench


@pytest.mark.parametrize("name", OTHERS)
def test_a_load_is_begun_and_heats(name: str) -> None:
    bench = Bench(machine(name))
    for act, given in (("ask_heat", {"heat": heats_of(bench)[0]}), ("press_start", {}), ("let_run", {})):
        done = bench.do(act, **given)
    assert bench.state.running
    assert "warm air comes out" in done["happened"]
    assert bench.clamp("cord").value == pytest.approx(0.0, abs=0.5)
    assert bench.state.exhaust_celsius > 35.0
    assert not bench.findings


@pytest.mark.parametrize("name", OTHERS)
def test_the_sheet_is_read_on_the_bench(name: str) -> None:
    """With every wire off each coil reads what its sheet promises, on the bench's own meter."""
    bench = dead(name)
    for wire in pullable(machine(name)):
        if wire != "ground wire":
            bench.do("pull_wire", wire=wire)
    made = arrangement(name)
    for coil in made.coils:
        reading = bench.ohms(*coil.ends)
        assert reading.low <= coil.ohms <= reading.high
    assert bench.ohms(made.box_terminals[0], "case").shown == "OL"
    assert not [one for one in bench.findings if one.gate]
    alone = [one for one in made.sheet if one.what == "between" and one.state == "alone"]
    for one in alone:
        reading = bench.ohms(*one.places)
        wanted = plain_value(one.value)
        assert reading.value is None if one.value == "OL" else reading.value == pytest.approx(wanted, rel=0.03, abs=0.6)


@pytest.mark.parametrize("name", OTHERS)
def test_every_fault_can_stand_on_the_bench_and_be_replaced(name: str) -> None:
    there = machine(name)
    for fault in faults_of(arrangement(name)):
        one = read_fault(str(fault), there)
        assert str(one) == str(fault)
        assert catalogue(one.name)["part"] in replaceable(there)
        bench = Bench(there, [one])
        bench.do("unplug")
        bench.do("cover_off")
        bench.do("replace_part", part=str(catalogue(one.name)["part"]))
        assert situation_on(bench).faults == (one,) or not situation_on(bench).faults


@pytest.mark.parametrize("name", OTHERS)
def test_every_point_has_a_cover_and_every_cover_bares_its_points(name: str) -> None:
    there = machine(name)
    covers = {cover.name for cover in arrangement_of(there).covers}
    for point, place in behind(there).items():
        if place == "cover":
            (names_of,) = covers_before(there, point)
            assert names_of <= covers
            assert names_of
    bench = Bench(there)
    bench.do("unplug")
    for cover in arrangement_of(there).covers:
        if cover.after and cover.after not in bench.covers_off:
            with pytest.raises(BenchError, match="comes off before"):
                bench.do("cover_off", cover=cover.name)
            bench.do("cover_off", cover=cover.after)
        if cover.name not in bench.covers_off:
            bench.do("cover_off", cover=cover.name)
    assert bench.covers_off == covers
    bench.do("cover_on")
    assert not bench.cover_off


def test_behind_its_own_cover_a_point_cannot_be_reached() -> None:
    bench = Bench(machine("cellar"))
    bench.do("unplug")
    bench.do("cover_off", cover="small rear plate")
    assert bench.ohms("L1", "N").shown == "OL"
    with pytest.raises(BenchError, match="behind the cover"):
        bench.ohms("Box.p", "Box.q")
    with pytest.raises(BenchError, match="no cover 'lid'"):
        bench.do("cover_off", cover="lid")
    for cover in ("top", "front"):
        bench.do("cover_off", cover=cover)
    with pytest.raises(BenchError, match="goes on before"):
        bench.do("cover_on", cover="top")


def test_the_lessons_dryer_has_its_covers_too() -> None:
    bench = Bench(Machine())
    bench.do("unplug")
    bench.do("cover_off", cover="console back")
    assert bench.ohms("H1", "H2").shown == "OL"
    with pytest.raises(BenchError, match="behind the cover"):
        bench.ohms("T1", "T0")
    assert bench.trail[1]["minutes"] == pytest.approx(0.5 + 4 * 0.3)
    whole = Bench(Machine())
    whole.do("unplug")
    assert whole.do("cover_off")["minutes"] == 5
    assert whole.covers_off == {cover.name for cover in schoolroom().covers}


def test_a_trail_is_replayed_on_its_machine() -> None:
    bench = dead("pantry", "coil-open-of-several@p-q")
    bench.do("ask_heat", heat="low")
    first = bench.ohms("Box.p", "Box.q").shown
    again = replay(machine("pantry"), bench.trail, ["coil-open-of-several@p-q"])
    assert again.trail[-1]["reading"]["shown"] == first
    assert [act["facts"] for act in again.trail] == [act["facts"] for act in bench.trail]


def test_relays_follow_the_volts_and_a_lost_leg_leaves_them_out() -> None:
    running = State(running=True, calling=True)
    sound, _ = settle(machine("garage"), [], running)
    coil = next(part.name for part in arrangement("garage").of_kind("relay coil"))
    broken, _ = settle(machine("garage"), [read_fault(f"relay-coil-open@{coil}", machine("garage"))], running)
    assert abs(sound.live.amps("coil p-q")) > 20.0
    assert abs(broken.live.amps("coil p-q")) < 0.1
    lost, happened = settle(machine("pantry"), [read_fault("leg-2-lost", machine("pantry"))], running)
    assert not lost.state.running or not happened


def test_a_loose_spade_is_found_by_moving_its_wire() -> None:
    made = arrangement("workshop")
    fault = next(fault for fault in faults_of(made) if fault.name == "spade-loose")
    wire = f"wire {fault.on}"
    far, near = fault.on.split("-")
    for faults, says in (((str(fault),), "jumps between"), ((), "stays at")):
        bench = dead("workshop", *faults)
        assert says in bench.do("wiggle", wire=wire, a=far, b=near)["happened"][-1]
        assert says.split()[0] in bench.do("tap", part="heater box", a=far, b=near)["happened"][-1]
        assert (bench.ohms(far, near).value or 0.0) < 1.0, "at rest it reads right"


def test_a_loose_spade_is_found_on_the_lessons_dryer_too() -> None:
    bench = Bench(Machine(), ["spade-loose@Lim.2-Box.p=50"])
    for act in ("unplug", "cover_off"):
        bench.do(act)
    bench.do("set_dial", mode="ohms")
    assert "jumps between" in bench.do("wiggle", wire="wire T1", a="H8", b="T1")["happened"][-1]
    assert "stays at" in bench.do("wiggle", wire="wire T2", a="H8", b="T1")["happened"][-1]


def test_what_faults_show_is_seen_where_they_are() -> None:
    bench = dead("mudroom", "coil-touches@p-q")
    assert "the coil is off its insulator" in bench.do("look", place="box")["happened"]
    assert "box" in looks(bench)
    with pytest.raises(BenchError, match="cover on"):
        Bench(machine("mudroom")).do("look", place="box")


def test_a_clogged_blower_blows_the_cut_off_and_it_stays_open() -> None:
    bench = Bench(machine("cellar"), ["limit-stuck", "vent-restricted=0.8"])
    bench.do("ask_heat", heat="high")
    bench.do("press_start")
    said = [words for _ in range(6) for words in bench.do("let_run")["happened"]]
    assert "the one-shot switch Cut blows" in said
    bench.do("stop")
    bench.do("cool_down")
    assert "Cut" in bench.state.tripped
    bench.do("unplug")
    bench.do("cover_off")
    bench.do("replace_part", part="Cut")
    assert "Cut" not in bench.state.tripped


def test_bad_words_get_one_line() -> None:
    with pytest.raises(FaultError, match=r"coil p|has no|cannot have|hangs on"):
        Bench(machine("cellar"), ["coil-open@x-y"])
    with pytest.raises(BenchError, match="settings high, low, air fluff and off"):
        Bench(machine("cellar")).do("ask_heat", heat="mid")
    with pytest.raises(BenchError, match="a dial"):
        Bench(machine("cellar")).do("stored_fault")
    with pytest.raises(BenchError, match="no test point 'T0'"):
        dead("cellar").ohms("T0", "case")


@pytest.mark.parametrize("name", machine_names())
def test_starting_a_sound_machine_is_no_path_to_its_case(name: str) -> None:
    """The neutral's drop at the start lifts a bonded case for a moment; a lost neutral is another thing."""
    there = machine(name)
    started = Situation(there, (), State(calling=True, start_pressed=True))
    assert not case_is_fed(started)
    if there.cord == "three-wire":
        lost = read_fault("neutral-lost-three-wire", there)
        assert case_is_fed(Situation(there, (lost,), started.state))


@pytest.mark.parametrize("name", OTHERS)
def test_a_dials_contact_closes_by_hand_and_a_relay_is_open_without_power(name: str) -> None:
    """Read dead, turned to heat: right is 0 Ω for the dial's contact and OL for a relay."""
    bench, made = dead(name), arrangement(name)
    for wire in pullable(machine(name)):
        if wire != "ground wire":
            bench.do("pull_wire", wire=wire)
    bench.do("ask_heat", heat=made.heats[0])
    parts = made.of_kind("heat contact", "heat relay")
    assert parts
    for part in parts:
        shown = bench.ohms(f"{part.name}.1", f"{part.name}.2")
        assert (shown.shown == "OL") == (part.kind.name == "heat relay")
        assert shown.value is None or shown.value < 1.0
