"""Edits on a known revision, on disk before they are answered, there and back again."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from make_routine import make_routine
from setdown.check import check_document
from setdown.document import format_routine
from setdown.errors import SetdownError
from setdown.page import bodies
from setdown.page.desk import Desk, StaleRevisionError
from setdown.page.journal import Journal, name_journal
from setdown.review.refused import EditRefusedError
from setdown.review.signing import SignOffRefusedError
from setdown.review.store import open_routine

AT = "2024-05-14T12:00:00Z"


@pytest.fixture
def path(tmp_path) -> Path:
    """A routine with sets s1 to s4, two open queries."""
    file = tmp_path / "wren.routine.json"
    file.write_text(format_routine(make_routine()), encoding="utf-8")
    return file


@pytest.fixture
def open_desk():
    """Opens desks, and lets go of them with the test."""
    desks: list[Desk] = []

    def start(path: Path) -> Desk:
        desks.append(Desk(path, by="Ada Lorrimer", clock=lambda: AT))
        return desks[-1]

    yield start
    for desk in desks:
        desk.close()


def reps(set_id: str, text: str) -> bodies.SetValue:
    return bodies.SetValue(kind="set_value", set=set_id, field="reps", text=text)


def show(desk: Desk, set_id: str) -> str:
    return str(next(x.reps for _, _, x in desk.routine.iter_sets() if x.id == set_id))


def crash(desk: Desk) -> None:
    """What a kill leaves: the lock goes, the journal stays."""
    desk._journal._stream.close()


def test_an_edit_tells_what_it_changed(path, open_desk):
    """Only the set that was edited comes back, with the words for the live region, and who did it."""
    desk = open_desk(path)
    answer = desk.edit(reps("s1", "12"), desk.revision)
    assert list(answer["sets"]) == ["s1"]
    assert answer["sets"]["s1"]["cells"]["reps"] == "12"
    assert answer["sets"]["s1"]["edited"] == {"reps": "changed by Ada Lorrimer on 2024-05-14"}
    assert "sections" not in answer
    assert answer["message"] == "Goblet squat at 1:02: reps 10 → 12."
    assert (answer["head"]["unsaved"], answer["head"]["undo"]) == (1, "goblet squat at 1:02: reps 10 → 12")


@pytest.mark.parametrize(
    "ask",
    [
        lambda desk, seen: desk.edit(reps("s2", "9"), seen),
        lambda desk, seen: desk.undo(seen),
        lambda desk, seen: desk.redo(seen),
        lambda desk, seen: desk.save(seen),
        lambda desk, seen: desk.sign_off("Bo", seen),
        lambda desk, seen: desk.rejoin(seen),
        lambda desk, seen: desk.take_kept(True, seen),
    ],
)
def test_what_was_seen_must_be_the_newest(path, open_desk, ask):
    """Whoever looks at an older revision changes nothing, and learns what happened since."""
    desk = open_desk(path)
    seen = desk.revision
    desk.edit(reps("s1", "12"), seen)
    before = path.read_bytes()
    with pytest.raises(StaleRevisionError, match=r"another window.*reps 10 → 12") as refusal:
        ask(desk, seen)
    assert refusal.value.revision == desk.revision
    assert (show(desk, "s1"), show(desk, "s2"), path.read_bytes()) == ("12", "8-10", before)


def test_there_and_back(path, open_desk):
    """Undo and redo go through all states exactly; a new edit forgets what was undone."""
    desk = open_desk(path)
    states = [desk.routine]
    for edit in (
        reps("s1", "12"),
        bodies.SplitSet(kind="split_set", set="s1", at="1:20"),
        bodies.MoveSet(kind="move_set", set="s3", to="group", where="new"),
        bodies.DismissQuery(kind="dismiss_query", query="q1"),
        bodies.GroupValue(kind="group_value", group="g3", field="arrangement", text="straight"),
        bodies.SectionValue(kind="section_value", section="main", field="start", text="59"),
        bodies.DeleteSet(kind="delete_set", set="s4"),
    ):
        desk.edit(edit, desk.revision)
        states.append(desk.routine)
    for state in reversed(states[:-1]):
        desk.undo(desk.revision)
        assert desk.routine == state
    assert desk.describe()["head"]["unsaved"] == 0
    for state in states[1:]:
        desk.redo(desk.revision)
        assert desk.routine == state
    with pytest.raises(SetdownError, match="nothing to do again"):
        desk.redo(desk.revision)
    desk.undo(desk.revision)
    desk.edit(reps("s2", "9"), desk.revision)
    with pytest.raises(SetdownError, match="nothing to do again"):
        desk.redo(desk.revision)


def test_what_cannot_be_is_refused_and_changes_nothing(path, open_desk):
    """The refusal says what was expected; revision, routine and journal stay."""
    desk = open_desk(path)
    seen, journal = desk.revision, name_journal(path).read_bytes()
    for edit in (reps("s1", "a few"), reps("s9", "5"), bodies.SplitSet(kind="split_set", set="s1", at="9:00")):
        with pytest.raises(EditRefusedError):
            desk.edit(edit, seen)
    assert desk.revision == seen
    assert name_journal(path).read_bytes() == journal


@pytest.mark.parametrize("saved_after", [None, 1, 3])
def test_a_crash_loses_nothing(path, open_desk, saved_after):
    """Edits, undo and redo, also behind the last save: the next start offers exactly the state that was left."""
    desk = open_desk(path)
    for n, text in enumerate(("11", "12", "13", "14")):
        desk.edit(reps("s1", text), desk.revision)
        if n == saved_after:
            desk.save(desk.revision)
    for _ in range(3):
        desk.undo(desk.revision)
    desk.redo(desk.revision)
    left = desk.routine
    assert show(desk, "s1") == "12"
    crash(desk)
    after = open_desk(path)
    assert after.describe()["kept"] is not None
    assert after.routine == open_routine(path).routine
    with pytest.raises(SetdownError, match="first take up"):
        after.edit(reps("s2", "5"), after.revision)
    after.take_kept(True, after.revision)
    assert after.routine == left
    crash(after)  # once more, before anything was saved
    last = open_desk(path)
    last.take_kept(True, last.revision)
    assert last.routine == left
    last.save(last.revision)
    assert open_routine(path).routine == left


def test_a_crash_in_the_middle_of_saving(path, open_desk):
    """When the file was written but the journal not begun anew, the edits are in the file and are not offered again."""
    desk = open_desk(path)
    desk.edit(reps("s1", "12"), desk.revision)
    desk._journal.restart = lambda fingerprint: None
    desk.save(desk.revision)
    crash(desk)
    after = open_desk(path)
    assert after.describe()["kept"] is None
    assert show(after, "s1") == "12"


def test_half_a_line_was_never_answered(path, open_desk):
    """A journal that ends in the middle of a line, at any byte, gives the edits that were whole."""
    desk = open_desk(path)
    desk.edit(reps("s1", "12"), desk.revision)
    whole = name_journal(path).read_bytes()
    desk.edit(reps("s1", "13"), desk.revision)
    more = name_journal(path).read_bytes()
    crash(desk)
    for end in range(len(whole), len(more) - 1, 7):
        name_journal(path).write_bytes(more[:end])
        after = open_desk(path)
        after.take_kept(True, after.revision)
        assert show(after, "s1") == "12"
        crash(after)


def test_kept_edits_fit_a_changed_file_where_they_can(path, open_desk):
    """What no longer fits is told, and all of it stays in a file of its own."""
    desk = open_desk(path)
    desk.edit(reps("s1", "12"), desk.revision)
    desk.edit(reps("s4", "5"), desk.revision)
    crash(desk)
    other = make_routine()
    other.sections[2].groups.clear()
    path.write_text(format_routine(other), encoding="utf-8")
    after = open_desk(path)
    assert "has changed since" in after.describe()["kept"]["message"]
    answer = after.take_kept(True, after.revision)
    assert "1 of them no longer fit" in answer["message"]
    assert show(after, "s1") == "12"
    [aside] = path.parent.glob(".*.unsaved-*")
    assert '"s4"' in aside.read_text(encoding="utf-8")


def test_signing_off(path, open_desk):
    """Refused while a query must be answered; then signed and saved; any change makes it a draft again."""
    routine = make_routine()
    routine.queries[0].severity = "must"
    path.write_text(format_routine(routine), encoding="utf-8")
    desk = open_desk(path)
    with pytest.raises(SignOffRefusedError):
        desk.sign_off("Bo Tarrant", desk.revision)
    desk.edit(bodies.AnswerQuery(kind="answer_query", query="q1", answer="10 kg"), desk.revision)
    desk.sign_off("Bo Tarrant", desk.revision)
    saved = open_routine(path).routine
    assert (saved.status, [s.by for s in saved.signatures]) == ("reviewed", ["Bo Tarrant"])
    desk.edit(reps("s1", "12"), desk.revision)
    assert desk.routine.status == "draft"
    desk.undo(desk.revision)
    assert desk.routine.status == "reviewed"


def test_a_signature_on_a_changed_file_is_taken_back(path, open_desk):
    """When the file cannot be saved since it changed outside, the routine is not shown as signed either."""
    desk = open_desk(path)
    desk.edit(reps("s1", "12"), desk.revision)
    theirs = make_routine()
    theirs.title = "Wren's twelve"
    path.write_text(format_routine(theirs), encoding="utf-8")
    with pytest.raises(StaleRevisionError) as refusal:
        desk.sign_off("Bo Tarrant", desk.revision)
    assert refusal.value.file
    assert desk.routine.status == "draft"
    desk.rejoin(desk.revision)
    assert (desk.routine.title, show(desk, "s1")) == ("Wren's twelve", "12")


def test_two_runs_do_not_share_a_routine(path, open_desk):
    """The second is told to go on in the first's window; afterwards it may."""
    desk = open_desk(path)
    with pytest.raises(SetdownError, match="being reviewed already"):
        Desk(path, by="Bo Tarrant")
    desk.close()
    open_desk(path)


def test_a_closed_desk_leaves_no_trace(path, open_desk):
    """Without unsaved edits nothing is left beside the routine; with them the journal is."""
    desk = open_desk(path)
    desk.close()
    assert [file.name for file in path.parent.iterdir()] == [path.name]
    desk = open_desk(path)
    desk.edit(reps("s1", "12"), desk.revision)
    desk.close()
    assert name_journal(path).exists()


def test_the_journal_is_for_its_owner_only(path, open_desk):
    """Recordings are private, and so is what is written about them."""
    open_desk(path)
    assert name_journal(path).stat().st_mode & 0o077 == 0


def test_a_journal_of_rubbish_offers_nothing(path):
    """Whatever the file holds, a start neither fails nor makes up edits."""
    for rubbish in (b"\x00\xff\n", b"[1]\n{}\n", b'{"edit": {}}\n', b'{"file": 5}\n{"edit": 7}\n'):
        name_journal(path).write_bytes(rubbish)
        journal = Journal(name_journal(path), "abc")
        assert [line for line in journal.kept if "edit" not in line and "file" not in line] == []
        journal._stream.close()
        name_journal(path).unlink()


KILLED = """
import os, signal, sys, threading, time
from pathlib import Path
from setdown.page import bodies
from setdown.page.desk import Desk
desk = Desk(Path(sys.argv[1]), by="Ada Lorrimer")
desk.warm_up()
if desk.describe()["kept"]:
    desk.take_kept(True, desk.revision)
threading.Timer(float(sys.argv[2]), lambda: os.kill(os.getpid(), signal.SIGKILL)).start()
n = int(sys.argv[3])
while True:
    n += 1
    desk.edit(bodies.SetValue(kind="set_value", set="s1", field="reps", text=str(1 + n % 900)), desk.revision)
    print(1 + n % 900, flush=True)
    if n % 3 == 0:
        desk.save(desk.revision)
"""


@pytest.mark.slow
def test_killed_at_any_moment(path, open_desk):
    """Killed twenty times while it edits and saves: the file is whole, and every edit that was answered is there."""
    number = 0
    for run in range(20):
        command = [sys.executable, "-c", KILLED, str(path), str(0.02 + 0.013 * (run % 10)), str(number)]
        done = subprocess.run(command, capture_output=True, check=False, encoding="utf-8")
        assert done.returncode == -9, done.stderr
        answered = [int(line) for line in done.stdout.split()]
        checked = check_document(path.read_text(encoding="utf-8"), str(path))
        assert checked.routine is not None
        number += len(answered)
        if not answered:
            continue
        desk = open_desk(path)
        if desk.describe()["kept"]:
            desk.take_kept(True, desk.revision)
        # The edit after the last answer may have been written without the answer having got out.
        assert show(desk, "s1") in (str(answered[-1]), str(answered[-1] % 900 + 1))
        crash(desk)
    assert number > 20
    assert json.loads(path.read_text(encoding="utf-8"))["sections"]
