"""The command starts fast: whoever asks for help loads nothing that is heavy."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

HEAVY = {
    *(
        "numpy",
        "pandas",
        "scipy",
        "matplotlib",
        "pint",
        "nbformat",
        "nbconvert",
        "nbgrader",
        "IPython",
        "jupyter_client",
    ),
    *("sqlalchemy", "jinja2", "openpyxl", "fluids", "psutil", "jupytext", "cryptography"),
}
ASK = """
import json, sys
from legtoleg.cli.command import main
try:
    main()
except SystemExit:
    pass
print("\\n" + json.dumps(sorted({name.partition(".")[0] for name in sys.modules})))
"""


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["mark", "--help"], ["refresher", "--help"]])
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    done = subprocess.run([sys.executable, "-c", ASK, *words], capture_output=True, text=True, check=True)
    loaded = set(json.loads(done.stdout.splitlines()[-1]))
    assert {"typer", "legtoleg"} <= loaded
    assert loaded & HEAVY == set()
