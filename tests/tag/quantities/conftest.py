"""How the quantity tests tag a text, and what they compare."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from setdown.model.mention import Mention
from setdown.tag.numbers import find_numbers
from setdown.tag.quantities import tag_quantities

Tag = Callable[..., list[Mention]]


def tag_text(text: str, gaps: dict[int, int] | None = None) -> list[Mention]:
    """Tag a text of words; ``gaps`` gives the silence in ms before a word, by its index."""
    words = text.split()
    silences = [(gaps or {}).get(i, 0) for i in range(len(words))]
    return tag_quantities(words, silences, find_numbers(words))


def differs(value: Any, wanted: dict[str, Any]) -> dict[str, Any]:
    """The fields of a value that are not as wanted, with what they are."""
    out = {}
    for name, want in wanted.items():
        have = getattr(value, name)
        if have != (Decimal(str(want)) if isinstance(have, Decimal) else want):
            out[name] = have
    return out


@pytest.fixture
def tag() -> Tag:
    """The tagger for a text."""
    return tag_text


@pytest.fixture
def check_example() -> Callable[[str, str, str, dict[str, Any]], None]:
    """Fails unless the rule gives the text a mention of that kind with those fields."""

    def check(rule: str, text: str, kind: str, wanted: dict[str, Any]) -> None:
        mentions = tag_text(text)
        fitting = [m for m in mentions if m.rule == rule and m.kind == kind]
        assert fitting, f"{rule!r} does not fire; got {[(m.rule, m.kind, m.value) for m in mentions]}"
        assert any(not differs(m.value, wanted) for m in fitting), [differs(m.value, wanted) for m in fitting]

    return check


@pytest.fixture
def check_counter() -> Callable[[str, str], None]:
    """Fails when the rule has its way with a text that it should leave alone."""

    def check(rule: str, text: str) -> None:
        mentions = tag_text(text)
        assert rule not in {m.rule for m in mentions}, [(m.rule, m.kind, m.value) for m in mentions]

    return check
