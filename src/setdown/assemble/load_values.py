"""Loads as values: what was said as a :class:`Load`, its key, and the unit of a class."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from setdown.assemble.context import ClassContext
from setdown.model.mention import Mention
from setdown.model.routine import Load


def load_key(load: Load | None) -> str:
    """Value, unit and direction in one word; empty for none."""
    if load is None:
        return ""
    if load.value is None:
        return load.rel or ""
    return f"{load.value.normalize():f} {load.unit or '?'}"


def find_class_unit(context: ClassContext) -> str | None:
    """The unit of bare loads: what was declared for the class, else the unit said most often with a load."""
    said = context.index.within("unit", 0, len(context.tagged.words))
    if said:
        return str(said[-1].value.unit)
    votes: dict[str, int] = {}
    for m in context.index.within_any(("load", "bar"), 0, len(context.tagged.words)):
        if m.value.unit in ("lb", "kg"):
            votes[m.value.unit] = votes.get(m.value.unit, 0) + 1
    return max(sorted(votes), key=lambda u: votes[u]) if votes else None


def to_load(value: Any, unit: str | None) -> Load | None:
    """A load as said -> the model's load (basis left open); ``None`` when nothing is held or nothing is told."""
    if value.none or value.same:
        return None
    if value.value is None:
        return Load(rel=value.rel) if value.rel else None
    amount = Decimal(value.value)
    if not 0 < amount < 1000:
        return None
    return Load(value=amount, unit=value.unit or unit)


def read_load(context: ClassContext, mention: Mention, unit: str | None) -> tuple[Load | None, str]:
    """The load of a mention of kind ``load`` and its key (made once for the class)."""
    place = (id(mention), unit)
    found: tuple[Load | None, str] | None = context.known_loads.get(place)
    if found is None:
        load = to_load(mention.value, unit)
        found = context.known_loads[place] = (load, load_key(load))
    return found
