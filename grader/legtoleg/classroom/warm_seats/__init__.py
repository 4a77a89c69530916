"""The warm parent of a class: everything imported, nobody's data; it forks each seat's server and kernels.

It runs as a package of its own (``python -m warm_seats.parent``), outside ``legtoleg``: what it has imported is in
every seat's memory, and nothing of the marker may be. It never reads what it is asked: the fork does, so that no seat
finds another's token in memory that was freed. A seat has the same user, files, limits and network as one that starts
cold.
"""
