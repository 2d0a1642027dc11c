"""A class as the rows of the catalogue."""

from __future__ import annotations

import pytest

from make_routine import make_routine
from setdown.catalogue.describe import pack, pack_routine, unpack
from setdown.model.routine import Routine


@pytest.mark.parametrize("title", ["Quay", "Ü 水 \U0001f3cb", 'a "b"\\\n\x1f\x7f\u2028', "half \ud83c a pair", ""])
def test_a_routine_is_kept_whole(title):
    """The same bytes by the quick and the general way, and the routine comes back equal; surrogates may stand alone."""
    routine = make_routine().model_copy(update={"title": title})
    packed = pack_routine(routine)
    assert packed == pack(routine.model_dump(mode="json", exclude_defaults=True))
    assert Routine.model_validate(unpack(packed)) == routine


def test_every_annotated_class_is_kept_whole(gold):
    """The same of all of them."""
    for one in gold:
        packed = pack_routine(one.routine)
        assert packed == pack(one.routine.model_dump(mode="json", exclude_defaults=True))
        assert Routine.model_validate(unpack(packed)) == one.routine
