"""Classes of instructors who say little: the tuning classes with captions taken out, their times kept.

Written classes talk all the way through; many real ones fall silent between 'go' and 'rest', and after it. What a
segmenter learns from talkative classes alone takes such silences for something else.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from training.classes import AnnotatedClass

from setdown.lexicon import Lexicon
from setdown.tag import tag_transcript

SHARES_IN_WORK, SHARES_IN_TALK = (0.5, 0.95), (0.3, 0.95)  # of the captions that go; one of each pair for every class
KEPT_BEFORE, KEPT_AFTER = (4, 1), (1, 3)  # words around a start and an end whose captions stay
SEED = 6


def thin_class(item: AnnotatedClass, lexicon: Lexicon, rng: np.random.Generator) -> AnnotatedClass:
    """The class with most captions taken out that lie wholly in work or wholly in talk, away from starts and ends."""
    words = item.tagged.transcript.words
    inside, near = np.zeros(len(words), bool), np.zeros(len(words), bool)
    for start, end in item.spans:
        inside[start:end] = True
        near[max(start - KEPT_BEFORE[0], 0) : start + KEPT_BEFORE[1]] = True
        near[max(end - KEPT_AFTER[0], 0) : end + KEPT_AFTER[1]] = True
    in_work, in_talk = rng.choice(SHARES_IN_WORK), rng.choice(SHARES_IN_TALK)
    of_cue: dict[int, list[int]] = {}
    for i, word in enumerate(words):
        of_cue.setdefault(word.cue, []).append(i)
    gone = set()
    for cue, its in of_cue.items():
        share = 0.0 if near[its].any() else in_work if inside[its].all() else 0.0 if inside[its].any() else in_talk
        if rng.random() < share:
            gone.add(cue)
    kept = [word.cue not in gone for word in words]
    place = np.concatenate([[0], np.cumsum(kept)]).tolist()
    transcript = replace(item.tagged.transcript, words=tuple(w for w, k in zip(words, kept, strict=True) if k))
    spans = [(place[start], place[end]) for start, end in item.spans]
    return AnnotatedClass(item.name, item.style, tag_transcript(transcript, lexicon), item.gold, spans)


def thin_classes(items: list[AnnotatedClass], lexicon: Lexicon) -> list[AnnotatedClass]:
    """Every class thinned; the same classes in the same order give the same."""
    rng = np.random.default_rng(SEED)
    return [thin_class(item, lexicon, rng) for item in items]
