"""Practice of lesson 06's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.air.thermistor import USUAL_OHMS
from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import (
    Case,
    FillTable,
    PickMany,
    PickOne,
    PracticeQuestion,
    PutInOrder,
    Reading,
    ReadingsGo,
    Step,
)
from dryerbench.topics.heat_switches.models import TASKS

_CLOSED_OHMS = 0.5
"""Ω up to which a closed switch reads near 0, leads and all, as the lesson says."""
_ROOM = 77.0
"""°F of the tech sheet's ohms; at another temperature ``TASKS`` has the ohms and what slips make of them."""

_ORDER = PutInOrder(
    read="The cold test",
    jobs=(
        (
            "You read the thermistor of a dryer alone. The plug is still in. What comes when?",
            (
                Step("Take the plug out and keep it in your hand."),
                Step("See 120 V on the meter at a live receptacle.", after={}),
                Step(
                    "Read the blades of the plug, each pair.",
                    after={
                        "Take the plug out and keep it in your hand.": "hands_before_plug",
                        "See 120 V on the meter at a live receptacle.": "cover_on_trust",
                    },
                ),
                Step("See 120 V at the live receptacle once more.", "cover_on_trust"),
                Step("Take the panel off and read the block dead.", "cover_on_trust"),
                Step("Slip one spade off the thermistor.", "hands_before_plug"),
                Step("Read the thermistor in kilohms.", "read_in_circuit"),
                Step("Push the spade back on.", "steps_out_of_reach"),
            ),
        ),
        (
            "The dryer has tested dead, inside too. You test a thermostat in a cup of hot water. What comes when?",
            (
                Step("Photograph its two wires."),
                Step("Take the two wires off it.", "Without a picture you don't know where they go back."),
                Step("Unscrew the thermostat.", "The wires tear if you take it out with them on."),
                Step("Clip the leads on, and see near 0 Ω in the air.", "read_in_circuit"),
                Step(
                    "Lower its metal face into the water.", "Without the cold reading you don't know if it was closed."
                ),
                Step("Wait two minutes, and see if it goes to OL.", "steps_out_of_reach"),
                Step("Dry it, and see near 0 Ω when it is cool.", "steps_out_of_reach"),
            ),
        ),
    ),
)


def _cold_machine(stream: Stream) -> ReadingsGo:
    """Return a table of a machine at room temperature with one switch open, or none."""
    room = float(stream.choose((68, 77, 86)))
    names = ("Cycling thermostat", "High limit", "Thermal cut-off")
    bad = stream.choose((*names, ""))
    what = f"its {bad.lower()} is blown or broken" if bad else "every part of it is good"
    rows = [
        Reading(name, "Ω", None, "blown_is_over_limit")
        if name == bad
        else Reading(name, "Ω", 0.0, "closed_is_not_over_limit", loose=_CLOSED_OHMS)
        for name in names
    ]
    task, numbers = TASKS["sensor_ohms"], {"sheet_ohms": USUAL_OHMS, "fahrenheit": room}
    kohm = task.value(numbers)
    wrong = task.slip_values(numbers)
    slips = {} if room == _ROOM else {code: wrong[code] for code in ("sensor_rises", "sensor_at_room")}
    rows.append(Reading("Thermistor", "kΩ", kohm, "closed_is_not_over_limit", slips, loose=0.05 * kohm))
    return ReadingsGo(
        f"A dryer stands dead in a room of {room:g} °F, and {what}. One wire is off each part. Its thermistor has "
        f"{USUAL_OHMS / 1000:g} kΩ at {_ROOM:g} °F. What do the parts read, each alone? Up to "
        f"{_CLOSED_OHMS} Ω counts as "
        "near 0 Ω, and 5 % off is fine for the thermistor.",
        tuple(rows),
    )


_OPENED = "It opens, as a good one does in water this hot. Next, see it close as it cools."
_BLIND = "Nothing yet: the water has not reached its rating."
_STUCK = "It is stuck closed. It has to be replaced."
_BROKEN = "It opens too soon. It has to be replaced, and the reason found."


def _cup(stream: Stream) -> Case:
    """Return a thermostat in a cup, with a rating, a temperature and a reading of its own."""
    rating = int(stream.choose((130, 140, 155, 170)))
    hot = stream.choose((True, False))
    water = rating + (stream.integer(12, 25) if hot else -stream.integer(12, 25))
    is_open = stream.choose((True, False))
    right = (_OPENED if is_open else _STUCK) if hot else (_BROKEN if is_open else _BLIND)
    slips = {
        _OPENED: "cup_called_opened",
        _BLIND: "cup_called_blind",
        _STUCK: "cup_called_stuck",
        _BROKEN: "cup_called_broken",
    }
    shown = "OL" if is_open else f"{stream.step('0.1', '0.4', '0.1'):g} Ω"
    return Case(
        f"A thermostat stamped {rating} °F ± 5 hangs in water of {water} °F. After three minutes the meter shows "
        f"{shown}. What do you say?",
        right,
        {text: slip for text, slip in slips.items() if text != right},
        f"The water is {'past' if hot else 'below'} the rating, and the part is {'open' if is_open else 'closed'}.",
    )


_CAN_BLOW = PickMany(
    read="A blown cut-off has a cause",
    told="A cut-off has blown. Which of these can have helped to blow it? Name all.",
    fits={
        "A bird's nest in the hood outside": "heat_piles_up",
        "A blower wheel that slips on its shaft": "heat_piles_up",
        "A flap at the hood that sticks shut": "heat_piles_up",
        "A lint screen with a coat of dryer-sheet wax": "heat_piles_up",
        "A sagged coil that lies on the heater box and glows with the control off": "heat_piles_up",
        "A thermostat that still reads 0.2 Ω at 190 °F, stamped 155": "heat_piles_up",
    },
    fits_not={
        "A burnt-off spade on coil 2": "less_heat_cannot_blow",
        "A leg lost at the receptacle": "less_heat_cannot_blow",
        "A supply that sags to 225 V": "less_heat_cannot_blow",
        "A thermostat that opens at 110 °F, stamped 155": "less_heat_cannot_blow",
        "Two coils of three that read OL": "less_heat_cannot_blow",
    },
)

_OWNER = PickOne(
    read="Never bridge it",
    cases=(
        Case(
            "The high limit reads OL cold. The customer wants it running tonight. What do you do?",
            "It stays unplugged until a limit of the same rating is in and the cause is found.",
            {
                "A jumper across the limit, for tonight only.": "bridged_cutoff",
                "A limit from the van that opens 30 °F later.": "hotter_cutoff",
                "A new limit now. Why it opened can wait.": "cause_left_in",
            },
            "With the limit out, only the cut-off is left.",
        ),
        Case(
            "The cut-off blew. The vent is clean, the welded thermostat is replaced, and the same cut-off lies here. "
            "What do you do?",
            "Put it in, prove the dryer dead, then run it.",
            {
                "Wait: a blown cut-off needs a new dryer.": "ready_held_back",
                "Put in a one-time fuse of 25 A, which is quicker.": "fuse_for_cutoff",
                "Twist its wires together: the cause is gone.": "bridged_cutoff",
            },
            "The right part and the fixed cause are both there.",
        ),
        Case(
            "The same cut-off lies here. The blower housing is still packed with lint. What do you do?",
            "The lint comes out first. Only then the new part.",
            {
                "New part in, and the customer cleans the housing.": "cause_left_in",
                "New part in: the old one was just old.": "blown_by_age",
                "A part rated higher, because this dryer runs hot.": "hotter_cutoff",
            },
            "The cause that stays blows the new one, or burns.",
        ),
    ),
)

_RESET = PickOne(
    read="A limit with a reset button",
    cases=(
        Case(
            "No heat. The button of the limit is out. You press it in, plug out and tested dead, and read {ohms} Ω. "
            "You have looked at nothing else. The customer waits. What now?",
            "Look for what overheated it. It is not plugged in before.",
            {
                "Plug it in, and tell the customer it was a button.": "reset_and_gone",
                "A new limit, then a test run.": "reset_before_cause",
                "A test run: the exhaust will tell.": "reset_before_cause",
            },
            "A button that is out says that the box got too hot.",
            {"ohms": ("0.1", "0.4", "0.1")},
        ),
        Case(
            "The button was out. The blower wheel slipped on its shaft, and a new wheel is in. With the button in, the "
            "limit reads {ohms} Ω. What now?",
            "Covers on, a test run, and eyes on the exhaust thermometer.",
            {
                "A new limit: one that popped is used up.": "reset_misread",
                "Hand it back. There is nothing to run: it reads fine.": "reset_and_gone",
                "A wedge on the button, to be sure.": "button_held",
            },
            "The cause is fixed and the limit is closed. What is left is the proof.",
            {"ohms": ("0.1", "0.4", "0.1")},
        ),
        Case(
            "The button was out. The welded thermostat is replaced and was seen to open hot. With the button in, the "
            "limit still reads OL. What now?",
            "Another limit of that rating, then covers on and a test run.",
            {
                "Press harder, and tie the button down.": "button_held",
                "Look for another cause: OL means too hot.": "reset_misread",
                "Leave that limit: it is not what is open.": "reset_misread",
            },
            "The cause is gone, and the limit does not close: it is bad as well.",
        ),
        Case(
            "No heat. The button of the limit is in, and nobody touched it. With a wire off, the limit reads {ohms} Ω. "
            "What now?",
            "On to the next part of the line: this one is closed.",
            {
                "A new limit, to be safe.": "reset_misread",
                "Press the button again and plug it in.": "reset_and_gone",
                "Tie the button down, then go on.": "button_held",
            },
            "It did not pop and it is closed, so something else is open.",
            {"ohms": ("0.1", "0.4", "0.1")},
        ),
        Case(
            "The button was out. The hood outside is full of a bird's nest. With the button in, the limit reads "
            "{ohms} Ω. What now?",
            "The nest comes out before anything runs.",
            {
                "A test run first. The nest can wait until Monday.": "reset_before_cause",
                "Hand it back, and tell them about the nest.": "reset_and_gone",
                "A new limit of the same rating does it.": "reset_before_cause",
            },
            "The cause is seen. It has to go before the dryer runs.",
            {"ohms": ("0.1", "0.4", "0.1")},
        ),
        Case(
            "A customer has taped the button of the limit down, because “it kept popping out.” What now?",
            "Unplug it, tape off, and find what makes the box too hot.",
            {
                "Leave the tape: it heats, and nobody complains.": "button_held",
                "Tape off, plug in, and hand it back.": "reset_and_gone",
                "Tape off, a new limit in, and a test run.": "reset_before_cause",
            },
            "It popped again and again: the cause is still there.",
        ),
    ),
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "cold_test": _ORDER,
    "cold_readings": FillTable("The cold test", (_cold_machine,)),
    "in_the_cup": PickOne("The cup of hot water", (_cup,)),
    "can_blow": _CAN_BLOW,
    "no_cutoff_here": _OWNER,
    "reset_limit": _RESET,
}
