"""The slips of lesson 01, made dead."""

from __future__ import annotations

from dryerbench.course.slips import Slip

SLIPS = (
    Slip(
        "both_legs_to_ground",
        "That takes the volts from leg to leg. From one leg to ground it is one leg's volts, half of that.",
        "What current does to a body",
    ),
    Slip(
        "underrated_shock",
        "That is what a far smaller current does. Work out your milliamps and go down the table: on this machine "
        "nobody gets away without feeling it.",
        "What current does to a body",
    ),
    Slip(
        "other_row",
        "That line of the table belongs to another current. Take your milliamps, go down the table, "
        "and stop at the last line whose number they reach.",
        "What current does to a body",
    ),
    Slip(
        "leg_on_bonded_case",
        "Those are the volts of the leg. A bonded case does not sit that high: what lifts it is the fault's amps "
        "times the ohms of the ground wire.",
        "The ground wire on the case",
    ),
    Slip(
        "amps_over_ohms",
        "Amps were divided by ohms. Volts are amps times ohms.",
        "The ground wire on the case",
    ),
    Slip(
        "bond_is_perfect",
        "A ground wire is not a perfect zero. While the fault's amps go through its ohms, the case is lifted.",
        "The ground wire on the case",
    ),
    Slip(
        "leg_for_case",
        "That puts the whole leg on the person. The case is bonded: the person gets the volts of the case.",
        "The ground wire on the case",
    ),
    Slip(
        "category_too_low",
        "The volts printed on it do not make up for a low category. A dryer circuit is CAT III, for the meter and for "
        "the leads, and the weaker of the two counts.",
        "Category and leads",
    ),
    Slip(
        "damaged_kit",
        "That one is damaged, or somebody has defeated its fuse. It goes to repair or in the bin, never to a circuit.",
        "Category and leads",
    ),
    Slip(
        "no_category",
        "No category printed on it means that nobody answers for it. Leave it in the drawer.",
        "Category and leads",
    ),
    Slip(
        "sound_kit_left_out",
        "One that may be used was left out: CAT III or IV, 600 V or more, for meter and leads, and everything whole.",
        "Category and leads",
    ),
    Slip(
        "nobody_told",
        "First tell people, and find out what feeds the machine: who does not know may switch it on again.",
        "The order that makes it dead",
    ),
    Slip(
        "cut_under_load",
        "Stop the machine with its own control first: a plug or a breaker that opens under load draws an arc.",
        "The order that makes it dead",
    ),
    Slip(
        "tested_before_isolated",
        "Cut off first, then lock and tag, then test. What can come back on after the test is not dead.",
        "The order that makes it dead",
    ),
    Slip(
        "opened_before_dead",
        "The cover comes off after the test for dead, not before it. Behind it are bare terminals.",
        "The order that makes it dead",
    ),
    Slip(
        "not_at_rest",
        "Stop the machine, then wait until it is at rest and cool, and only then take the cover off: moving and hot "
        "parts hurt without any volts.",
        "The order that makes it dead",
    ),
    Slip(
        "meter_unproved",
        "The test was made with a meter that had not been proved. A broken meter shows zero on a live circuit.",
        "The meter, before and after",
    ),
    Slip(
        "zero_not_confirmed",
        "After the test the meter was not proved again. It may have failed in between: then its zeros say nothing.",
        "The meter, before and after",
    ),
    Slip(
        "believed_a_zero",
        "You would have gone on. Every pair has to read zero, and the meter has to show the known source before "
        "and after. One miss, and it is not proved dead.",
        "Reading the test",
    ),
    Slip(
        "called_live",
        "Live means that a pair shows volts. Look at the pairs, and at the known source before and after.",
        "Reading the test",
    ),
    Slip(
        "proof_was_good",
        "The meter showed the known source before and after, so it can be trusted: what it read in between counts.",
        "Reading the test",
    ),
    Slip(
        "kept_a_licensed_job",
        "One of those that go to a licensed electrician is missing: the receptacle, the breaker, the wires in the wall "
        "and the service are not yours.",
        "When to stop",
    ),
    Slip(
        "gave_a_job_away",
        "One of those is ordinary work on a dead machine: that is what you are here for.",
        "When to stop",
    ),
    Slip(
        "touched_the_shocked",
        "Whoever touches somebody who is stuck to a live machine is the next one on it. First the power goes off, at "
        "the plug or at the breaker.",
        "If somebody gets a shock",
    ),
    Slip(
        "help_came_late",
        "Every minute counts, and nobody else is there. Once the power is off, call 911 and help until they come.",
        "If somebody gets a shock",
    ),
    Slip(
        "shock_made_light",
        "A shock can upset the heart hours later, and burns lie inside. The job stops, they are not left alone, and a "
        "doctor sees them today.",
        "If somebody gets a shock",
    ),
    Slip(
        "power_was_off",
        "The power is off on your card, and the hands are free. Do what they need now.",
        "If somebody gets a shock",
    ),
    Slip(
        "awake_or_not",
        "Check if they answer and breathe. Chest compressions are for somebody who does not; somebody who talks "
        "needs company and a doctor.",
        "If somebody gets a shock",
    ),
    Slip(
        "plug_left_in",
        "The plug is still in the receptacle. Pull it.",
        "The order that makes it dead",
    ),
    Slip(
        "breaker_not_locked",
        "The breaker is not open with your lock on it. Somebody else can put the plug in or the breaker on.",
        "The order that makes it dead",
    ),
    Slip(
        "block_not_tested",
        "The terminal block was not tested. Once it is proved dead outside, the cover comes off: behind it is where "
        "your hands go, so test there once more.",
        "Reading the test",
    ),
)
