"""The bench: a machine with its faults, wired, settled in a state, measured by a meter, act by act.

``machine`` + ``states`` + ``faults`` -> ``wiring`` -> a circuit -> the solver. ``situation.settle`` decides what
really happens: a motor runs only if it could start, a breaker trips at 1.35 of its rating. ``meter`` (with its
``meter_ranges``, giving a ``reading``) has a gain and an
offset of its own for each range, drawn from ``Stream`` on ``Machine.name``, and noise drawn on ``Machine.tag | faults |
State.tag``: a change there changes every handed-in trail (golden test; raise ``trail.VERSION``).

The lessons' own dryer is the family's Schoolroom in other words (``schoolroom``: points, parts, wires; ``faults``:
names); any other machine of the family stands here by ``machine.on_the_bench``, with the points of its sheet and the
cabinet called ``case``. Circuit, faults, settling and heat are the family's on every machine. ``access`` says what can
be probed, pulled and replaced, and which cover is in front of it. ``shop_names`` has the words in which a person reads
and writes these names: trails, tables and code keep ``case`` and ``element 1``, a page says cabinet and coil 1.

``worksite`` is what an act may change. ``acts`` says what each act needs and notes, with ``precautions``, ``senses``,
``supply``, ``gauges``, ``warm_places``, ``adjustments`` and ``customer`` beside it; ``contact`` what two probes meet.
``bench`` does acts by name and leaves in each record the ``scene``: what then stands how. ``safety`` judges every
scene and every step between two; what readings prove is in ``case_readings``. A rule is a generator there and a row of
``bench-findings`` with its caution, the origin of the rule and the version of the trail from which on it counts. A new
act goes into the table ``bench-acts`` (its minutes, its list on the panel, the lessons that have it), into ``ACTS``,
``DETAILS`` and ``tests/dryerbench/bench/walking.py``, which walks all acts from many states. ``trail`` is plain data;
its facts are recomputed by ``replay`` and never believed.

Heat follows every act: ``Bench.do`` lets the act's minutes pass (``Worksite.follow_heat``), ``heat.pass_minutes`` says
what they do, from the circuit's watts and the machine's ``HeatRatings``. Only a switch that heat holds open is named in
``State.tripped``; temperatures in a state are what the heat came to. A state that was asked for carries ``ran``, the
minutes that it was asked to heat: ``heat.asked_for`` follows them on any machine with any faults, which is how warm or
cold air becomes evidence. ``heat_effects`` says what a set of causes clicks or blows over a load.
What is asked for again is not worked out again: ``situation.situated`` and ``settle`` give the same, solved object for
the same machine, faults and state, and ``pass_minutes`` what it found before. All three are pure; none may be changed.
``cycle_faults`` puts the bench's faults into a whole drying cycle: a new fault has its cycle or a ``NoCycleError``.
"""
