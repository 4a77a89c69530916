"""Practice benches: every dealt job is honest work away, names what is missing, and believes readings alone."""

from __future__ import annotations

from itertools import combinations

import pytest

from dryerbench.bench.access import pullable
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import from_family
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.placement import placement_of
from dryerbench.course.practice_bench import NOTHING, Job, PracticeBench
from dryerbench.family.faults import read_fault
from dryerbench.registry import PRACTICE_BENCHES
from dryerbench.topics.heat_switches.practice_benches import CALLS
from dryerbench.topics.open_and_close.cabinets import covers_needed

NUMBERS = range(1, 6)
CASES = [(name, number) for name in PRACTICE_BENCHES for number in NUMBERS]
WITH_NAMES = [(name, number) for name, number in CASES if PRACTICE_BENCHES[name].job(1).offers]
DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter")


def opened(job: Job, *, block: bool = True, before: tuple[str, ...] = ()) -> Bench:
    """Return the bench made dead and open to its block; ``before`` are acts right after the plug."""
    bench = job.bench()
    for act in (DEAD[0], *before, *DEAD[1:]):
        bench.do(act)
    for cover in placement_of(job.machine).covers_over("block"):
        bench.do("cover_off", cover=cover.name)
    if block:
        bench.do("test_dead", where="block")
        bench.do("prove_meter")
    return bench


def heater_wires(job: Job) -> list[str]:
    ends = set(job.made.box_terminals)
    there = pullable(job.machine)
    return [wire.name for wire in job.made.wires if {wire.a, wire.b} & ends and wire.name in there]


def bare(job: Job, bench: Bench, *, every: bool) -> None:
    for cover in placement_of(job.machine).covers if every else covers_needed(job.machine):
        if cover.name not in bench.covers_off:
            bench.do("cover_off", cover=cover.name)
    for wire in heater_wires(job):
        bench.do("pull_wire", wire=wire)


def read_heater(job: Job, bench: Bench) -> None:
    for coil in job.made.coils:
        bench.ohms(*coil.ends)
    for terminal in job.made.box_terminals:
        bench.ohms(terminal, "case")


def receptacle(bench: Bench) -> Bench:
    for act in ("gear_on", "unplug", "prove_meter"):
        bench.do(act)
    for a, b in (("outlet-1", "outlet-2"), ("outlet-1", "outlet-N"), ("outlet-2", "outlet-N")):
        bench.low_impedance(a, b)
    for act in ("prove_meter", "gear_off"):
        bench.do(act)
    return bench


def switches(job: Job, bench: Bench) -> None:
    for part in ("Cyc", "Cut", "Lim"):
        wire = next(wire for wire in pullable(job.machine) if f"{part}." in wire)
        if wire not in bench.state.pulled:
            bench.do("pull_wire", wire=wire)
        bench.ohms(f"{part}.1", f"{part}.2")


def repaired(job: Job, bench: Bench) -> None:
    bench.do("replace_part", part=job.made.coils[0].name)
    read_heater(job, bench)
    bench.ohms("plug-G", "case")
    for wire in heater_wires(job):
        bench.do("put_back_wire", wire=wire)
    for cover in reversed(placement_of(job.machine).covers):
        if cover.name in bench.covers_off:
            bench.do("cover_on", cover=cover.name)
    for act in ("plug_in", "ask_heat", "press_start", "let_run"):
        bench.do(act)
    bench.temperature("exhaust")


def worked(name: str, job: Job) -> Bench:
    """Return the job done as its lesson says."""
    if name == "receptacle_check":
        return receptacle(job.bench())
    bench = opened(job, before=("open_breaker", "lock") if name == "make_dead" else ())
    if name == "make_dead":
        return bench
    bare(job, bench, every=name != "close_and_prove")
    if name == "open_part":
        switches(job, bench)
        return bench
    if name == "tag_shared":
        for pair in combinations(job.made.box_terminals, 2):
            bench.ohms(*pair)
        wire = job.made.wires_at(job.made.shared)[0].name if job.made.shared else heater_wires(job)[0]
        bench.do("tag_wire", wire=wire, text="T0" if job.made.shared else "NONE")
        return bench
    bench.do("null_leads")
    read_heater(job, bench)
    if name == "blown_by":
        switches(job, bench)
        bench.ohms("Cen.1", "Cen.2")
        bench.do("look_vent")
        bench.do("warm_parts", celsius=140)
        switches(job, bench)
    if name == "close_and_prove":
        repaired(job, bench)
    return bench


@pytest.mark.parametrize(("name", "number"), CASES)
def test_the_job_done_as_taught_reaches_every_aim_without_an_unsafe_act(name: str, number: int) -> None:
    kind = PRACTICE_BENCHES[name]
    job = kind.job(number)
    bench = worked(name, job)
    assert kind.missing(bench) == ""
    assert bench.findings == []
    assert kind.checked(job, bench).endswith(" No unsafe act.")


@pytest.mark.parametrize("name", PRACTICE_BENCHES)
def test_a_bench_nobody_touched_reaches_nothing_that_is_asked_first(name: str) -> None:
    kind = PRACTICE_BENCHES[name]
    assert kind.missing(kind.job(1).bench()) == kind.aims[0].missing


@pytest.mark.parametrize(("name", "number"), WITH_NAMES)
def test_what_is_wrong_is_right_once_it_was_read_and_nothing_else_is(name: str, number: int) -> None:
    kind: PracticeBench = PRACTICE_BENCHES[name]
    job = kind.job(number)
    bench, untouched = worked(name, job), job.bench()
    assert job.offers is not None
    assert set(job.right) < set(job.offers)
    for words in job.offers:
        said = kind.named(job, bench, words)
        assert said.startswith("Right: " if words in job.right else "Not that"), (words, said)
        assert not kind.named(job, untouched, words).startswith("Right"), words
    assert NOTHING in job.offers


def test_the_same_number_is_the_same_job_and_numbers_differ() -> None:
    for name, kind in PRACTICE_BENCHES.items():
        assert kind.job(2) == kind.job(2)
        assert len({kind.job(number).made.name for number in NUMBERS}) > 3, name
        assert "Schoolroom" not in {kind.job(number).made.name for number in NUMBERS}


def test_a_beeper_and_a_cold_reading_show_nothing() -> None:
    kind = PRACTICE_BENCHES["blown_by"]
    job = kind.job(2)
    bench = opened(job)
    bare(job, bench, every=True)
    switches(job, bench)
    limit = next(words for words in job.right if "limit" in words)
    assert kind.named(job, bench, limit).startswith("No reading of yours")
    bench.do("warm_parts", celsius=140)
    bench.continuity("Lim.1", "Lim.2")
    assert kind.named(job, bench, limit).startswith("No reading of yours")
    bench.ohms("Lim.1", "Lim.2")
    assert kind.named(job, bench, limit).startswith("Right: ")


@pytest.mark.parametrize("number", range(1, len(CALLS) + 1))
def test_the_heat_of_that_machine_blows_its_cut_off(number: int) -> None:
    """What is dealt together is what the heat model makes of it over a load."""
    job = PRACTICE_BENCHES["blown_by"].job(number)
    causes = tuple(from_family(read_fault(fault, job.made)) for fault in job.faults if "cut-off" not in fault)
    assert "Cut" in over_a_load(job.machine, causes).blown
    assert not over_a_load(job.machine, causes[1:]).blown
