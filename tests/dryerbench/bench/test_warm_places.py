"""The temperature probe reads wherever the heat model has a temperature, and nowhere else."""

from __future__ import annotations

import pytest

from dryerbench.air.drying import BOX
from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.schoolroom import our_name
from dryerbench.bench.warm_places import BOX_METAL, MOTOR, touchable, warm_parts, warm_places, weighs
from dryerbench.bench.worksite import BenchError, heat_on, machine_on
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.hypotheses import seen_on
from dryerbench.diagnosis.paths import from_trail
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

_PROBE = 2.5  # K: the probe's own ±, and what cools in the minutes that reading takes


def stood(name: str) -> Bench:
    return Bench(on_the_bench(drawn_machine(arrangement(name), Stream(f"warm/{name}"), f"warm {name}")))


def ran(name: str, heat: str = "high", minutes: int = 20) -> Bench:
    """Return a machine that ran, its covers off: the runs of a bench last ten minutes."""
    bench = stood(name)
    bench.do("gear_on")
    bench.do("cover_off")
    bench.do("ask_heat", heat=heat)
    bench.do("press_start")
    for _ in range(minutes // 10):
        bench.do("let_run")
    return bench


@pytest.mark.parametrize("name", machine_names())
def test_every_switch_and_sensor_reads_what_it_feels(name: str) -> None:
    bench = ran(name)
    assert bench.state.running
    there = [part for part in arrangement_of(machine_on(bench)).parts if part.kind.feels]
    assert [our_name(machine_on(bench), part.name) for part in there] == list(warm_parts(machine_on(bench)))
    for part in there:
        value = bench.temperature(our_name(machine_on(bench), part.name)).value
        felt = {"exhaust": bench.state.exhaust_celsius, "box": bench.state.limit_celsius}
        assert felt["box"] > felt["exhaust"] + 4 * _PROBE
        assert value == pytest.approx(felt[part.kind.feels], abs=_PROBE), part


@pytest.mark.parametrize("name", machine_names())
def test_the_boxs_sheet_metal_and_the_motor_read_the_models_own_lumps(name: str) -> None:
    bench = ran(name)
    made = arrangement(name)
    assert (BOX_METAL in warm_places(machine_on(bench))) == (len(made.boxes) == 1)
    assert bench.temperature(MOTOR).value == pytest.approx(heat_on(bench).motor, abs=_PROBE)
    assert heat_on(bench).motor > 30.0
    if len(made.boxes) == 1:
        assert bench.temperature(BOX_METAL).value == pytest.approx(heat_on(bench).places[BOX], abs=_PROBE)
        assert heat_on(bench).places[BOX] > bench.state.exhaust_celsius


def test_on_low_the_bias_heater_warms_the_cycling_thermostat_above_the_air() -> None:
    bench = ran("cellar", "low")
    part = next(one.name for one in arrangement("cellar").parts if one.kind.name == "cycling thermostat")
    fuse = next(one.name for one in arrangement("cellar").parts if one.kind.name == "thermal fuse")
    warmed = bench.temperature(part).value - bench.temperature(fuse).value
    assert 5.0 < warmed < 60.0
    assert abs(ran("cellar", "high").temperature(part).value - ran("cellar", "high").temperature(fuse).value) < 2.0


@pytest.mark.parametrize("place", ["terminal block", "block", "drum", "Box.p", "", "coil p-q", 3])
def test_where_the_model_has_no_temperature_there_is_none_to_read(place: str) -> None:
    bench = ran("cabin")
    with pytest.raises(BenchError, match="cannot be put at"):
        bench.temperature(place)


def test_what_is_behind_a_cover_is_not_touched() -> None:
    for name in ("cabin", "workshop", "schoolroom"):
        bench = stood(name)
        inside = [place for place in warm_places(machine_on(bench)) if place not in ("room", "exhaust")]
        assert len(inside) > 3
        for place in inside:
            assert not touchable(bench, place)
            with pytest.raises(BenchError, match="behind the cover"):
                bench.temperature(place)
        assert bench.trail == []
        bench.do("cover_off")
        assert all(touchable(bench, place) for place in inside)


@pytest.mark.parametrize("gloves", [True, False])
def test_a_probe_on_a_part_of_an_open_live_machine_is_live_work_as_a_clamp_is(gloves: bool) -> None:
    found = []
    for act, given in (("temperature", {"spot": "Lim"}), ("clamp", {"conductor": "wire L1-Cen.1"})):
        bench = stood("cabin")
        if gloves:
            bench.do("gear_on")
        bench.do("cover_off")
        bench.do(act, **given)
        assert bench.trail[-1]["facts"]["live_bare"] is not gloves
        found.append([one.what for one in bench.findings])
    assert found[0] == found[1] != []


def test_a_trail_with_the_new_places_is_the_same_when_it_is_done_again() -> None:
    bench = ran("cabin")
    for place in warm_places(machine_on(bench)):
        bench.temperature(place)
    again = replay(machine_on(bench), bench.trail)
    assert [act.get("reading") for act in again.trail] == [act.get("reading") for act in bench.trail]


def test_an_old_trail_reads_the_high_limit_by_its_old_name() -> None:
    bench = Bench()
    bench.do("unplug")
    bench.do("cover_off")
    assert bench.temperature("limit").value == pytest.approx(25.0, abs=_PROBE)


def test_as_evidence_only_what_a_state_has_is_weighed() -> None:
    assert weighs("ohms", ("T0", "T1"))
    assert weighs("temperature", ("limit",))
    bench = Bench()
    bench.do("gear_on")
    bench.do("cover_off")
    bench.temperature("motor")
    assert seen_on(bench.trail) == ()
    before = from_trail(Machine(), []).odds()
    assert from_trail(Machine(), bench.trail).odds() == before
    bench.temperature("exhaust")
    assert len(seen_on(bench.trail)) == 1
