"""Plates: pictures of the real thing for the lessons, in the lines and colors of the machine view.

Each function returns a ``Plate``: a drawing 560 units wide whose words are 17 units tall, so that they can be read
where a phone's column makes it small. A plate says in ``told`` what it shows; ``drawing.still_figure`` shows both.
All shapes are our own, and none is of a real product. A new plate is a function here, a ``show_`` in its topic's
figures, and a line in ``tests/dryerbench/machine_view/test_plates.py``.
"""
