"""The written plan, derived from a routine: what a trainee needs in hand to do the class again.

``build_plan`` is a pure function; ``markdown`` and ``page`` only lay out what it gives. All text in a plan is plain and
still to be escaped by the one who writes it out.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from setdown.lexicon import Lexicon
from setdown.measure import Measures, format_amount, measure_routine
from setdown.model.routine import Group, Routine, Section
from setdown.model.timecode import format_clock
from setdown.model.transcript import Transcript
from setdown.publish.cues import choose_cues, find_advice
from setdown.publish.fixed_text import Strings, load_strings
from setdown.publish.inert import clean_line
from setdown.publish.kit import list_kit
from setdown.publish.options import PublishOptions
from setdown.publish.passes import MovePasses, is_regular, list_moves, list_order
from setdown.publish.plan_figures import list_figures
from setdown.publish.plan_parts import Move, Plan, PlanGroup, PlanSection, Share, Span, Turn
from setdown.publish.wording import (
    sum_up_doses,
    sum_up_loads,
    tell_dose,
    tell_finisher,
    tell_load,
    tell_name,
    tell_seconds,
)

CUES = {"short": 2, "full": 3}
OPTIONS = {"short": 1, "full": 2}
CAUTIONS = 3
MUSCLES = 4
SHORTEST_REST_S = 5
HAND_KINDS = ("form", "breath", "target")


def build_plan(
    routine: Routine,
    lexicon: Lexicon,
    options: PublishOptions,
    transcript: Transcript | None = None,
    measures: Measures | None = None,
) -> Plan:
    """The plan of a routine. With the transcript it also holds what was advised after the last set."""
    strings = load_strings(routine.language)
    measures = measures or measure_routine(routine, lexicon=lexicon)
    first = min((one.start for _, _, one in routine.iter_sets()), default=0.0)
    last = max((one.end for _, _, one in routine.iter_sets()), default=0.0)
    taken: set[str] = set()
    said_first = _find_first_cautions(routine, first, taken, transcript)
    advice = find_advice(transcript, last) if transcript is not None else []
    builder = _Builder(strings, options, taken, transcript)
    return Plan(
        title=clean_line(routine.title) or strings.say("plan.untitled"),
        language=strings.language,
        draft=routine.status == "draft",
        byline=_tell_byline(routine, strings),
        trains=_tell_muscles(measures, strings),
        facts=_list_facts(routine, measures, strings),
        kit=tuple(list_kit(routine, lexicon, strings, options.units)),
        cautions=tuple(strings.say(f"caution.{key}") for key in ("ask", "stop", "loads", "room")),
        said_first=said_first,
        sections=tuple(builder.build_section(section) for section in routine.sections if section.groups),
        strip=_draw_strip(routine, strings),
        muscles=_share_muscles(measures),
        figures=list_figures(measures, strings, options),
        counting=strings.say("plan.counting", part=format_amount(measures.counting.secondary, 2)),
        afterwards=tuple(cue.text for cue in advice),
        source=strings.say("plan.source", name=clean_line(routine.source.name)),
    )


class _Builder:
    """Goes through the sections in order: letters count on through the class, and no cue stands twice."""

    def __init__(
        self, strings: Strings, options: PublishOptions, taken: set[str], transcript: Transcript | None
    ) -> None:
        self._transcript = transcript
        self._strings = strings
        self._options = options
        self._taken = taken
        self._groups = 0

    def build_section(self, section: Section) -> PlanSection:
        return PlanSection(
            kind=section.kind,
            heading=self._strings.say(f"section.{section.kind}"),
            start=_clock(section.start),
            minutes=self._strings.count("plan.minutes", max(1, round((section.end - section.start) / 60))),
            groups=tuple(self._build_group(section, group) for group in section.groups if group.sets),
        )

    def _build_group(self, section: Section, group: Group) -> PlanGroup:
        strings = self._strings
        letter = letter_group(self._groups)
        self._groups += 1
        moves = list_moves(group)
        order = list_order(group, moves)
        most = max(len(move.passes) for move in moves)
        regular = is_regular(order, len(moves))
        logged = section.kind == "main"  # a warm-up or a stretch is done along, not logged
        built = tuple(
            self._build_move(move, letter if len(moves) == 1 else f"{letter}{n}") for n, move in enumerate(moves, 1)
        )
        several = len(moves) > 1
        rest = ""
        if group.rest_s is not None and group.rest_s >= SHORTEST_REST_S and most > 1 and logged:
            rest = strings.say("group.rest", time=tell_seconds(strings, 5 * max(1, round(group.rest_s / 5))))
        told = strings.say("group.as_done", order=" ".join(built[n].label for n in order))
        arrangement = "straight" if group.arrangement == "superset" and not several else group.arrangement
        return PlanGroup(
            letter=letter,
            how=strings.say(f"group.{arrangement}"),
            rounds=(strings.count("group.rounds", most) if several else strings.count("plan.sets", most))
            if most > 1
            else "",
            rest=rest,
            order="" if regular or not several else told,
            passes=most,
            loops=several and most > 1 and regular,
            logged=logged,
            moves=built,
        )

    def _build_move(self, move: MovePasses, label: str) -> Move:
        strings, options = self._strings, self._options
        most, detail = OPTIONS[options.detail], options.detail
        return Move(
            label=label,
            name=tell_name(move.first),
            at=_clock(move.first.start),
            dose=sum_up_doses(strings, move.passes),
            load=sum_up_loads(strings, move.passes, options.units),
            finisher=tell_finisher(strings, move.passes),
            tempo=_first_of(strings, "tempo", [one.tempo for one in move.sets]),
            effort=_first_of(strings, "effort", [one.effort for one in move.sets]),
            cues=self._cues(move, HAND_KINDS, CUES[detail]),
            easier=self._cues(move, ("easier",), most),
            harder=self._cues(move, ("harder",), most),
            cautions=self._cues(move, ("caution",), CAUTIONS),
            turns=tuple(
                Turn(
                    number=number,
                    dose=tell_dose(strings, sets),
                    load=strings.say("move.then").join(
                        dict.fromkeys(text for one in sets if (text := tell_load(strings, one.load, options.units)))
                    ),
                    finisher=tell_finisher(strings, [sets]),
                )
                for number, sets in enumerate(move.passes, 1)
            ),
            timed=all(one.reps is None for one in move.sets),
        )

    def _cues(self, move: MovePasses, kinds: Sequence[str], most: int) -> tuple[str, ...]:
        return tuple(cue.text for cue in choose_cues(move.sets, kinds, most, self._taken, self._transcript))


def letter_group(number: int) -> str:
    """0 -> ``A``, 25 -> ``Z``, 26 -> ``AA``."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _clock(seconds: float) -> str:
    return format_clock(round(seconds * 1000))


def _first_of(strings: Strings, key: str, values: Sequence[str | None]) -> str:
    told = list(dict.fromkeys(clean_line(value) for value in values if value))
    return strings.say(f"move.{key}", **{key: strings.join_list(told)}) if told else ""


def _find_first_cautions(
    routine: Routine, first: float, taken: set[str], transcript: Transcript | None
) -> tuple[str, ...]:
    """What was cautioned before anything was done belongs on top, wherever it is kept."""
    early = [
        one.model_copy(update={"coaching": [c for c in one.coaching if c.evidence.at < first]})
        for _, _, one in routine.iter_sets()
    ]
    return tuple(cue.text for cue in choose_cues(early, ("caution",), CAUTIONS, taken, transcript))


def _tell_byline(routine: Routine, strings: Strings) -> str:
    parts = []
    if routine.source.instructor:
        parts.append(strings.say("plan.with", name=clean_line(routine.source.instructor)))
    if routine.source.date:
        parts.append(_tell_date(clean_line(routine.source.date), strings))
    return " · ".join(parts)


def _tell_date(text: str, strings: Strings) -> str:
    """``2024-05-14`` -> ``14 May 2024``; what is no date stays as it is."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return text
    return strings.say("plan.date", day=day.day, month=strings.say("plan.months").split()[day.month - 1], year=day.year)


def _list_facts(routine: Routine, measures: Measures, strings: Strings) -> tuple[tuple[str, str], ...]:
    length = strings.count("plan.minutes", max(1, round(routine.source.duration_s / 60)))
    work = strings.count("plan.minutes", max(1, round(float(measures.work_rest.work_s) / 60)))
    moves = {one.exercise.id or one.exercise.name for _, _, one in routine.iter_sets()}
    return (
        (strings.say("plan.length"), length),
        (strings.say("plan.of_work"), work),
        (strings.say("plan.moves_word"), str(len(moves))),
        (strings.say("plan.sets_word"), str(sum(1 for _ in routine.iter_sets()))),
    )


def _name_muscle(name: str, strings: Strings) -> str:
    return strings.say("muscle.any", name=clean_line(name))


def _tell_muscles(measures: Measures, strings: Strings) -> str:
    worked = [count for count in measures.muscle_groups if count.primary]
    eased = [count for count in measures.muscle_groups if count.eased and not worked]
    most = max((count.primary for count in worked), default=0)
    chosen = [count for count in worked if count.primary * 3 >= most][:MUSCLES]
    if chosen:
        return strings.say("plan.trains", muscles=strings.join([_name_muscle(c.name, strings) for c in chosen]))
    if eased:
        named = [_name_muscle(c.name, strings) for c in sorted(eased, key=lambda c: -c.eased)[:MUSCLES]]
        return strings.say("plan.eases", muscles=strings.join(named))
    return ""


def _share_muscles(measures: Measures) -> tuple[Share, ...]:
    counts = [count for count in measures.muscle_groups if count.sets]
    most = max((count.sets for count in counts), default=0)
    return tuple(
        Share(clean_line(c.name)[:1].upper() + clean_line(c.name)[1:], format_amount(c.sets, 2), float(c.sets / most))
        for c in sorted(counts, key=lambda c: -c.sets)[:10]
    )


def _draw_strip(routine: Routine, strings: Strings) -> tuple[Span, ...]:
    whole = max(routine.source.duration_s, max((s.end for s in routine.sections), default=0.0))
    if not whole:
        return ()
    return tuple(
        Span(s.kind, s.start / whole, max(0.0, s.end - s.start) / whole, strings.say(f"section.{s.kind}"))
        for s in routine.sections
        if s.end > s.start
    )
