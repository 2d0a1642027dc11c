"""Milliseconds in, the forms people read out."""

from __future__ import annotations


def format_clock(ms: int) -> str:
    """``754000`` -> ``12:34``; hours only when there are any (``1:02:33``). Rounds down to the second."""
    seconds = max(ms, 0) // 1000
    hours, rest = divmod(seconds, 3600)
    minutes, seconds = divmod(rest, 60)
    return f"{hours}:{minutes:02d}:{seconds:02d}" if hours else f"{minutes}:{seconds:02d}"


def parse_clock(text: str) -> int:
    """``12:40``, ``1:02:33``, ``95`` or ``95.5`` (seconds) -> milliseconds.

    Raises:
        ValueError: the text is none of these, or minutes or seconds after a colon exceed 59.
    """
    parts = text.strip().split(":")
    if not 1 <= len(parts) <= 3 or any(not p for p in parts):
        raise ValueError(f"not a time: {text!r}")
    total = float(parts[0])
    if not 0 <= total < 1e9:
        raise ValueError(f"not a time: {text!r}")
    for part in parts[1:]:
        value = float(part)
        if not 0 <= value < 60:
            raise ValueError(f"not a time: {text!r}")
        total = total * 60 + value
    return round(total * 1000)
