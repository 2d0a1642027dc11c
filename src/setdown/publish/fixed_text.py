"""The fixed text of everything that is published, from one catalogue for each language (``strings/en.toml``)."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources
from typing import Any

from setdown.errors import SetdownError

FALLBACK = "en"


class Strings:
    """The texts of one language by key; keys are dotted (``plan.with``)."""

    def __init__(self, language: str, texts: Mapping[str, str]) -> None:
        self.language = language
        self.texts = texts

    def say(self, key: str, **values: object) -> str:
        """The text with its places filled in.

        Values go in as they are and are not read for places themselves: text of a transcript cannot reach in here.

        Raises:
            KeyError: the catalogue has no such key, or a place was left empty: a defect, not bad input.
        """
        return self.texts[key].format(**values)

    def count(self, key: str, n: int, shown: str = "", **values: object) -> str:
        """The text for one or for several, with ``{n}`` filled in: the number, or how it is ``shown`` (``8–10``)."""
        return self.say(f"{key}.one" if n == 1 else f"{key}.other", n=shown or n, **values)

    def has(self, key: str) -> bool:
        """Whether the catalogue holds the key."""
        return key in self.texts

    def plural(self, name: str) -> str:
        """The name of a thing for several of it, as the language makes it."""
        return self.say("list.plural", name=name) if not name.endswith("s") else name

    def join_list(self, parts: Sequence[str]) -> str:
        """``a, b, c``."""
        return self.texts["list.comma"].join(parts)

    def join(self, parts: Sequence[str]) -> str:
        """``a, b and c``."""
        if len(parts) < 2:
            return "".join(parts)
        return self.say("list.two", a=self.join_list(parts[:-1]), b=parts[-1])


@cache
def load_strings(language: str = FALLBACK) -> Strings:
    """The catalogue of a language; ``en-GB`` finds ``en``, and a language without one gets English.

    Raises:
        SetdownError: the catalogue is broken.
    """
    folder = resources.files("setdown.publish").joinpath("strings")
    for name in dict.fromkeys((language.lower(), language.lower().partition("-")[0], FALLBACK)):
        file = folder.joinpath(f"{name}.toml") if name.replace("-", "").isalnum() else None
        if file is not None and file.is_file():
            try:
                return Strings(name, _flatten(tomllib.loads(file.read_text(encoding="utf-8"))))
            except tomllib.TOMLDecodeError as error:
                raise SetdownError(f"not valid TOML: {error}", source=f"{name}.toml") from error
    raise SetdownError("no catalogue of strings is installed", hint="Install setdown again")


def _flatten(table: Mapping[str, Any], before: str = "") -> dict[str, str]:
    flat: dict[str, str] = {}
    for key, value in table.items():
        if isinstance(value, Mapping):
            flat |= _flatten(value, f"{before}{key}.")
        else:
            flat[before + key] = value
    return flat
