"""Prints instants of wall times as Python's zoneinfo has them: around every clock change of some zones, and spread over years.

usage: zoneinfo-wall-times.py > tests/board/zoneinfo-wall-times.csv

A wall time is looked up with fold 0: the first of two, and for a time left out the offset before the change.
"""

import random
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

ZONES = [
    "America/New_York", "America/St_Johns", "America/Havana", "America/Santiago", "America/Sao_Paulo", "America/Nuuk",
    "America/Phoenix", "Europe/Berlin", "Europe/Dublin", "Africa/Casablanca", "Africa/Cairo", "Asia/Kathmandu",
    "Asia/Tehran", "Asia/Beirut", "Asia/Pyongyang", "Australia/Lord_Howe", "Australia/Adelaide", "Pacific/Apia",
    "Pacific/Chatham", "Pacific/Kiritimati", "Antarctica/Troll", "UTC",
]
FIRST = datetime(2011, 1, 1)
LAST = datetime(2025, 1, 1)
LEFT_OUT = "2011-12-30"


def changes(zone):
    """Wall times, by the offset before, at which the clock of a zone changes."""
    at = FIRST.replace(tzinfo=timezone.utc)
    found = []
    step = timedelta(hours=1)
    before = at.astimezone(zone).utcoffset()
    while at.year < LAST.year:
        after = (at + step).astimezone(zone).utcoffset()
        if after != before:
            found.append((at + step + before).replace(tzinfo=None))
        at, before = at + step, after
    return found


def row(name, wall):
    instant = wall.replace(tzinfo=ZoneInfo(name), fold=0).astimezone(timezone.utc)
    return [name, wall.strftime("%Y-%m-%d"), wall.strftime("%H:%M"), instant.strftime("%Y-%m-%dT%H:%MZ")]


random.seed(20260114)
rows = []
for name in ZONES:
    walls = [FIRST + timedelta(minutes=random.randrange(0, 14 * 365 * 24 * 60)) for _ in range(15)]
    for change in random.sample(found := changes(ZoneInfo(name)), min(8, len(found))):
        walls += [change + timedelta(minutes=minutes) for minutes in (-60, -30, -1, 0, 29, 30, 59, 60)]
    rows += [row(name, wall) for wall in walls if not (name == "Pacific/Apia" and wall.strftime("%Y-%m-%d") == LEFT_OUT)]
print("\n".join(",".join(each) for each in rows))
