"""What a wheel holds beside the two packages: the built lessons, their text sources, the tables.

An editable install has none of it: there the command reads the checkout.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

COURSE = "legtoleg/course"
LEFT_OUT = ("__pycache__", ".ipynb_checkpoints", "progress.json", "signed_off.json", "kept_work", "hand_in")


class CourseFiles(BuildHookInterface):  # type: ignore[type-arg, misc, unused-ignore]
    """Puts the course's files into a wheel, where ``legtoleg.core.paths`` and ``dryerbench.core.tables`` find them."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Name each file of ``lessons`` (but ``dryerbench``), ``solutions`` and ``datasets``, and its place."""
        if version == "editable":
            return
        root = Path(self.root)
        for name, target in (
            ("lessons", f"{COURSE}/lessons"),
            ("solutions", f"{COURSE}/solutions"),
            ("datasets", "dryerbench/datasets"),
        ):
            for path in sorted((root / name).rglob("*")):
                inside = path.relative_to(root / name)
                if path.is_file() and inside.parts[0] != "dryerbench" and not set(inside.parts) & {*LEFT_OUT}:
                    build_data["force_include"][str(path)] = f"{target}/{inside.as_posix()}"
