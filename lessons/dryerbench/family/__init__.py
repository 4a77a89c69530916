"""The family: dryers not seen before, each a text file; wiring, faults, places, heat and decks follow from it.

``machines/NAME.txt`` -> ``arrangement_file`` (strict; an error names file and line) -> ``Arrangement`` -> ``wiring``
(``wire_up(machine, setting)``) -> a circuit of the solver. A new machine is a new file: its ``way:`` lines must follow
its wires, and the tests work out every number on its sheet (``readings``: the machine on paper, no ohms in wires).
``kinds`` says which parts there are and what a line must say of each; ``settings`` what a person has done; ``contacts``
what is closed then; ``settling`` what really happens (motor, board, follower relay, breaker); ``heat`` what some
minutes do. Faults hang on kinds of parts (``faults.txt``; ``effects`` holds their verbs): a new machine has them the
day it is written, with the readings that show them and the pairs that the physics makes. ``own_machine`` draws numbers
and places.
"""
