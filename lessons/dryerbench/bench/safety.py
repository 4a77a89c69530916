"""Safety: rules over the scene after every act, over the step from one scene to the next, and over what was proved.

``findings`` walks a trail. Each rule is a generator of names in the table ``bench-findings``, where its caution and the
origin of the rule stand. ``_STATES`` holds whatever act led there; ``_OF_ACT`` adds what one kind of act asks for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache

from dryerbench.bench.scene import AS_FOUND, Scene, isolated, out_of_use
from dryerbench.bench.trail import Act, Finding, finding
from dryerbench.bench.watch import POWER, Step, Watch
from dryerbench.core.tables import table

_BEEPER = "continuity"
_NUMBERS = frozenset({"volts", "low-impedance", "ohms", "insulation"})
_OUTSIDE = ("vent", "cord")
_TRIPS_ALLOWED = 1
_RESETS_ALLOWED = 2
"""Resets of a safety switch after which another one, with nothing replaced, is a finding (common practice)."""


@cache
def _outside() -> frozenset[str]:
    return frozenset(row.text("point") for row in table("test-points").rows if row["behind"] != "cover")


def _is_inside(point: str) -> bool:
    return point not in _outside()


Names = Iterator[str]


def findings(acts: Iterable[Act]) -> list[Finding]:
    """Return the findings of a trail, in its order; each act may have several, each finding once an act."""
    watch, scene = Watch(), AS_FOUND
    found: list[Finding] = []
    for place, act in enumerate(acts):
        step = Step(act, scene, act.get("scene", scene))
        names = [*_OF_ACT.get(step.name, _nothing)(step, watch)]
        names += [name for rule in _STATES for name in rule(step, watch)]
        found += [finding(name, place) for name in dict.fromkeys(names)]
        scene = step.after
        watch.minutes += act["minutes"]
    return found


def safe_to_power(acts: Iterable[Act]) -> bool:
    """Return whether the readings made show that the machine may be powered: heater clear, bond right, nothing loose.

    Nothing but readings counts: a sound machine that nobody read is not safe to power.
    """
    watch, scene = Watch(), AS_FOUND
    for act in acts:
        scene = act.get("scene", scene)
        _note_case(act, scene, watch)
    return watch.case.good and not scene["loose"] and not scene["cover_off"] and not scene["charged"]


# --- the scene, whatever led to it ------------------------------------------------------------------------------------


def _open_live_bare(step: Step, _: Watch) -> Names:
    """Name it when hands that are bare come to be before live parts; it is named anew each time it begins."""
    if step.live and step.after["cover_off"] and not step.after["gloves"]:
        if step.name in POWER:
            yield "powered-open"
        elif not _open_and_bare(step.before):
            yield "live-without-precautions"


def _open_and_bare(scene: Scene) -> bool:
    return scene["energized"] and scene["cover_off"] and not scene["gloves"]


def _open_live_gloved(step: Step, _: Watch) -> Names:
    before = step.before["energized"] and step.before["cover_off"] and step.before["gloves"]
    if step.live and step.after["cover_off"] and step.after["gloves"]:
        if not before:
            yield "live-work"
        if not step.after["glasses"] and (not before or step.before["glasses"]):
            yield "eyes-bare"


def _touched(step: Step, _: Watch) -> Names:
    if step.fact("hands_on_live"):
        yield "hands-on-live"
    if step.fact("live_bare"):
        yield "live-without-precautions"
    if step.fact("case_live"):
        yield "case-live"
    if step.fact("hot"):
        yield "hot-parts"


def _charge(step: Step, watch: Watch) -> Names:
    """Name a charge that hands, another setting or power met; once for each charge."""
    if not step.before["charged"]:
        watch.charge_noted = False
        return
    met = step.fact("hands") or step.fact("other_setting") or step.name in POWER
    if met and not watch.charge_noted:
        watch.charge_noted = True
        yield "charge-left"


def _hands(step: Step, watch: Watch) -> Names:
    """Name hands that went in before the circuit was proved dead, or on an open breaker alone."""
    if not step.fact("hands"):
        return
    watch.unlocked = watch.unlocked or not (step.fact("isolated") or step.fact("hands_on_live"))
    if step.fact("hands_on_live") or watch.hands_noted:
        return
    if not watch.proved_dead:
        watch.hands_noted = True
        yield "hands-before-dead"
    elif not watch.block_tested and not watch.block_noted:
        watch.block_noted = True
        yield "block-not-tested"
    if not step.fact("isolated"):
        watch.hands_noted = True
        yield "not-locked"


def _trips(step: Step, watch: Watch) -> Names:
    if step.name == "close_breaker" and watch.trips > _TRIPS_ALLOWED:
        yield "breaker-reset"
    watch.trips += "the breaker trips" in step.act["happened"]


def _read_case(step: Step, watch: Watch) -> Names:
    _note_case(step.act, step.after, watch)
    yield from ()


def _note_case(act: Act, scene: Scene, watch: Watch) -> None:
    reading = act.get("reading")
    if reading is not None and not act["facts"].get("fuse_gone", False):
        watch.case.read(reading, four_wire=scene["four_wire"], plugged=scene["plugged"])
    if act["act"] == "replace_part" and act["facts"].get("hands", False):
        watch.case.worked_on(str(act["with"].get("part")))
    if act["act"] == "tighten" and act["facts"].get("put_right", False):
        watch.case.worked_on(str(act["with"].get("wire")))


_STATES: tuple[Callable[[Step, Watch], Names], ...] = (
    _open_live_bare,
    _open_live_gloved,
    _touched,
    _hands,
    _charge,
    _trips,
    _read_case,
)


# --- what one kind of act asks for -------------------------------------------------------------------------------


def _nothing(_: Step, __: Watch) -> Names:
    yield from ()


def _prove(step: Step, watch: Watch) -> Names:
    if step.fact("shows_nothing"):
        watch.proved_at, watch.tested, watch.proved_dead = None, False, False
        return
    watch.proved_at = watch.minutes + step.act["minutes"]
    watch.slots_read = False
    watch.proved_dead = watch.proved_dead or watch.tested
    yield from ()


def _test_dead(step: Step, watch: Watch) -> Names:
    where = step.act["with"].get("where")
    dead = not step.fact("found_live")
    watch.unlocked = watch.unlocked or (where == "block" and dead and not step.fact("isolated"))
    watch.slots_read = watch.slots_read or where == "outlet"
    if not watch.meter_proved:
        yield "meter-not-proved"
    if not dead:
        yield "dead-test-live"
        watch.alive_again()
    else:
        watch.tested, watch.proved_dead = watch.meter_proved, False
        watch.block_tested = watch.block_tested or (where == "block" and watch.tested)
    if step.fact("category_low"):
        yield "category-too-low"
    watch.proved_at = None


def _cover_off(step: Step, watch: Watch) -> Names:
    if watch.tested and not watch.proved_dead:
        yield "meter-not-reproved"
    elif not watch.proved_dead and not step.after["gloves"]:
        yield "cover-before-dead"
    if not isolated(step.after) and not step.after["breaker_on"]:
        yield "not-locked"


def _power(step: Step, watch: Watch) -> Names:
    watch.alive_again()
    yield from _run(step, watch)
    if not step.live:
        return
    if step.fact("loose"):
        yield "powered-loose"
    if watch.case.path_shown:
        yield "powered-on-path"
    elif watch.case.bond_bad:
        yield "powered-unbonded"
    if watch.repaired and not watch.case.complete:
        yield "powered-unread"
    watch.repaired = False


def _isolate(step: Step, watch: Watch) -> Names:
    watch.had_dead, watch.fed_noted = True, False
    if step.fact("under_load"):
        yield "cut-under-load"


def _run(step: Step, watch: Watch) -> Names:
    """Name a fed case once a power-up, and only to a person who had the machine dead and could have tested it."""
    if step.fact("case_fed") and watch.had_dead and not watch.fed_noted:
        watch.fed_noted = True
        yield "powered-grounded"


def _let_run(step: Step, watch: Watch) -> Names:
    yield from _run(step, watch)
    if step.fact("ground_current"):
        yield "ran-grounded"


def _replace(step: Step, watch: Watch) -> Names:
    if step.fact("hands"):
        watch.repaired, watch.trips, watch.resets = True, 0, 0
    if step.fact("outside_in_use"):
        yield "outside-in-use"


def _reset(step: Step, watch: Watch) -> Names:
    if step.fact("put_right"):
        watch.resets += 1
        if watch.resets > _RESETS_ALLOWED:
            yield "limit-reset"


def _tighten(step: Step, watch: Watch) -> Names:
    if step.fact("put_right"):
        watch.repaired, watch.trips = True, 0
    yield from ()


def _probe(step: Step, watch: Watch) -> Names:
    reading = step.act.get("reading") or step.act.get("readings", [])[0]
    watch.modes.add(reading["mode"])
    places = reading["places"]
    watch.slots_read = watch.slots_read or any(place.startswith("outlet-") for place in places)
    inside = any(_is_inside(place) for place in places) and not step.fact("powered")
    watch.unlocked = watch.unlocked or (inside and not step.fact("isolated"))
    if step.fact("ohms_on_live"):
        yield "ohms-on-live"
        watch.proved_at = None
    if step.fact("other_path"):
        yield "other-path"
    if step.fact("phantom"):
        yield "phantom-volts"
    if step.fact("board_stressed"):
        yield "insulation-through-board"
    if step.fact("category_low"):
        yield "category-too-low"


def _lock(step: Step, watch: Watch) -> Names:
    """Name a lock that comes after hands or probes were inside on an open breaker alone, once.

    With the plug out and in one's own hands nothing is late: nobody else can power the machine.
    """
    if step.after["cover_off"] and watch.unlocked:
        watch.unlocked = False
        yield "locked-late"


def _gear_off(step: Step, watch: Watch) -> Names:
    if watch.slots_read and not step.after["plugged"] and step.after["breaker_on"]:
        yield "gloves-off-early"


def _close(_: Step, watch: Watch) -> Names:
    watch.unlocked = False
    watch.block_tested = watch.block_noted = False
    yield from ()


def _clamp(step: Step, watch: Watch) -> Names:
    if "reading" in step.act:
        watch.modes.add(step.act["reading"]["mode"])
    if step.fact("category_low"):
        yield "category-too-low"


def _name_fault(_: Step, watch: Watch) -> Names:
    if _BEEPER in watch.modes and not watch.modes & _NUMBERS:
        yield "beeper-alone"


def _leave_unfinished(step: Step, _: Watch) -> Names:
    """Name an unfinished machine that is left in use; open or with wires off it wants cap or lock, and their tag."""
    if not out_of_use(step.after):
        yield "left-in-use"
    tagged = step.after["capped"] or (step.after["locked"] and not step.after["breaker_on"])
    if (step.after["cover_off"] or step.after["loose"]) and not tagged:
        yield "left-open"


def _order(step: Step, watch: Watch) -> Names:
    yield from _leave_unfinished(step, watch)
    if not step.after["told"]:
        yield "nobody-told"


def _leave(step: Step, watch: Watch) -> Names:
    """Name what is left open, and a machine left in use though a reading shows a path, no bond or a wrong strap."""
    if (watch.case.path_shown or watch.case.bond_bad) and not out_of_use(step.after):
        yield "left-in-use"
    if step.after["cover_off"] or step.after["loose"]:
        yield "left-open"
        if not out_of_use(step.after):
            yield "left-in-use"


_OF_ACT: dict[str, Callable[[Step, Watch], Names]] = {
    "unplug": _isolate,
    "open_breaker": _isolate,
    "prove_meter": _prove,
    "test_dead": _test_dead,
    "cover_off": _cover_off,
    "cover_on": _close,
    "lock": _lock,
    "gear_off": _gear_off,
    "replace_part": _replace,
    "reset": _reset,
    "tighten": _tighten,
    "plug_in": _power,
    "close_breaker": _power,
    "unlock": _run,
    "press_start": _run,
    "ask_heat": _run,
    "close_door": _run,
    "let_run": _let_run,
    "service_test": _let_run,
    "probe": _probe,
    "wiggle": _probe,
    "tap": _probe,
    "clamp": _clamp,
    "leakage": _clamp,
    "temperature": _clamp,
    "name_fault": _name_fault,
    "stop_and_hand_over": _leave_unfinished,
    "order_part": _order,
    "leave": _leave,
}
