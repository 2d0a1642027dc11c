"""What the order of a class makes likely next."""

from __future__ import annotations

import pytest

from make_class import lay_out_class
from setdown.assemble.order import (
    NEW,
    compress_runs,
    expect_next,
    find_lists,
    find_openers,
    find_standing,
    follow_rhythm,
    look_back,
    opens_block,
    order_features,
    read_lists,
    read_situation,
)

A, B, C, D = "goblet-squat", "bent-over-row", "lunge", "plank"


@pytest.mark.parametrize(
    ("history", "runs"),
    [([], []), ([A], [A]), ([A, A, A], [A]), ([A, A, B, B, A], [A, B, A]), ([A, B, A, B], [A, B, A, B])],
)
def test_runs_are_moves_without_repeats(history, runs):
    """Sides and straight sets of one move are one place in the order."""
    assert compress_runs(history) == runs


def test_nothing_is_expected_of_nothing():
    """The first set can be anything."""
    assert expect_next([]) == {}


def test_a_pair_goes_on():
    """A B A expects B, because B followed A before; and A B A B expects A."""
    assert expect_next([A, B, A])[B] == ["successor"]
    assert "successor" in expect_next([A, B, A, B])[A]


def test_a_third_time_round_agrees_with_both_before():
    """In A B C A B both the last move and the one before it point to C."""
    assert expect_next([A, B, C, A, B])[C][-2:] == ["successor", "successor of two"]


def test_straight_sets_may_go_on():
    """The move just done is always possible again."""
    assert expect_next([A])[A] == ["same"]
    assert "same" in expect_next([A, A, A])[A]


def test_a_new_move_may_be_the_last_of_its_block():
    """After A B C, which were all new, the block may begin again with A."""
    found = expect_next([A, B, C])
    assert found[A] == ["restart", "restart 3"]
    assert found[B] == ["restart 2"]
    assert D not in found


def test_a_second_block_restarts_at_its_own_first_move():
    """In A B A B C D the block of C and D may begin again, not the one before."""
    found = expect_next([A, B, A, B, C, D])
    assert "restart" in found[C]
    assert "restart" not in found[A]


def test_sides_do_not_count_as_places():
    """Left and right of A, then left and right of B: next comes A, as if each had been one set."""
    assert expect_next([A, A, B, B])[A] == expect_next([A, B])[A]


@pytest.mark.parametrize(
    ("history", "next_one", "why"),
    [
        ([A, B, A, B, C, D], C, "rhythm 2"),  # as after the first two new moves
        ([A, A, A, B, B, B, C, C], C, "rhythm 4"),  # straight sets, three of each
        ([A, A, A, B, B, B, C, C, C], NEW, "rhythm 4"),
        ([A, A, B, B, C], C, "rhythm 3"),  # left, right
        ([A, B, C, A, B, C, A], B, "rhythm 3"),  # round and round
    ],
)
def test_the_class_goes_on_as_it_went_before(history, next_one, why):
    """Which move comes again, or that a new one comes, follows from where the same rhythm stood before."""
    assert follow_rhythm(history)[0] == (next_one, why)


def test_a_rhythm_that_was_kept_twice():
    """What followed both times before is surer than what followed once."""
    assert (NEW, "rhythm kept") in follow_rhythm([A, A, B, B, C, C, D, D])
    assert [why for _, why in follow_rhythm([A, A, B, B])] == ["rhythm 2"]


def test_without_a_rhythm():
    """The first sets have none, nor has one that never stood before."""
    assert follow_rhythm([]) == follow_rhythm([A]) == []
    assert follow_rhythm([A, B, A]) == []


def test_a_new_move_is_expected_as_such():
    """The standing of a move that was not done yet tells that a new one is due."""
    past = look_back([A, A, B, B], (), [])
    assert "rhythm 2" in find_standing(C, past, "not named", False).expected
    assert "rhythm 2" not in find_standing(A, past, "not named", False).expected


def test_talk_that_opened_a_block_is_remembered():
    """The first move since such talk is the opener, the one of the block before the opener before."""
    found = expect_next([A, B, A, B, C, D], openers=(0, 4))
    assert "opener" in found[C]
    assert "opener before" in found[A]


def test_the_last_two_openers_are_kept():
    """For every set those before it, not its own."""
    assert find_openers([True, False, True, True, False]) == [(), (0,), (0,), (0, 2), (2, 3)]


def test_an_opener_that_was_just_done_is_only_the_same():
    """The move itself is not also its own restart."""
    assert "opener" not in expect_next([A, B, C], openers=(2,))[C]


def test_moves_announced_together_are_a_list():
    """Names close together before a set, each once, in order; a name by itself is none."""
    context = lay_out_class(
        "welcome everybody _5 [ march on the spot _20 ] and stop there lovely stuff now listen to me tonight we have "
        "goblet squats then bent over rows and a plank _5 so that is it find some space and stand up tall for me "
        "[ star jumps go _20 ] and rest that was fun [ go _20 ] and rest"
    )
    march, jumps, after = context.drafts
    assert find_lists(context, after) == [[A, B, D]]
    assert find_lists(context, jumps) == []  # the talk that leads into a set is looked at for itself
    assert find_lists(context, march) == []


def test_an_announced_list_is_worked_through():
    """After B of the list A, B, C what follows in it is due, and what has been done is not."""
    due = read_lists([[A, B, C]], [A, B])
    assert due[C] == ["listed", "listed next", "listed, not yet done"]
    assert due[A] == ["listed"]
    assert read_lists([], [A]) == {}


@pytest.mark.parametrize(
    ("talk", "opens"),
    [
        ("okay here comes our first superset", True),
        ("next up we have three moves", True),
        ("and again", False),
        ("well " * 70, True),
    ],
)
def test_talk_that_opens_a_block(talk, opens):
    """Words of a new block, or talk so long that something new must have been explained."""
    context = lay_out_class(f"[ go _20 ] {talk} [ go _20 ] and rest")
    assert opens_block(context, context.drafts[1]) is opens


def test_the_situation_tells_names_and_sides():
    """How many names lead in, how long the talk is, and whether it is the other side."""
    context = lay_out_class("[ lunges left leg go _20 ] and switch other side [ go _20 ] and rest")
    situation = read_situation(context, context.drafts[1], firm=0)
    assert situation.named == "nothing named"
    assert "short, other side" in situation.conjoined
    assert read_situation(context, context.drafts[1], firm=2).named == "several named"


def test_order_features_tell_new_from_done():
    """A move is new, or done, or done lately, and why the order expects it."""
    context = lay_out_class("[ go _20 ] and rest [ go _20 ] and rest [ go _20 ] and rest")
    situation = read_situation(context, context.drafts[2], firm=0)
    past = look_back([A, B, B, B, B], (), [[B, C]])

    def features(movement: str) -> set[str]:
        return set(order_features(find_standing(movement, past, "not named", short=False), situation))

    assert {"new", "listed next"} <= features(C)
    assert {"done before", "done long ago", "expected restart"} <= features(A)
    assert {"done before", "done lately", "not named | same"} <= features(B)


def test_a_short_form_counts_for_a_move_that_was_done():
    """'The squats' may mean the goblet squats of a moment ago, but not a move that was never done."""
    past = look_back([A, B], (), [])
    assert find_standing(A, past, "not named", short=True).short
    assert not find_standing(A, past, "not named", short=False).short
    assert not find_standing(C, past, "not named", short=True).short
