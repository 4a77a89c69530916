"""The drawn machine shows heat where it is bare and hot, and a burnt joint once it was looked at, never before."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import on_the_bench
from dryerbench.core.random_stream import Stream
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.machine_view.spots import views
from dryerbench.notebook.machine_names import own_names
from dryerbench.notebook.machine_scene import Look, drawn, scene_of

BURNT = {
    name: next(str(fault) for fault in faults_of(arrangement(name)) if fault.kind.name == "spade-burnt")
    for name in machine_names()
}


def bench(name: str, *faults: str) -> Bench:
    return Bench(on_the_bench(drawn_machine(arrangement(name), Stream(f"scene/{name}"), f"scene {name}")), faults)


def shut_off(job: Bench) -> None:
    for act in ("unplug", "prove_meter"):
        job.do(act)
    job.do("test_dead", where="plug")
    job.do("prove_meter")


def opened(job: Bench) -> Bench:
    shut_off(job)
    for cover in own_names(job, named=False).own.covers:
        job.do("cover_off", cover=cover.name)
    return job


def pictures(job: Bench) -> dict[str, object]:
    names = own_names(job, named=False)
    return {at: drawn(names, Look(at))["svg"] for at in ("front", "rear", *views(names.own))}


@pytest.mark.parametrize("name", machine_names())
def test_a_burnt_spade_shows_once_it_was_looked_at_and_not_before(name: str) -> None:
    sound, burnt = opened(bench(name)), opened(bench(name, BURNT[name]))
    assert pictures(burnt) == pictures(sound)
    for job in (sound, burnt):
        job.do("look", place="terminal block")
    assert pictures(burnt) == pictures(sound)  # looked at elsewhere
    for job in (sound, burnt):
        job.do("look", place="box")
    assert scene_of(own_names(sound, named=False), Look()).burnt == frozenset()
    (point,) = scene_of(own_names(burnt, named=False), Look()).burnt
    assert point in arrangement(name).box_terminals
    told, plain = pictures(burnt), pictures(sound)
    box = f"box-{own_names(burnt, named=False).own.seats[point].box + 1}"
    assert [at for at in told if told[at] != plain[at]] == [box]


def test_a_loose_screw_of_the_block_that_got_hot_shows_once_it_was_looked_at() -> None:
    job, sound = Bench(faults=["burnt-joint"]), Bench()
    for one in (job, sound):
        shut_off(one)
        one.do("cover_off")
    assert pictures(job) == pictures(sound)
    job.do("look", place="terminal block")
    changed = [at for at, svg in pictures(job).items() if svg != pictures(sound)[at]]
    assert changed == ["block"]


def test_a_look_that_was_refused_shows_nothing() -> None:
    job = bench("cellar", BURNT["cellar"])
    with pytest.raises(ValueError, match="cover"):
        job.do("look", place="box")
    opened(job)
    assert pictures(job) == pictures(opened(bench("cellar")))


def test_a_repaired_joint_is_bright_again() -> None:
    job = Bench(faults=["burnt-joint"])
    shut_off(job)
    job.do("cover_off")
    job.do("look", place="terminal block")
    assert scene_of(own_names(job, named=True), Look()).burnt
    job.do("replace_part", part="cord 1")
    assert not scene_of(own_names(job, named=True), Look()).burnt


def warm(job: Bench, times: int = 2) -> Bench:
    for act in ("ask_heat", "press_start", *("let_run",) * times):
        job.do(act)
    return job


def hot(job: Bench) -> tuple[frozenset[str], frozenset[str]]:
    scene = scene_of(own_names(job, named=False), Look())
    return scene.hot, scene.glowing


def test_what_ran_is_hot_glows_while_it_heats_and_cools() -> None:
    job = bench("cellar")
    assert hot(job) == (frozenset(), frozenset())
    warm(job)
    assert job.state.element_celsius > 525
    assert hot(job)[0] >= {"box-1"}
    assert hot(job)[1] == {"box-1"}
    job.do("unplug")
    assert "box-1" in hot(job)[0]
    assert not hot(job)[1]
    job.do("cool_down")
    assert hot(job) == (frozenset(), frozenset())


def test_a_heater_with_an_open_coil_stays_cold() -> None:
    open_coil = next(str(one) for one in faults_of(arrangement("cellar")) if one.kind.name == "coil-open")
    job = warm(bench("cellar", open_coil))
    assert job.state.running
    assert hot(job) == (frozenset(), frozenset())


def test_of_two_boxes_only_the_one_glows_whose_coil_carries_current() -> None:
    coils = [str(one) for one in faults_of(arrangement("workshop")) if one.kind.name == "coil-open-of-several"]
    glows = {frozenset(hot(warm(bench("workshop", coil), 1))[1]) for coil in coils}
    assert glows == {frozenset({"box-1"}), frozenset({"box-2"})}
    assert hot(warm(bench("workshop"), 1))[1] == {"box-1", "box-2"}


@pytest.mark.parametrize("name", machine_names())
def test_with_the_covers_on_a_hot_machine_looks_like_a_cold_one(name: str) -> None:
    job, cold = warm(bench(name), 1), bench(name)
    for act in ("ask_heat", "press_start"):
        cold.do(act)
    names, plain = own_names(job, named=False), own_names(cold, named=False)
    assert hot(job)[0]
    for side in ("front", "rear"):
        assert drawn(names, Look(side))["svg"] == drawn(plain, Look(side))["svg"]
