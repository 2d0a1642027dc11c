"""``setdown demo``: a sample class from captions to what is published, without a browser and without loss."""

from __future__ import annotations

import json
import re
import webbrowser
from pathlib import Path

import pytest

from setdown.cli import demo_folder
from setdown.errors import SetdownError


@pytest.fixture
def place(tmp_path) -> Path:
    """A folder that is not there yet, with a name that a shell would take apart."""
    return tmp_path / "it's my 'first' class 🏋"


def read_all(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.slow
def test_it_walks_through_every_stage(run, place, monkeypatch):
    """Each command is shown with its result; the class ends reviewed, published and found; no browser opens."""
    monkeypatch.setattr(webbrowser, "open", lambda *a, **k: pytest.fail("a browser was opened"))
    before = Path.cwd()
    ran = run("demo", place)
    assert (ran.code, ran.err) == (0, "")
    shown = re.findall(r"^\$ setdown (\w+)", ran.out, flags=re.M)
    assert list(dict.fromkeys(shown)) == ["extract", "sheet", "check", "revise", "signoff", "publish", "catalogue"]
    assert "setdown review class.routine.json" in ran.out
    assert Path.cwd() == before
    routine = json.loads((place / "class.routine.json").read_text(encoding="utf-8"))
    assert routine["status"] == "reviewed"
    assert [mark["by"] for mark in routine["signatures"]] == ["Ada Lorrimer"]
    assert "goblet squat" in (place / "out" / "class.plan.html").read_text(encoding="utf-8").lower()
    assert re.search(r"\n +1:55 +goblet squat", ran.out)
    assert "3 added" in ran.out
    assert ".mp4" not in ran.out, "no link to a recording that is not there"


@pytest.mark.slow
def test_it_never_writes_over_anything_unasked(run, place):
    """A second time is refused and changes nothing; --replace makes it anew, and leaves other files in peace."""
    assert run("demo", place).code == 0
    (place / "mine.doc").write_text("mine", encoding="utf-8")
    (place / "class.csv").write_text("edited", encoding="utf-8")
    before = read_all(place)
    again = run("demo", place)
    assert (again.code, again.out) == (2, "")
    assert "--replace" in again.err
    assert read_all(place) == before
    anew = run("demo", place, "--replace")
    assert (anew.code, anew.err) == (0, "")
    after = read_all(place)
    assert after["mine.doc"] == b"mine"
    assert after["class.csv"] != b"edited"
    assert after.keys() == before.keys()


@pytest.mark.parametrize("replace", [False, True])
def test_a_folder_of_somebody_else_is_left_alone(tmp_path, replace):
    """Even with --replace: its class.vtt may be a real one. The message names a folder that will do."""
    (tmp_path / "class.vtt").write_text("a real one", encoding="utf-8")
    with pytest.raises(SetdownError, match="other files") as refused:
        demo_folder.prepare_folder(tmp_path, replace=replace)
    assert refused.value.hint
    assert read_all(tmp_path) == {"class.vtt": b"a real one"}
    demo_folder.prepare_folder(tmp_path / "setdown-demo")
    assert (tmp_path / "setdown-demo" / "class.vtt").is_file()


@pytest.mark.parametrize("name", ["a\0b", "\udc80", "x" * 5000, ""])
def test_a_name_that_cannot_be_is_refused(run, tmp_path, monkeypatch, name):
    """With a message: NUL, a name longer than the system allows, or none at all in a folder with other files."""
    (tmp_path / "mine").touch()
    monkeypatch.chdir(tmp_path)
    assert run("demo", name).code == 2
    assert [p.name for p in tmp_path.iterdir()] == ["mine"]


def test_a_file_in_the_way_is_named(run, tmp_path):
    """DIR that is a file is refused with what to do."""
    (tmp_path / "taken").write_text("x", encoding="utf-8")
    ran = run("demo", tmp_path / "taken")
    assert (ran.code, ran.out) == (2, "")
    assert "this is a file" in ran.err
    assert "hint: " in ran.err


def test_an_empty_folder_will_do(tmp_path):
    """A folder that was made for it beforehand, empty, is used."""
    demo_folder.prepare_folder(tmp_path)
    assert set(read_all(tmp_path)) == {demo_folder.NOTE, *demo_folder.FILES}
