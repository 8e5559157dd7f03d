"""Draws intervals from a fixed start and adds them up with python-dateutil.

Usage: intervals_live.py [HOW_MANY]
Prints CSV with a header (years, months, weeks, days added from the anchor): text,start,limit,dates.
"""

import csv
import datetime
import random
import sys

from dateutil.relativedelta import relativedelta

LIMIT = 12


def draw_interval(draw):
    amounts = {"years": draw.randint(0, 3), "months": draw.randint(0, 14), "weeks": draw.randint(0, 5), "days": draw.randint(0, 40)}
    kept = {unit: amounts[unit] for unit in amounts if amounts[unit] and draw.random() < 0.6}
    return kept or {"months": draw.randint(1, 24)}


def main():
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    draw = random.Random(5545)
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["text", "start", "limit", "dates"])
    for _ in range(how_many):
        start = datetime.date(2024, 1, 1) + datetime.timedelta(draw.randint(0, 2200))
        amounts = draw_interval(draw)
        text = " ".join(f"{amount} {unit}" for unit, amount in amounts.items())
        times = range(1, LIMIT + 1)
        dates = [start + relativedelta(**{unit: amount * n for unit, amount in amounts.items()}) for n in times]
        out.writerow([text, start.isoformat(), LIMIT, " ".join(d.isoformat() for d in dates)])


if __name__ == "__main__":
    main()
