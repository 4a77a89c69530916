"""What is dealt for one question: the same for one card, anew for a new card, by a stream of its own."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from dryerbench.core.random_stream import Stream
from dryerbench.course.dealing import dealt, offered, stream_of
from dryerbench.course.questions import Options
from dryerbench.registry import sheet
from dryerbench.topics.air_and_drying.sheet import HOODS, hood_of, way_options
from dryerbench.topics.call_to_close.sheet import PENDING, around_options, record_options, suspect_options
from dryerbench.topics.heat_switches.sheet import TRUCK, truck_of
from dryerbench.topics.made_dead.sheet import LESSON
from dryerbench.topics.open_and_close.sheet import before_power_options, cord_options
from dryerbench.topics.path_to_case.sheet import TO_CASE, sometimes_options, to_case_of
from dryerbench.topics.tracing_the_circuit.sheet import at_limit_of, live_keys
from dryerbench.topics.trusting_the_meter.sheet import where_it_beeps


def keys(options: Options) -> list[str]:
    return [option.key for option in options]


DEALT: dict[str, tuple[str, Any]] = {
    "where the beeper sounds": ("04_trusting_the_meter", lambda card: keys(where_it_beeps(card))),
    "volts that stay or fall": ("04_trusting_the_meter", lambda card: card.still_volts),
    "element to its case": ("05_path_to_case", to_case_of),
    "what finds a path that comes and goes": ("05_path_to_case", lambda card: keys(sometimes_options(card))),
    "what the truck has": ("06_heat_switches", truck_of),
    "what can blow a cut-off": ("06_heat_switches", lambda card: card.blown_keys),
    "volts at the limit": ("07_tracing_the_circuit", at_limit_of),
    "live work": ("07_tracing_the_circuit", live_keys),
    "what the hood shows": ("08_air_and_drying", hood_of),
    "what is on the vent": ("08_air_and_drying", lambda card: card.trap_keys),
    "what is found from drum to wall": ("08_air_and_drying", lambda card: keys(way_options(card))),
    "before power": ("09_open_and_close", lambda card: keys(before_power_options(card))),
    "what is found at the cord": ("09_open_and_close", lambda card: keys(cord_options(card))),
    "suspects": ("10_call_to_close", lambda card: keys(suspect_options(card))),
    "lines of the record": ("10_call_to_close", lambda card: keys(record_options(card))),
    "what is done around a repair": ("10_call_to_close", lambda card: keys(around_options(card))),
    "how far the other job is": ("10_call_to_close", lambda card: card.pending),
    "kits": ("01_made_dead", lambda card: card.kits),
}


@pytest.mark.parametrize("what", DEALT)
def test_a_new_card_deals_it_anew_and_the_same_card_never(what: str) -> None:
    lesson, told = DEALT[what]
    people = [f"someone-{n}" for n in range(20)]
    first = [told(sheet(lesson).card(one)) for one in people]
    assert first == [told(sheet(lesson).card(one)) for one in people]
    assert first != [told(sheet(lesson).card(one, 2)) for one in people]


def test_a_stream_starts_from_the_card_s_seed_and_is_not_that_of_the_letters() -> None:
    card = sheet(LESSON).card("demo-01")
    assert stream_of(card, "kits").word() == Stream(f"leg-to-leg/1/{LESSON}/demo-01/kits/dealt").word()
    assert stream_of(card, "kits").word() != Stream(f"{card.seed}/kits").word()
    assert Stream("one").beside("two").word() == Stream("one/two").word()


def test_so_many_are_offered_each_as_often_as_any_other() -> None:
    cards = [sheet(LESSON).card(f"someone-{n}") for n in range(300)]
    counts = Counter(key for card in cards for key in offered(card, "test", "fedcba", 4))
    assert all(len(set(offered(card, "test", "fedcba", 4))) == 4 for card in cards)
    assert all(160 < counts[key] < 240 for key in "abcdef")
    assert all(70 < count < 130 for count in Counter(dealt(card, "test", "abc") for card in cards).values())


SAID: dict[str, tuple[Any, tuple[str, ...]]] = {
    "05_path_to_case": (to_case_of, TO_CASE),
    "06_heat_switches": (truck_of, TRUCK),
    "08_air_and_drying": (hood_of, HOODS),
    "10_call_to_close": (lambda card: card.pending, PENDING),
}
"""Where what is dealt is words of the card: how to get it, and all that there may be."""


@pytest.mark.parametrize("lesson", SAID)
def test_what_is_dealt_is_what_the_card_says_and_has_no_other_name(lesson: str) -> None:
    """A short name such as "mended" could be read off: there is none, and the order of the words is the alphabet's."""
    told, words = SAID[lesson]
    assert list(words) == sorted(words, key=str.casefold)
    counts = Counter(told(sheet(lesson).card(f"someone-{number}")) for number in range(160))
    assert set(counts) == set(words)
    assert max(counts.values()) < 2.2 * 160 / len(words)
    for number in range(5):
        card = sheet(lesson).card(f"someone-{number}")
        assert told(card) in repr(card)
