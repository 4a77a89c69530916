"""What became of the files taken in: plain ones together, odd ones each, what needs a person last."""

from __future__ import annotations

from legtoleg.collecting.collecting import Taken
from legtoleg.collecting.collecting_report import told

ZIP = "inbox/kit.zip: leg-to-leg/lessons/{0}/{0}.ipynb"
ONE, TWO = "01_made_dead", "02_two_legs"


def counts(name: str, lesson: str, note: str = "") -> Taken:
    return Taken(name, "counts", f"is ada-01, {lesson}{note}.", "ada-01", lesson, note)


def test_plain_files_of_a_parcel_are_one_line() -> None:
    start = Taken(ZIP.format("00_start"), "untouched", "is the start page, which asks nothing: nothing to hand in.")
    as_given = [Taken(ZIP.format(n), "untouched", "W", "", n) for n in ("03_heater_power", "06_heat_switches")]
    lines = told([start, counts(ZIP.format(ONE), ONE), *as_given, counts(ZIP.format(TWO), TWO)])
    assert lines == [
        "· inbox/kit.zip: ada-01, 2 lessons: 01_made_dead, 02_two_legs",
        "· inbox/kit.zip: nothing to hand in, as they were given out: 03_heater_power, 06_heat_switches",
    ]


def test_renamed_files_and_those_put_right_stand_alone() -> None:
    renamed, right = counts("inbox/my work.ipynb", ONE), counts(ZIP.format(TWO), TWO, " (was UTF-16; fixed)")
    assert told([renamed, right, counts(f"inbox/{ONE}.ipynb", ONE)]) == [
        "· inbox/my work.ipynb is ada-01, 01_made_dead.",
        f"· {ZIP.format(TWO)} is ada-01, 02_two_legs (was UTF-16; fixed).",
        "· inbox/01_made_dead.ipynb is ada-01, 01_made_dead.",
    ]


def test_what_needs_a_person_comes_last() -> None:
    lines = told([Taken("a.pdf", "refused", "was not opened: it is no notebook."), counts(f"{ONE}.ipynb", ONE)])
    assert lines == ["· 01_made_dead.ipynb is ada-01, 01_made_dead.", "! a.pdf was not opened: it is no notebook."]


def test_older_and_known_hand_ins_are_told_apart() -> None:
    taken = [Taken(ZIP.format(n), state, "W", "ada-01", n) for state in ("kept", "known") for n in (ONE, TWO)]
    assert told(taken) == [
        "· inbox/kit.zip: ada-01, older than what counts, kept: 2 lessons: 01_made_dead, 02_two_legs",
        "· inbox/kit.zip: ada-01, taken in before: 2 lessons: 01_made_dead, 02_two_legs",
    ]
