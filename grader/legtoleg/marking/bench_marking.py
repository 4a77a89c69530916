"""Marking work on the bench: the trail is done again here, and what it read is not believed."""

from __future__ import annotations

import json
from dataclasses import replace

from dryerbench.bench import trail
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, fault_names
from dryerbench.bench.worksite import faults_on
from dryerbench.core.errors import LegToLegError
from dryerbench.course.job_card import JobCard
from dryerbench.course.questions import MOST_MINUTES, BenchQuestion, FaultQuestion
from dryerbench.diagnosis.service_calls import before_repair
from dryerbench.registry import SLIPS
from legtoleg.keys.reference import FaultReference, WorkReference
from legtoleg.marking.advised_paths import advised_minutes
from legtoleg.marking.answer_parsing import Found
from legtoleg.marking.bench_work import SETTLES, THIN, BenchWork
from legtoleg.marking.judgements import UNSAFE, Judgement, slipped
from legtoleg.marking.letters_marking import keys_in, named

MOST_STATES = 24
"""States of the machine whose readings are weighed; each costs the marker 0.4 s once, and an honest trail has ten."""
LONG = "long_trail"
"""The note of a right name on readings in more states than that: a person has to weigh them."""


def _again(opened: Bench, answer: Found) -> Bench | None:
    """Return the bench after the acts of ``answer`` were done on one freshly ``opened``; None if they cannot be."""
    try:
        for act in answer.acts:
            opened.do(str(act["act"]), **{str(key): value for key, value in act.get("with", {}).items()})
    except (LegToLegError, TypeError, ValueError, KeyError, ArithmeticError):
        return None
    return opened


_DAMAGED = Judgement(0.0, "bad_trail", "The acts handed in cannot be done on your dryer's bench.", safe=False)


OTHER_MACHINE = "other_machine"
"""The note of work that was done on the machine which an earlier kit had at this call."""
_MOVED = Judgement(
    0.0,
    OTHER_MACHINE,
    "It was done on the dryer that an earlier kit had at this call; another dryer is there now. The rest of "
    "this page counts as it is. Get a new kit from your instructor, and do this call again on its dryer.",
    safe=False,
)


def _not_here(reference: WorkReference[JobCard] | FaultReference[JobCard], answer: Found, card: JobCard) -> Judgement:
    """Return the judgement of acts that cannot be done on this bench: perhaps they were done on an earlier kit's."""
    there = reference.earlier and _again(reference.earlier(card), answer)
    return _DAMAGED if there is None else _MOVED


ABOUT_ANOTHER = Judgement(
    0.0,
    OTHER_MACHINE,
    "It is about the dryer that an earlier kit had at this call; another dryer is there now. Get a new kit from "
    "your instructor, and answer it again by its card.",
    safe=False,
)
"""The judgement of an answer that goes with such work."""


NAMED_BY_GOALS = frozenset(("powered-unread", "powered-on-path", "powered-unbonded", "left-in-use", "left-open"))
"""Findings that a goal of the question names more exactly: where a goal is missed, which holds the lesson as well, it
speaks for them."""


def _dangers(bench: Bench, version: int, said_elsewhere: frozenset[str] = frozenset()) -> str:
    """Return the cautions of the acts that hold a lesson, by the rules of the trail's own ``version``."""
    gates = [finding for finding in bench.findings if finding.gate and finding.since <= version
             and finding.name not in said_elsewhere]  # fmt: skip
    return " ".join(dict.fromkeys(finding.caution for finding in gates))


def _remarks(bench: Bench) -> str:
    """Return what was not dangerous but misleads, each once, to stand behind the message."""
    return "".join(dict.fromkeys(f" {finding.caution}" for finding in bench.findings if not finding.gate))


OLDER = "It was done on an earlier bench: it was done again on the present one, and judged by the rules it had."
"""What is said of a trail of an earlier version."""


def _told(judged: Judgement, answer: Found) -> Judgement:
    return judged if answer.trail == trail.VERSION else replace(judged, says=f"{judged.says} {OLDER}")


def judge_work(question: BenchQuestion, reference: WorkReference[JobCard], answer: Found, card: JobCard) -> Judgement:
    """Return the judgement of work: a share of the points for each goal reached; an unsafe act holds the lesson."""
    return _told(_judge_work(question, reference, answer, card), answer)


def _judge_work(question: BenchQuestion, reference: WorkReference[JobCard], answer: Found, card: JobCard) -> Judgement:
    bench = _again(reference.bench(card), answer)
    if bench is None:
        return _not_here(reference, answer, card)
    work = BenchWork(round(bench.minutes, 1))
    failed = [goal for goal in reference.goals if not goal.reached(bench)]
    missed = tuple(goal.slip for goal in failed)
    unsafe = _dangers(bench, answer.trail, NAMED_BY_GOALS if missed else frozenset())
    if unsafe:
        return _dangerous(unsafe, work)
    if missed:
        share = sum(goal.earned(bench) for goal in reference.goals) / len(reference.goals)
        points = 0.0 if any(goal.voids for goal in failed) else round(question.points * share * 2) / 2
        judged = slipped(missed, min(points, question.points - 0.5), safe=False, work=work)
        added = "".join(f" {goal.adds(bench)}" for goal in failed if goal.adds)
        return replace(judged, says=judged.says + added)
    return Judgement(question.points, "right", f"Right, and safely.{_remarks(bench)}", safe=True, work=work)


def _dangerous(unsafe: str, work: BenchWork) -> Judgement:
    return Judgement(0.0, UNSAFE, f"On a real dryer this would be dangerous: {unsafe}", safe=False, work=work)


def judge_fault(
    question: FaultQuestion[JobCard], reference: FaultReference[JobCard], answer: Found, card: JobCard
) -> Judgement:
    """Return the judgement of a fault named on evidence: half for the name, all if the readings single it out."""
    return _told(_judge_fault(question, reference, answer, card), answer)


def _judge_fault(
    question: FaultQuestion[JobCard], reference: FaultReference[JobCard], answer: Found, card: JobCard
) -> Judgement:
    keys, right = keys_in(question, answer, card), reference.right(card)
    if keys is None or len(keys) != 1:
        return Judgement(0.0, "bad_record", "The letter handed in is not one that this question offers.", safe=False)
    opened = reference.bench(card)
    advised = advised_minutes(faults_on(opened))
    bench = _again(opened, answer)
    if bench is None:
        return _not_here(reference, answer, card)
    minutes = round(trail.minutes(before_repair(bench.trail)), 1)
    unsafe = _dangers(bench, answer.trail)
    if unsafe:
        return _dangerous(unsafe, BenchWork(minutes, advised))
    key = keys[0] if keys[0] in right else min(right)
    few = _states_read(bench) <= MOST_STATES
    left = reference.left(bench, key) if few and minutes <= MOST_MINUTES else []
    work = BenchWork(minutes, advised, *_evidence(left, right))
    if keys[0] not in right:
        code = reference.slips_on(card).get(keys[0])
        says = SLIPS[code].says if code else "Not that fault."
        return Judgement(0.0, code or "wrong", says, work=work, key=f"It was {named(question, card, right)}.")
    if not few and minutes <= MOST_MINUTES:
        says = "The name is right. There are too many readings to check here, so your instructor looks at them."
        return Judgement(question.points / 2, LONG, says, safe=True, work=work)
    return _weighed(question, reference, minutes, left == [key], work)


def _weighed(
    question: FaultQuestion[JobCard], reference: FaultReference[JobCard], minutes: float, settled: bool, work: BenchWork
) -> Judgement:
    """Return the judgement of a right name by its evidence."""
    if minutes > MOST_MINUTES:
        says = (
            f"You named the right fault, but you took too long: {round(minutes)} minutes. Choose the readings "
            f"that rule out the most; up to {MOST_MINUTES} minutes count as evidence."
        )
        return Judgement(question.points / 2, "everything_measured", says, safe=True, work=work)
    if not settled:
        return slipped((reference.thin_slip,), question.points / 2, safe=True, work=work)
    return Judgement(question.points, "right", "Right, and your readings leave only this one.", work=work)


def _states_read(bench: Bench) -> int:
    """Return in how many different states of the machine something was read."""
    return len({json.dumps(act["asked"]) for act in bench.trail if act.get("reading")})


def _evidence(left: list[str], right: frozenset[str]) -> tuple[str, tuple[str, ...]]:
    """Return how far the readings decide, and what they leave; what nothing tells from the true fault is not left."""
    if left and set(left) <= right:
        return SETTLES, ()
    return THIN, tuple(map(_in_words, left))


def _in_words(fault: str) -> str:
    return str(catalogue(fault)["title"]) if fault in fault_names() else "nothing wrong with it"
