"""The slips of lesson 06, heat switches."""

from __future__ import annotations

from dryerbench.course.slips import Slip

_COLD, _CUP, _SENSOR = "The cold test", "The cup of hot water", "The thermistor"
_CONTACT, _CAUSE = "A contact is not quite nothing", "A blown cut-off has a cause"

SLIPS = (
    Slip(
        "sensor_rises",
        "That lets the ohms rise with the heat. This thermistor goes the other way: warmer, fewer ohms.",
        _SENSOR,
    ),
    Slip(
        "sensor_at_room",
        "Those are the ohms at 77 °F. Multiply them by the factor of the table for the warm part.",
        _SENSOR,
    ),
    Slip(
        "sensor_of_ten",
        "That takes the usual 10 kΩ. Your thermistor's sheet says another number: start from that.",
        _SENSOR,
    ),
    Slip("celsius_column", "That is the number of degrees in °C. The question asks for °F.", _SENSOR),
    Slip(
        "drop_times_amps",
        "The drop was multiplied by the amps: those are watts. Ohms are volts divided by amps.",
        _CONTACT,
    ),
    Slip(
        "amps_not_squared",
        "That is ohms times amps, the drop in volts. For watts multiply by the amps once more.",
        _CONTACT,
    ),
    Slip("ohms_squared", "The ohms were squared. It is the amps that count twice: ohms × amps × amps.", _CONTACT),
    Slip(
        "closed_is_not_over_limit",
        "OL means open. If a switch that should be closed shows OL, look whether both tips touch bare metal of that "
        "same part before you believe it.",
        _COLD,
    ),
    Slip(
        "blown_is_over_limit",
        "A blown cut-off is open: alone, it reads OL. A number there means that the meter saw another way round, or "
        "another part.",
        _COLD,
    ),
    Slip(
        "cover_on_trust",
        "The cover came off, or the test was believed, before the circuit was proved dead with a meter proved before "
        "and after. A dead meter shows a dead circuit.",
        _COLD,
    ),
    Slip("hands_before_plug", "There was work inside before the plug was out. Unplug first, always.", _COLD),
    Slip(
        "read_in_circuit",
        "The reading was taken with the wire still on. Another path beside the switch can show near 0 Ω while the "
        "switch itself is open.",
        _COLD,
    ),
    Slip("steps_out_of_reach", "One of the steps cannot be done there: it needs another one first.", _COLD),
    Slip(
        "cup_called_opened",
        "It has not shown that it opens and closes. Compare the water with the mark, and the reading with OL.",
        _CUP,
    ),
    Slip(
        "cup_called_stuck",
        "Stuck means: above its mark and still closed. Compare the water with the mark, and look at the reading.",
        _CUP,
    ),
    Slip(
        "cup_called_blind",
        "The water does tell here: it is above the mark, or the part is open where it has to be closed.",
        _CUP,
    ),
    Slip(
        "cup_called_broken",
        "Broken means: below its mark and open. Compare the water with the mark, and look at the reading.",
        _CUP,
    ),
    Slip(
        "heat_piles_up",
        "That one plays a part too: too little air, or heat that nothing switches off, makes the box too hot.",
        _CAUSE,
    ),
    Slip(
        "less_heat_cannot_blow",
        "That one makes less heat or none at all. A cut-off blows from too much.",
        _CAUSE,
    ),
    Slip(
        "blamed_without_reading",
        "The readings do not say that. A part that was cold sound and hot sound is sound; go by the numbers.",
        _CAUSE,
    ),
    Slip(
        "blown_by_age",
        "A cut-off blows because the box got too hot. Fit a new one and leave the cause in, and the new one blows, "
        "or the lint burns.",
        _CAUSE,
    ),
    Slip(
        "cause_not_shown",
        "The name is right, but your readings do not show it yet: each switch hot, each element against the case, "
        "until one of them gives itself away or all are cleared.",
        _CAUSE,
    ),
    Slip(
        "bridged_cutoff",
        "Never bridge a cut-off, not for one load. With it bridged nothing is left to stop the heat, and lint burns.",
        "Never bridge it",
    ),
    Slip(
        "hotter_cutoff",
        "A cut-off with a higher rating lets the box get hotter than its manufacturer allows. Same part, same rating.",
        "Never bridge it",
    ),
    Slip(
        "fuse_for_cutoff",
        "A fuse opens on amps. The heater takes the same amps in a box that burns: a fuse there is a bridge.",
        "Never bridge it",
    ),
    Slip(
        "cause_left_in",
        "The cut-off is what the cause has done. Replace it only when the cause is found and fixed.",
        "Never bridge it",
    ),
    Slip(
        "ready_held_back",
        "The right part is here and the cause is fixed: install it, and prove it. Nothing is left to wait for.",
        "Never bridge it",
    ),
    Slip(
        "fitted_too_early",
        "Right part and fixed cause: both have to be there before it goes in. Look at the card once more.",
        "Never bridge it",
    ),
)
