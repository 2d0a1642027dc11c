"""After a change of the lexicon: what would change is shown first, and put in only when told to."""

from __future__ import annotations

import dataclasses
from contextlib import closing
from pathlib import Path

import pytest

from gold_routines import list_gold, write_folder
from own_lexicon import Renamed, rename_first_movement
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.balance import Selection, measure_balance
from setdown.catalogue.describe import describe_class, unpack_routine
from setdown.catalogue.renew import apply_renewal, dump_entry, list_stale, load_entry, preview_renewal
from setdown.catalogue.store import open_store
from setdown.catalogue.verify import check_catalogue
from setdown.catalogue.work import Job, index_class
from setdown.catalogue.work import load_own as read_lexicon
from setdown.model.routine import Finisher, Reps, Routine
from setdown.review.compare import compare_routines
from setdown.review.wording import describe_difference

QUAYSIDE = Path(__file__).resolve().parents[2] / "samples" / "quayside-strength.vtt"


@pytest.fixture
def catalogue(tmp_path):
    """A class to extract and three reviewed ones."""
    folder = write_folder(tmp_path / "in", list_gold(3))
    (folder / "quay.vtt").write_bytes(QUAYSIDE.read_bytes())
    with closing(open_store(tmp_path / "c", create=True)) as store:
        assert not add_classes(store, list_sources([str(folder)])).failed
        yield store


@pytest.fixture
def renamed(catalogue) -> Renamed:
    """A movement of the class to extract gets another name."""
    return rename_first_movement(catalogue, "quay")


def read_sets(store) -> list[tuple]:
    return store.execute(
        "SELECT class_id, position, key, definition FROM performed JOIN movement ON id = movement_id"
    ).fetchall()


def test_nothing_is_stale_at_first(catalogue):
    """The present lexicon made it."""
    assert list_stale(catalogue) == []


def test_unchanged_files_with_another_lexicon_are_left_and_told(catalogue, renamed, tmp_path):
    """add does not replace them; it says how many there are."""
    before = read_sets(catalogue)
    report = add_classes(catalogue, list_sources([str(tmp_path / "in")]), own=renamed.own)
    assert (report.unchanged, report.stale) == (4, 4)
    assert read_sets(catalogue) == before


def test_a_preview_shows_and_replaces_nothing(catalogue, renamed):
    """The class whose movement gets another name is shown set by set; find and balance still use the old."""
    before, balance = read_sets(catalogue), measure_balance(catalogue, Selection(), read_lexicon(()))
    [(sets,)] = catalogue.execute(
        "SELECT class_movement.sets FROM class_movement JOIN movement ON movement.id = movement_id "
        "JOIN class ON class.id = class_id WHERE location LIKE '%/quay' AND key = ?",
        (renamed.key,),
    )
    stale = list_stale(catalogue, renamed.own)
    report = preview_renewal(catalogue, stale, own=renamed.own)
    assert (report.looked_at, report.failed, report.gone) == (4, [], [])
    [change] = [one for one in report.changes if one.location.endswith("/quay")]
    told = [line for line in change.lines if f", {renamed.name}" in line and f"was {renamed.was}" in line]
    assert len(told) == sets > 0
    assert f"{renamed.was} is now called {renamed.name}" in change.lines
    assert read_sets(catalogue) == before
    assert measure_balance(catalogue, Selection(), read_lexicon(())) == balance
    assert check_catalogue(catalogue) == []


def test_what_changes_in_a_set_is_told_as_diff_tells_it(catalogue):
    """Reps, side and finisher of one set; the other sets, and the classes that stay the same, have no line."""
    before: list[str] = []

    def run(jobs):
        for job, done in ((job, index_class(job)) for job in jobs):
            if not done.location.endswith("/quay"):
                yield done
                continue
            routine = unpack_routine(done.entry.document)
            before.append(routine.model_dump_json())
            one = routine.iter_sets()[1][2]
            one.reps, one.side, one.finisher = Reps(lo=7, hi=9), "left", Finisher(kind="pulses")
            lexicon = read_lexicon(job.own)
            entry = describe_class(routine, None, job.files, done.entry.fingerprint, lexicon, done.entry.version)
            yield dataclasses.replace(done, entry=entry)

    own = (("own.toml", b"# nothing in it\n"),)
    report = preview_renewal(catalogue, list_stale(catalogue, own), own=own, run=run)
    [change] = report.changes
    assert (report.looked_at, report.same) == (4, 3)
    [line] = change.lines
    old = Routine.model_validate_json(before[0])
    new = old.model_copy(deep=True)
    one = new.iter_sets()[1][2]
    one.reps, one.side, one.finisher = Reps(lo=7, hi=9), "left", Finisher(kind="pulses")
    assert [line] == describe_difference(compare_routines(old, new))
    assert line.startswith("set 2, ")
    for told in ("side none → left", "→ 7-9", "→ pulses"):
        assert told in line


def test_the_second_preview_does_no_work_again(catalogue, renamed):
    """It shows the same, from what was kept."""
    told: list[bool] = []
    stale = list_stale(catalogue, renamed.own)
    first = preview_renewal(catalogue, stale, own=renamed.own)
    second = preview_renewal(catalogue, stale, own=renamed.own, told=lambda done: told.append(done.entry is None))
    assert told == [True] * 4
    assert first.changes == second.changes


def test_put_in(catalogue, renamed, tmp_path):
    """Afterwards it is the catalogue that the new lexicon would have made from the start."""
    stale = list_stale(catalogue, renamed.own)
    preview_renewal(catalogue, stale, own=renamed.own)
    assert apply_renewal(catalogue, renamed.own) == 4
    assert list_stale(catalogue, renamed.own) == []
    assert catalogue.execute("SELECT count(*) FROM renewal").fetchone() == (0,)
    assert check_catalogue(catalogue) == []
    with closing(open_store(tmp_path / "fresh", create=True)) as fresh:
        add_classes(fresh, list_sources([str(tmp_path / "in")]), own=renamed.own)
        assert sorted(read_sets(fresh)) == sorted(read_sets(catalogue))
        look = "SELECT key, definition FROM movement ORDER BY key, definition"
        assert fresh.execute(look).fetchall() == catalogue.execute(look).fetchall()


def test_a_renewal_of_an_older_lexicon_is_dropped(catalogue, renamed):
    """Only what the present lexicon made can be put in."""
    preview_renewal(catalogue, list_stale(catalogue, renamed.own), own=renamed.own)
    other = (("own.toml", renamed.own[0][1] + b"# another\n"),)
    assert apply_renewal(catalogue, other) == 0
    preview_renewal(catalogue, list_stale(catalogue, other)[:1], own=other)
    assert catalogue.execute("SELECT count(*) FROM renewal").fetchone() == (1,)


def test_muscles_that_count_differently_are_told(tmp_path):
    """A movement that keeps its name and gets other muscles: the sets are the same, the change is said."""
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "quay.vtt").write_bytes(QUAYSIDE.read_bytes())
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(folder)]))
        key, name = rename_first_movement(store, "quay").key, rename_first_movement(store, "quay").was
        text = f'[[movement]]\nid = "{key}"\nname = "{name}"\nprimary = ["neck"]\nsecondary = []\n'
        own = (("own.toml", text.encode()),)
        [change] = preview_renewal(store, list_stale(store, own), own=own).changes
    assert change.lines == (f"{name} counts for other muscles or another pattern than before",)


def test_files_that_are_gone_or_bad(catalogue, renamed, tmp_path):
    """They are told and keep what they have."""
    first, second = sorted((tmp_path / "in").glob("*.routine.json"))[:2]
    first.unlink()
    first.with_name(first.name.replace(".routine.json", ".vtt")).unlink()
    second.write_text("{")
    report = preview_renewal(catalogue, list_stale(catalogue, renamed.own), own=renamed.own)
    assert report.gone == [str(first).removesuffix(".routine.json")]
    assert [error.source for error in report.failed] == [str(second)]
    assert apply_renewal(catalogue, renamed.own) == 2
    assert catalogue.execute("SELECT count(*) FROM class").fetchone() == (4,)


def test_entries_survive_being_kept(tmp_path):
    """What is kept aside comes back equal."""
    (tmp_path / "quay.vtt").write_bytes(QUAYSIDE.read_bytes())
    [files] = list_sources([str(tmp_path)])
    entry = index_class(Job(files, "", read_lexicon(()).fingerprint)).entry
    assert load_entry(dump_entry(entry)) == entry
