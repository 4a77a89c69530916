"""The style of figures: one palette that color-blind eyes tell apart, one frame, and no color written elsewhere."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import pytest
from matplotlib.colors import to_hex, to_rgb
from matplotlib.figure import Figure

import dryerbench
from dryerbench.drawing import figure_style
from dryerbench.drawing.figure_style import AMBER, BLACK, BLUE, GRAY, GREEN, GRID, RED, label_box, tidy

ROOM = Path(dryerbench.__file__).parent


def luminance(color: str) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2)."""
    parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in to_rgb(color)]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(
    ("color", "least"), [(BLACK, 7.0), (GRAY, 4.5), (AMBER, 4.5), (BLUE, 4.5), (RED, 3.0), (GREEN, 3.0)]
)
def test_lines_and_words_stand_out_on_white(color: str, least: float) -> None:
    """WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for what is drawn (1.4.11)."""
    assert contrast(color, "#FFFFFF") >= least


def in_the_dark(color: str) -> str:
    """Return what a page in a dark theme makes of ``color``: inverted, its hue turned half round.

    The turn's matrix is that of ``hue-rotate`` in the W3C's Filter Effects Module Level 1 (from memory).
    """
    weights = (0.213, 0.715, 0.072)
    inverted = [1.0 - part for part in to_rgb(color)]
    gray = sum(weight * part for weight, part in zip(weights, inverted, strict=True))
    return to_hex([min(max(2.0 * gray - part, 0.0), 1.0) for part in inverted])


@pytest.mark.parametrize(
    ("color", "least"), [(BLACK, 7.0), (GRAY, 4.5), (AMBER, 4.5), (BLUE, 4.5), (RED, 3.0), (GREEN, 3.0)]
)
def test_lines_and_words_stand_out_in_a_dark_theme(color: str, least: float) -> None:
    script = (ROOM / "drawing" / "figure_view.js").read_text(encoding="utf-8")
    assert "filter: invert(1) hue-rotate(180deg); mix-blend-mode: screen;" in script
    assert contrast(in_the_dark(color), "#111111") >= least  # JupyterLab's own dark ground


def test_lines_are_apart_for_eyes_without_red_or_green() -> None:
    """Seen through Viénot, Brettel and Mollon's reduction (1999, matrices from memory): no two lines come close."""
    no_red = ((0.11238, 0.88762, 0.0), (0.11238, 0.88762, 0.0), (0.00401, -0.00401, 1.0))
    no_green = ((0.29275, 0.70725, 0.0), (0.29275, 0.70725, 0.0), (-0.02234, 0.02234, 1.0))
    for eye in (no_red, no_green):
        seen = [
            [sum(m * c for m, c in zip(row, to_rgb(one), strict=True)) for row in eye]
            for one in (BLUE, RED, GREEN, BLACK)
        ]
        assert all(
            sum(abs(a - b) for a, b in zip(one, other, strict=True)) > 0.3 for one, other in combinations(seen, 2)
        )


@pytest.mark.parametrize(("grid", "drawn"), [("both", (True, True)), ("y", (False, True)), (None, (False, False))])
def test_tidy_axes(grid, drawn: tuple[bool, bool]) -> None:
    axes = Figure().subplots()
    axes.plot([0, 1], [0, 1])
    tidy(axes, "time (min)", "current (A)", grid)
    assert (axes.get_xlabel(), axes.get_ylabel()) == ("time (min)", "current (A)")
    lines = (axes.get_xgridlines(), axes.get_ygridlines())
    assert tuple(all(line.get_visible() for line in way) for way in lines) == drawn
    assert all(
        to_hex(line.get_color()).upper() == GRID for way, on in zip(lines, drawn, strict=True) if on for line in way
    )
    assert [side for side, spine in axes.spines.items() if spine.get_visible()] == ["left", "bottom"]


def test_tidy_leaves_a_label_that_is_there() -> None:
    axes = Figure().subplots()
    axes.set_xlabel("time (min)")
    tidy(axes)
    assert axes.get_xlabel() == "time (min)"


def test_a_box_is_white_with_its_edge() -> None:
    assert label_box(RED) == {"boxstyle": "round,pad=0.25", "fc": "white", "ec": RED}


def test_no_other_module_writes_a_color_of_the_palette() -> None:
    ours = {
        value.upper() for name, value in vars(figure_style).items() if name.isupper() and str(value).startswith("#")
    }
    assert len(ours) > 10
    for path in ROOM.rglob("*.py"):
        if path.name not in ("figure_style.py", "palette.py"):  # the machine view has its own two, light and dark
            found = {one.upper() for one in re.findall(r"#[0-9a-fA-F]{6}\b", path.read_text(encoding="utf-8"))}
            assert not found & ours, path


def test_no_other_module_tidies_axes() -> None:
    wanted = re.compile(r"\.grid\(|spines\[\[")
    assert [path.name for path in ROOM.rglob("*.py") if wanted.search(path.read_text(encoding="utf-8"))] == [
        "figure_style.py"
    ]
