"""What captions nearly got right: names with one word wrong, listed mis-hearings cut elsewhere, counts before units."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from rapidfuzz.fuzz import ratio

from setdown.lexicon import Lexicon
from setdown.lexicon.everyday import FUNCTION_WORDS
from setdown.lexicon.normal import normalise_word
from setdown.lexicon.sound import join_keys
from setdown.publish.mishearing import Repair, is_same, word_at
from setdown.publish.trade_words import NUMBER_WORDS, ORDINALS, TradeWords, make_plural

LONGEST_NAME = 4  # words
LEAST_NEAR = 70.0  # per cent of letters alike, of a word and the one that would make a name of it and its neighbours
LEAST_SOUNDING = 60.0  # where the two sound the same
LEAST_KNOWN = 75.0  # and what was written is a word of coaching too ('please' for 'pulse')
NEAR_SURENESS = 0.8
LEAST_SQUASHED = 9  # letters of a listed mis-hearing that is found however it was cut into words
MOST_CUT = 4  # words it may have been cut into
# Of the small words, those that never stand right before a unit unless as a number that was mis-heard.
NEVER_BEFORE_UNIT = frozenset(["own", "their", "there", "they're", "theyre", "too"])
POSSESSIVES = frozenset(["my", "your", "his", "her", "its", "our", "their", "whose"])
LEAST_COUNT = 50.0  # per cent of letters alike, of a number and a small word
LEAST_UNIT = 65.0  # of a unit and the word behind a number
COUNT_SURENESS = 0.8


def list_joined(lexicon: Lexicon) -> dict[str, str]:
    """Listed mis-hearings of several words, by their letters alone, and what was said."""
    found: dict[str, str] = {}
    for row in lexicon.misheard:
        heard = row.heard.removesuffix("?")
        squashed = heard.replace(" ", "").replace("'", "")
        if " " in heard and len(squashed) >= LEAST_SQUASHED:
            found.setdefault(squashed, row.said)
            *front, last = row.said.split()
            found.setdefault(make_plural(squashed), " ".join([*front, make_plural(last)]))
    return found


def repair_joined(words: Sequence[str], joined: Mapping[str, str]) -> Iterator[Repair]:
    """Listed mis-hearings that the captions cut into other words: 'gobble it squats' for 'gobble its quat'."""
    for start in range(len(words)):
        squashed = ""
        for end in range(start + 1, min(start + MOST_CUT, len(words)) + 1):
            squashed += words[end - 1].replace("'", "").replace("-", "")
            said = joined.get(squashed)
            if said is not None and end - start > 1 and not is_same("".join(said.split()), squashed):
                yield Repair(start, end, " ".join(words[start:end]), said, "listed mis-hearing, cut elsewhere", 0.85)


def repair_near_names(words: Sequence[str], trade: TradeWords, clear: set[int]) -> Iterator[Repair]:
    """Listed names with one word nearly right: 'shoulder price', 'eternal rotation'."""
    cut = [normalise_word(word) for word in words]
    forms = [pieces[0] if len(pieces) == 1 else "-" for pieces in cut]
    for at, word in enumerate(words):
        if at in clear or not _may_be_wrong(word, trade):
            continue
        best: tuple[int, float, str] | None = None
        for start in range(max(0, at - LONGEST_NAME + 1), at + 1):
            for end in range(max(at + 1, start + 2), min(start + LONGEST_NAME, len(words)) + 1):
                others = (*forms[start:at], "", *forms[at + 1 : end])
                for said in trade.blanks.get(others, ()):
                    rating = _rate_near(word, said, trade)
                    if rating and (best is None or (end - start, rating, said) > best):
                        best = (end - start, rating, said)
        if best is not None:
            said = make_plural(best[2]) if word.endswith("s") and not word.endswith("ss") else best[2]
            yield Repair(at, at + 1, word, said, "a listed name but for this word", NEAR_SURENESS)


def _may_be_wrong(word: str, trade: TradeWords) -> bool:
    if not word.isalpha() or len(word) < 4 or word in NUMBER_WORDS or word in FUNCTION_WORDS:
        return False
    return not (word in trade.terms or word in trade.faint or word in trade.phrased or word in ORDINALS)


def _rate_near(heard: str, said: str, trade: TradeWords) -> float:
    """Per cent of letters alike where that is enough, or 0."""
    if heard.startswith(said[:-1]) or said.startswith(heard):
        return 0.0  # another form of the word, 'lifted' for 'lift'
    alike = max(ratio(heard, said), ratio(heard, make_plural(said)))
    if join_keys([heard]) in (join_keys([said]), join_keys([make_plural(said)])):
        return alike if alike >= (LEAST_KNOWN if heard in trade.known else LEAST_SOUNDING) else 0.0
    # What instructors say of their own accord is not taken for something that sounds otherwise.
    return alike if alike >= LEAST_NEAR and heard not in trade.known else 0.0


def repair_counts(words: Sequence[str], trade: TradeWords, clear: set[int]) -> Iterator[Repair]:
    """Numbers and units, each told by the other: 'own minute', 'their minutes', 'twelve points'."""
    for at, (word, after) in enumerate(pairwise(words)):
        if after in trade.measures and word in NEVER_BEFORE_UNIT:
            now = "" if word == "own" and word_at(words, at - 1) in POSSESSIVES else _choose_number(word, after)
            if now:
                yield Repair(at, at + 1, word, now, "a number before a unit", COUNT_SURENESS)
        if (word in NUMBER_WORDS or word.isdigit()) and at + 1 not in clear:
            now = _choose_unit(after, trade)
            if now:
                yield Repair(at + 1, at + 2, after, now, "a unit behind a number", COUNT_SURENESS)


def _choose_number(heard: str, unit: str) -> str:
    for number in sorted(NUMBER_WORDS) if unit.endswith("s") else ("one",):
        if join_keys([number]) == join_keys([heard]) and ratio(number, heard) >= LEAST_COUNT:
            return number
    return ""


def _choose_unit(heard: str, trade: TradeWords) -> str:
    """The unit that sounds like the word, if the class measures in it and hardly says the other."""
    if heard in trade.measures or heard in NUMBER_WORDS or heard in FUNCTION_WORDS or not heard.isalpha():
        return ""
    key = join_keys([heard])
    alike = {unit: ratio(unit, heard) for unit in trade.measures if join_keys([unit]) == key}
    said = [unit for unit in sorted(alike) if trade.in_class[unit] > trade.in_class[heard]]
    best = max(said, key=lambda unit: alike[unit], default="")
    return best if best and alike[best] >= LEAST_UNIT else ""
