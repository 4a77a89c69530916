"""Names in names: whole words, no accents, no lesson's number, no browser's suffix."""

from __future__ import annotations

import unicodedata

import pytest

from legtoleg.intake.name_matching import named_in, without_additions
from legtoleg.intake.roster import Person

LESSONS = ["01_made_dead", "03_heater_power", "10_call_to_close"]
PEOPLE = [
    Person("1", "Ann Lee"),
    Person("2", "Joann Leeds"),
    Person("10", "Bo Demo"),
    Person("ada-01", "Ada Demo"),
    Person("ada-011", "Ida Demo"),
    Person("12345", "José Núñez"),
    Person("778", "Zoë van der Demo"),
    Person("9", "Ann Lee Demo"),
    Person("s.o_n-5", "Øyvind Łem"),
]


@pytest.mark.parametrize(
    ("path", "who"),
    [
        ("03_heater_power (1).ipynb", set()),
        ("03_heater_power (2) - Copy.ipynb", set()),
        ("10_call_to_close.ipynb", set()),
        ("10 call to close copy 2.ipynb", set()),
        ("lesson 10.ipynb", set()),
        ("10.ipynb", set()),
        ("03_heater_power/03_heater_power.ipynb", set()),
        ("2/03_heater_power (1).ipynb", {"2"}),
        ("2.ipynb", {"2"}),
        ("Joann Leeds - heater.ipynb", {"2"}),
        ("joannleeds.ipynb", {"2"}),
        ("Ann Lee.ipynb", {"1"}),
        ("lee_ann_03_heater_power.ipynb", {"1"}),
        ("ann lee demo.ipynb", {"9"}),
        ("ada-01.ipynb", {"ada-01"}),
        ("ADA-011 late.ipynb", {"ada-011"}),
        ("Copy of ada-01 (3).ipynb", {"ada-01"}),
        ("jose nunez.ipynb", {"12345"}),
        ("JOSÉ NÚÑEZ.ipynb", {"12345"}),
        (unicodedata.normalize("NFD", "Núñez, José.ipynb"), {"12345"}),
        ("nunez_jose_12345_998877_03_heater_power.ipynb", {"12345"}),
        ("x_12345_998877_03_heater_power-1.ipynb", {"12345"}),
        ("van der demo zoe_lesson3.ipynb", {"778"}),
        ("demo_zoe_van_der.ipynb", {"778"}),
        ("oyvind lem.ipynb", {"s.o_n-5"}),
        ("s.o_n-5.ipynb.txt", {"s.o_n-5"}),
        ("ada-01 and jose nunez.ipynb", {"ada-01", "12345"}),
        ("annlees.ipynb", set()),
        ("123456.ipynb", set()),
        ("Fwd: class.zip: Bo Demo/kit.zip: 10_call_to_close.ipynb", {"10"}),
    ],
)
def test_who_is_named(path: str, who: set[str]) -> None:
    assert named_in(path, PEOPLE, LESSONS) == who


@pytest.mark.parametrize(
    "name",
    ["a.ipynb", "a (1).ipynb", "a - Copy.ipynb", "a - Copy (2).ipynb", "a copy 2.ipynb", "a-Copy1.ipynb",
     "a.ipynb.txt", "Copy of a.ipynb", "a (1) (2).ipynb", "a-checkpoint.ipynb", "Re: Fwd: a.zip", "a_copy.json"],
)  # fmt: skip
def test_what_a_browser_added_is_taken_off(name: str) -> None:
    assert without_additions(name) == "a"
