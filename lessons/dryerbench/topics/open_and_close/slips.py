"""The slips of lesson 09, open and close."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_DEAD = "Dead before the cover"
_PHOTO = "Picture and cups"
_STEPS = "Steps that wait for each other"
_BELT = "How the belt runs"
_PROOF = "Proved before power"
_BACK = "Putting it back together"
_CURRENT = "The amps against the prediction"
_SPLIT = "Amps with the cover on: the line splitter"
_WARM = "Warm air at the exhaust"
_CABINET = "A cabinet that you have not seen"

SLIPS = (
    Slip(
        "hands_in_before_dead",
        "Hands inside before testing dead",
        "That has hands in the dryer before it is tested dead. Bare terminals there can kill. Plug out, check the "
        "meter, test dead, check the meter again: only then the cover.",
        _DEAD,
    ),
    Slip(
        "meter_not_proved_first",
        "Opened with an unchecked meter",
        "You tested for dead with a meter that nobody had checked. A dead meter makes every circuit look dead.",
        _DEAD,
    ),
    Slip(
        "zero_not_proved",
        "Opened without checking meter again",
        "The meter was not checked again after the test. It may have failed during the test, and then its zero is "
        "worth nothing.",
        _DEAD,
    ),
    Slip(
        "tested_while_on",
        "Tested dead with the plug in",
        "The test for dead comes after the plug is out. Before that nothing is dead.",
        _DEAD,
    ),
    Slip(
        "photo_too_late",
        "Took the picture too late",
        "The picture comes too late: what is off is not in it. Take it before the first wire or the belt moves.",
        _PHOTO,
    ),
    Slip(
        "spare_screws",
        "Left a screw over",
        "A dryer has no spare screws. One left over is a panel that works loose, or a screw that can fall onto a live "
        "terminal.",
        _PHOTO,
    ),
    Slip(
        "wrong_cup",
        "Miscounted the screws in cups",
        "That is another cup. Take what came out of each panel, less what went back. Open up to the cup with a screw "
        "left.",
        _PHOTO,
    ),
    Slip(
        "cannot_reach",
        "Reached for a covered part",
        "You can't reach that part yet: something else is still in front of it.",
        _STEPS,
    ),
    Slip(
        "drum_on_its_belt",
        "Pulled the drum with belt on",
        "The belt is still around the drum and holds it. Push the idler back and take the belt off the motor pulley "
        "first.",
        _STEPS,
    ),
    Slip(
        "wires_torn",
        "Pulled the heater with wires on",
        "The heater came out with its wires on. Wires tear that way, and terminals bend. Pull and tag them first.",
        _STEPS,
    ),
    Slip(
        "belt_ribs_out",
        "Blamed belt ribs facing out",
        "You turn a belt inside out if its ribs are outside, so that the idler runs on them. Your card says what the "
        "idler runs on.",
        _BELT,
    ),
    Slip(
        "belt_misses_pulley",
        "Blamed a missed motor pulley",
        "The motor pulley drives the belt. If the belt goes around it, the motor turns when you turn the drum. Read "
        "your card again.",
        _BELT,
    ),
    Slip(
        "idler_beside_belt",
        "Blamed an idler off the belt",
        "Without the idler's push the belt hardly bends around the motor pulley. If the idler presses on the belt, it "
        "is where it belongs.",
        _BELT,
    ),
    Slip(
        "belt_crossed",
        "Blamed a twisted belt",
        "A twisted belt turns the motor against the drum. Your card says which way they turn.",
        _BELT,
    ),
    Slip(
        "belt_not_looked_at",
        "Passed a belt that runs wrong",
        "It does not run as it should. Check if the motor turns, and the same way as the drum. Check how far the "
        "belt goes around the pulley, and what the idler runs on.",
        _BELT,
    ),
    Slip(
        "beeper_for_a_number",
        "Beeper in place of a reading",
        "A silent beeper only says that the path is not low. A few thousand ohms to the cabinet are silent too, and "
        "they leak. Read the display in ohms: OL.",
        _PROOF,
    ),
    Slip(
        "proof_needs_power",
        "Chose a reading that needs power",
        "You can only read that with the power on. It is the proof that comes after, not the reason to plug in.",
        _PROOF,
    ),
    Slip(
        "line_on_the_case",
        "Passed a line shorted to cabinet",
        "A line blade that reads near 0 Ω to the cabinet is a dead short to it. Never power that.",
        _PROOF,
    ),
    Slip(
        "elements_not_read",
        "Did not read new coils",
        "You left the coils out. A new part can be the wrong one, or bad out of the box: read all three.",
        _PROOF,
    ),
    Slip(
        "powered_before_case_test",
        "Power before coils read to cabinet",
        "You gave it power before every coil was read to the cabinet. If one touches, the cabinet can go live, and "
        "that kills.",
        _PROOF,
    ),
    Slip(
        "powered_before_bond",
        "Power before the ground wire reading",
        "You gave it power before the ground wire was read. If that is off and a hot wire touches the cabinet, nothing "
        "trips. The cabinet stays live, and that kills.",
        _PROOF,
    ),
    Slip(
        "powered_with_loose_wires",
        "Powered up with loose wires",
        "You gave it power with wires off their terminals. A loose wire is live metal that can touch the cabinet, or a "
        "hand.",
        _PROOF,
    ),
    Slip(
        "powered_before_cover",
        "Powered up with a cover off",
        "You gave it power before the cover was on. Bare terminals are then at 120 V to the cabinet and 240 V to each "
        "other. A touch can kill.",
        _PROOF,
    ),
    Slip(
        "cups_not_empty",
        "Powered up with screws left",
        "You left the cups out. A screw that is not in its hole may be inside. Look for it before power, not after.",
        _PROOF,
    ),
    Slip(
        "tested_out_of_its_place",
        "Tested heater before screwed in",
        "The heater was tested before it was screwed in. A screw or a bent clip can press a coil against the metal. "
        "Test it in its place.",
        _BACK,
    ),
    Slip(
        "wires_on_for_the_test",
        "Tested heater with wires on",
        "With the wires on, the meter reads other paths beside the coil. Test first, then put the wires back.",
        _BACK,
    ),
    Slip(
        "not_the_way_back",
        "Closed up in wrong order",
        "That is not the order for putting it back together. What came off last goes on first.",
        _BACK,
    ),
    Slip(
        "run_without_duct",
        "Proof run without the duct",
        "Without the duct the wet, warm air and its lint go into the room. And the exhaust temperature is not the one "
        "that the dryer will run at.",
        _BACK,
    ),
    Slip(
        "read_with_wires_on",
        "Read three coils in parallel",
        "That is all three coils in parallel: the wires were still on. Pull the four wires, then read each coil alone.",
        _BACK,
    ),
    Slip(
        "ol_after_the_repair",
        "Wrote OL after the repair",
        "You wrote OL where a number belongs. Read after the new part is in, with the probes on bright metal.",
        _BACK,
    ),
    Slip(
        "number_where_ol_is_due",
        "Number where repaired heater reads OL",
        "You wrote a number where OL belongs. A number there would mean a path. Read it again and write what the meter "
        "shows.",
        _BACK,
    ),
    Slip(
        "part_not_replaced",
        "Left the bad coil in",
        "The bad coil is still in the dryer. Read each one, then replace the bad one.",
        _BACK,
    ),
    Slip(
        "bond_not_put_right",
        "Left the ground wire off",
        "The ground wire is still off the cabinet. Read from the ground pin to the cabinet, fix the wire, and "
        "read it again.",
        _PROOF,
    ),
    Slip(
        "cold_prediction",
        "Predicted amps from cold ohms",
        "That is with the cold ohms. Hot, the wire has 1.026 times as many. Divide by that too.",
        _CURRENT,
    ),
    Slip(
        "factor_wrong_way",
        "Multiplied by the hot factor",
        "The factor went the wrong way. Hot wire has more ohms, so fewer amps flow. Divide by 1.026.",
        _CURRENT,
    ),
    Slip(
        "counts_left_out",
        "Clamp counts left out",
        "The counts are missing. Add 5 counts of 0.01 A, that is 0.05 A, to the 2 %.",
        _CURRENT,
    ),
    Slip(
        "percent_left_out",
        "Clamp percent left out",
        "That is the counts alone. Add 2 % of the reading.",
        _CURRENT,
    ),
    Slip(
        "counts_as_amps",
        "Counts as whole amps",
        "5 counts are five of the last digit, 0.05 A. They are not 5 A.",
        _CURRENT,
    ),
    Slip(
        "called_it_whole",
        "Passed amps that do not fit",
        "The reading and the prediction are too far apart for that. Work out the prediction, and how far off the clamp "
        "may be.",
        _CURRENT,
    ),
    Slip(
        "miscounted_elements",
        "Miscounted the coils by amps",
        "The amps don't say that. Three coils give the prediction, two give two thirds, one gives one third.",
        _CURRENT,
    ),
    Slip(
        "blamed_the_jaw",
        "Blamed the clamp around the cord",
        "Around the whole cord the amps cancel to almost nothing. This clamp shows amps, so it was around one "
        "conductor.",
        _CURRENT,
    ),
    Slip(
        "breaker_is_no_proof",
        "Took a holding breaker for proof",
        "A breaker that holds only says that there are not far too many amps. It says nothing about too few.",
        _CURRENT,
    ),
    Slip(
        "never_ran",
        "Never ran it on heat",
        "The dryer was not run on heat with its cover on. Nothing shows yet that it heats.",
        _WARM,
    ),
    Slip(
        "exhaust_not_read",
        "Exhaust temperature not read",
        "The exhaust temperature was not read while it ran on heat. That is the proof that the customer feels.",
        _WARM,
    ),
    Slip(
        "cover_not_needed",
        "Took off a cover not needed",
        "A cover came off that hides neither the terminal block nor a terminal of the heater. Each one costs minutes "
        "and screws. Find on the tech sheet what is behind a cover before you take it off.",
        _CABINET,
    ),
    Slip(
        "second_heater_not_read",
        "Second heater not read to cabinet",
        "The heater of the second dryer was not read clear of its cabinet. With every wire off the heater, read each "
        "terminal to the cabinet. It has to show OL before the wires go back.",
        _CABINET,
    ),
    Slip(
        "second_left_open",
        "Second dryer not closed up",
        "The second dryer is not closed up: a wire or a cover is still off. What came off last goes on first.",
        _CABINET,
    ),
    Slip(
        "every_cover_counted",
        "Counted the screws of every cover",
        "Those are the screws of every cover. Leave the covers on that hide neither the block nor the heater.",
        _CABINET,
    ),
    Slip(
        "block_cover_forgotten",
        "Forgot the cover of the block",
        "That is too few. You test dead at the terminal block before your hands go in. So its cover is off too.",
        _CABINET,
    ),
    Slip(
        "screws_miscounted",
        "Miscounted the screws of covers",
        "Count again: every cover in front of the block, and every cover in front of the heater. Each of them once.",
        _CABINET,
    ),
    Slip(
        "cord_not_held",
        "Missed a cord that nothing holds",
        "The strain relief has to hold the cord. Without it the cord rubs through, or a tug pulls a live wire off.",
        _BACK,
    ),
    Slip(
        "block_passed",
        "Passed a bad terminal block",
        "Each wire sits under its own screw, with no strand out and no brown spot. A loose place heats up.",
        _BACK,
    ),
    Slip(
        "strap_against_cord",
        "Strap does not fit the cord",
        "Four-wire cord: ground wire on the cabinet, strap off. Three-wire cord: strap on.",
        _BACK,
    ),
    Slip(
        "good_cord_blamed",
        "Blamed a cord that is right",
        "That is as it has to be. Leave it, and write down that you looked.",
        _BACK,
    ),
    Slip(
        "splitter_is_live",
        "Took a splitter for dead work",
        "The cover stays on, but the splitter's wires are live while you read. It is a live reading: for the person "
        "your employer names, never alone.",
        _SPLIT,
    ),
    Slip(
        "splitter_not_fit",
        "Splitter not fit for the circuit",
        "The whole current goes through it. It has to be whole, and rated for that circuit like the meter. A cord that "
        "was slit is neither, and none stays in a customer's house.",
        _SPLIT,
    ),
    Slip(
        "splitter_plug_in",
        "Splitter put in before unplugging",
        "Pull the plug first. The splitter goes between plug and receptacle, and it comes off unplugged too.",
        _SPLIT,
    ),
    Slip(
        "splitter_all_wires",
        "Clamp around the wrong wires",
        "Around all its wires the amps cancel, and the clamp shows next to nothing. Put the clamp around one.",
        _SPLIT,
    ),
    Slip(
        "splitter_misread",
        "Misread a wire of the splitter",
        "One leg carries the heater, the other the heater and the motor. The neutral has the motor's amps. The ground "
        "wire has to carry none: amps there mean a path to the cabinet.",
        _SPLIT,
    ),
)
