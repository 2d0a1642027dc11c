"""Seconds and minutes: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import durations

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "thirty on the clock": [
        ("thirty on the clock", "work_s", {"work": 30}),
        ("a minute on the timer", "work_s", {"work": 60}),
    ],
    "thirty seconds each side": [
        ("thirty seconds each side", "work_s", {"work": 30, "each_side": True}),
        ("a minute per leg", "work_s", {"work": 60, "each_side": True}),
        ("20 seconds each", "work_s", {"work": 20, "each_side": True}),
    ],
    "thirty seconds of this": [
        ("forty five seconds of work", "work_s", {"work": 45}),
        ("a minute of this", "work_s", {"work": 60}),
        ("half a minute of mountain climbers", "work_s", {"work": 30}),
        ("ten minutes of abs", "other", {"what": "block_length"}),
    ],
    "for thirty seconds": [
        ("for thirty seconds", "work_s", {"work": 30}),
        ("for a minute and a half", "work_s", {"work": 90}),
        ("for about twenty seconds", "work_s", {"work": 20}),
    ],
    "hold for twenty": [
        ("hold for twenty", "work_s", {"work": 20}),
        ("hold it there for a count of five", "work_s", {"work": 5}),
        ("stay here for half a minute", "work_s", {"work": 30}),
        ("plank for forty five", "work_s", {"work": 45}),
    ],
    "count ten": [("lift it and i'll count ten", "work_s", {"work": 10})],
    "twenty second hold": [
        ("a twenty second hold", "work_s", {"work": 20}),
        ("30 second plank", "work_s", {"work": 30}),
    ],
    "we have thirty seconds": [
        ("we've got thirty seconds", "work_s", {"work": 30}),
        ("we'll go about twenty seconds", "work_s", {"work": 20}),
        ("give me forty seconds", "work_s", {"work": 40}),
        ("we'll give it half a minute", "work_s", {"work": 30}),
    ],
    "thirty seconds": [
        ("forty seconds squats", "work_s", {"work": 40}),
        ("thirty seconds here", "work_s", {"work": 30}),
        ("ten seconds", "time_left", {"work": 10}),
    ],
    "two minutes": [
        ("two minutes", "work_s", {"work": 120}),
        ("half a minute", "work_s", {"work": 30}),
        ("a minute and a half", "work_s", {"work": 90}),
        ("one minute thirty", "work_s", {"work": 90}),
        ("a minute thirty", "work_s", {"work": 90}),
        ("only one minute", "work_s", {"work": 60}),
        ("the bar is loaded three sets and two minutes", "rest_s", {"work": 120}),
    ],
    "a minute": [
        ("a full minute", "work_s", {"work": 60}),
        ("call it a minute and a half", "work_s", {"work": 90}),
        ("whole minute here", "work_s", {"work": 60}),
        ("each of them gets a minute", "work_s", {"work": 60}),
    ],
    "bare minute": [("right shin forward pigeon a minute", "work_s", {"work": 60})],
    "a minute off": [
        ("a minute off", "rest_s", {"work": 60}),
        ("fifteen seconds rest", "rest_s", {"work": 15}),
        ("twenty seconds to breathe", "rest_s", {"work": 20}),
        ("ninety seconds between sets", "rest_s", {"work": 90}),
        ("60 off", "rest_s", {"work": 60}),
    ],
    "rest for thirty": [
        ("rest for thirty", "rest_s", {"work": 30}),
        ("rest a minute", "rest_s", {"work": 60}),
        ("have a breather thirty seconds", "rest_s", {"work": 30}),
        ("you get 60 seconds", "rest_s", {"work": 60}),
    ],
    "take forty five": [("take forty five", "rest_s", {"work": 45}), ("take a minute", "rest_s", {"work": 60})],
    "fifteen seconds left": [
        ("fifteen seconds left", "time_left", {"work": 15}),
        ("ten seconds to go", "time_left", {"work": 10}),
        ("last thirty seconds", "time_left", {"work": 30}),
        ("five more seconds", "time_left", {"work": 5}),
        ("half a minute left", "time_left", {"work": 30}),
    ],
    "a thirty minute class": [
        ("a thirty minute class", "other", {"what": "block_length"}),
        ("done inside 40 minutes", "other", {"what": "block_length"}),
    ],
    "a few minutes": [("a few minutes of getting ready", "other", {"what": "block_length"})],
    "in a minute": [
        ("see you in a minute", "other", {"what": "idiom"}),
        ("give it a second", "other", {"what": "idiom"}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "thirty on the clock": ["thirty on the left"],
    "thirty seconds each side": ["thirty seconds on the side of caution", "ten each side"],
    "thirty seconds of this": ["ten of those"],
    "for thirty seconds": ["for eight. second one is harder", "for thirty squats"],
    "hold for twenty": ["hold for breath", "hold your weights for two rounds"],
    "count ten": ["count to ten thousand"],
    "twenty second hold": ["ten seconds. Hold on"],
    "we have thirty seconds": ["we have thirty people", "we've got two rounds"],
    "thirty seconds": ["thirty seconds left", "12. Seconds out"],
    "two minutes": ["goblet squats 12 minute two rows", "two minutes left"],
    "a minute": ["in a minute", "a minute off"],
    "bare minute": ["back in a minute", "twenty beats a minute", "a minute ago", "every minute"],
    "a minute off": ["take the weight off", "ten off the floor"],
    "rest for thirty": ["rest your hands", "the rest for another day"],
    "take forty five": ["take two more", "take a pair of tens"],
    "fifteen seconds left": ["last two", "fifteen on the left"],
    "a thirty minute class": ["thirty seconds of class"],
    "a few minutes": ["two minutes"],
    "in a minute": ["hold for a minute", "a minute on the clock"],
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
    names = {rule.name for rule in durations.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
