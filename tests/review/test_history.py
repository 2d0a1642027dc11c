"""The edit log and the file: nothing is lost, nothing is written over, every revision can be had back."""

from __future__ import annotations

import json
import threading
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from make_edits import ANA, BO, classes, edit_once, lexicon, randoms, reread
from make_routine import make_routine
from setdown.document import format_routine
from setdown.errors import SetdownError
from setdown.model.routine import Routine
from setdown.review import operations as ops
from setdown.review.history import log_path, read_history
from setdown.review.refused import RevisionConflictError
from setdown.review.store import open_routine, read_revision, save_routine
from setdown.review.undo import undo_revision


@pytest.fixture
def file(tmp_path) -> Path:
    path = tmp_path / "wren.routine.json"
    path.write_text(format_routine(make_routine()), encoding="utf-8")
    return path


def edit(routine: Routine, set_id: str, field: str, text: str) -> Routine:
    return ops.set_field(routine, set_id, field, text, ANA, lexicon())


def save_edits(path: Path, *edits: tuple[str, str, str]) -> None:
    for one in edits:
        opened = open_routine(path)
        save_routine(opened, edit(opened.routine, *one), ANA, [" ".join(one)])


def test_the_first_save_starts_the_log(file):
    """With the routine as it was, so that what changed since extraction can always be told."""
    opened = open_routine(file)
    assert (opened.revision, read_history(file)) == (0, [])
    saved = save_routine(opened, edit(opened.routine, "s1", "reps", "12"), ANA, ["reps 10 → 12"])
    assert saved.revision == open_routine(file).revision == 1
    first, second = read_history(file)
    assert (first.number, first.by, second.number, second.by, second.at) == (0, "", 1, "Ana", ANA.at)
    assert second.what == ("reps 10 → 12",)
    assert read_revision(file, 0) == opened.routine
    assert read_revision(file, 1) == open_routine(file).routine == saved.routine
    assert log_path(file) == file.with_name("wren.routine.log.jsonl")


def test_a_routine_that_is_the_same_is_not_saved(file):
    """No revision, no other bytes."""
    opened = open_routine(file)
    saved = save_routine(opened, reread(opened.routine), ANA, [])
    assert saved.revision == 0
    assert len(read_history(file)) == 1


def test_two_windows_never_overwrite_each_other(file):
    """The second to save is told who was first; its edit goes nowhere and nothing is lost."""
    mine, theirs = open_routine(file), open_routine(file)
    save_routine(theirs, edit(theirs.routine, "s1", "reps", "12"), BO, ["reps"])
    before = file.read_bytes(), log_path(file).read_bytes()
    with pytest.raises(RevisionConflictError, match="by Bo") as conflict:
        save_routine(mine, edit(mine.routine, "s2", "reps", "9"), ANA, ["reps"])
    assert (conflict.value.ours, conflict.value.theirs) == (0, 1)
    assert (file.read_bytes(), log_path(file).read_bytes()) == before


def test_many_writers_at_once(file):
    """Of threads that save on the same revision one wins each time; the log is in order and leads to the file."""
    tries, won = 6, []

    def write(number: int) -> None:
        for _ in range(tries):
            opened = open_routine(file)
            try:
                save_routine(opened, edit(opened.routine, "s1", "reps", str(number + len(won))), ANA, [str(number)])
            except RevisionConflictError:
                continue
            won.append(number)

    threads = [threading.Thread(target=write, args=(20 + 100 * n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    history = read_history(file)
    assert [r.number for r in history] == list(range(len(history)))
    assert all(a.after == b.before for a, b in pairwise(history))
    assert read_revision(file, len(history) - 1) == open_routine(file).routine
    assert len(won) >= tries


def test_a_change_by_hand_is_noted_in_the_log(file):
    """The file is what counts; the log says that it was changed outside, and what."""
    save_edits(file, ("s1", "reps", "12"))
    by_hand = file.read_text(encoding="utf-8").replace("Wren's ten", "Wren's dozen")
    file.write_text(by_hand, encoding="utf-8")
    assert open_routine(file).revision == 2
    save_edits(file, ("s2", "reps", "9"))
    _, _, outside, last = read_history(file)
    assert (outside.outside, outside.by, outside.what) == (True, "", ("changed outside Setdown",))
    assert outside.changes == ({"at": ["title"], "before": "Wren's ten", "after": "Wren's dozen"},)
    assert last.number == 3
    assert read_revision(file, 3).title == "Wren's dozen"


def test_another_layout_of_the_same_routine_is_no_change(file):
    """A file that an editor has laid out anew is still the revision that it was."""
    save_edits(file, ("s1", "reps", "12"))
    file.write_text(json.dumps(json.loads(file.read_text(encoding="utf-8"))), encoding="utf-8")
    assert open_routine(file).revision == 1


def test_what_a_crash_left_of_a_line_is_cut_off(file):
    """A line without its end was never a revision."""
    save_edits(file, ("s1", "reps", "12"))
    whole = log_path(file).read_bytes()
    for torn in (b'{"revision":2,"at":"2025', b'{"revision":2}garbage\n', b"\x00\x00\x00"):
        log_path(file).write_bytes(whole + torn)
        assert len(read_history(file)) == 2
        assert open_routine(file).revision == 1
    save_edits(file, ("s2", "reps", "9"))
    assert [r.number for r in read_history(file)] == [0, 1, 2]
    assert log_path(file).read_bytes().startswith(whole)


def test_a_revision_that_did_not_reach_the_file(file):
    """Stopped between the log and the file: the file is whole and old, and the next save says so in the log."""
    old = file.read_bytes()
    save_edits(file, ("s1", "reps", "12"))
    file.write_bytes(old)
    assert open_routine(file).revision == 0
    save_edits(file, ("s2", "reps", "9"))
    assert [r.what[0] for r in read_history(file)][2] == "revision 1 did not reach the file"
    assert read_revision(file, 3) == open_routine(file).routine


def test_a_broken_log_is_named_with_its_line(file):
    """Not read on a guess."""
    save_edits(file, ("s1", "reps", "12"), ("s1", "reps", "13"))
    lines = log_path(file).read_text(encoding="utf-8").splitlines()
    log_path(file).write_text("\n".join([lines[0], '{"revision": "one"}', lines[2]]) + "\n", encoding="utf-8")
    with pytest.raises(SetdownError) as error:
        read_history(file)
    assert (error.value.line, error.value.source) == (2, str(log_path(file)))
    changed = json.loads(lines[1])
    changed["changes"] = []
    log_path(file).write_text("\n".join([lines[0], json.dumps(changed), lines[2]]) + "\n", encoding="utf-8")
    with pytest.raises(SetdownError, match="broken"):
        read_revision(file, 2)


def test_there_is_no_such_revision(file):
    """The message says which there are."""
    save_edits(file, ("s1", "reps", "12"))
    for number in (-1, 2):
        with pytest.raises(SetdownError, match=f"no revision {number}"):
            read_revision(file, number)


def test_any_revision_can_be_undone_and_later_ones_stay(file):
    """Also one from the middle; undoing the undoing brings it back."""
    save_edits(file, ("s1", "reps", "12"), ("s2", "reps", "9"), ("s1", "load", "14 kg"))
    opened = open_routine(file)
    saved = save_routine(opened, undo_revision(opened, 1), BO, ["undo"], undoes=1)
    [s1, s2, *_] = [x for _, _, x in saved.routine.iter_sets()]
    assert (str(s1.reps), str(s2.reps), s1.load.unit) == ("10", "9", "kg")
    assert "reps" not in s1.edited
    assert read_history(file)[-1].undoes == 1
    again = undo_revision(saved, 4)
    assert str(again.iter_sets()[0][2].reps) == "12"


def test_what_was_changed_again_is_not_undone_alone(file):
    """The later revision would be lost: the message names the value."""
    save_edits(file, ("s1", "reps", "12"), ("s1", "reps", "14"))
    opened = open_routine(file)
    with pytest.raises(SetdownError, match="revision 1 cannot be undone alone"):
        undo_revision(opened, 1)
    with pytest.raises(SetdownError, match="no revision 0 to undo"):
        undo_revision(opened, 0)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(classes(), randoms)
def test_every_revision_can_be_had_back(tmp_path, routine, rng):
    """After edits at random, each state is rebuilt from the log exactly, and undoing the last gives the one before."""
    path = tmp_path / "any.routine.json"
    log_path(path).unlink(missing_ok=True)
    path.write_text(format_routine(routine), encoding="utf-8")
    states = [open_routine(path).routine]
    for _ in range(5):
        opened = open_routine(path)
        after = edit_once(opened.routine, rng, ANA)
        if reread(after) != states[-1]:
            save_routine(opened, after, ANA, ["edit"])
            states.append(reread(after))
    for number, state in enumerate(states) if len(states) > 1 else ():
        assert read_revision(path, number) == state
    if len(states) > 1:
        assert undo_revision(open_routine(path), len(states) - 1) == states[-2]


def test_a_routine_in_a_folder_that_cannot_be_written_can_be_opened(file):
    """Opening writes nothing, not even a log."""
    file.parent.chmod(0o500)
    try:
        assert open_routine(file).revision == 0
    finally:
        file.parent.chmod(0o700)
    assert [f.name for f in file.parent.iterdir()] == [file.name]
