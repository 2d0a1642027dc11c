"""Milliseconds and the forms people read out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.model.timecode import format_clock, parse_clock


@given(st.integers(0, 10**9))
def test_what_is_formatted_is_read_back(ms):
    """To the second, rounded down."""
    assert parse_clock(format_clock(ms)) == ms // 1000 * 1000


@pytest.mark.parametrize(
    ("ms", "text"),
    [
        (0, "0:00"),
        (999, "0:00"),
        (59_999, "0:59"),
        (60_000, "1:00"),
        (754_000, "12:34"),
        (3_753_000, "1:02:33"),
        (-5, "0:00"),
    ],
)
def test_clocks_are_written_short(ms, text):
    """Hours only when there are any."""
    assert format_clock(ms) == text


@pytest.mark.parametrize(
    ("text", "ms"),
    [
        *(("12:40", 760_000), ("1:02:33", 3_753_000), ("95", 95_000), ("95.5", 95_500), (" 0:07 ", 7_000)),
        *(("120:00", 7_200_000), ("1:00.25", 60_250)),
    ],
)
def test_times_are_read(text, ms):
    """Minutes and seconds, hours too, or plain seconds with a fraction."""
    assert parse_clock(text) == ms


@pytest.mark.parametrize(
    "text", ["", "soon", "1:60", "1:75:00", ":30", "3:", "1:2:3:4", "-5", "1:-5", "nan", "inf", "1e99"]
)
def test_what_is_no_time_is_refused(text):
    """With a ValueError that holds it."""
    with pytest.raises(ValueError, match=r".+"):
        parse_clock(text)
