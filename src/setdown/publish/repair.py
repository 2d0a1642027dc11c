"""Where captions mis-heard words of the trade, and what was most likely said.

Four finders, the surest first, none of which touches words that another one has claimed:

1. names of movements that the lexicon reads through its list of mis-hearings, by sound or by spelling;
2. the list of mis-hearings itself, for kit, units and the rest;
3. compounds that captions wrote as two words ('dumb bells');
4. single words of the trade that sound like what was written and keep the company that was found ('dumbbell rose').
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rapidfuzz.fuzz import ratio

from setdown.lexicon import Lexicon, NameHit
from setdown.lexicon.everyday import FUNCTION_WORDS, is_everyday
from setdown.lexicon.guard import Wanted, build_guard
from setdown.lexicon.normal import normalise_word
from setdown.lexicon.sound import join_keys
from setdown.publish.trade_words import NUMBER_WORDS, TradeWords, is_odd, learn_trade_words, make_plural

SURE_METHODS = ("exact", "variant")
LEAST_NAME = 0.72  # a near name that nobody said otherwise in the class
LEAST_KNOWN_NAME = 0.6  # one that the class holds in clear as well
LEAST_LETTERS = 50.0  # per cent of letters alike, of words that sound the same
LEAST_JOINED = 72.0  # of several words that stand for one
LEAST_ODD_LETTERS = 72.0  # of an odd word with no company
NUMBER_COMPANY = 4  # what a unit behind it is worth to a number
FRAME_COMPANY = 3  # what the same place elsewhere in the class is worth to a term
NAME_COMPANY = 3  # what a listed name that it makes with its neighbours is worth
MOST_TALK = 3  # what its neighbours in names and lines of coaching can be worth at most
LEFT_COMPANY = 2  # what the word before it is worth, where that is all ('the bench')
LEAST_OTHER_BEAT = 80.0  # per cent of letters alike, of words with another number of syllables
OFTEN_COMPANY = 2  # and what it is worth on top to be said often in the class
OFTEN = 3
NAME_REACH = 3  # words to either side that may belong to a name
WIDEST = 3  # words that one word may have been written as
_VOWELS = re.compile("[aeiouy]+")
ORDINALS = frozenset(
    [
        "first",
        "second",
        "third",
        "fourth",
        "fifth",
        "sixth",
        "seventh",
        "eighth",
        "ninth",
        "tenth",
        "eleventh",
        "twelfth",
        "fifteenth",
        "twentieth",
    ]
)


@dataclass(frozen=True, slots=True)
class Repair:
    """Words ``[start, end)`` of the class were written ``was`` and are most likely ``now``; ``sureness`` 0 to 1."""

    start: int
    end: int
    was: str
    now: str
    why: str
    sureness: float


def find_repairs(words: Sequence[str], lexicon: Lexicon, known: frozenset[str] = frozenset()) -> list[Repair]:
    """The repairs in the words of a class (lower case, no punctuation at their ends), in order, none overlapping.

    ``known`` are ids of movements that the class is known to hold, by a reviewed routine for one.
    """
    if not words:
        return []
    hits = lexicon.find_movements(words)
    known |= {hit.movement for hit in hits if hit.method in SURE_METHODS and not hit.weak}
    found: list[Repair] = []
    busy: set[int] = set()
    clear = {at for hit in hits if hit.method in SURE_METHODS and not hit.weak for at in range(hit.start, hit.end)}
    trade = learn_trade_words(lexicon)
    trade.add_class(words, [at for at, word in enumerate(words) if at in clear or word in trade.terms])
    wanted = build_guard(words)
    weak = frozenset(row.heard.removesuffix("?") for row in lexicon.misheard if row.heard.endswith("?"))
    for finder in (
        _repair_names(words, hits, known, trade, weak),
        _repair_listed(words, lexicon, clear, trade, weak),
        _join_compounds(words, trade, clear),
        _repair_by_company(words, trade, clear, wanted, lexicon),
    ):
        for repair in finder:
            span = range(repair.start, repair.end)
            if repair.was != repair.now and busy.isdisjoint(span):
                busy.update(span)
                found.append(repair)
    return sorted(found, key=lambda repair: repair.start)


def _repair_names(
    words: Sequence[str], hits: Sequence[NameHit], known: frozenset[str], trade: TradeWords, weak: frozenset[str]
) -> Iterator[Repair]:
    for hit in hits:
        if hit.method in SURE_METHODS or not hit.repaired or hit.weak:
            continue
        if hit.method != "misheard" and hit.score < (LEAST_KNOWN_NAME if hit.movement in known else LEAST_NAME):
            continue
        start = _skip_prefixes(words, hit)
        if hit.movement not in known and _is_doubtful(words, start, hit.end, hit.repaired.split(), trade, weak):
            continue
        yield _trim_same(words, start, hit.end, hit.repaired.split(), f"{hit.method} name: {hit.name}", hit.score)


def _skip_prefixes(words: Sequence[str], hit: NameHit) -> int:
    """Kit and stance in front of a name were heard well: the repair begins after them."""
    most = min(len(hit.prefixes) * 2, hit.end - hit.start - 1)
    likeness = [
        (ratio("".join(words[hit.start + skip : hit.end]), hit.repaired.replace(" ", "")), -skip)
        for skip in range(most + 1)
    ]
    return hit.start - max(likeness)[1]


def _trim_same(words: Sequence[str], start: int, end: int, said: list[str], why: str, sureness: float) -> Repair:
    """The repair without the words at either end that are right already, in the number in which they were said."""
    heard_last, said_last = words[end - 1], said[-1]
    if heard_last.endswith("s") and not heard_last.endswith("ss") and not said_last.endswith("s"):
        said = [*said[:-1], make_plural(said_last)]
    said = [part for word in said for part in word.split()]
    while end - start > 1 and len(said) > 1 and _is_same(words[start], said[0]):
        start, said = start + 1, said[1:]
    while end - start > 1 and len(said) > 1 and _is_same(words[end - 1], said[-1]):
        end, said = end - 1, said[:-1]
    was, now = " ".join(words[start:end]), " ".join(said)
    if _is_same(was.replace(" ", ""), now.replace(" ", "")):
        now = was  # another spelling, not another word
    return Repair(start, end, was, now, why, sureness)


def _is_doubtful(
    words: Sequence[str], start: int, end: int, said: list[str], trade: TradeWords, weak: frozenset[str]
) -> bool:
    """'squad' is a word too: where nothing beside it is of the trade, nor a number, it is left as it is."""
    before, after = _at(words, start - 1), _at(words, end)
    if " ".join(words[start:end]) not in weak and not (end - start == 1 and _is_everyday(words[start])):
        return False
    counted = any(word in NUMBER_WORDS or word.isdigit() for word in (before, after))
    return not counted and not trade.rate(before, said, after)


def _is_everyday(word: str) -> bool:
    return all(is_everyday(piece) for piece in normalise_word(word))


def _is_same(heard: str, said: str) -> bool:
    return normalise_word(heard) == normalise_word(said)


def _repair_listed(
    words: Sequence[str], lexicon: Lexicon, clear: set[int], trade: TradeWords, weak: frozenset[str]
) -> Iterator[Repair]:
    for row in lexicon.find_repairs(words):
        if any(at in clear for at in range(row.start, row.end)):
            continue
        said = row.said.split()
        company = trade.rate(_at(words, row.start - 1), said, _at(words, row.end))
        if _is_doubtful(words, row.start, row.end, said, trade, weak):
            continue
        yield _trim_same(words, row.start, row.end, said, "listed mis-hearing", 0.9 if company else 0.8)


def _join_compounds(words: Sequence[str], trade: TradeWords, clear: set[int]) -> Iterator[Repair]:
    for at in range(len(words) - 1):
        pair = (words[at], words[at + 1])
        whole = trade.kit_solid.get(pair) or trade.solid.get(pair)
        if whole is None:
            continue
        odd = not all(map(_is_everyday, pair))
        if odd or pair in trade.kit_solid or {at, at + 1} <= clear:
            yield Repair(at, at + 2, f"{words[at]} {words[at + 1]}", whole, "one word", 0.9)


def _repair_by_company(
    words: Sequence[str], trade: TradeWords, clear: set[int], wanted: Wanted, lexicon: Lexicon
) -> Iterator[Repair]:
    for width in range(WIDEST, 0, -1):
        for start in range(len(words) - width + 1):
            if any(at in clear for at in range(start, start + width)):
                continue
            window = words[start : start + width]
            if _may_be_misheard(window, trade):
                best = _choose_term(words, start, width, trade, wanted, lexicon)
                if best is not None:
                    yield best


def _may_be_misheard(window: Sequence[str], trade: TradeWords) -> bool:
    """Whether the words may stand for one other word: a single content word, or several of which one is odd."""
    if not all(word.isalpha() and word not in NUMBER_WORDS for word in window):
        return False
    if len(window) == 1:
        word = window[0]
        said_so = word in trade.terms or word in trade.phrased or word in ORDINALS
        return word not in FUNCTION_WORDS and not said_so and len(word) > 2
    return any(is_odd(word, trade) for word in window)


def _choose_term(
    words: Sequence[str], start: int, width: int, trade: TradeWords, wanted: Wanted, lexicon: Lexicon
) -> Repair | None:
    """The term that sounds like the words and is worth more in their place than they are."""
    end = start + width
    window = words[start:end]
    before, after = _at(words, start - 1), _at(words, end)
    heard = "".join(window)
    odd = any(is_odd(word, trade) for word in window)
    as_written = 3 * trade.rate(before, window, after)
    best: tuple[int, float, str] | None = None
    for term in trade.by_key.get(join_keys(window), ()):
        alike = ratio(heard, term)
        if alike < (LEAST_LETTERS if width == 1 else LEAST_JOINED) or term in window or _is_same(heard, term):
            continue
        if count_syllables(heard) != count_syllables(term) and alike < LEAST_OTHER_BEAT:
            continue
        company = NAME_COMPANY * _makes_name(words, start, end, term, lexicon)
        if term in NUMBER_WORDS:
            company = NUMBER_COMPANY * any(piece in trade.units for piece in normalise_word(after))
        elif term not in FUNCTION_WORDS:
            company += min(MOST_TALK, trade.rate(before, [term], after))
            company += FRAME_COMPANY * trade.rate_frames(words, start, end, term)
            company += LEFT_COMPANY * ((before, term) in trade.lefts and not any(w in trade.known for w in window))
            company += OFTEN_COMPANY * (company > 0 and trade.in_class[term] >= OFTEN > trade.in_class[window[0]])
        said_here = trade.in_class[term] > 0 and trade.in_class[window[0]] < OFTEN
        needed = _ask_company(
            odd, term in trade.strong, said_here and wanted(start, end) and alike >= LEAST_ODD_LETTERS
        )
        if company - as_written >= needed and (best is None or (company, alike, term) > best):
            best = (company, alike, term)
    if best is None:
        return None
    sureness = 0.8 if best[0] else 0.7
    return Repair(start, end, " ".join(window), best[2], "sounds like it and fits", sureness)


def _ask_company(odd: bool, strong: bool, likely: bool) -> int:
    """How much company a term must have. What is odd may be replaced on less than what makes sense as it stands."""
    if odd and strong:
        return 0 if likely else 1
    if odd:
        return 1
    return 2 if strong else 3


def count_syllables(word: str) -> int:
    """Groups of vowels, about the syllables; a last e is silent."""
    return len(_VOWELS.findall(word.removesuffix("e"))) or 1


def _makes_name(words: Sequence[str], start: int, end: int, term: str, lexicon: Lexicon) -> bool:
    """Whether the term makes a listed name of several words with its neighbours."""
    low = max(0, start - NAME_REACH)
    replaced = [*words[low:start], term, *words[end : end + NAME_REACH]]
    pieces = lexicon.finder.names.compounds.cut_words(replaced)
    place = start - low
    return any(
        pieces.word[first] <= place <= pieces.word[last - 1] and pieces.word[first] < pieces.word[last - 1]
        for first, last, name in lexicon.finder.names.find(pieces.forms)
        if not name.weak
    )


def _at(words: Sequence[str], place: int) -> str:
    return words[place] if 0 <= place < len(words) else ""
