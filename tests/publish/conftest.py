"""What the tests of publishing share: hostile text, the documents of a routine, a browser."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from make_routine import make_routine, make_transcript
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import Routine
from setdown.publish import PublishOptions, publish_routine


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    return load_lexicon()


@pytest.fixture(scope="session")
def publish(lexicon: Lexicon) -> Callable[..., dict[str, str]]:
    """Publishes a routine as a draft; the texts by what their names end with."""

    def run(routine: Routine, *outputs: str, transcript: Any = None, **options: Any) -> dict[str, str]:
        made = publish_routine(routine, lexicon, outputs, PublishOptions(draft=True, **options), transcript, "wren")
        return {
            document.name.removeprefix("wren.draft.").removeprefix("wren."): document.data.decode() for document in made
        }

    return run


@pytest.fixture
def routine() -> Routine:
    return make_routine()


@pytest.fixture
def transcript() -> Any:
    return make_transcript()
