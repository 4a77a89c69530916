"""The machine in front of a person, drawn by code from its arrangement: SVG text, nothing placed by hand per machine.

``whole_machine`` draws one side of it with its covers on or laid aside; ``close_up`` what stands at one place, with
every terminal that a probe can reach; ``meter_face`` the meter; ``wiring_sheet`` its diagram. All take plain data: the
machine (``family.own_machine``) and a ``Scene`` (what has been done and seen).
``locator`` is the small silhouette that says where a close-up is. Colors are names (``$ink``) until
``palette.dress`` turns them into a theme. A drawing is handed out with its boxes, words and targets (``Drawing``), so
that the tests can hold them apart. Ids of spots say the place alone; ``spots.spots_of`` tells which point each one is,
and stays on the side of whoever keeps the machine.

For a page: ``Drawing.for_page`` leaves the colors to CSS variables (``palette.variables`` has both themes); what can
be pressed has ``data-place`` (a close-up, ``cover-3``, breaker, plug, dial, tray), where a tip can go ``data-point``,
a wire that the clamp goes around ``data-jaw``, what the temperature probe touches ``data-warm`` (``Scene.hand`` says
which of the three tools is in hand, so that a finger finds its own), the meter ``data-mode`` and ``data-press``; all
are buttons with a name, a tab stop and ``aria-pressed``. A press takes the nearest within 30 px. What a page may let
slide to its next place has ``data-move`` and ``data-at``. A new arrangement needs no line here unless its file has a
place to stand or a word for a cover that no other has; the tests go through the shelf. ``LEGTOLEG_PICTURES=folder
pytest -m pictures`` draws everything.
"""
