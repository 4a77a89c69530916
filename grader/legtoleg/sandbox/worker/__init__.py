"""The worker: what runs inside the jail. It may import ``dryerbench`` and IPython, and nothing else of the marker's."""

DESK = "/desk"
"""The empty folder inside the jail in which a notebook works; it is gone when the notebook ends."""
