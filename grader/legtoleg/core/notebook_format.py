"""What every notebook of the course holds beside its cells: its kernel, and the mark of whose it is."""

from __future__ import annotations

from typing import Any, TypeAlias

Resources: TypeAlias = dict[str, Any]
"""What nbconvert hands from step to step; nbgrader and each step keep in it what they like."""

KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
"""The kernel that a lesson asks for."""

MARK_KEY = "leg_to_leg"
"""Where in a notebook's metadata it stands whose it is and which lesson."""

ISOLATED = "leg_to_leg_isolated"
"""Where in nbconvert's resources, and in a marked notebook's metadata, it stands whether the notebook was shut in."""
