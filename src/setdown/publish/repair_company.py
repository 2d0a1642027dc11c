"""Single words of the trade that sound like what was written and keep the company that was found ('dumbbell rose')."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rapidfuzz.fuzz import ratio

from setdown.lexicon import Lexicon
from setdown.lexicon.everyday import FUNCTION_WORDS
from setdown.lexicon.guard import Wanted
from setdown.lexicon.normal import normalise_word
from setdown.lexicon.sound import join_keys
from setdown.publish.mishearing import Repair, is_same, word_at
from setdown.publish.trade_words import NUMBER_WORDS, ORDINALS, TradeWords, is_odd

LEAST_LETTERS = 50.0  # per cent of letters alike, of words that sound the same
LEAST_JOINED = 72.0  # of several words that stand for one
LEAST_ODD_LETTERS = 72.0  # of an odd word with no company
NUMBER_COMPANY = 4  # what a unit behind it is worth to a number
FRAME_COMPANY = 3  # what the same place elsewhere in the class is worth to a term
NAME_COMPANY = 3  # what a listed name that it makes with its neighbours is worth
MOST_TALK = 3  # what its neighbours in names and lines of coaching can be worth at most
LEFT_COMPANY = 2  # what the word before it is worth, where that is all ('the bench')
LEAST_NEW_LETTERS = 80.0  # per cent of letters alike, of a word that only a name speaks for
LEAST_TALK_LETTERS = 65.0  # of one that only its neighbours in coaching speak for: anything stands beside 'hips'
TOLD_IN_CLASS = 2  # times that the class must hold it as well
LEAST_KIT = 60.0  # per cent of letters alike, of a piece of kit that only the word before it speaks for ('the bunch')
LEAST_LEFT = 75.0  # of another term
KIT_COMPANY = 3  # what a place that kit is used to standing in is worth to kit of the class ('on the mate')
LEAST_KIT_SHARE = 0.08  # of the words there in lines of coaching
MAIN_COMPANY = 3  # what it is worth to kit to be one of the main words of the class
MAIN_WORD = 5  # times it is said, at least
LEAST_MAIN = 80.0  # per cent of letters alike
LEAST_OTHER_BEAT = 80.0  # per cent of letters alike, of words with another number of syllables
OFTEN_COMPANY = 2  # and what it is worth on top to be said often in the class
OFTEN = 3
NAME_REACH = 3  # words to either side that may belong to a name
WIDEST = 3  # words that one word may have been written as
_VOWELS = re.compile("[aeiouy]+")


def repair_by_company(
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
        said_so = word in trade.terms or word in trade.faint or word in trade.phrased or word in ORDINALS
        return word not in FUNCTION_WORDS and not said_so and len(word) > 2
    return any(is_odd(word, trade) for word in window)


def _choose_term(
    words: Sequence[str], start: int, width: int, trade: TradeWords, wanted: Wanted, lexicon: Lexicon
) -> Repair | None:
    """The term that sounds like the words and is worth more in their place than they are."""
    end = start + width
    window = words[start:end]
    before, after = word_at(words, start - 1), word_at(words, end)
    heard = "".join(window)
    odd = any(is_odd(word, trade) for word in window)
    as_written = 3 * trade.rate(before, window, after)
    best: tuple[int, float, str] | None = None
    for term in trade.by_key.get(join_keys(window), ()):
        alike = ratio(heard, term)
        if alike < (LEAST_LETTERS if width == 1 else LEAST_JOINED) or term in window or is_same(heard, term):
            continue
        if count_syllables(heard) != count_syllables(term) and alike < LEAST_OTHER_BEAT:
            continue
        company = _rate_company(words, start, end, term, alike, trade, lexicon)
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


def _rate_company(
    words: Sequence[str], start: int, end: int, term: str, alike: float, trade: TradeWords, lexicon: Lexicon
) -> int:
    """What the term's company in this place is worth; each kind counts where it is more than what chance brings."""
    before, after = word_at(words, start - 1), word_at(words, end)
    if term in NUMBER_WORDS:
        return NUMBER_COMPANY * any(piece in trade.units for piece in normalise_word(after))
    here, heard_here = trade.in_class[term], trade.in_class[words[start]]
    company = 0
    if here or alike >= LEAST_NEW_LETTERS:
        company += NAME_COMPANY * _makes_name(words, start, end, term, lexicon)
    if term in FUNCTION_WORDS or term == "one":
        return company
    company += FRAME_COMPANY * trade.rate_frames(words, start, end, term)
    if here >= TOLD_IN_CLASS and here > heard_here and alike >= LEAST_TALK_LETTERS:
        company += min(MOST_TALK, trade.rate(before, [term], after))
    unknown = not any(word in trade.known for word in words[start:end])
    if unknown and (before, term) in trade.lefts and alike >= (LEAST_KIT if term in trade.kit else LEAST_LEFT):
        company += LEFT_COMPANY
    if here >= TOLD_IN_CLASS and here > heard_here and term in trade.kit and alike >= LEAST_KIT:
        place = (word_at(words, start - 2), before)
        company += KIT_COMPANY * (trade.kit_places.get(place, 0.0) >= LEAST_KIT_SHARE)
    if term in trade.kit and here >= MAIN_WORD and here >= 2 * heard_here and unknown and alike >= LEAST_MAIN:
        company += MAIN_COMPANY
    return company + OFTEN_COMPANY * (company > 0 and here >= OFTEN > heard_here)


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
