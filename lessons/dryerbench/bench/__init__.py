"""The bench: a machine with its faults, wired, settled in a state, measured by a meter, act by act."""
