"""The bench: a machine with its faults, wired, settled in a state, measured by a meter, act by act.

``machine`` + ``states`` + ``faults`` -> ``wiring`` -> a circuit -> the solver. ``situation.settle`` decides what
really happens: a motor runs only if it could start, a breaker trips at 1.35 of its rating. Readings are drawn from
``Stream`` on ``Machine.tag | faults | State.tag``: a change there changes every handed-in trail (golden test).
``worksite`` is what an act may change, ``acts`` what each act needs and notes, ``bench`` the acts by name, ``trail``
plain data with the safety findings that follow from it; its facts are recomputed by ``replay`` and never believed.
Heat follows every act: ``Bench.do`` lets the act's minutes pass (``Worksite.follow_heat``), ``heat.pass_minutes`` says
what they do, from the circuit's watts and the machine's ``HeatRatings``. Only a switch that heat holds open is named in
``State.tripped``; temperatures in a state are what the heat came to. A state that was asked for carries ``ran``, the
minutes that it was asked to heat: ``heat.asked_for`` follows them on any machine with any faults, which is how warm or
cold air becomes evidence. ``heat_effects`` says what a set of causes clicks or blows over a load.
``cycle_faults`` puts the bench's faults into a whole drying cycle: a new fault has its cycle or a ``NoCycleError``.
"""
