"""Calendars: the days on which something falls due, as an iCalendar file (RFC 5545)."""

from __future__ import annotations

import hashlib
from datetime import timedelta

from icalendar import Alarm, Calendar, Event

from legtoleg.refresher.record.due_list import DueLine, Dues
from legtoleg.refresher.record.standing import NEVER


def _event(dues: Dues, line: DueLine) -> Event:
    names = "; ".join(one.topic.title for one in line.found)
    day = line.until or dues.day
    made = Event()
    key = f"{line.person.id} {day} {'/'.join(one.topic.topic for one in line.found)}"
    made.add("uid", f"{hashlib.sha256(key.encode('utf-8')).hexdigest()[:32]}@leg-to-leg")
    made.add("dtstamp", dues.shop.clock())
    made.add("dtstart", day)
    made.add("dtend", day + timedelta(days=1))
    made.add("summary", f"Refresher: {line.person.name}" + (" (safety)" if line.critical else ""))
    made.add("description", f"{names}. {line.reason[:1].upper()}{line.reason[1:]}. {_last_day(line)}")
    made.add("transp", "TRANSPARENT")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", f"Refresher due: {line.person.name}")
    alarm.add("trigger", timedelta(days=-dues.shop.settings.days))
    made.add_component(alarm)
    return made


def _last_day(line: DueLine) -> str:
    return "This is the last day on which it holds." if line.until else "Not passed yet."


def calendar(dues: Dues) -> bytes:
    """Return the calendar: each last good day of somebody; who never passed stands on the day itself."""
    made = Calendar()
    made.add("prodid", "-//Leg to Leg//Refresher//EN")
    made.add("version", "2.0")
    made.add("x-wr-calname", f"Refreshers, {dues.shop.settings.name}")
    for one in dues.people:
        for line in one.groups():
            if line.until is not None or line.state == NEVER:
                made.add_component(_event(dues, line))
    return bytes(made.to_ical())
