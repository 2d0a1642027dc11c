"""Weeks of ISO 8601: from Monday to Sunday, week 1 is the one with the year's first Thursday (``2020-W53``)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta


def name_week(day: str) -> str:
    """``2021-01-03`` -> ``2020-W53``. The year is the week's, which can differ from the day's."""
    year, week, _ = date.fromisoformat(day).isocalendar()
    return f"{year:04d}-W{week:02d}"


def find_monday(week: str) -> date:
    """``2020-W53`` -> 28 December 2020."""
    year, number = week.split("-W")
    return date.fromisocalendar(int(year), int(number), 1)


def list_weeks(days: Iterable[str]) -> list[str]:
    """Every week from that of the first day to that of the last, those without a class too."""
    named = sorted(days)
    if not named:
        return []
    monday, last = find_monday(name_week(named[0])), find_monday(name_week(named[-1]))
    weeks = []
    while monday <= last:
        weeks.append(name_week(monday.isoformat()))
        monday += timedelta(days=7)
    return weeks


def count_weeks(earlier: str, later: str) -> int:
    """How many weeks lie between the weeks of two days: 0 in the same week."""
    return (find_monday(name_week(later)) - find_monday(name_week(earlier))).days // 7
