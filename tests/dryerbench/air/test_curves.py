"""Roots and smooth curves against what is known of them, and that a lesson's start does not load SciPy for them."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest

from dryerbench.air.curves import root, smooth_curve


def test_a_root_is_found_to_its_tolerance() -> None:
    assert root(lambda x: x * x - 2.0, 0.0, 2.0, 1e-12) == pytest.approx(math.sqrt(2.0), abs=1e-11)
    with pytest.raises(ValueError, match="sign"):
        root(lambda x: x * x + 1.0, 0.0, 1.0, 1e-9)


def test_a_curve_goes_through_its_points_and_never_over_them() -> None:
    x, y = [0.0, 1.0, 2.0, 3.0], [5.0, 5.0, 1.0, 0.0]
    curve = smooth_curve(x, y)
    assert [float(curve(at)) for at in x] == pytest.approx(y)
    between = [float(curve(n / 100)) for n in range(301)]
    assert between == sorted(between, reverse=True)
    assert max(between) == 5.0


def test_a_lessons_first_cell_loads_no_root_finder() -> None:
    asked = "[name for name in ('scipy.optimize', 'fluids') if name in sys.modules]"
    code = f"from dryerbench import *\nimport sys\nprint({asked})"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
