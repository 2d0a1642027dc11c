"""How a load is spoken of: where it lies in the talk before a set, which words and which movements are beside it."""

from __future__ import annotations

from setdown.assemble.candidates import place_of
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.namings import NAME_KINDS
from setdown.model.mention import Mention

NEAR_NAME = 14
NEXT_NAME = 8
BESIDE = 3


def word_set(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


#: Words within three of a load that tell whether it is taken up, kept, put away or only spoken of.
TELLING_BEFORE = word_set(
    "on to with up down back my the your those these for of and than instead off from not no or if both same "
    "going staying grab take pick hold holding using use i'm i've we're were was had been drop put swap again "
    "now one just still only another more then at in"
)
TELLING_AFTER = word_set(
    "on to with up down back for and than instead off from not no or if both again now was were are is too "
    "more in at a each then away please ready first here there this that though today"
)


def near_names(context: ClassContext, mention: Mention) -> frozenset[str]:
    """Movements named close to a load: first those just after ('fifteens for the rows'), else just before."""
    found = context.near_loads.get(mention.start)
    if found is None:
        found = context.near_loads[mention.start] = frozenset(
            m.value.movement
            for kind in NAME_KINDS[:3]
            for m in context.index.within(kind, mention.start - NEAR_NAME, mention.end + NEAR_NAME)
        )
    return found


def describe_said(context: ClassContext, draft: Draft, mention: Mention, movement: str) -> list[str]:
    """Features of one mention of a load seen from a set."""
    features = ["said here", *place_of(context, draft, mention)]
    names = near_names(context, mention)
    features.append("near own name" if movement in names else "near another name" if names else "near no name")
    if names:
        features += _tell_next_names(context, mention, movement)
    if mention.value.offered:
        features.append("offered to the viewer")
    words = context.tagged.words
    features += [f"{w} before" for w in set(words[max(mention.start - BESIDE, 0) : mention.start]) & TELLING_BEFORE]
    features += [f"{w} behind" for w in set(words[mention.end : mention.end + BESIDE]) & TELLING_AFTER]
    return features


def _tell_next_names(context: ClassContext, mention: Mention, movement: str) -> list[str]:
    """Which movement is named next behind a load and which last before it: this one or another."""
    features = []
    behind = context.index.within_any(NAME_KINDS[:3], mention.end, mention.end + NEXT_NAME)
    if behind:
        near = {m.value.movement for m in behind if m.start == behind[0].start}
        features.append("own name next" if movement in near else "another name next")
        if "for" in context.tagged.words[mention.end : behind[0].start]:
            features.append("for this move" if movement in near else "for another move")
    ahead = context.index.within_any(NAME_KINDS[:3], max(mention.start - NEXT_NAME, 0), mention.start)
    if ahead:
        near = {m.value.movement for m in ahead if m.start == ahead[-1].start}
        features.append("own name before" if movement in near else "another name before")
    return features
