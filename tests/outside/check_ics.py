"""Reads an iCalendar file with the Python library icalendar and compares every entry with what it should be.

Usage: check_ics.py FILE.ics EXPECTED.json
EXPECTED.json: {"name": …, "entries": [{"uid", "date", "end", "stamp", "sequence", "summary", "description",
"categories", "alarm_hours", "dates"}, …]}; date, end and stamp as 2027-05-14, description and alarm_hours may be
null. `dates` is there for an entry that comes again: all its days, the first included.
Prints every difference and exits 1 if there are any.
"""

import datetime
import json
import sys

import dateutil.rrule
import icalendar
from icalendar.parser import unescape_backslash


def physical_lines(data):
    """Faults of the bytes themselves: line ends, line length, folds inside a character."""
    if not data.endswith(b"\r\n"):
        yield "the file does not end in CRLF"
    if data.count(b"\n") != data.count(b"\r\n") or data.count(b"\r") != data.count(b"\r\n"):
        yield "a line end that is not CRLF"
    for number, line in enumerate(data.split(b"\r\n"), start=1):
        if len(line) > 75:
            yield f"line {number} has {len(line)} bytes"
        try:
            text = line.decode("utf-8")
        except UnicodeDecodeError:
            yield f"line {number} is cut inside a character"
        else:
            if any(ord(c) < 32 or 127 <= ord(c) < 160 for c in text):
                yield f"line {number} has a control character"


def compare(what, got, expected):
    if got != expected:
        yield f"{what}: {got!r} in the file, {expected!r} expected"


def days_of(event, start):
    """Every day an entry falls on, its rule expanded by python-dateutil."""
    if "RRULE" not in event:
        return [start]
    rule = event["RRULE"].to_ical().decode("utf-8")
    first = datetime.datetime.combine(start, datetime.time())
    return [found.date() for found in dateutil.rrule.rrulestr(rule, dtstart=first)[:10000]]


def event_faults(event, expected):
    """Differences of one entry."""
    where = expected["uid"]
    day = datetime.date.fromisoformat
    start, end = event.decoded("DTSTART"), event.decoded("DTEND")
    yield from compare(f"{where} DTSTART is a date", type(start), datetime.date)
    yield from compare(f"{where} DTSTART", start, day(expected["date"]))
    yield from compare(f"{where} DTEND", end, day(expected["end"]))
    if not end > start:
        yield f"{where}: DTEND is not later than DTSTART"
    midnight = datetime.datetime.combine(day(expected["stamp"]), datetime.time(), datetime.timezone.utc)
    yield from compare(f"{where} DTSTAMP", event.decoded("DTSTAMP"), midnight)
    yield from compare(f"{where} LAST-MODIFIED", event.decoded("LAST-MODIFIED"), midnight)
    yield from compare(f"{where} SEQUENCE", int(event["SEQUENCE"]), expected["sequence"])
    yield from compare(f"{where} SUMMARY", str(event["SUMMARY"]), expected["summary"])
    description = event.get("DESCRIPTION")
    yield from compare(f"{where} DESCRIPTION", None if description is None else str(description), expected["description"])
    words = event.get("CATEGORIES")
    yield from compare(f"{where} CATEGORIES", [] if words is None else [str(c) for c in words.cats], expected["categories"])
    yield from compare(f"{where} TRANSP", str(event["TRANSP"]), "TRANSPARENT")
    yield from compare(f"{where} days", days_of(event, start), [day(d) for d in expected.get("dates", [expected["date"]])])
    alarms = event.walk("VALARM")
    if expected["alarm_hours"] is None:
        yield from compare(f"{where} alarms", len(alarms), 0)
    else:
        yield from compare(f"{where} alarms", len(alarms), 1)
        for alarm in alarms:
            rings = datetime.timedelta(hours=expected["alarm_hours"])
            yield from compare(f"{where} TRIGGER", alarm.decoded("TRIGGER"), rings)
            yield from compare(f"{where} alarm UID", str(alarm["UID"]), f"alarm.{where}")
            yield from compare(f"{where} alarm text", str(alarm["DESCRIPTION"]), expected["summary"])


def faults(data, expected):
    """All differences of a file."""
    yield from physical_lines(data)
    calendar = icalendar.Calendar.from_ical(data)
    yield from compare("VERSION", str(calendar["VERSION"]), "2.0")
    # The library does not know these two as texts (RFC 7986 section 5.1), so it leaves them escaped.
    for key in ("NAME", "X-WR-CALNAME"):
        yield from compare(key, str(unescape_backslash(calendar[key])), expected["name"])
    if "METHOD" in calendar or "PRODID" not in calendar:
        yield "METHOD is there or PRODID is not"
    for component in calendar.walk():
        yield from (f"not understood: {error}" for error in component.errors)
    events = calendar.walk("VEVENT")
    yield from compare("number of components", len(calendar.subcomponents), len(events))
    yield from compare("ids", [str(e["UID"]) for e in events], [e["uid"] for e in expected["entries"]])
    yield from compare("ids given twice", len(events) - len({str(e["UID"]) for e in events}), 0)
    for event, entry in zip(events, expected["entries"]):
        yield from event_faults(event, entry)


def main():
    with open(sys.argv[1], "rb") as file:
        data = file.read()
    with open(sys.argv[2], encoding="utf-8") as file:
        expected = json.load(file)
    found = list(faults(data, expected))
    print("\n".join(found[:40]) if found else f"{len(expected['entries'])} entries agree")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
