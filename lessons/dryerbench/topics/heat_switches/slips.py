"""The slips of lesson 06, heat switches."""

from __future__ import annotations

from dryerbench.course.slips import OHMS_LAW, Slip

_RESET = "A limit with a reset button"
_COLD, _CUP, _SENSOR = "The cold test", "The cup of hot water", "The thermistor"
_CONTACT, _CAUSE = "A closed contact still has some ohms", "A blown cut-off has a cause"

SLIPS = (
    Slip(
        "sensor_rises",
        "Thermistor ohms up with heat",
        "You made the ohms go up with the heat. This thermistor goes the other way: warmer, fewer ohms.",
        _SENSOR,
    ),
    Slip(
        "sensor_at_room",
        "Room-temperature ohms for warm sensor",
        "Those are the ohms at 77 °F. Multiply them by the factor in the table for the warm part.",
        _SENSOR,
    ),
    Slip(
        "sensor_of_ten",
        "Used 10 kΩ, not the card's",
        "You started from the usual 10 kΩ. Your card has another number: start from that.",
        _SENSOR,
    ),
    Slip("celsius_column", "Gave °C, not °F", "That is the temperature in °C. The question asks for °F.", _SENSOR),
    Slip(
        "amps_over_drop",
        "Divided the amps by the drop",
        f"You divided the wrong way around. {OHMS_LAW['ohms']}",
        _CONTACT,
    ),
    Slip(
        "drop_times_amps",
        "Multiplied the drop by the amps",
        f"You multiplied the drop by the amps. Those are watts. {OHMS_LAW['ohms']}",
        _CONTACT,
    ),
    Slip(
        "amps_not_squared",
        "Did not square the amps",
        "That is ohms times amps, the drop in volts. For watts, multiply by the amps once more.",
        _CONTACT,
    ),
    Slip(
        "ohms_squared",
        "Squared the ohms",
        "You squared the ohms. It is the amps that count twice: ohms × amps × amps.",
        _CONTACT,
    ),
    Slip(
        "closed_is_not_over_limit",
        "Wrote OL for a closed switch",
        "OL means open. If a switch that should be closed shows OL, check that both tips touch bare metal of that "
        "same part. Then read again.",
        _COLD,
    ),
    Slip(
        "blown_is_over_limit",
        "Wrote ohms for a blown cut-off",
        "A blown cut-off is open: alone, it reads OL. A number there means the meter read through another path, or "
        "another part.",
        _COLD,
    ),
    Slip(
        "cover_on_trust",
        "Cover off before both meter checks",
        "The cover came off, or you trusted the test, before you checked the meter before and after it. "
        "A dead meter makes every circuit look dead, and a live one can kill you.",
        _COLD,
    ),
    Slip(
        "hands_before_plug",
        "Hands inside before plug was out",
        "You worked inside before the plug was out. That can kill you. Unplug first, always.",
        _COLD,
    ),
    Slip(
        "read_in_circuit",
        "Read a switch with wire on",
        "You read it with the wire still on. Another path around the switch can show near 0 Ω while the "
        "switch itself is open. Pull one wire and read again.",
        _COLD,
    ),
    Slip(
        "steps_out_of_reach",
        "Switch test in impossible order",
        "You can't do one of the steps there: it needs another step first.",
        _COLD,
    ),
    Slip(
        "cup_called_opened",
        "Said the hot-water switch opened",
        "It has not shown that it opens. Compare the water with the rating, and the reading with OL.",
        _CUP,
    ),
    Slip(
        "cup_called_stuck",
        "Called the hot-water switch stuck",
        "Stuck means: above its rating and still closed. Compare the water with the rating, and check the reading.",
        _CUP,
    ),
    Slip(
        "cup_called_blind",
        "Said the hot water cannot tell",
        "The water does tell here. It is above the rating, or the part is open where it has to be closed.",
        _CUP,
    ),
    Slip(
        "cup_called_broken",
        "Called the hot-water switch broken",
        "Broken means: below its rating and open. Compare the water with the rating, and check the reading.",
        _CUP,
    ),
    Slip(
        "heat_piles_up",
        "Missed a cause of overheating",
        "That one plays a part too. The box gets too hot from too little air, or from heat that nothing turns off.",
        _CAUSE,
    ),
    Slip(
        "less_heat_cannot_blow",
        "Blamed less heat for blown cut-off",
        "That one makes less heat, or none. A cut-off blows from too much heat.",
        _CAUSE,
    ),
    Slip(
        "blamed_without_reading",
        "Blamed what the readings clear",
        "The readings do not say that. A part that reads good cold and good hot is good. Go by the numbers.",
        _CAUSE,
    ),
    Slip(
        "blown_by_age",
        "Said the cut-off blew from age",
        "A cut-off blows because the box got too hot. If you install a new one and leave the cause, the new one "
        "blows, or the lint burns.",
        _CAUSE,
    ),
    Slip(
        "cause_not_shown",
        "Cut-off's cause without a reading",
        "You named the right one, but your readings do not prove it yet. Read each switch hot and each coil to "
        "the cabinet, until one shows the fault or all check good.",
        _CAUSE,
    ),
    Slip(
        "bridged_cutoff",
        "Bridged a cut-off",
        "Never bridge a cut-off, not for one load. With it bridged, nothing is left to stop the heat, and lint burns.",
        "Never bridge it",
    ),
    Slip(
        "hotter_cutoff",
        "Chose a hotter cut-off",
        "A higher rating lets the box get hotter than its manufacturer allows. Use the same part, same rating.",
        "Never bridge it",
    ),
    Slip(
        "fuse_for_cutoff",
        "Used a fuse for a cut-off",
        "A fuse opens on amps. A heater draws its usual amps in a box that burns, so a fuse there is a bridge.",
        "Never bridge it",
    ),
    Slip(
        "cause_left_in",
        "New cut-off, old cause still there",
        "Something blew that cut-off, and it is still there. Replace it only when the cause is found and fixed.",
        "Never bridge it",
    ),
    Slip(
        "ready_held_back",
        "Held back a repair that's ready",
        "The right part is here and the cause is fixed. Install it, and prove it. There is nothing to wait for.",
        "Never bridge it",
    ),
    Slip(
        "fitted_too_early",
        "Installed the cut-off too soon",
        "Two things have to be there before it goes in: the right part, and the cause fixed. Read your card again.",
        "Never bridge it",
    ),
    Slip(
        "reset_and_gone",
        "Handed back after a reset",
        "A reset is no repair. What popped the button is still there, and the box gets that hot again. Then only the "
        "cut-off is left between the lint and a fire.",
        _RESET,
    ),
    Slip(
        "button_held",
        "Held the reset button down",
        "A button that is held down is a bridge. The limit can't open, and the box can burn. Never tape or wedge it.",
        _RESET,
    ),
    Slip(
        "reset_before_cause",
        "Reset with the cause still there",
        "The button popped because the box got too hot. The cause is still there. Find it and fix it first.",
        _RESET,
    ),
    Slip(
        "reset_misread",
        "Misread a limit with a button",
        "Ask three things: did the button pop, is the cause fixed, and what does the limit read now? OL with the "
        "button in is a bad limit. Near 0 Ω and never popped is not the open part.",
        _RESET,
    ),
)
