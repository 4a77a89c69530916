"""Plates: nothing overlaps or leaves the page, words can be read on a phone, and all that is written is also told."""

import re
from collections.abc import Callable
from itertools import combinations

import pytest

import dryerbench
from dryerbench.machine_view.drawing import Drawing
from dryerbench.machine_view.geometry import Box
from dryerbench.machine_view.palette import DARK, LIGHT
from dryerbench.machine_view.plates.heater_plates import heater_boxes
from dryerbench.machine_view.plates.plate import Plate, bad_sign, good_sign
from dryerbench.machine_view.plates.wall_plates import receptacle_faces

from .looks import PLATES, SVG, check_drawing, tree

PHONE = 350.0
"""The column of a plain page on a phone that is 390 px wide, in px; in a notebook it is narrower and moves sideways."""
READABLE = 10.0
"""The least height of words there, in px."""
BY_NAME = pytest.mark.parametrize("make", PLATES, ids=lambda make: make.__name__)


def crossed(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the words that lie across the edge of a part, with the part."""
    return [
        (word.words, name)
        for word in drawing.words
        for name, box in drawing.parts.items()
        if box.overlaps(word.box) and not box.holds(word.box)
    ]


def untold(plate: Plate) -> set[str]:
    """Return what is written on a plate and said neither in its title nor in its sentences."""
    said = set(re.findall(r"\w+", f"{plate.title} {plate.told}".lower()))
    return {one for word in plate.words for one in re.findall(r"\w+", word.words.lower())} - said


@BY_NAME
def test_nothing_overlaps_or_leaves_the_page(make: Callable[[], Plate]) -> None:
    plate = make()
    check_drawing(plate)
    assert not crossed(plate)
    assert plate.words
    assert len(plate.raw()) > 3000


@BY_NAME
def test_words_can_be_read_on_a_phone(make: Callable[[], Plate]) -> None:
    plate = make()
    sizes = [float(text.get("font-size")) for text in tree(plate.svg()).iter(f"{SVG}text")]
    assert min(sizes) * PHONE / plate.width >= READABLE


@BY_NAME
def test_what_is_written_is_also_told(make: Callable[[], Plate]) -> None:
    assert not untold(make())


@BY_NAME
def test_a_plate_is_one_picture_with_a_name_and_every_color_has_a_dark_one(make: Callable[[], Plate]) -> None:
    plate = make()
    root = tree(plate.svg())
    assert root.get("role") == "img"
    assert root.find(f"{SVG}desc").text == plate.told
    names = set(re.findall(r'="\$([a-z-]+)"', plate.raw()))
    assert names <= set(DARK)
    assert all(f"--mv-{name}: {DARK[name]}" in plate.dark for name in names)
    assert plate.svg(DARK) != plate.svg(LIGHT)


@BY_NAME
def test_every_plate_is_shown_by_a_name_of_its_own(make: Callable[[], Plate]) -> None:
    assert f"show_{make.__name__}" in dryerbench.__all__


def test_the_checks_see_words_on_an_edge_words_not_told_and_two_words_on_each_other() -> None:
    plate = Plate(200, "A part", "It has a name.")
    plate.part("part", Box(20, 20, 100, 100))
    plate.say(120, 60, "name")
    assert crossed(plate) == [("name", "part")]
    assert untold(plate) == set()
    plate.say(124, 62, "other")
    assert untold(plate) == {"other"}
    with pytest.raises(AssertionError):
        check_drawing(plate)


def test_good_and_bad_are_told_by_shape() -> None:
    assert "<circle" in good_sign(0, 0)
    assert "<circle" not in bad_sign(0, 0)
    assert "<rect" in bad_sign(0, 0)


def test_the_faces_differ_by_the_ground_slot_alone_in_number() -> None:
    words = [word.words for word in receptacle_faces().words]
    assert words.count("ground") == words.count("no ground") == 1
    assert words.count("neutral") == words.count("leg 1") == words.count("leg 2") == 2


def test_a_box_has_one_terminal_more_than_coils_and_a_shared_one_from_two_coils_on() -> None:
    words = [word.words for word in heater_boxes().words]
    assert words.count("T0, shared") == 2
    assert [words.count(f"T{n}") for n in (1, 2, 3)] == [3, 3, 1]


def test_every_pair_of_plates_has_titles_of_its_own() -> None:
    titles = [make().title for make in PLATES]
    assert all(one != other for one, other in combinations(titles, 2))
