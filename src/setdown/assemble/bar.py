"""What is on the bar: plates said for each end and the bar itself become the load in all.

A class says what its bar weighs, or the bar is a common one: 20 kg, or 45 lb where loads are in pounds (common practice
in gyms, no source). Plates replace those that were on, or come on top of them ('five more a side'), or come off.
"""

from __future__ import annotations

from decimal import Decimal

from setdown.assemble.context import ClassContext
from setdown.assemble.load_talk import word_set
from setdown.model.mention import Mention
from setdown.model.routine import Load

USUAL_BAR = {"kg": Decimal(20), "lb": Decimal(45)}
BESIDE = 6
MORE = word_set("more another extra add adding added too as also further top")
LESS = word_set("off strip lose drop remove minus less")
INSTEAD = word_set("instead swap swapping swapped replace trade")
FITTING = {
    "plates on a bare bar": ("instead", "no change"),
    "plates added": ("more",),
    "plates taken off": ("less",),
}
SUM_BEFORE, SUM_BEHIND = 8, 14


def weigh_bar(context: ClassContext, before: int, unit: str | None) -> Decimal | None:
    """The empty bar in ``unit`` as last said before word ``before``, or else as said later, or else the usual one."""
    known = context.index.latest("bar", before, 1) or context.index.within("bar", before, len(context.tagged.words))
    if known and known[0].value.unit in (unit, None):
        return Decimal(known[0].value.value)
    return USUAL_BAR.get(unit or "")


def list_totals(
    context: ClassContext, plates: Mention, unit: str | None, last: Load | None
) -> list[tuple[Load, list[str]]]:
    """What the bar may weigh in all with these plates, and what speaks for each.

    ``plates`` is a load of plates per side; ``last`` is what the bar weighed before, if it was in use.
    """
    said = plates.value
    if said.value is None:
        return []
    unit = said.unit or unit
    bar = weigh_bar(context, plates.start, unit)
    if bar is None:
        return []
    both = 2 * Decimal(said.value)
    words = context.tagged.words
    around = set(words[max(plates.start - BESIDE, 0) : plates.end + BESIDE // 2])
    how = "instead" if around & INSTEAD else "more" if around & MORE else "less" if around & LESS else "no change"
    found = [(bar + both, "plates on a bare bar")]
    if both and last is not None and last.value is not None and last.unit == unit and last.value >= bar:
        found.append((last.value + both, "plates added"))
        if last.value - both >= bar:
            found.append((last.value - both, "plates taken off"))
    summed = set(_numbers_said(context, plates.start - SUM_BEFORE, plates.end + SUM_BEHIND))
    out = []
    for total, name in found:
        features = [
            name,
            f"{name}, {how} said",
            "plates fit the words" if how in FITTING[name] else "plates do not fit",
        ]
        if not both:
            features.append("the empty bar")
        if total in summed:
            features += ["the sum is said", f"{name}, the sum is said"]
        elif summed & {t for t, _ in found}:
            features.append("another sum is said")
        out.append((Load(value=total, unit=unit), features))
    return out


def _numbers_said(context: ClassContext, low: int, high: int) -> list[Decimal]:
    """Numbers near, whatever role they have: what sum is said may be read as repetitions or as a count."""
    found = []
    for kind in ("load", "reps", "count", "work_s", "other"):
        for m in context.index.within(kind, max(low, 0), high):
            for name in ("value", "lo", "n", "work"):
                number = getattr(m.value, name, None)
                if isinstance(number, (int, Decimal)):
                    found.append(Decimal(number))
                    break
    return found
