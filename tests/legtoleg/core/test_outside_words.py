"""The door for words from outside: one line, no control characters, whatever comes."""

from __future__ import annotations

import unicodedata

import pytest

from legtoleg.core.outside_words import MOST, file_words, plain_words


@pytest.mark.parametrize(
    ("came", "shown"),
    [
        ("a\nb\tc\r\nd", "a b c d"),
        ("\x1b[2J\x1b]0;owned\x07x", "[2J]0;ownedx"),
        ("\x9b31mred", "31mred"),
        ("invoice\u202egpj.exe", "invoicegpj.exe"),
        ("a\u2028b\u2029c\x85d", "a b c d"),
        ("\ud800lone", "lone"),
        ("zero\u200bwidth\ufeff", "zerowidth"),
        ("José Núñez, 240 V – ½", "José Núñez, 240 V – ½"),
        (None, "None"),
    ],
)
def test_one_line_without_control(came: object, shown: str) -> None:
    assert plain_words(came) == shown


def test_every_character_there_is() -> None:
    for start in range(0, 0x110000, 200):
        shown = plain_words("".join(map(chr, range(start, min(start + 200, 0x110000)))))
        assert not [letter for letter in shown if unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Zl", "Zp")]
        shown.encode("utf-8")


def test_a_long_text_is_cut() -> None:
    assert plain_words("x" * 10_000) == "x" * (MOST - 1) + "…"


@pytest.mark.parametrize(
    ("came", "name"),
    [("../../etc/passwd", "-..-etc-passwd"), ("C:\\a|b?.txt", "C--a-b-.txt"), ("", "file"), ("...", "file"),
     ("\x1b[31ma.pdf", "[31ma.pdf")],
)  # fmt: skip
def test_a_name_that_is_a_file(came: str, name: str) -> None:
    assert file_words(came) == name
    assert len(file_words("x" * 500 + ".pdf")) == 80
    assert file_words("x" * 500 + ".pdf").endswith(".pdf")
