"""The page on which a supervised test is taken: the same for every seat, since nothing of a test is in it."""

from __future__ import annotations

import nbformat
from nbformat.notebooknode import NotebookNode
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

from dryerbench.core.version import FIELD, course_version
from legtoleg.core.notebook_format import KERNEL, MARK_KEY

SUPERVISED = "supervised_test.ipynb"
_ABOUT = """# Supervised test

Your instructor opens a test. Then run the cell below: click into it and press **Shift + Enter**. The dryers are on
the class's computer, not in this page. The page shows what you would see, hear and read next to a dryer. Every act is
recorded as you do it. If this page or the class stops, run the cell again: you continue where you were.

Each step takes time, as it does on a dryer. You have one try. You find out if something was right or unsafe
when the test is graded."""
_CAUTION = """> **⚠ Caution. House voltage kills.**
> Everything on this page is a drawing. On a real dryer: plug out and in sight, or breaker open, locked and tagged.
> Check the meter, test dead, check the meter again. Only then the cover. Live readings are a qualified person's work.
> Rated gloves, one hand, meter and test leads of the right category, never alone. Local codes, the manufacturer's
> instructions and a licensed electrician come first."""


def supervised_page() -> bytes:
    """Return the page as a notebook's bytes."""
    cells = [
        new_markdown_cell(_ABOUT, id="about"),
        new_markdown_cell(_CAUTION, id="caution"),
        new_code_cell("from dryerbench import *\n\nsupervised_test()", id="test"),
    ]
    made = new_notebook(cells=cells)
    made.metadata = NotebookNode(kernelspec=NotebookNode(KERNEL), language_info=NotebookNode(name="python"))
    made.metadata[MARK_KEY] = {FIELD: course_version()}
    nbformat.validate(made)
    return (str(nbformat.writes(made)) + "\n").encode("utf-8")
