"""Lighter, heavier, the same, nothing; and the class's unit."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.loads import KG, LB, is_offered
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import LoadChange, LoadSaid, UnitSaid


def _change(rel: LoadChange) -> Build:
    def build(match: Match) -> Draft:
        return Draft("load", LoadSaid(rel=rel))

    return build


def _up(match: Match) -> Draft | None:
    """'if that was easy, go up'; not up on the toes, nor up and down."""
    if match.word(match.end) in _UP_WHERE:
        return None
    return Draft("load", LoadSaid(rel="heavier"))


_UP_WHERE = word_set("on onto and to into higher high over up down the your through again with as for")


def _same(match: Match) -> Draft:
    return Draft("load", LoadSaid(same=True))


def _none(match: Match) -> Draft:
    return Draft("load", LoadSaid(none=True, offered=is_offered(match.stream, match.start)))


def _unit(match: Match) -> Draft | None:
    words = {match.word(t) for t in range(match.start, match.end)}
    if words & KG:
        return Draft("unit", UnitSaid("kg"))
    return Draft("unit", UnitSaid("lb")) if words & LB else None


_SOMETHING = "(go|going|something|pick up something|grab something|whatever's|whatever is|pick something)"
_BY = "[a] [little|wee] [@touch]"
_IN_WEIGHT = "(in weight|a weight|a size|on the weight|a pair|a bell)"
_WHOSE = "(the|your|those|these|all the|all your)"

RULES = (
    Rule(
        "little lighter",
        (
            f"{_SOMETHING} {_BY} (lighter|smaller)",
            "@touch (lighter|smaller)",
            "lighter (@weights|set|dumbbells|one|ones)",
            f"(drop|go|come|going|coming) down {_IN_WEIGHT}",
        ),
        _change("lighter"),
        0.75,
    ),
    Rule(
        "touch heavier",
        (
            f"{_SOMETHING} {_BY} (heavier|bigger)",
            "@touch (heavier|bigger)",
            "heavier (@weights|set|dumbbells|one|ones)",
            f"(go|going|move|moving|step|bump) [it] up {_IN_WEIGHT}",
        ),
        _change("heavier"),
        0.72,
    ),
    Rule(
        "go up",
        ("(i'm|we're|you're) going up", "(can|could|should|to) {go up}", "go up (if|next|by|a bit)"),
        _up,
        0.42,
    ),
    Rule(
        "same weight",
        (
            "same (@weights|plates|dumbbells|bag|ball|plate|pin)",
            "(keep|stay with|stick with|hang on to|keep hold of) [the|your|that] (same|weights|weight)",
        ),
        _same,
        0.85,
    ),
    Rule(
        "no weights",
        (
            "(no|without|don't need) [any|the|your] (@weights|kit|equipment)",
            "nothing in (your|the|my) hands",
            "(body weight|bodyweight) [only]",
            f"(drop|ditch|ditching|lose|leave|park) {_WHOSE} @weights",
            f"(put|set) down {_WHOSE} @weights",
            f"(put|set) {_WHOSE} @weights (down|away)",
            "(empty hands|hands empty|still empty|unweighted|unloaded)",
            "just you (no weight|no weights)",
        ),
        _none,
        0.7,
    ),
    Rule(
        "everything's in kilos",
        (
            "(everything|everything's|all|mine|mine's|they're) [i say|i use] [is|are] [all] [in] (@kg|@lb)",
            "(weights|numbers|loads|dumbbells) (are|in|are in) [all] [in] (@kg|@lb)",
            "(it's|they're) all [in] (@kg|@lb)",
            "(work|works|working|talk|talking|speak|count|say is) in (@kg|@lb)",
            "all (@kg|@lb)",
        ),
        _unit,
        0.8,
    ),
)
