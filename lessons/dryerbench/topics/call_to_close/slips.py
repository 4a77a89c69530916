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

SLIPS = (
    Slip(
        "open_before_dead",
        "The cover, or the test for dead, comes before the machine is isolated and proved dead. Behind the cover are "
        "bare terminals at 120 V and 240 V. Isolate, prove the meter, test dead, prove the meter again, then open.",
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
        "number_in_circuit",
        "That is the reading with the wires on: the elements beside it were read too. Pull the wires, read it alone.",
        _TEST,
    ),
    Slip(
        "ol_for_number",
        "OL stands where this machine gives a number: put the probes on these two points and read again.",
        _TEST,
    ),
    Slip("number_for_ol", "A number stands where this machine reads over limit: no way through at all.", _TEST),
    Slip(
        "thin_evidence",
        "The name is right, but the readings on your bench also fit other faults. Read on until one is left.",
        _NAME,
    ),
    Slip(
        "element_blamed",
        "Your machine's elements do not show that. Each element is read alone, its own terminal to T0, its wire off.",
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
    Slip(
        "outside_blamed",
        "Supply and vent are looked at when the machine itself reads sound. Here a part of the machine is at fault.",
        _NAME,
    ),
    Slip("one_way_drive", "The drive counts there and back: the van is on the road twice.", _QUOTE),
    Slip(
        "fitting_only",
        "That is the fitting alone. Driving, finding the fault and proving the repair are time too.",
        _QUOTE,
    ),
    Slip("finding_is_free", "The time to find the fault and to prove the repair is missing.", _QUOTE),
    Slip("no_callout", "The call-out charge is missing from the repair.", _QUOTE),
    Slip("part_alone", "That is the part alone. Labor and call-out are most of a repair.", _QUOTE),
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
    Slip(
        "bridged",
        "A bridge takes away the one part that would have stopped a fire or a live case. Never, not for an hour. "
        "Plug out, tag on.",
        "It stays out until it is proved",
    ),
    Slip(
        "watched_is_not_safe",
        "Watching does not stop current or fire, and an open cover leaves live terminals bare. Plug out, tag on.",
        "It stays out until it is proved",
    ),
    Slip("faulty_part_still_in", "The part at fault is still in the machine.", _PROVE),
    Slip("wires_left_off", "A wire is still off, or the cover.", _PROVE),
    Slip(
        "case_not_read_again",
        "After the repair and before power, nobody read the heater to the case: T0 to case, over limit.",
        _PROVE,
    ),
    Slip(
        "bond_not_read",
        "The bond was not read after the repair: ground pin of the plug to the case, near 0 Ω.",
        _PROVE,
    ),
    Slip(
        "not_run_with_heat",
        "The machine was not run with heat at the end, with a temperature read at the exhaust.",
        _PROVE,
    ),
    Slip("record_thin", "Something that the next person needs is missing from the record.", _RECORD),
    Slip(
        "record_guesses", "A record holds what was read: a number with its unit. A beep or a guess is neither.", _RECORD
    ),
    Slip("record_private", "What is private stays out of the record: it is read by people you do not know.", _RECORD),
)
