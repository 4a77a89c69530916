"""The meter's face: every mode, both forms, what segments can show, and the size of what a finger presses."""

import re
from itertools import combinations
from math import hypot, pi, sin

import pytest

from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.meter_face import (
    BETWEEN,
    BUTTONS,
    MODES,
    UPRIGHT,
    WIDE,
    Face,
    Form,
    MeterFaceError,
    bar_box,
    digits_box,
    meter_face,
    meter_svg,
    reach_of,
)
from dryerbench.machine_view.segments import read_digits

from .looks import check_drawing, tree

FORMS = {"upright": UPRIGHT, "wide": WIDE}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("pressed", [(), ("hold",), ("hold", "relative")])
def test_nothing_overlaps_in_any_mode(form: str, mode: str, pressed: tuple[str, ...]) -> None:
    face = Face(mode, "241.3", "V", "range 600 V", bar=0.4, pressed=frozenset(pressed), sounding=mode == "beep")
    drawing = meter_face(face, FORMS[form])
    check_drawing(drawing, apart=False)
    on = [
        node.get("data-mode")
        for node in tree(drawing.svg()).iter()
        if node.get("data-mode") and node.get("aria-pressed") == "true"
    ]
    assert on == [mode]


@pytest.mark.parametrize(("form", "scale"), [(UPRIGHT, 300 / 360), (WIDE, 390 / 404)])
def test_cells_of_the_dial_and_buttons_are_44_pixels_where_they_are_shown_smallest(form: Form, scale: float) -> None:
    assert 2 * form.dial[3] * scale >= 44
    assert all(min(box.w, box.h) * scale >= 42.9 for box in form.buttons)
    cells = [t for t in meter_face(Face(), form).targets if t.kind == "mode"]
    assert len(cells) == len(MODES)
    for one, other in combinations(cells, 2):
        assert ((one.x - other.x) ** 2 + (one.y - other.y) ** 2) ** 0.5 * scale >= 44


def test_on_a_phone_in_a_notebook_a_finger_has_44_pixels_for_each_position_of_the_dial_and_each_button() -> None:
    """Success criterion 2.5.5 (enhanced) of the Web Content Accessibility Guidelines 2.2; 2.5.8 asks for 24."""
    scale = 289 / 404  # the bench on a phone 390 px wide, inside of JupyterLab
    _, outer = reach_of(WIDE)
    half = sin(pi / len(MODES))
    assert 2 * outer * half / (1 + half) * scale >= 44, "the circle in a position's share of the dial"
    assert all(min(box.w, box.h) + BETWEEN >= 44 / scale - 2 for box in WIDE.buttons)
    assert {t.name for t in meter_face(Face(), WIDE).targets} == {*MODES, *BUTTONS}


@pytest.mark.parametrize("form", [UPRIGHT, WIDE])
def test_what_takes_a_press_lies_on_no_other(form: Form) -> None:
    x, y, *_ = form.dial
    _, outer = reach_of(form)
    reaches = [box.grown(BETWEEN / 2) for box in form.buttons]
    for box in reaches:
        nearest = (min(max(x, box.x), box.right), min(max(y, box.y), box.bottom))
        assert hypot(nearest[0] - x, nearest[1] - y) >= outer, box
    for one, other in combinations(reaches, 2):
        assert not one.grown(-0.1).overlaps(other.grown(-0.1))


@pytest.mark.parametrize("form", [UPRIGHT, WIDE])
@pytest.mark.parametrize("mode", [mode for mode in MODES if mode != "off"])
@pytest.mark.parametrize("note", ["", "range 600 V", "range 60 MΩ"])
def test_no_word_lies_on_the_digits_or_on_the_bar(form: Form, mode: str, note: str) -> None:
    face = Face(mode, "241.3", "V", note, bar=1.0, pressed=frozenset(("hold", "relative")), sounding=mode == "beep")
    bar, digits = bar_box(face, form), digits_box(form)
    drawn = (digits, Box(bar.x, bar.y - 8, bar.w + 8, bar.h + 8))  # with its ticks and its arrow
    assert bar.w > 20
    assert not digits.overlaps(drawn[1])
    for word in meter_face(face, form).words:
        for box in drawn:
            assert not word.box.overlaps(box), (word.words, box)


@pytest.mark.parametrize("form", [UPRIGHT, WIDE])
def test_the_dial_lies_on_no_button_and_not_on_the_display(form: Form) -> None:
    x, y, ring, cell, _ = form.dial
    for box in (form.display.grown(8), *form.buttons):
        nearest = (min(max(x, box.x), box.right), min(max(y, box.y), box.bottom))
        assert hypot(nearest[0] - x, nearest[1] - y) >= ring + cell + 6, box


def test_segments_light_as_figures_do() -> None:
    lit = [
        len(re.findall(r"<path", read_digits(c, 200, 0, 50))) - read_digits(c, 200, 0, 50).count("fill-opacity")
        for c in "0123456789"
    ]
    assert lit == [6, 2, 5, 5, 4, 5, 6, 3, 7, 6]
    assert read_digits("26.7", 200, 0, 50) != read_digits("267", 200, 0, 50)


@pytest.mark.parametrize(("shown", "trouble"), [("2x", "cannot show '2x'"), ("Ω", "cannot show")])
def test_what_segments_cannot_show_is_refused(shown: str, trouble: str) -> None:
    with pytest.raises(MeterFaceError, match=trouble):
        meter_face(Face("ohms", shown, "Ω"))


def test_modes_and_buttons_that_are_none_are_refused() -> None:
    with pytest.raises(MeterFaceError, match="The dial has no 'watts'; it has off, volts"):
        meter_face(Face("watts"))
    with pytest.raises(MeterFaceError, match="no button 'boost'; it has range, hold, relative"):
        meter_face(Face("ohms", pressed=frozenset({"boost"})))


def test_the_face_is_told_in_words_and_off_tells_nothing() -> None:
    face = Face("ohms", "OL", "MΩ", "over 60 MΩ: open", bar=1.0, pressed=frozenset({"hold"}))
    assert meter_face(face).told == "Dial on ohms. Display: OL MΩ. over 60 MΩ: open, hold"
    assert meter_face(Face()).told == "The meter is off."
    assert "fuse open" in meter_face(Face("ohms", fuse_open=True)).told
    assert "the beeper sounds" in meter_face(Face("beep", "0.2", "Ω", sounding=True)).told


def test_a_beep_is_a_sign_as_well_and_leads_give_way_to_clamp_and_probe() -> None:
    silent, loud = (meter_svg(Face("beep", "0.2", "Ω", sounding=on)) for on in (False, True))
    assert loud.count("<path") > silent.count("<path")
    leads = {mode: meter_svg(Face(mode, "1.0", "")).count("V520") for mode in ("ohms", "clamp", "temp")}
    assert leads["ohms"] == 4  # two leads, casing and body
    assert leads["clamp"] == leads["temp"] == 2


def test_buttons_are_there_by_name() -> None:
    presses = [t.name for t in meter_face(Face()).targets if t.kind == "press"]
    assert tuple(presses) == BUTTONS
