"""Draws recurrence rules and intervals from a fixed start and expands them with python-dateutil.

Usage: recurrence_live.py [HOW_MANY]
Prints CSV with a header; `what` is "rule" (an RRULE on whole days) or "interval" (years, months, weeks, days added
from the anchor): what,text,start,limit,dates. Rules on which the RFC and dateutil differ are not drawn: BYWEEKNO
without BYDAY, plain beside numbered weekdays, BYSETPOS with FREQ=WEEKLY, week numbers from the end beyond -1.
"""

import csv
import datetime
import itertools
import random
import sys

from dateutil.relativedelta import relativedelta
from dateutil.rrule import rrulestr

DAYS = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"]
LIMIT = 12
# Far enough for any rule drawn here, near enough for dateutil to finish on one that never matches.
LAST = datetime.datetime(2225, 12, 31)


def some(draw, values, most):
    return draw.sample(values, draw.randint(1, min(most, len(values))))


def signed(draw, high, most):
    return some(draw, [n for n in range(-high, high + 1) if n], most)


def listed(values):
    return ",".join(str(v) for v in values)


def draw_rule(draw, start):
    frequency = draw.choice(["YEARLY", "MONTHLY", "WEEKLY", "DAILY"])
    parts = [f"FREQ={frequency}"]
    if draw.random() < 0.5:
        parts.append(f"INTERVAL={draw.randint(1, 40 if frequency == 'DAILY' else 9)}")
    picks = []
    if draw.random() < 0.3:
        picks.append("BYMONTH=" + listed(some(draw, range(1, 13), 4)))
    if frequency == "YEARLY" and draw.random() < 0.2:
        weeks = some(draw, [-1, *range(1, 54)], 4)
        picks += ["BYWEEKNO=" + listed(weeks), "BYDAY=" + listed(some(draw, DAYS, 3))]
    else:
        if draw.random() < 0.4:
            days = some(draw, DAYS, 4)
            if frequency in ("YEARLY", "MONTHLY") and draw.random() < 0.6:
                days = [f"{draw.choice(signed(draw, 5, 1))}{day}" for day in days]
            picks.append("BYDAY=" + listed(days))
        if frequency != "WEEKLY" and draw.random() < 0.4:
            picks.append("BYMONTHDAY=" + listed(signed(draw, 31, 6)))
        if frequency == "YEARLY" and draw.random() < 0.2:
            picks.append("BYYEARDAY=" + listed(signed(draw, 366, 40)))
    if picks and frequency in ("YEARLY", "MONTHLY") and draw.random() < 0.3:
        picks.append("BYSETPOS=" + listed(signed(draw, 6, 3)))
    parts += picks
    if draw.random() < 0.3:
        parts.append("WKST=" + draw.choice(DAYS))
    if draw.random() < 0.2:
        parts.append(f"COUNT={draw.randint(1, 15)}")
    elif draw.random() < 0.2:
        parts.append("UNTIL=" + (start + datetime.timedelta(draw.randint(0, 3000))).strftime("%Y%m%d"))
    fixed, rest = parts[0], parts[1:]
    draw.shuffle(rest)
    return ";".join([fixed, *rest])


def draw_interval(draw):
    amounts = {"years": draw.randint(0, 3), "months": draw.randint(0, 14), "weeks": draw.randint(0, 5), "days": draw.randint(0, 40)}
    kept = {unit: amounts[unit] for unit in amounts if amounts[unit] and draw.random() < 0.6}
    return kept or {"months": draw.randint(1, 24)}


def main():
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    draw = random.Random(5545)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["what", "text", "start", "limit", "dates"])
    for _ in range(how_many):
        start = datetime.datetime(2024, 1, 1) + datetime.timedelta(draw.randint(0, 2200))
        text = draw_rule(draw, start)
        days = itertools.takewhile(lambda day: day <= LAST, rrulestr(text, dtstart=start))
        dates = " ".join(day.date().isoformat() for day in itertools.islice(days, LIMIT))
        out.writerow(["rule", text, start.date().isoformat(), LIMIT, dates])
    for _ in range(how_many):
        start = datetime.date(2024, 1, 1) + datetime.timedelta(draw.randint(0, 2200))
        amounts = draw_interval(draw)
        text = " ".join(f"{amount} {unit}" for unit, amount in amounts.items())
        times = range(1, LIMIT + 1)
        dates = [start + relativedelta(**{unit: amount * n for unit, amount in amounts.items()}) for n in times]
        out.writerow(["interval", text, start.isoformat(), LIMIT, " ".join(d.isoformat() for d in dates)])


if __name__ == "__main__":
    main()
