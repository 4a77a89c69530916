"""Practice benches: an unmarked job of the kind that is graded next, on another machine of the family.

A topic has them in its module ``practice_benches``, by the name of the graded question that they stand before. A job
says what it wants (``Aim``) and, where a fault has to be named, what can be named. Nothing here is a key: the machines
are practice machines, and what is wanted is what the lesson says.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from dryerbench.bench.bench import Bench
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.trail import Act
from dryerbench.bench.work_done import dead_inside
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.fault_readings import ShownBy, shown_by
from dryerbench.family.faults import Fault, faults_of, read_fault, target_of
from dryerbench.family.machine import drawn_machine, standard
from dryerbench.family.shelf import arrangement

NOTHING = "nothing wrong"
_OF_ONE_NAME = ("moisture-leak",)
"""Faults that no reading tells apart by the coil they hang on: they are named once."""
_WARM = 90.0
"""°C from which a part counts as held warm: far above a room, below every limit's rating."""
_LOOKED_AT = {"vent-restricted": "look_vent", "lint-clogged": "look_vent"}
"""Faults that a look shows, by the act that looks."""


class NoPracticeBenchError(LegToLegError, ValueError):
    """A practice bench that there is not."""


@dataclass(frozen=True)
class Aim:
    """One thing that a job wants: whether it is reached, and what is said as long as it is not."""

    reached: Callable[[Bench], bool]
    missing: str


DEAD_FIRST = Aim(dead_inside, "You did not test dead at the terminal block before your hands went in.")
"""What every job inside a dryer wants first."""


@dataclass(frozen=True)
class Job:
    """One job: the machine, what is wrong with it, what can be named (in words: faults), and what is right."""

    machine: Machine
    faults: tuple[str, ...] = ()
    offers: Mapping[str, tuple[str, ...]] | None = None
    right: tuple[str, ...] = ()

    def bench(self) -> Bench:
        """Return a fresh bench with this job."""
        return Bench(self.machine, self.faults)

    @property
    def made(self) -> Arrangement:
        """The arrangement that the machine is of."""
        assert self.machine.stands is not None
        return self.machine.stands.arrangement


@dataclass(frozen=True)
class PracticeBench:
    """A kind of job: what is to be done, how one is dealt by its number, its aims, and acts that its panel adds."""

    task: str
    deal: Callable[[int], Job]
    aims: tuple[Aim, ...]
    compare: str = "Compare each reading with the tech sheet."
    """What to compare when something wrong was named."""
    also_before: tuple[str, ...] = ()
    """Further graded questions that it is the practice of."""
    nameless: bool = False
    """Whether the page hides the names of terminals and wires, and marks nothing that is picked on the sheet."""

    def job(self, number: int) -> Job:
        """Return the job ``number``: the same number, the same machine with the same fault.

        Raises
        ------
        NoPracticeBenchError
            If ``number`` is no whole number from 1 on.
        """
        if type(number) is not int or number < 1:
            raise NoPracticeBenchError("Practice dryers are numbered 1, 2, 3 and so on.")
        return self.deal(number)

    def missing(self, bench: Bench) -> str:
        """Return what is still to be done on ``bench``, the first thing first; nothing if all is done."""
        return next((aim.missing for aim in self.aims if not aim.reached(bench)), "")

    def checked(self, job: Job, bench: Bench) -> str:
        """Return how the job stands: what is missing, what was unsafe, what is still to be named."""
        unsafe = sum(finding.gate for finding in bench.findings)
        said = self.missing(bench)
        if not said:
            said = "Your readings are complete. Now name what is wrong." if job.offers else "Done as it should be."
        return said + (f" Unsafe acts: {unsafe}; see Safety." if unsafe else " No unsafe act.")

    def named(self, job: Job, bench: Bench, words: str) -> str:
        """Return what is to be said to whoever names ``words`` on ``bench``."""
        assert job.offers is not None
        seen = _evidence(job, bench, job.offers[words])
        if words in job.right:
            if job.offers[words] and not seen:
                return "No reading of yours shows that yet. Read it, then name it again."
            more = " Something goes with it: find that too." if len(job.right) > 1 else ""
            return f"Right: {words}. {self.missing(bench) or 'Your readings show it.'}{more}"
        if not seen and job.offers[words]:
            return "Not that, and no reading of yours is about it. Read first, then name."
        good = next((one.words for one in seen if one.good), "")
        return f"Not that: {good} is a good reading." if good else f"Not that. {self.compare}"


def telling(made: Arrangement, fault: Fault) -> tuple[ShownBy, ...]:
    """Return the readings that tell ``fault`` from a sound machine of this arrangement."""
    return tuple(one for one in shown_by(standard(made), fault) if one.telling)


@dataclass(frozen=True)
class _Seen:
    """A reading, or a look, that is about a fault: in words, and whether it shows what a good dryer shows."""

    words: str
    good: bool


def _evidence(job: Job, bench: Bench, faults: tuple[str, ...]) -> list[_Seen]:
    """Return the readings, and looks, of ``bench`` that are about one of ``faults``."""
    found = []
    for fault in (read_fault(text, job.made) for text in faults):
        look = _LOOKED_AT.get(fault.name)
        if look:
            bad = any(text.startswith(fault.name) for text in job.faults)
            found += [_Seen("what you saw at the vent", not bad) for act in bench.trail if act["act"] == look]
        found += [seen for one in telling(job.made, fault) for act in bench.trail if (seen := _read(act, one))]
    return found


def _read(act: Act, one: ShownBy) -> _Seen | None:
    """Return what ``act`` read of the points of ``one``, held warm if that needs it; None if it did not read them."""
    reading = act.get("reading")
    points = {"case" if point == CABINET else point for point in (one.a, one.b)}
    if reading is None or reading["mode"] == "continuity" or set(reading["places"]) != points:
        return None
    if "held" in one.state and act["asked"]["limit_celsius"] < _WARM:
        return None
    value = math.inf if reading["value"] is None else reading["value"]
    return _Seen(f"{reading['shown']} from {' to '.join(reading['places'])}", one.good.holds(value))


# --- dealing --------------------------------------------------------------------------------------------------------


def practice_machine(name: str, question: str, number: int) -> Machine:
    """Return the practice machine ``number`` of a question, of the arrangement ``name``."""
    stream = Stream(f"leg-to-leg/practice-bench/1/{question}/{number}")
    return on_the_bench(drawn_machine(arrangement(name), stream, f"practice {question} {number}"))


def in_turn(names: tuple[str, ...], number: int) -> str:
    """Return the name that has its turn at ``number``."""
    return names[(number - 1) % len(names)]


def offered(made: Arrangement, kinds: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Return what can be named on a machine: each of ``kinds`` at each of its places, and that nothing is wrong."""
    found: dict[str, tuple[str, ...]] = {}
    for fault in faults_of(made):
        if fault.name in kinds:
            words = in_words(made, fault)
            found[words] = (*found.get(words, ()), str(fault))
    return {**found, NOTHING: ()}


def in_words(made: Arrangement, fault: Fault) -> str:
    """Return a fault with its place, as its tech sheet names places."""
    if fault.name in _OF_ONE_NAME or not fault.on:
        return fault.kind.title
    target = target_of(made, fault)
    where = f"{target.points[0]} to {target.points[1]}" if fault.on.count("-") else fault.on
    return f"{fault.kind.title} ({where})"


def fault_job(
    names: tuple[str, ...], question: str, kinds: tuple[str, ...], dealt: tuple[str, ...], number: int
) -> Job:
    """Return job ``number``: a machine of ``names`` in turn with a fault of ``dealt``; ``kinds`` can be named."""
    name = in_turn(names, number)
    machine, made = practice_machine(name, question, number), arrangement(name)
    stream = Stream(f"leg-to-leg/practice-bench/1/{question}/{number}/fault")
    kind = stream.choose(tuple(one for one in dealt if any(fault.name == one for fault in faults_of(made))))
    fault = stream.choose(tuple(fault for fault in faults_of(made) if fault.name == kind))
    return named_job(machine, (fault,), kinds)


def named_job(machine: Machine, faults: tuple[Fault, ...], kinds: tuple[str, ...]) -> Job:
    """Return a job in which those of ``faults`` that are of ``kinds`` are to be named."""
    assert machine.stands is not None
    made = machine.stands.arrangement
    right = tuple(in_words(made, fault) for fault in faults if fault.name in kinds)
    return Job(machine, tuple(map(str, faults)), offered(made, kinds), right)
