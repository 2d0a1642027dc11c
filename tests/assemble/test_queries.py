"""Questions for the reviewer: each code has a case that raises it and one beside it that does not."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from assemble.plain_class import PLAIN
from make_class import assemble_class, decide, settle_class
from setdown.assemble.build import build_routine
from setdown.assemble.queries import UNSURE, raise_queries
from setdown.model.mention import Mention
from setdown.model.routine import Load, Query, Reps

SQUAT: dict[str, Any] = {"exercise": "goblet-squat"}
SET = "squats ready _2 [ and down _20 last one ] and rest"
TEN = Reps(lo=10, hi=10)


def ask(text: str, *sets: dict[str, Any], evidence: Mention | None = None) -> list[Query]:
    """The queries about a class settled by hand; ``evidence`` is that of the first set's name."""
    context = settle_class(text, *sets)
    if evidence is not None:
        context.drafts[0].ranked["exercise"].best.evidence.append(evidence)
    return raise_queries(context, build_routine(context)[1])


def list_codes(queries: list[Query]) -> list[str]:
    """The codes in order."""
    return [q.code for q in queries]


def test_plain_work_raises_nothing():
    """Known, sure and of a likely length: no reading needed."""
    assert ask(SET, SQUAT | {"reps": TEN}) == []


def test_a_movement_that_the_lexicon_does_not_know():
    """It must be answered, and what was said is in the message."""
    guess = Mention("movement", 0, 1, None, "a name")
    [query] = ask(SET, {"exercise": ""}, evidence=guess)
    assert (query.code, query.severity, query.field) == ("movement-unknown", "must", "exercise")
    assert "squats" in query.message
    assert "movement-unknown" not in list_codes(ask(SET, SQUAT))


def test_a_name_that_was_repaired():
    """What the caption has and what it was read as, quoted; a name as listed is no question."""
    text = "gobble it squats ready _2 [ and down _20 last one ] and rest"
    context = settle_class(text, SQUAT)
    [hit] = context.tagged.of_kind("movement_guess")
    [query] = ask(text, SQUAT, evidence=hit)
    assert (query.code, query.severity) == ("name-repaired", "note")
    assert "gobble it squats" in query.message
    assert [e.quote for e in query.evidence] == ["gobble it squats"]
    text = text.replace("gobble it", "goblet")
    [named] = settle_class(text, SQUAT).tagged.of_kind("movement")
    assert ask(text, SQUAT, evidence=named) == []


def test_announced_as_one_move_and_coached_as_another():
    """A firm name before the work, another only in it."""
    text = "push-ups everybody are you ready for this _2 [ and down we go _9 goblet squats _9 last one ] and rest"
    context = settle_class(text, SQUAT)
    in_work = context.tagged.of_kind("movement")[-1]
    assert in_work.value.movement == "goblet-squat"
    [query] = ask(text, SQUAT, evidence=in_work)
    assert (query.code, query.severity, query.field) == ("names-differ", "should", "exercise")
    assert query.suggestions == ["goblet squat", "push-up"]
    assert [e.quote for e in query.evidence] == ["push-ups", "goblet squats"]


@pytest.mark.parametrize("announced", ["goblet squats", "squats", "not a push-up", "like a push-up"])
def test_announced_as_the_same_move(announced):
    """The same name, the basic form of it, a name taken back and a likening are no difference."""
    text = f"{announced} everybody are you ready for this _2 [ and down we go _9 goblet squats _9 last one ] and rest"
    in_work = settle_class(text, SQUAT).tagged.of_kind("movement")[-1]
    assert "names-differ" not in list_codes(ask(text, SQUAT, evidence=in_work))


@pytest.mark.parametrize(
    ("seconds", "values", "codes"),
    [
        (4, {"reps": TEN}, ["span-short"]),
        (30, {"reps": TEN}, []),
        (140, {"reps": TEN}, ["span-long"]),
        (140, {"reps": Reps(to_failure=True)}, []),
        (8, {"reps": TEN, "side": "each"}, ["span-short"]),
        (15, {"work_s": 60}, ["span-short"]),
        (55, {"work_s": 60}, []),
        (120, {"work_s": 60}, ["span-long"]),
        (140, {"reps": TEN, "work_s": 140}, []),
    ],
)
def test_spans_of_an_unlikely_length(seconds, values, codes):
    """Too short or too long for the reps or the seconds that were said."""
    made = ask(f"squats ready now [ and down _{seconds - 1.6} last one ] and rest", SQUAT | values)
    assert list_codes(made) == codes
    assert all((q.severity, q.field) == ("should", "end") for q in made)


def test_a_span_too_short_for_both_is_asked_about_once():
    """Reps and seconds were both said: one question, since ids must differ."""
    made = ask("squats ready now [ and down one ] and rest", SQUAT | {"reps": TEN, "work_s": 60})
    assert list_codes(made) == ["span-short"]


def test_more_counted_than_the_target():
    """Twelve counted of ten; counting up to the target, or short of it, is no question."""
    text = "squats ready now [ one _5 two _5 {} ] and rest"
    [query] = ask(text.format("three _9 four"), SQUAT | {"reps": Reps(lo=3, hi=3)})
    assert (query.code, query.severity, query.field, query.suggestions) == ("reps-differ", "should", "reps", ["3", "4"])
    assert ask(text.format("three _9 four"), SQUAT | {"reps": Reps(lo=4, hi=4)}) == []
    assert ask(text.format("three _9 four"), SQUAT | {"reps": Reps(lo=4, hi=6)}) == []


def test_a_load_without_a_unit():
    """Tens of what? It must be answered."""
    load = Load(value=Decimal(10))
    [query] = ask(SET, SQUAT | {"load": load})
    assert (query.code, query.severity, query.suggestions) == ("load-without-unit", "must", ["kg", "lb"])
    assert ask(SET, SQUAT | {"load": load.model_copy(update={"unit": "kg"})}) == []
    assert ask(SET, SQUAT | {"load": Load(rel="lighter")}) == []


@pytest.mark.parametrize("field", ["side", "reps", "work_s", "load", "finisher"])
def test_what_is_unsure_is_asked(field):
    """Below the threshold with the choices; at it not."""
    for confidence, codes in ((UNSURE - 0.01, ["unsure"]), (UNSURE, [])):
        context = settle_class(SET, SQUAT)
        decide(context.drafts[0], confidence, **{field: None})
        made = raise_queries(context, build_routine(context)[1])
        assert list_codes(made) == codes
        assert all((q.field, q.severity) == (field, "should") for q in made)
        assert all("none" in q.suggestions for q in made)


@pytest.mark.parametrize(("confidence", "severity"), [(0.55, "should"), (0.3, "must")])
def test_an_unsure_name_must_be_read(confidence, severity):
    """A name that is hardly more than a guess weighs more than one that is not certain; the choices are names."""
    context = settle_class(SET, SQUAT)
    decide(context.drafts[0], confidence, exercise="goblet-squat")
    [query] = raise_queries(context, build_routine(context)[1])
    assert (query.code, query.severity, query.field) == ("unsure", severity, "exercise")
    assert query.suggestions[0] == "goblet squat"
    assert query.message.startswith("The movement is not certain: goblet squat (")


@pytest.mark.parametrize(("seen", "codes"), [(1, ["rounds-differ"]), (2, []), (3, ["rounds-differ"])])
def test_rounds_announced_and_seen(seen, codes):
    """Two rounds were announced: a note when another number was seen, with the words."""
    text = "two rounds of this squats _2 " + "[ and down _20 last one ] and rest _20 " * seen
    made = ask(text, *(SQUAT | {"round": n + 1} for n in range(seen)))
    assert list_codes(made) == codes
    assert all(q.severity == "note" and [e.quote for e in q.evidence] == ["two rounds"] for q in made)


def test_every_query_has_its_own_id_and_leads_to_its_set():
    """Ids are made of the code, the set and the field, over a whole class."""
    routine, sets, _ = assemble_class(PLAIN.replace("pounds", "").replace("bent over rows", "bend over roads"))
    assert routine.queries
    assert len({q.id for q in routine.queries}) == len(routine.queries)
    ids = {s.id for s in sets}
    for query in routine.queries:
        assert query.set in ids
        assert query.id == f"{query.code}:{query.set}:{query.field}"
        assert query.state == "open"
        assert query.message.endswith(".")
