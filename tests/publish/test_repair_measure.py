"""How much of what captions mis-hear is put right, on annotated classes corrupted on purpose."""

from __future__ import annotations

import pytest

from publish.measure_repair import list_classes, measure


@pytest.mark.slow
@pytest.mark.parametrize("held_back", [False, True], ids=["tuning", "held-back"])
def test_errors_in_words_of_the_trade_are_halved_and_other_words_left_alone(lexicon, held_back):
    """Word error rate on movements, kit, units and numbers with units: half or less; others: 1 in 200 at most."""
    scripts = list_classes(held_back)[:: 3 if held_back else 9]
    corrupted, annotated = measure(scripts, lexicon)
    assert set(corrupted.before) >= {"listed", "split", "sound"}
    assert sum(corrupted.after.values()) * 2 <= sum(corrupted.before.values())
    assert corrupted.after["sound"] < corrupted.before["sound"]
    assert corrupted.changed * 200 <= corrupted.others
    assert annotated.changed * 200 <= annotated.others
