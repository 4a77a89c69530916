"""The notebook: what an apprentice meets there: hand-in, practice, bench panel, progress.

``hand_in`` reads a value and displays a record (``application/vnd.leg-to-leg.answer+json``); right or wrong is not
said. A bench is shown by ``machine_panel``, which puts a desk on a page: ``machine_desk`` does what is pressed,
``machine_scene`` draws machine and meter, ``machine_offers`` lists every act, ``machine_names`` is the one way out
and in for names: on the lessons' own dryer (``named``) terminals and wires have theirs, on every other machine the
page has places alone (``box-1-2-1``) and sends them back; ``tool_places`` is the same for clamp and temperature
probe. Trails keep the bench's names. Where one looks, where the tips are, hold, off, clamp and temp on the dial are
the page's own and no acts; a press that puts clamp or probe is the list's act. Places follow from the machine
(``bench.placement``). In a supervised test the machine is elsewhere: the class keeps a desk of its own, and
``far_desk`` sends it each press with where this page looks; what comes back is what the panel shows. The scripts
decide nothing (``panel_targets``: what is pressed; ``panel_zoom``: two fingers; ``panel_motion``: what slides). Each
message carries a turn, which the page answers in ``data-turn``; browser tests wait for it. Every focused element
carries ``data-lm-suppress-shortcuts``, because JupyterLab looks at the target first.

A ``practice_stand`` shows the practice dryers of one series in one place: *Another dryer* deals the next number. A pad
(``call_widget``, ``machine_call_widget``, ``practice_bench_widget``) gives the words and the buttons of one dryer, and
``machine_hints`` says by places what ``diagnosis.machine_search`` finds on a dryer without names.

Nothing is lost: ``kept_bench`` writes each act into the ``work_log`` (``kept_work/<lesson>.jsonl``) and does them
again on opening; ``answer_entry`` keeps what was typed in an ``answer_box`` there, with a mark of what the code cell
said then. A box counts as long as its code cell says the same; the record says both (``by``, ``over``), so the marker
judges alike without the log. Only a live page writes: where one is only run (``LEGTOLEG_FIGURES`` is not ``live``),
and in answer cells, a bench is a fresh one. ``class_bar`` hands a page in as it was saved, completed by
``ready_page`` with every answer as it stands, because a page that was loaded anew while its kernel ran on does not
show later outputs.
"""
