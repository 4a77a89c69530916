"""Keys: the reference answers, one file a lesson; nothing here is ever in a kit.

A ``Reference`` names its task and takes the task's numbers from the card and from earlier answers; ``REFERENCES``
stand in the order in which they build on one another. In an order, every rule of its ``OrderReference`` must hold,
and a broken ``unsafe`` rule holds the lesson; each step with hands inside has a rule of its own. ``dead_readings``
gives what counts as an ohm reading on a card's dead machine; ``singled_out`` whether a trail leaves one fault, at
odds of 0.98. ``repair_goals`` holds what any repair has to reach; a goal that whoever does nothing reaches too has
``shown_by``, the work without which it earns nothing. In 05 all three elements read a number to the case; the
grounded one's two readings add up to its own ohms. 06 carries two faults, the blown cut-off and its cause. In 09 the
clamp's case is stored nowhere: the reference works it out from the card.
"""
