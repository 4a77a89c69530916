"""The machine in front of a person, drawn by code from its arrangement: SVG text, nothing placed by hand per machine.

``whole_machine`` draws one side of it with its covers on or laid aside; ``close_up`` what stands at one place, with
every terminal that a probe can reach; ``meter_face`` the meter; ``wiring_sheet`` its diagram. All take plain data: the
machine (``family.own_machine``) and a ``Scene`` (what has been done and seen). Colors are names (``$ink``) until
``palette.dress`` turns them into a theme. A drawing is handed out with its boxes, words and targets (``Drawing``), so
that the tests can hold them apart. Ids of spots say the place alone; ``spots.spots_of`` tells which point each one is,
and stays on the side of whoever keeps the machine.
"""
