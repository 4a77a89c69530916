"""Ways to get hurt, and ways that look alike and are safe: what is done on which machine, and what must be found.

Each act is its name, or its name and what it is given, as text: ``pull_wire wire=wire T1``. ``ohms T1 T0`` reads.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dryerbench.bench.bench import Bench

DEAD = ("unplug", "prove_meter", "test_dead", "prove_meter")
OPEN = (*DEAD, "cover_off", "prove_meter", "test_dead where=block", "prove_meter")
NEW_ELEMENT = (*OPEN, "pull_wire wire=wire T1", "replace_part part=element 1", "put_back_wire wire=wire T1")
SHUT = ("cover_on", "plug_in")
READS = ("volts", "low-impedance", "ohms", "continuity", "insulation")
BAD_CASE = ("element-1-grounded=0.9", "missing-bond")


@dataclass(frozen=True)
class Case:
    """One case: what is wrong with the machine, what is done, what must be found; ``safe``: nothing may be."""

    title: str
    acts: tuple[str, ...]
    found: frozenset[str] = frozenset()
    faults: tuple[str, ...] = ()
    not_found: frozenset[str] = field(default=frozenset())

    @property
    def safe(self) -> bool:
        return not self.found and not self.not_found


def case(title: str, acts: tuple[str, ...], found: str = "", faults: tuple[str, ...] = (), never: str = "") -> Case:
    return Case(title, acts, frozenset(found.split()), faults, frozenset(never.split()))


def done(acts: tuple[str, ...], bench: Bench) -> Bench:
    """Do ``acts`` on ``bench`` and return it."""
    for text in acts:
        act, _, rest = text.partition(" ")
        if act in READS:
            bench.measure(act, *rest.split())
        elif rest:
            key, _, value = rest.partition("=")
            bench.do(act, **{key: float(value) if key == "celsius" else value})
        else:
            bench.do(act)
    return bench


CASES = (
    case("gloves off in an open, live machine, then run", ("gear_on", "cover_off", "gear_off", "ask_heat",
         "press_start", "let_run"), "live-without-precautions"),
    case("ohms T1 to T0, tips at one potential, machine energized", ("gear_on", "cover_off", "ohms T1 T0"),
         "ohms-on-live"),
    case("ohms S1 to S2, machine energized", ("gear_on", "cover_off", "ohms S1 S2"), "ohms-on-live"),
    case("insulation T0 to case, machine energized", ("gear_on", "cover_off", "insulation T0 case"), "ohms-on-live"),
    case("ohms N to ground at a live receptacle, bare-handed", ("unplug", "ohms outlet-N outlet-G"),
         "ohms-on-live live-without-precautions"),
    case("breaker reset three times on a short", ("ask_heat", "close_breaker", "close_breaker", "close_breaker"),
         "breaker-reset", ("element-1-grounded=0.05",)),
    case("ten minutes of heat on a ground fault", ("ask_heat", "press_start", "let_run"), "ran-grounded",
         ("element-1-grounded=0.33",)),
    case("power after a repair, neither case nor bond read", (*NEW_ELEMENT, *SHUT), "powered-unread"),
    case("power after a repair, the bond not read", (*NEW_ELEMENT, "ohms T0 case", *SHUT), "powered-unread"),
    case("power after a repair, the case not read", (*NEW_ELEMENT, "ohms plug-G case", *SHUT), "powered-unread"),
    case("power on a path that was read", (*OPEN, "ohms T0 case", *SHUT), "powered-on-path",
         ("leakage-to-case=50000",)),
    case("missing bond read, then powered", (*OPEN, "ohms plug-G case", *SHUT), "powered-unbonded", ("missing-bond",)),
    case("strap read on a four-wire cord, then powered", (*OPEN, "ohms N case", *SHUT), "powered-unbonded",
         ("strap-left-on",)),
    case("hands in with no test at the block", (*DEAD, "cover_off", "pull_wire wire=wire T1"), "block-not-tested"),
    case("charge of an insulation test not let out", (*OPEN, "pull_wire wire=wire T1", "insulation T0 case",
         "pull_wire wire=wire T0"), "charge-left"),
    case("insulation test with the board still wired", (*OPEN, "insulation T0 case"), "insulation-through-board"),
    case("case at 120 V worked on", ("ask_heat", "open_door"), "case-live", BAD_CASE),
    case("job ended open and plugged in", ("gear_on", "cover_off", "stop_and_hand_over to=qualified person"),
         "left-in-use left-open"),
    case("job ended plugged in, unfinished", ("stop_and_hand_over to=licensed electrician",), "left-in-use"),
    case("job ended with a wire off", (*OPEN, "pull_wire wire=wire T1", "cover_on",
         "stop_and_hand_over to=licensed electrician"), "left-open"),
    case("live reading with a meter of CAT II", ("take_meter rating=CAT II 600 V", "gear_on", "cover_off",
         "volts L1 L2"), "category-too-low"),
    case("a test for dead on a proof that is half an hour old", ("unplug", "prove_meter", *["look_vent"] * 5,
         "test_dead"), "meter-not-proved"),
    case("a machine left out of use and nobody told", ("unplug", "order_part part=element 1"), "nobody-told"),
    case("glasses off before an open, live machine", ("gear_on", "cover_off", "glasses_off"), "eyes-bare"),
    case("vent replaced on a machine that can be started", ("replace_part part=vent",), "outside-in-use"),
    case("left in use with a missing bond read", (*OPEN, "ohms plug-G case", "cover_on", "plug_in", "leave"),
         "left-in-use", ("missing-bond",)),
    case("a part ordered for a machine that stays plugged in", ("order_part part=element 1",), "left-in-use"),
    case("20 kΩ leak without the bond, powered again", (*DEAD, "plug_in", "ask_heat", "press_start"),
         "powered-grounded", ("leakage-to-case=20000", "missing-bond")),
    case("a zero of a meter whose fuse is gone", ("gear_on", "cover_off", "ohms L1 L2", "test_dead where=block",
         "prove_meter", "pull_wire wire=wire T1"), "hands-on-live"),
    case("20 kΩ leak with the bond on, powered again", (*DEAD, "plug_in", "ask_heat", "press_start"), "",
         ("leakage-to-case=20000",), never="powered-grounded"),
    case("vent replaced with the plug out", ("unplug", "replace_part part=vent")),
    case("extension cord replaced with the plug out", ("unplug", "replace_part part=cord")),
    case("breaker locked with the plug in, gloves until the block is tested", ("open_breaker", "lock", "gear_on",
         "prove_meter", "cover_off", "test_dead where=block", "prove_meter", "gear_off", "pull_wire wire=wire T1")),
    case("vent replaced on a locked breaker", ("open_breaker", "lock", "replace_part part=vent")),
    case("loaded volts and amps through a line splitter, cover on", ("unplug", "fit_splitter", "plug_in", "ask_heat",
         "press_start", "low-impedance outlet-1 outlet-2", "clamp conductor=cord 1", "leakage", "stop", "unplug",
         "remove_splitter", "plug_in")),
    case("insulation of the freed heater, its charge let out", (*OPEN, *(f"pull_wire wire=wire T{n}" for n in range(4)),
         "insulation T0 case", "discharge", "put_back_wire wire=wire T0")),
    case("open and unfinished, left capped and tagged", (*OPEN, "pull_wire wire=wire T1", "cap_plug",
         "phone_customer about=the price", "order_part part=element 1")),
    case("a machine handed over with the plug out, closed", ("unplug", "stop_and_hand_over to=licensed electrician")),
    case("the job done, the machine left in use", ("ask_heat", "press_start", "leave")),
    case("a repair, read and closed up", (*NEW_ELEMENT, "ohms T0 case", "ohms plug-G case", *SHUT, "ask_heat",
         "press_start", "let_run", "stop")),
)  # fmt: skip
