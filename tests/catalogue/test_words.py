"""What users call things: movements, muscles, kit, ranges, days, words that were said."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise

import pytest

from setdown.catalogue.ask import find_class, find_instructors, want_movement
from setdown.catalogue.find import find_classes
from setdown.catalogue.query import Query
from setdown.catalogue.ranges import Range, parse_day, parse_load, parse_minutes, parse_reps, parse_span
from setdown.catalogue.speech import cut_tokens, list_phrases, match_text
from setdown.catalogue.weeks import count_weeks, find_monday, list_weeks, name_week
from setdown.catalogue.words import choose_word, resolve_kit, resolve_movement, resolve_muscle, resolve_pattern
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon

LEXICON = load_lexicon()


@pytest.mark.parametrize(
    ("text", "id", "guessed"),
    [
        ("goblet squat", "goblet-squat", False),
        ("Goblet  Squats", "goblet-squat", False),
        ("kb goblet squat", "goblet-squat", False),
        ("gobble its quat", "goblet-squat", True),
        ("goblt sqaut", "goblet-squat", True),
        ("puhlover", "pullover", True),
        ("dead bugg", "dead-bug", True),
        ("romanian dedlift", "romanian-deadlift", True),
    ],
)
def test_movements_however_they_are_spelt(text, id, guessed):
    """By any listed name, in the plural, as captions mis-hear it, with letters wrong; a guess is told as one."""
    meant = resolve_movement(text, LEXICON)
    assert (meant.id, meant.guessed) == (id, guessed)


@pytest.mark.parametrize("text", ["qqqqqq", "", "photosynthesis", "12"])
def test_what_is_no_movement(text):
    """It is refused by name rather than taken for something far off."""
    with pytest.raises(SetdownError, match="no movement is called"):
        resolve_movement(text, LEXICON)


def test_the_nearest_names_are_suggested():
    """A name that is half right leads to the names near it."""
    with pytest.raises(SetdownError) as refused:
        resolve_movement("the over press thingamajig", LEXICON)
    assert "press" in refused.value.hint


def test_movements_that_no_lexicon_has():
    """They are found by their own name, and by one like it."""
    unknown = {"wobbly thing": "Wobbly Thing"}
    assert resolve_movement("WOBBLY thing", LEXICON, unknown).id == "wobbly thing"
    assert resolve_movement("wobly thing", LEXICON, unknown).id == "wobbly thing"


def test_variants_and_family():
    """The basic movement stands for its variants; a variant for itself, unless the family is asked for."""
    squat = want_movement("squat", LEXICON, {})
    assert {"squat", "goblet-squat", "front-squat"} <= squat.keys
    assert want_movement("squat", LEXICON, {}, exact=True).keys == {"squat"}
    assert want_movement("goblet squat", LEXICON, {}).keys == {"goblet-squat"}
    assert want_movement("goblet squat", LEXICON, {}, family=True).keys == squat.keys


@pytest.mark.parametrize(
    ("resolve", "text", "id"),
    [
        (resolve_muscle, "glutes", "glutes"),
        (resolve_muscle, "Lats", "latissimus_dorsi"),
        (resolve_muscle, "pecs", "chest"),
        (resolve_muscle, "hamstring", "hamstrings"),
        (resolve_muscle, "quadricep", "quadriceps"),
        (resolve_muscle, "upper_back", "upper_back"),
        (resolve_kit, "dumbbells", "dumbbell"),
        (resolve_kit, "kettlebells", "kettlebell"),
        (resolve_kit, "benches", "bench"),
        (resolve_kit, "resistance bands", "band"),
        (resolve_kit, "dumbells", "dumbbell"),
        (resolve_pattern, "horizontal push", "horizontal_push"),
        (resolve_pattern, "Horizontal-Push", "horizontal_push"),
        (resolve_pattern, "sqat", "squat"),
    ],
)
def test_muscles_kit_and_patterns(resolve, text, id):
    """By any listed name, in the singular or plural, with a letter wrong."""
    assert resolve(text, LEXICON).id == id


def test_fixed_words():
    """With a hyphen or a blank; anything else is refused with what there is."""
    assert choose_word("section", "Warm-up", ("warm_up", "main")) == "warm_up"
    with pytest.raises(SetdownError) as refused:
        choose_word("section", "middle", ("warm_up", "main"))
    assert refused.value.expected == "warm_up, main"


@pytest.mark.parametrize(
    ("parse", "text", "expected"),
    [
        (parse_minutes, "25", Range(None, 25)),
        (parse_minutes, "20-25", Range(20, 25)),
        (parse_minutes, "20 - 25 min", Range(20, 25)),
        (parse_minutes, "20-", Range(20, None)),
        (parse_minutes, "-20", Range(None, 20)),
        (parse_minutes, "12.5-", Range(12.5, None)),
        (parse_load, "10kg", Range(10, 10)),
        (parse_load, "10-15kg", Range(10, 15)),
        (parse_load, "10-kg", Range(10, None)),
        (parse_load, "10kg-", Range(10, None)),
        (parse_load, "-15 kgs", Range(None, 15)),
        (parse_load, "100lb", Range(45.359237, 45.359237)),
        (parse_load, "100 lbs -", Range(45.359237, None)),
        (parse_reps, "10", Range(10, 10)),
        (parse_reps, "8-12", Range(8, 12)),
        (parse_reps, "8 to 12", Range(8, 12)),
        (parse_reps, "20-", Range(20, None)),
    ],
)
def test_ranges(parse, text, expected):
    """100 lb are 45.359237 kg exactly (NIST Special Publication 811, 2008, Appendix B)."""
    assert parse(text) == expected


@pytest.mark.parametrize(
    ("parse", "text"),
    [
        (parse_minutes, "soon"),
        (parse_minutes, "25-20"),
        (parse_minutes, "-"),
        (parse_minutes, "20 25"),
        (parse_minutes, "20kg"),
        (parse_load, "10"),
        (parse_load, "10-15 stone"),
        (parse_load, "15-10kg"),
        (parse_reps, "ten"),
        (parse_reps, "10kg"),
        (parse_reps, "1e5"),
        (parse_day, "5.3.2024"),
        (parse_day, "2024-02-30"),
        (parse_span, "a week"),
        (parse_span, "-7d"),
    ],
)
def test_ranges_that_are_none(parse, text):
    """Each is refused with what would be right."""
    with pytest.raises(SetdownError) as refused:
        parse(text)
    assert refused.value.expected


def test_spans():
    """Days and weeks."""
    assert parse_span("7d") == parse_span("1w") == parse_span("7") == timedelta(days=7)
    assert parse_day(" 2024-03-05 ") == "2024-03-05"


@pytest.mark.parametrize(
    ("day", "week"),
    [
        # ISO 8601, the examples that are usually given for the turn of a year (from memory).
        ("2005-01-01", "2004-W53"),
        ("2005-01-02", "2004-W53"),
        ("2005-12-31", "2005-W52"),
        ("2007-01-01", "2007-W01"),
        ("2007-12-30", "2007-W52"),
        ("2007-12-31", "2008-W01"),
        ("2008-12-28", "2008-W52"),
        ("2008-12-29", "2009-W01"),
        ("2009-12-31", "2009-W53"),
        ("2010-01-03", "2009-W53"),
        ("2010-01-04", "2010-W01"),
    ],
)
def test_weeks_of_iso_8601(day, week):
    """Weeks start on Monday; week 1 has the year's first Thursday."""
    assert name_week(day) == week
    assert 0 <= (find_monday(week).weekday()) == 0


def test_weeks_between():
    """Every week from the first day to the last is listed, over the turn of a year with 53 weeks too."""
    assert list_weeks(["2009-12-22", "2010-01-11"]) == ["2009-W52", "2009-W53", "2010-W01", "2010-W02"]
    assert list_weeks([]) == []
    assert count_weeks("2009-12-31", "2010-01-03") == 0
    assert count_weeks("2009-12-27", "2010-01-04") == 2


def test_words_that_were_said():
    """Words apart are all said somewhere, words in quotes one after the other; nothing in them is an operator."""
    assert list_phrases('"soft knees" breathe') == [["soft", "knees"], ["breathe"]]
    assert match_text("knees OR NOT (hips* NEAR") == '"knees" "or" "not" "hips" "near"'
    assert match_text('an "unclosed quote') == '"an" "unclosed quote"'
    assert match_text("don't") == '"don t"'
    assert cut_tokens("Plié, VOILÀ 20kg_x") == ["plie", "voila", "20kg", "x"]
    with pytest.raises(SetdownError, match="no word"):
        match_text('"" ,, *')


def test_a_phrase_is_found_where_it_is_said(store, gold):
    """Every class with the phrase in its captions, over the end of a caption too, and the captions where it begins."""
    wanted = ["one", "more"]
    expected = {}
    for one in gold:
        blocks = [block.split("\n", 1) for block in one.vtt.split("\n\n")[1:]]
        said = [(token, n) for n, (_, text) in enumerate(blocks) for token in cut_tokens(text)]
        starts = {n for (a, n), (b, _) in pairwise(said) if [a, b] == wanted}
        if starts:
            expected[one.name] = [blocks[n][1].replace("\n", " ").strip() for n in sorted(starts)][:5]
    answers = find_classes(store, Query(words='"one more"', limit=0))
    found = {answer.location.rpartition("/")[2]: [hit.words for hit in answer.hits] for answer in answers}
    assert found == expected
    assert len(found) > 20


def test_instructors(store, gold):
    """By any part of the name, whatever its letters' case; nobody is refused with the names near it."""
    name = gold[0].routine.source.instructor
    first = name.split()[0]
    assert name in find_instructors(store, [first.upper()])
    assert find_instructors(store, [name]) == (name,)
    with pytest.raises(SetdownError) as refused:
        find_instructors(store, [name.replace("a", "o") + "x"])
    assert name in refused.value.hint


def test_a_class_by_name(store, gold):
    """By title, by file name, with and without its ending; two of one name must be told apart by their files."""
    one = gold[5]
    ids = {find_class(store, text) for text in (one.name, f"{one.name}.vtt", one.routine.title.upper())}
    assert len(ids) == 1
    with pytest.raises(SetdownError, match="no class"):
        find_class(store, "nowhere at all")
