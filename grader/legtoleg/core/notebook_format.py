"""What every notebook of the course holds beside its cells: its kernel, and the mark of whose it is."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, TypeAlias

Resources: TypeAlias = dict[str, Any]
"""What nbconvert hands from step to step; nbgrader and each step keep in it what they like."""

KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
"""The kernel that a lesson asks for."""

MARK_KEY = "leg_to_leg"
"""Where in a notebook's metadata it stands whose it is and which lesson."""

ISOLATED = "leg_to_leg_isolated"
"""Where in nbconvert's resources, and in a marked notebook's metadata, it stands whether the notebook was shut in."""


def clean_text(notebook: Mapping[str, Any]) -> str:
    """Return a clean notebook, as the rescue makes it, as the text of a file: letter for letter what nbformat writes.

    nbformat checks it against the schema and copies it as a whole first, which is most of the work.
    """
    cells = [{**cell, "source": cell["source"].splitlines(keepends=True)} for cell in notebook["cells"]]
    whole = {**notebook, "cells": cells}
    return json.dumps(whole, ensure_ascii=False, indent=1, sort_keys=True, separators=(",", ": "))
