"""The booth: what runs inside the jail. It may import ``dryerbench`` and IPython, and nothing else of the marker's."""
