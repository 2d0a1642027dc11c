"""Changes between JSON documents lead there and back."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.review.patch import apply_changes, find_changes, turn_around

LEAVES = st.none() | st.booleans() | st.integers(0, 3) | st.sampled_from(("a", "b", 0.5))
DOCUMENTS = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from("xyz"), inner, max_size=3)
)


def tell_apart(document):
    """JSON tells true from 1, Python does not."""
    if isinstance(document, dict):
        return {key: tell_apart(value) for key, value in document.items()}
    if isinstance(document, list):
        return [tell_apart(value) for value in document]
    return (type(document).__name__, document)


@given(DOCUMENTS, DOCUMENTS)
def test_changes_lead_there_and_back(before, after):
    """Whatever the two documents are; neither is touched."""
    kept = copy.deepcopy((before, after))
    changes = find_changes(before, after)
    assert tell_apart(apply_changes(before, changes)) == tell_apart(after)
    assert tell_apart(apply_changes(after, turn_around(changes))) == tell_apart(before)
    assert (before, after) == kept
    assert (changes == []) == (tell_apart(before) == tell_apart(after))


@pytest.mark.parametrize(
    ("before", "after", "changes"),
    [
        ({"a": 1}, {"a": 2}, [{"at": ["a"], "before": 1, "after": 2}]),
        ({"a": 1}, {}, [{"at": ["a"], "before": 1}]),
        ({}, {"a": None}, [{"at": ["a"], "after": None}]),
        ([1, 2, 3], [1, 3], [{"at": [1], "out": [2], "in": []}]),
        ([{"id": 1, "v": 0}, 2], [{"id": 1, "v": 9}, 2], [{"at": [0, "v"], "before": 0, "after": 9}]),
    ],
)
def test_a_change_says_where_and_what(before, after, changes):
    """Values by their path, list items by the place they were taken from or put into."""
    assert find_changes(before, after) == changes


@pytest.mark.parametrize(
    ("document", "change"),
    [
        ({"a": 1}, {"at": ["a"], "before": 2, "after": 3}),
        ({"a": 1}, {"at": ["b"], "before": 2, "after": 3}),
        ({"a": 1}, {"at": ["a"], "after": 3}),
        ({"a": [1]}, {"at": ["a", 0], "out": [2], "in": []}),
        ({"a": [1]}, {"at": ["a", 7], "before": 2, "after": 3}),
        ({"a": 1}, {"at": ["a", "b"], "before": 2, "after": 3}),
    ],
)
def test_changes_of_another_document_are_refused(document, change):
    """Nothing is changed on a guess."""
    with pytest.raises(ValueError, match="does not hold"):
        apply_changes(document, [change])
