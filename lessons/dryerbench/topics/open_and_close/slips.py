"""The slips of lesson 09, open and close."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_DEAD = "Dead before the cover"
_PHOTO = "Photo and cups"
_STEPS = "Steps that wait for each other"
_BELT = "How the belt runs"
_PROOF = "Proved before power"
_BACK = "The way back"
_CURRENT = "The current against the prediction"
_WARM = "Warm air at the exhaust"

SLIPS = (
    Slip(
        "hands_in_before_dead",
        "That has hands in the machine before it is proved dead. Plug out, meter proved, tested dead, meter proved "
        "again: only then the cover.",
        _DEAD,
    ),
    Slip(
        "meter_not_proved_first",
        "The test for dead was made with a meter that nobody had proved. A dead meter shows a dead circuit.",
        _DEAD,
    ),
    Slip(
        "zero_not_proved",
        "The meter was not proved again after the test. It may have failed during the test, and then its zero is "
        "worth nothing.",
        _DEAD,
    ),
    Slip(
        "tested_while_on",
        "The test for dead comes after the plug is out. Before that there is nothing dead to test.",
        _DEAD,
    ),
    Slip(
        "photo_too_late",
        "The photo comes too late: what is off is not on the picture. Shoot wires and belt before the first one moves.",
        _PHOTO,
    ),
    Slip(
        "spare_screws",
        "A machine has no spare screws. One left over is a panel that works loose, or a screw that lies where it can "
        "reach a live terminal.",
        _PHOTO,
    ),
    Slip(
        "wrong_cup",
        "That is another cup. Take what came out of each cup, less what went back: the cup with something left is the "
        "place.",
        _PHOTO,
    ),
    Slip(
        "cannot_reach",
        "That part cannot be reached yet: something else is still in front of it.",
        _STEPS,
    ),
    Slip(
        "drum_on_its_belt",
        "The drum hangs on its belt. Push the idler back and take the belt off the motor pulley first.",
        _STEPS,
    ),
    Slip(
        "wires_torn",
        "The heater came out with its wires on. They tear, or their terminals bend: pull and mark them first.",
        _STEPS,
    ),
    Slip(
        "belt_ribs_out",
        "It is turned over where its ribs are outward, so that the idler runs on them. Your card says what the idler "
        "runs on.",
        _BELT,
    ),
    Slip(
        "belt_misses_pulley",
        "The motor pulley is what drives. Where the belt goes round it, the motor turns when the drum is turned.",
        _BELT,
    ),
    Slip(
        "idler_beside_belt",
        "Without the idler's push the belt hardly bends round the motor pulley. Where it presses on the belt, it is "
        "where it belongs.",
        _BELT,
    ),
    Slip(
        "belt_crossed",
        "A twisted belt turns the drum against the motor. Your card says which way they turn.",
        _BELT,
    ),
    Slip(
        "belt_not_looked_at",
        "It does not run as it should. Look in turn: does the motor turn, and the same way as the drum; how far the "
        "belt lies round the pulley; what the idler runs on.",
        _BELT,
    ),
    Slip(
        "beeper_for_a_number",
        "A silent beeper only says: not a low path. Some thousands of ohms to the case are silent too, and not "
        "safe. Read the display in ohms: OL.",
        _PROOF,
    ),
    Slip(
        "proof_needs_power",
        "That can only be read with the power on. It is the proof afterward, not the leave to power up.",
        _PROOF,
    ),
    Slip(
        "line_on_the_case",
        "A line blade that reads near 0 Ω to the case is a dead short to the case. That must never be powered.",
        _PROOF,
    ),
    Slip(
        "elements_not_read",
        "The elements were left out. A new part can be the wrong one, or bad from its box: read all three.",
        _PROOF,
    ),
    Slip(
        "powered_before_case_test",
        "Power before every element was read against the case. If one touches it, the case goes live or the "
        "fault burns.",
        _PROOF,
    ),
    Slip(
        "powered_before_bond",
        "Power before the bond was read. Without a bond nothing trips when a line touches the case, and the case "
        "stays live.",
        _PROOF,
    ),
    Slip(
        "powered_with_loose_wires",
        "Power with wires off their terminals. A loose wire is live metal that can touch the case, or a hand.",
        _PROOF,
    ),
    Slip(
        "powered_before_cover",
        "Power before the cover is on. Bare terminals are then at 120 V to the case and 240 V to each other.",
        _PROOF,
    ),
    Slip(
        "cups_not_empty",
        "The cups were left out. A screw that is not in its hole may lie inside: look for it before power, not after.",
        _PROOF,
    ),
    Slip(
        "tested_out_of_its_place",
        "The heater was tested before it was screwed in. A screw or a bent clip can press a coil against the case: "
        "test it in its place.",
        _BACK,
    ),
    Slip(
        "wires_on_for_the_test",
        "With its wires on, the meter reads other paths beside the element. Test first, then put the wires back.",
        _BACK,
    ),
    Slip(
        "not_the_way_back",
        "That is not the way back: what came off last goes on first.",
        _BACK,
    ),
    Slip(
        "run_without_duct",
        "Without the duct the wet, warm air and its lint go into the room. And the exhaust temperature is then not "
        "that of the machine as it will run.",
        _BACK,
    ),
    Slip(
        "read_with_wires_on",
        "That is all three elements side by side: the wires were still on. Pull the four wires, then read each alone.",
        _BACK,
    ),
    Slip(
        "ol_after_the_repair",
        "OL stands where a number belongs. Read after the new part is in, with the probes on bare metal.",
        _BACK,
    ),
    Slip(
        "number_where_ol_is_due",
        "A number stands where OL belongs. A number to the case, or through a bond that is off, would mean a path.",
        _BACK,
    ),
    Slip(
        "part_not_replaced",
        "The bad element is still in the machine.",
        _BACK,
    ),
    Slip(
        "bond_not_put_right",
        "The ground wire is still off the case. Read from the ground pin to the case, and put it right.",
        _PROOF,
    ),
    Slip(
        "cold_prediction",
        "That is with the cold ohms. At work the wire has 1.026 times as many: divide by that too.",
        _CURRENT,
    ),
    Slip(
        "factor_wrong_way",
        "The factor went the wrong way. Hot wire has more ohms, so fewer amps: divide by 1.026.",
        _CURRENT,
    ),
    Slip(
        "counts_left_out",
        "The counts are missing. 5 counts of 0.01 A are 0.05 A on top of the 2 %.",
        _CURRENT,
    ),
    Slip(
        "percent_left_out",
        "That is the counts alone. 2 % of the reading come on top.",
        _CURRENT,
    ),
    Slip(
        "counts_as_amps",
        "5 counts are five of the last digit, 0.05 A. They are not 5 A.",
        _CURRENT,
    ),
    Slip(
        "called_it_whole",
        "The reading and the prediction are too far apart for that. Work out the prediction, and how far off clamp "
        "and prediction may be.",
        _CURRENT,
    ),
    Slip(
        "miscounted_elements",
        "That is not what the amps say. Three elements give the prediction, two give two thirds, one gives one third.",
        _CURRENT,
    ),
    Slip(
        "blamed_the_jaw",
        "Round the whole cord the amps cancel to nothing. This clamp shows amps: it was round one conductor.",
        _CURRENT,
    ),
    Slip(
        "breaker_is_no_proof",
        "A breaker that holds only says: not far too many amps. It says nothing about too few.",
        _CURRENT,
    ),
    Slip(
        "never_ran",
        "The machine was not run on heat with its cover on: nothing shows yet that it heats.",
        _WARM,
    ),
    Slip(
        "exhaust_not_read",
        "The exhaust temperature was not read while it ran on heat. That is the proof that the owner feels.",
        _WARM,
    ),
)
