"""What the order of the class makes likely next: rounds come again, sides follow, lists are worked through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from setdown.assemble.context import ClassContext, Draft

NAME_KINDS = ("movement", "movement_guess", "movement_weak")
REACH_BACK_SETS = 40
LIST_REACH_WORDS = 350
LIST_GAP_WORDS = 9
LONG_TALK = 60
LENGTHS = ((1, "wordless"), (8, "short"), (25, "middle"), (60, "long"))  # of the talk before a set, in words
OPENERS = ("superset", "circuit", "interval_talk", "interval", "main_part", "moves", "sets")


def compress_runs(history: Sequence[str]) -> list[str]:
    """The order of moves without immediate repeats (sides, straight sets)."""
    runs: list[str] = []
    for movement in history:
        if not runs or runs[-1] != movement:
            runs.append(movement)
    return runs


def find_openers(opens: Sequence[bool]) -> list[tuple[int, ...]]:
    """For every set the last two before it (in order) whose own talk opened a block, as ``opens`` tells."""
    found: list[tuple[int, ...]] = []
    openers: tuple[int, ...] = ()
    for at, opened in enumerate(opens):
        found.append(openers)
        if opened:
            openers = (*openers[-1:], at)
    return found


def expect_next(history: Sequence[str], openers: Sequence[int] = ()) -> dict[str, list[str]]:
    """Movement -> why the order of the class makes it likely next.

    ``same``: the move just done; ``successor``: what followed that move the last time (``of two``: the two before
    agree as well); ``restart``: the first move since the last one that had come before, i.e. the block begins again;
    ``restart 3``: the move three places back in the order; ``opener``: the first move since talk that opened a block
    (the last of ``openers``, which are places in ``history``), ``opener before`` the one before that; ``rhythm``: see
    :func:`follow_rhythm`.
    """
    out: dict[str, list[str]] = {}

    def add(movement: str, why: str) -> None:
        own = out.setdefault(movement, [])
        if why not in own:
            own.append(why)

    runs = compress_runs(history[-REACH_BACK_SETS:])
    if not runs:
        return out
    for movement, why in follow_rhythm(history[-REACH_BACK_SETS:]):
        add(movement, why)
    last = runs[-1]
    add(last, "same")
    for place, i in zip(("opener", "opener before"), reversed(openers), strict=False):
        if history[i] != last:
            add(history[i], place)
    for back in range(len(runs) - 2, -1, -1):
        if runs[back] == last:
            add(runs[back + 1], "successor")
            if back >= 1 and runs[back - 1] == runs[-2]:
                add(runs[back + 1], "successor of two")
            return out
    # the last move was new: either another new one follows, or the block starts again
    opened = 0
    seen: set[str] = set()
    for i, movement in enumerate(runs):
        if movement in seen:
            opened = i + 1
        seen.add(movement)
    if opened < len(runs) - 1:
        add(runs[opened], "restart")
    for length in range(2, 8):
        if length <= len(runs):
            add(runs[-length], f"restart {length}")
    return out


def follow_rhythm(history: Sequence[str]) -> list[tuple[str, str]]:
    """(movement, why) of what comes next if the class goes on as it went before; ``NEW`` for a move not yet done.

    The rhythm is how many sets back each set's move was done before: 'a b a b' is 0 0 2 2. Where the last of it stood
    before, what followed there is expected again, of other moves: after 'c d' comes 'c'. ``rhythm 3``: as much of it as
    was there before; ``rhythm kept``: what followed was the same the time before that, too.
    """
    rhythm: list[int] = []
    latest: dict[str, int] = {}
    for i, movement in enumerate(history):
        rhythm.append(i - latest[movement] if movement in latest else 0)
        latest[movement] = i
    n = len(rhythm)
    for length in range(min(MOST_RHYTHM, n - 1), 0, -1):
        followed = [rhythm[j] for j in range(n - 1, length - 1, -1) if rhythm[j - length : j] == rhythm[n - length :]]
        if followed and followed[0] <= n:
            movement = history[n - followed[0]] if followed[0] else NEW
            found = [(movement, f"rhythm {length}")]
            if len(followed) > 1 and followed[1] == followed[0]:
                found.append((movement, "rhythm kept"))
            return found
    return []


def find_lists(context: ClassContext, draft: Draft) -> list[list[str]]:
    """Movements announced together before a span ('squats, press-ups, then a bridge'), list by list."""
    high = draft.setup_start
    low = max(0, high - LIST_REACH_WORDS)
    names = sorted(context.index.within_any(NAME_KINDS, low, high), key=lambda m: (m.start, m.end))
    runs: list[list[str]] = []
    ends = -100
    for m in names:
        if m.start - ends <= LIST_GAP_WORDS and runs:
            if m.value.movement not in runs[-1]:
                runs[-1].append(m.value.movement)
        else:
            runs.append([m.value.movement])
        ends = m.end
    return [run for run in runs if len(run) > 1]


def read_lists(lists: list[list[str]], history: Sequence[str], done: Set[str] | None = None) -> dict[str, list[str]]:
    """Movement -> why an announced list makes it due; ``done`` is ``history`` as a set, when it is at hand."""
    out: dict[str, list[str]] = {}
    last = history[-1] if history else ""
    if done is None:
        done = frozenset(history)
    for run in lists:
        for i, movement in enumerate(run):
            why = out.setdefault(movement, [])
            if "listed" not in why:
                why.append("listed")
            if i and run[i - 1] == last and "listed next" not in why:
                why.append("listed next")
            if movement not in done and "listed, not yet done" not in why:
                why.append("listed, not yet done")
    return out


def opens_block(context: ClassContext, draft: Draft) -> bool:
    """Whether the talk before a set sounds like the opening of a block."""
    low, high = draft.setup_start, draft.span.start
    return high - low > LONG_TALK or any(context.index.has(kind, low, high) for kind in OPENERS)


@dataclass(frozen=True, slots=True)
class Situation:
    """How a set is led in, as far as it bears on whether it is a new move or one that comes again."""

    named: str  # nothing named | one named | several named
    conjoined: tuple[str, ...]


def read_situation(context: ClassContext, draft: Draft, firm: int) -> Situation:
    """The situation of a set before which ``firm`` different movements were named for certain."""
    low, high = max(draft.setup_start - 4, 0), draft.span.start + 4
    has = context.index.has
    words = draft.span.start - draft.setup_start
    length = next((name for limit, name in LENGTHS if words <= limit), "talk")
    named = "nothing named" if not firm else "one named" if firm == 1 else "several named"
    if has("side_other", low, high):
        side = "other side"
    elif has("side_left", low, high) or has("side_right", low, high):
        side = "a side"
    else:
        side = "no side"
    flags = [
        k
        for k in ("again", "round_end", "rest", "round", "announce", "setup", "correction", "kit", "load")
        if has(k, low, high)
    ]
    moves = context.index.last("moves", max(0, low - 400), low)
    return Situation(
        named,
        (
            f"{length}, {named}",
            f"{length}, {side}",
            f"{named}, {side}",
            f"{length}, {named}, {side}",
            *(f"{flag}" for flag in flags),
            *(f"{flag}, {named}" for flag in flags),
            *([f"{moves.value.n} moves told"] if moves is not None and moves.value.n <= 8 else []),
        ),
    )


NEW = ""  # in the place of a movement: any that was not done before
MOST_RHYTHM = 4
EXPECTATIONS = ("same", "successor of two", "successor", "opener", "restart", "opener before")


_LATELY = (2, 2, 3, 3, 4, 4, 4, 4)  # for the last eight sets


@dataclass(frozen=True, slots=True)
class Past:
    """The choices before a set, in the forms that its candidates are compared with."""

    expected: dict[str, tuple[str, ...]]
    listed: dict[str, tuple[str, ...]]
    done: Set[str]
    last_four: frozenset[str]
    last_six: frozenset[str]
    last_eight: frozenset[str]
    lately: Mapping[str, int]  # movements of the last eight sets -> a number that tells these three apart

    def why(self, movement: str) -> tuple[str, ...]:
        """Why the order makes a movement likely next."""
        return self.expected.get(movement, ()) if movement in self.done else self.expected.get(NEW, ())


def look_back(
    history: Sequence[str], openers: Sequence[int], lists: list[list[str]], done: Set[str] | None = None
) -> Past:
    """What the choices so far and the lists announced make of the next set; ``done`` is ``history`` as a set."""
    if done is None:
        done = frozenset(history)
    latest = history[-len(_LATELY) :]
    return Past(
        {movement: tuple(why) for movement, why in expect_next(history, openers).items()},
        {movement: tuple(why) for movement, why in read_lists(lists, history, done).items()},
        done,
        frozenset(history[-4:]),
        frozenset(history[-6:]),
        frozenset(history[-8:]),
        dict(zip(latest, _LATELY[len(_LATELY) - len(latest) :], strict=True)),
    )


class Standing(NamedTuple):
    """Where a movement stands in the order of the class; equal standings have equal features."""

    role: str
    first: str
    expected: tuple[str, ...]
    listed: tuple[str, ...]
    short: int
    done: int


_make_standing = tuple.__new__  # what the named tuple does itself, without a call in between


def find_standing(movement: str, past: Past, role: str, short: bool) -> Standing:
    """The standing of one movement after the choices so far.

    ``role`` is how the movement is named around the span; ``short`` whether something named there is short for it.
    """
    why = past.why(movement)
    listed = past.listed.get(movement, ())
    if movement not in past.done:
        first = next((e for e in EXPECTATIONS if e in why), "new") if why else "new"
        return _make_standing(Standing, (role, first, why, listed, 0, 0))
    lately = "lately" if movement in past.last_six else "before"
    first = next((e for e in EXPECTATIONS if e in why), lately) if why else lately
    recalled = (2 if movement in past.last_eight else 1) if short else 0
    return _make_standing(Standing, (role, first, why, listed, recalled, 2 if movement in past.last_four else 1))


_SHORT = ((), ("short form of a move done",), ("short form of a move done", "short form of a move done lately"))
_DONE = (("new",), ("done before", "done long ago"), ("done before", "done lately"))


@lru_cache(maxsize=4_096)
def conjoin(first: str, conjoined: tuple[str, ...]) -> tuple[str, ...]:
    """``first`` together with each of the others."""
    return tuple(f"{first} | {s}" for s in conjoined)


def order_features(standing: Standing, situation: Situation) -> list[str]:
    """Features that depend on what was chosen before.

    The role together with what the order expects, and that with the situation, make the conjunctions that single
    features cannot tell.
    """
    return [*lead_features(standing.role, standing.first, situation), *own_features(standing, situation.named)]


def lead_features(role: str, first: str, situation: Situation) -> list[str]:
    """The first of ``order_features``: those that many standings share."""
    return [f"{role} | {first}", *conjoin(first, situation.conjoined)]


def own_features(standing: Standing, named: str) -> list[str]:
    """The others of ``order_features``."""
    found = [f"expected {w}" for w in standing.expected]
    for w in standing.listed:
        found += [w, f"{w} | {standing.role}", f"{w} | {named}"]
    found += _SHORT[standing.short]
    found += _DONE[standing.done]
    return found
