"""Where captions mis-heard words of the trade, and what was most likely said.

Finders, the surest first, none of which touches words that another one has claimed:

1. names of movements that the lexicon reads through its list of mis-hearings, by sound or by spelling;
2. the list of mis-hearings itself, for kit, units and the rest, also when the captions cut its words elsewhere;
3. listed names with one word that is nearly right ('eternal rotation');
4. compounds that captions wrote as two words ('dumb bells');
5. numbers in front of units ('own minute');
6. single words of the trade that sound like what was written and keep the company that was found ('dumbbell rose').
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rapidfuzz.fuzz import ratio

from setdown.lexicon import Lexicon, NameHit
from setdown.lexicon.guard import build_guard
from setdown.publish.mishearing import Repair, is_doubtful, is_plain, trim_same, word_at
from setdown.publish.repair_company import repair_by_company
from setdown.publish.repair_near import list_joined, repair_counts, repair_joined, repair_near_names
from setdown.publish.trade_words import TradeWords, learn_trade_words

SURE_METHODS = ("exact", "variant")
LEAST_NAME = 0.72  # a near name that nobody said otherwise in the class
LEAST_KNOWN_NAME = 0.6  # one that the class holds in clear as well


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
    trade.add_class(words, [at for at, word in enumerate(words) if at in clear or word in trade.terms | trade.faint])
    wanted = build_guard(words)
    weak = frozenset(row.heard.removesuffix("?") for row in lexicon.misheard if row.heard.endswith("?"))
    for finder in (
        _repair_names(words, hits, known, trade, weak),
        _repair_listed(words, lexicon, clear, trade, weak),
        repair_joined(words, list_joined(lexicon)),
        repair_near_names(words, trade, clear),
        _join_compounds(words, trade, clear),
        repair_counts(words, trade, clear),
        repair_by_company(words, trade, clear, wanted, lexicon),
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
        if hit.movement not in known and is_doubtful(words, start, hit.end, hit.repaired.split(), trade, weak):
            continue
        yield trim_same(words, start, hit.end, hit.repaired.split(), f"{hit.method} name: {hit.name}", hit.score)


def _skip_prefixes(words: Sequence[str], hit: NameHit) -> int:
    """Kit and stance in front of a name were heard well: the repair begins after them."""
    most = min(len(hit.prefixes) * 2, hit.end - hit.start - 1)
    likeness = [
        (ratio("".join(words[hit.start + skip : hit.end]), hit.repaired.replace(" ", "")), -skip)
        for skip in range(most + 1)
    ]
    return hit.start - max(likeness)[1]


def _repair_listed(
    words: Sequence[str], lexicon: Lexicon, clear: set[int], trade: TradeWords, weak: frozenset[str]
) -> Iterator[Repair]:
    for row in lexicon.find_repairs(words):
        if any(at in clear for at in range(row.start, row.end)):
            continue
        said = row.said.split()
        company = trade.rate(word_at(words, row.start - 1), said, word_at(words, row.end))
        if is_doubtful(words, row.start, row.end, said, trade, weak):
            continue
        yield trim_same(words, row.start, row.end, said, "listed mis-hearing", 0.9 if company else 0.8)


def _join_compounds(words: Sequence[str], trade: TradeWords, clear: set[int]) -> Iterator[Repair]:
    for at in range(len(words) - 1):
        pair = (words[at], words[at + 1])
        whole = trade.kit_solid.get(pair) or trade.solid.get(pair)
        if whole is None:
            continue
        odd = not all(map(is_plain, pair))
        if odd or pair in trade.kit_solid or {at, at + 1} <= clear:
            yield Repair(at, at + 2, f"{words[at]} {words[at + 1]}", whole, "one word", 0.9)
