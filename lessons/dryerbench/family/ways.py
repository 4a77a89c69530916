"""Whether a way told in words is one that the wires go: from net to net through the parts it names."""

from __future__ import annotations

from collections.abc import Iterator

from dryerbench.family.arrangement import Arrangement, Step, Way


def _crossings(made: Arrangement, name: str) -> Iterator[tuple[str, str]]:
    """Yield the pairs of nets that a step can lead between, in both directions."""
    net = made.net
    if " coil " in name:
        a, _, b = name.partition(" coil ")
        if {a, b} in [{coil.a, coil.b} for coil in made.coils]:
            yield net[f"Box.{a}"], net[f"Box.{b}"]
        return
    part = made.by_name.get(name)
    if part is None:
        if name in net:
            yield net[name], net[name]
        return
    ends = [net[terminal] for terminal in made.present(part)]
    if len(ends) == 1:
        yield ends[0], ends[0]
    for a in ends:
        for b in ends:
            if a != b:
                yield a, b


def _reached(made: Arrangement, step: Step, here: set[str] | None) -> set[str]:
    """Return the nets that a step leads to from ``here`` (None: from anywhere); parts beside each other agree."""
    found: set[str] | None = None
    for name in step:
        ends = {b for a, b in _crossings(made, name) if here is None or a in here}
        found = ends if found is None else found & ends
    return found or set()


def follow(made: Arrangement, way: Way) -> str:
    """Return what is wrong with a way, as a sentence, or nothing if the wires go it."""
    here: set[str] | None = None
    before = ""
    for step in way.steps:
        there = _reached(made, step, here)
        words = " beside ".join(step)
        if not there:
            return f"no wire leads from {before} to {words}." if before else f"there is no {words} on this dryer."
        if here is None and len(step) == 1 and step[0] in made.by_name:
            there |= {a for a, _ in _crossings(made, step[0])}
        here, before = there, words
    return ""
