"""What the class amounts to, in a few lines for the plan; ``setdown measure`` tells all of it."""

from __future__ import annotations

from fractions import Fraction

from setdown.measure import Between, Measures, Units, convert_mass, format_amount
from setdown.model.timecode import format_clock
from setdown.publish.fixed_text import Strings
from setdown.publish.options import PublishOptions


def list_figures(measures: Measures, strings: Strings, options: PublishOptions) -> tuple[tuple[str, str], ...]:
    """Name and value of each figure that is known: work and rest, push and pull, the sides, the volume load."""
    time, sides, ways, volume = measures.work_rest, measures.sides, measures.push_pull, measures.volume
    if volume.volume_kg is None and not any(count.sets for count in measures.muscle_groups):
        return ()  # nothing but stretches or breathing: the facts on top say all
    told: list[tuple[str, str]] = []
    if time.density is not None:
        values = {"work": _clock(time.work_s), "rest": _clock(time.rest_s), "share": format_amount(time.density * 100)}
        told.append((strings.say("figures.time"), strings.say("figures.work_rest", **values)))
    if ways.push.sets or ways.pull.sets:
        values = {"push": format_amount(ways.push.sets, 2), "pull": format_amount(ways.pull.sets, 2)}
        told.append((strings.say("figures.ways"), strings.say("figures.push_pull", **values)))
    if sides.left.sets or sides.right.sets:
        values = {"left": str(sides.left.sets), "right": str(sides.right.sets)}
        told.append((strings.say("figures.sides"), strings.say("figures.left_right", **values)))
    if volume.volume_kg is not None:
        load = strings.say(
            "figures.load",
            mass=_tell_mass(volume.volume_kg, strings, options),
            n=volume.counted_sets,
            of=volume.loaded_sets,
        )
        told.append((strings.say("figures.volume"), load))
    return tuple(told)


def _tell_mass(kg: Between, strings: Strings, options: PublishOptions) -> str:
    units: Units = "both" if options.units == "said" else options.units
    in_kg = _tell_range(kg.lo, kg.hi, strings)
    in_lb = _tell_range(convert_mass(kg.lo, "kg", "lb"), convert_mass(kg.hi, "kg", "lb"), strings)
    if units == "both":
        return strings.say("load.both", lb=in_lb, kg=in_kg)
    return strings.say("load.single", value=in_lb if units == "lb" else in_kg, unit=strings.say(f"load.{units}"))


def _tell_range(lo: Fraction, hi: Fraction, strings: Strings) -> str:
    low, high = format_amount(lo), format_amount(hi)
    return low if low == high else strings.say("figures.range", lo=low, hi=high)


def _clock(seconds: Fraction) -> str:
    return format_clock(round(seconds) * 1000)
