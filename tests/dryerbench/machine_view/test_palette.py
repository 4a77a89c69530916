"""The colors of the machine view: contrast by WCAG's formula in both themes, and what grey print keeps."""

from itertools import combinations

import pytest

from dryerbench.machine_view.palette import DARK, LIGHT, contrast, dress, dress_for_page, lightness, variables

THEMES = {"light": LIGHT, "dark": DARK}
WORDS = [
    ("ink", "paper"), ("ink", "white"), ("ink", "enamel"), ("on-straw", "straw"), ("on-ink", "ink"),
    ("on-slate", "slate"), ("on-live", "live"), ("digits", "display"),
]  # fmt: skip
SHAPES = [
    *(("ink", ground) for ground in ("zinc", "brass", "straw", "enamel", "white", "paper")),
    ("focus", "white"), ("focus", "paper"), ("focus", "enamel"), ("focus", "zinc"), ("live", "paper"), ("live", "zinc"),
    ("glow", "live"), ("glow", "slate"),
]  # fmt: skip


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("front", "back"), WORDS)
def test_words_stand_out_by_seven_or_at_least_four_and_a_half(theme: str, front: str, back: str) -> None:
    palette = THEMES[theme]
    assert contrast(palette[front], palette[back]) >= 4.5  # WCAG 2.2, 1.4.3


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("front", "back"), SHAPES)
def test_edges_and_signs_stand_out_by_three(theme: str, front: str, back: str) -> None:
    palette = THEMES[theme]
    floor = 2.0 if {front, back} == {"glow", "live"} else 3.0  # a line inside its own casing, on slate by 3
    assert contrast(palette[front], palette[back]) >= floor  # WCAG 2.2, 1.4.11


@pytest.mark.parametrize("theme", THEMES)
def test_the_four_tones_of_wires_differ_in_grey(theme: str) -> None:
    tones = [lightness(THEMES[theme][f"tone-{tone}"]) for tone in ("white", "brass", "slate", "black")]
    assert min(abs(a - b) for a, b in combinations(tones, 2)) > 8
    assert tones == sorted(tones, reverse=True)


def test_contrast_is_that_of_the_standard_at_its_ends_and_at_a_grey() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)  # the known lightest grey for words on white
    assert lightness("#FFFFFF") == pytest.approx(100.0)
    assert lightness("#777777") == pytest.approx(50.0, abs=0.6)


def test_themes_name_the_same_colors_and_a_name_that_is_none_is_refused() -> None:
    assert set(LIGHT) == set(DARK)
    assert dress('<a fill="$ink"/>', DARK) == f'<a fill="{DARK["ink"]}"/>'
    assert dress_for_page('<a fill="$ink"/>') == f'<a fill="var(--mv-ink, {LIGHT["ink"]})"/>'
    assert f"--mv-ink: {DARK['ink']};" in variables(DARK)
    with pytest.raises(KeyError):
        dress('<a fill="$pink"/>')
