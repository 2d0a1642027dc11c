"""Compile an annotated class: its timed transcript in several caption styles, and the gold set sheet.

usage: compile_class.py SCRIPT... OUTDIR

Writes NAME.vtt, .srt, .txt, .rolling.vtt, .words.json, .clean.vtt (without capitals taken off or words misheard) and
NAME.gold.csv. The same script always gives the same bytes: pauses are drawn from a generator seeded with its name.

A script is what an invented instructor says, with directives that carry the annotation:

- ``# key: value`` first: title, trainer, style, rate (spoken words a second), cue, case (``cased`` keeps capitals and
  punctuation);
- a line that starts with ``:`` is a directive, any other is spoken text;
- ``:pause N`` seconds without speech; ``:section KIND``; ``:group ARRANGEMENT`` starts a group;
- ``:set ex="name|other accepted name" round=1 reps=10 work_s=40 side=left load=12 unit=lb basis=per_hand rel=lighter
  finisher=pulses`` opens one performed set where the work starts, ``:end`` closes it; keys that do not apply are left
  out;
- ``{what was said|what the caption shows}`` is a span that the captioning got wrong.
"""

from __future__ import annotations

import csv
import json
import random
import re
import shlex
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

SET_FIELDS = ["round", "exercise", "side", "reps", "work_s", "load", "unit", "basis", "rel", "finisher"]
FIELDS = ["start", "end", "section", "group", "arrangement", *SET_FIELDS]
SET_KEYS = {"ex", *SET_FIELDS} - {"exercise"}
STYLES = (".vtt", ".srt", ".txt", ".rolling.vtt", ".words.json", ".clean.vtt")
SPAN = re.compile(r"\{([^|{}]*)\|([^|{}]*)\}")
UNSAID = re.compile(r"[^\w'%$.:-]|[.:](?!\d)|(?<!\d)-(?!\d)")  # punctuation that lower-case captions leave out

Word = tuple[str, float, float]  # text, start, end in seconds
Caption = tuple[float, float, str]


@dataclass
class CompiledClass:
    """Words as captioned and as said, and the rows of the gold sheet."""

    name: str
    meta: dict[str, str]
    words: list[Word] = field(default_factory=list)
    clean: list[Word] = field(default_factory=list)
    rows: list[dict[str, Any]] = field(default_factory=list)


def parse_script(path: Path) -> tuple[dict[str, str], list[tuple[int, str, list[str]]]]:
    """The heading, and the items ``(line, directive or 'say', arguments)``."""
    meta: dict[str, str] = {}
    items: list[tuple[int, str, list[str]]] = []
    for number, raw in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        line = raw.strip()
        if line.startswith("#"):
            key, _, value = line[1:].partition(":")
            meta[key.strip()] = value.strip()
        elif line.startswith(":"):
            kind, *arguments = shlex.split(line[1:])
            items.append((number, kind, arguments))
        elif line:
            items.append((number, "say", [line]))
    return meta, items


def compile_class(path: Path) -> CompiledClass:
    """Lay the speech of a script on a timeline.

    Raises:
        ValueError: a directive is unknown or out of place, with file and line.
    """
    meta, items = parse_script(path)
    made = CompiledClass(path.stem, meta)
    rng = random.Random(path.stem)
    rate = float(meta.get("rate", 2.3))
    now = 4.0
    section, group, arrangement = "intro", 0, ""
    row: dict[str, Any] | None = None
    for number, kind, arguments in items:
        where = f"{path}:{number}"
        if kind == "say":
            now += _say(made, arguments[0], now, rate) + rng.uniform(0.15, 0.5)
        elif kind == "pause":
            now += float(arguments[0])
        elif kind == "section":
            section, arrangement = arguments[0], ""
        elif kind == "group":
            group, arrangement = group + 1, arguments[0]
        elif kind == "set":
            if row is not None:
                raise ValueError(f"{where}: set inside a set")
            row = _open_row(arguments, where)
            row |= {"section": section, "group": group, "arrangement": arrangement, "start": round(now, 1)}
        elif kind == "end":
            if row is None:
                raise ValueError(f"{where}: end without set")
            made.rows.append(row | {"end": round(now, 1)})
            row = None
        else:
            raise ValueError(f"{where}: unknown directive {kind}")
    if row is not None:
        raise ValueError(f"{path}: last set not closed")
    return made


def _say(made: CompiledClass, line: str, now: float, rate: float) -> float:
    """Add the words of a line; the seconds that it takes to say."""
    said = max(len(SPAN.sub(r"\1", line).split()), 1)
    for out, group in ((made.words, r"\2"), (made.clean, r"\1")):
        tokens = SPAN.sub(group, line).split()
        step = said / rate / max(len(tokens), 1)
        out += [(token, now + i * step, now + (i + 0.97) * step) for i, token in enumerate(tokens)]
    return said / rate


def _open_row(arguments: list[str], where: str) -> dict[str, Any]:
    values = dict(argument.split("=", 1) for argument in arguments)
    if "ex" not in values or values.keys() - SET_KEYS:
        raise ValueError(f"{where}: a set needs ex= and no other keys than {sorted(SET_KEYS)}")
    row: dict[str, Any] = dict.fromkeys(FIELDS, "") | {"round": "1"} | values
    row["exercise"] = row.pop("ex")
    return row


def format_time(seconds: float, mark: str = ".") -> str:
    ms = round(seconds * 1000)
    return f"{ms // 3600000:02d}:{ms // 60000 % 60:02d}:{ms // 1000 % 60:02d}{mark}{ms % 1000:03d}"


def write_word(word: str, meta: dict[str, str]) -> str:
    """The word as the captions have it."""
    if meta.get("case") == "cased":
        return word
    return UNSAID.sub(lambda m: " " if m.group() == "-" else "", word.lower())


def cut_captions(words: list[Word], meta: dict[str, str], long: bool) -> list[Caption]:
    """Captions of a few seconds, or blocks of about 40."""
    limit, gap = (38.0, 30.0) if long else (4.2, 1.6)
    cut: list[list[Word]] = []
    for word in words:
        current = cut[-1] if cut else []
        if not current or word[2] - current[0][1] > limit or word[1] - current[-1][2] > gap:
            cut.append([])
        cut[-1].append(word)
    return [(c[0][1], c[-1][2], " ".join(t for t in (write_word(w[0], meta) for w in c) if t)) for c in cut]


def format_vtt(captions: list[Caption]) -> str:
    blocks = (f"{format_time(a)} --> {format_time(b)}\n{text}" for a, b, text in captions)
    return "WEBVTT\n\n" + "\n\n".join(blocks) + "\n"


def format_rolling(captions: list[Caption], words: list[Word], meta: dict[str, str]) -> str:
    """Captions that repeat the line before and carry word times, as live captioning writes them."""
    lines = ["WEBVTT", "Kind: captions", "Language: en", ""]
    before = ""
    for a, b, text in captions:
        inside = [w for w in words if a <= w[1] < b]
        timed = "".join(
            f"<{format_time(w[1])}><c> {write_word(w[0], meta)}</c>" if n else write_word(w[0], meta)
            for n, w in enumerate(inside)
        )
        lines += [f"{format_time(a)} --> {format_time(b)} align:start position:0%", before or " ", timed, ""]
        lines += [f"{format_time(b)} --> {format_time(b + 0.01)} align:start position:0%", text, " ", ""]
        before = text
    return "\n".join(lines)


def format_words_json(captions: list[Caption], words: list[Word], meta: dict[str, str]) -> str:
    """Segments with words, as speech recognisers write them."""
    segments = []
    for n, (a, b, text) in enumerate(captions):
        spoken = [
            {"word": " " + write_word(w[0], meta), "start": round(w[1], 2), "end": round(w[2], 2), "probability": 0.9}
            for w in words
            if a <= w[1] < b
        ]
        segments.append({"id": n, "start": round(a, 2), "end": round(b, 2), "text": " " + text, "words": spoken})
    whole = " ".join(segment["text"].strip() for segment in segments)  # type: ignore[attr-defined]
    return json.dumps({"text": whole, "segments": segments, "language": "en"}, indent=1)


def write_class(script: Path, folder: Path) -> CompiledClass:
    """Compile a script and write every caption style and the gold sheet into ``folder``."""
    made = compile_class(script)
    meta = made.meta
    short, long = cut_captions(made.words, meta, long=False), cut_captions(made.words, meta, long=True)
    clean = cut_captions(made.clean, meta | {"case": "cased"}, long=False)
    srt = (f"{n}\n{format_time(a, ',')} --> {format_time(b, ',')}\n{x}\n" for n, (a, b, x) in enumerate(short, 1))
    texts = {
        ".vtt": format_vtt(short),
        ".clean.vtt": format_vtt(clean),
        ".srt": "\n".join(srt),
        ".txt": "\n\n".join(f"[{int(a) // 60}:{int(a) % 60:02d}] {x}" for a, _, x in long) + "\n",
        ".rolling.vtt": format_rolling(short, made.words, meta),
        ".words.json": format_words_json(short, made.words, meta),
    }
    folder.mkdir(parents=True, exist_ok=True)
    for suffix, text in texts.items():
        (folder / (made.name + suffix)).write_text(text, encoding="utf-8", newline="\n")
    with (folder / (made.name + ".gold.csv")).open("w", newline="", encoding="utf-8") as stream:
        writer = csv.DictWriter(stream, FIELDS)
        writer.writeheader()
        writer.writerows(made.rows)
    return made


def main(*arguments: str) -> None:
    *scripts, folder = arguments
    for script in scripts:
        made = write_class(Path(script), Path(folder))
        minutes = made.words[-1][2] / 60
        print(f"{made.name}: {len(made.words)} words, {minutes:.1f} min, {len(made.rows)} sets")


if __name__ == "__main__":
    main(*sys.argv[1:])
