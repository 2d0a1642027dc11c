"""Quantities: what each number said in a class is for.

``tag_quantities`` gives every number exactly one role, and finds the quantities that are said without a number
('last one', 'a minute off', 'no weights', 'till you can't'). The rules live one file per kind; their order does not
matter: of two that claim the same words the likelier wins, then the longer.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from setdown.model.mention import Mention
from setdown.tag.number_words import Number, read_word
from setdown.tag.quantities import (
    bar_loads,
    clock,
    counting,
    durations,
    elsewhere,
    intervals,
    load_changes,
    loads,
    ordinals,
    reps,
    sets,
    stack_loads,
    tempo,
)
from setdown.tag.quantities.grammar import Grammar
from setdown.tag.quantities.pattern import Rule
from setdown.tag.quantities.resolve import resolve_roles
from setdown.tag.quantities.stream import build_stream
from setdown.tag.quantities.vocabulary import CLASSES, CLOSED

__all__ = ["RULES", "tag_quantities"]

RULES: tuple[Rule, ...] = (
    *reps.RULES,
    *sets.RULES,
    *durations.RULES,
    *intervals.RULES,
    *loads.RULES,
    *bar_loads.RULES,
    *stack_loads.RULES,
    *load_changes.RULES,
    *counting.RULES,
    *tempo.RULES,
    *ordinals.RULES,
    *clock.RULES,
    *elsewhere.RULES,
)


@cache
def compile_grammar() -> Grammar:
    """All rules as one matcher; built at the first use."""
    return Grammar(RULES, CLASSES, CLOSED)


def tag_quantities(words: Sequence[str], gaps_ms: Sequence[int], numbers: Sequence[Number]) -> list[Mention]:
    """The quantity mentions of a class, in order of their first word.

    ``gaps_ms[i]`` is the silence before word ``i`` in ms, 0 where it is not known (it may be shorter than ``words``).
    ``numbers`` comes from ``find_numbers(words)``. Kinds and their values: see ``values``.
    """
    grammar = compile_grammar()
    stream = build_stream([read_word(word) for word in words], gaps_ms, numbers, grammar.lexicon)
    return resolve_roles(stream, grammar.find(stream))
