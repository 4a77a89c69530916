"""Which calls are dealt: a plain one, one with a cause behind the fault, one to stop and hand over."""

from __future__ import annotations

from dataclasses import dataclass

from dryerbench.bench.acts import HANDS
from dryerbench.bench.faults import read_fault
from dryerbench.bench.heat_effects import over_a_load
from dryerbench.bench.machine import Machine
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.diagnosis.complaints import customer_words, heard_of

ELECTRICIAN, UTILITY, QUALIFIED = HANDS
KINDS = ("plain", "cause", "hand over")

PLAIN = (
    ("element-1-open", "element-2-open", "element-3-open"),
    ("element-1-grounded", "element-2-grounded", "element-3-grounded"),
    ("high-limit-open",),
    ("cycling-open",),
    ("control-open",),
    ("thermistor-open",),
    ("door-switch-open",),
    ("run-winding-open",),
)
"""Faults with nothing behind them, in groups that are dealt equally often; readings of a dead machine show each."""

HANDED_OVER = {
    "lost-leg-1": ELECTRICIAN,
    "lost-leg-2": ELECTRICIAN,
    "open-neutral": ELECTRICIAN,
    "open-service-neutral": UTILITY,
    "motor-heat-contact-open": QUALIFIED,
}
"""Faults that are not for whoever works dead on the machine, and whose they are."""

TRIES = 500
"""How often causes are dealt anew before a machine counts as one on which none of them blows anything."""
_VENT = ("0.6", "0.75", "0.05")


class DealingError(LegToLegError, RuntimeError):
    """A machine on which there is no such call."""


@dataclass(frozen=True)
class Visit:
    """One call: its kind, the machine, what is wrong, what is heard (short name) and the customer's words."""

    kind: str
    machine: Machine
    faults: tuple[str, ...]
    heard: str
    words: str


def deal_faults(kind: str, stream: Stream) -> tuple[tuple[str, ...], str]:
    """Return what is wrong on a call of ``kind``, and the short name of what the customer hears of it.

    Of ten plain calls about one has nothing wrong and one has two faults. The causes are those that blow the cut-off,
    or keep the limit opening, over a load on the practice machine (``bench.heat_effects``).

    Raises
    ------
    DealingError
        If none of very many causes does either.
    """
    if kind == "hand over":
        name = stream.choose(tuple(HANDED_OVER))
        return (name,), heard_of(name)
    if kind == "cause":
        return _with_cause(stream)
    luck = stream.integer(1, 10)
    if luck == 1:
        return (), "slow"
    if luck == 2:
        two = stream.shuffle(PLAIN[0])[:2]
        faults = stream.choose((tuple(sorted(two)), (stream.choose(PLAIN[0]), "missing-bond")))
        return faults, "slow"
    name = stream.choose(stream.choose(PLAIN))
    fault = _grounded(name, stream) if name.endswith("-grounded") else name
    return (fault,), heard_of(name)


def _with_cause(stream: Stream) -> tuple[tuple[str, ...], str]:
    """Return causes with what they do to cut-off or limit; what the physics does not make is dealt anew."""
    for _ in range(TRIES):
        causes = _causes(stream)
        done = over_a_load(Machine(), tuple(read_fault(cause) for cause in causes))
        if done.cutoff_blown:
            grounded = next((cause for cause in causes if "-grounded" in cause), None)
            heard = heard_of(read_fault(grounded).name) if grounded else "no-heat"
            return ("cut-off-blown", *causes), heard
        if done.limit_clicks:
            return causes, "slow"
    raise DealingError("No cause makes a switch of this dryer click or blow: it has no call with a cause.")


def _causes(stream: Stream) -> tuple[str, ...]:
    """Return causes that go together: short air or a grounded element, and what should have stopped the heat."""
    guards = stream.choose((("high-limit-stuck",), ("high-limit-stuck", "cycling-welded"), ("cycling-welded",), ()))
    if guards == ("high-limit-stuck",) and stream.integer(1, 3) == 1:
        return (*guards, _grounded(stream.choose(PLAIN[1]), stream))
    return (*guards, f"blocked-vent={stream.step(*_VENT):g}")


def _grounded(name: str, stream: Stream) -> str:
    return f"{name}={stream.step('0.3', '0.7', '0.02'):g}"


def deal_visit(kind: str, machine: Machine, stream: Stream) -> Visit:
    """Return a call of ``kind`` on ``machine``."""
    faults, key = deal_faults(kind, stream)
    return Visit(kind, machine, faults, key, customer_words(key, stream, wrong=bool(faults)))


def names_of(faults: tuple[str, ...]) -> tuple[str, ...]:
    """Return the names of ``faults`` without their strengths."""
    return tuple(read_fault(fault).name for fault in faults)
