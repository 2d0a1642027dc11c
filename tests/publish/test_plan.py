"""The plan that is derived from a routine, and its Markdown."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from make_routine import make_set, quote
from measure.make_measured import make_class, make_sets
from setdown.model.routine import Coaching, Evidence, Finisher, Group, Load, Reps
from setdown.publish.fixed_text import load_strings
from setdown.publish.options import PublishOptions
from setdown.publish.passes import is_regular, list_moves, list_order
from setdown.publish.plan import build_plan, letter_group
from setdown.publish.wording import sum_up_doses, sum_up_loads, tell_finisher, tell_seconds, tell_weight

SAID = quote("rows", 3)
STRINGS = load_strings("en")


def make_group(*sets: tuple[str, int, str | None], arrangement: str = "superset") -> Group:
    """Sets as (movement, round, side), one after the other."""
    made = [
        make_set(f"s{n}", name, 60.0 + 40 * n, 90.0 + 40 * n, SAID, round=turn, side=side, reps=Reps(lo=10, hi=10))
        for n, (name, turn, side) in enumerate(sets)
    ]
    return Group(id="g", arrangement=arrangement, rounds=max(turn for _, turn, _ in sets), sets=made)


def test_alternated_moves_are_rows_with_a_pass_for_each_round():
    """A B A B is two moves with two passes, done in turn."""
    group = make_group(("row", 1, None), ("squat", 1, None), ("row", 2, None), ("squat", 2, None))
    moves = list_moves(group)
    assert [(move.key, len(move.passes)) for move in moves] == [("row", 2), ("squat", 2)]
    assert is_regular(list_order(group, moves), 2)


def test_two_sides_of_a_round_are_one_pass():
    """Left and right of one round go together; a second left is another pass."""
    group = make_group(("row", 1, "left"), ("row", 1, "right"), ("row", 2, "left"), ("row", 2, "left"))
    (move,) = list_moves(group)
    assert [[one.side for one in sets] for sets in move.passes] == [["left", "right"], ["left"], ["left"]]


def test_an_unusual_order_is_told(routine, lexicon):
    """A B B A is not 'in turn': the plan says how it went, and draws no loop."""
    routine.sections[1].groups = [
        make_group(("row", 1, None), ("squat", 1, None), ("squat", 2, None), ("row", 2, None))
    ]
    group = build_plan(routine, lexicon, PublishOptions()).sections[0].groups[0]
    assert "A1 A2 A2 A1" in group.order
    assert not group.loops


def test_letters_go_on_after_z():
    """As columns of a spreadsheet do."""
    assert [letter_group(n) for n in (0, 25, 26, 27, 702)] == ["A", "Z", "AA", "AB", "AAA"]


def test_doses_are_summed_up_where_they_agree():
    """Three equal sets are '3 × 10 reps', others are told one by one."""
    alike = list_moves(make_group(("row", 1, None), ("row", 2, None), ("row", 3, None)))[0].passes
    assert sum_up_doses(STRINGS, alike) == "3 × 10 reps"
    alike[1][0].reps = Reps(lo=8, hi=10)
    alike[2][0].reps = Reps(to_failure=True)
    assert sum_up_doses(STRINGS, alike) == "10 reps, then 8–10 reps, then as many as you can"


def test_sides_are_told_with_the_one_that_came_first():
    """And a set on one side only says which."""
    both = list_moves(make_group(("row", 1, "right"), ("row", 1, "left")))[0].passes
    assert sum_up_doses(STRINGS, both) == "10 reps each side, right first"
    assert sum_up_doses(STRINGS, [both[0][:1]]) == "10 reps, right"
    both[0][0].reps = Reps(lo=12, hi=12)
    assert sum_up_doses(STRINGS, both) == "12 reps right, then 10 reps left"


@pytest.mark.parametrize(
    ("seconds", "text"), [(30, "30 s"), (90, "90 s"), (120, "2 min"), (150, "2 min 30 s"), (0.2, "1 s")]
)
def test_times_are_told_as_the_trade_does(seconds, text):
    """Common practice, no source: seconds up to two minutes."""
    assert tell_seconds(STRINGS, seconds) == text


@pytest.mark.parametrize(
    ("value", "unit", "units", "text"),
    [
        ("12", "lb", "said", "12 lb"),
        ("12", "lb", "kg", "5.4 kg"),  # 5.44310844 kg: NIST SP 811 (2008), Appendix B.8, 0.45359237 kg
        ("12", "lb", "both", "12 lb / 5.4 kg"),
        ("16", "kg", "lb", "35.3 lb"),  # 35.27396195 lb
        ("16", "kg", "both", "35.3 lb / 16 kg"),
        ("70", "pct1rm", "kg", "70 % of one-rep max"),
        ("2.5", None, "kg", "2.5"),
    ],
)
def test_weights_in_the_unit_that_was_asked_for(value, unit, units, text):
    """Exact conversion, shown to a tenth."""
    assert tell_weight(STRINGS, Decimal(value), unit, units).replace("\u00a0", " ") == text


def test_loads_that_change_are_told_in_order():
    """What they share is said once; what was not said is not told."""
    passes = list_moves(make_group(("row", 1, None), ("row", 2, None), ("row", 3, None)))[0].passes
    for sets, value in zip(passes, (15, 12, 12), strict=True):
        sets[0].load = Load(value=Decimal(value), unit="lb", basis="per_hand")
    assert sum_up_loads(STRINGS, passes, "said").replace("\u00a0", " ") == "15 lb → 12 lb each hand"
    passes[1][0].load = Load(rel="lighter")
    passes[2][0].load = None
    assert sum_up_loads(STRINGS, passes, "said").replace("\u00a0", " ") == "15 lb each hand → lighter"


def test_a_finisher_says_which_round_it_ends():
    """Last, every, or by number."""
    passes = list_moves(make_group(("row", 1, None), ("row", 2, None), ("row", 3, None)))[0].passes
    passes[2][0].finisher = Finisher(kind="pulses")
    assert tell_finisher(STRINGS, passes) == "finish with pulses in the last round"
    passes[0][0].finisher = Finisher(kind="pulses")
    assert tell_finisher(STRINGS, passes) == "finish with pulses in round 1 and 3"
    passes[1][0].finisher = Finisher(kind="pulses")
    assert tell_finisher(STRINGS, passes) == "finish with pulses every round"


def test_cautions_stand_on_top_of_every_plan(publish, routine, transcript):
    """Before the first move; they defer to those who are qualified, and the loads are no prescription."""
    made = publish(routine, "plan", "page", transcript=transcript)
    for text in made.values():
        body = text.partition("<body>")[2] or text
        top = body[: body.index("Goblet squat")]
        for words in ("doctor", "physiotherapist", "qualified coach", "no prescription", "Stop when something hurts"):
            assert words in top


def test_a_caution_said_before_the_first_set_is_on_top_and_not_again(routine, lexicon):
    """The others stay with their move."""
    early = Evidence(cue=0, char_start=0, char_end=10, quote="stop if your back hurts", at=5.0, rule="caution: hurts")
    late = early.model_copy(update={"at": 70.0, "quote": "careful with the left knee", "rule": "caution: careful"})
    for _, _, one in routine.iter_sets():
        one.coaching = []
    first = routine.sections[1].groups[0].sets[0]
    first.coaching = [Coaching(kind="caution", evidence=early), Coaching(kind="caution", evidence=late)]
    plan = build_plan(routine, lexicon, PublishOptions())
    assert plan.said_first == ("Stop if your back hurts",)
    assert plan.sections[0].groups[0].moves[0].cautions == ("Careful with the left knee",)


def test_blank_columns_for_each_round_of_the_main_part(publish, routine):
    """Up to four rounds have a column each; a stretch has none."""
    routine.sections[1].groups = [make_group(*((name, turn, None) for turn in (1, 2) for name in ("row", "squat")))]
    text = publish(routine, "plan")["plan.md"]
    assert "| Round 1: yours | Round 2: yours |" in text
    assert text.count("yours") == 2
    routine.sections[1].groups = [make_group(*(("row", turn, None) for turn in range(1, 7)))]
    assert "| Your own figures |" in publish(routine, "plan")["plan.md"]


def test_every_fixed_text_can_be_filled_in():
    """Every brace belongs to a place, and no text for one stands without its text for several."""
    values = dict.fromkeys(re.findall(r"{(\w+)}", "".join(STRINGS.texts.values())), "x")
    for key, text in STRINGS.texts.items():
        text.format(**values)
        if key.endswith(".one"):
            assert key.removesuffix("one") + "other" in STRINGS.texts


def test_text_with_places_in_it_is_not_filled_in(publish, routine):
    """A title of '{n}' is a title."""
    routine.title = "{n} {0} {curly}"
    assert "# {n} {0} {curly}" in publish(routine, "plan")["plan.md"]


def test_another_language_without_a_catalogue_gets_english():
    """And so does a path that somebody wrote as a language."""
    assert load_strings("en-GB").language == "en"
    assert load_strings("../../x").language == "en"


def test_short_has_fewer_cues_than_full(publish, routine):
    """Two cues a move, not three."""
    rules = ("keep your chest up", "squeeze your glutes at the top", "push the floor away with your feet")
    first = routine.sections[1].groups[0].sets[0]
    first.coaching = [
        Coaching(
            kind="form",
            evidence=Evidence(
                cue=1, char_start=0, char_end=9, quote=rule, at=60.0 + n, rule=f"form: {rule.split()[0]}"
            ),
        )
        for n, rule in enumerate(rules)
    ]
    full, short = (publish(routine, "plan", detail=detail)["plan.md"].count("- “") for detail in ("full", "short"))
    assert full - short == 1


@pytest.mark.parametrize(
    ("units", "mass"), [("said", "648 lb / 294 kg"), ("both", "648 lb / 294 kg"), ("lb", "648 lb"), ("kg", "294 kg")]
)
def test_the_figures_of_a_class_are_in_the_plan(lexicon, units, mass):
    """12 x 15 lb + 12 x 12 lb in each hand are 648 lb, 293.93 kg (NIST SP 811: the pound is 0.45359237 kg); the plan
    says how many of the sets it knows the load of, and work, rest, push and pull."""
    sets = make_sets(
        ("biceps-curl", {"reps": 12, "load": (15, "lb", "per_hand")}),
        ("biceps-curl", {"reps": 12, "load": (12, "lb", "per_hand")}),
        ("overhead-press", {"reps": 12, "load": (12, "lb", None)}),
    )
    figures = dict(build_plan(make_class(sets), lexicon, PublishOptions(units=units)).figures)
    assert figures["Volume load"].startswith(mass + " (")
    assert "2 of 3" in figures["Volume load"]
    assert figures["Work and rest"] == "75 % work: 2:00 in sets, 0:40 between them"  # 3 x 40 s, 20 s between
    assert figures["Sets of push, pull"] == "1 and 0"
    assert "Sets left, right" not in figures
