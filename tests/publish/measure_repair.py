"""Measure the repair of captions on annotated classes whose captions were corrupted on purpose.

usage: measure_repair.py [--held-back] [--seed N] [--rate 0.3] [--show]

The truth is what an invented instructor says in ``tests/gold/scripts``. Words of the trade in it (names of movements,
kit, units, numbers with units) are found with the lexicon and, at the given rate, corrupted in one of three ways:

- ``listed``: as ``lexicon/misheard.csv`` says that captions write it;
- ``split``: a compound written as two words;
- ``sound``: one word replaced by another English word with the same Metaphone code (L. Philips, 'Hanging on the
  Metaphone', Computer Language 7(12), 1990; Double Metaphone by the package Metaphone), as many vowels (groups of them)
  and most letters in common, which the list does not hold: these are held out, nobody wrote the repair with them in
  view.

A class has about as many of each as it has places for them. A fourth column, ``annotated``, leaves the truth as it is
but for the mis-hearings that the scripts themselves hold.

Word error rate: substitutions, deletions and insertions by the shortest alignment (Levenshtein) of all words of the
class, divided by the number of words concerned; an insertion counts for the word before it. Hyphens are spaces.
``changed``: words that are not of the trade, were right, and are not after the repair.
"""

from __future__ import annotations

import argparse
import random
import re
import tomllib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from metaphone import doublemetaphone
from rapidfuzz.distance import Levenshtein
from rapidfuzz.fuzz import ratio

from gold.compile_class import CompiledClass, compile_class, write_word
from setdown.lexicon import Lexicon, load_lexicon
from setdown.lexicon.normal import normalise_word
from setdown.publish.repair import find_repairs
from setdown.tag.kit import tag_kit
from setdown.tag.numbers import find_numbers

LEAST_ALIKE = 60.0  # per cent of letters of a word and its sound-alike
GOLD = Path(__file__).parent.parent / "gold"
KINDS = ("listed", "split", "sound")
UNIT_WORDS = frozenset(
    [
        "pound",
        "pounds",
        "lb",
        "lbs",
        "kilo",
        "kilos",
        "kg",
        "rep",
        "reps",
        "second",
        "seconds",
        "minute",
        "minutes",
        "percent",
    ]
)


@dataclass
class Tally:
    """Errors before and after, by kind of corruption, and what happened to the other words."""

    trade: int = 0
    others: int = 0
    before: Counter[str] = field(default_factory=Counter)
    after: Counter[str] = field(default_factory=Counter)
    changed: int = 0

    def add(self, other: Tally) -> None:
        self.trade += other.trade
        self.others += other.others
        self.before += other.before
        self.after += other.after
        self.changed += other.changed


def list_classes(held_back: bool) -> list[Path]:
    """The scripts of the tuning classes, or of those held back."""
    back = set(tomllib.loads((GOLD / "split.toml").read_text(encoding="utf-8"))["held_back"])
    scripts = sorted((GOLD / "scripts").glob("*.script"))
    return [path for path in scripts if (path.stem.split("-")[0] in back) == held_back]


def say_words(made: CompiledClass, captioned: bool = False) -> list[str]:
    """What was said (or captioned), as lower-case captions write it."""
    meta = made.meta | {"case": "lower"}
    return [w for word in (made.words if captioned else made.clean) for w in write_word(word[0], meta).split()]


def find_trade(words: Sequence[str], lexicon: Lexicon) -> list[tuple[int, int]]:
    """Spans of words of the trade, none overlapping."""
    spans = [(h.start, h.end) for h in lexicon.find_movements(words) if h.method in ("exact", "variant") and not h.weak]
    spans += [(m.start, m.end) for m in tag_kit(words, lexicon)]
    numbers = [n for n in find_numbers(words) if n.end < len(words) and words[n.end] in UNIT_WORDS]
    spans += [(n.start, n.end + 1) for n in numbers]
    spans += [(at, at + 1) for at, word in enumerate(words) if word in UNIT_WORDS]
    kept: list[tuple[int, int]] = []
    for start, end in sorted(spans, key=lambda span: (span[0] - span[1], span)):
        if all(end <= a or b <= start for a, b in kept):
            kept.append((start, end))
    return sorted(kept)


def count_vowels(word: str) -> int:
    """Groups of vowels, about the syllables; a last e is silent."""
    return len(re.findall(r"[aeiouy]+", word.removesuffix("e") or word))


class Corruptor:
    """Corrupts spans; words that sound alike come from the words of all scripts and the lexicon's everyday words."""

    def __init__(self, lexicon: Lexicon, vocabulary: set[str]) -> None:
        self.listed: dict[tuple[str, ...], list[str]] = {}
        self.pairs = set()
        for row in lexicon.misheard:
            heard, said = row.heard.rstrip("?"), row.said
            self.listed.setdefault(tuple(said.split()), []).append(heard)
            self.pairs |= {(a, b) for a in heard.split() for b in said.split()}
        self.sounds: dict[str, list[str]] = {}
        for word in sorted(vocabulary):
            if word.isalpha() and len(word) > 2:
                self.sounds.setdefault(doublemetaphone(word)[0], []).append(word)
        self.solid = sorted(
            {w for m in lexicon.movements.values() for w in m.name.split() if w.isalpha() and len(w) >= 7}
            | {w for k in lexicon.kit.values() for w in k.name.split() if w.isalpha() and len(w) >= 7}
        )
        self.whole = {w for m in lexicon.movements.values() for n in (m.name, *m.names) for w in n.split()}

    def offer(self, span: Sequence[str]) -> dict[str, list[list[str]]]:
        """All ways to corrupt these words, by kind."""
        ways: dict[str, list[list[str]]] = {kind: [] for kind in KINDS}
        for start in range(len(span)):
            for end in range(start + 1, len(span) + 1):
                for heard in self.listed.get(tuple(span[start:end]), ()):
                    ways["listed"].append([*span[:start], *heard.split(), *span[end:]])
        for at, word in enumerate(span):
            ways["split"] += [[*span[:at], *parts, *span[at + 1 :]] for parts in self.split(word)]
            code = doublemetaphone(word)[0] if word.isalpha() else ""
            for other in self.sounds.get(code, ()) if len(code) > 1 else ():
                if count_vowels(other) != count_vowels(word) or ratio(other, word) < LEAST_ALIKE:
                    continue
                same = normalise_word(other) == normalise_word(word) or other in self.whole
                if not same and (other, word) not in self.pairs:
                    ways["sound"].append([*span[:at], other, *span[at + 1 :]])
        return ways

    def split(self, word: str) -> list[list[str]]:
        """A compound of the trade as two words: ``dumbbells`` -> ``dumb bells``."""
        stem = word.removesuffix("s")
        parts = ("dumb bell", "kettle bell", "bar bell", "dead lift", "kick back", "pull over", "pull down")
        cut = next((part.index(" ") for part in parts if part.replace(" ", "") == stem), 0)
        return [[word[:cut], word[cut:]]] if cut else []


def corrupt(
    words: Sequence[str], spans: Sequence[tuple[int, int]], corruptor: Corruptor, rng: random.Random, rate: float
) -> tuple[list[str], dict[int, str]]:
    """The words with some spans corrupted, and the kind of corruption by the places of the truth that it touches."""
    out: list[str] = []
    kinds: dict[int, str] = {}
    at = 0
    for start, end in spans:
        out += words[at:start]
        ways = {kind: made for kind, made in corruptor.offer(words[start:end]).items() if made}
        if ways and rng.random() < rate:
            kind = rng.choice(sorted(ways))
            out += rng.choice(ways[kind])
            kinds |= dict.fromkeys(range(start, end), kind)
        else:
            out += words[start:end]
        at = end
    return out + list(words[at:]), kinds


def apply_repairs(words: Sequence[str], lexicon: Lexicon, show: bool = False) -> list[str]:
    """The words with every repair made."""
    out: list[str] = []
    at = 0
    for repair in find_repairs(words, lexicon):
        if show:
            around = " ".join(words[max(0, repair.start - 4) : repair.end + 4])
            print(f"   {repair.was!r} -> {repair.now!r}  ({repair.why}, {repair.sureness:.2f})  in: {around}")
        out += words[at : repair.start] + repair.now.split()
        at = repair.end
    return out + list(words[at:])


def split_hyphens(words: Sequence[str]) -> list[str]:
    return [part for word in words for part in word.replace("-", " ").split()]


def find_errors(truth: Sequence[str], other: Sequence[str]) -> Counter[int]:
    """Errors by the place in the truth; an insertion counts for the word before it."""
    errors: Counter[int] = Counter()
    for op in Levenshtein.editops(list(truth), list(other)):
        errors[max(0, op.src_pos - (op.tag == "insert"))] += 1
    return errors


def score(
    truth: Sequence[str], heard: Sequence[str], repaired: Sequence[str], trade: set[int], kinds: dict[int, str]
) -> Tally:
    before, after = find_errors(truth, heard), find_errors(truth, repaired)
    tally = Tally(trade=len(trade), others=len(truth) - len(trade))
    for at in trade:
        kind = kinds.get(at, "spared")
        tally.before[kind] += before[at]
        tally.after[kind] += after[at]
    tally.changed = sum(max(0, after[at] - before[at]) for at in range(len(truth)) if at not in trade)
    return tally


def measure(
    scripts: Sequence[Path], lexicon: Lexicon, seed: int = 1, rate: float = 0.3, show: bool = False
) -> tuple[Tally, Tally]:
    """Over these classes: corrupted on purpose, and as annotated."""
    everyone = {path: compile_class(path) for path in sorted((GOLD / "scripts").glob("*.script"))}
    from setdown.lexicon.everyday import load_everyday

    vocabulary = {w for made in everyone.values() for w in say_words(made)} | set(load_everyday())
    corruptor = Corruptor(lexicon, vocabulary)
    total, annotated = Tally(), Tally()
    for path in scripts:
        made = everyone[path]
        words = split_hyphens(say_words(made))
        spans = find_trade(words, lexicon)
        trade = {at for start, end in spans for at in range(start, end)}
        heard, kinds = corrupt(words, spans, corruptor, random.Random(f"{seed}{path.stem}"), rate)
        if show:
            print(path.stem)
        total.add(score(words, heard, split_hyphens(apply_repairs(heard, lexicon, show)), trade, kinds))
        captioned = split_hyphens(say_words(made, captioned=True))
        annotated.add(score(words, captioned, split_hyphens(apply_repairs(captioned, lexicon)), trade, {}))
    return total, annotated


def print_tally(name: str, tally: Tally) -> None:
    before, after = sum(tally.before.values()), sum(tally.after.values())
    print(
        f"{name}: {tally.trade} words of the trade, error rate {before / tally.trade:.2%} -> {after / tally.trade:.2%}"
    )
    for kind in sorted(tally.before | tally.after):
        print(f"   {kind:9} errors {tally.before[kind]:5} -> {tally.after[kind]:5}")
    per = f"1 in {tally.others // tally.changed}" if tally.changed else "none"
    print(f"   other words changed for the worse: {tally.changed} of {tally.others} ({per})")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--held-back", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rate", type=float, default=0.3)
    parser.add_argument("--show", action="store_true")
    given = parser.parse_args()
    corrupted, annotated = measure(list_classes(given.held_back), load_lexicon(), given.seed, given.rate, given.show)
    print_tally("corrupted", corrupted)
    print_tally("annotated", annotated)


if __name__ == "__main__":
    main()
