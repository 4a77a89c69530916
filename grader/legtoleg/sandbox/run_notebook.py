"""The step of nbgrader's autograde that runs the notebook, apart from the marker."""

from __future__ import annotations

import time

from jupyter_client.manager import AsyncKernelManager
from nbclient.exceptions import DeadKernelError
from nbformat.notebooknode import NotebookNode
from nbgrader.preprocessors import Execute
from traitlets import Integer

from legtoleg.core.notebook_format import ISOLATED, Resources
from legtoleg.core.try_ledger import try_in
from legtoleg.sandbox import jail
from legtoleg.sandbox.jupyter_kernels import JailedKernelManager, environment, marking_environment

RUN = "leg_to_leg_run"
"""Where in nbconvert's resources it stands how the run ended, if it ended early."""


class NotebookTimeError(Exception):
    """The whole notebook ran longer than it may."""


class RunNotebook(Execute):  # type: ignore[misc]
    """nbgrader's Execute in a jail; a dead kernel or a slow notebook keeps the answers given before."""

    timeout = Integer(60, allow_none=True, help="Seconds that one cell may take.").tag(config=True)
    notebook_seconds = Integer(180, help="Seconds that the whole notebook may take.").tag(config=True)

    def __init__(self, *args: object, **kwargs: object) -> None:
        manager = JailedKernelManager if jail.available() else AsyncKernelManager
        kwargs.setdefault("kernel_manager_class", manager)
        super().__init__(*args, **kwargs)

    def preprocess(
        self, nb: NotebookNode, resources: Resources, km: AsyncKernelManager | None = None
    ) -> tuple[NotebookNode, Resources]:
        """Run all cells for the student in ``resources``; how it ended early, if so, is left in ``resources``."""
        if not jail.available():
            self.log.warning("No bubblewrap here: the notebook runs unprotected, with your rights and your network.")
        resources[ISOLATED] = jail.available()
        self._ends = time.monotonic() + self.notebook_seconds
        self._cell_seconds = self.timeout
        student = resources["nbgrader"]["student"]
        try:
            with environment(marking_environment(student, try_in(resources))):
                super().preprocess(nb, resources, km)
        except (DeadKernelError, NotebookTimeError, RuntimeError, TimeoutError) as error:
            self.log.warning("%s's notebook did not run to its end: %s", student, error)
            resources[RUN] = str(error) or type(error).__name__
        return nb, resources

    async def async_execute_cell(self, cell: NotebookNode, *args: object, **kwargs: object) -> NotebookNode:
        """Run one cell in what is left of the notebook's time."""
        left = self._ends - time.monotonic()
        if left <= 0:
            raise NotebookTimeError(f"it took longer than {self.notebook_seconds} s")
        self.timeout = max(1, min(self._cell_seconds or self.notebook_seconds, int(left)))
        return await super().async_execute_cell(cell, *args, **kwargs)
