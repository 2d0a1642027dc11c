"""Make a transcript worse, by seed and strength.

usage: python tests/corrupt/degrade.py IN OUT [--strength 0.5] [--seed 1] [--kind KIND ...]

IN is a timed transcript in any format; OUT is written as WebVTT, or with words and times when it ends in ``.json``.
Strength goes from 0 (nothing changes) to 1. The same seed gives the same transcript; what is hit at one strength is hit
at every greater one too. Kinds, in the order in which they are done (all when none is given):
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from rapidfuzz.distance import Levenshtein

from corrupt.artefacts import add_doubles, add_loops, add_made_up
from corrupt.captions import (
    Caption,
    Captions,
    Dice,
    Number,
    Said,
    change_words,
    format_vtt,
    format_words_json,
    list_words,
    read_captions,
    share_time,
)
from corrupt.soundalike import (
    NUMBERS,
    is_number,
    list_soundalikes,
    load_misheard,
    plain,
    split_compound,
)

# Shares of the words in question that are hit at full strength.
MISHEARD, SOUNDALIKE, COMPOUND, NUMBER, DROPPED, DOUBLED = 0.8, 0.12, 0.9, 0.5, 0.12, 0.06
LONGEST_HEARD = 5
JITTER_S, SHIFT_S = 1.5, 3.0  # at full strength: spread of each caption's time, and the same for all
BLOCKS_S = (20.0, 40.0, 60.0)  # at a strength up to a third, two thirds, and above


def lose_punctuation(captions: Captions, strength: float, dice: Dice) -> Captions:
    """Words in lower case without commas and full stops."""
    return change_words(
        captions,
        {
            w.number: (replace(w, text=plain(w.text)),) if plain(w.text) else ()
            for w in list_words(captions)
            if w.text != plain(w.text) and dice.draw(w.number) < strength
        },
    )


def mishear(captions: Captions, strength: float, dice: Dice) -> Captions:
    """Phrases as the hand list has them misheard; other words as one that sounds alike."""
    words, heard = list_words(captions), load_misheard()
    change: dict[Number, tuple[Said, ...]] = {}
    at = 0
    while at < len(words):
        number = words[at].number
        for n in range(min(LONGEST_HEARD, len(words) - at), 0, -1):
            ways = heard.get(tuple(plain(w.text) for w in words[at : at + n]))
            if ways:
                if dice.draw(number) < MISHEARD * strength:
                    way = list(ways[int(dice.draw(number, 1) * len(ways))])
                    change |= _replace_phrase(words[at : at + n], way)
                at += n
                break
        else:
            others = list_soundalikes(plain(words[at].text)) if not is_number(words[at].text) else ()
            if others and dice.draw(number) < SOUNDALIKE * strength:
                change[number] = (replace(words[at], text=others[int(dice.draw(number, 1) * len(others))]),)
            at += 1
    return change_words(captions, change)


def _replace_phrase(old: Sequence[Said], new: list[str]) -> dict[Number, tuple[Said, ...]]:
    """Word for word; what is left over shares the time of the last word."""
    change: dict[Number, tuple[Said, ...]] = {}
    for k, word in enumerate(old):
        last = k == len(old) - 1
        change[word.number] = share_time(new[k:] if last else new[k : k + 1], word)
    return change


def split_compounds(captions: Captions, strength: float, dice: Dice) -> Captions:
    """'deadlift' becomes 'dead lift'."""
    change = {}
    for w in list_words(captions):
        parts = split_compound(plain(w.text))
        if parts and dice.draw(w.number) < COMPOUND * strength:
            change[w.number] = share_time(list(parts), w)
    return change_words(captions, change)


def lose_numbers(captions: Captions, strength: float, dice: Dice) -> Captions:
    """Numbers are left out, or heard as another word ('two' as 'to')."""
    change: dict[Number, tuple[Said, ...]] = {}
    for w in list_words(captions):
        if is_number(w.text) and dice.draw(w.number) < NUMBER * strength:
            other = NUMBERS.get(plain(w.text))
            change[w.number] = (replace(w, text=other),) if other and dice.draw(w.number, 1) < 0.5 else ()
    return change_words(captions, change)


def drop_words(captions: Captions, strength: float, dice: Dice) -> Captions:
    return change_words(
        captions, {w.number: () for w in list_words(captions) if dice.draw(w.number) < DROPPED * strength}
    )


def double_words(captions: Captions, strength: float, dice: Dice) -> Captions:
    return change_words(
        captions,
        {
            w.number: share_time([w.text, w.text], w)
            for w in list_words(captions)
            if dice.draw(w.number) < DOUBLED * strength
        },
    )


def move_times(captions: Captions, strength: float, dice: Dice) -> Captions:
    """Captions a little early or late, each by its own and all by the same amount; their order stays."""
    shift = (2 * dice.draw(()) - 1) * SHIFT_S * strength
    out: list[Caption] = []
    last = 0.0
    for c in captions:
        start = max(c.start + shift + dice.gauss(c.words[0].number) * JITTER_S * strength, last, 0.0)
        off, last = start - c.start, start
        words = tuple(replace(w, start=w.start + off, end=w.end + off) for w in c.words)
        out.append(Caption(start, c.end + off, words))
    ends = [*(c.start for c in out[1:]), float("inf")]
    return tuple(replace(c, end=max(min(c.end, end), c.start)) for c, end in zip(out, ends, strict=True))


def make_blocks(captions: Captions, strength: float, dice: Dice) -> Captions:
    """Captions put together into blocks of 20, 40 or 60 seconds that hide the pauses inside them."""
    if not strength or not captions:
        return captions
    limit = BLOCKS_S[min(int(strength * 3 - 1e-9), 2)]
    out: list[list[Caption]] = []
    for c in captions:
        if not out or c.end - out[-1][0].start > limit:
            out.append([])
        out[-1].append(c)
    return tuple(Caption(b[0].start, b[-1].end, tuple(w for c in b for w in c.words)) for b in out)


KINDS: dict[str, Callable[[Captions, float, Dice], Captions]] = {
    "punctuation": lose_punctuation,
    "sound-alikes": mishear,
    "compounds": split_compounds,
    "numbers": lose_numbers,
    "dropped": drop_words,
    "doubled": double_words,
    "times": move_times,
    "made-up": add_made_up,
    "loops": add_loops,
    "repeats": add_doubles,
    "blocks": make_blocks,
}
__doc__ = (__doc__ or "") + ", ".join(KINDS) + "."


def degrade(captions: Captions, strength: float, seed: int = 1, kinds: Sequence[str] = tuple(KINDS)) -> Captions:
    """The captions made worse by the kinds given, in the order of ``KINDS``.

    Raises:
        ValueError: the strength is not from 0 to 1, or a kind is not known.
    """
    if not 0 <= strength <= 1:
        raise ValueError(f"strength {strength} is not from 0 to 1")
    unknown = sorted(set(kinds) - KINDS.keys())
    if unknown:
        raise ValueError(f"unknown kinds: {', '.join(unknown)}")
    if strength:
        for kind, change in KINDS.items():
            if kind in kinds:
                captions = change(captions, strength, Dice(seed, kind))
    return captions


def measure_word_errors(said: Captions, heard: Captions) -> float:
    """Word error rate: the least insertions, deletions and substitutions per word said; case and punctuation aside."""
    a, b = ([p for w in list_words(c) if (p := plain(w.text))] for c in (said, heard))
    return Levenshtein.distance(a, b) / max(len(a), 1)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("source", metavar="IN", type=Path)
    parser.add_argument("out", metavar="OUT", type=Path)
    parser.add_argument("--strength", type=float, default=0.5)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", action="append", choices=[*KINDS])
    options = parser.parse_args()
    said = read_captions(options.source)
    heard = degrade(said, options.strength, options.seed, options.kind or tuple(KINDS))
    text = format_words_json(heard) if options.out.suffix == ".json" else format_vtt(heard)
    options.out.write_text(text, encoding="utf-8", newline="\n")
    print(f"{options.out}: {measure_word_errors(said, heard):.1%} of the words wrong")


if __name__ == "__main__":
    main()
