"""The few things an instructor said that help a reader: cues, options, cautions, and advice for afterwards.

Coaching in a routine is everything that may be a cue, with the words around it as the caption has them. Here the clause
is cut out, what is only talk is left away, and the telling ones come first. ``cue_words.toml`` holds the words.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from setdown.model.routine import Coaching, Set
from setdown.model.transcript import Transcript
from setdown.publish.inert import clean_line

MOST_WORDS = 11
MOST_WHOLE = 16
MOST_BEFORE = 5
SILENCE_MS = 700
LEAST_WORDS = 2
SAME_SHARE = 0.6  # cues that share so many of their words say the same
_BARE = re.compile(r"^[^\w']+|[^\w']+$")


@dataclass(frozen=True, slots=True)
class Cue:
    """What was said, as a line to print, when (seconds), and how telling it is (more is better)."""

    kind: str
    text: str
    at: float
    weight: int


@dataclass(frozen=True, slots=True)
class CueWords:
    """``cue_words.toml`` in memory."""

    about: frozenset[str]
    talk: frozenset[str]
    breaks: frozenset[str]
    bids: frozenset[str]
    loose_ends: frozenset[str]
    loose_starts: frozenset[str]
    options: dict[str, frozenset[str]]
    afterwards: tuple[tuple[str, ...], ...]


@cache
def load_cue_words() -> CueWords:
    """The word lists."""
    table: dict[str, Any] = tomllib.loads(
        resources.files("setdown.publish").joinpath("cue_words.toml").read_text(encoding="utf-8")
    )
    sets = {
        name: frozenset(table[name].split())
        for name in ("about", "talk", "breaks", "bids", "loose_ends", "loose_starts", "easier", "harder")
    }
    return CueWords(
        sets["about"],
        sets["talk"],
        sets["breaks"],
        sets["bids"],
        sets["loose_ends"],
        sets["loose_starts"],
        {"easier": sets["easier"], "harder": sets["harder"]},
        tuple(tuple(phrase.split()) for phrase in table["afterwards"]),
    )


def choose_cues(
    sets: Iterable[Set],
    kinds: Sequence[str],
    most: int,
    taken: set[str] | None = None,
    transcript: Transcript | None = None,
) -> list[Cue]:
    """The most telling cues of these kinds over the sets, no two that say the same, in the order in which they came.

    ``taken`` are lines that stand on the plan already; those chosen are added to it. With the transcript a cue is not
    cut off where a caption happens to end.
    """
    taken = set() if taken is None else taken
    coaching = [said for one in sets for said in one.coaching if said.kind in kinds]
    found = [cue for said in coaching if (cue := read_cue(said, transcript))]
    chosen: list[Cue] = []
    for cue in sorted(found, key=lambda cue: (-cue.weight, cue.at)):
        if len(chosen) == most:
            break
        if cue.text not in taken and not any(_say_the_same(cue.text, other.text) for other in chosen):
            chosen.append(cue)
            taken.add(cue.text)
    return sorted(chosen, key=lambda cue: cue.at)


def read_cue(said: Coaching, transcript: Transcript | None = None) -> Cue | None:
    """The cue in a piece of coaching, ``None`` when it is only talk."""
    words = load_cue_words()
    trigger = [_strip(word) for word in said.evidence.rule.partition(": ")[2].split()]
    talk = _quote_talk(said, trigger, transcript) or _split_talk(clean_line(said.evidence.quote).split(), trigger)
    start, end = cut_clause(talk, words, whole=said.kind == "caution")
    clause = talk.bare[start:end]
    if len(clause) < LEAST_WORDS or (said.kind != "caution" and any(word in words.talk for word in clause)):
        return None
    telling = sum(word in words.about for word in clause)
    if said.kind in ("easier", "harder"):
        telling = sum(word in words.options[said.kind] for word in clause)
    if said.kind != "caution" and not telling:
        return None
    weight = min(telling, 4) + (1 if clause[0] in words.bids else 0) - (1 if len(clause) == LEAST_WORDS else 0)
    return Cue(said.kind, _write_line(talk.tokens[start:end]), said.evidence.at, weight)


def find_advice(transcript: Transcript, after_s: float, most: int = 4) -> list[Cue]:
    """What was advised for afterwards, said after ``after_s`` (seconds): the clauses around the telling phrases."""
    phrases = load_cue_words().afterwards
    first = next((n for n, w in enumerate(transcript.words) if w.start >= after_s * 1000), len(transcript.words))
    bare = [_strip(word.text) for word in transcript.words]
    found: list[Cue] = []
    covered = first
    for at in range(first, len(bare)):
        size = next((len(p) for p in phrases if tuple(bare[at : at + len(p)]) == p), 0)
        if not size or at < covered or len(found) == most:
            continue
        talk = _take_talk(transcript, at, at + size)
        start, end = cut_clause(talk, load_cue_words(), whole=True)
        covered = at - talk.start + end
        found.append(Cue("afterwards", _write_line(talk.tokens[start:end]), transcript.words[at].start / 1000, 1))
    return found


@dataclass(frozen=True, slots=True)
class Talk:
    """Words around a telling phrase, which is ``[start, end)`` of them."""

    tokens: list[str]
    bare: list[str]
    start: int
    end: int


def cut_clause(talk: Talk, words: CueWords, whole: bool = False) -> tuple[int, int]:
    """The clause around the phrase: from the word that bids, or a few before, to where the next clause begins.

    A condition is of no use without what follows from it: with ``whole``, or after an 'if', the next bid is taken in.
    """
    bare, start, end = talk.bare, talk.start, talk.end
    floor = max(0, start - MOST_BEFORE)
    while start > floor and bare[start] not in words.bids and not _parts(bare[start - 1], words):
        start -= 1
    while start > floor and bare[start] in words.bids and bare[start - 1] in words.bids:
        start -= 1  # 'stop if it hurts' bids twice
    whole = whole or "if" in bare[start : max(end, start + 1)]
    last = min(len(bare), max(start + (MOST_WHOLE if whole else MOST_WORDS), end))
    turn = end  # the last place where another clause may begin
    while end < last and not _parts(bare[end], words):
        if (
            not whole
            and bare[end] in words.bids
            and end - start > LEAST_WORDS
            and bare[end - 1] not in words.loose_ends
        ):
            turn = end
        end += 1
    if end == last and (last < len(bare) or turn > talk.end):
        end = max(turn, talk.end) if turn - start > LEAST_WORDS else end
    while end > start + 1 and bare[end - 1] in words.loose_ends:
        end -= 1
    while start < end - 1 and bare[start] in words.loose_starts:
        start += 1
    return start, end


def _parts(word: str, words: CueWords) -> bool:
    return word in words.breaks or word == "" or word.isdigit()


def _split_talk(tokens: list[str], trigger: Sequence[str]) -> Talk:
    bare = [_strip(token) for token in tokens]
    size = len(trigger)
    for at in range(len(bare) - size + 1):
        if size and bare[at : at + size] == list(trigger):
            return Talk(tokens, bare, at, at + size)
    return Talk(tokens, bare, 0, len(bare))


def _quote_talk(said: Coaching, trigger: Sequence[str], transcript: Transcript | None) -> Talk | None:
    """The trigger with the words around it in the transcript, whatever caption they are in."""
    if transcript is None or not trigger:
        return None
    quote = said.evidence
    words = transcript.words
    first = bisect_left(words, (quote.cue, quote.char_start), key=lambda word: (word.cue, word.char_start))
    for at in range(max(0, first - 1), min(len(words), first + MOST_WORDS + MOST_BEFORE)):
        if [_strip(word.text) for word in words[at : at + len(trigger)]] == list(trigger):
            return _take_talk(transcript, at, at + len(trigger))
    return None


def _take_talk(transcript: Transcript, start: int, end: int) -> Talk:
    """Words around ``[start, end)``, with an empty word where somebody drew breath or a sentence ended."""
    low, high = max(0, start - MOST_BEFORE), min(len(transcript.words), end + MOST_WHOLE)
    tokens: list[str] = []
    at = [0, 0]
    for n in range(low, high):
        word = transcript.words[n]
        before = transcript.words[n - 1] if n else word
        if n > low and (word.start - before.end > SILENCE_MS or before.text[-1:] in ".?!;"):
            tokens.append("")
        at = [len(tokens) if n == start else at[0], len(tokens) + 1 if n == end - 1 else at[1]]
        tokens.append(clean_line(word.text) or "?")
    return Talk(tokens, [_strip(token) for token in tokens], at[0], at[1])


def _strip(token: str) -> str:
    return _BARE.sub("", token).lower().replace("’", "'")


def _write_line(tokens: Sequence[str]) -> str:
    text = " ".join(token for token in tokens if token).strip(" ,;:-–")
    return text[:1].upper() + text[1:]


def _say_the_same(one: str, other: str) -> bool:
    first, second = set(one.lower().split()), set(other.lower().split())
    return len(first & second) >= SAME_SHARE * min(len(first), len(second))
