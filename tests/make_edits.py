"""Classes at random, what a person may do to them, and what a better extraction may make of them."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from random import Random

from hypothesis import strategies as st

from make_routine import make_routine
from setdown.check import parse_routine
from setdown.check.run import check_content
from setdown.document import format_routine
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import (
    Coaching,
    Evidence,
    Exercise,
    Finisher,
    Group,
    Load,
    Mark,
    Query,
    Reps,
    Routine,
    Section,
    Set,
)
from setdown.review import operations as ops
from setdown.review.refused import EditRefusedError

SAMPLES = Path(__file__).parent.parent / "samples"
ANA = Mark(by="Ana", at="2025-03-02T14:05:09Z")
BO = Mark(by="Bo", at="2025-03-03T09:00:00Z")
MOVES = ("goblet-squat", "bent-over-row", "plank", "lateral-raise", "biceps-curl", "")
KINDS = ("warm_up", "main", "cool_down")


@cache
def lexicon() -> Lexicon:
    return load_lexicon()


@cache
def read_samples() -> dict[str, Routine]:
    """The shipped samples, by name."""
    files = sorted(SAMPLES.glob("*.routine.json"))
    return {f.name.split(".")[0]: parse_routine(f.read_text(encoding="utf-8")) for f in files}


def reread(routine: Routine) -> Routine:
    """The routine as it comes back from its file."""
    return parse_routine(format_routine(routine))


def make_class(rng: Random) -> Routine:
    """A valid routine of one to fourteen sets in up to three sections, with queries, as extraction would make it."""
    time = round(rng.uniform(0, 60), 3)
    sections, number = [Section(id="intro", kind="intro", start=0.0, end=time)], 0
    if time == 0:
        sections = []
    for kind in sorted(rng.sample(KINDS, rng.randint(1, 3)), key=KINDS.index):
        start, groups = time, []
        for _ in range(rng.randint(1, 3)):
            number += 1
            sets: list[Set] = []
            for _ in range(rng.randint(1, 4)):
                time = round(time + rng.choice((0.0, rng.uniform(0, 40))), 3)
                one = make_set(rng, time, len(sets))
                time = one.end
                sets.append(one)
            _count_rounds(sets)
            arrangement = rng.choice(("straight", "superset", "circuit", "flow"))
            rounds = max(x.round for x in sets)
            groups.append(Group(id=f"group-{number}", arrangement=arrangement, rounds=rounds, sets=sets))
        sections.append(Section(id=kind.replace("_", "-"), kind=kind, start=start, end=time, groups=groups))
    sections.append(Section(id="outro", kind="outro", start=time, end=time + 20))
    base = make_routine()
    source = base.source.model_copy(update={"duration_s": time + 20, "cue_count": 500})
    routine = base.model_copy(
        update={"sections": sections, "source": source, "queries": [], "declared": [], "equipment": []}
    )
    rest_out(routine)
    routine.queries.extend(make_queries(rng, routine))
    return make_unique(routine)


def make_set(rng: Random, start: float, number: int) -> Set:
    move = rng.choice(MOVES)
    entry = lexicon().movements.get(move)
    name = entry.name if entry else rng.choice(("frog kick", "swing thing"))
    said = Evidence(cue=number, char_start=0, char_end=4, quote="this", at=start, rule="as said")
    side = rng.choice((None, None, "left", "right"))
    reps = rng.choice((None, Reps(lo=10, hi=10), Reps(lo=8, hi=12), Reps(to_failure=True)))
    load = rng.choice(
        (None, Load(value=12, unit="kg", basis="per_hand"), Load(rel="lighter"), Load(value=8, unit="lb"))
    )
    end = round(start + rng.uniform(5, 60), 3)
    finisher = rng.choice((None, None, Finisher(kind="pulses"), Finisher(kind="hold", start=end - 2, end=end)))
    values = {"exercise": move, "side": side, "reps": reps, "load": load, "finisher": finisher}
    fields = [f for f, v in values.items() if v is not None]
    digest = hashlib.sha256(f"{move}{start}{side}".encode()).hexdigest()[:8]
    return Set(
        id=f"{move or 'unknown'}-{digest}",
        exercise=Exercise(id=move, name=name, said="this"),
        side=side,
        reps=reps,
        load=load,
        finisher=finisher,
        start=start,
        end=end,
        margin_s=1.5,
        coaching=[Coaching(kind="form", evidence=said)] if rng.random() < 0.3 else [],
        evidence={f: [said] for f in fields},
        origin=dict.fromkeys(fields, "said") | {"span": "inferred"},
        confidence={f: round(rng.uniform(0.3, 1), 2) for f in (*fields, "span", "work_s")},
    )


def make_queries(rng: Random, routine: Routine) -> list[Query]:
    found = []
    for _, _, one in routine.iter_sets():
        for field in ("exercise", "load", "reps"):
            if rng.random() < 0.15:
                ident = f"unsure:{one.id}:{field}"
                found.append(Query(id=ident, code="unsure", severity="should", set=one.id, field=field, message="?"))
    return found


def make_unique(routine: Routine) -> Routine:
    """Sets of one id get a number, as extraction does it; queries follow."""
    seen: dict[str, int] = {}
    for _, _, one in routine.iter_sets():
        seen[one.id] = seen.get(one.id, 0) + 1
        if seen[one.id] > 1:
            one.id = f"{one.id}-{seen[one.id]}"
    return reread(routine)


def rest_out(routine: Routine) -> None:
    """Rests between sets, as extraction works them out."""
    sets = [x for _, _, x in routine.iter_sets()]
    for one, after in zip(sets, [*sets[1:], None], strict=False):  # nothing when there are no sets
        one.rest_after_s = round(after.start - one.end, 3) if after else None


def _count_rounds(sets: list[Set]) -> None:
    seen: dict[tuple[str, str | None], int] = {}
    for one in sets:
        key = (one.exercise.name, one.side)
        seen[key] = one.round = seen.get(key, 0) + 1


CELLS = {
    "exercise": ("plank", "goblet squat", "gull flap"),
    "side": ("left", "right", "each", ""),
    "reps": ("9", "6-8", "max", ""),
    "work_s": ("45", "1:05", ""),
    "load": ("14 kg per hand", "2x15 lb", "lighter", ""),
    "tempo": ("3-1-1", ""),
    "finisher": ("pulses", "drop", ""),
}


def edit_set(routine: Routine, set_id: str, rng: Random, mark: Mark) -> Routine:
    """One value of a set is changed."""
    field = rng.choice(sorted(CELLS))
    return ops.set_field(routine, set_id, field, rng.choice(CELLS[field]), mark, lexicon())


def edit_once(routine: Routine, rng: Random, mark: Mark) -> Routine:
    """Any one edit on any set; an edit that is refused changes nothing."""
    sets = [x for _, _, x in routine.iter_sets()]
    if not sets:
        return routine
    one = rng.choice(sets)
    half = round((one.start + one.end) / 2, 3)
    at = [x.id for x in sets].index(one.id)
    gap = (sets[at - 1].end if at else 0.0, one.start)
    queries = [q.id for q in routine.queries]
    edits = {
        "value": lambda: edit_set(routine, one.id, rng, mark),
        "end": lambda: ops.set_field(routine, one.id, "end", f"{half}", mark, lexicon()),
        "start": lambda: ops.set_field(routine, one.id, "start", f"{round(sum(gap) / 2, 3)}", mark, lexicon()),
        "delete": lambda: ops.delete_set(routine, one.id, mark),
        "split": lambda: ops.split_set(routine, one.id, half, mark),
        "join": lambda: ops.join_sets(routine, one.id, sets[at + 1].id, mark) if at + 1 < len(sets) else routine,
        "move": lambda: ops.move_set(routine, one.id, rng.choice(("new", "1", "2", "3")), mark),
        "section": lambda: ops.set_field(routine, one.id, "section", rng.choice(KINDS), mark, lexicon()),
        "arrange": lambda: ops.set_field(routine, one.id, "arrangement", "interval", mark, lexicon()),
        "shift": lambda: ops.shift_set(routine, one.id, rng.choice(("earlier", "later")), mark),
        "answer": lambda: ops.answer_query(routine, rng.choice(queries), "12", mark, lexicon()) if queries else routine,
        "dismiss": lambda: ops.dismiss_query(routine, rng.choice(queries), mark) if queries else routine,
        "add": lambda: _add(routine, gap, rng, mark),
    }
    try:
        return edits[rng.choice(sorted(edits))]()
    except EditRefusedError:
        return routine


def _add(routine: Routine, gap: tuple[float, float], rng: Random, mark: Mark) -> Routine:
    start, end = round(gap[0] + (gap[1] - gap[0]) / 4, 3), round(gap[1] - (gap[1] - gap[0]) / 4, 3)
    cells = {"exercise": rng.choice(CELLS["exercise"]), "start": f"{start}", "end": f"{end}", "reps": "5"}
    return ops.add_set(routine, cells, mark, lexicon())


def edit_class(routine: Routine, rng: Random, mark: Mark = ANA) -> Routine:
    """Up to six edits."""
    for _ in range(rng.randint(0, 6)):
        routine = edit_once(routine, rng, mark)
    return reread(routine)


def extract_again(routine: Routine, rng: Random) -> Routine:
    """The class as another version of the extraction would have it: other values, ids, times, sets and groups."""
    found = reread(routine)
    found.made_by.lexicon = f"{rng.randrange(16**6):06x}"
    for section in found.sections:
        for group in section.groups:
            for one in list(group.sets):
                luck = rng.random()
                if luck < 0.08 and len(group.sets) > 1:
                    group.sets.remove(one)
                elif luck < 0.16:
                    one.reps = rng.choice((Reps(lo=6, hi=6), None))
                    one.confidence["reps"] = 0.7
                    one.origin.setdefault("reps", "inferred")
                elif luck < 0.24:
                    one.end = round(one.start + (one.end - one.start) * rng.uniform(0.6, 1), 3)
                    one.finisher = None
                elif luck < 0.32:
                    one.id = f"{one.exercise.id or 'unknown'}-{rng.randrange(16**8):08x}"
                elif luck < 0.4:
                    one.confidence["span"] = 0.42
                elif luck < 0.46 and one.end - one.start > 12:
                    half = round((one.start + one.end) / 2, 3)
                    extra = make_set(rng, half, 3)
                    extra.end, extra.finisher, one.finisher = one.end, None, None
                    extra.round, extra.exercise, extra.side = one.round, one.exercise, one.side
                    extra.origin, extra.confidence = dict(one.origin), dict(one.confidence)
                    extra.evidence, extra.reps, extra.load = dict(one.evidence), one.reps, one.load
                    one.end = half
                    group.sets.insert(group.sets.index(one) + 1, extra)
            group.rounds = max(x.round for x in group.sets)
            if rng.random() < 0.1:
                group.arrangement = "interval"
    rest_out(found)
    found.queries.clear()
    found.queries.extend(make_queries(rng, found))
    return make_unique(found)


randoms = st.randoms(use_true_random=False)


@st.composite
def classes(draw) -> Routine:
    """A random class or one of the samples."""
    rng = draw(randoms)
    if draw(st.integers(0, 4)) == 0:
        return read_samples()[draw(st.sampled_from(sorted(read_samples())))]
    return make_class(rng)


def list_wrong(routine: Routine) -> list[str]:
    """What is wrong with a routine."""
    return [f"{f.code}: {f.problem}" for f in check_content(routine) if f.severity == "must"]
