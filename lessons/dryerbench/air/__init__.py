"""Air: ducts, moist air, heat switches, thermistors, and the drying cycle that links them.

``Cycle(...).run()`` takes plain parameters and returns a ``CycleRecord``. Air is followed as a steady stream over
element, box, load, drum and housing, so energy and water close by construction. ``stepping`` is Dormand and Prince's
pair with switches found inside the step; SciPy's ``solve_ivp`` on the same equations is its reference in tests and
the benchmark. Moist air in the loop is the handbook's closed form, held to psychrolib by 1e-9; CoolProp is a second
opinion in tests. ``warm_machine`` goes on from any state, act by act, on the same equations; what it keeps is rounded,
so that no processor's last digit reaches a reading. ``heat_ratings`` holds the air and the switches of any
arrangement as data.

The machine is invented: when it is retuned, keep the test load between 3.73 and 4.3 lb/kWh, a household load (9 lb of
mixed clothes at 60 %) between 35 and 60 minutes, and the high limit shut on a clean vent, with a welded thermostat too.
The heat is the same however little air there is, so longer drying with less air shows once the limit cuts in.
"""
