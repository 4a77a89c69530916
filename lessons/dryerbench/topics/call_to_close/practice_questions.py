"""Practice of lesson 10's kinds of question: cases of their own, with their answers."""

from __future__ import annotations

from dryerbench.core.random_stream import Stream
from dryerbench.course.practice_question import Case, PickMany, PickOne, PracticeQuestion, PutInOrder, Step

_ORDER = PutInOrder(
    read="Hear the complaint",
    jobs=(
        (
            "A customer says: hot, but it never stops. The dryer runs. In which order do you work?",
            (
                Step("Let the customer tell it, and read the plate."),
                Step("Take the plug out and tag it.", "measured_unasked"),
                Step("See the meter show a live receptacle.", after={}),
                Step(
                    "Read the plug's blades, each pair.",
                    after={
                        "Take the plug out and tag it.": "open_before_dead",
                        "See the meter show a live receptacle.": "open_before_dead",
                    },
                ),
                Step("See the meter show the live receptacle again.", "open_before_dead"),
                Step("Open it and read thermostat, limit and coils alone.", "open_before_dead"),
                Step("Say what is wrong, with the numbers, and both prices.", "named_before_reading"),
                Step("Replace the thermostat.", "fitted_unquoted"),
            ),
        ),
        (
            "The customer has said yes to a new coil. The dryer is open and dead. In which order do you finish?",
            (
                Step("Replace the coil and clean the lint behind it."),
                Step("Read the heater to the metal: OL.", "case_not_read_again"),
                Step("Wires on, cover on.", "With the wires on, the meter reads other paths too."),
                Step("Read the ground pin to the cabinet.", after={}),
                Step(
                    "Plug in, heat on, and read the exhaust.",
                    after={
                        "Wires on, cover on.": "power_before_case_test",
                        "Read the ground pin to the cabinet.": "power_before_case_test",
                    },
                ),
                Step("Show the customer how to empty the lint screen.", after={}),
                Step("Write down what was read, done and proved.", "record_before_proof"),
            ),
        ),
    ),
)
_SUSPECTS = PickMany(
    read="Hear the complaint",
    told="“It turns and blows, but the air stays cold.” What can be behind that, alone? Name all.",
    fits={
        "A blown cut-off, on a dryer whose cut-off is in the heater circuit": "complaint_does_not_fit",
        "A burnt spade on the high limit": "complaint_does_not_fit",
        "All coils broken": "complaint_does_not_fit",
        "The leg without the motor on it is lost at the receptacle": "complaint_does_not_fit",
        "The centrifugal switch never closes": "complaint_does_not_fit",
    },
    fits_not={
        "A broken belt, on a dryer that the belt switch stops": "complaint_does_not_fit",
        "A door switch that never closes": "complaint_does_not_fit",
        "A hood full of lint": "complaint_does_not_fit",
        "A neutral that is off at the terminal block": "complaint_does_not_fit",
        "A thermostat that is welded shut": "complaint_does_not_fit",
    },
)


def _advice(stream: Stream) -> Case:
    """Return a repair and a new dryer, each with its price, and a rule of the shop."""
    new, rule = stream.integer(9, 14) * 50, stream.choose((40, 50, 60))
    share = rule + stream.choose((-15, -10, 10, 15))
    repair = round(new * share / 100)
    worth = share < rule
    yes = "Say both prices, and that you would repair it. The customer decides."
    no = "Say both prices, and that you would buy a new one. The customer decides."
    return Case(
        f"The repair costs ${repair}, proof and all. A new dryer costs ${new}. The shop repairs up to "
        f"{rule} % of a new "
        "one. What do you advise?",
        yes if worth else no,
        {
            no if worth else yes: "rule_turned_round",
            "Leave out the proof, and the repair costs less.": "proof_left_out",
            "Begin now, and bring the price with the bill.": "price_unsaid",
            "Replace what failed today, and the cause next month.": "cause_put_off",
        },
        f"{repair} ÷ {new} is {share} %, and the rule says {rule} %.",
    )


_WEEKEND = PickOne(
    read="It stays out until it is proved",
    cases=(
        Case(
            "The coil is in, the wires are on, the cover is on. Nobody has read the ground pin. May they use it?",
            "No. Plug out and tagged, until the rest is read and it has run hot.",
            {
                "Yes, with the heat off.": "ran_unproved",
                "Yes, while somebody stays in the room.": "watched_is_not_safe",
                "No. A note at the breaker says so.": "note_is_no_lock",
            },
            "The ground wire is not proved, and it has not run.",
        ),
        Case(
            "New limit and cut-off are in, the vent is clean. Heater to cabinet OL, ground pin 0.2 Ω. It "
            "ran hot, and the "
            "exhaust was read. May they use it?",
            "They may. Everything is proved and written down.",
            {
                "No. Plug out until I come by again next week.": "proved_held_back",
                "Only without heat.": "proved_held_back",
                "Only while somebody watches it.": "proved_held_back",
            },
            "Nothing is left to do or to prove.",
        ),
        Case(
            "The cut-off is new. The limit that did not open comes on Tuesday. May they use it until then?",
            "No. It stays unplugged with your tag on it until Tuesday's part is in and proved.",
            {
                "Yes: the new cut-off opens in time.": "ran_unproved",
                "Yes, with the door of the room open and somebody near.": "watched_is_not_safe",
                "No. You open the breaker and tell them to leave it.": "note_is_no_lock",
            },
            "The cause is still in it.",
        ),
    ),
)

_RECORD = PickMany(
    read="Write the job record",
    told="You write the record of a call. Which of these lines belong in it? Name all.",
    fits={
        "“Coil 2 broken at the rear insulator. Vent flap stuck: freed.”": "record_thin",
        "“Customer: no heat since Sunday. Drum turned, air cold.”": "record_thin",
        "“Model and serial number read from the plate at the door.”": "record_thin",
        "“T2 to T0 OL, all four wires off, leads zeroed.”": "record_thin",
        "“T0 to cabinet OL. Ran 15 min hot: exhaust 126 °F.”": "record_thin",
    },
    fits_not={
        "“Beeper silent on coil 2.”": "record_guesses",
        "“Customer is behind with the rent.”": "record_private",
        "“Heater about 9, motor fine.”": "record_guesses",
        "“Limit probably weak too.”": "record_guesses",
        "“The alarm code is by the door.”": "record_private",
    },
)

_AROUND = PickMany(
    read="Before you order anything",
    told="Another week, other calls. Which of these does a good tech do? Name all.",
    fits={
        "Read the whole model number on the plate in the door opening, then look the part up": "part_by_looks",
        "Ask for the date of purchase, because somebody else may still pay": "order_unprepared",
        "Say on which day you come back, and what that trip costs": "order_unprepared",
        "Wait for a yes in writing, with a name and a date": "approval_late",
        "Call before a second part goes in that nobody has agreed to": "approval_late",
        "Leave a dryer off that is on the recall list, and go by its notice": "recall_ran_on",
        "Write down the stored code, then measure": "code_for_reading",
        "Let the customer feel the air, warm and then cool": "customer_not_shown",
        "On a callback, test dead and measure as if nobody had been there": "customer_not_shown",
        "Send them to a licensed electrician for a loose wire behind the receptacle": "house_on_price_list",
    },
    fits_not={
        "Order by a photo: four terminals, same size": "part_by_looks",
        "Order what the code on the display names": "code_for_reading",
        "Fit the part at once, and talk about the price at the door": "approval_late",
        "Add a second part to the bill, because it was bad as well": "approval_late",
        "Tighten the wires of the receptacle while you are there": "house_on_price_list",
        "Let it run on air fluff until the part comes": "used_before_part",
        "Say “it’s fixed,” and leave by the side door": "customer_not_shown",
        "On a callback, go by your last ticket and swap the same part": "customer_not_shown",
        "Repair a recalled dryer, since you have the part": "recall_ran_on",
    },
)

PRACTICE_QUESTIONS: dict[str, PracticeQuestion] = {
    "call_order": _ORDER,
    "suspects": _SUSPECTS,
    "advice": PickOne("Price the repair against a new dryer", (_advice,)),
    "weekend": _WEEKEND,
    "job_record": _RECORD,
    "around_the_job": _AROUND,
}
