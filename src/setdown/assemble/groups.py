"""Groups: what is alternated belongs together. The sets of a section are cut into blocks that repeat themselves.

A block is a run of sets whose moves come round in the same order (A B A B, A A A, A B C A B C). The cut that explains
the section with the fewest surprises wins: new blocks cost, moves that come back in another block cost more, a block
whose rounds are uneven costs, and talk that opens a block ('next pair', a long rest) makes a cut cheaper.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import cycle
from operator import ne

from setdown.assemble.context import ClassContext, Draft

STRAIGHT_JOIN, SINGLE_JOIN = 1.7, 0.62
LONGEST_BLOCK = 40  # sets
OPENERS = ("superset", "circuit", "interval_talk", "interval", "main_part", "rest", "moves", "sets")


def assign_groups(context: ClassContext) -> None:
    """Give every draft its group (counting up through the class), arrangement and round."""
    number = 0
    for section in ("warm_up", "main", "cool_down"):
        drafts = [d for d in context.drafts if d.section == section]
        if not drafts:
            continue
        blocks = _cut_blocks(context, drafts) if section == "main" else [drafts]
        for block in blocks:
            number += 1
            arrangement = _name_arrangement(context, block) if section == "main" else "flow"
            seen: dict[tuple[str, str], int] = {}
            for draft in block:
                key = (draft.value("exercise") or "", draft.value("side") or "")
                seen[key] = seen.get(key, 0) + 1
                draft.group, draft.round, draft.arrangement = number, seen[key], arrangement


def _cut_blocks(context: ClassContext, drafts: list[Draft]) -> list[list[Draft]]:
    n = len(drafts)
    moves = [d.value("exercise") or f"?{d.span.start}" for d in drafts]
    sides = [d.value("side") or "" for d in drafts]
    cut_cost = [_cut_cost(context, d) for d in drafts]
    bounds: dict[str, tuple[int, int]] = {}
    for i, move in enumerate(moves):
        bounds[move] = (bounds[move][0] if move in bounds else i, i)
    best = [0.0] + [float("inf")] * n
    back = [0] * (n + 1)
    for start in range(n):
        so_far = best[start] + (cut_cost[start] if start else 0.0)
        for end, block_cost in _block_costs(moves, sides, start, bounds):
            cost = so_far + block_cost
            if cost < best[end] - 1e-9:
                best[end], back[end] = cost, start
    blocks: list[list[Draft]] = []
    end = n
    while end > 0:
        blocks.append(drafts[back[end] : end])
        end = back[end]
    return blocks[::-1]


def _cut_cost(context: ClassContext, draft: Draft) -> float:
    """What it costs to open a block before this set: less when the talk opens one."""
    cost = 1.0
    low, high = draft.setup_start, draft.span.start
    if any(context.index.has(kind, low, high) for kind in OPENERS):
        cost -= 0.25
    words = high - low
    if words > 45:
        cost -= 0.25
    if words <= 8:
        cost += 0.3
    if context.index.has("again", low, high) or context.index.has("side_other", low, high):
        cost += 0.3
    return cost


def _block_costs(
    moves: list[str], sides: list[str], start: int, bounds: Mapping[str, tuple[int, int]]
) -> Iterator[tuple[int, float]]:
    """How badly the moves ``[start, end)`` fit one repeating block, for every end; 0 for one that repeats cleanly.

    ``bounds`` has the first and the last place of every move.
    """
    runs: list[str] = []
    straight = False  # the same move on the same side twice running: sets of it, not two sides of one
    seen: set[str] = set()
    distinct: set[str] = set()
    order: list[str] = []  # the distinct moves as they came
    surprises = 0  # runs that are not the move that comes round
    elsewhere = 0  # distinct moves that are in other blocks too
    for at in range(start, min(start + LONGEST_BLOCK, len(moves))):
        move = moves[at]
        first, final = bounds[move]
        if move not in distinct:
            distinct.add(move)
            order.append(move)
            elsewhere += first < start or final > at
            runs.append(move)
            surprises = sum(map(ne, runs, cycle(order)))
            seen = {sides[at]}
        else:
            elsewhere -= first >= start and final == at
            if move != runs[-1]:
                surprises += move != order[len(runs) % len(order)]
                runs.append(move)
                seen = {sides[at]}
            elif sides[at] in seen:
                straight = True
            else:
                seen.add(sides[at])
        if len(order) == len(runs):
            # each move once: one straight move is clean, several straight moves are blocks of their own, and several
            # moves seen once only are a guess
            cost = (STRAIGHT_JOIN if straight else SINGLE_JOIN) * (len(order) - 1)
        else:
            cost = 0.9 * surprises
            if len(runs) % len(order):
                cost += 0.5
        yield at + 1, cost + 0.7 * elsewhere


def _name_arrangement(context: ClassContext, block: list[Draft]) -> str:
    distinct = {d.value("exercise") for d in block}
    first = block[0]
    timed = sum(d.value("work_s") is not None for d in block) > len(block) / 2
    if timed or context.index.has("interval", 0, first.span.start) or context.index.has("emom", 0, first.span.start):
        return "interval" if len(distinct) > 1 or timed else "straight"
    if len(distinct) == 1:
        return "straight"
    return "superset" if len(distinct) <= 3 else "circuit"
