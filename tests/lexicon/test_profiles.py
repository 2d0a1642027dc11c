"""The profiles of movements: their compiled file, and that it says the same as what it was made from."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.lexicon import Lexicon, find_lexicon_folder, load_lexicon
from setdown.lexicon.compile_names import compile_profiles
from setdown.lexicon.packed_terms import PackedTerms, pack_terms
from setdown.lexicon.profiles import COMPILED, ProfileModel, gather_texts, learn_profiles, load_profiles

HUNDREDTHS = st.integers(-30, 3_000).map(lambda n: n / 100)
ROW = st.lists(st.tuples(st.integers(0, 2_000), HUNDREDTHS), max_size=5).map(
    lambda pairs: ([place for place, _ in pairs], [worth for _, worth in pairs])
)


@given(st.dictionaries(st.text(st.characters(exclude_characters="\n", codec="utf-8"), min_size=1, max_size=9), ROW))
def test_packed_terms_are_the_terms_again(terms):
    """Every term, place and log-odds comes back as it was."""
    packed = PackedTerms(pack_terms(terms))
    assert {term: (places.tolist(), odds.tolist()) for term, (places, odds) in packed.items()} == terms
    assert len(packed) == len(terms)
    assert "\n" not in packed
    with pytest.raises(KeyError):
        packed["\n"]


def test_the_compiled_profiles_are_current():
    """``profiles.json`` is what ``python -m setdown.lexicon.compile_names`` writes; run that when this fails."""
    folder = find_lexicon_folder()
    assert (folder / COMPILED).read_text(encoding="utf-8") == compile_profiles(folder)


def test_compiled_and_learned_profiles_score_alike():
    """To the last bit, so that an outdated compiled file costs time only."""
    lexicon: Lexicon = load_lexicon()
    compiled, learned = load_profiles(lexicon), learn_profiles(gather_texts(lexicon))
    assert compiled.ids == learned.ids
    for text in ("", "no such words", "sit back into your hips chest tall drive through the heels squeeze at the top"):
        assert np.array_equal(compiled.score(text.split()), learned.score(text.split()))


def test_a_model_of_nothing_scores_nothing():
    """No movements, no columns."""
    assert ProfileModel([], {}).score(["squat"]).shape == (0,)
