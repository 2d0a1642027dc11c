"""What a number is for when no phrase says it: the words and counts around it decide."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from setdown.model.mention import Mention
from setdown.tag.quantities.values import Count, Countdown, LoadSaid, RepTarget, Seconds

Tag = Callable[..., list[Mention]]


def kinds(mentions: list[Mention]) -> list[str]:
    return [m.kind for m in mentions]


def test_a_number_above_the_count_goes_on_with_it(tag: Tag) -> None:
    """Skipped numbers are still one count."""
    mentions = tag("ten reps and down one keep it slow three nice four don't rush me seven eight")
    assert kinds(mentions) == ["reps", "count", "count", "count", "count"]
    assert mentions[-1].value == Count(8, 7)


def test_a_number_followed_by_smaller_ones_was_a_target(tag: Tag) -> None:
    """'Five. Pull. ... One. Two.' asks for five, then counts."""
    mentions = tag("Third lift. Five. Brace, and pull. One. Back is long. Two. And three.")
    target = next(m for m in mentions if m.kind == "reps")
    assert isinstance(target.value, RepTarget)
    assert target.value.lo == 5
    assert [m.value for m in mentions if m.kind == "count"] == [Count(1, 1), Count(3, 2)]


def test_the_loser_is_kept_as_an_alternative(tag: Tag) -> None:
    """A later stage can see what else a lone number might have been."""
    (mention,) = tag("twelve")
    assert {a.kind for a in mention.value.alternatives} & {"count", "reps"}


def test_a_bare_number_right_behind_a_round_is_its_target(tag: Tag) -> None:
    """'Set two, eight.'"""
    mentions = tag("rest now set two eight and go")
    assert [(m.kind, getattr(m.value, "lo", None)) for m in mentions] == [("round", None), ("reps", 8)]


def test_a_silence_before_a_number_speaks_for_counting(tag: Tag) -> None:
    """The class works silently, then the instructor says where they are."""
    words = "knees wide six and chest up"
    (loud,) = tag(words)
    (silent,) = tag(words, gaps={2: 6000})
    assert silent.kind == "count"
    assert silent.score > (loud.score if loud.kind == "count" else 0)


def test_a_plural_is_a_weight_where_there_are_weights_and_reps_of_a_ladder_where_there_are_none(tag: Tag) -> None:
    """'Eights' of a class with dumbbells, and of a ladder without any kit."""
    with_weights = tag("dumbbells for the press then grab a pair of eights and we go down to sixes")
    assert [m.value.value for m in with_weights if isinstance(m.value, LoadSaid) and m.value.value] == [8, 6]
    ladder = tag("ten dips ten jumps then run and what's next sixes on the bench")
    assert [m.value.lo for m in ladder if m.kind == "reps"] == [10, 10, 6]


def test_a_size_that_was_a_load_before_is_a_load_again(tag: Tag) -> None:
    """'The twelve' is the dumbbell where twelves were taken up, and the reps where twelve was asked for."""
    load = tag("i have a pair of twelve kilos and we do eight reps now park the twelve please")
    assert load[-1].kind == "load"
    reps = tag("i have a pair of eight kilos and we do twelve reps so just the twelve and done")
    assert reps[-1].kind == "reps"


def test_a_bare_number_is_seconds_where_the_class_is_timed(tag: Tag) -> None:
    """'Thirty' in a row of stretches that are held for thirty seconds."""
    mentions = tag("stretch the left side for thirty seconds and relax now stretch the right side thirty here")
    assert [m.kind for m in mentions] == ["work_s", "work_s"]
    assert isinstance(mentions[1].value, Seconds)


def test_each_side_counted_aloud_is_a_count(tag: Tag) -> None:
    """'Three each side' in the middle of a set counts; at its start it asks."""
    mentions = tag("eight reps each leg off you go one two each keep going four each and switch")
    assert kinds(mentions)[0] == "reps"
    assert kinds(mentions)[-1] == "count"


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("three two one go", 3, 1),
        ("tiny pulses ten nine eight keep going", 10, 8),
        ("five, four, three, two, one", 5, 1),
    ],
)
def test_falling_numbers_are_a_countdown(tag: Tag, text: str, first: int, last: int) -> None:
    """A countdown is one mention from its first to its last number."""
    (mention,) = tag(text)
    assert mention.value == Countdown(first, last)


def test_five_six_seven_eight_out_of_nowhere_starts_the_music(tag: Tag) -> None:
    """It is a count where a count led up to it."""
    (count_in,) = tag("ready for the music five six seven eight")
    assert (count_in.kind, count_in.value.what) == ("other", "count_in")
    counted = tag("ten reps and go two three and four keep going five six seven eight")
    assert counted[-1].kind == "count"


@pytest.mark.parametrize(
    "text", ["it's the ugly one over there", "one arm at a time", "a heavy one please", "own one pair"]
)
def test_one_that_stands_for_a_thing_is_not_counted(tag: Tag, text: str) -> None:
    """A pronoun is no repetition."""
    assert "count" not in kinds(tag(text))


def test_one_that_is_counted(tag: Tag) -> None:
    """Alone in its clause, 'one' begins a count."""
    mentions = tag("And press. One. Nice and tall. Two. Good.")
    assert kinds(mentions) == ["count", "count"]


def test_numbers_behind_words_of_the_clock_are_clock_times(tag: Tag) -> None:
    """A class that rests by the wall clock says bare times."""
    mentions = tag("we rest by that clock so five thirty six we go and it says 541 now")
    assert [(m.kind, m.value.what) for m in mentions] == [("other", "clock"), ("other", "clock")]
