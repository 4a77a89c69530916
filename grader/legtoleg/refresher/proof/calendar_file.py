"""Calendars: the days on which something falls due, as an iCalendar file (RFC 5545).

One event stands for one person in one topic, for good: its UID comes from these two and the ledger, never from the day,
so a calendar that takes the file in again moves its event. SEQUENCE grows with each entry about that person.
"""

from __future__ import annotations

from datetime import date, timedelta
from uuid import NAMESPACE_OID, uuid5

from icalendar import Alarm, Calendar, Event

from legtoleg.refresher.record.due_list import Dues, PersonDue
from legtoleg.refresher.record.standing import NEVER, OVERDUE, Standing


def _sequence(dues: Dues, one: PersonDue, found: Standing) -> int:
    """Return which revision of its event this is.

    What was never passed stands on the day itself, so there each day counts too; later entries count the days up to
    their own, so that the number never falls.
    """
    opened = dues.opened
    day = dues.shop.today() if found.state == NEVER else one.changed or opened
    return one.changes + max(0, (day - opened).days)


def _event(dues: Dues, one: PersonDue, found: Standing, day: date) -> Event:
    made = Event()
    made.add(
        "uid", f"{uuid5(NAMESPACE_OID, f'leg-to-leg {dues.ledger} {one.person.id} {found.topic.topic}')}@leg-to-leg"
    )
    made.add("sequence", _sequence(dues, one, found))
    made.add("dtstamp", dues.shop.clock())
    made.add("dtstart", day)
    made.add("dtend", day + timedelta(days=1))
    safety = " (safety)" if found.topic.critical else ""
    made.add("summary", f"Refresher: {one.person.name}: {found.topic.title}{safety}")
    made.add("description", f"{found.reason[:1].upper()}{found.reason[1:]}. {_of_the_day(found)}")
    made.add("transp", "TRANSPARENT")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", f"Refresher due: {one.person.name}: {found.topic.title}")
    alarm.add("trigger", timedelta(days=-dues.shop.settings.days))
    made.add_component(alarm)
    return made


def _of_the_day(found: Standing) -> str:
    """Return what the day of an event is."""
    if found.state == NEVER:
        return "Not passed yet: this is the day on which the calendar was written."
    if found.called:
        return "Due since this day."
    return (
        "This was the last day on which it held."
        if found.state == OVERDUE
        else "This is the last day on which it holds."
    )


def calendar(dues: Dues) -> bytes:
    """Return the calendar: each last good day of somebody; who never passed stands on the day itself."""
    made = Calendar()
    made.add("prodid", "-//Leg to Leg//Refresher//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", f"Refreshers, {dues.shop.settings.name}")
    for one in dues.people:
        for found in one.found:
            day = dues.day if found.state == NEVER else found.until
            if day is not None:
                made.add_component(_event(dues, one, found, day))
    return bytes(made.to_ical())
