"""Rep targets: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import reps

TEN = {"lo": 10, "hi": 10}
EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "ten reps": [
        ("ten reps", "reps", TEN),
        ("we're after twelve slow clean reps here", "reps", {"lo": 12, "hi": 12}),
        ("8-10 reps each side", "reps", {"lo": 8, "hi": 10, "each_side": True}),
        ("ten wraps of that", "reps", TEN),
    ],
    "ten of those": [
        ("ten of those", "reps", TEN),
        ("give it eight of 'em per leg", "reps", {"lo": 8, "each_side": True}),
        ("fifteen of each", "reps", {"lo": 15}),
        ("six good ones is six of the same", "reps", {"lo": 6}),
    ],
    "one of them": [("A get-up. One of them. Right side.", "reps", {"lo": 1, "hi": 1})],
    "ten of your squats": [("ten of your skaters please", "reps", TEN)],
    "ten squats": [
        ("ten squats", "reps", TEN),
        ("let's see twelve bent over rows", "reps", {"lo": 12}),
        ("fifteen push ups", "reps", {"lo": 15}),
        ("eight nice slow lunges each leg", "reps", {"lo": 8, "each_side": True}),
    ],
    "ten holds": [("it's ten holds today", "reps", TEN), ("twenty alternating knees", "reps", {"lo": 20})],
    "ten good ones": [("five good ones", "reps", {"lo": 5})],
    "ten each side": [
        ("eight each side", "reps", {"lo": 8, "each_side": True}),
        ("twelve per leg", "reps", {"lo": 12, "each_side": True}),
        ("ten on each arm", "reps", {"lo": 10, "each_side": True}),
    ],
    "ten each": [("so it's ten each please", "reps", {"lo": 10, "each_side": True})],
    "ten a side": [("ten a side", "reps", {"lo": 10, "each_side": True})],
    "each side ten": [("on each leg ten", "reps", {"lo": 10, "each_side": True})],
    "ten one way and ten the other": [
        ("four one way four back the other way", "reps", {"lo": 4, "each_side": True}),
        ("five one way and five the other", "reps", {"lo": 5, "each_side": True}),
        ("ten on the left then ten on the right", "reps", {"lo": 10, "each_side": True}),
        ("eight forwards and eight backwards", "reps", {"lo": 8, "each_side": True}),
    ],
    "eight on the left": [("8 on the left leg first", "reps", {"lo": 8})],
    "eight and eight": [("then it's eight and eight", "reps", {"lo": 8})],
    "we'll do ten": [
        ("we'll do ten", "reps", TEN),
        ("i'll take another twelve here", "reps", {"lo": 12}),
        ("we're going to do eight", "reps", {"lo": 8}),
    ],
    "give me ten": [("give me fifteen", "reps", {"lo": 15}), ("gimme ten", "reps", TEN)],
    "this gets ten": [("this one is short it gets ten", "reps", TEN)],
    "I want ten": [
        ("i want twelve", "reps", {"lo": 12}),
        ("we're looking for eight to ten", "reps", {"lo": 8, "hi": 10}),
    ],
    "do ten": [("do ten and rest", "reps", TEN), ("knock out twelve", "reps", {"lo": 12})],
    "same ten": [("the same ten on this one", "reps", TEN), ("another twelve and we're done", "reps", {"lo": 12})],
    "ten again": [("squat ten again", "reps", TEN)],
    "second one's ten": [("the second set is ten", "reps", TEN), ("last one's twenty", "reps", {"lo": 20})],
    "your ten": [("when you hit your twelve you stay down", "reps", {"lo": 12})],
    "it's ten": [("today it's ten", "reps", TEN)],
    "all ten": [
        ("i want all ten of them to look good so all ten", "reps", TEN),
        ("then repeat all three", "other", {"what": "things"}),
    ],
    "for ten": [("squats for ten", "reps", TEN)],
    "ten, not twelve": [("ten not twelve", "reps", TEN), ("fifteen instead of twelve", "reps", {"lo": 15})],
    "two eights of music": [
        ("with the music for two eights", "reps", {"lo": 16}),
        ("curls four eights is what we do", "reps", {"lo": 32}),
        ("two eights of pulses", "reps", {"lo": 16}),
        ("five six seven eight curl two eights", "reps", {"lo": 16}),
    ],
    "two counts of eight": [("on the beat four counts of eight", "reps", {"lo": 32})],
    "as many as you can": [
        ("as many as you can", "reps", {"to_failure": True}),
        ("as many reps as possible", "reps", {"to_failure": True, "lo": None}),
        ("as many as you can get", "reps", {"to_failure": True}),
        ("as many as are clean", "reps", {"to_failure": True}),
        ("how many you can", "reps", {"to_failure": True}),
    ],
    "till you can't": [
        ("keep going till you can't", "reps", {"to_failure": True}),
        ("this set is to failure", "reps", {"to_failure": True}),
        ("until there's nothing left", "reps", {"to_failure": True}),
        ("til you're cooked", "reps", {"to_failure": True}),
    ],
    "everything you've got": [("everything you've got", "reps", {"to_failure": True})],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "ten reps": ["ten pounds", "ten. Reps are later"],
    "ten of those": ["a few of them have a hold", "ten of us", "there are ten of us"],
    "one of them": ["you can use one of them for balance", "one of these days"],
    "ten of your squats": ["ten of the"],
    "ten squats": ["ten seconds of squats", "the 14. Presses on the eights"],
    "ten holds": ["ten pounds in each hand"],
    "ten good ones": ["the light ones"],
    "ten each side": ["ten each round"],
    "ten each": ["one each hand", "ten each round"],
    "ten a side": ["twenty a week"],
    "each side ten": ["each side is different"],
    "ten one way and ten the other": ["ten one way and five the other", "five in five out"],
    "eight on the left": ["eight on the clock"],
    "eight and eight": ["eight and ten"],
    "we'll do ten": ["we'll do ten seconds", "we'll do two rounds", "we'll do one on the left"],
    "give me ten": ["give me ten seconds", "give me a minute"],
    "this gets ten": ["it gets hard", "it gets ten pounds heavier"],
    "I want ten": ["i want two rounds", "you want one decent dumbbell"],
    "do ten": ["do ten pounds", "do one more"],
    "same ten": ["same ten pounds", "another one"],
    "ten again": ["twelve reps again"],
    "second one's ten": ["the second one is a row"],
    "your ten": ["grab your tens", "that's your ten"],
    "it's ten": ["it's ten o'clock", "it's ten to eight"],
    "all ten": ["all four of you"],
    "for ten": ["for ten seconds", "hold for ten"],
    "ten, not twelve": ["ten and twelve"],
    "two eights of music": [
        "grab two eights the dumbbells",
        "five six seven eight pick up two eights",
        "two eighths",
    ],
    "two counts of eight": ["two counts of ten"],
    "as many as you can": ["as many as ten", "how many have we done"],
    "till you can't": ["until the bell", "till we meet again"],
    "everything you've got": ["everything else"],
}


@pytest.mark.parametrize(("rule", "text", "kind", "wanted"), [(r, *e) for r, es in EXAMPLES.items() for e in es])
def test_reads(check_example: Callable[..., None], rule: str, text: str, kind: str, wanted: dict[str, Any]) -> None:
    """The phrase gives a mention of this kind and value, by this rule."""
    check_example(rule, text, kind, wanted)


@pytest.mark.parametrize(("rule", "text"), [(r, t) for r, ts in COUNTER_EXAMPLES.items() for t in ts])
def test_leaves_alone(check_counter: Callable[..., None], rule: str, text: str) -> None:
    """The rule does not claim a phrase that only looks like its own."""
    check_counter(rule, text)


def test_every_rule_has_examples_and_counter_examples() -> None:
    """No rule of the file goes without both."""
    names = {rule.name for rule in reps.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
