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
from legtoleg.witness.witness_record import WitnessRecord

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
    for one in found.people:
        assert page.count(f"{one.person.name} <small>") == 1, "one row a person"


Events = dict[tuple[str, str], icalendar.cal.Component]


def events(shop: Shop) -> Events:
    """Return the events of the shop's calendar by person and topic, as the summary has them."""
    found = icalendar.Calendar.from_ical(calendar(dues(shop, shop.today()))).walk("VEVENT")
    named = {(part[1], part[2]): one for one in found if (part := str(one["summary"]).split(": ", 2))}
    assert len(named) == len(found)
    assert len({str(one["uid"]) for one in found}) == len(found)
    return named


DEAD = "Make it dead: isolate, lock, tag (safety)"
SHOCK = "Current through a person; the ground wire (safety)"


def test_the_calendar_says_what_its_days_are(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    lived(shop, clock, outcome)
    found = events(shop)
    days = {key: one.decoded("dtstart") for key, one in found.items()}
    assert days["Bo Demo", SHOCK] == date(2027, 1, 10), "a title with marks of the format comes back whole"
    assert days["Ada Demo", DEAD] == date(2027, 1, 2)
    assert days["Lou Demo", DEAD] == date(2027, 1, 4)
    said = {key: str(one["description"]) for key, one in found.items()}
    assert said["Ada Demo", DEAD] == "A near miss on 2027-01-02. Due since this day."
    assert said["Bo Demo", DEAD].endswith("This is the last day on which it holds.")
    assert said["Cy Demo", DEAD].endswith("This was the last day on which it held.")
    assert said["Lou Demo", DEAD].startswith("Never passed here. Not passed yet")
    alarm = found["Bo Demo", DEAD].subcomponents[0]
    assert alarm.decoded("trigger") == timedelta(days=-30)
    assert calendar(dues(shop, shop.today())) == calendar(dues(shop, shop.today()))


def test_an_event_is_the_same_one_whatever_its_day(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    """RFC 5545, 3.8.4.7 and 3.8.7.4 (from memory): one UID for good, a higher SEQUENCE with each change of the day."""
    seen: list[Events] = [events(shop)]

    def then(days: int, *, change: Callable[[], object] = lambda: None) -> tuple[bool, int]:
        clock.now += timedelta(days=days)
        change()
        seen.append(events(shop))
        before, after = (one["Ada Demo", DEAD] for one in seen[-2:])
        assert before["uid"] == after["uid"]
        return before.decoded("dtstart") != after.decoded("dtstart"), int(after["sequence"]) - int(before["sequence"])

    day = lambda: shop.today()
    data = {"trigger": "near-miss", "title": "A near miss", "topics": ["isolation"], "note": "", "by": "Ida Demo"}
    moved, grown = then(3)
    assert moved
    assert grown > 0
    for days, change in (
        (1, lambda: outcome(shop, "ada-01", day())),
        (0, lambda: shop.enter(shop.draft("called", "ada-01", day(), **data))),
        (9, lambda: correct(shop, len(shop.entries()), "it was Bo", "Ida Demo")),
        (0, lambda: correct(shop, 3, "the wrong file", "Ida Demo")),
        (0, lambda: outcome(shop, "ada-01", day())),
    ):
        moved, grown = then(days, change=change)
        assert moved
        assert grown > 0
    assert then(20) == (False, 0), "nothing was entered: nothing has changed"
    assert then(0, change=lambda: outcome(shop, "bo-02", day())) == (False, 0), "the entry is about somebody else"


def test_the_shops_page_says_who_may_and_what_was(shop: Shop, clock: Any, outcome: Callable[..., Any]) -> None:
    lived(shop, clock, outcome)
    correct(shop, 8, "entered for the wrong person", "Ida Demo")
    entries = shop.entries()
    page = shop_page(dues(shop, shop.today(), entries), entries)
    assert "entry 8 does not count: entered for the wrong person (entered by Ida Demo)" in page
    assert 'class="struck"' in page
    assert "corrected by entry 9" in page
    assert entries[-1].hash in page
    assert "it is not a license" in page
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


def test_the_shops_page_says_who_was_watched_at_a_real_machine(shop: Shop, seen: WitnessRecord) -> None:
    entries, watched = shop.entries(), seen.entries()
    found = dues(shop, shop.today(), entries)
    page = shop_page(found, entries, watched)
    rows = {name: page.partition(f"<td>{name} Demo <small>")[2].partition("</tr>")[0] for name in ("Ada", "Bo", "Cy")}
    assert '<span class="sign">✓</span> seen<br><small>2027-01-02</small>' in rows["Ada"]
    assert '<span class="sign">!</span> not passed<br><small>2027-01-04</small>' in rows["Bo"]
    assert '<span class="sign">–</span> not yet</td>' in rows["Cy"]
    bo = page.partition("<h3>Bo Demo")[2].partition("</div>")[0]
    assert "corrected by entry 4" in bo
    assert "(safety)" in bo
    left = page.partition("<h3>The shop, and who left</h3>")[2]
    assert "seen on 2027-01-04 by Ida Demo" in left
    assert f"The witness record has 6 entries; the hash of its last one is <code>{watched[-1].hash}</code>." in left
    assert "not yet" in shop_page(found, entries).partition("<td>Ada Demo <small>")[2].partition("</tr>")[0]
    broken = shop_page(found, entries, unread="The ledger is damaged.")
    assert "The witness record cannot be read, so no real dryer is on this page:</b> The ledger is damaged." in broken
    assert "not yet" not in broken
