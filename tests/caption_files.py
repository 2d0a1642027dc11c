"""Captions written in each format that is read, for tests that need the same speech in all of them."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence

from gold.compile_class import format_time, format_vtt
from setdown.read import FORMATS

Caption = tuple[int, int, str]  # start and end in ms, text


def write_webvtt(captions: Sequence[Caption]) -> str:
    return format_vtt([(a / 1000, b / 1000, text) for a, b, text in captions])


def write_subrip(captions: Sequence[Caption]) -> str:
    return "\n".join(
        f"{n}\n{format_time(a / 1000, ',')} --> {format_time(b / 1000, ',')}\n{text}\n"
        for n, (a, b, text) in enumerate(captions, 1)
    )


def write_ttml(captions: Sequence[Caption]) -> str:
    lines = (f'<p begin="{a}ms" end="{b}ms">{text}</p>' for a, b, text in captions)
    head = '<tt xmlns="http://www.w3.org/ns/ttml" xml:lang="en"><body><div>'
    return "\n".join([head, *lines, "</div></body></tt>\n"])


def write_asr_json(captions: Sequence[Caption]) -> str:
    """With word times, spread evenly over each segment."""
    segments = []
    for a, b, text in captions:
        words = text.split()
        step = (b - a) / 1000 / max(len(words), 1)
        timed = [
            {"word": w, "start": round(a / 1000 + i * step, 3), "end": round(a / 1000 + (i + 1) * step, 3)}
            for i, w in enumerate(words)
        ]
        segments.append({"start": a / 1000, "end": b / 1000, "text": text, "words": timed})
    return json.dumps({"language": "en", "segments": segments})


def write_bracketed(captions: Sequence[Caption]) -> str:
    return "\n\n".join(f"[{a // 60_000}:{a // 1000 % 60:02d}] {text}" for a, _, text in captions) + "\n"


WRITERS: dict[str, Callable[[Sequence[Caption]], str]] = {
    "webvtt": write_webvtt,
    "subrip": write_subrip,
    "ttml": write_ttml,
    "asr_json": write_asr_json,
    "bracketed": write_bracketed,
}
assert set(WRITERS) == set(FORMATS)
