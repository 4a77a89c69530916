"""Collecting: what came back is named with its fate, kept as it came, and becomes hand-ins; doubts are settled once.

``collecting_run`` is one run of ``legtoleg collect``; ``collecting`` files one notebook; ``arrivals`` is the list of
all that came, ``keeping`` keeps it, ``settling`` reads ``settle.csv``, ``what_came_page`` writes the page.
"""
