"""The bench: a machine with its faults, wired, settled in a state, measured by a meter, act by act.

``machine`` + ``states`` + ``faults`` -> ``wiring`` -> a circuit -> the solver. ``situation.settle`` decides what
really happens: a motor runs only if it could start, a breaker trips at 1.35 of its rating. Readings are drawn from
``Stream`` on ``Machine.tag | faults | State.tag``: a change there changes every handed-in trail (golden test).
``worksite`` is what an act may change, ``acts`` what each act needs and notes, ``bench`` the acts by name, ``trail``
plain data with the safety findings that follow from it; its facts are recomputed by ``replay`` and never believed.
``cycle_faults`` is the only place where bench and drying cycle meet: a new fault has its cycle or a ``NoCycleError``.
"""
