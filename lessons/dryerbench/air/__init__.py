"""Air: ducts, moist air, heat switches, thermistors, and the drying cycle that links them.

``Cycle(...).run()`` takes plain parameters and returns a ``CycleRecord``. Air is followed as a steady stream over
element, box, load, drum and housing, so energy and water close by construction. ``stepping`` is Dormand and Prince's
pair with switches found inside the step; SciPy's ``solve_ivp`` on the same equations is its reference in tests and
the benchmark. Moist air in the loop is the handbook's closed form, held to psychrolib by 1e-9; CoolProp is a second
opinion in tests. The machine is invented: when it is retuned, keep the standard load between 3.73 and 4.3 lb/kWh, and
a sound machine off its high limit. Longer drying with less air shows once the limit cuts in.
"""
