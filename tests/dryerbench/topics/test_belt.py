"""The belt: straight pieces touch their wheels, the idler makes the belt bend further, the grip is the textbook's."""

from __future__ import annotations

import math

import pytest

from dryerbench.core.errors import OutOfRangeError
from dryerbench.topics.open_and_close import belt


@pytest.mark.parametrize("travel", [0.0, 1.0, 2.5, 4.0])
def test_each_straight_piece_touches_both_its_wheels(travel: float) -> None:
    wheel = belt.idler(travel)
    ends = [(belt.DRUM, belt.PULLEY), (belt.PULLEY, wheel), (wheel, belt.DRUM)]
    for piece, (one, other) in zip(belt.strands(travel), ends, strict=True):
        along = (math.cos(piece.radians), math.sin(piece.radians))
        for wheel_here, point in ((one, piece.start), (other, piece.end)):
            spoke = [a - b for a, b in zip(point, wheel_here.centre, strict=True)]
            assert math.hypot(*spoke) == pytest.approx(wheel_here.radius)
            assert spoke[0] * along[0] + spoke[1] * along[1] == pytest.approx(0.0, abs=1e-9)
        length = [b - a for a, b in zip(piece.start, piece.end, strict=True)]
        assert math.atan2(length[1], length[0]) % math.tau == pytest.approx(piece.radians % math.tau)


def test_an_idler_that_does_not_push_changes_nothing() -> None:
    straight, slack = belt.strand(belt.DRUM, belt.PULLEY), belt.strand(belt.PULLEY, belt.DRUM)
    open_wrap = math.degrees(slack.radians - straight.radians) % 360.0
    assert belt.wrap_degrees(0.0) == pytest.approx(open_wrap)
    assert open_wrap == pytest.approx(180.0 - 2 * math.degrees(math.asin(12.0 / math.hypot(6.0, 18.0))))


def test_more_push_more_belt_round_the_pulley() -> None:
    wraps = [belt.wrap_degrees(travel / 10) for travel in range(41)]
    assert wraps == sorted(wraps)
    assert wraps[-1] > wraps[0] + 40


def test_grip_of_half_a_turn() -> None:
    # Euler and Eytelwein, e^(mu theta): half a turn at 0.3 gives 2.566 (arithmetic on the textbook's formula).
    assert belt.grip(180.0) == pytest.approx(2.566, abs=5e-4)
    assert belt.grip(0.0) == 1.0
    assert belt.grip(360.0) == pytest.approx(belt.grip(180.0) ** 2)


def test_what_cannot_be_is_said() -> None:
    with pytest.raises(OutOfRangeError, match="idler travels"):
        belt.idler(4.1)
    with pytest.raises(OutOfRangeError, match="0 or more"):
        belt.grip(-1.0)


def test_what_is_seen_of_a_belt_follows_from_how_it_lies() -> None:
    good, loose = belt.Belt(travel=2.5), belt.Belt(travel=0.0)
    assert (
        good.words
        == f"motor turns with the drum; {belt.wrap_degrees(2.5):.0f}° around the pulley; idler on the smooth back"
    )
    assert good.wrap > loose.wrap + 20
    assert loose.words.endswith("idler beside it")
    assert belt.Belt(ribs_inward=False).words.endswith("idler on the ribs")
    assert belt.Belt(twisted=True).words.startswith("motor turns against the drum")
    assert belt.Belt(on_pulley=False).words.startswith("motor does not turn; 0° around the pulley")
    assert [one.drives for one in (good, belt.Belt(twisted=True), belt.Belt(on_pulley=False))] == [1, -1, 0]
