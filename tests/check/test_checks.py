"""Each check finds what it is for, where it stands, and nothing in a sound routine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from make_routine import make_routine, make_transcript, quote
from setdown.check import check_routine
from setdown.model.routine import Finisher, Load, Query, Reps, Routine, Set

MAIN = "$.sections[1]"
SQUATS = "$.sections[1].groups[0].sets[0]"
LEFT = "$.sections[1].groups[1].sets[0]"
RIGHT = "$.sections[1].groups[1].sets[1]"
HOLD = "$.sections[2].groups[0].sets[0]"


def squats(routine: Routine) -> Set:
    return routine.sections[1].groups[0].sets[0]


def left(routine: Routine) -> Set:
    return routine.sections[1].groups[1].sets[0]


def right(routine: Routine) -> Set:
    return routine.sections[1].groups[1].sets[1]


def test_a_sound_routine_has_no_finding_that_counts():
    """The small routine fits its transcript; the half minute of work in three seconds of speech is no must."""
    findings = check_routine(make_routine(), make_transcript())
    assert [f for f in findings if f.severity != "note"] == []
    assert all(f.line is None for f in findings)


def assign(get: Callable[[Routine], object], **values: object) -> Callable[[Routine], None]:
    def bend(routine: Routine) -> None:
        for name, value in values.items():
            setattr(get(routine), name, value)

    return bend


def assign_both(first: Callable[[Routine], None], second: Callable[[Routine], None]) -> Callable[[Routine], None]:
    def bend(routine: Routine) -> None:
        first(routine)
        second(routine)

    return bend


def bend_quote(**values: object) -> Callable[[Routine], None]:
    """The load of the squats rests on 'tens', with something wrong about where that stands."""

    def bend(routine: Routine) -> None:
        squats(routine).evidence["load"] = [quote("tens", 0).model_copy(update=values)]

    return bend


def pulses(start: float, end: float) -> Finisher:
    return Finisher(kind="pulses", start=start, end=end)


RELAX = SQUATS + ".coaching[0].evidence"
TENS = SQUATS + ".evidence.load[0]"

BENT: list[tuple[str, str, Callable[[Routine], object]]] = [
    # times
    ("ends-early", "$.sections[0].end", assign(lambda r: r.sections[0], start=58.5)),
    ("sections-overlap", MAIN + ".start", assign(lambda r: r.sections[1], start=57.9)),
    ("after-the-recording", "$.sections[2].end", assign(lambda r: r.sections[2], end=234.01)),
    ("outside-section", HOLD, assign(lambda r: r.sections[2].groups[0].sets[0], start=219.0)),
    ("outside-section", HOLD, assign(lambda r: r.sections[2].groups[0].sets[0], end=234.1)),
    ("sets-overlap", LEFT + ".start", assign(left, start=109.9)),
    ("out-of-order", LEFT + ".start", assign(left, start=61.9)),
    ("schema", LEFT, assign(left, end=123.0)),
    ("outside-set", RIGHT + ".finisher", assign(right, finisher=pulses(200.0, 211.0))),
    ("outside-set", RIGHT + ".finisher", assign(right, finisher=pulses(209.0, 205.0))),
    ("rounds-differ", "$.sections[1].groups[1].rounds", assign(right, round=2)),
    (
        "rounds-back",
        RIGHT + ".round",
        assign_both(assign(left, round=2, side="right"), assign(lambda r: r.sections[1].groups[1], rounds=2)),
    ),
    # ids
    ("id-twice", RIGHT + ".id", assign(right, id="s2")),
    ("id-twice", "$.sections[2].id", assign(lambda r: r.sections[2], id="main")),
    ("id-twice", "$.sections[2].groups[0].id", assign(lambda r: r.sections[2].groups[0], id="g1")),
    ("id-twice", "$.queries[1].id", assign(lambda r: r.queries[1], id="q1")),
    ("id-empty", RIGHT + ".id", assign(right, id=" ")),
    ("no-such-set", "$.queries[0].set", assign(lambda r: r.queries[0], set="s9")),
    ("no-such-field", "$.queries[0].field", assign(lambda r: r.queries[0], field="weight")),
    # support
    ("no-origin", LEFT + ".origin", lambda r: left(r).origin.pop("reps")),
    ("no-confidence", LEFT + ".confidence", lambda r: left(r).confidence.pop("side")),
    ("no-evidence", LEFT + ".evidence", lambda r: left(r).evidence.pop("exercise")),
    ("no-evidence", LEFT + ".evidence", lambda r: left(r).evidence.update(reps=[])),
    ("no-such-field", LEFT + ".confidence.weight", lambda r: left(r).confidence.update(weight=1.0)),
    # quotes
    ("not-in-transcript", TENS, bend_quote(cue=6)),
    ("not-in-transcript", TENS, bend_quote(char_start=0)),
    ("not-in-transcript", TENS, bend_quote(char_end=900)),
    ("not-in-transcript", TENS, bend_quote(quote="tins")),
    ("not-in-transcript", TENS, bend_quote(at=60.0)),
    (
        "not-in-transcript",
        SQUATS + ".coaching[0].evidence",
        assign(lambda r: squats(r).coaching[0].evidence, quote="no"),
    ),
    ("not-in-transcript", "$.declared[0].evidence[0]", assign(lambda r: r.declared[0].evidence[0], quote="nine")),
    ("not-in-transcript", "$.equipment[0].evidence[0]", assign(lambda r: r.equipment[0].evidence[0], cue=99)),
    ("not-in-transcript", "$.queries[0].evidence[0]", assign(lambda r: r.queries[0].evidence[0], cue=1)),
    ("other-transcript", "$.source.sha256", assign(lambda r: r.source, sha256="0" * 64)),
    # shape
    ("schema", "$.status", assign(lambda r: r, status="done")),
]


@pytest.mark.parametrize(("code", "path", "bend"), BENT, ids=[f"{n}-{c}" for n, (c, _, _) in enumerate(BENT)])
def test_one_fault_gives_one_finding(code, path, bend):
    """A sound routine with one thing bent gives exactly that finding, at its path."""
    routine = make_routine()
    bend(routine)
    serious = [f for f in check_routine(routine, make_transcript()) if f.severity != "note"]
    assert [(f.code, f.path) for f in serious] == [(code, path)]
    assert serious[0].problem


def add_work(routine: Routine) -> None:
    left(routine).work_s = 70.0
    left(routine).origin["work_s"], left(routine).confidence["work_s"] = "inferred", 0.5


UNLIKELY: list[tuple[str, str, Callable[[Routine], None]]] = [
    ("unlikely-pace", LEFT, assign(left, reps=Reps(lo=60, hi=60))),
    ("unlikely-pace", LEFT, assign(left, reps=Reps(lo=2, hi=2))),
    ("unlikely-work", LEFT, add_work),
    ("unlikely-load", SQUATS, assign(squats, load=Load(value=301, unit="kg"))),
    ("unlikely-load", SQUATS, assign(squats, load=Load(value=120, unit="pct1rm"))),
]


@pytest.mark.parametrize(("code", "path", "bend"), UNLIKELY, ids=[f"{n}-{c}" for n, (c, _, _) in enumerate(UNLIKELY)])
def test_unlikely_numbers_are_notes(code, path, bend):
    """A pace, a time or a load out of the ordinary is a note: people do unusual things in a class."""
    routine = make_routine()
    before = {(f.code, f.path) for f in check_routine(routine)}
    bend(routine)
    new = [f for f in check_routine(routine) if (f.code, f.path) not in before]
    assert [(f.code, f.path, f.severity) for f in new] == [(code, path, "note")]


@pytest.mark.parametrize(
    ("reps", "side", "seconds", "likely"),
    [
        (Reps(lo=10, hi=10), None, 40.0, True),  # 4 s: 2/0/2/0, J Sports Sci Med 18:191
        (Reps(lo=10, hi=10), None, 100.0, True),  # 10 s: 6/0/4/0, PMC6006544
        (Reps(lo=20, hi=20), None, 20.0, True),  # jumps, one a second
        (Reps(lo=8, hi=8), None, 125.0, False),
        (Reps(lo=8, hi=8), "each", 125.0, True),  # eight on each side
        (Reps(lo=50, hi=50), None, 36.0, False),
        (Reps(to_failure=True), None, 400.0, True),  # no number, no pace
    ],
)
def test_pace_of_repetitions(reps, side, seconds, likely):
    """Between 1 and 15 seconds a repetition is ordinary, whatever the tempo; 'each' has two sides' time."""
    routine = make_routine()
    one = left(routine)
    routine.sections[1].groups[1].sets = [one]
    routine.sections[1].end = routine.sections[2].start = 600.0
    one.reps, one.side, one.start, one.end = reps, side, 124.0, 124.0 + seconds
    paces = [f for f in check_routine(routine) if f.code == "unlikely-pace" and f.path == LEFT]
    assert (paces == []) == likely


def test_a_long_set_is_a_note():
    """A set of more than a quarter of an hour is probably several."""
    routine = make_routine()
    hold = routine.sections[2].groups[0].sets[0]
    routine.sections[2].end = routine.source.duration_s = hold.end = 231.0 + 901
    assert "unlikely-length" in [f.code for f in check_routine(routine)]


def test_a_query_about_the_class_needs_no_set():
    """An empty set id means the class as a whole, and its field is not a field of a set."""
    routine = make_routine()
    routine.queries.append(Query(id="q9", code="kit", severity="note", field="equipment", message="What kit?"))
    assert [f for f in check_routine(routine) if f.severity != "note"] == []


def test_a_transcript_with_other_words_is_compared_only_when_it_is_the_same_file():
    """With another file's digest nothing is compared word by word: one finding says why."""
    other = replace(make_transcript(), sha256="1" * 64, cues=())
    serious = [f for f in check_routine(make_routine(), other) if f.severity != "note"]
    assert [f.code for f in serious] == ["other-transcript"]
