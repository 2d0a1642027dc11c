"""'One' that stands for a thing or a person, against 'one' that is counted."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.vocabulary import CLASSES

_DETERMINERS = word_set("the a an this that your my our another these those his her their each every no")
#: Words before 'one' that make it a pronoun or an article.
_BEFORE = (
    CLASSES["pronoun"]
    | CLASSES["good"]
    | word_set(
        "a an of own at in on only with for to from is just take use the got have grab need want try last "
        "shoulder knee arm leg side hip back front pushing heavy red blue black big ugly tough my your our his her "
        "long deep final biggest hardest first"
    )
)
#: Words behind 'one' that it counts or that go on with the pronoun.
_AFTER = (
    CLASSES["good"]
    | CLASSES["body"]
    | CLASSES["thing"]
    | CLASSES["thing1"]
    | CLASSES["people"]
    | word_set(
        "pair set of at by to that who where i you we is was with in on for day way end part bit long knee foot block "
        "mat chair band step lonely dumbbell kettlebell bell weight plate a the it's if person word note tip rule "
        "minute hand job thing's reason option more"
    )
)


def is_counted_one(stream: Stream, token: int) -> bool:
    """Whether a lone 'one' is counted: no article or adjective stands before it, and no noun that it counts behind."""
    before_breaks, after_breaks = stream.breaks_before(token), stream.breaks_after(token)
    if before_breaks and after_breaks:
        return True
    before, after = stream.word(token - 1), stream.word(token + 1)
    if not before_breaks:
        if stream.word(token - 2) in _DETERMINERS:  # 'the pink one'
            return False
        if before in _BEFORE or before.endswith(("'s", "est", "er")):
            return False
    return after_breaks or stream.number_at(token + 1) is not None or after not in _AFTER
