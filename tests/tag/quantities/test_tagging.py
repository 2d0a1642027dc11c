"""Every number gets one role, whatever the words; and the rules as a whole are in order."""

from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from setdown.tag.numbers import find_numbers
from setdown.tag.quantities import RULES, tag_quantities

KINDS = {
    "reps", "scheme", "sets", "round", "work_s", "rest_s", "time_left", "interval", "emom", "load", "unit", "bar",
    "count", "remaining", "countdown", "tempo", "effort", "breaths", "moves", "ordinal", "other", "withdrawn",
}  # fmt: skip

VOCABULARY = """
one two three five eight ten twelve fifteen twenty thirty forty half a an the of each side leg reps seconds minute
minutes pounds kilos in hand grab my your tens twelves that's more left to go last first second third round set sets
by x 3x10 12-15 40/20 3-1-1 5:30 20kg $14 rest off on hold for no sorry what am i saying twice through bar plates
squats and then off. Ten. Go, okay breathe percent dumbbell pair out tank o'clock 1998 oh
"""
WORDS = VOCABULARY.split()


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=40), st.lists(st.integers(0, 9000), max_size=40))
def test_every_number_is_in_exactly_one_mention(words: list[str], gaps: list[int]) -> None:
    """No row of words breaks the tagger, drops a number, or gives it two roles."""
    numbers = find_numbers(words)
    mentions = tag_quantities(words, gaps, numbers)
    assert all(0 <= m.start < m.end <= len(words) and m.kind in KINDS and 0 < m.score <= 1 for m in mentions)
    covered = Counter(i for m in mentions for i in range(m.start, m.end))
    one_word = {n.start for n in numbers if n.joint}  # '3x10' is one word with two roles
    assert all(covered[i] == 1 or i in one_word for n in numbers for i in range(n.start, n.end))


def test_the_same_words_give_the_same_mentions() -> None:
    """Tagging is deterministic."""
    words = WORDS * 3
    once = tag_quantities(words, [], find_numbers(words))
    assert once == tag_quantities(words, [], find_numbers(words))


def test_case_and_punctuation_do_not_hide_a_phrase() -> None:
    """Cased captions with punctuation read like bare ones."""
    for text in ("ten reps each side", "Ten reps, each side!", "TEN REPS EACH SIDE"):
        words = text.split()
        (mention,) = tag_quantities(words, [], find_numbers(words))
        assert (mention.kind, mention.value.lo, mention.value.each_side) == ("reps", 10, True)


def test_a_sentence_end_or_a_long_silence_breaks_a_phrase() -> None:
    """'Twelve. Seconds out!' is no duration, nor is a number half a minute before its noun."""
    for words, gaps in ((["12.", "Reps", "come", "later"], []), (["twelve", "reps", "come", "later"], [0, 9000])):
        assert "ten reps" not in [m.rule for m in tag_quantities(words, gaps, find_numbers(words))]


def test_rule_names_are_unique_and_scores_are_probabilities() -> None:
    """A rule can be found again by the name that travels in its mentions."""
    names = [rule.name for rule in RULES]
    assert len(set(names)) == len(names)
    assert all(0 < rule.score <= 1 for rule in RULES)
