"""Practice of reading another sheet: cases on dryers that nobody is dealt, worked out from their own circuits."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import Case, FillTable, PickMany, PickOne, PickParts, Reading, ReadingsGo
from dryerbench.family.arrangement import CABINET, Arrangement
from dryerbench.family.shelf import arrangement
from dryerbench.topics.tracing_the_circuit.heater_line import in_doubt, middle
from dryerbench.topics.tracing_the_circuit.second_sheet import (
    PRACTICED,
    SECOND_DEAD,
    SET,
    at_rest,
    dealt_readings,
    legs_at_heater,
    resting_line,
    stops_all_heat,
    stretches,
    suspects,
    volts_read,
)

_READ = "Another sheet, another line"
_LEG, _BOTH = 120.0, 240.0
_BOTH_SWITCHED = "garage"
"""A dryer that switches both ends of its heater: by its sheet no leg reaches it while it makes no heat."""
_LEGS = {
    frozenset({"leg 1"}): "Only leg 1",
    frozenset({"leg 2"}): "Only leg 2",
    frozenset({"leg 1", "leg 2"}): "Leg 1 and leg 2",
    frozenset(): "No leg, by the sheet",
}


def ways_in_words(made: Arrangement) -> str:
    """Return the ways of the current of ``made`` as one line, part by part, each part with its kind the first time."""
    known: set[str] = set()

    def called(name: str) -> str:
        if " coil " in name:
            return "coil {}-{}".format(*name.split(" coil "))
        new = name in made.by_name and name not in known
        known.add(name)
        return f"{name} ({made.by_name[name].kind.name})" if new else name

    ways = (
        f"{way.title}: " + " - ".join(" beside ".join(map(called, step)) for step in way.steps) for way in made.ways
    )
    return "; ".join(ways)


def _stopping(stream: Stream) -> PickMany:
    """Return which parts of a dryer, open, stop all heat while the drum turns."""
    made = arrangement(stream.choose(PRACTICED))
    words = {part.name: f"the {part.kind.name}, {part.name}" for part in suspects(made)}
    stopping = {name for name in words if stops_all_heat(made, name)}
    return PickMany(
        read=_READ,
        told=f"The sheet of {made.name} says: {ways_in_words(made)}. The drum turns. Set to high, it makes no heat at "
        "all. Which of these can be the one open part? Name all.",
        fits={text: "line_part_missed" for name, text in words.items() if name in stopping},
        fits_not={text: "not_all_heat" for name, text in words.items() if name not in stopping},
    )


def _leg(stream: Stream) -> Case:
    """Return which leg reaches the heater of a dryer that makes no heat just now."""
    made, state = arrangement(stream.choose((*PRACTICED, _BOTH_SWITCHED))), stream.choose(tuple(SET))
    legs = legs_at_heater(made, state)
    wrong = {words: "no_leg_seen" if not other else "leg_misread" for other, words in _LEGS.items() if other != legs}
    return Case(
        f"The sheet of {made.name} says: {ways_in_words(made)}. It is {SET[state]}. Which leg reaches its heater?",
        _LEGS[legs],
        wrong,
        "Walk from each end of the line toward the coil, and stop at the first open contact.",
    )


def _volts(stream: Stream) -> ReadingsGo:
    """Return what is read at three pairs of points of a dryer with one contact open."""
    made = arrangement(stream.choose(PRACTICED))
    opened, pairs = dealt_readings(made, stream)
    rows = []
    for place, (a, b) in enumerate(pairs):
        volts = volts_read(made, a, b, opened.names[0])
        slips = _slips(place, b, volts)
        rows.append(Reading(f"{a} to {'the cabinet' if b == CABINET else b}", "V", volts, "border_misread", slips, 2.0))
    return ReadingsGo(
        f"The sheet of {made.name} says: {ways_in_words(made)}. The drum turns, and it is set to high. Only "
        f"{opened.names[0]} is open. A leg has 120 V. What does a qualified person read?",
        tuple(rows),
        f"{opened.names[0]} has all the volts. Each side of it is at the leg of its own end.",
    )


def _slips(place: int, b: str, volts: float) -> dict[str, float]:
    if place == 0:
        return {"line_turned_round": 0.0 if volts else _BOTH, "one_leg_along_the_line": _LEG}
    if place == 1:
        wrong = {"open_reads_nothing": 0.0} if volts else {"supply_across_closed": _BOTH}
        return wrong | {"one_leg_across_open": _LEG}
    if b == CABINET:
        return {"past_called_dead": 0.0, "cabinet_is_no_leg": _BOTH}
    return {"coil_has_the_volts": _BOTH, "one_leg_along_the_line": _LEG}


def _next(stream: Stream) -> Case:
    """Return the reading that halves what is left of a dryer's line, dead."""
    made, dead = arrangement(stream.choose(PRACTICED)), stream.choose(SECOND_DEAD)
    line, ends, switch = resting_line(made), stretches(made), at_rest(made)
    read = tuple((*ends[name], is_open) for name, is_open in dead)
    doubt = in_doubt(read, line)
    coil = "One coil, with a wire off"
    right = f"{doubt[0]} to {middle(doubt[0], doubt[-1], line)}" if doubt else coil
    wrong = {coil: "not_in_doubt", f"{switch.left} to {switch.right}": "motor_contact_at_rest"}
    for a, b in list(ends.values())[1:]:
        shared = set(line[line.index(a) : line.index(b) + 1]) & set(doubt)
        slip = "nothing_new" if shared == set(doubt) else "one_place_a_reading" if len(shared) > 1 else "not_in_doubt"
        wrong[f"{a} to {b}"] = slip
    wrong.pop(right, None)
    known = ", ".join(f"{a} to {b} {'OL' if is_open else '0.2 Ω'}" for a, b, is_open in read)
    return Case(
        f"The heater circuit of {made.name} has these points in order: {', '.join(line)}. It is dead and set to high, "
        f"and the coils' wires are off. You read: {known}. Which reading is next?",
        right,
        wrong,
        f"What is left is between {doubt[0]} and {doubt[-1]}." if doubt else "That stretch is closed.",
    )


SECOND_PRACTICE = {
    "second_suspects": PickParts(_READ, (_stopping,)),
    "second_leg": PickOne(_READ, (_leg,)),
    "second_volts": FillTable(_READ, (_volts,)),
    "second_next": PickOne("Half, and half again", (_next,)),
}
"""The practice of lesson 07's questions on the second sheet."""
