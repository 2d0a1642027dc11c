"""A group's sets as an instructor would write them: its moves, and each move's passes (one for each round).

A set is what was performed once; the left and the right of one round are two sets and one pass.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from setdown.model.routine import Group, Set

_OPPOSITE = {"left": "right", "right": "left"}


@dataclass(slots=True)
class MovePasses:
    """One move of a group; ``passes[i]`` are the sets of its ``i``-th time round (two when sides took turns)."""

    key: str
    passes: list[list[Set]] = field(default_factory=list)

    @property
    def first(self) -> Set:
        """The first set of the move."""
        return self.passes[0][0]

    @property
    def sets(self) -> list[Set]:
        """All sets of the move, in order."""
        return [one for sets in self.passes for one in sets]


def list_moves(group: Group) -> list[MovePasses]:
    """The moves of a group in the order in which they first come."""
    moves: dict[str, MovePasses] = {}
    for one in group.sets:
        key = one.exercise.id or one.exercise.name
        move = moves.setdefault(key, MovePasses(key))
        if move.passes and _completes(move.passes[-1], one):
            move.passes[-1].append(one)
        else:
            move.passes.append([one])
    return list(moves.values())


def list_order(group: Group, moves: list[MovePasses]) -> list[int]:
    """The moves by number, from 0, in the order in which the group went through their passes."""
    number = {id(one): n for n, move in enumerate(moves) for sets in move.passes for one in sets[:1]}
    return [number[id(one)] for one in group.sets if id(one) in number]


def is_regular(order: list[int], moves: int) -> bool:
    """Whether the order is simply all moves in turn, over and over."""
    return all(at % moves == number for at, number in enumerate(order)) and len(order) % moves == 0


def _completes(sets: list[Set], one: Set) -> bool:
    last = sets[-1]
    return len(sets) == 1 and one.side is not None and one.round == last.round and _OPPOSITE.get(one.side) == last.side
