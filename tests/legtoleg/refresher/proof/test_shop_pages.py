"""The pages and the calendar: everybody is there, and nothing that was typed does anything."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import icalendar

from legtoleg.refresher.proof.calendar_file import calendar
from legtoleg.refresher.proof.certificate import certificate_page
from legtoleg.refresher.proof.shop_pages import due_page, shop_page
from legtoleg.refresher.record.correction import correct
from legtoleg.refresher.record.due_list import dues
from legtoleg.refresher.record.shop import Shop

BAD = "<script>alert(1)</script>&\"'"


def lived(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    outcome(shop, "ada-01", date(2026, 12, 1))
    outcome(shop, "bo-02", date(2026, 1, 10))
    outcome(shop, "cy-03", date(2025, 6, 1))
    data = {"trigger": "near-miss", "title": "A near miss", "topics": ["isolation"], "note": BAD, "by": BAD}
    shop.enter(shop.draft("called", "ada-01", date(2027, 1, 2), **data))


def test_due_is_a_page_and_a_calendar(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    lived(shop, clock, outcome)
    found = dues(shop, shop.today())
    page = due_page(found)
    for words in ("Overdue", "Never passed here", "Due within 30 days", "until 2027-01-10", "since 2027-01-02"):
        assert words in page
    assert "until 2026-06-01" in page
    assert "None known that sets a period" in page
    made = icalendar.Calendar.from_ical(calendar(found))
    events = list(made.walk("VEVENT"))
    assert len({str(one["uid"]) for one in events}) == len(events)
    days = {(str(one["summary"]), one.decoded("dtstart")) for one in events}
    assert ("Refresher: Bo Demo (safety)", date(2027, 1, 10)) in days
    assert ("Refresher: Ada Demo (safety)", date(2027, 1, 2)) in days
    assert ("Refresher: Lou Demo (safety)", date(2027, 1, 4)) in days
    alarm = events[0].subcomponents[0]
    assert alarm.decoded("trigger") == timedelta(days=-30)
    assert calendar(dues(shop, shop.today())) == calendar(found)


def test_the_shops_page_says_who_may_and_what_was(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    lived(shop, clock, outcome)
    correct(shop, 8, "entered for the wrong person", "Ida Demo")
    entries = shop.entries()
    page = shop_page(dues(shop, shop.today(), entries), entries)
    assert "entry 8 does not count: entered for the wrong person (entered by Ida Demo)" in page
    assert 'class="struck"' in page
    assert "corrected by entry 9" in page
    assert entries[-1].hash in page
    assert "it is no licence" in page
    assert "Made-up shop" in page
    assert page.count("✓ yes") == 2
    assert page.count("✗ not today") == 10


def test_html_in_a_name_does_nothing(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    lived(shop, clock, outcome)
    (shop.folder / "people.csv").write_text(
        f'id,name\nada-01,"{BAD.replace(chr(34), chr(34) * 2)}"\n', encoding="utf-8"
    )
    entries = shop.entries()
    found = dues(shop, shop.today(), entries)
    for page in (due_page(found), shop_page(found, entries), certificate_page(shop, "ada-01")):
        assert "<script" not in page
        assert "&lt;script&gt;" in page
    assert b"script" in calendar(found)
