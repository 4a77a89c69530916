"""The trail of a job: every act with its minutes as plain data, and the safety findings that follow from it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import NotRequired, TypedDict

from dryerbench.bench.meter import ReadingData
from dryerbench.bench.states import StateData
from dryerbench.core.tables import table

Act = TypedDict(
    "Act",
    {
        "act": str,
        "with": dict[str, object],
        "minutes": float,
        "happened": list[str],
        "facts": dict[str, bool],
        "asked": NotRequired[StateData],
        "reading": NotRequired[ReadingData],
        "readings": NotRequired[list[ReadingData]],
    },
)
"""One act: its name, what it was given, its minutes, what happened and was noted, the state asked for, what was read.

What it was given is checked by the act itself: it may come from a page or from a hand-in.
"""

_BEEPER = "continuity"
_NUMBERS = frozenset({"volts", "low-impedance", "ohms", "insulation"})


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: the act's place in the trail, what was done, the caution, and whether it keeps from sign-off."""

    name: str
    place: int
    what: str
    caution: str
    gate: bool

    def __str__(self) -> str:
        return f"{self.what} {self.caution}"

    def as_data(self) -> dict[str, str | int | bool]:
        """Return the finding as plain data for JSON."""
        return {
            "name": self.name,
            "place": self.place,
            "what": self.what,
            "caution": self.caution,
            "gate": self.gate,
        }


def finding(name: str, place: int) -> Finding:
    """Return the finding ``name`` of the table ``bench-findings`` for the act at ``place``.

    Raises
    ------
    TableError
        For a name that the table does not have.
    """
    row = table("bench-findings").row(finding=name)
    return Finding(name, place, row.text("what"), row.text("caution"), row["gate"] == "yes")


def minutes(acts: Iterable[Act]) -> float:
    """Return the minutes that all ``acts`` took together."""
    return float(sum(act["minutes"] for act in acts))


@cache
def _behind_cover() -> frozenset[str]:
    return frozenset(row.text("point") for row in table("test-points").rows if row["behind"] == "cover")


@dataclass
class _Watch:
    """What must be remembered from act to act: is the meter proved, is the circuit proved dead, what was read."""

    meter_proved: bool = False
    tested: bool = False
    proved_dead: bool = False
    had_dead: bool = False
    hands_noted: bool = False
    fed_noted: bool = False
    unlocked: bool = False
    """Whether hands or probes were inside while an open breaker without a lock was all that kept power off."""
    slots_read: bool = False
    modes: set[str] = field(default_factory=set)

    def alive_again(self) -> None:
        self.tested = self.proved_dead = self.hands_noted = False


def findings(acts: Iterable[Act]) -> list[Finding]:
    """Return the findings of a trail, in its order; each act may have several, each finding once an act."""
    watch = _Watch()
    found: list[Finding] = []
    for place, act in enumerate(acts):
        names = [*_RULES.get(act["act"], _nothing)(act, watch), *_always(act)]
        found += [finding(name, place) for name in dict.fromkeys(names)]
    return found


def _nothing(_: Act, __: _Watch) -> Iterator[str]:
    yield from ()


def _always(act: Act) -> Iterator[str]:
    facts = act["facts"]
    if facts.get("hands_on_live"):
        yield "hands-on-live"
    if facts.get("live_bare"):
        yield "live-without-precautions"
    if facts.get("hot"):
        yield "hot-parts"


def _prove(_: Act, watch: _Watch) -> Iterator[str]:
    watch.meter_proved = True
    watch.slots_read = False
    watch.proved_dead = watch.proved_dead or watch.tested
    yield from ()


def _test_dead(act: Act, watch: _Watch) -> Iterator[str]:
    inside = act["with"].get("where") == "block" and not act["facts"]["found_live"]
    watch.unlocked = watch.unlocked or (inside and not act["facts"]["isolated"])
    watch.slots_read = watch.slots_read or act["with"].get("where") == "outlet"
    if not watch.meter_proved:
        yield "meter-not-proved"
    if act["facts"]["found_live"]:
        yield "dead-test-live"
        watch.alive_again()
    else:
        watch.tested, watch.proved_dead = watch.meter_proved, False
    watch.meter_proved = False


def _cover_off(act: Act, watch: _Watch) -> Iterator[str]:
    facts = act["facts"]
    if watch.tested and not watch.proved_dead:
        yield "meter-not-reproved"
    elif not watch.proved_dead and not facts["gear"]:
        yield "cover-before-dead"
    if not facts["isolated"] and not facts["breaker_on"]:
        yield "not-locked"
    if not facts["isolated"] and facts["breaker_on"] and facts["gear"]:
        yield "live-work"


def _hands(act: Act, watch: _Watch) -> Iterator[str]:
    facts = act["facts"]
    watch.unlocked = watch.unlocked or not (facts.get("isolated", True) or facts.get("hands_on_live"))
    if facts.get("hands_on_live", True) or watch.hands_noted:
        return
    if not watch.proved_dead:
        watch.hands_noted = True
        yield "hands-before-dead"
    if not facts["isolated"]:
        watch.hands_noted = True
        yield "not-locked"


def _power(act: Act, watch: _Watch) -> Iterator[str]:
    facts = act["facts"]
    watch.alive_again()
    yield from _run(act, watch)
    if facts["powered"] and facts["cover_off"] and not facts["gear"]:
        yield "powered-open"
    if facts["powered"] and facts["cover_off"] and facts["gear"]:
        yield "live-work"
    if facts["powered"] and facts["loose"]:
        yield "powered-loose"


def _isolate(act: Act, watch: _Watch) -> Iterator[str]:
    watch.had_dead, watch.fed_noted = True, False
    if act["facts"].get("under_load"):
        yield "cut-under-load"


def _run(act: Act, watch: _Watch) -> Iterator[str]:
    """Name a fed case once a power-up, and only to a person who had the machine dead and could have tested it."""
    if act["facts"]["case_fed"] and watch.had_dead and not watch.fed_noted:
        watch.fed_noted = True
        yield "powered-grounded"


def _probe(act: Act, watch: _Watch) -> Iterator[str]:
    facts = act["facts"]
    watch.modes.add(act["reading"]["mode"])
    places = act["reading"]["places"]
    watch.slots_read = watch.slots_read or any(place.startswith("outlet-") for place in places)
    inside = any(place in _behind_cover() for place in places) and not facts["powered"]
    watch.unlocked = watch.unlocked or (inside and not facts["isolated"])
    if facts["ohms_on_live"]:
        yield "ohms-on-live"
        watch.meter_proved = False
    if facts["other_path"]:
        yield "other-path"
    if facts["phantom"]:
        yield "phantom-volts"
    if facts["board_stressed"]:
        yield "insulation-through-board"


def _lock(act: Act, watch: _Watch) -> Iterator[str]:
    """Name a lock that comes after hands or probes were inside on an open breaker alone, once.

    With the plug out and in one's own hands nothing is late: nobody else can power the machine.
    """
    if act["facts"].get("cover_off") and watch.unlocked:
        watch.unlocked = False
        yield "locked-late"


def _gear_off(act: Act, watch: _Watch) -> Iterator[str]:
    if watch.slots_read and act["facts"].get("slots_bare"):
        yield "gloves-off-early"


def _close(_: Act, watch: _Watch) -> Iterator[str]:
    watch.unlocked = False
    yield from ()


def _clamp(act: Act, watch: _Watch) -> Iterator[str]:
    watch.modes.add(act["reading"]["mode"])
    yield from ()


def _name_fault(_: Act, watch: _Watch) -> Iterator[str]:
    if _BEEPER in watch.modes and not watch.modes & _NUMBERS:
        yield "beeper-alone"


_RULES: dict[str, Callable[[Act, _Watch], Iterator[str]]] = {
    "unplug": _isolate,
    "open_breaker": _isolate,
    "prove_meter": _prove,
    "test_dead": _test_dead,
    "cover_off": _cover_off,
    "cover_on": _close,
    "lock": _lock,
    "gear_off": _gear_off,
    "pull_wire": _hands,
    "put_back_wire": _hands,
    "replace_part": _hands,
    "warm_parts": _hands,
    "plug_in": _power,
    "close_breaker": _power,
    "unlock": _run,
    "press_start": _run,
    "ask_heat": _run,
    "close_door": _run,
    "let_run": _run,
    "probe": _probe,
    "clamp": _clamp,
    "temperature": _clamp,
    "name_fault": _name_fault,
}
