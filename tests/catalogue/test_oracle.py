"""What the catalogue finds and counts in the annotated classes is what pandas makes of their gold sheets."""

from __future__ import annotations

import random
import re
from fractions import Fraction

import pytest

from setdown.catalogue.ask import want_movement
from setdown.catalogue.balance import Selection, list_muscle_groups, measure_balance
from setdown.catalogue.find import find_classes
from setdown.catalogue.query import Query
from setdown.catalogue.ranges import Range
from setdown.lexicon import load_lexicon

pd = pytest.importorskip("pandas", reason="pandas is a test dependency")
from catalogue_frames import EASING, Frames, make_frames  # noqa: E402


@pytest.fixture(scope="module")
def frames(gold) -> Frames:
    return make_frames(gold)


def want(name: str, **how: bool):
    return want_movement(name, load_lexicon(), {}, **how)


def ask_pandas(frames: Frames, query: Query) -> list[tuple[str, list[float]]]:
    """Names of the classes that answer, latest first, and the starts of the sets that count."""
    sets, classes = frames.sets, frames.classes
    keep = pd.Series(True, index=sets.index)
    met = []  # for each repeated condition and value, the sets that meet it
    if query.movements:
        by_value = [sets["movement"].isin(wanted.keys) for wanted in query.movements]
        keep &= pd.concat(by_value, axis=1).any(axis=1)
        met += by_value if len(by_value) > 1 else []
    if query.patterns:
        by_value = [sets["pattern"] == pattern for pattern in query.patterns]
        keep &= pd.concat(by_value, axis=1).any(axis=1)
        met += by_value if len(by_value) > 1 else []
    if query.muscles:
        uses = pd.concat([frames.uses(grouped=False), frames.uses(grouped=True)])
        if not query.helping:
            uses = uses[uses["first"]]
        if not set(EASING) & set(query.patterns):
            uses = uses[~uses["pattern"].isin(EASING)]
        index = pd.MultiIndex.from_frame(sets[["class", "place"]])
        by_value = []
        for muscle in query.muscles:
            mine = uses[uses["muscle"] == muscle]
            by_value.append(pd.Series(index.isin(pd.MultiIndex.from_frame(mine[["class", "place"]])), index=sets.index))
        keep &= pd.concat(by_value, axis=1).any(axis=1)
        met += by_value if len(by_value) > 1 else []
    for column, values in (
        ("section", query.sections),
        ("arrangement", query.arrangements),
        ("finisher", query.finishers),
        ("side", query.sides),
    ):
        if values:
            keep &= sets[column].isin(values)
    if query.load:
        keep &= sets["kg"].between(query.load.lo or 0, query.load.hi or 1e9)
    if query.reps:
        keep &= (sets["hi"] >= (query.reps.lo or 0)) & (sets["lo"] <= (query.reps.hi or 1e9))
    chosen = pd.Series(True, index=classes.index)
    if query.asks_of_sets:
        chosen &= classes.index.isin(sets.loc[keep, "class"])
        for one in met:
            chosen &= classes.index.isin(sets.loc[keep & one, "class"])
    if query.minutes:
        chosen &= classes["minutes"].between(query.minutes.lo or 0, query.minutes.hi or 1e9)
    if query.instructors is not None:
        chosen &= classes["instructor"].isin(query.instructors)
    if query.since:
        chosen &= classes["date"] >= query.since
    if query.until:
        chosen &= (classes["date"] <= query.until) & (classes["date"] != "")
    if query.statuses:
        chosen &= classes["status"].isin(query.statuses)
    if query.words:
        chosen &= classes["said"].map(lambda said: says_all(said, query.words))
    if query.kit or query.only_kit is not None:
        needed = frames.sets.merge(frames.movements["kit"].rename("needs"), left_on="movement", right_index=True)
        needed = (
            needed[needed["needs"] != ""]
            .groupby("class")["needs"]
            .agg(lambda kits: {frozenset(k.split(";")) for k in kits})
        )
        for name, row in classes.iterrows():
            groups = [group for group in needed.get(name, set()) if not group & row["kit"]]
            if query.only_kit is not None:
                enough = row["kit"] <= query.only_kit and all(group & query.only_kit for group in groups)
                chosen[name] &= enough
            least = [group for group in groups if not any(other < group for other in groups)]
            for piece in query.kit:
                chosen[name] &= piece in row["kit"] or any(piece in group for group in least)
    found = classes[chosen].reset_index()
    found = found.sort_values(["date", "name"], ascending=[False, True], kind="stable")
    starts = sets[keep].groupby("class")["start"].agg(sorted) if query.asks_of_sets else {}
    return [(name, list(starts.get(name, []))) for name in found["name"]]


def says_all(said: list[list[str]], words: str) -> bool:
    """Whether a class says all the words, those in double quotes one after the other, over the ends of captions too."""
    spoken = f" {' '.join(word for line in said for word in line)} "
    quoted = words.split('"')
    phrases = [*quoted[1::2], *(word for part in quoted[::2] for word in part.split())]
    return all(f" {' '.join(re.findall(r'[a-z0-9]+', phrase.lower()))} " in spoken for phrase in phrases)


def ask_catalogue(store, query: Query) -> list[tuple[str, list[float]]]:
    return [
        (answer.location.rpartition("/")[2], [round(hit.start_ms / 1000, 3) for hit in answer.hits if not hit.words])
        for answer in find_classes(store, query)
    ]


QUERIES = {
    "everything": Query(),
    "squat and variants": Query(movements=(want("squat"),)),
    "squat alone": Query(movements=(want("squat", exact=True),)),
    "family of the goblet squat": Query(movements=(want("goblet squat", family=True),)),
    "pullover": Query(movements=(want("pullover"),)),
    "squats and rows": Query(movements=(want("squat"), want("bent-over row", family=True))),
    "glutes": Query(muscles=("glutes",)),
    "glutes and chest": Query(muscles=("glutes", "chest")),
    "lats, helping too": Query(muscles=("latissimus_dorsi",), helping=True),
    "upper back as a group": Query(muscles=("upper_back",)),
    "hamstrings, stretched": Query(muscles=("hamstrings",), patterns=("stretch", "pose")),
    "hinge": Query(patterns=("hinge",)),
    "hinge and horizontal push": Query(patterns=("hinge", "horizontal_push")),
    "pushes of the chest in supersets": Query(
        patterns=("horizontal_push",), muscles=("chest",), arrangements=("superset",)
    ),
    "finished with pulses": Query(finishers=("pulses",)),
    "drops or holds in the main part": Query(finishers=("drop", "hold"), sections=("main",)),
    "left sides of lunges": Query(patterns=("lunge",), sides=("left",)),
    "warm-up squats": Query(movements=(want("squat"),), sections=("warm_up",)),
    "intervals": Query(arrangements=("interval",)),
    "10 to 15 kg": Query(load=Range(10, 15)),
    "20 lb": Query(load=Range(20 * 0.45359237, 20 * 0.45359237)),
    "at most 3 kg in circuits": Query(load=Range(None, 3), arrangements=("circuit",)),
    "8 to 12 reps of a squat with 5 kg and more": Query(
        movements=(want("squat"),), reps=Range(8, 12), load=Range(5, None)
    ),
    "20 reps and more": Query(reps=Range(20, None)),
    "only dumbbells and a mat": Query(only_kit=frozenset({"dumbbell", "mat"})),
    "nothing": Query(only_kit=frozenset()),
    "uses a kettlebell": Query(kit=("kettlebell",)),
    "uses a band, a chair will do": Query(kit=("band",), only_kit=frozenset({"band", "chair"})),
    "under 15 minutes": Query(minutes=Range(None, 15)),
    "20 to 25 minutes for the glutes": Query(minutes=Range(20, 25), muscles=("glutes",)),
    "january": Query(since="2024-01-01", until="2024-01-31"),
    "until the new year": Query(until="2023-12-31"),
    "reviewed with rows": Query(statuses=("reviewed", "published"), patterns=("horizontal_pull",)),
    "breathe": Query(words="breathe"),
    "breathe and shoulders": Query(words="breathe shoulders", sections=("main",)),
    "a phrase": Query(words='"one more"'),
    "a phrase and a word, in the warm-up with squats": Query(
        words='"keep going" knees', movements=(want("squat"),), sections=("warm_up",)
    ),
    "a phrase in capitals with a comma": Query(words='"And, Breathe"'),
    "no two words that stand apart": Query(words='"squat photosynthesis"'),
    "nobody": Query(instructors=()),
    "a word that is not said": Query(words="photosynthesis"),
    "what there is not": Query(movements=(want("pullover"),), sections=("outro",)),
}
NONE = ("nobody", "a word that is not said", "what there is not", "nothing", "no two words that stand apart")
MANY = [name for name in QUERIES if name not in NONE]


@pytest.mark.parametrize("name", QUERIES)
def test_find(store, frames, name):
    """The same classes in the same order, and the same sets in each."""
    query = QUERIES[name]
    expected = ask_pandas(frames, Query(**{field: getattr(query, field) for field in query.__slots__}))
    answers = ask_catalogue(store, Query(**{f: getattr(query, f) for f in query.__slots__ if f != "limit"}, limit=0))
    assert answers == expected
    if name in MANY:
        assert answers


def test_find_of_one_instructor(store, frames):
    """By the name as it is written in the catalogue."""
    name = frames.classes["instructor"].iloc[3]
    query = Query(instructors=(name,), limit=0)
    assert ask_catalogue(store, query) == ask_pandas(frames, query) != []


def test_a_limit_keeps_the_first(store, frames):
    """The answers with a limit are the beginning of those without."""
    query = Query(muscles=("quadriceps",), limit=5)
    assert ask_catalogue(store, query) == ask_pandas(frames, query)[:5]


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("lead", [0, 10, 4000])
def test_find_with_conditions_at_random(store, frames, seed, lead, monkeypatch):
    """Conditions combined freely agree with pandas too, whichever of them leads the search."""
    monkeypatch.setattr("setdown.catalogue.find.LEAD", lead)
    query = make_query(random.Random(seed), frames)
    assert ask_catalogue(store, query) == ask_pandas(frames, query)


def make_query(chance: random.Random, frames: Frames) -> Query:
    """One to four conditions."""
    movements = sorted(frames.sets.loc[frames.sets["known"], "movement"].unique())
    days = sorted(day for day in frames.classes["date"] if day)
    kit = ["dumbbell", "mat", "kettlebell", "band", "chair", "barbell", "bench", "wall", "step"]
    values = {
        "movements": lambda: tuple(want(chance.choice(movements)) for _ in range(chance.choice([1, 1, 2]))),
        "muscles": lambda: tuple(
            chance.sample(["glutes", "chest", "core", "triceps", "quadriceps", "deltoid"], k=chance.choice([1, 1, 2]))
        ),
        "patterns": lambda: tuple(
            chance.sample(sorted(set(frames.sets["pattern"]) - {""}), k=chance.choice([1, 1, 2]))
        ),
        "sections": lambda: (chance.choice(["main", "main", "warm_up", "cool_down"]),),
        "arrangements": lambda: (chance.choice(["straight", "superset", "circuit", "interval", "flow"]),),
        "sides": lambda: (chance.choice(["left", "right", "each"]),),
        "finishers": lambda: tuple(chance.sample(["pulses", "hold", "drop", "partials"], k=2)),
        "instructors": lambda: tuple(chance.sample(sorted(frames.classes["instructor"]), k=60)),
        "load": lambda: Range(*chance.choice([(None, 10), (3, None), (8, 20), (3, 10), (None, 20)])),
        "reps": lambda: Range(*chance.choice([(None, 15), (12, None), (8, 15), (12, 20), (None, 20)])),
        "minutes": lambda: Range(*chance.choice([(None, 22), (12, None), (12, 22), (12, 30), (None, 30)])),
        "only_kit": lambda: frozenset(chance.sample(kit, 6)),
        "kit": lambda: (chance.choice(kit),),
        "since": lambda: chance.choice(days),
        "until": lambda: chance.choice(days),
        "statuses": lambda: (chance.choice(["draft", "reviewed", "published"]),),
        "words": lambda: chance.choice(
            ["breathe", "left", "dumbbells", "slow down", "knees", '"last one"', '"ten more" go']
        ),
        "helping": lambda: True,
    }
    chosen = chance.sample(sorted(values), k=chance.choice([1, 2, 2, 3, 4]))
    return Query(**{name: values[name]() for name in chosen}, limit=0)


SELECTIONS = {
    "everything": Selection(),
    "from a day": Selection(since="2024-02-10"),
    "over the turn of the year": Selection(since="2023-12-20", until="2024-01-10"),
    "nothing at all": Selection(since="2030-01-01"),
    "one instructor": lambda frames: Selection(instructors=(sorted(frames.classes["instructor"])[7],)),
    "some instructors in spring": lambda frames: Selection(
        instructors=tuple(sorted(frames.classes["instructor"])[::3]), since="2024-03-01", until="2024-05-31"
    ),
    "up to a day": Selection(until="2024-01-15"),
}


def count_in_pandas(frames: Frames, selection: Selection):
    """Classes and counted sets with their week and share: one side is half a set; the main part, else everything."""
    classes = frames.classes.copy()
    if selection.since:
        classes = classes[classes["date"] >= selection.since]
    if selection.until:
        classes = classes[(classes["date"] <= selection.until) & (classes["date"] != "")]
    if selection.instructors is not None:
        classes = classes[classes["instructor"].isin(selection.instructors)]
    calendar = pd.to_datetime(classes["date"], errors="coerce").dt.isocalendar()
    weeks = calendar["year"].astype("string") + "-W" + calendar["week"].astype("string").str.zfill(2)
    classes["week"] = weeks.fillna("")
    sets = frames.sets[frames.sets["class"].isin(classes.index)].copy()
    has_main = sets.groupby("class")["section"].transform(lambda sections: (sections == "main").any())
    sets["counted"] = (sets["section"] == "main") | ~has_main.astype(bool)
    sets["share"] = 1.0 - 0.5 * sets["side"].isin(["left", "right"])
    sets = sets.merge(classes[["week", "date"]], left_on="class", right_index=True)
    return classes, sets


def as_fractions(series) -> dict:
    return {key: Fraction(value) for key, value in series.items() if value}


@pytest.mark.parametrize("name", SELECTIONS)
def test_balance(store, frames, name):
    """Sets by muscle group and pattern, in all and by week; sides; push and pull; movements; missing parts."""
    lexicon = load_lexicon()
    selection = SELECTIONS[name]
    selection = selection(frames) if callable(selection) else selection
    found = measure_balance(store, selection, lexicon, weeks_without=4)
    classes, sets = count_in_pandas(frames, selection)
    counted = sets[sets["counted"]]
    names = frames.muscles["name"].str.rstrip("?")
    uses = frames.uses(grouped=True).merge(counted[["class", "place", "share", "week", "date"]], on=["class", "place"])
    uses["muscle_name"] = uses["muscle"].map(names)
    work = uses[~uses["pattern"].isin(EASING)].copy()
    work["sets"] = work["share"] * work["first"].map({True: 1.0, False: 0.5})
    eased = uses[uses["pattern"].isin(EASING) & uses["first"]]
    dated = work[work["week"] != ""]

    assert found.classes == len(classes)
    assert found.undated == (classes["date"] == "").sum()
    assert found.muscles == as_fractions(work.groupby("muscle_name")["sets"].sum())
    assert found.eased == as_fractions(eased.groupby("muscle_name")["share"].sum())
    assert found.muscles_by_week == as_fractions(dated.groupby(["muscle_name", "week"])["sets"].sum())
    patterns = counted[counted["pattern"] != ""].assign(label=lambda frame: frame["pattern"].str.replace("_", " "))
    assert found.patterns == as_fractions(patterns.groupby("label")["share"].sum())
    by_week = patterns[patterns["week"] != ""].groupby(["label", "week"])["share"].sum()
    assert found.patterns_by_week == as_fractions(by_week)
    push = counted[counted["pattern"].isin(["horizontal_push", "vertical_push"])]["share"].sum()
    pull = counted[counted["pattern"].isin(["horizontal_pull", "vertical_pull"])]["share"].sum()
    assert (found.push, found.pull) == (Fraction(push), Fraction(pull))
    assert found.ratio == (Fraction(push) / Fraction(pull) if pull else None)
    for patterns_of, by_week in (("push", found.push_by_week), ("pull", found.pull_by_week)):
        mine = counted[counted["pattern"].isin([f"horizontal_{patterns_of}", f"vertical_{patterns_of}"])]
        assert by_week == as_fractions(mine[mine["week"] != ""].groupby("week")["share"].sum())
    sides = sets["side"].value_counts()
    assert found.left == sides.get("left", 0) + sides.get("each", 0)
    assert found.right == sides.get("right", 0) + sides.get("each", 0)
    assert found.each == sides.get("each", 0)
    assert found.unknown_sets == (~sets["known"]).sum()
    weekly = classes[classes["week"] != ""]["week"].value_counts()
    assert found.classes_by_week == dict(weekly)
    if len(weekly):
        days = pd.to_datetime(classes.loc[classes["date"] != "", "date"])
        monday = days.min() - pd.Timedelta(days=days.min().weekday())
        every = pd.date_range(monday, days.max(), freq="7D").isocalendar()
        assert list(found.weeks) == [f"{row.year}-W{row.week:02d}" for row in every.itertuples()]

    movements = sets.groupby("movement").agg(classes=("class", "nunique"), sets=("class", "size"), last=("date", "max"))
    named = movements.rename(index=frames.movements["name"].str.rstrip("?").to_dict()).rename(index=str.lower)
    shown = [(one.name.lower(), one.classes, one.sets, one.last) for one in found.movements]
    assert sorted(shown) == sorted(named.itertuples(name=None))
    for section, titles in (("warm_up", found.no_warm_up), ("cool_down", found.no_cool_down)):
        has = set(sets.loc[sets["section"] == section, "class"])
        assert sorted(titles) == sorted(classes.loc[~classes.index.isin(has), "title"])


def test_what_was_not_worked(store, frames):
    """Groups whose last dated set of work is four or more calendar weeks before the last day, or that have none."""
    lexicon = load_lexicon()
    until = "2024-05-20"
    found = measure_balance(store, Selection(until=until), lexicon, weeks_without=4)
    _, sets = count_in_pandas(frames, Selection(until=until))
    uses = frames.uses(grouped=True).merge(sets[sets["counted"]][["class", "place", "date"]], on=["class", "place"])
    last = uses[~uses["pattern"].isin(EASING) & (uses["date"] != "")].groupby("muscle")["date"].max()
    monday = lambda day: pd.Timestamp(day) - pd.Timedelta(days=pd.Timestamp(day).weekday())  # noqa: E731
    expected = {}
    for muscle in list_muscle_groups(lexicon):
        if muscle not in last:
            expected[muscle] = ("", None)
        elif (weeks := (monday(until) - monday(last[muscle])).days // 7) >= 4:
            expected[muscle] = (last[muscle], weeks)
    assert {one.muscle: (one.last, one.weeks) for one in found.untrained} == expected
    assert expected
