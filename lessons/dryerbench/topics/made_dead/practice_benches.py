"""The practice bench of lesson 01: another dryer made dead, with the breaker locked."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.course.practice_bench import Aim, Job, PracticeBench, in_turn, practice_machine

_MACHINES = ("cabin", "mudroom", "alcove", "pantry", "cellar", "attic")
"""Dryers whose terminal block has a cover of its own, away from the heater's."""


def _deal(number: int) -> Job:
    return Job(practice_machine(in_turn(_MACHINES, number), "make_dead", number))


def _tested(where: str, bench: Bench) -> bool:
    return any(act["act"] == "test_dead" and act["with"].get("where", "plug") == where for act in bench.trail)


def _checked_last(bench: Bench) -> bool:
    names = [act["act"] for act in bench.trail if act["act"] in ("prove_meter", "test_dead")]
    return names[-1:] == ["prove_meter"]


PRACTICE_BENCHES = {
    "make_dead": PracticeBench(
        "Pull the plug, and open, lock and tag the breaker too. Test dead at the plug. Take off the cover of the "
        "terminal block, and that one alone. Test dead at the block.",
        _deal,
        (
            Aim(lambda bench: not bench.state.plugged, "The plug is still in."),
            Aim(lambda bench: not bench.state.breaker_on and bench.locked, "The breaker is not open and locked yet."),
            Aim(lambda bench: _tested("plug", bench), "You have not tested dead at the plug."),
            Aim(lambda bench: _tested("block", bench), "You have not tested dead at the terminal block."),
            Aim(_checked_last, "Check the meter once more: until then its zero is worth nothing."),
            Aim(
                lambda bench: len(bench.covers_off) == 1,
                "More covers are off than the one in front of the block. Put the others back on.",
            ),
        ),
    )
}
