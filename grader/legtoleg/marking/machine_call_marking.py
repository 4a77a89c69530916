"""Marking a call on a machine of the family: the trail is done again on that machine, and what it read is not believed.

A name is right if it says all that is wrong; what no reading tells apart counts as the same. What the trail read is
weighed as evidence (``diagnosis.machine_trail``). The close is the repair of every cause with nothing sound replaced,
or the job handed over to whose it is, or nothing done to a sound machine. An unsafe act holds all of it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from dryerbench.bench import trail
from dryerbench.bench.bench import Bench, replay
from dryerbench.bench.faults import Fault, FaultError, family_of, read_fault
from dryerbench.core.errors import LegToLegError
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.hypotheses import Hypotheses
from dryerbench.diagnosis.machine_calls import MachineCall
from dryerbench.diagnosis.machine_cases import book, named
from dryerbench.diagnosis.machine_trail import evidence_on
from dryerbench.diagnosis.service_calls import before_repair
from legtoleg.marking.bench_work import SETTLES, THIN, BenchWork
from legtoleg.marking.judgements import UNSAFE, Judgement

ENOUGH = 0.9
"""The odds from which a name counts as shown by its readings (our own rule)."""
_POWER = ("plug_in", "close_breaker")


@dataclass(frozen=True)
class CallMarks:
    """What one call is worth: the name with its evidence, and the close."""

    name: Judgement
    close: Judgement


def judge_call(
    call: MachineCall, acts: Sequence[Mapping[str, object]], said: Collection[str], points: float, version: int
) -> CallMarks:
    """Return the judgement of ``acts`` done on ``call`` and of the faults ``said`` to be wrong (none: sound).

    ``points`` are for each of the two; ``version`` is that of the trail, whose rules of safety count.
    """
    try:
        bench = replay(call.machine, acts, call.faults)
    except (LegToLegError, TypeError, ValueError, KeyError, ArithmeticError):
        damaged = Judgement(0.0, "bad_trail", "The acts handed in cannot be done on this machine.", safe=False)
        return CallMarks(damaged, damaged)
    gates = [finding for finding in bench.findings if finding.gate and finding.since <= version]
    if gates:
        cautions = " ".join(dict.fromkeys(finding.caution for finding in gates))
        unsafe = Judgement(0.0, UNSAFE, f"On a real machine this would be dangerous: {cautions}", safe=False)
        return CallMarks(unsafe, unsafe)
    return CallMarks(_judge_name(call, bench, said, points), _judge_close(call, bench, points))


def _judge_name(call: MachineCall, bench: Bench, said: Collection[str], points: float) -> Judgement:
    minutes = round(trail.minutes(before_repair(bench.trail)), 1)
    known = book(call.machine.stands.arrangement) if call.machine.stands else None
    assert known is not None
    try:
        own = _named(call, said)
    except FaultError as problem:
        return Judgement(0.0, "bad_record", str(problem), safe=True, work=BenchWork(minutes))
    actual = _named(call, call.faults)
    alike = next((names for names in known.names if actual in names), (actual,))
    evidence = evidence_on(call.machine, bench.trail, call.heard)
    odds = evidence.odds()
    settled = odds.get(alike, 0.0) >= ENOUGH or _each_is_shown(call, bench, alike, odds)
    left = tuple(names[0] for names, share in odds.items() if share > 1.0 - ENOUGH and actual not in names)
    work = BenchWork(minutes, None, SETTLES if settled else THIN, left)
    if own not in alike:
        return Judgement(0.0, "wrong", "That is not what is wrong, or not all of it.", safe=True, work=work)
    if not settled:
        says = "You named the right fault, but your readings do not leave only this one."
        return Judgement(points / 2, "thin_evidence", says, safe=True, work=work)
    return Judgement(points, "right", "Right, and your readings leave only this one.", safe=True, work=work)


def _named(call: MachineCall, words: Collection[str]) -> str:
    found: list[Fault] = [read_fault(one, call.machine) for one in words if one != SOUND]
    return named(family_of(call.machine, found))


def _each_is_shown(
    call: MachineCall, bench: Bench, alike: tuple[str, ...], odds: Mapping[tuple[str, ...], float]
) -> bool:
    """Return whether the readings show each of two faults that seldom come together: no pair of the book is theirs.

    The odds are of one fault or of a known pair, so one of the two leads them. Beside that, without either of the two
    the machine would have read otherwise somewhere.
    """
    if len(call.faults) < 2 or alike in odds:
        return False
    leading = next(iter(odds))
    there = [read_fault(fault, call.machine) for fault in call.faults]
    readings = Hypotheses(call.machine, before_repair(bench.trail))
    return any(_named(call, [fault]) in leading for fault in call.faults) and not any(
        readings.allow([one for one in there if one is not fault]) for fault in there
    )


def _judge_close(call: MachineCall, bench: Bench, points: float) -> Judgement:
    work = BenchWork(round(bench.minutes, 1))
    if call.hands:
        missed = _hand_over_missed(call, bench)
    elif not call.faults:
        missed = _left_sound_missed(bench)
    else:
        missed = _repair_missed(call, bench)
    if missed:
        return Judgement(0.0, "unfinished", " ".join(missed), safe=True, work=work)
    return Judgement(points, "right", "Right, and safely.", safe=True, work=work)


def _replaced(bench: Bench) -> list[str]:
    return [str(act["with"]["part"]) for act in bench.trail if act["act"] == "replace_part"]


def _repair_missed(call: MachineCall, bench: Bench) -> list[str]:
    """Return what of a repair is missing, in sentences."""
    done, missed = _replaced(bench), []
    if set(call.parts) - set(done):
        missed.append("Something is still wrong with the machine. Look for what made the part fail.")
    wasted = [part for part in done if part not in call.parts]
    if wasted:
        missed.append(f"You replaced good parts: {len(wasted)}.")
    if bench.state.pulled or bench.cover_off:
        missed.append("Put every wire and every cover back.")
    if not missed and not _ran(bench):
        missed.append("Run it after the repair. A repair that you did not see work is not done.")
    return missed


def _ran(bench: Bench) -> bool:
    """Return whether the machine ran with warm air, closed, after the last part was replaced."""
    last = max(place for place, act in enumerate(bench.trail) if act["act"] == "replace_part")
    after = bench.trail[last:]
    return any(act["act"] == "let_run" and "warm air comes out" in act["happened"]
               and not act["scene"]["cover_off"] for act in after)  # fmt: skip


def _hand_over_missed(call: MachineCall, bench: Bench) -> list[str]:
    to = [act["with"]["to"] for act in bench.trail if act["act"] == "stop_and_hand_over"]
    missed = []
    if call.hands not in to:
        missed.append("This is not a job for a technician. Stop, and hand it to someone licensed.")
    if _replaced(bench):
        missed.append("There was nothing to replace.")
    if not bench.isolated:
        missed.append("Keep the machine out of use: plug out, or breaker locked.")
    if not bench.told:
        missed.append("The customer does not know yet.")
    return missed


def _left_sound_missed(bench: Bench) -> list[str]:
    missed = []
    if _replaced(bench):
        missed.append("Nothing is wrong with this machine: no part was needed.")
    if not bench.told:
        missed.append("Tell the customer what you found and how to use it.")
    return missed
