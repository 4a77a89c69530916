"""A group of commands that tells trouble with a file in one line."""

from __future__ import annotations

from typing import Any

from typer.core import TyperGroup

from dryerbench.core.errors import LegToLegError
from legtoleg.core.file_trouble import plainly


class OneLineGroup(TyperGroup):
    """A group of commands in which trouble with a file is one line."""

    def invoke(self, ctx: Any) -> Any:
        """Run the command.

        Raises
        ------
        FileTroubleError
            If the system refuses a file.
        """
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            raise
        except OSError as error:
            if isinstance(error, LegToLegError):
                raise
            raise plainly(error) from None
