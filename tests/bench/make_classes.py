"""Many distinct classes made from the annotated ones: transcripts to extract, or entries to index in bulk.

usage: python tests/bench/make_classes.py COUNT FOLDER

A class has the beginning of one annotated class, the main part of a second and the end of a third, at a pace of its
own, with other numbers said. Title, instructor and day are made up as well. The same number gives the same class.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE.parent / "gold")]

from gold.compile_class import CompiledClass, Word, compile_class, cut_captions, format_vtt  # noqa: E402

FIRST_DAY = date(2004, 1, 5)
LEAD_S = 20.0  # before its first set a part is introduced
SWAPS = {  # numbers that may stand for one another
    "eight": ("six", "eight", "nine"),
    "ten": ("eight", "ten", "twelve"),
    "twelve": ("ten", "twelve", "fourteen"),
    "fifteen": ("twelve", "fifteen", "sixteen"),
    "twenty": ("fifteen", "twenty"),
    "thirty": ("twenty", "thirty", "forty"),
    "forty": ("thirty", "forty", "fifty"),
}
FIRST_NAMES = ("Ada", "Bram", "Cleo", "Dov", "Esme", "Fenn", "Greer", "Hollis", "Ines", "Jory", "Kit", "Lorna")
LAST_NAMES = ("Quill", "Tarrowby", "Pellan", "Fenwright", "Osk", "Marlowe-Tay", "Brindle", "Sayle", "Thorne", "Uwe")
WORDS = (
    "Quay",
    "Harbour",
    "Attic",
    "Orchard",
    "Tin",
    "Copper",
    "Slow",
    "Morning",
    "Ferry",
    "Lantern",
    "Rain",
    "Meadow",
)


@dataclass(frozen=True)
class Parts:
    """The words of an annotated class before its main part, in it, and after it."""

    beginning: tuple[Word, ...]
    main: tuple[Word, ...]
    end: tuple[Word, ...]


@dataclass(frozen=True)
class MadeClass:
    """One class: its captions as WebVTT, and what its meta file says."""

    name: str
    vtt: str
    title: str
    instructor: str
    day: str

    @property
    def meta(self) -> str:
        return (
            f'title = "{self.title}"\ninstructor = "{self.instructor}"\ndate = {self.day}\nmedia = "{self.name}.mp4"\n'
        )


@cache
def list_parts() -> tuple[Parts, ...]:
    """All annotated classes, cut."""
    scripts = sorted((HERE.parent / "gold" / "scripts").glob("*.script"))
    return tuple(_cut(compile_class(script)) for script in scripts)


def _cut(made: CompiledClass) -> Parts:
    starts = {
        kind: [float(row["start"]) for row in made.rows if row["section"] == kind] for kind in ("main", "cool_down")
    }
    last = made.words[-1][2] + 1
    middle = max(0.0, min(starts["main"], default=0.0) - LEAD_S)
    late = [start for start in starts["cool_down"] if start > middle]
    end = max(middle, min(late, default=last) - LEAD_S)
    return Parts(
        tuple(word for word in made.words if word[1] < middle),
        tuple(word for word in made.words if middle <= word[1] < end),
        tuple(word for word in made.words if word[1] >= end),
    )


def make_class(number: int) -> MadeClass:
    """The class with this number."""
    chance = random.Random(number)
    parts = list_parts()
    chosen = [chance.choice(parts).beginning, chance.choice(parts).main, chance.choice(parts).end]
    pace = chance.uniform(0.92, 1.08)
    swaps = {word: chance.choice(others) for word, others in SWAPS.items()}
    words: list[Word] = []
    now = 0.0
    for part in chosen:
        if part:
            first = part[0][1]
            words += [
                (swaps.get(text, text), now + (a - first) * pace, now + (b - first) * pace) for text, a, b in part
            ]
            now = words[-1][2] + 2.0
    name = f"class-{number:06d}"
    return MadeClass(
        name=name,
        vtt=format_vtt(cut_captions(words, {"case": "lower"}, long=False)),
        title=f"{chance.choice(WORDS)} {chance.choice(WORDS)} {number}",
        instructor=f"{chance.choice(FIRST_NAMES)} {chance.choice(LAST_NAMES)}",
        day=(FIRST_DAY + timedelta(days=number % 7300)).isoformat(),
    )


def write_classes(count: int, folder: Path) -> None:
    """NAME.vtt and NAME.meta.toml of the first ``count`` classes, a thousand to a folder; what is there is kept."""
    for number in range(count):
        place = folder / f"{number // 1000:03d}"
        place.mkdir(parents=True, exist_ok=True)
        target = place / f"class-{number:06d}.vtt"
        if not target.exists():
            made = make_class(number)
            target.with_suffix(".meta.toml").write_text(made.meta, encoding="utf-8")
            target.write_text(made.vtt, encoding="utf-8", newline="\n")


def vary_entries(pool: Sequence[object], count: int) -> Iterator[object]:
    """``count`` entries for the catalogue, each one of the pool with a few sets left out and a title, day and length of
    its own."""
    for number in range(count):
        chance = random.Random(f"entry {number}")
        entry = pool[number % len(pool)]
        kept = [one for one in entry.sets if chance.random() > 0.1] or list(entry.sets)
        tallies = {}
        for one in kept:
            tallies[one.movement] = tallies.get(one.movement, 0) + 1
        yield replace(
            entry,
            location=f"/bulk/{number // 1000:03d}/class-{number:06d}",
            title=f"{chance.choice(WORDS)} {chance.choice(WORDS)} {number}",
            instructor=f"{chance.choice(FIRST_NAMES)} {chance.choice(LAST_NAMES)}",
            date=(FIRST_DAY + timedelta(days=number % 7300)).isoformat() if number % 11 else "",
            duration_ms=round(entry.duration_ms * chance.uniform(0.8, 1.2)),
            sets=tuple(kept),
            tallies=tuple(
                tally._replace(
                    sets=tallies[tally.movement], counted_halves=min(tally.counted_halves, 2 * tallies[tally.movement])
                )
                for tally in entry.tallies
                if tally.movement in tallies
            ),
        )


if __name__ == "__main__":
    write_classes(int(sys.argv[1]), Path(sys.argv[2]))
