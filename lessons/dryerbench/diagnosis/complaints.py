"""What customers say: their own words, and the faults that would be heard like that."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from dryerbench.bench.faults import Fault, read_fault
from dryerbench.core.errors import LegToLegError
from dryerbench.core.random_stream import Stream
from dryerbench.core.tables import table


class ComplaintError(LegToLegError, LookupError):
    """A fault, or words, that no table of complaints has."""


@cache
def heard() -> dict[str, tuple[str, tuple[str, ...]]]:
    """Return what can be heard: its title and the faults that can lie behind it, by its short name."""
    rows = [row for row in table("heard-as").rows if row.text("fits") == "yes"]
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for row in rows:
        _, faults = found.get(row.text("heard"), ("", ()))
        found[row.text("heard")] = (row.text("title"), (*faults, row.text("fault")))
    return found


def heard_of(fault: str) -> str:
    """Return the short name of what is heard of a machine with ``fault``.

    Raises
    ------
    ComplaintError
        For a fault that nobody hears.
    """
    name = read_fault(fault).name
    for key, (_, faults) in heard().items():
        if name in faults:
            return key
    raise ComplaintError(f"No customer hears the fault {name}.")


def behind(key: str) -> tuple[str, ...]:
    """Return the faults that can lie behind what is heard as ``key``."""
    return heard()[key][1]


def told_of(faults: Sequence[Fault]) -> tuple[str, ...]:
    """Return the faults that can lie behind what is heard of a machine with ``faults``; none if nobody hears them."""
    return next((names for _, names in heard().values() if any(fault.name in names for fault in faults)), ())


@cache
def near(key: str) -> frozenset[str]:
    """Return the faults that some customers would tell like ``key`` too: neither right nor wrong."""
    return frozenset(
        row.text("fault") for row in table("heard-as").rows if (row.text("heard"), row.text("fits")) == (key, "maybe")
    )


def customer_words(key: str, stream: Stream, *, wrong: bool = True) -> str:
    """Return one customer's words for what is heard as ``key``; ``wrong``: whether something is wrong at all."""
    told = "yes" if wrong else "no"
    return str(stream.choose([row.text("words") for row in table("customer-words").rows
                              if (row.text("heard"), row.text("wrong")) == (key, told)]))  # fmt: skip
