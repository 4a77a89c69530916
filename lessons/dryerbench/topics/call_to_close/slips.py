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
_HAND = "Stop, and hand it off"

SLIPS = (
    Slip(
        "open_before_dead",
        "The cover, or the test for dead, comes before the dryer is unplugged and the meter checked. Behind the cover "
        "are bare terminals at 120 V and 240 V, and a touch can kill. Unplug, check the meter, test dead, check the "
        "meter again, then open.",
        _SAFE,
    ),
    Slip(
        "power_before_case_test",
        "Power comes before the dryer is closed and read to the cabinet. A coil that touches can make the whole "
        "cabinet live, and that kills. Wires back, heater to cabinet, cover on, then power.",
        _PROVE,
    ),
    Slip(
        "measured_unasked",
        "You measured before you asked. What the customer says is evidence too, and it costs nothing.",
        _HEAR,
    ),
    Slip(
        "named_before_reading",
        "You named the fault, or put in the part, before a reading showed it. A guess costs the customer a part.",
        _NAME,
    ),
    Slip(
        "fitted_unquoted",
        "The part goes in before the customer has heard the price. Quote first, and let them choose.",
        _QUOTE,
    ),
    Slip(
        "record_before_proof",
        "You wrote the record before the repair was proved. It has to say how the proof came out.",
        _RECORD,
    ),
    Slip(
        "complaint_does_not_fit",
        "A customer would say it another way, or one that fits is left out. Ask of each fault what the customer would "
        "notice.",
        _HEAR,
    ),
    Slip(
        "element_blamed",
        "The coils of this dryer do not show that. Read each one alone, from end to end, with its wires off.",
        _NAME,
    ),
    Slip(
        "path_blamed",
        "Nothing of that coil reaches the cabinet here. A path shows as a number from the coil to the cabinet. OL "
        "means there is none.",
        _NAME,
    ),
    Slip(
        "switch_blamed",
        "That switch is good here. A heat switch that is cold and closed reads near 0 Ω with its wires off. The "
        "control closes only when heat is asked for.",
        _NAME,
    ),
    Slip(
        "motor_side_blamed",
        "That is not it. Read the door switch and the winding alone. The centrifugal switch only closes while the "
        "motor turns.",
        _NAME,
    ),
    Slip(
        "one_way_drive",
        "The drive counts there and back. Add it twice.",
        _QUOTE,
    ),
    Slip(
        "finding_is_free",
        "The time to find the fault and to prove the repair is missing. Add it.",
        _QUOTE,
    ),
    Slip(
        "no_trip_charge",
        "The trip charge is missing from the repair. Add it.",
        _QUOTE,
    ),
    Slip(
        "part_alone",
        "That is the part alone. Labor and trip charge are most of a repair. Add them.",
        _QUOTE,
    ),
    Slip(
        "minutes_as_hours",
        "The rate is for an hour. Divide the minutes by 60 first.",
        _QUOTE,
    ),
    Slip(
        "quote_upside_down",
        "You divided the wrong way around. It is the repair divided by the new dryer.",
        _QUOTE,
    ),
    Slip(
        "rule_turned_round",
        "By the rule on your card it is the other way. Up to the share it names, a repair is worth it. Above that, it "
        "is not.",
        _QUOTE,
    ),
    Slip(
        "proof_left_out",
        "The proof is not an extra to save on. It keeps the next person at this dryer from being hurt.",
        _PROVE,
    ),
    Slip(
        "price_unsaid",
        "The customer hears both prices before the part goes in, not with the bill.",
        _QUOTE,
    ),
    Slip(
        "wires_left_off",
        "A wire is still off, or the cover. Put it back, then prove the repair.",
        _PROVE,
    ),
    Slip(
        "record_thin",
        "Something that the next person needs is missing from the record. Read the lines again.",
        _RECORD,
    ),
    Slip(
        "record_guesses",
        "A record holds what was read: a number with its unit. A beep or a guess is neither.",
        _RECORD,
    ),
    Slip(
        "record_private",
        "Private things stay out of the record. People you don't know read it.",
        _RECORD,
    ),
    Slip(
        "thin_evidence",
        "The name is right, but your readings leave other faults possible, alone or beside it. Read each suspect of "
        "the complaint, and the heater to the cabinet, until none of them is left.",
        _NAME,
    ),
    Slip(
        "outside_blamed",
        "Supply and vent do not show that here. Read the receptacle, look into the vent, and go by what you find.",
        _NAME,
    ),
    Slip(
        "nothing_blamed",
        "Something is wrong with this dryer. One of the readings that the complaint asks for shows it.",
        _NAME,
    ),
    Slip(
        "fitting_only",
        "That is the work on the parts alone. Driving, finding the fault and proving the repair are time too. Add "
        "them.",
        _QUOTE,
    ),
    Slip(
        "faulty_part_still_in",
        "Something bad is still in the dryer. Read on until you find it.",
        _PROVE,
    ),
    Slip(
        "dead_not_tested_inside",
        "With the cover off, nobody tested dead at the terminal block before hands went in. If a leg is still there, "
        "it can kill.",
        _SAFE,
    ),
    Slip(
        "part_not_read",
        "You replaced a part that nobody had read or looked at. The reading comes first: it is the reason.",
        _NAME,
    ),
    Slip(
        "parts_cannon",
        "Good parts were replaced. The customer pays for them, and nothing is learned. That earns no points here.",
        _NAME,
    ),
    Slip(
        "cause_not_looked_for",
        "Before the first part went in, something that can make the box too hot was not checked: thermostat hot, high "
        "limit hot, motor contact at rest, every coil to the cabinet, vent.",
        _CAUSE,
    ),
    Slip(
        "case_not_read_again",
        "After the work and before power, nobody read all of the heater to the cabinet: each coil to `case`, OL.",
        _PROVE,
    ),
    Slip(
        "bond_not_read",
        "Nobody read the ground wire after the work: ground pin of the plug to the cabinet, near 0 Ω.",
        _PROVE,
    ),
    Slip(
        "not_run_with_heat",
        "The dryer was not run closed up, with heat, and with the temperature read at the exhaust while it ran.",
        _PROVE,
    ),
    Slip(
        "not_handed_over",
        "The job is not handed off. Say that you stop, and who gets it.",
        _HAND,
    ),
    Slip(
        "handed_to_the_wrong",
        "That is not whose work it is. Wiring of the house: a licensed electrician. Neutral of the service: the "
        "utility. A reading on the open, live dryer: a qualified person.",
        _HAND,
    ),
    Slip(
        "handed_over_unread",
        "Your readings don't say yet whose work it is. Read what can be read dead first, up to the last "
        "terminal before a contact that you cannot test.",
        _HAND,
    ),
    Slip(
        "repaired_not_yours",
        "Nothing on this call was yours to replace. Stop, make it safe, and hand it off.",
        _HAND,
    ),
    Slip(
        "left_in_use",
        "A dryer that you hand off stays out of use: plug out, or breaker open and locked, and a tag.",
        _HAND,
    ),
    Slip(
        "ran_unproved",
        "Something is not done, or not proved. Read the card once more. Until then nobody runs it, hot or cold.",
        _STAY,
    ),
    Slip(
        "note_is_no_lock",
        "A note stops nobody, and somebody closes a breaker that has no lock. Plug out, or lock and tag.",
        _STAY,
    ),
    Slip(
        "watched_is_not_safe",
        "Watching stops no current and no fire. Plug out, tag on, until it is proved.",
        _STAY,
    ),
    Slip(
        "proved_held_back",
        "Here everything is done and proved, and the record says how. Holding it back helps nobody.",
        _STAY,
    ),
    Slip(
        "cause_put_off",
        "If the cause stays, the new part fails like the old one. Part and cause are one repair.",
        _CAUSE,
    ),
)
