"""What recognisers add of their own: lines made up in silence, a line looped, a phrase written twice.

From memory of what open recognisers do; no source.
"""

from __future__ import annotations

from dataclasses import replace

from corrupt.captions import Caption, Captions, Dice, Said

MADE_UP = ("you", "thank you", "thank you for watching", "thanks for watching", "bye", "bye bye", "thank you very much")
LONG_SILENCE_S = 9.0
LOOPED, DOUBLED = 0.02, 0.10  # share of captions at full strength
LOOP_S = 12.0
PHRASE = 4


def add_made_up(captions: Captions, strength: float, dice: Dice) -> Captions:
    """A closing line in the middle of long silences."""
    out: list[Caption] = []
    for here, after in zip(captions, [*captions[1:], None], strict=True):
        out.append(here)
        number = here.words[-1].number
        if after is None or after.start - here.end < LONG_SILENCE_S or dice.draw(number) >= strength:
            continue
        line = MADE_UP[int(dice.draw(number, 1) * len(MADE_UP))].split()
        middle = (here.end + after.start) / 2
        words = tuple(Said(w, middle + 0.2 * k, middle + 0.2 * k + 0.2, (*number, 100 + k)) for k, w in enumerate(line))
        out.append(Caption(middle, words[-1].end, words))
    return tuple(out)


def add_loops(captions: Captions, strength: float, dice: Dice) -> Captions:
    """A line that the recogniser writes again and again, over what was said in the next twelve seconds."""
    out: list[Caption] = []
    free = 0.0
    for here in captions:
        if here.start < free:
            continue
        out.append(here)
        number, length = here.words[0].number, here.end - here.start
        if length < 1.0 or len(here.words) < 3 or dice.draw(number) >= LOOPED * strength:
            continue
        copies = int(LOOP_S / length)
        for k in range(1, copies + 1):
            words = tuple(
                Said(w.text, w.start + k * length, w.end + k * length, (*w.number, 200 + k)) for w in here.words
            )
            out.append(Caption(here.start + k * length, here.end + k * length, words))
        free = here.end + copies * length - 0.001
    return tuple(out)


def add_doubles(captions: Captions, strength: float, dice: Dice) -> Captions:
    """The last words of a caption once more at the beginning of the next, in no time."""
    out = list(captions)
    for k in range(1, len(captions)):
        before, here = captions[k - 1], captions[k]
        tail = before.words[-PHRASE:]
        if len(tail) < PHRASE or dice.draw(here.words[0].number) >= DOUBLED * strength:
            continue
        start = here.words[0].start
        again = tuple(Said(w.text, start, start, (*w.number, 300)) for w in tail)
        out[k] = replace(here, words=again + here.words)
    return tuple(out)
