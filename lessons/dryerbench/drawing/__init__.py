"""Drawing: figures with sliders, the wiring diagram, and the bench panel's picture.

A figure is live, still or in words by ``LEGTOLEG_FIGURES``. It is laid out once; ``redraw`` puts axes and titles
where they stood. ``panel_drawing`` is the only place for the panel's coordinates: SVG and still PNG are both drawn
from it.
"""
