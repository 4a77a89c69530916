"""Diagnosis: which faults are possible, what readings say of them, and the path to the right one."""
