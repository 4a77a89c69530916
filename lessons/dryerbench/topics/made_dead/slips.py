"""The slips of lesson 01, made dead."""

from __future__ import annotations

from dryerbench.course.slips import OHMS_LAW, Slip

SLIPS = (
    Slip(
        "both_legs_to_ground",
        "Leg-to-leg volts for a shock",
        "You used the volts from leg to leg. From one leg to ground it's half of that. Work it again with one leg.",
        "What current does to a body",
    ),
    Slip(
        "underrated_shock",
        "Underrated what a shock does",
        "That is what a much smaller current does, and this one can kill. Work out your milliamps. Then go down the "
        "table to the last row that they reach.",
        "What current does to a body",
    ),
    Slip(
        "other_row",
        "Read the wrong table row",
        "That row is for another current. Take your milliamps, go down the table, and stop at the last row "
        "that they reach.",
        "What current does to a body",
    ),
    Slip(
        "leg_on_bonded_case",
        "Full leg on a grounded cabinet",
        "That is the full leg. With its ground wire on, the cabinet does not get that high. Multiply the amps of the "
        "fault by the ohms of the ground wire.",
        "The ground wire on the cabinet",
    ),
    Slip(
        "amps_over_ohms",
        "Divided amps by ohms",
        f"You divided amps by ohms. {OHMS_LAW['volts']} Multiply.",
        "The ground wire on the cabinet",
    ),
    Slip(
        "bond_is_perfect",
        "Took ground wire for 0 Ω",
        "You took the ground wire for zero ohms. It has a few tenths, and the fault's amps go through them. Multiply "
        "the two.",
        "The ground wire on the cabinet",
    ),
    Slip(
        "leg_for_case",
        "Full leg on the person",
        "You put the whole leg on the person. The ground wire is on, so the person gets the volts of the cabinet. "
        "Use your answer to 3.",
        "The ground wire on the cabinet",
    ),
    Slip(
        "category_too_low",
        "Meter or leads below CAT III",
        "More volts do not make up for a low category. A dryer circuit is CAT III, for the meter and for the test "
        "leads, "
        "and the weaker one counts. A lower one can blow up in your hand.",
        "Category and leads",
    ),
    Slip(
        "damaged_kit",
        "Chose a damaged meter or lead",
        "One you named is damaged, or its fuse was replaced with something else. It can blow up in your hand. Repair "
        "it or throw it out.",
        "Category and leads",
    ),
    Slip(
        "no_category",
        "Chose equipment with no category",
        "One you named has no category on it, so no one stands behind it. Leave it in the drawer.",
        "Category and leads",
    ),
    Slip(
        "sound_kit_left_out",
        "Left out equipment that is safe",
        "You left one out that you may use: CAT III or IV, 600 V or more, meter and test leads, undamaged. Go "
        "through them again.",
        "Category and leads",
    ),
    Slip(
        "nobody_told",
        "Did not tell people first",
        "Tell people first, and find out what feeds the dryer. Someone who doesn't know may turn it back on while "
        "your hands are inside.",
        "The order that makes it dead",
    ),
    Slip(
        "cut_under_load",
        "Cut power under load",
        "You opened it under load, and that draws an arc. Stop the dryer with its own control first.",
        "The order that makes it dead",
    ),
    Slip(
        "tested_before_isolated",
        "Tested before lock and tag",
        "You tested before it was locked off. It can come back on after your test. Isolate first, then lock and tag, "
        "then test.",
        "The order that makes it dead",
    ),
    Slip(
        "opened_before_dead",
        "Cover off before testing dead",
        "You took the cover off before the test for dead. Behind it are bare terminals, and they can kill. Test first.",
        "The order that makes it dead",
    ),
    Slip(
        "not_at_rest",
        "Opened it moving or hot",
        "You opened it before it was at rest. Moving and hot parts hurt you without any volts. Stop it, let it cool, "
        "then take the cover off.",
        "The order that makes it dead",
    ),
    Slip(
        "meter_unproved",
        "Tested dead with unchecked meter",
        "You tested with a meter that you had not checked. A broken meter shows zero on a live circuit. Check it on "
        "the known source first.",
        "The meter, before and after",
    ),
    Slip(
        "zero_not_confirmed",
        "Did not check meter after test",
        "You did not check the meter again after the test. It may have died in between, and then its zeros mean "
        "nothing. Check it again.",
        "The meter, before and after",
    ),
    Slip(
        "believed_a_zero",
        "Trusted zeros without full proof",
        "You would have opened it, and it may be live. Every pair has to read zero, and the meter has to read the "
        "known "
        "source before and after. Read the lines on your card again.",
        "Reading the test",
    ),
    Slip(
        "called_live",
        "Called it live without volts",
        "You called it live, but live means that a pair shows volts. Read the pairs, and the known source before and "
        "after.",
        "Reading the test",
    ),
    Slip(
        "proof_was_good",
        "Doubted a meter that checked good",
        "The meter read the known source before and after, so you can trust it. Go by what it read in between.",
        "Reading the test",
    ),
    Slip(
        "kept_a_licensed_job",
        "Kept a licensed electrician's job",
        "You kept a job that goes to a licensed electrician. The receptacle, the breaker, the wires in the wall and "
        "the "
        "service are not yours.",
        "When to stop",
    ),
    Slip(
        "gave_a_job_away",
        "Gave away ordinary dryer work",
        "You gave away ordinary work on a dead dryer. That is what you are here for. Go through them again.",
        "When to stop",
    ),
    Slip(
        "touched_the_shocked",
        "Touched somebody stuck to power",
        "If you touch somebody who is stuck to a live dryer, you are stuck too. Turn the power off first, at the "
        "plug or "
        "at the breaker.",
        "If somebody gets a shock",
    ),
    Slip(
        "help_came_late",
        "Put off calling for help",
        "Every minute counts. Once the power is off, call 911, and help until they come.",
        "If somebody gets a shock",
    ),
    Slip(
        "shock_made_light",
        "Took a shock too lightly",
        "The heart can lose its rhythm hours after a shock, and burns can be inside. Stop the job, stay with them, and "
        "have a doctor see them today.",
        "If somebody gets a shock",
    ),
    Slip(
        "power_was_off",
        "First aid: power was already off",
        "On your card the power is off and the hands are free. Do what they need now.",
        "If somebody gets a shock",
    ),
    Slip(
        "awake_or_not",
        "Wrong first aid for their condition",
        "Check if they answer and breathe normally. Chest compressions are for somebody who does neither: gasping does "
        "not count as breathing. Somebody who talks "
        "needs company and a doctor.",
        "If somebody gets a shock",
    ),
    Slip(
        "plug_left_in",
        "Left the plug in",
        "The plug is still in the receptacle. Pull it.",
        "The order that makes it dead",
    ),
    Slip(
        "breaker_not_locked",
        "Did not lock the breaker",
        "The breaker is not open with your lock on it. Somebody else can turn it on while your hands are inside. "
        "Open it, lock it, tag it.",
        "The order that makes it dead",
    ),
    Slip(
        "block_not_tested",
        "Did not test at the block",
        "You did not test at the terminal block. Your hands go behind the cover, so test there once more after it is "
        "off.",
        "Reading the test",
    ),
)
