"""The copy of all profiles that likeness reads: there after every change, and gone the moment it would be wrong."""

from __future__ import annotations

from contextlib import closing

import numpy as np
import pytest

from setdown.catalogue.add import add_classes, find_gone, list_sources, prune_classes
from setdown.catalogue.like import rank_alike
from setdown.catalogue.renew import apply_renewal, list_stale, preview_renewal
from setdown.catalogue.store import open_store
from setdown.catalogue.together import KINDS, collect_profiles, keep_together, read_profiles
from setdown.catalogue.verify import check_catalogue
from setdown.catalogue.write import PAIR

VECTORS = "SELECT vector FROM profile ORDER BY class_id"


def is_kept(store) -> bool:
    return store.execute("SELECT count(*) FROM profiles_together").fetchone() == (1,)


def assert_right(store) -> None:
    kept, own = read_profiles(store), collect_profiles(store)
    assert np.allclose(own.lengths**2, [sum(s * s for _, s in PAIR.iter_unpack(v)) for (v,) in store.execute(VECTORS)])
    for name in KINDS:
        assert np.array_equal(getattr(kept, name), getattr(own, name)), name
    assert len(own.ids) == store.execute("SELECT count(*) FROM class").fetchone()[0]
    assert check_catalogue(store) == []


@pytest.fixture
def catalogue(few, tmp_path):
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(few)]))
        yield store


def test_it_is_there_after_every_change(catalogue, few):
    """After classes are added, changed, taken out and renewed."""
    assert is_kept(catalogue)
    assert_right(catalogue)
    first, second, *_ = sorted(few.glob("*.routine.json"))
    first.write_text(first.read_text().replace('"title": "', '"title": "New ', 1))
    for path in few.glob(f"{second.name.removesuffix('.routine.json')}.*"):
        path.unlink()
    sources = list_sources([str(few)])
    assert add_classes(catalogue, sources).replaced == 1
    assert is_kept(catalogue)
    assert prune_classes(catalogue, find_gone(catalogue, [str(few)], sources)) == 1
    assert is_kept(catalogue)
    assert_right(catalogue)
    own = (("own.toml", b"# nothing in it\n"),)
    preview_renewal(catalogue, list_stale(catalogue, own), own=own)
    assert apply_renewal(catalogue, own) == 11
    assert is_kept(catalogue)
    assert_right(catalogue)


@pytest.mark.parametrize(
    "change",
    [
        "DELETE FROM class WHERE id = 2",
        "DELETE FROM profile WHERE class_id = 2",
        "UPDATE profile SET vector = x'' WHERE class_id = 2",
        "INSERT INTO profile SELECT 99, vector FROM profile WHERE class_id = 2",
    ],
)
def test_any_change_of_a_profile_throws_it_away(catalogue, change):
    """Also where a class takes its profile with it."""
    catalogue.execute("PRAGMA foreign_keys = " + ("OFF" if "99" in change else "ON"))
    catalogue.execute(change)
    assert not is_kept(catalogue)


def test_with_it_and_without_it_the_same_classes_are_alike(catalogue):
    """The same classes in the same order with the same figures, whatever the limit."""
    ids = [id for (id,) in catalogue.execute("SELECT id FROM class")]
    kept = {(id, limit): rank_alike(catalogue, id, limit) for id in ids for limit in (0, 1, 5, 100)}
    catalogue.execute("DELETE FROM profiles_together")
    assert kept == {(id, limit): rank_alike(catalogue, id, limit) for id, limit in kept}
    assert all(kept[id, 5] == kept[id, 0][:5] for id in ids)
    assert rank_alike(catalogue, 12345) == []
    keep_together(catalogue)
    assert is_kept(catalogue)


def test_an_empty_catalogue(tmp_path):
    """Nothing is alike, and nothing is wrong."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        assert rank_alike(store, 1) == []
        keep_together(store)
        assert rank_alike(store, 1) == []
        assert check_catalogue(store) == []
