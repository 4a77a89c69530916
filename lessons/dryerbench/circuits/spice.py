"""A circuit as a SPICE deck, an open format that any circuit simulator reads: written from the parts alone."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache

from dryerbench.circuits.circuit import Circuit, CircuitError, Part
from dryerbench.circuits.solver import MAINS_HERTZ

_LETTERS = {
    "source": "V",
    "resistance": "R",
    "capacitance": "C",
    "inductance": "L",
    "contact": "R",
    "wire": "R",
}


def deck_node(circuit: Circuit, node: str) -> str:
    """Return the deck's name of ``node``: 0 for the reference, else its own in small letters and underscores."""
    return "0" if node == circuit.reference else _word(node)


@cache
def _word(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", text.lower())


def _metered(name: str, a: str, b: str, ohms: float) -> str:
    """Return a wire as an ammeter and the drop R·I of its own current: no conductance swamps a floating node's."""
    return f"V_{name} {a} {name}_m DC 0\nH_{name} {name}_m {b} V_{name} {ohms!r}"


def _card(circuit: Circuit, part: Part, *, live: bool, ammeters: bool) -> str:
    a, b = deck_node(circuit, part.a), deck_node(circuit, part.b)
    name = f"{_LETTERS[part.kind]}_{_word(part.name)}"
    if not part.closed:
        return f"* open: {name} {a} {b}"
    if part.kind == "source":
        rest = f"AC {part.value!r} {part.degrees!r}" if live else "DC 0"
        return f"{name} {b} {a} {rest}"
    if part.value == 0.0:
        return f"V_{_word(part.name)} {a} {b} DC 0"
    if ammeters and part.kind in ("wire", "contact"):
        return _metered(_word(part.name), a, b, part.value)
    return f"{name} {a} {b} {part.value!r}"


def _unique(circuit: Circuit) -> None:
    for kind, names in (("points", circuit.nodes), ("parts", [part.name for part in circuit])):
        count = Counter(_word(name) for name in names)
        twice = [name for name in names if count[_word(name)] > 1]
        if twice:
            raise CircuitError(f"In a deck these {kind} would have one name: {', '.join(twice)}. Rename one.")


def _lines(circuit: Circuit, title: str, probes: tuple[str, str] | None, hertz: float, ammeters: bool) -> Iterator[str]:
    live = probes is None
    yield f"* {title}"
    yield "* volts are effective values; the first end of a source is its positive one"
    yield from (_card(circuit, part, live=live, ammeters=ammeters) for part in circuit)
    if probes is None:
        yield f".ac lin 1 {hertz!r} {hertz!r}"
    else:
        a, b = (deck_node(circuit, probe) for probe in probes)
        yield f"* one ampere through the probes: their volts are the ohms between {probes[0]} and {probes[1]}"
        yield f"I_probes {b} {a} DC 1"
        yield ".op"
    yield ".end"


def write_deck(
    circuit: Circuit,
    title: str = "dryer",
    probes: tuple[str, str] | None = None,
    hertz: float = MAINS_HERTZ,
    *,
    ammeters: bool = False,
) -> str:
    """Return ``circuit`` as a SPICE deck: live at ``hertz`` Hz, or dead with 1 A driven through ``probes``.

    With ``ammeters`` each wire and closed contact is an ammeter (0 V source) and a current-controlled drop, which
    names its current and keeps all digits of points that hang on gigaohms; without, it is a plain resistance.

    Raises
    ------
    CircuitError
        If two names become one in the deck.
    """
    _unique(circuit)
    return "\n".join(_lines(circuit, title.replace("\n", " "), probes, hertz, ammeters)) + "\n"
