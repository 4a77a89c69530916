"""The slips of lesson 10, from the call to the close."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_SAFE = "Make it dead, prove it, open it"
_HEAR = "Hear the complaint"
_TEST = "Choose the test that tells most"
_NAME = "Name the fault, with its evidence"
_QUOTE = "Quote repair against replacement"
_PROVE = "Prove the repair"
_RECORD = "Write the job record"
_STAY = "It stays out until it is proved"
_CAUSE = "Look for the cause"
_HAND = "Stop, and hand it over"

SLIPS = (
    Slip(
        "open_before_dead",
        "The cover, or the test for dead, comes before the machine is isolated and proved dead. Behind the cover are "
        "bare terminals at 120 V and 240 V. Isolate, check the meter, test dead, check the meter again, then open.",
        _SAFE,
    ),
    Slip(
        "power_before_case_test",
        "Power comes before the machine is closed and read to the case. A heater that touches the case makes the whole "
        "machine live, or burns. Wires back, heater to case, cover on, then power.",
        _PROVE,
    ),
    Slip(
        "measured_unasked",
        "Measuring comes before asking. What the customer says is evidence too, and it costs nothing.",
        _HEAR,
    ),
    Slip(
        "named_before_reading",
        "The fault is named, or the part is fitted, before a reading has shown it. A guess costs the customer a part.",
        _NAME,
    ),
    Slip(
        "fitted_unquoted",
        "The part goes in before the customer has heard the price. Quote first, and let them choose.",
        _QUOTE,
    ),
    Slip(
        "record_before_proof",
        "The record is written before the repair is proved. It has to say how the proof came out.",
        _RECORD,
    ),
    Slip(
        "complaint_does_not_fit",
        "That one is heard otherwise, or one that fits was left out. Ask of each fault what the customer would notice.",
        _HEAR,
    ),
    Slip(
        "element_blamed",
        "The elements of this machine do not show that. Each is read alone, its own terminal to T0, its wire off.",
        _NAME,
    ),
    Slip(
        "path_blamed",
        "Nothing of that element reaches the case here. A path shows as a number from the element to the case; "
        "over limit means there is none.",
        _NAME,
    ),
    Slip(
        "switch_blamed",
        "That switch is sound here. A heat switch that is cold and closed reads near 0 Ω with its wires off; the "
        "control closes only when heat is asked for.",
        _NAME,
    ),
    Slip(
        "motor_side_blamed",
        "That is not it: the door switch and the winding are read alone, and the heat contact only closes while the "
        "motor turns.",
        _NAME,
    ),
    Slip("one_way_drive", "The drive counts there and back: the van is on the road twice.", _QUOTE),
    Slip("finding_is_free", "The time to find the fault and to prove the repair is missing.", _QUOTE),
    Slip("no_trip_charge", "The trip charge is missing from the repair.", _QUOTE),
    Slip("part_alone", "That is the part alone. Labor and trip charge are most of a repair.", _QUOTE),
    Slip("minutes_as_hours", "The rate is for an hour: divide the minutes by 60 first.", _QUOTE),
    Slip("quote_upside_down", "The fraction is upside down: it is the repair over the new machine.", _QUOTE),
    Slip(
        "rule_turned_round",
        "By the rule on your card it is the other way: up to the share it names a repair is worth it, above it is not.",
        _QUOTE,
    ),
    Slip(
        "proof_left_out",
        "The proof is not an extra to be saved on: it is what keeps the next hand on the machine from being hurt.",
        _PROVE,
    ),
    Slip("price_unsaid", "The customer hears both prices before the part goes in, not with the bill.", _QUOTE),
    Slip("wires_left_off", "A wire is still off, or the cover.", _PROVE),
    Slip("record_thin", "Something that the next person needs is missing from the record.", _RECORD),
    Slip(
        "record_guesses", "A record holds what was read: a number with its unit. A beep or a guess is neither.", _RECORD
    ),
    Slip("record_private", "What is private stays out of the record: it is read by people you do not know.", _RECORD),
    Slip(
        "thin_evidence",
        "The name is right, but the readings on your bench leave other faults possible, alone or beside it. Read each "
        "suspect of the complaint, and the heater to the case, until none of them is left.",
        _NAME,
    ),
    Slip(
        "outside_blamed",
        "Supply and vent do not show that here: read the receptacle, look into the vent, and go by what you find.",
        _NAME,
    ),
    Slip(
        "nothing_blamed",
        "Something is wrong with this machine: one of the readings that the complaint asks for shows it.",
        _NAME,
    ),
    Slip(
        "fitting_only",
        "That is the work on the parts alone. Driving, finding the fault and proving the repair are time too.",
        _QUOTE,
    ),
    Slip(
        "faulty_part_still_in",
        "Something that is at fault is still in the machine.",
        _PROVE,
    ),
    Slip(
        "dead_not_tested_inside",
        "With the cover off nobody tested dead at the terminal block before hands went in.",
        _SAFE,
    ),
    Slip(
        "part_not_read",
        "A part was replaced that nobody had read or looked at. The reading comes first: it is the reason.",
        _NAME,
    ),
    Slip(
        "parts_cannon",
        "Parts went in that were sound: the customer pays for them, and nothing is learned. That earns no points here.",
        _NAME,
    ),
    Slip(
        "cause_not_looked_for",
        "Not all that can make the box too hot was looked at before the first part went in: thermostat hot, high "
        "limit hot, heater to case, vent.",
        _CAUSE,
    ),
    Slip(
        "case_not_read_again",
        "After the work and before power, nobody read the heater to the case: T0 to case, over limit.",
        _PROVE,
    ),
    Slip(
        "bond_not_read",
        "The bond was not read after the work: ground pin of the plug to the case, near 0 Ω.",
        _PROVE,
    ),
    Slip(
        "not_run_with_heat",
        "Closed up, the machine has not been run with heat and a temperature read at the exhaust while it ran.",
        _PROVE,
    ),
    Slip(
        "not_handed_over",
        "The job is not handed over: say that you stop, and to whom it goes.",
        _HAND,
    ),
    Slip(
        "handed_to_the_wrong",
        "That is not whose work it is. Wiring of the house: a licensed electrician. Neutral of the service: the "
        "utility. A reading on the open, live machine: a qualified person.",
        _HAND,
    ),
    Slip(
        "handed_over_unread",
        "What can be found dead has not been ruled out, or your readings do not say yet whose work it is.",
        _HAND,
    ),
    Slip(
        "repaired_not_yours",
        "Nothing on this call was yours to replace. Stop, make it safe, and hand it over.",
        _HAND,
    ),
    Slip(
        "left_in_use",
        "A machine that is handed over stays out of use: plug out, or breaker open and locked, and a tag.",
        _HAND,
    ),
    Slip(
        "ran_unproved",
        "Something is not done, or not proved: look at the card once more. Until then nobody runs it, hot or cold.",
        _STAY,
    ),
    Slip(
        "note_is_no_lock",
        "A note stops nobody, and a breaker without a lock is closed again. Plug out, or lock and tag.",
        _STAY,
    ),
    Slip(
        "watched_is_not_safe",
        "Watching stops no current and no fire. Plug out, tag on, until it is proved.",
        _STAY,
    ),
    Slip(
        "proved_held_back",
        "Here all is done and proved, and the record says how. Holding it back helps nobody.",
        _STAY,
    ),
    Slip(
        "cause_put_off",
        "With the cause left in, the new part fails like the old one. Part and cause are one repair.",
        _CAUSE,
    ),
)
