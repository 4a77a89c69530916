"""The engine for computers without the jail's namespaces: a Jupyter kernel for each notebook, one at a time."""

from __future__ import annotations

import logging
import threading

from nbformat.v4 import new_code_cell, new_notebook

from legtoleg.core.notebook_format import KERNEL
from legtoleg.core.try_ledger import TRY
from legtoleg.sandbox.engine import Job, Limits, Run
from legtoleg.sandbox.output_sanitizer import checked_outputs
from legtoleg.sandbox.run_notebook import RUN, RunNotebook


class KernelEngine:
    """Runs notebooks in kernels: jailed where bubblewrap is, with the marker's own rights where it is not."""

    def __init__(self, limits: Limits | None = None) -> None:
        self.limits = limits or Limits()
        self._one_at_a_time = threading.Lock()

    def run(self, job: Job) -> Run:
        """Run ``job`` in a kernel of its own."""
        notebook = new_notebook(cells=[new_code_cell(source) for source in job.cells])
        notebook.metadata["kernelspec"] = dict(KERNEL)
        runner = RunNotebook(timeout=self.limits.cell_seconds, notebook_seconds=self.limits.notebook_seconds)
        runner.log.setLevel(logging.ERROR)
        about = {"student": job.apprentice, "assignment": job.lesson, "notebook": job.lesson}
        resources = {"nbgrader": about, TRY: job.try_number}
        with self._one_at_a_time:
            notebook, after = runner.preprocess(notebook, dict(resources))
        outputs = {number: checked_outputs(cell.outputs) for number, cell in enumerate(notebook.cells)}
        return Run(outputs, str(after.get(RUN, "")))

    def close(self) -> None:
        """Leave nothing behind: every kernel ended with its notebook."""
