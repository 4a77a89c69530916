"""The nine steps: in the job's order, with their cautions; each is said to be passed or missed, once."""

from __future__ import annotations

import pytest

from legtoleg.witness.job_steps import StepsError, job_steps, read_steps

NAMES = [one.name for one in job_steps()]


def test_the_nine_steps_of_the_job() -> None:
    order = ["make-dead", "open-up", "measure", "path-to-case", "beeper", "thermostats", "replace", "close-up"]
    assert [*order, "power-up"] == NAMES
    assert [one.number for one in job_steps()] == list(range(1, 10))
    for one in job_steps():
        assert len(one.points) >= 2
        assert bool(one.caution) == one.safety, "a safety step has its caution"
    live = job_steps()[-1].caution + job_steps()[0].caution
    for words in ("qualified person", "CAT III", "rated gloves", "one hand", "eye protection", "never alone"):
        assert words in live


@pytest.mark.parametrize(
    ("passed", "missed", "bad"),
    [
        ("1-9", "", []),
        ("all", "none", []),
        ("1-3, 5 - 9", "4", [4]),
        ("", "1–9", list(range(1, 10))),
        ("9,8,7,6,5,4,3", "1,2", [1, 2]),
    ],
)
def test_what_is_said_is_read(passed: str, missed: str, bad: list[int]) -> None:
    assert read_steps(passed, missed) == {name: number not in bad for number, name in enumerate(NAMES, 1)}


@pytest.mark.parametrize(
    ("passed", "missed", "says"),
    [
        ("1-8", "", "Of step 9 nothing is said"),
        ("", "", "Of steps 1, 2, 3, 4, 5, 6, 7, 8, 9 nothing is said"),
        ("1-9", "4,5", "Steps 4, 5: both passed and missed"),
        ("1-10", "", "'1-10' is not a step"),
        ("0-9", "", "is not a step"),
        ("9-1", "", "'9-1' is not a step"),
        ("one", "", "'one' is not a step: write --passed"),
        ("1-9", "x", "write --missed"),
    ],
)
def test_what_cannot_be_is_told(passed: str, missed: str, says: str) -> None:
    with pytest.raises(StepsError, match=says):
        read_steps(passed, missed)
