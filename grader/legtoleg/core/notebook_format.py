"""What every notebook of the course holds beside its cells: its kernel, and the mark of whose it is."""

from __future__ import annotations

KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
"""The kernel that a lesson asks for."""

MARK_KEY = "leg_to_leg"
"""Where in a notebook's metadata it stands whose it is and which lesson."""
