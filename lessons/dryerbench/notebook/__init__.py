"""The notebook: what an apprentice meets there: hand-in, practice, bench panel, progress.

``hand_in`` reads a value and displays a record (``application/vnd.leg-to-leg.answer+json``); right or wrong is not
said. ``bench_view`` turns a bench into plain data without its faults; ``panel`` passes messages to ``Bench.do``;
``panel.js`` decides nothing. Each message carries a turn, which the page answers in ``data-turn``; browser tests wait
for it. Every focused element carries ``data-lm-suppress-shortcuts``, because JupyterLab looks at the target first.

Nothing is lost: ``kept_bench`` writes each act into the ``work_log`` (``kept_work/<lesson>.jsonl``) and does them
again on opening; ``answer_entry`` keeps what was typed in an ``answer_box`` there, with a mark of what the code cell
said then. A box counts as long as its code cell says the same; the record says both (``by``, ``over``), so the marker
judges alike without the log. Only a live page writes: where one is only run (``LEGTOLEG_FIGURES`` is not ``live``),
and in answer cells, a bench is a fresh one. ``class_bar`` hands a page in as it was saved, completed by
``ready_page`` with every answer as it stands, because a page that was loaded anew while its kernel ran on does not
show later outputs.
"""
