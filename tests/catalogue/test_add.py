"""Bringing a catalogue up to date with folders."""

from __future__ import annotations

import json
import shutil
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from catalogue_state import read_state
from gold_routines import list_gold, write_folder
from make_routine import VTT
from setdown.catalogue.add import AddReport, add_classes, find_gone, list_sources, prune_classes
from setdown.catalogue.entry import Indexed
from setdown.catalogue.run import run_in_processes
from setdown.catalogue.sources import find_classes_in
from setdown.catalogue.store import open_store
from setdown.catalogue.verify import check_catalogue
from setdown.catalogue.work import Job
from setdown.errors import SetdownError


def add(file: Path, *places: Path, **options) -> AddReport:
    with closing(open_store(file, create=True)) as store:
        sources = list_sources([str(place) for place in places])
        report = add_classes(store, sources, **options)
        report.gone = find_gone(store, [str(place) for place in places], sources)
        assert check_catalogue(store) == []
    return report


def counts(report: AddReport) -> tuple[int, int, int, int]:
    return report.added, report.replaced, report.unchanged, len(report.failed)


def read(file: Path, sql: str, *values: object) -> list[tuple]:
    with closing(open_store(file)) as store:
        return store.execute(sql, values).fetchall()


def test_what_is_unchanged_is_skipped(few, tmp_path):
    """The second time nothing is done; a class whose captions, routine or meta file changed is replaced."""
    file = tmp_path / "c.setdown"
    assert counts(add(file, few)) == (12, 0, 0, 0)
    assert counts(add(file, few)) == (0, 0, 12, 0)
    first, second, third = sorted(few.glob("*.vtt"))[:3]
    first.write_text(first.read_text() + "\n01:30:00.000 --> 01:30:02.000\nxylophone\n")
    routine = second.with_name(second.stem + ".routine.json")
    routine.write_text(routine.read_text().replace('"title": "', '"title": "Renamed '))
    third.with_name(third.stem + ".meta.toml").write_text('title = "x"\n')
    assert counts(add(file, few)) == (0, 3, 9, 0)
    assert read(
        file, "SELECT location FROM class JOIN words ON words.rowid = class.id WHERE words MATCH 'xylophone'"
    ) == [(str(first.with_suffix("")),)]
    [(title,)] = read(file, "SELECT title FROM class WHERE location = ?", str(second.with_suffix("")))
    assert title.startswith("Renamed ")


def test_touching_a_file_changes_nothing(few, tmp_path):
    """Only what is in the files counts, not when they were written."""
    file = tmp_path / "c.setdown"
    add(file, few)
    for path in few.iterdir():
        path.touch()
    assert counts(add(file, few)) == (0, 0, 12, 0)


def test_a_reviewed_routine_wins(tmp_path):
    """A reviewed or edited routine goes before extraction from the transcript beside it; a bare draft does not."""
    gold = list_gold(12)
    reviewed, edited, bare = (next(g for g in gold if g.routine.status == s) for s in ("reviewed", "draft", "draft"))
    bare = replace(bare, name="bare", routine=bare.routine.model_copy(deep=True))
    for _, _, one in bare.routine.iter_sets():
        one.origin = {"exercise": "said"}
    folder = write_folder(tmp_path / "in", [reviewed, edited, bare])
    file = tmp_path / "c.setdown"
    add(file, folder)
    used = dict(read(file, "SELECT location, routine FROM class"))
    assert used == {
        f"{folder}/{reviewed.name}": f"{folder}/{reviewed.name}.routine.json",
        f"{folder}/{edited.name}": f"{folder}/{edited.name}.routine.json",
        f"{folder}/bare": "",
    }
    [(version,)] = read(file, "SELECT version FROM class WHERE location = ?", f"{folder}/bare")
    assert version != "gold"


def test_a_review_of_an_older_transcript_is_told(few, tmp_path):
    """It still wins, with a notice that the transcript has changed."""
    reviewed = next(g for g in list_gold(12) if g.routine.status == "reviewed")
    path = few / f"{reviewed.name}.vtt"
    path.write_text(path.read_text().replace("okay", "right"))
    report = add(tmp_path / "c.setdown", few)
    assert (f"{few}/{reviewed.name}", "the transcript has changed since this routine was reviewed") in report.notices


def test_a_draft_of_the_same_extraction_is_taken_as_it_is(tmp_path, run_setdown):
    """extract has written the routine already: it is read, and comes to the same as extracting again."""
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "wren.vtt").write_text(VTT)
    one, two = tmp_path / "one.setdown", tmp_path / "two.setdown"
    add(one, tmp_path / "in")
    run_setdown("extract", tmp_path / "in" / "wren.vtt", "-o", tmp_path / "in" / "wren.routine.json")
    assert counts(add(two, tmp_path / "in")) == (1, 0, 0, 0)
    assert read(two, "SELECT routine <> '' FROM class") == [(1,)]
    assert read(one, "SELECT * FROM performed") == read(two, "SELECT * FROM performed")


def test_one_bad_file_is_listed(few, tmp_path):
    """Broken captions, a broken routine, a folder where a file should be: each is told by name, the rest is indexed."""
    (few / "noise.vtt").write_bytes(b"\x00\x01\x02" * 50)
    (few / "broken.routine.json").write_text('{"schema_version": "1.0"')
    (few / "wrong.routine.json").write_text('{"schema_version": "1.0"}')
    (few / "notes.txt").write_text("buy milk\n")
    (few / "package.json").write_text("{}")
    (few / "folder.vtt").mkdir()
    report = add(tmp_path / "c.setdown", few)
    assert counts(report) == (12, 0, 0, 3)
    assert sorted(Path(error.source).name for error in report.failed) == [
        "broken.routine.json",
        "noise.vtt",
        "wrong.routine.json",
    ]
    assert sorted(Path(error.source).name for error in report.passed_over) == ["notes.txt", "package.json"]


def test_a_class_whose_file_turns_bad_stays(few, tmp_path):
    """What the catalogue has of it is kept, the file is listed."""
    file = tmp_path / "c.setdown"
    add(file, few)
    victim = sorted(few.glob("*.routine.json"))[0]
    victim.write_text("{")
    assert counts(add(file, few)) == (0, 0, 11, 1)
    assert read(file, "SELECT count(*) FROM class") == [(12,)]


def test_vanished_files_are_told_and_pruned_only_when_asked(few, tmp_path):
    """Gone from the folders given: listed, then taken out with everything that belongs to them."""
    file = tmp_path / "c.setdown"
    other = write_folder(tmp_path / "other", list_gold(13)[12:])
    add(file, few, other)
    victims = sorted(few.glob("*.vtt"))[:2]
    for path in victims:
        path.unlink()
        path.with_name(path.stem + ".routine.json").unlink()
    report = add(file, few)
    assert report.gone == [str(path.with_suffix("")) for path in victims]
    assert add(file, other).gone == []  # nothing is said about folders that were not looked at
    with closing(open_store(file)) as store:
        assert prune_classes(store, report.gone) == 2
        assert check_catalogue(store) == []
        assert store.execute("SELECT count(*) FROM class").fetchone() == (11,)
        unused = "SELECT count(*) FROM movement WHERE id NOT IN (SELECT movement_id FROM performed)"
        assert store.execute(unused).fetchone() == (0,)
    whole = tmp_path / "whole.setdown"
    add(whole, few, other)
    ordered = "SELECT location, fingerprint, title, sets FROM class ORDER BY location"
    assert read(file, ordered) == read(whole, ordered)


def test_files_of_one_class(tmp_path):
    """Captions in several forms, a meta file and a routine with one name are one class; word times are preferred."""
    folder = tmp_path / "deep" / "er"
    folder.mkdir(parents=True)
    for name in (
        "monday.vtt",
        "monday.en.srt",
        "monday.words.json",
        "monday.meta.toml",
        "monday.words.routine.json",
        "monday.chapters.vtt",
        "monday.captions.vtt",
        "monday.sets.vtt",
        ".monday.vtt",
        "tuesday.srt",
        "wednesday.routine.json",
        "thursday.meta.toml",
        "friday.mp4",
    ):
        (folder / name).write_text("")
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "x.vtt").write_text("")
    found = {files.location.rpartition("/")[2]: files for files in find_classes_in([str(tmp_path)])}
    assert sorted(found) == ["monday", "tuesday", "wednesday"]
    monday = found["monday"]
    assert monday.transcript == f"{folder}/monday.words.json"
    assert monday.meta == f"{folder}/monday.meta.toml"
    assert monday.routine == f"{folder}/monday.words.routine.json"
    assert monday.others == (f"{folder}/monday.vtt", f"{folder}/monday.en.srt")
    assert found["wednesday"].transcript == ""
    [alone] = find_classes_in([f"{folder}/monday.vtt"])  # one file stands for its class
    assert alone == monday
    with pytest.raises(SetdownError, match="no such folder"):
        list(find_classes_in([str(tmp_path / "nowhere")]))


def test_several_processes_make_the_same_catalogue(few, tmp_path):
    """Row for row, whatever the number of processes."""
    one, two = tmp_path / "one.setdown", tmp_path / "two.setdown"
    (few / "bad.vtt").write_text("nothing")
    first = add(one, few)
    second = add(two, few, run=lambda jobs: run_in_processes(jobs, 2))
    assert counts(first) == counts(second) == (12, 0, 0, 1)
    with closing(open_store(one)) as a, closing(open_store(two)) as b:
        assert read_state(a) == read_state(b)


def work_or_die(job: Job) -> Indexed:
    """Kill the process for one class, answer for the others."""
    import os
    import signal

    if job.files.location.endswith("/deadly"):
        os.kill(os.getpid(), signal.SIGKILL)
    return Indexed(job.files.location, passed_over=True)


def test_a_worker_that_dies_costs_one_class(few):
    """The class that kills its process is an error; every other is answered once, in order."""
    (few / "deadly.vtt").write_text(VTT)
    sources = list(find_classes_in([str(few)]))
    jobs = [Job(files, "", "") for files in sources]
    answers = list(run_in_processes(iter(jobs), 2, work_or_die))
    assert [one.location for one in answers] == [files.location for files in sources]
    [bad] = [one for one in answers if one.error]
    assert bad.location.endswith("/deadly")
    assert "died" in bad.error.problem


def test_the_catalogue_does_not_hold_what_it_need_not(few, tmp_path):
    """What is kept of a class gives its routine back, value for value."""
    from setdown.catalogue.describe import unpack_routine

    file = tmp_path / "c.setdown"
    add(file, few)
    kept = dict(read(file, "SELECT title, document.routine FROM class JOIN document ON class_id = class.id"))
    for one in list_gold(12):
        assert unpack_routine(kept[one.routine.title]) == one.routine


def test_routines_as_other_programs_write_them(tmp_path):
    """Numbers as JSON has them, an unknown movement, a date that is no day: taken, the date with a notice."""
    one = list_gold(1)[0]
    document = json.loads(one.routine.model_dump_json())
    document["source"]["date"] = "last Tuesday"
    document["sections"][0]["groups"][0]["sets"][0]["exercise"] = {"id": "", "name": "Wobbly Thing", "said": ""}
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "a.routine.json").write_text(json.dumps(document))
    report = add(tmp_path / "c.setdown", tmp_path / "in")
    assert [notice for _, notice in report.notices] == ["the date 'last Tuesday' is no day and was left out"]
    assert read(tmp_path / "c.setdown", "SELECT key, known FROM movement WHERE known = 0") == [("wobbly thing", 0)]
    assert read(tmp_path / "c.setdown", "SELECT date FROM class") == [("",)]


def test_addresses_are_read_by_fsspec(tmp_path):
    """The same classes from another file system give the same sets and words."""
    fsspec = pytest.importorskip("fsspec", reason="the extra 'cluster' is not installed")
    local = write_folder(tmp_path / "in", list_gold(3))
    memory = fsspec.filesystem("memory")
    for path in local.iterdir():
        memory.pipe(f"/studio/{path.name}", path.read_bytes())
    try:
        with closing(open_store(tmp_path / "far.setdown", create=True)) as store:
            report = add_classes(store, list_sources(["memory://studio"]))
            assert counts(report) == (3, 0, 0, 0)
            assert counts(add_classes(store, list_sources(["memory://studio/"]))) == (0, 0, 3, 0)
            far = store.execute("SELECT * FROM performed").fetchall()
        add(tmp_path / "near.setdown", local)
        assert read(tmp_path / "near.setdown", "SELECT * FROM performed") == far
    finally:
        memory.rm("/studio", recursive=True)
    with pytest.raises(SetdownError, match="cannot be read"):
        list_sources(["nosuchscheme://x"])


def test_moving_a_folder_is_new_classes(few, tmp_path):
    """A class is known by where it is: moved, it is added, and the old place is gone."""
    file = tmp_path / "c.setdown"
    add(file, few)
    shutil.move(few, tmp_path / "moved")
    with closing(open_store(file)) as store:
        sources = list_sources([str(tmp_path / "moved")])
        assert counts(add_classes(store, sources)) == (12, 0, 0, 0)
        (few).mkdir()
        assert len(find_gone(store, [str(few)], list_sources([str(few)]))) == 12
