"""Marking: answers as data in, outcomes out; nothing of the apprentice's runs here.

``answer_parsing`` checks every field of a record as untrusted. Order of judgement: right; follows from an own earlier
number; a known slip (several that cannot be told apart are joined by ``+`` and all named); rounded too far; the
practice machine; wrong. Clicks are in no cell, so ``bench_trail_recovery`` keeps a trail from the page as it came;
the longer one counts, and the marker does it again. A finding that gates earns nothing and holds the lesson, on every
bench, whether its question is one of safety or not. Advised minutes come from ``datasets/advised_paths.csv``: make it
anew by ``python -m legtoleg.marking.advised_paths`` when an act's minutes, a fault or the advice changes.
"""
