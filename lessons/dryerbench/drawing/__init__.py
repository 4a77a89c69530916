"""Drawing: figures with sliders, and the wiring diagram.

A figure is live, still or in words by ``LEGTOLEG_FIGURES``. It is laid out once; ``redraw`` puts axes and titles
where they stood.
"""
