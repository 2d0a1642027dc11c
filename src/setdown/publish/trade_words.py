"""The words of the trade and the company they keep: what tells 'rows' from 'rose' after 'dumbbell'.

Terms are the single words of movement names, kit, units and numbers. Their company is learned from the names
themselves, from the hand-written lines of coaching in ``lexicon/coached``, and from the class at hand.
"""

from __future__ import annotations

import csv
import re
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, field
from itertools import chain, pairwise

from setdown.lexicon import Lexicon
from setdown.lexicon.everyday import FUNCTION_WORDS, is_everyday
from setdown.lexicon.normal import normalise_word
from setdown.lexicon.sound import join_keys

HEARD_FILE = "heard.csv"  # lines as captions had them: they hold the very mis-hearings that are looked for
_WORD = re.compile(r"[a-z']+")
SHORTEST_TERM = 3
SHORTEST_KEY = 2
SEEN_BEFORE_KIT = 3  # times that two words must have stood before kit to speak for it
SELDOM = 60_000  # rarer words than one in so many are no usual talk of a class: a joke, a picture
COMMON = 300  # a word is common in coaching that is one in so many, or more
_NUMBERS = """
    two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen
    nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred
"""
NUMBER_WORDS = frozenset(_NUMBERS.split())
_ORDINALS = "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth fifteenth twentieth"
ORDINALS = frozenset(_ORDINALS.split())


@dataclass(slots=True)
class TradeWords:
    """What is known of words of the trade.

    Attributes:
        by_key: terms as they are said, by their sound.
        pairs: how often two normal pieces stand together.
        units: normal pieces of units.
        measures: units of mass and time as they are said.
        known: the words of the coached lines, but for those said once or twice.
        terms: every term.
        faint: single words of names and kit that mean many things ('press', 'bench').
        kit: single words of kit, faint ones among them.
        kit_places: two words before a place, by the share of lines of coaching in which kit stands there.
        strong: terms that are no everyday words.
        blanks: listed names of several words with one left out, and the words that may stand there.
        solid: compounds by the two words that they may be cut into.
        kit_solid: those of kit.
        phrased: every word of the phrases of structure and coaching.
        lefts: the words before terms in the class at hand.
        in_class: how often each word is in it.
        frames: the places that terms have in it: three words, with the term's place told in the first.
    """

    by_key: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    pairs: Counter[tuple[str, str]] = field(default_factory=Counter)
    units: frozenset[str] = frozenset()
    measures: frozenset[str] = frozenset()
    known: set[str] = field(default_factory=set)
    terms: set[str] = field(default_factory=set)
    faint: set[str] = field(default_factory=set)
    kit: frozenset[str] = frozenset()
    kit_places: dict[tuple[str, str], float] = field(default_factory=dict)
    strong: set[str] = field(default_factory=set)
    blanks: dict[tuple[str, ...], set[str]] = field(default_factory=lambda: defaultdict(set))
    solid: dict[tuple[str, str], str] = field(default_factory=dict)
    kit_solid: dict[tuple[str, str], str] = field(default_factory=dict)
    in_class: Counter[str] = field(default_factory=Counter)
    phrased: set[str] = field(default_factory=set)
    lefts: set[tuple[str, str]] = field(default_factory=set)
    frames: Counter[tuple[str, str, str]] = field(default_factory=Counter)

    def add_talk(self, words: Sequence[str], weight: int = 1) -> None:
        """Learn the company of words that were said."""
        pieces = [piece for word in words for piece in normalise_word(word)]
        for pair in pairwise(pieces):
            self.pairs[pair] += weight

    def add_class(self, words: Sequence[str], places: Iterable[int]) -> None:
        """Learn the company and the frames of the words that were heard clearly in a class."""
        self.in_class = Counter(words)
        clear = set(places)
        for at in sorted(clear):
            for word in self._frame(words, at, at + 1):
                self.frames[word[0] + "|" + words[at], *word[1:]] += 1
            self.lefts.add((words[at - 1] if at else "", words[at]))
            if at + 1 in clear:
                self.add_talk(words[at : at + 2], weight=2)

    def rate_frames(self, words: Sequence[str], start: int, end: int, term: str) -> int:
        """How many of the frames around ``[start, end)`` hold the term elsewhere in the class."""
        return sum((frame[0] + "|" + term, *frame[1:]) in self.frames for frame in self._frame(words, start, end))

    @staticmethod
    def _frame(words: Sequence[str], start: int, end: int) -> Iterable[tuple[str, str, str]]:
        # An empty word at an edge is a place like any other: a name often ends a caption.
        left2, left = (words[at] if at >= 0 else "" for at in (start - 2, start - 1))
        right, right2 = (words[at] if at < len(words) else "" for at in (end, end + 1))
        yield from (("left", left2, left), ("mid", left, right), ("right", right, right2))

    def rate(self, before: str, words: Sequence[str], after: str) -> int:
        """How often these words are found between those neighbours: pairs to the left and to the right."""
        pieces = [piece for word in words for piece in normalise_word(word)]
        if not pieces:
            return 0
        left, right = normalise_word(before)[-1:], normalise_word(after)[:1]
        found = 0
        if left and left[0] not in FUNCTION_WORDS:
            found += self.pairs[left[0], pieces[0]]
        if right and right[0] not in FUNCTION_WORDS:
            found += self.pairs[pieces[-1], right[0]]
        return found


def learn_trade_words(lexicon: Lexicon) -> TradeWords:
    """What the lexicon alone teaches; a fraction of a second."""
    trade = TradeWords()
    names = [name for movement in lexicon.movements.values() for name in (movement.name, *movement.names)]
    kit = [name for piece in lexicon.kit.values() for name in (piece.name, *piece.names)]
    units = [name for unit in lexicon.units.values() for name in (unit.name, *unit.names) if unit.kind != "count"]
    reps = [name for unit in lexicon.units.values() for name in (unit.name, *unit.names) if unit.kind == "count"]
    weak = {name.rstrip("?") for name in chain(kit, units, reps) if name.endswith("?")}
    weak |= {name for movement in lexicon.movements.values() for name in movement.weak_names if " " not in name}
    weak |= {make_plural(word) for word in weak}
    measured = [name.rstrip("?") for name in (*units, "rep", "set", "round")]
    trade.units = frozenset(
        p for name in measured if " " not in name and name not in FUNCTION_WORDS for p in normalise_word(name)
    )
    exact = [unit for unit in lexicon.units.values() if unit.kind in ("mass", "time")]
    exactly = {name for unit in exact for name in (unit.name, *unit.names) if name.isalpha() and len(name) > 3}
    trade.measures = frozenset(exactly | {make_plural(name) for name in exactly})
    spoken: dict[str, None] = {}
    faint: dict[str, None] = {}
    for name in chain(names, kit, units, reps):
        plain = name.rstrip("?")
        words = plain.replace("-", " ").split()
        trade.add_talk(words)
        for word in words:
            if word not in FUNCTION_WORDS and word.isalpha() and len(word) >= SHORTEST_TERM:
                # 'bugs' are said, but nobody says 'deads'
                forms = (word, make_plural(word)) if word is words[-1] else (word,)
                (faint if word in weak else spoken).update(dict.fromkeys(forms))
    spoken |= dict.fromkeys(NUMBER_WORDS)
    trade.terms = set(spoken)
    trade.faint = faint.keys() - trade.terms
    held = {word for name in kit for word in name.rstrip("?").replace("-", " ").split()}
    trade.kit = frozenset(held | {make_plural(word) for word in held})
    small = sorted(FUNCTION_WORDS.intersection(word for name in names for word in name.replace("-", " ").split()))
    for word in (*spoken, *sorted(trade.faint), *small):
        key = join_keys([word])
        if len(key) >= SHORTEST_KEY:
            trade.by_key[key].append(word)
    trade.strong = {word for word in spoken if not all(is_everyday(piece) for piece in normalise_word(word))}
    trade.solid = _list_solid(movement.name for movement in lexicon.movements.values())
    trade.kit_solid = _list_solid(piece.name for piece in lexicon.kit.values())
    said: Counter[str] = Counter()
    places: Counter[tuple[str, str]] = Counter()
    of_kit: Counter[tuple[str, str]] = Counter()
    for line in _read_coached(lexicon):
        words = line.split()
        said.update(words)
        for left, before, word in zip(words, words[1:], words[2:], strict=False):
            places[left, before] += 1
            of_kit[left, before] += word in trade.kit
        trade.add_talk(words)
    trade.known.update(word for word, n in said.items() if n * SELDOM >= said.total())
    trade.kit_places = {place: n / places[place] for place, n in of_kit.items() if n >= SEEN_BEFORE_KIT}
    common = FUNCTION_WORDS | NUMBER_WORDS | {word for word, n in said.items() if n * COMMON > said.total()}
    trade.blanks = _list_blanks(names, common)
    # Words of coaching and structure ('glued', 'tucked') belong in a class as they stand.
    for path in sorted((lexicon.folder / "phrases").glob("*.toml")):
        for table in tomllib.loads(path.read_text(encoding="utf-8")).values():
            trade.phrased.update(word for phrase in table["phrases"] for word in _WORD.findall(phrase))
    return trade


def make_plural(word: str) -> str:
    """The regular plural of a word of the trade."""
    if word.endswith(("s", "x", "ch", "sh", "z")):
        return word if word.endswith("s") and not word.endswith("ss") else word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def is_odd(word: str, trade: TradeWords) -> bool:
    """Whether the word belongs neither to everyday talk nor to the talk of a class."""
    pieces = normalise_word(word)
    return word not in trade.known and word not in trade.terms and not any(is_everyday(piece) for piece in pieces)


def _list_solid(names: Iterable[str]) -> dict[tuple[str, str], str]:
    """Compounds that the usual names write as one word, by every way to cut them into two words of three letters up."""
    found: dict[tuple[str, str], str] = {}
    for word in sorted({w for name in names for w in name.split() if w.isalpha() and len(w) >= 7}):
        for at in range(3, len(word) - 2):
            found.setdefault((word[:at], word[at:]), word)
            found.setdefault((word[:at], make_plural(word)[at:]), make_plural(word))
    return found


def _list_blanks(names: Iterable[str], common: Set[str]) -> dict[tuple[str, ...], set[str]]:
    """Names of several words in normal pieces, each with a blank (an empty word) for one, and what may fill it."""
    found: dict[tuple[str, ...], set[str]] = defaultdict(set)
    for name in names:
        words = name.rstrip("?").replace("-", " ").split()
        forms = [normalise_word(word) for word in words]
        if len(words) < 2 or any(len(form) != 1 for form in forms):
            continue
        pieces = [form[0] for form in forms]
        for at, word in enumerate(words):
            # The words that stay must say something: 'up', 'one' and 'feet' stand next to anything.
            tells = any(w not in common for n, w in enumerate(words) if n != at)
            if tells and word.isalpha() and len(word) > SHORTEST_TERM and word not in FUNCTION_WORDS:
                found[*pieces[:at], "", *pieces[at + 1 :]].add(word)
    return found


def _read_coached(lexicon: Lexicon) -> Iterable[str]:
    for path in sorted((lexicon.folder / "coached").glob("*.csv")):
        if path.name != HEARD_FILE:
            with path.open(encoding="utf-8", newline="") as stream:
                yield from (row["text"] for row in csv.DictReader(stream))
