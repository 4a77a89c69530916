"""The slips of lesson 10, from the call to the close."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_SAFE = "Make it dead, prove it, open it"
_HEAR = "Hear the complaint"
_TEST = "Pick the test that rules out the most"
_NAME = "Name the fault, with its evidence"
_QUOTE = "Price the repair against a new dryer"
_PROVE = "Prove the repair"
_RECORD = "Write the job record"
_STAY = "It stays out until it is proved"
_CAUSE = "Look for the cause"
_HAND = "Stop, and hand it off"
_ORDER = "Before you order anything"
_SHOW = "Show the customer, and the callback"

SLIPS = (
    Slip(
        "open_before_dead",
        "Opened before unplugged and tested dead",
        "The cover, or the test for dead, comes before the dryer is unplugged and the meter checked. Behind the cover "
        "are bare terminals at 120 V and 240 V, and a touch can kill. Unplug, check the meter, test dead, check the "
        "meter again, then open.",
        _SAFE,
    ),
    Slip(
        "power_before_case_test",
        "Power before cover and cabinet reading",
        "Power comes before the dryer is closed and read to the cabinet. A coil that touches can make the whole "
        "cabinet live, and that kills. Wires back, heater to cabinet, cover on, then power.",
        _PROVE,
    ),
    Slip(
        "measured_unasked",
        "Measured before asking the customer",
        "You measured before you asked. What the customer says is evidence too, and it costs nothing.",
        _HEAR,
    ),
    Slip(
        "named_before_reading",
        "Named the fault without a reading",
        "You named the fault, or put in the part, before a reading showed it. A guess costs the customer a part.",
        _NAME,
    ),
    Slip(
        "fitted_unquoted",
        "Installed a part before the quote",
        "The part goes in before the customer has heard the price. Quote first, and let them choose.",
        _QUOTE,
    ),
    Slip(
        "record_before_proof",
        "Wrote the record before the proof",
        "You wrote the record before the repair was proved. It has to say how the proof came out.",
        _RECORD,
    ),
    Slip(
        "complaint_does_not_fit",
        "Faults do not fit the complaint",
        "A customer would say it another way, or one that fits is left out. Ask of each fault what the customer would "
        "notice.",
        _HEAR,
    ),
    Slip(
        "element_blamed",
        "Blamed coils that read good",
        "The coils of this dryer do not show that. Read each one alone, from end to end, with its wires off.",
        _NAME,
    ),
    Slip(
        "path_blamed",
        "Blamed a touch that reads OL",
        "Nothing of that coil reaches the cabinet here. A path shows as a number from the coil to the cabinet. OL "
        "means there is none.",
        _NAME,
    ),
    Slip(
        "switch_blamed",
        "Blamed a good thermostat or cut-off",
        "That switch is good here. Cold and closed, it reads near 0 Ω with its wires off. The "
        "control closes only when heat is asked for.",
        _NAME,
    ),
    Slip(
        "motor_side_blamed",
        "Blamed a good motor-side part",
        "That is not it. Read the door switch and the winding alone. The centrifugal switch only closes while the "
        "motor turns.",
        _NAME,
    ),
    Slip(
        "one_way_drive",
        "Counted the drive one way",
        "The drive counts there and back. Add it twice.",
        _QUOTE,
    ),
    Slip(
        "finding_is_free",
        "Left out finding and proving time",
        "The time to find the fault and to prove the repair is missing. Add it.",
        _QUOTE,
    ),
    Slip(
        "no_trip_charge",
        "Left out the trip charge",
        "The trip charge is missing from the repair. Add it.",
        _QUOTE,
    ),
    Slip(
        "part_alone",
        "Quoted the part alone",
        "That is the part alone. Labor and trip charge are most of a repair. Add them.",
        _QUOTE,
    ),
    Slip(
        "minutes_as_hours",
        "Charged minutes as hours",
        "The rate is for an hour. Divide the minutes by 60 first.",
        _QUOTE,
    ),
    Slip(
        "quote_upside_down",
        "Divided new dryer by repair",
        "You divided the wrong way around. It is the repair divided by the new dryer.",
        _QUOTE,
    ),
    Slip(
        "rule_turned_round",
        "Repair rule the wrong way around",
        "By the rule on your card it is the other way. Up to the share it names, a repair is worth it. Above that, it "
        "is not.",
        _QUOTE,
    ),
    Slip(
        "proof_left_out",
        "Left proof out of the quote",
        "The proof is not an extra to save on. It keeps the next person at this dryer from being hurt.",
        _PROVE,
    ),
    Slip(
        "price_unsaid",
        "Did not tell both prices first",
        "The customer hears both prices before the part goes in, not with the bill.",
        _QUOTE,
    ),
    Slip(
        "wires_left_off",
        "Left a wire or cover off",
        "A wire is still off, or the cover. Put it back, then prove the repair.",
        _PROVE,
    ),
    Slip(
        "record_thin",
        "Left something out of the record",
        "Something that the next person needs is missing from the record. Read the lines again.",
        _RECORD,
    ),
    Slip(
        "record_guesses",
        "Guess or beep in the record",
        "A record holds what was read: a number with its unit. A beep or a guess is neither.",
        _RECORD,
    ),
    Slip(
        "record_private",
        "Private words in the record",
        "Private things stay out of the record. People you don't know read it.",
        _RECORD,
    ),
    Slip(
        "thin_evidence",
        "Fault named on too few readings",
        "The name is right, but your readings leave other faults possible, alone or beside it. Read each suspect of "
        "the complaint, and the heater to the cabinet, until none of them is left.",
        _NAME,
    ),
    Slip(
        "outside_blamed",
        "Blamed supply or vent",
        "Supply and vent do not show that here. Read the receptacle, look into the vent, and go by what you find.",
        _NAME,
    ),
    Slip(
        "nothing_blamed",
        "Said nothing is wrong with it",
        "Something is wrong with this dryer. One of the readings that the complaint asks for shows it.",
        _NAME,
    ),
    Slip(
        "fitting_only",
        "Counted only work on parts",
        "That is the work on the parts alone. Driving, finding the fault and proving the repair are time too. Add "
        "them.",
        _QUOTE,
    ),
    Slip(
        "faulty_part_still_in",
        "Left a bad part in",
        "Something bad is still in the dryer. Read on until you find it.",
        _PROVE,
    ),
    Slip(
        "dead_not_tested_inside",
        "Hands behind cover without dead test",
        "With the cover off, nobody tested dead at the terminal block before hands went in. If a leg is still there, "
        "it can kill.",
        _SAFE,
    ),
    Slip(
        "part_not_read",
        "Replaced a part without a reading",
        "You replaced a part that nobody had read or looked at. The reading comes first: it is the reason.",
        _NAME,
    ),
    Slip(
        "parts_cannon",
        "Replaced good parts",
        "Good parts were replaced. The customer pays for them, and nothing is learned. That earns no points here.",
        _NAME,
    ),
    Slip(
        "cause_not_looked_for",
        "Did not look for the cause",
        "Before the first part went in, something that can make the box too hot was not checked: thermostat hot, high "
        "limit hot, motor contact at rest, every coil to the cabinet, vent.",
        _CAUSE,
    ),
    Slip(
        "case_not_read_again",
        "Heater to cabinet not read again",
        "After the work and before power, nobody read all of the heater to the cabinet: each coil to cabinet, OL.",
        _PROVE,
    ),
    Slip(
        "bond_not_read",
        "Ground wire not read after work",
        "Nobody read the ground wire after the work: ground pin of the plug to the cabinet, near 0 Ω.",
        _PROVE,
    ),
    Slip(
        "not_run_with_heat",
        "Not run closed up with heat",
        "The dryer was not run closed up, with heat, and with the temperature read at the exhaust while it ran.",
        _PROVE,
    ),
    Slip(
        "not_handed_over",
        "Did not hand off the job",
        "The job is not handed off. Say that you stop, and who gets it.",
        _HAND,
    ),
    Slip(
        "handed_to_the_wrong",
        "Handed off to the wrong person",
        "That is not whose work it is. Wiring of the house: a licensed electrician. Neutral of the service: the "
        "utility. A reading on the open, live dryer: a qualified person.",
        _HAND,
    ),
    Slip(
        "handed_over_unread",
        "Handed off before dead readings",
        "Your readings don't say yet whose work it is. Read what can be read dead first, up to the last "
        "terminal before a contact that you cannot test.",
        _HAND,
    ),
    Slip(
        "repaired_not_yours",
        "Replaced what is not yours",
        "Nothing on this call was yours to replace. Stop, make it safe, and hand it off.",
        _HAND,
    ),
    Slip(
        "left_in_use",
        "Left a handed-off dryer in use",
        "A dryer that you hand off stays out of use: plug out, or breaker open and locked, and a tag.",
        _HAND,
    ),
    Slip(
        "ran_unproved",
        "Let an unproved dryer run",
        "Something is not done, or not proved. Read the card once more. Until then nobody runs it, hot or cold.",
        _STAY,
    ),
    Slip(
        "note_is_no_lock",
        "Used a note for a lock",
        "A note stops nobody. If a breaker has no lock, somebody closes it. Plug out, or lock and tag.",
        _STAY,
    ),
    Slip(
        "watched_is_not_safe",
        "Let it run while watched",
        "Watching stops no current and no fire. Plug out, tag on, until it is proved.",
        _STAY,
    ),
    Slip(
        "proved_held_back",
        "Kept a proved dryer from use",
        "Here everything is done and proved, and the record says how. Holding it back helps nobody.",
        _STAY,
    ),
    Slip(
        "cause_put_off",
        "Put off fixing the cause",
        "If the cause stays, the new part fails like the old one. Part and cause are one repair.",
        _CAUSE,
    ),
    Slip(
        "code_for_reading",
        "Took a code for a reading",
        "A code tells you where to read. Write it down before you unplug. Then read the part itself.",
        _HEAR,
    ),
    Slip(
        "part_by_looks",
        "Ordered a part by its looks",
        "Parts that look the same can have other ohms or another rating. Order by the whole model number.",
        _ORDER,
    ),
    Slip(
        "order_unprepared",
        "Forgot warranty or second trip",
        "The customer hears it first: who may pay for the repair, and that you have to come back.",
        _ORDER,
    ),
    Slip(
        "recall_ran_on",
        "Ran a recalled dryer",
        "A recalled dryer can start a fire or give a shock. It stays unplugged, and you follow the notice.",
        _ORDER,
    ),
    Slip(
        "used_before_part",
        "Left it running without the part",
        "It is not fixed and not proved. Without heat, a coil that touches still makes the cabinet live. It stays "
        "unplugged and tagged until the part is in and proved.",
        _STAY,
    ),
    Slip(
        "house_on_price_list",
        "Repaired the house wiring",
        "A receptacle is house wiring. That is a licensed electrician's. It is never on your price list.",
        _HAND,
    ),
    Slip(
        "approval_late",
        "Part before the written yes",
        "The yes comes before the part, in writing, with name and date. If you find more, stop and ask again.",
        _QUOTE,
    ),
    Slip(
        "customer_not_shown",
        "Left out demonstration or callback",
        "Show them that it works before you leave. On a callback, start from the top: dead, test dead, read.",
        _SHOW,
    ),
)
