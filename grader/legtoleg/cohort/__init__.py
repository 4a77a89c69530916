"""A cohort: its folder, book, kits and hand-ins, and the marking of all of them.

``batch_marking`` takes each hand-in through ``submissions``, ``prepared_hand_in`` (``notebook_repair``,
``cell_restoring``, its card), sends its cells to a pool, judges the outputs, and saves in batches: book, then notebook
and page, the cache last, so a kill leaves only work to repeat. ``gradebook_writes`` writes nbgrader's own tables by a
handful of statements; a test compares both. After nbgrader's run ``MarkAnswers`` puts one ``execute_result`` in front
whose text is the points, because nbgrader reads them there. ``bench_trail_recovery.KeepWork`` and ``RestoreMarks`` run
before nbgrader's own ``OverwriteCells``, which would stop at a copied cell. Do not use nbformat's ``new_*`` makers on
the hot path: they check each cell against the schema.
"""
