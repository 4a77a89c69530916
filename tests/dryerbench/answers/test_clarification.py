import pickle

import pytest

from dryerbench.answers import clarification
from dryerbench.answers.clarification import REASONS
from dryerbench.answers.parser import LONGEST, read
from dryerbench.core.errors import LegToLegError, UnreadableAnswerError


def asked(value):
    """Return the error that reading the value raises; it must ask in one line, by a known code."""
    with pytest.raises(UnreadableAnswerError) as caught:
        read(value)
    error = caught.value
    assert error.reason in REASONS
    assert len(str(error).splitlines()) == 1
    assert str(error).isprintable()
    return error


@pytest.mark.parametrize(
    ("typed", "reason", "suggestion"),
    [
        ("", "blank", None),
        (" \u00a0 ", "blank", None),
        ("8.9", "no_unit", None),
        ("amps", "no_number", None),
        ("10K", "unclear_unit", None),
        ("5 MA", "unclear_unit", "5 mA"),
        ("8.9 ampers", "unknown_unit", "8.9 A"),
        ("8.9 lumens", "unknown_unit", None),
        ("5e A", "unknown_unit", None),
        ("22,5 A", "unclear_number", "22.5 A"),
        ("about 22,5 A", "unclear_number", "22.5 A"),
        ("8.9 A each", "unclear_words", "8.9 A"),
        ("0L", "unclear_over_limit", "OL"),
        ("1. 5 A", "unclear_number", "1.5 A"),
        ("120/240 V", "unclear_sum", None),
        ("8 A - 9 A", "several", None),
        ("240 V / 27 ohm = 9.8 A", "sum_differs", None),
        ("I = 240 V / 27 ohm", "unclear_words", None),
        ("1.000 W", "unclear_number", None),
        ("8.9. A", "unclear_number", "8.9 A"),
        ("1e16 A", "not_finite", None),
        ("120 240 V", "several", None),
        ("120 000 W", "unclear_number", "120000 W"),
        ("4'' ", "unclear_unit", "4 in"),
        ("0x1F A", "several", None),
        ("1e999 A", "not_finite", None),
        ("1e-99 A", "not_finite", None),
        ("nan A", "not_finite", None),
        ("8.9\tA", "hidden_character", None),
        ("8.9\u2003A", "hidden_character", "8.9 A"),
        ("\u202a8.9 A\u202c", "hidden_character", "8.9 A"),
        ("8.9 A\n", "hidden_character", None),
        ("8.9 A\x00", "hidden_character", None),
        ("8.9 A\u2028", "hidden_character", "8.9 A"),
        ("８.９ A", "unclear_number", None),
        ("٨ A", "unclear_number", None),
        ("8.9 A" * 50, "too_long", None),
        ("__import__('os').getcwd()", "unclear_number", None),
        ("8.9 A;print(1)", "several", None),
        ("{8.9} A", "unclear_number", None),
    ],
)
def test_codes_and_suggestions(typed, reason, suggestion):
    error = asked(typed)
    assert (error.reason, error.suggestion) == (reason, suggestion)
    assert isinstance(error, ValueError)
    assert isinstance(error, LegToLegError)


def test_a_blank_that_cannot_be_told_by_eye_is_shown_as_a_blank():
    assert str(asked("22,5\u00a0A")) == "Is '22,5 A' 22.5 A?"


def test_a_question_stays_short_whatever_was_typed():
    for typed in ("\u202e" * LONGEST, "8.9 " + "x" * 190, "1 " * 100, "9" * LONGEST, "(" * LONGEST):
        assert len(str(asked(typed))) < 240


def test_a_question_crosses_a_process():
    error = asked("22,5 A")
    copy = pickle.loads(pickle.dumps(error))
    assert (str(copy), copy.reason, copy.suggestion) == ("Is '22,5 A' 22.5 A?", "unclear_number", "22.5 A")


def test_every_code_but_that_of_objects_is_met_by_some_text():
    texts = [
        "",
        "8.9",
        "amps",
        "10K",
        "8.9 lumens",
        "22,5 A",
        "8.9 A each",
        "0L",
        "120 240 V",
        "120/240 V",
        "240 V / 27 ohm = 9.8 A",
        "nan A",
        "\t",
        "x" * 201,
    ]
    assert {asked(text).reason for text in texts} == set(REASONS) - {"not_an_answer"}


def test_no_spelling_that_is_asked_about_is_also_read():
    for spelling in (*clarification._TWO_MEANINGS, *clarification._MAY_BE):
        assert asked(f"10 {spelling}").reason in ("unclear_unit", "hidden_character"), spelling


def test_what_a_spelling_with_two_meanings_offers_can_be_typed():
    for one, other in clarification._TWO_MEANINGS.values():
        assert read(f"10 {one}").text != read(f"10 {other}").text
    for symbol in clarification._MAY_BE.values():
        assert read(f"10 {symbol}").unit == symbol


@pytest.mark.parametrize(
    ("typed", "readings"),
    [
        ("-6.409 W", '"-6409 W" or "-6.41 W"'),
        ("–6.409e0 watts", '"-6409 W" or "-6.41 W"'),
        ("6.409 W", '"6409 W" or "6.41 W"'),
    ],
)
def test_a_sign_stays_where_thousands_are_asked_about(typed: str, readings: str) -> None:
    """A suggestion that would be asked about again is asked about at once."""
    with pytest.raises(UnreadableAnswerError) as caught:
        read(typed)
    assert readings in str(caught.value)
    assert caught.value.suggestion is None
