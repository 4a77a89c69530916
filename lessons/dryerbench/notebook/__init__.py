"""The notebook: what an apprentice meets there: hand-in, practice, bench panel, progress.

``hand_in`` reads a value and displays a record (``application/vnd.leg-to-leg.answer+json``); right or wrong is not
said. ``bench_view`` turns a bench into plain data without its faults; ``panel`` passes messages to ``Bench.do``;
``panel.js`` decides nothing. Each message carries a turn, which the page answers in ``data-turn``; browser tests wait
for it. Every focused element carries ``data-lm-suppress-shortcuts``, because JupyterLab looks at the target first.
"""
