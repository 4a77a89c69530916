"""The slips of lesson 06, heat switches."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_COLD, _CUP, _SENSOR = "The cold test", "The cup of hot water", "The thermistor"
_CONTACT, _CAUSE = "A closed contact still has some ohms", "A blown cut-off has a cause"

SLIPS = (
    Slip(
        "sensor_rises",
        "You made the ohms go up with the heat. This thermistor goes the other way: warmer, fewer ohms.",
        _SENSOR,
    ),
    Slip(
        "sensor_at_room",
        "Those are the ohms at 77 °F. Multiply them by the factor in the table for the warm part.",
        _SENSOR,
    ),
    Slip(
        "sensor_of_ten",
        "You started from the usual 10 kΩ. Your card has another number: start from that.",
        _SENSOR,
    ),
    Slip("celsius_column", "That is the temperature in °C. The question asks for °F.", _SENSOR),
    Slip(
        "drop_times_amps",
        "You multiplied the drop by the amps: those are watts. Ohms are volts divided by amps.",
        _CONTACT,
    ),
    Slip(
        "amps_not_squared",
        "That is ohms times amps, the drop in volts. For watts, multiply by the amps once more.",
        _CONTACT,
    ),
    Slip("ohms_squared", "You squared the ohms. It is the amps that count twice: ohms × amps × amps.", _CONTACT),
    Slip(
        "closed_is_not_over_limit",
        "OL means open. If a switch that should be closed shows OL, check that both tips touch bare metal of that "
        "same part. Then read again.",
        _COLD,
    ),
    Slip(
        "blown_is_over_limit",
        "A blown cut-off is open: alone, it reads OL. A number there means the meter read through another path, or "
        "another part.",
        _COLD,
    ),
    Slip(
        "cover_on_trust",
        "The cover came off, or you trusted the test, before you checked the meter before and after it. "
        "A dead meter makes every circuit look dead, and a live one can kill you.",
        _COLD,
    ),
    Slip(
        "hands_before_plug",
        "You worked inside before the plug was out. That can kill you. Unplug first, always.",
        _COLD,
    ),
    Slip(
        "read_in_circuit",
        "You read it with the wire still on. Another path around the switch can show near 0 Ω while the "
        "switch itself is open. Pull one wire and read again.",
        _COLD,
    ),
    Slip("steps_out_of_reach", "You can't do one of the steps there: it needs another step first.", _COLD),
    Slip(
        "cup_called_opened",
        "It has not shown that it opens. Compare the water with the rating, and the reading with OL.",
        _CUP,
    ),
    Slip(
        "cup_called_stuck",
        "Stuck means: above its rating and still closed. Compare the water with the rating, and check the reading.",
        _CUP,
    ),
    Slip(
        "cup_called_blind",
        "The water does tell here: it is above the rating, or the part is open where it has to be closed.",
        _CUP,
    ),
    Slip(
        "cup_called_broken",
        "Broken means: below its rating and open. Compare the water with the rating, and check the reading.",
        _CUP,
    ),
    Slip(
        "heat_piles_up",
        "That one plays a part too. The box gets too hot from too little air, or from heat that nothing turns off.",
        _CAUSE,
    ),
    Slip(
        "less_heat_cannot_blow",
        "That one makes less heat, or none. A cut-off blows from too much heat.",
        _CAUSE,
    ),
    Slip(
        "blamed_without_reading",
        "The readings do not say that. A part that reads good cold and good hot is good. Go by the numbers.",
        _CAUSE,
    ),
    Slip(
        "blown_by_age",
        "A cut-off blows because the box got too hot. If you install a new one and leave the cause, the new one "
        "blows, or the lint burns.",
        _CAUSE,
    ),
    Slip(
        "cause_not_shown",
        "You named the right one, but your readings do not prove it yet. Read each switch hot and each coil to "
        "the cabinet, until one shows the fault or all check good.",
        _CAUSE,
    ),
    Slip(
        "bridged_cutoff",
        "Never bridge a cut-off, not for one load. With it bridged, nothing is left to stop the heat, and lint burns.",
        "Never bridge it",
    ),
    Slip(
        "hotter_cutoff",
        "A higher rating lets the box get hotter than its manufacturer allows. Use the same part, same rating.",
        "Never bridge it",
    ),
    Slip(
        "fuse_for_cutoff",
        "A fuse opens on amps. A heater draws its usual amps in a box that burns, so a fuse there is a bridge.",
        "Never bridge it",
    ),
    Slip(
        "cause_left_in",
        "Something blew that cut-off, and it is still there. Replace it only when the cause is found and fixed.",
        "Never bridge it",
    ),
    Slip(
        "ready_held_back",
        "The right part is here and the cause is fixed. Install it, and prove it. There is nothing to wait for.",
        "Never bridge it",
    ),
    Slip(
        "fitted_too_early",
        "Two things have to be there before it goes in: the right part, and the cause fixed. Read your card again.",
        "Never bridge it",
    ),
)
