"""Everyday words: what the guard of near matches, and the linter, take for ordinary talk."""

from __future__ import annotations

from functools import cache
from importlib import resources

from setdown.lexicon.normal import normalise_word

# Words that carry grammar rather than meaning: a mis-heard name does not begin or end with one by itself.
_FUNCTION_WORDS = """
    a an the and or but nor so if as than then that this these those there here of to in on at by for from with
    without into onto off out up down over under about is are was were be been being am isn't aren't do does did done
    don't didn't have has had having will would can could should shall may might must won't can't i me my mine myself
    you your yours yourself yourselves he him his she her it its itself we us our ours they them their i'm i've i'll
    i'd you're you've you'll you'd we're we've we'll we'd he's she's it's that's there's what's let's they're they've
    who what which when where why how not no yes yeah yep okay ok oh ah um uh er hey hi well just now very too also
    only even still again all any some each every both more most less much many few such own same other another
    because cause until till while like get gets getting got go goes going gonna gone come comes coming came make
    makes made take takes taking took put puts want wants need needs know see say says said one two three four five
    six seven eight nine ten
"""
FUNCTION_WORDS = frozenset(form for word in _FUNCTION_WORDS.split() for form in normalise_word(word))


@cache
def load_everyday() -> frozenset[str]:
    """The words of ``everyday.txt`` in normal form, function words among them."""
    text = resources.files("setdown.lexicon").joinpath("everyday.txt").read_text(encoding="utf-8")
    lines = (line for line in text.splitlines() if not line.startswith("#"))
    return FUNCTION_WORDS | {form for line in lines for word in line.split() for form in normalise_word(word)}


def is_everyday(form: str) -> bool:
    """Whether a normal piece is an everyday word, or a regular form (-ing, -ed, -er, -ly) of one, or a number."""
    words = load_everyday()
    if form in words or form.isdigit():
        return True
    for ending in ("ing", "ed", "er", "ly", "y"):
        if form.endswith(ending):
            stem = form[: -len(ending)]
            if len(stem) >= 3 and (
                stem in words or stem + "e" in words or (stem[-1] == stem[-2] and stem[:-1] in words)
            ):
                return True
    return False
