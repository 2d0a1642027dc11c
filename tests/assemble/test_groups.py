"""Groups: sets are cut into blocks that repeat themselves."""

from __future__ import annotations

import pytest

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.context import ClassContext
from setdown.assemble.groups import assign_groups

TALK = "good work shake it out have a drink of water and then we will go on with what comes next for you now"
IDS = {
    "A": "goblet-squat",
    "B": "bent-over-row",
    "C": "reverse-lunge",
    "D": "push-up",
    "E": "plank",
    "F": "glute-bridge",
    "G": "biceps-curl",
    "H": "deadlift",
}


def group_moves(order: str, talk: dict[int, str] | None = None, sides: str = "") -> ClassContext:
    """Sets of these moves in this order, with the same talk before each unless ``talk`` says otherwise."""
    text = " ".join(f"{(talk or {}).get(i, TALK)} [ go _20 ]" for i in range(len(order)))
    context = lay_out_class(text)
    decide_exercises(context, *(IDS[letter] for letter in order))
    for i, draft in enumerate(context.drafts):
        decide(draft, side={"L": "left", "R": "right"}.get(sides[i]) if sides else None, work_s=None)
    assign_groups(context)
    return context


def read_blocks(context: ClassContext) -> list[str]:
    """The moves of each group as letters, e.g. ``["ABAB", "CDCD"]``."""
    letters = {v: k for k, v in IDS.items()}
    blocks: dict[int, str] = {}
    for draft in context.drafts:
        blocks[draft.group] = blocks.get(draft.group, "") + letters[draft.value("exercise")]
    assert list(blocks) == list(range(1, len(blocks) + 1))
    return list(blocks.values())


@pytest.mark.parametrize(
    ("order", "blocks"),
    [
        ("A", ["A"]),
        ("AAA", ["AAA"]),
        ("AAABBB", ["AAA", "BBB"]),
        ("AAABBBCCC", ["AAA", "BBB", "CCC"]),
        ("ABABCCC", ["ABAB", "CCC"]),
        ("ABAB", ["ABAB"]),
        ("ABABCDCD", ["ABAB", "CDCD"]),
        ("ABABABCDCDCD", ["ABABAB", "CDCDCD"]),
        ("ABCABCABC", ["ABCABCABC"]),
        ("ABCDEFABCDEF", ["ABCDEFABCDEF"]),
        ("AAABCBCBC", ["AAA", "BCBCBC"]),
        ("ABCABCDEDEDE", ["ABCABC", "DEDEDE"]),
    ],
)
def test_blocks_repeat_themselves(order, blocks):
    """What is alternated is one group, straight sets of one move are one, and what comes next is another."""
    assert read_blocks(group_moves(order)) == blocks


@pytest.mark.parametrize(
    ("order", "arrangement"),
    [("AAA", "straight"), ("ABAB", "superset"), ("ABCABC", "superset"), ("ABCDABCD", "circuit")],
)
def test_arrangements_have_names(order, arrangement):
    """One move is straight, two or three in turn are a superset, more are a circuit."""
    assert {d.arrangement for d in group_moves(order).drafts} == {arrangement}


def test_rounds_count_a_move_in_its_group():
    """The second time round is round 2; a new group starts at 1."""
    assert [d.round for d in group_moves("ABABCDCD").drafts] == [1, 1, 2, 2, 1, 1, 2, 2]


def test_sides_of_one_round_share_it():
    """Left and right done one after the other are one round each, not two."""
    context = group_moves("AABBAABB", sides="LRLRLRLR")
    assert read_blocks(context) == ["AABBAABB"]
    assert [d.round for d in context.drafts] == [1, 1, 1, 1, 2, 2, 2, 2]


def test_an_uneven_last_round_stays_in_its_block():
    """Time ran out after the first move of round three: it is no block of its own."""
    assert read_blocks(group_moves("ABABA")) == ["ABABA"]


def test_talk_of_a_new_block_cuts():
    """Moves seen once each do not show where a block ends: talk that opens one decides."""
    opener = "have a rest and then it is our second superset " + TALK + " " + TALK
    assert read_blocks(group_moves("ABAB" + "CDEF" + "CDEF", {4: opener})) == ["ABAB", "CDEFCDEF"]


def test_a_section_is_never_shared():
    """Warm-up and cool-down are one flow each, and groups count on through the class."""
    context = group_moves("ABCCDE")
    for i, section in enumerate(("warm_up", "warm_up", "main", "main", "cool_down", "cool_down")):
        context.drafts[i].section = section
    assign_groups(context)
    assert [d.group for d in context.drafts] == [1, 1, 2, 2, 3, 3]
    assert [d.arrangement for d in context.drafts] == ["flow", "flow", "straight", "straight", "flow", "flow"]


def test_groups_are_a_function_of_the_moves():
    """Assigning again changes nothing, and other names for the moves give the same blocks."""
    once = group_moves("ABABCDCDEEE")
    again = group_moves("FGFGHAHABBB")
    assert [d.group for d in once.drafts] == [d.group for d in again.drafts]
    before = [(d.group, d.round, d.arrangement) for d in once.drafts]
    assign_groups(once)
    assert [(d.group, d.round, d.arrangement) for d in once.drafts] == before


def test_timed_work_is_intervals():
    """Most sets of a block have seconds of work: it is an interval block."""
    context = group_moves("ABAB")
    for draft in context.drafts:
        decide(draft, work_s=40)
    assign_groups(context)
    assert {d.arrangement for d in context.drafts} == {"interval"}
