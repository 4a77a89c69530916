"""Judgements: several slips are one note and all their sentences."""

from __future__ import annotations

from dryerbench.registry import SLIPS
from legtoleg.marking.bench_work import BenchWork
from legtoleg.marking.judgements import slipped

ONE, TWO = sorted(SLIPS)[:2]


def test_a_slip_says_its_sentence() -> None:
    judged = slipped((ONE,))
    assert (judged.points, judged.note, judged.says, judged.safe) == (0.0, ONE, SLIPS[ONE].says, None)


def test_several_are_joined_and_all_said() -> None:
    work = BenchWork(9.0)
    judged = slipped((ONE, TWO), 1.5, safe=False, work=work)
    assert (judged.points, judged.note, judged.safe, judged.work) == (1.5, f"{ONE}+{TWO}", False, work)
    assert judged.says == f"{SLIPS[ONE].says} {SLIPS[TWO].says}"
