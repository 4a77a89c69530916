"""What a meter may show on the dead machine of a job card: the circuit's ohms, and the band that the meter leaves."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from dryerbench.answers.tolerance import accuracy_band
from dryerbench.bench.faults import read_fault
from dryerbench.bench.meter import Meter
from dryerbench.bench.meter_ranges import Range, ranges
from dryerbench.bench.situation import Situation
from dryerbench.bench.states import State
from dryerbench.course.bench_card import BenchCard, faults_of, machine_of
from legtoleg.keys.reference import Expected


def true_ohms(card: BenchCard, a: str, b: str, pulled: Collection[str] = ()) -> float:
    """Return the Ω between two points of the machine on ``card``, unplugged, with the wires ``pulled`` off.

    Raises
    ------
    CircuitError
        For a point that the machine does not have.
    """
    state = State(plugged=False, pulled=frozenset(pulled))
    situation = Situation(machine_of(card), tuple(read_fault(fault) for fault in faults_of(card)), state)
    return float(max(0.0, situation.dead[a, b].ohms.real))


def _range_of(ohms: float) -> Range | None:
    return next((scale for scale in ranges("ohms") if ohms <= scale.full_scale), None)


def expected(
    card: BenchCard, a: str, b: str, pulled: Collection[str] = (), slips: Mapping[str, float] | None = None
) -> Expected:
    """Return what counts as the ohm reading of ``a`` to ``b``, in Ω: leads nulled, taken off by hand, or left in.

    The band holds every reading that the bench's meter can show, by its ±(% of reading + counts) and its leads.

    Raises
    ------
    CircuitError
        For a point that the machine does not have.
    """
    ohms = true_ohms(card, a, b, pulled)
    scale = _range_of(ohms)
    if scale is None:
        return Expected(over_limit=True)
    meter = Meter()
    with_leads = ohms + meter.lead_ohms_most
    low = accuracy_band(ohms, scale.percent, scale.counts, scale.resolution).low
    high = accuracy_band(with_leads, scale.percent, scale.counts, scale.resolution).high
    slack = ranges("ohms")[0].counts * ranges("ohms")[0].resolution
    return Expected(low=max(0.0, low - slack), high=high, slips=slips)
