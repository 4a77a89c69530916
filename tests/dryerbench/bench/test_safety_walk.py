"""Walks over the states of the worksite: nothing that can hurt goes unfound, and a careful worker is never blamed."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.worksite import BenchError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement, machine_names

from .walking import FAULTY, STARTS, VARIANTS, attempt, missed, standing, twin, variants_on

FAMILY = tuple(name for name in machine_names() if name != "schoolroom")


def test_the_walk_knows_every_act() -> None:
    assert {act for act, _ in VARIANTS} == set(table("bench-acts").column("act"))


@cache
def placed(machine: str) -> Machine:
    return on_the_bench(drawn_machine(arrangement(machine), Stream(f"walk/{machine}"), f"walk {machine}"))


def started(acts: tuple[str, ...], faults: tuple[str, ...], machine: str = "") -> Bench:
    """Return a bench after some acts: the lessons' own dryer, or one of the family with a heat that it has."""
    bench = Bench(placed(machine), faults) if machine else Bench(faults=faults)
    heats = {"heat": arrangement(machine).heats[0]} if machine else {}
    for act in acts:
        bench.do(act, **(heats if act == "ask_heat" else {}))
    return bench


def walk(edge: list[Bench], depth: int) -> Counter[str]:
    """Do every act in every state that is reached from ``edge`` in ``depth`` acts, each state once; return how many."""
    seen = {standing(bench) for bench in edge}
    counts: Counter[str] = Counter()
    for _ in range(depth):
        found = []
        for here in edge:
            for variant in variants_on(here):
                after = attempt(here, variant)
                if after is None:
                    continue
                counts["acts"] += 1
                holes = list(missed(here, after))
                assert not holes, ([act["act"] for act in after.trail], holes)
                key = standing(after)
                if key not in seen:
                    seen.add(key)
                    found.append(after)
        edge = found
    counts["states"] = len(seen)
    return counts


@pytest.mark.parametrize("faults", FAULTY, ids=lambda faults: "+".join(faults) or "sound")
def test_every_act_from_many_states(faults: tuple[str, ...]) -> None:
    counts = walk([started(acts, faults) for acts in STARTS], 1)
    assert counts["acts"] > 300
    assert counts["states"] > 80


@pytest.mark.parametrize("machine", FAMILY)
def test_every_act_from_many_states_of_every_machine(machine: str) -> None:
    there = [started(acts, (), machine) for acts in STARTS]
    for bench in [twin(one) for one in there]:
        bench.do("set_dial", mode="ohms")
        there.append(bench)
    counts = walk(there, 1)
    assert counts["acts"] > 600
    assert counts["states"] > 160


@pytest.mark.slow
@pytest.mark.parametrize("faults", FAULTY, ids=lambda faults: "+".join(faults) or "sound")
def test_every_three_acts_from_many_states(faults: tuple[str, ...]) -> None:
    counts = walk([started(acts, faults) for acts in STARTS], 3)
    assert counts["acts"] > 30_000
    assert counts["states"] > 2_500


class AnyWorker(RuleBasedStateMachine):
    """Somebody who does anything, on any machine: what can hurt is found at once."""

    @initialize(faults=st.sampled_from(FAULTY), acts=st.sampled_from(STARTS), machine=st.sampled_from(("", *FAMILY)))
    def begin(self, faults: tuple[str, ...], acts: tuple[str, ...], machine: str) -> None:
        self.bench = started(acts, () if machine else faults, machine)
        self.before = self.bench

    @rule(data=st.data())
    def act(self, data: st.DataObject) -> None:
        variant = data.draw(st.sampled_from(variants_on(self.bench)))
        before, after = self.bench, attempt(self.bench, variant)
        if after is not None:
            self.before, self.bench = before, after

    @invariant()
    def nothing_is_missed(self) -> None:
        if self.before is not self.bench:
            assert not list(missed(self.before, self.bench))


class CarefulWorker(RuleBasedStateMachine):
    """Somebody who works as taught, in any order that the lessons leave open: nothing is held against them."""

    def __init__(self) -> None:
        super().__init__()
        self.bench = Bench()
        self.worked = False

    def do(self, *acts: str) -> None:
        for act in acts:
            self.bench.do(act)

    @precondition(lambda self: self.bench.state.plugged and not self.bench.cover_off)
    @rule(how=st.sampled_from(["heat", "stop", "door", "temperature"]))
    def use_it(self, how: str) -> None:
        bench = self.bench
        if how == "heat":
            self.do("close_door", "ask_heat", "press_start", "let_run")
        elif how == "stop":
            self.do("stop", "cool_down")
        elif how == "door":
            self.do("open_door", "close_door")
        else:
            bench.temperature("exhaust")

    @precondition(lambda self: self.bench.state.plugged and not self.bench.cover_off)
    @rule(lock=st.booleans(), cap=st.booleans())
    def make_it_dead_and_open(self, lock: bool, cap: bool) -> None:
        self.do("stop", "cool_down", "unplug", *(["cap_plug"] if cap else []))
        self.do(*(["open_breaker", "lock"] if lock else []), "prove_meter", "test_dead", "prove_meter", "cover_off")
        self.bench.do("test_dead", where="block")
        self.do("prove_meter")

    @precondition(lambda self: self.bench.state.plugged and not self.bench.cover_off)
    @rule()
    def lock_it_out_with_the_plug_in(self) -> None:
        self.do("stop", "cool_down", "open_breaker", "lock", "gear_on", "prove_meter", "cover_off")
        self.bench.do("test_dead", where="block")
        self.do("prove_meter", "gear_off")

    @precondition(lambda self: self.bench.cover_off)
    @rule(wire=st.sampled_from(["wire T0", "wire T1", "wire T2", "wire T3", "wire S1"]))
    def move_a_wire(self, wire: str) -> None:
        self.bench.do("put_back_wire" if wire in self.bench.state.pulled else "pull_wire", wire=wire)

    @precondition(lambda self: self.bench.cover_off)
    @rule(pair=st.sampled_from([("T1", "T0"), ("T0", "case"), ("H7", "H8"), ("N", "case")]))
    def read_dead(self, pair: tuple[str, str]) -> None:
        self.bench.ohms(*pair)

    @precondition(lambda self: self.bench.cover_off)
    @rule(part=st.sampled_from(["element 1", "high limit", "ground wire"]))
    def fit_a_part(self, part: str) -> None:
        self.bench.do("replace_part", part=part)
        self.worked = True

    @precondition(lambda self: self.bench.cover_off and self.bench.state.pulled >= HEATER)
    @rule()
    def test_the_insulation(self) -> None:
        self.bench.insulation("T0", "case")
        self.do("discharge")

    @precondition(lambda self: self.bench.cover_off)
    @rule()
    def close_up_and_power(self) -> None:
        bench = self.bench
        if bench.state.plugged:
            self.do("unplug")
        bench.ohms("T0", "case")
        bench.ohms("plug-G", "case")
        for wire in sorted(bench.state.pulled):
            bench.do("put_back_wire", wire=wire)
        assert not bench.safe_to_power
        self.do("cover_on")
        assert bench.safe_to_power
        for act in ("uncap_plug", "unlock", "close_breaker", "plug_in"):
            if not (act == "uncap_plug" and not bench.capped) and not (act == "plug_in" and bench.state.plugged):
                self.do(act)

    @precondition(lambda self: self.bench.state.plugged and not self.bench.cover_off)
    @rule()
    def read_the_line_through_a_splitter(self) -> None:
        self.do("stop", "unplug", "fit_splitter", "plug_in", "ask_heat", "press_start")
        assert (self.bench.volts("outlet-1", "outlet-2").value or 0.0) > 200.0
        self.bench.clamp("cord 1")
        self.do("leakage", "stop", "unplug", "remove_splitter", "plug_in")

    @invariant()
    def nothing_is_held_against_them(self) -> None:
        names = {one.name for one in self.bench.findings}
        assert names <= {"other-path"}, names


HEATER = frozenset({"wire T0", "wire T1", "wire T2", "wire T3"})
TestAnyWorker = AnyWorker.TestCase
TestAnyWorker.settings = settings(max_examples=30, stateful_step_count=25, deadline=None)
TestCarefulWorker = CarefulWorker.TestCase
TestCarefulWorker.settings = settings(max_examples=40, stateful_step_count=20, deadline=None)


def test_an_act_that_is_refused_changes_nothing() -> None:
    for acts in STARTS:
        bench = started(acts, ())
        for act, given in VARIANTS:
            other = twin(bench)
            try:
                other.do(act, **given)
            except BenchError:
                assert standing(other) == standing(bench), act
                assert len(other.trail) == len(bench.trail)
