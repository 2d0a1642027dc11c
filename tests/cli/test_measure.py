"""``setdown measure`` and ``setdown compare``: tables, JSON, pictures and messages."""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction

import pytest

from setdown.sheet import read_sheet_csv


def cells(text: str) -> dict[str, str]:
    """Label and value of each indented line."""
    lines = [line.strip().split("  ", 1) for line in text.splitlines() if line.startswith("  ")]
    return {parts[0]: parts[1].strip() for parts in lines if len(parts) == 2}


def test_the_table(run, routine_file):
    """Figures under their headings, what is not known, how it was counted, and the cautions."""
    ran = run("measure", routine_file, "--body-mass", "70", "--own", "goblet squat=20kg x 8")
    assert (ran.code, ran.err) == (0, "")
    table = cells(ran.out)
    assert ran.out.startswith("Wren's ten (draft)\n\ntime\n")
    assert table["first set to last"] == "2:52"
    assert table["density"] == "73 %"  # (48 + 36 + 38 + 3) / 172
    assert table["all sets"] == "200 lb (91 kg)"  # ten repetitions with ten pounds in each hand
    assert "kcal" in table["for a body of 70 kg"]
    assert "how it was counted\n" in ran.out
    assert "Exercise can hurt" in ran.out
    assert "Do not test a maximum alone" in " ".join(ran.out.split())


def test_the_json(run, routine_file):
    """The same for programs: routines in order, both units; together only for several."""
    ran = run("measure", routine_file, routine_file, "--json")
    found = json.loads(ran.out)
    assert [one["title"] for one in found["routines"]] == ["Wren's ten"] * 2
    assert found["together"]["sets"] == 2 * found["routines"][0]["sets"] == 8
    assert json.loads(run("measure", routine_file, "--json").out)["together"] is None


@pytest.mark.parametrize("name", ["arms-and-shoulders", "quayside-strength"])
def test_the_volume_is_that_of_the_set_sheet(run, repository, tmp_path, name):
    """Worked out from the sheet's cells in the plainest way: the same pounds."""
    file = repository / "samples" / f"{name}.routine.json"
    run("sheet", file, "-o", tmp_path / "a.csv")
    pounds = Decimal(0)
    for row in read_sheet_csv(tmp_path / "a.csv"):
        if row["load"] and row["reps"].isdigit():
            assert row["unit"] == "lb"
            pounds += Decimal(row["load"]) * int(row["reps"]) * (2 if row["basis"] == "per_hand" else 1)
    found = json.loads(run("measure", file, "--json").out)["routines"][0]["volume"]
    assert pounds > 0
    assert found["volume_lb"]["lo"] == float(pounds)
    assert found["volume_kg"]["lo"] == pytest.approx(float(Fraction(pounds) * Fraction("0.45359237")))  # NIST SP 811


def test_units_and_conventions(run, routine_file):
    """Units of the table; the share of helping muscles; the sections that count."""
    assert cells(run("measure", routine_file, "--units", "kg").out)["all sets"] == "91 kg"
    direct = run("measure", routine_file, "--secondary", "0", "--sections", "all").out
    assert "0 for one that helps" in direct
    assert "these sections: main, cool down." in direct


@pytest.mark.parametrize(
    ("options", "problem"),
    [
        (["--units", "stone"], "--units cannot be 'stone'"),
        (["--secondary", "2"], "--secondary cannot be '2'"),
        (["--secondary", "half"], "--secondary cannot be 'half'"),
        (["--sections", "middle"], "--sections cannot be 'middle'"),
        (["--body-mass", "seventy"], "--body-mass cannot be 'seventy'"),
        (["--body-mass", "7000"], "--body-mass cannot be '7000'"),
        (["--own", "goblet squat=20kg"], "cannot read 'goblet squat=20kg'"),
    ],
)
def test_options_that_cannot_be(run, routine_file, options, problem):
    """Each says what would have been right."""
    ran = run("measure", routine_file, *options)
    assert ran.code == 2
    assert problem in ran.err
    assert "expected:" in ran.err


def test_a_bad_file_does_not_cost_the_others(run, routine_file, tmp_path):
    """It is told, the rest is measured, and the exit code says that something was found."""
    ran = run("measure", tmp_path / "none.routine.json", routine_file)
    assert ran.code == 1
    assert "none.routine.json" in ran.err
    assert "Wren's ten" in ran.out
    assert run("measure", tmp_path / "none.routine.json").code == 2
    both = run("measure", tmp_path / "none.json", tmp_path / "nor.json")
    assert (both.code, both.out) == (2, "")


def test_output_to_a_file(run, routine_file, tmp_path):
    """Written whole; another file is kept unless --replace."""
    target = tmp_path / "m.json"
    assert run("measure", routine_file, "--json", "-o", target).code == 0
    assert json.loads(target.read_text())["routines"][0]["sets"] == 4
    assert run("measure", routine_file, "-o", target).code == 2
    assert run("measure", routine_file, "-o", target, "--replace").code == 0


def test_caption_text_cannot_steer_the_terminal(run, routine_file):
    """Titles and names are shown with their control characters made visible."""
    text = routine_file.read_text().replace("Wren's ten", "[red]Wren\\u001b[2J")
    routine_file.write_text(text.replace('"goblet squat"', '"goblet\\u001b[2J squat"'))
    for command in (("measure",), ("compare", routine_file)):
        out = run(*command, routine_file).out
        assert "[red]Wren" in out
        assert "\x1b" not in out


def test_side_by_side(run, routine_file, repository, tmp_path):
    """A table with a column for each class, JSON, and a picture in the form of its name."""
    other = repository / "samples" / "quayside-strength.routine.json"
    ran = run("compare", routine_file, other, "-o", tmp_path / "both.svg")
    assert ran.code == 0
    top = ran.out.splitlines()[0]
    assert top.index("Wren's ten (draft)") < top.index("Quayside Strength, Short One (draft)")
    sections = json.loads(other.read_text(encoding="utf-8"))["sections"]
    sets = sum(len(group["sets"]) for section in sections for group in section["groups"])
    assert cells(ran.out)["sets as done"].split() == ["4", str(sets)]
    assert (tmp_path / "both.svg").read_text().startswith("<svg")
    run("compare", routine_file, other, "-o", tmp_path / "both.PNG")
    assert (tmp_path / "both.PNG").read_bytes().startswith(b"\x89PNG")
    found = json.loads(run("compare", routine_file, other, "--json").out)
    assert len(found["classes"]) == 2
    assert all(len(row["values"]) == 2 for row in found["rows"])


def test_what_cannot_be_compared(run, routine_file, tmp_path):
    """One class, a picture of another form, a second file that is broken."""
    assert "one class only" in run("compare", routine_file).err
    wrong = run("compare", routine_file, routine_file, "-o", tmp_path / "a.jpg")
    assert (wrong.code, (tmp_path / "a.jpg").exists()) == (2, False)
    assert ".svg or .png" in wrong.err
    broken = run("compare", routine_file, tmp_path / "none.json")
    assert (broken.code, broken.out) == (2, "")
