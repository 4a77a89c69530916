"""The stream is golden: a change here is a change of every apprentice's machine."""

from __future__ import annotations

import hashlib
from collections import Counter

import pytest

from dryerbench.core.random_stream import Stream, stream_for


def test_first_words_are_those_of_sha256() -> None:
    block = hashlib.sha256(b"abc\x00" + (0).to_bytes(8, "big")).digest()
    following = hashlib.sha256(b"abc\x00" + (1).to_bytes(8, "big")).digest()
    stream = Stream("abc")
    words = [stream.word() for _ in range(5)]
    assert words[:4] == [int.from_bytes(block[i : i + 8], "big") for i in (0, 8, 16, 24)]
    assert words[4] == int.from_bytes(following[:8], "big")


def test_golden_numbers() -> None:
    stream = stream_for("demo-01", "03_heater_power")
    assert [stream.integer(1, 100) for _ in range(8)] == [42, 13, 41, 52, 58, 6, 26, 94]
    assert stream.step("25.0", "29.0", "0.1") == 25.6
    assert stream.shuffle("abcdef") == ["d", "a", "b", "e", "c", "f"]


def test_integers_are_even_and_inside() -> None:
    stream = Stream("even")
    counts = Counter(stream.integer(-2, 3) for _ in range(6000))
    assert set(counts) == {-2, -1, 0, 1, 2, 3}
    chi_squared = sum((count - 1000) ** 2 / 1000 for count in counts.values())
    assert chi_squared < 20.5  # 0.1 % point for five degrees of freedom


def test_steps_are_decimal() -> None:
    stream = Stream("steps")
    values = {stream.step("0.1", "0.5", "0.1") for _ in range(200)}
    assert values == {0.1, 0.2, 0.3, 0.4, 0.5}


def test_shuffle_keeps_all_and_choose_takes_one() -> None:
    stream = Stream("order")
    assert sorted(stream.shuffle([3, 1, 2])) == [1, 2, 3]
    assert stream.choose(["only"]) == "only"


def test_an_empty_range_is_refused() -> None:
    with pytest.raises(ValueError, match="from 5 to 4"):
        Stream("x").integer(5, 4)
    with pytest.raises(ValueError, match="No whole number"):
        Stream("x").choose([])
