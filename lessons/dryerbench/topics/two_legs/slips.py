"""The slips of lesson 02, two legs."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "legs_cancel",
        "Said the legs cancel",
        "The legs do not cancel. One swings up while the other swings down, so from leg to leg the volts add.",
        "Two legs and a neutral",
    ),
    Slip(
        "third_of_a_turn",
        "Used three phases for a house",
        "That is for three phases, with the legs 120 degrees apart. In a house they are 180 degrees apart. Double "
        "one leg.",
        "Two legs and a neutral",
    ),
    Slip(
        "leg_alone",
        "Gave one leg, not both",
        "That is one leg to neutral. The question asks for the volts from leg to leg. Work it again with both legs.",
        "Two legs and a neutral",
    ),
    Slip(
        "nominal_volts",
        "Used round volts, not the card's",
        "Those are the round volts of a textbook. Your card gives the volts of one leg in this house. Start from that.",
        "Two legs and a neutral",
    ),
    Slip(
        "half_a_turn",
        "Doubled one leg of three phases",
        "Double is for a house. On three phases the legs are 120 degrees apart. Multiply one leg by 1.732.",
        "208 volts",
    ),
    Slip(
        "neutral_adds",
        "Added amps in the neutral",
        "You added the amps of the two legs. They swing against each other, so the neutral carries only the "
        "difference. Subtract.",
        "What the neutral carries",
    ),
    Slip(
        "neutral_idle",
        "Said the neutral carries nothing",
        "The neutral carries nothing only when both loads are equal. Yours are not. Work out both and subtract.",
        "What the neutral carries",
    ),
    Slip(
        "larger_load",
        "Gave the larger load's amps",
        "Those are the amps of the larger load alone. Subtract the amps of the other leg.",
        "What the neutral carries",
    ),
    Slip(
        "both_legs_on_load",
        "Leg-to-leg volts on each load",
        "You used the volts from leg to leg. Each load is between one leg and neutral, so use the volts of one leg.",
        "What the neutral carries",
    ),
    Slip(
        "each_keeps_its_leg",
        "One leg's volts with open neutral",
        "That is true while the neutral is good. It's open now, so nothing holds each load at one leg's volts. Put "
        "the loads in series.",
        "The neutral opens",
    ),
    Slip(
        "other_load",
        "Gave the other load's volts",
        "That is what the other load gets. In series, the load with more ohms gets more volts. Check which one is "
        "load A.",
        "The neutral opens",
    ),
    Slip(
        "all_on_one_load",
        "Put all volts on one load",
        "You put all the volts on one load. The two loads share them by their ohms.",
        "The neutral opens",
    ),
    Slip(
        "one_leg_in_a_row",
        "One leg across loads in series",
        "You started from one leg. The two loads in series are between leg and leg, so start from the volts from leg "
        "to leg.",
        "The neutral opens",
    ),
    Slip(
        "strap_holds_zero",
        "Trusted the strap with open neutral",
        "The strap ties the cabinet to the neutral, and the neutral is open. So nothing holds the cabinet at zero, "
        "and a leg "
        "comes through the dryer onto it. Anyone who believes 0 V here can be killed.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "both_legs_on_case",
        "Leg-to-leg volts on strapped cabinet",
        "You used the volts from leg to leg. Ground is in the middle, so from a leg to ground it's half of that.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "half_leg_on_case",
        "Half a leg on strapped cabinet",
        "Nothing halves it. While nobody touches the cabinet no current flows, so no volts are lost on the way.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "strap_on_four",
        "Left strap on with four wires",
        "With four wires the strap comes off. Left on, it puts the neutral's current on the cabinet and the ground "
        "wire. "
        "If somebody touches it, that can hurt.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "strap_off_three",
        "Took strap off with three wires",
        "With three wires the strap is the only ground that the cabinet has. Without it, a fault puts a leg on the "
        "cabinet, and that can kill.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "cord_not_counted",
        "Same strap rule for every cord",
        "You gave one rule for every cord. What grounds the cabinet depends on how many wires the cord has. Read "
        "your card.",
        "Three wires, four wires, one strap",
    ),
    Slip(
        "bare_hands",
        "Skipped the live-work list",
        "You took the readings without the live-work list. A slot is live until the meter says that it's dead, and "
        "it can "
        "kill you. Gloves on and meter checked first.",
        "Reading a receptacle",
    ),
    Slip(
        "pair_not_read",
        "Did not read every pair",
        "You did not read every pair on LoZ. Read leg to leg, and each leg to neutral.",
        "Reading a receptacle",
    ),
    Slip(
        "phantom_read",
        "Wrote down ghost volts",
        "Those are ghost volts. A wire connected to nothing picks up volts from the live wire beside it. Read again on "
        "LoZ.",
        "Reading a receptacle",
    ),
    Slip(
        "called_sound",
        "Called a bad receptacle good",
        "Good is a full leg to neutral on both sides, and double that from leg to leg. One of yours is not. Check "
        "all three.",
        "What the readings say",
    ),
    Slip(
        "called_lost_leg",
        "Wrongly called it a lost leg",
        "With a leg lost, every reading that uses that leg is 0 V. The other leg stays. Compare that with your three "
        "readings.",
        "What the readings say",
    ),
    Slip(
        "called_open_neutral",
        "Wrongly called the neutral open",
        "With the neutral of the dryer's circuit open, leg to leg is full and both legs read nothing to neutral. "
        "Compare that with yours.",
        "What the readings say",
    ),
    Slip(
        "called_service_neutral",
        "Wrongly called the service neutral open",
        "With the neutral of the service open, leg to leg is full. One leg is high and the other is low. Compare "
        "that with yours.",
        "What the readings say",
    ),
    Slip(
        "called_wye",
        "Wrongly called it 208 V",
        "In a 208 V building each leg has its full volts to neutral, and only leg to leg is low. Compare that with "
        "yours.",
        "What the readings say",
    ),
    Slip(
        "called_sag",
        "Wrongly called it a sag",
        "In a sag all three are low by the same percent, and leg to leg is still double. Compare that with yours.",
        "What the readings say",
    ),
)
