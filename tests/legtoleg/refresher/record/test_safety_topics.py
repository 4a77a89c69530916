"""Topics: no period is claimed where a rule has none; the shop's own file goes first, with errors by line."""

from __future__ import annotations

from pathlib import Path

import pytest

from legtoleg.refresher.record.safety_topics import TopicError, chosen, course_topics, read_topics, triggers


def test_the_defaults_say_on_whose_word() -> None:
    topics = course_topics()
    assert len(topics) == 11
    assert sum(topic.critical for topic in topics.values()) == 9
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


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("topic,months\nroofs,6\n", "topics.csv, line 2: there is no topic 'roofs'"),
        ("topic,months\nisolation,6\nhand-over,soon\n", "topics.csv, line 3: 'soon' is no number of months"),
        ("topic,months\nisolation,0\n", "line 2: '0' is no number"),
        ("topic,months\nisolation,999\n", "line 2: '999' is no number"),
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
    assert len(chosen(topics, [])) == 9
    with pytest.raises(TopicError, match="There is no topic 'roofs'"):
        chosen(topics, ["roofs"])
