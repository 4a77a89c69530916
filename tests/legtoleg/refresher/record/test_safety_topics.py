"""Topics: no period is claimed where a rule has none; the shop's own file goes first, with errors by line."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from legtoleg.refresher.record.safety_topics import (
    TopicError,
    chosen,
    course_topics,
    read_topics,
    triggers,
    write_topics,
)


def test_the_defaults_say_on_whose_word() -> None:
    topics = course_topics()
    assert len(topics) == 12
    assert sum(topic.critical for topic in topics.values()) == 10
    lockout = topics["isolation"]
    assert lockout.basis == "regulation"
    assert "inspected at least once a year" in lockout.source
    assert "no fixed period" in lockout.source
    assert "sets no period for retraining" in lockout.why
    assert topics["circuit-numbers"].months is None
    assert topics["live-reading"].months == 36
    for topic in topics.values():
        assert topic.source
        assert topic.why
        assert topic.known_by
        if topic.basis == "shop rule":
            assert "none known" in topic.source.lower()
    assert {"failed-gate", "near-miss", "inspection", "change"} <= set(triggers())


def test_the_shop_sets_its_own(tmp_path: Path) -> None:
    text = "topic,months,idle_months,basis,source\nisolation,6,,,\nhand-over,none,,regulation,Our state's rule\n"
    (tmp_path / "topics.csv").write_text(text, encoding="utf-8-sig")
    topics = read_topics(tmp_path)
    assert (topics["isolation"].months, topics["isolation"].idle_months) == (6, 12)
    assert topics["isolation"].own
    assert topics["isolation"].basis == "shop rule"
    assert topics["hand-over"].months is None
    assert topics["hand-over"].source == "Our state's rule"
    assert topics["vent-and-lint"] == course_topics()["vent-and-lint"]
    assert read_topics(tmp_path / "nowhere") == course_topics()


def test_the_file_for_editing_holds_the_defaults_and_says_how(tmp_path: Path) -> None:
    path = write_topics(tmp_path)
    assert read_topics(tmp_path) == course_topics(), "what nobody has changed is not the shop's own"
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file))
    assert rows[0][:4] == ["topic", "title", "months", "idle_months"]
    assert rows[1][0].startswith("# Change months")
    assert [row[0] for row in rows[2:]] == list(course_topics())
    assert rows[2][2:4] == ["12", "12"]
    assert rows[-1][2:4] == ["none", "none"]
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([[*row[:2], "6", *row[3:]] if row[0] == "isolation" else row for row in rows])
    own = read_topics(tmp_path)
    assert (own["isolation"].months, own["isolation"].own, own["isolation"].basis) == (6, True, "shop rule")
    assert [name for name, topic in own.items() if topic.own] == ["isolation"]
    with pytest.raises(TopicError, match=r"topics.csv is in .* already: change it there. Nothing was written"):
        write_topics(tmp_path)
    assert read_topics(tmp_path) == own


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("topic,months\nroofs,6\n", "topics.csv, line 2: there is no topic 'roofs'"),
        ("topic,months\nisolation,6\nhand-over,soon\n", "topics.csv, line 3: 'soon' is not a number of months"),
        ("topic,months\nisolation,0\n", "line 2: '0' is not a number"),
        ("topic,months\nisolation,999\n", "line 2: '999' is not a number"),
        ("topic,basis\nisolation,hearsay\n", "line 2: 'hearsay' is no basis"),
        ("name,months\n", "topics.csv, line 1: the columns are"),
    ],
)
def test_a_wrong_line_is_named(tmp_path: Path, text: str, says: str) -> None:
    (tmp_path / "topics.csv").write_text(text, encoding="utf-8")
    with pytest.raises(TopicError, match=says):
        read_topics(tmp_path)


def test_topics_by_name() -> None:
    topics = course_topics()
    assert chosen(topics, ["isolation", "isolation"]) == ["isolation"]
    assert len(chosen(topics, [])) == 10
    with pytest.raises(TopicError, match="There is no topic 'roofs'"):
        chosen(topics, ["roofs"])
