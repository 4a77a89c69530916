"""The shared terminal without names: what readings leave, and which tags say it, with one, two and three coils."""

from __future__ import annotations

import math
from itertools import combinations
from typing import Any

import pytest

from dryerbench.bench.access import arrangement_of
from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import machine_on
from dryerbench.course.bench_card import open_bench
from dryerbench.course.practice_bench import practice_machine
from dryerbench.registry import PRACTICE_BENCHES, sheet
from dryerbench.topics.path_to_case.shared_terminal import (
    GRADED,
    PRACTICED,
    heater_wires,
    may_be_shared,
    pairs_read,
    pairs_settle_it,
    tagged_right,
)

PAPER = sheet("05_path_to_case")
FOUR = ("A", "B", "C", "D")


def star(centre: str, *ohms: float) -> dict[frozenset[str], float]:
    """Return all pairs of a heater whose coils meet at ``centre``: one coil, or two in series (the lesson's table)."""
    terminals = FOUR[: len(ohms) + 1]
    coil = dict(zip((one for one in terminals if one != centre), ohms, strict=True)) | {centre: 0.0}
    return {frozenset({a, b}): coil[a] + coil[b] for a, b in combinations(terminals, 2)}


def apart(first: float, second: float) -> dict[frozenset[str], float]:
    """Return all pairs of two coils that do not meet: A to C and B to D."""
    coils = {frozenset("AC"): first, frozenset("BD"): second}
    return {frozenset(pair): coils.get(frozenset(pair), math.inf) for pair in combinations(FOUR, 2)}


def some(read: dict[frozenset[str], float], *pairs: str) -> dict[frozenset[str], float]:
    return {frozenset(pair): read[frozenset(pair)] for pair in pairs}


@pytest.mark.parametrize("centre", FOUR)
def test_all_six_pairs_of_three_coils_leave_the_one_of_the_lessons_table(centre: str) -> None:
    assert may_be_shared(FOUR, star(centre, 27.0, 27.0, 27.0)) == (centre,)
    assert may_be_shared(FOUR, star(centre, 31.2, 31.2, 25.6)) == (centre,)


@pytest.mark.parametrize("centre", FOUR[:3])
def test_three_pairs_of_two_coils_leave_one_and_so_do_the_two_of_one_coil(centre: str) -> None:
    """Two pairs that read one coil each have the shared terminal in common; one coil and two coils leave two."""
    whole = star(centre, 22.0, 22.0)
    assert may_be_shared(FOUR[:3], whole) == (centre,)
    for left_out in whole:
        read = {pair: ohms for pair, ohms in whole.items() if pair != left_out}
        assert len(may_be_shared(FOUR[:3], read)) == (1 if centre not in left_out else 2)


def test_few_pairs_leave_more_and_nothing_read_leaves_all() -> None:
    whole = star("C", 27.0, 27.0, 27.0)
    assert may_be_shared(FOUR, {}) == (*FOUR, "")
    assert set(may_be_shared(FOUR, some(whole, "AB"))) == {*FOUR, ""}
    assert set(may_be_shared(FOUR, some(whole, "AB", "AC"))) > {"C"}
    assert may_be_shared(FOUR, some(whole, "AB", "AC", "BC")) == ("C",)


def test_two_coils_apart_share_nothing_and_neither_does_one() -> None:
    assert may_be_shared(FOUR, apart(24.6, 18.4)) == ("",)
    assert may_be_shared(FOUR[:2], {frozenset("AB"): 10.6}) == ("",)


def test_leads_that_were_not_subtracted_change_nothing_and_a_burnt_reading_fits_nothing() -> None:
    with_leads = {pair: ohms + 0.5 for pair, ohms in star("B", 20.0, 24.0, 28.0).items()}
    assert may_be_shared(FOUR, with_leads) == ("B",)
    wrong = star("B", 27.0, 27.0, 27.0) | {frozenset("AC"): 80.0}
    assert may_be_shared(FOUR, wrong) == ()


# --- on benches -----------------------------------------------------------------------------------------------------


def opened(bench: Bench) -> Bench:
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off"):
        bench.do(act)
    bench.do("test_dead", where="block")
    bench.do("prove_meter")
    return bench


def bare(bench: Bench, *, but: int = 0) -> Bench:
    """Pull the heater's wires, ``but`` so many of them."""
    for wire in sorted(heater_wires(arrangement_of(machine_on(bench))))[but:]:
        bench.do("pull_wire", wire=wire)
    return bench


def all_pairs(bench: Bench) -> Bench:
    for a, b in combinations(arrangement_of(machine_on(bench)).box_terminals, 2):
        bench.ohms(a, b)
    return bench


def tag(bench: Bench, *, right: bool = True, text: str = "") -> Bench:
    made = arrangement_of(machine_on(bench))
    others = [wire for point in made.box_terminals if point != made.shared for wire in made.wires_at(point)]
    wire = made.wires_at(made.shared)[0] if made.shared and right else others[0]
    bench.do("tag_wire", wire=wire.name, text=text or ("T0" if made.shared or not right else "NONE"))
    return bench


def benches() -> list[Any]:
    return [pytest.param(practice_machine(name, "tag_shared", n), id=f"{name} {n}")
            for name in (*GRADED, *PRACTICED) for n in (1, 2)]  # fmt: skip


@pytest.mark.parametrize("machine", benches())
def test_every_pair_settles_it_and_the_right_tag_alone_is_right(machine: Any) -> None:
    bench = bare(opened(Bench(machine)))
    assert not pairs_settle_it(bench)
    all_pairs(bench)
    made = arrangement_of(machine)
    assert may_be_shared(made.box_terminals, pairs_read(bench)) == (made.shared,)
    assert pairs_settle_it(bench)
    assert not tagged_right(bench)
    assert tagged_right(tag(bench))
    assert not tagged_right(tag(bench, right=False))


@pytest.mark.parametrize("machine", benches())
def test_one_pair_settles_it_only_where_there_is_one(machine: Any) -> None:
    """A coil read as a number is not enough: of three terminals or four it leaves several answers."""
    ends = arrangement_of(machine).box_terminals
    for a, b in combinations(ends, 2):
        bench = bare(opened(Bench(machine)))
        bench.ohms(a, b)
        assert pairs_settle_it(bench) == (len(ends) == 2)


@pytest.mark.parametrize("machine", benches())
def test_readings_with_a_wire_on_count_for_nothing(machine: Any) -> None:
    assert pairs_read(all_pairs(bare(opened(Bench(machine)), but=1))) == {}


@pytest.mark.parametrize("text", ["T0", "t0", "TO", " to "])
def test_a_tag_may_be_written_as_people_write_it(text: str) -> None:
    assert tagged_right(tag(bare(opened(Bench(practice_machine("pantry", "tag_shared", 1)))), text=text))


def test_each_kind_of_heater_is_dealt_and_practice_has_other_machines() -> None:
    dealt = {arrangement_of(machine_on(open_bench(PAPER.card(f"someone-{n}"), 2))).name.lower() for n in range(60)}
    assert dealt == set(GRADED)
    kinds = [[(len(arrangement_of(practice_machine(name, "q", 1)).coils),
               bool(arrangement_of(practice_machine(name, "q", 1)).shared)) for name in names]
             for names in (GRADED, PRACTICED)]  # fmt: skip
    assert sorted(kinds[0]) == sorted(kinds[1]) == [(1, False), (2, False), (2, True), (3, True)]
    assert not set(GRADED) & set(PRACTICED)


def test_the_same_place_is_not_the_shared_one_on_every_machine() -> None:
    """Who always tags the first terminal of the drawing is right by luck alone."""
    from dryerbench.bench.placement import placement_of

    for name in ("pantry", "hallway"):
        seats = set()
        for number in range(1, 13):
            placed = placement_of(practice_machine(name, "tag_shared", number))
            seats.add(placed.in_order.index(placed.arrangement.shared))
        assert len(seats) > 2, name


def test_the_practice_bench_says_what_is_missing_step_by_step() -> None:
    kind = PRACTICE_BENCHES["tag_shared"]
    job = kind.job(1)
    bench = opened(job.bench())
    said = [kind.missing(bench)]
    all_pairs(bare(bench))
    said.append(kind.missing(bench))
    tag(bench)
    assert "more than one answer" in said[0]
    assert "tags do not fit" in said[1]
    assert kind.missing(bench) == ""
    assert kind.job(1).machine == job.machine
