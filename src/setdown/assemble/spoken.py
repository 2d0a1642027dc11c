"""How a quantity stands in the talk before a set: first or last of its kind, beside which words, by whose name."""

from __future__ import annotations

from setdown.assemble.candidates import place_of
from setdown.assemble.context import HEAD_WORDS, ClassContext, Draft
from setdown.model.mention import Mention

NAMES = ("movement", "movement_guess")
NAME_REACH = 10  # words between a quantity and the name that it belongs to; common practice, no source
# Words beside a number that tell what it is of: 'eight of each', 'not twelve', 'then ten', 'just the three'.
_BESIDE_WORDS = (
    "a about again all and another are as at back below but by do down each every everything first five for "
    "from get go good got hold i in into is it it's just last leg left like little make me more next no not "
    "now of on one only or other our out over rest right same second seconds side slow slowly so still take "
    "than that that's the them then there these they this those through time times to today together total two "
    "up was we we'll with you your altogether because did done give gonna had here if more said they're were "
    "when would "
)
BESIDE = frozenset(_BESIDE_WORDS.split())


def tell_spoken(context: ClassContext, draft: Draft, mention: Mention, siblings: list[Mention]) -> list[str]:
    """Features of one mention of a quantity in the window of a set; ``siblings`` are those of its kind there, in order.

    They say where it stands, whether it is the first, last or only one since the set before, which closed-class words
    are beside it, and whether the nearest name of a movement is the one of the set.
    """
    features = place_of(context, draft, mention)
    setup = [m for m in siblings if draft.setup_start <= m.start < draft.span.start]
    if setup and mention in setup:
        if len(setup) == 1:
            features.append("alone in the set-up")
        else:
            features.append(
                "last in the set-up"
                if mention is setup[-1]
                else "first in the set-up"
                if mention is setup[0]
                else "amid the set-up"
            )
    words = context.tagged.words
    before = words[mention.start - 1] if mention.start else ""
    after = words[mention.end] if mention.end < len(words) else ""
    features += [f"{before} _"] if before in BESIDE else []
    features += [f"_ {after}"] if after in BESIDE else []
    return features + _tell_names(context, draft, mention)


def read_bare_number(mention: Mention) -> tuple[int, int] | None:
    """The lowest and highest number of a mention that is whole and has no unit, whatever its kind; else ``None``."""
    value = mention.value
    if mention.kind in {"count", "ordinal"}:
        return value.n, value.n
    if mention.kind in {"breaths", "sets", "reps"}:
        return (value.lo, value.hi) if value.lo is not None else None
    if mention.kind == "work_s":
        alone = mention.end - mention.start == 1
        return (value.work, value.work) if alone and value.high is None else None
    number = value.value
    if number is None or number != int(number) or number < 2 or getattr(value, "unit", None) is not None:
        return None
    return int(number), int(number)


def _tell_names(context: ClassContext, draft: Draft, mention: Mention) -> list[str]:
    """Whose name is said close to a quantity, before it and after it."""
    own = draft.value("exercise") or ""
    low = max(mention.start - NAME_REACH, draft.setup_start - 6)
    names = context.index.within_any(NAMES, low, min(mention.end + NAME_REACH, draft.span.start + HEAD_WORDS))
    earlier = [m for m in names if m.start < mention.start]
    later = [m for m in names if m.start >= mention.end]
    found = []
    if earlier:
        own_name = any(m.value.movement == own for m in earlier if m.start == earlier[-1].start)
        found.append("after the own name" if own_name else "after another name")
    if later:
        own_name = any(m.value.movement == own for m in later if m.start == later[0].start)
        found.append("before the own name" if own_name else "before another name")
    if len(found) == 2:
        found.append(" and ".join(found))
    return found
