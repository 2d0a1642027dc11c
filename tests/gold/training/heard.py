"""Lines heard in the annotated classes: how their moves were announced and coached, for the movements' profiles."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

from training.classes import AnnotatedClass
from training.rankers import find_movement

from setdown.lexicon import Lexicon
from setdown.lexicon.profiles import ProfileModel, gather_texts, learn_profiles

HEARD = "heard.csv"
BEFORE, AFTER = 30, 45
Line = tuple[str, str, tuple[str, ...]]  # class, movement id, words


def list_heard(classes: Iterable[AnnotatedClass], lexicon: Lexicon) -> list[Line]:
    """One line per gold set (and side) of one style: the talk just before it and its first words."""
    lines: list[Line] = []
    for item in classes:
        words = item.tagged.words
        stop = 0
        for row, (start, end) in zip(item.gold, item.spans, strict=True):
            movement = first_known(row["exercise"], lexicon)
            text = words[max(stop, start - BEFORE) : min(max(end, start + 3), start + AFTER)]
            if movement and text:
                lines.append((item.name, movement, tuple(text)))
            stop = end
    return lines


def first_known(names: str, lexicon: Lexicon) -> str:
    """The movement that the first of gold's names finds; else one whose own name gold accepts."""
    for name in names.split("|"):
        found = lexicon.look_up(name)
        if found is not None:
            return found.id
    return find_movement(names, lexicon)


def build_profiles(lexicon: Lexicon, lines: Sequence[Line], without: frozenset[str] = frozenset()) -> ProfileModel:
    """The profiles with the lines heard in all classes but ``without``."""
    texts = gather_texts(lexicon, frozenset({HEARD}))
    texts += [(movement, words, 1) for name, movement, words in lines if name not in without]
    return learn_profiles(texts)


def write_heard(path: Path, lines: Sequence[Line]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["id", "text"])
        writer.writerows(sorted({(movement, " ".join(words)) for _, movement, words in lines}))
