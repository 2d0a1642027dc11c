"""What is held or put on: loads, changes of load, and the class's unit."""

from __future__ import annotations

from decimal import Decimal

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import OPEN, Unsettled, plain, said_words, stands_free, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import BarSaid, LoadBasis, LoadChange, LoadSaid, LoadUnit, Other, UnitSaid

HEAVIEST = 600  # nothing heavier is lifted in a class, in either unit; common practice, no source
_LB = frozenset("pounds pound lbs lb pounders pounder".split())
_KG = frozenset("kilos kilo kgs kg kilograms kilogram kilogrammes".split())
_BAR = frozenset("bar barbell barbells plates collars".split())
#: Plates by their slang name, in pounds. Common practice in gyms with pound plates, no source.
SLANG_PLATES = {"plate": 45, "quarter": 25, "quarters": 25, "dime": 10, "dimes": 10, "nickel": 5, "nickels": 5}


def unit_beside(stream: Stream, token: int) -> LoadUnit | None:
    """The unit said right behind a number."""
    for word in (stream.word(token + 1), stream.word(token + 2)):
        if word in _LB:
            return "lb"
        if word in _KG:
            return "kg"
    return None


def basis_near(stream: Stream, start: int, end: int) -> LoadBasis | None:
    """Per hand or in total, from the words around a load; the nearer words win, those behind it first."""
    for low, high in ((start, min(end + 5, len(stream))), (max(start - 4, 0), end), (start, min(end + 9, len(stream)))):
        text = " " + " ".join(stream.text[low:high]) + " "
        words = set(stream.text[low:high])
        if any(p in text for p in _TOTAL_PHRASES):
            return "total"
        if any(p in text for p in _HAND_PHRASES) or words & {"pair", "pairs"}:
            return "per_hand"
    return None


_TOTAL_PHRASES = (
    " both hands on ", " both hands around ", " both hands round ", " both hands under", " both hands tucked ",
    " two hands ", " in both hands ", " with both hands ", " both hands it ", " both hands ", " one dumbbell ",
    " on the bar ", " goblet ", " on its end ", " all up ", " in total ", " across your hips ", " across the hips ",
    " on your hips ", " single dumbbell ", " just the one ", " just one of them ", " under the chin ", " under your chin ",
    " on the hips ", " onto the hips ",
)
_HAND_PHRASES = (
    " each hand ", " every hand ", " per hand ", " either hand ", " each arm ", " one in each ", " one each hand ", " both hands full ", " one each side ",
    " right hand ", " left hand ", " in one hand ", " by your sides ", " by the sides ",
)  # fmt: skip


def _offered(stream: Stream, start: int) -> bool:
    """'if you only have tens', 'or grab a ten', 'Greg's got the sixteen': not what is used here."""
    before = stream.text[max(start - 7, 0) : start]
    if "if" in before or "or" in before[-3:] or "maybe" in before[-4:]:
        return True
    for k, word in enumerate(before[:-1]):
        if before[k + 1] in {"got", "has"} and word.endswith("'s") and word not in _NOT_OWNERS:
            return True
    return False


_NOT_OWNERS = frozenset({"it's", "that's", "who's", "there's", "he's", "she's", "what's", "here's"})


def load_of(stream: Stream, number: Number, start: int, end: int, *, unit: LoadUnit | None = None,
            basis: LoadBasis | None = None, implements: int | None = None) -> LoadSaid | None:  # fmt: skip
    """The load a number says, with unit and basis from the words around ``[start, end)``."""
    value = number.value
    if value is None or not 0 < value <= HEAVIEST:
        return None
    value = number.high if number.high is not None and number.form == "range" else value
    if unit is None and number.unit in _LB | _KG:
        unit = "lb" if number.unit in _LB else "kg"
    if number.form == "plural":
        # plates of a bar are plural too, but on 'each end' (a rule of its own); other plurals are one for each hand
        basis, implements = basis or "per_hand", implements or 2
    else:
        basis = basis or basis_near(stream, start, end)
    if implements is None and basis is not None:
        implements = 1 if basis == "total" else None
    return LoadSaid(
        plain(value), unit, basis, implements=implements, offered=_offered(stream, start)
    )


def _load(match: Match) -> Draft | None:
    number, token = match.numbers[0], match.tokens[0]
    if number.value == 1 and match.word(token + 1) not in _LB | _KG:
        return None
    load = load_of(match.stream, number, match.start, match.end, unit=unit_beside(match.stream, token))
    return load and Draft("load", load)


def _with(**fixed: object) -> Build:
    """A load with some fields fixed by the phrase."""

    def build(match: Match) -> Draft | None:
        number, token = match.numbers[0], match.tokens[0]
        unit = unit_beside(match.stream, token)
        if number.value == 1 and unit is None:
            return None
        load = load_of(match.stream, number, match.start, match.end, unit=unit, **fixed)  # type: ignore[arg-type]
        return load and Draft("load", load)

    return build


def _kit_alone(match: Match) -> Draft | None:
    """'one dumbbell', 'the one bell': how many are held, though not how heavy."""
    if match.numbers and match.numbers[0].value != 1:
        return None
    if match.word(match.end - 1) == "hand":
        return Draft("load", LoadSaid(basis="per_hand", implements=2))
    return Draft("load", LoadSaid(basis=basis_near(match.stream, match.start, match.end) or "total", implements=1))


def _open_load(load: float, reps: float, count: float = 0.0) -> Build:
    """A number that may be a load ('the sixteen', 'tens'): what the class said before decides."""

    def build(match: Match) -> Draft | None:
        number, token = match.numbers[-1], match.tokens[-1]
        stream = match.stream
        if number.value is None or number.value < 2:
            return None
        if number.form not in {"plural", "cardinal"} or (number.form != "plural" and not stands_free(stream, token)):
            return None
        unit = unit_beside(stream, token)
        said = load_of(stream, number, match.start, match.end, unit=unit)
        if said is None:
            return None
        if unit is not None:
            return Draft("load", said, score=max(load, 0.85))
        priors = {"load": load}
        if whole(number) is not None and number.value <= 60:
            priors["reps"] = reps
            if count:
                priors["count"] = count
        return Draft(OPEN, Unsettled(number, priors, said), score=load)

    return build


def _on_each_end(match: Match) -> Draft | None:
    number = match.numbers[0]
    if number.value is None or not 0 < number.value <= 100 or not match.stream.said & _BAR:
        return None
    return Draft("load", LoadSaid(plain(number.value), unit_beside(match.stream, match.tokens[0]), "total", per_side_plates=True))


def _slang_plates(match: Match) -> Draft | None:
    """'a plate a side', 'two dimes a side': worth their pounds unless the class speaks in kilos."""
    stream = match.stream
    words = [match.word(t) for t in range(match.start, match.end)]
    if not stream.said & (_BAR | {"bench"}):
        return None
    total = Decimal(0)
    for k, word in enumerate(words):
        worth = SLANG_PLATES.get(word)
        if worth is not None:
            number = stream.number_at(match.start + k - 1) if k else None
            total += worth * (whole(number) or 1 if number is not None and number.form == "cardinal" else 1)
    kilos = bool(stream.said & _KG) and not stream.said & _LB
    if kilos and words[0] in {"a", "one"} and "plate" in words:
        return Draft("load", LoadSaid(Decimal(20), "kg", "total", per_side_plates=True))
    return Draft("load", LoadSaid(total, None if kilos else "lb", "total", per_side_plates=True))


def _bar_alone(match: Match) -> Draft:
    return Draft("load", LoadSaid(Decimal(0), None, "total", per_side_plates=True, implements=1))


def _on_the_bar(match: Match) -> Draft | None:
    number = match.numbers[-1]
    if number.value is None or not 15 <= number.value <= HEAVIEST or not match.stream.said & _BAR:
        return None
    unit = unit_beside(match.stream, match.tokens[-1])
    return Draft("load", LoadSaid(plain(number.value), unit, "total", implements=1))


def _bar_weight(match: Match) -> Draft | None:
    number = match.numbers[-1]
    if number.value is None or not 5 <= number.value <= 60:
        return None
    unit = unit_beside(match.stream, match.tokens[-1])
    end = match.end + (match.word(match.end) in _LB | _KG)
    return Draft("bar", BarSaid(plain(number.value), "lb" if unit == "lb" else "kg" if unit == "kg" else None), end=end)


def _plate_name(match: Match) -> Draft:
    return Draft("other", Other("plate_name", match.numbers[-1].value))


def _percent(match: Match) -> Draft | None:
    value = match.numbers[0].value
    words = said_words(match.stream, match.start - 6, match.end + 6)
    if value is None or not 20 <= value < 100 or words & {"effort", "strength", "range", "speed"}:
        return None
    sure = bool(words & {"max", "1rm", "maximum"})
    return Draft("load", LoadSaid(plain(value), "pct1rm"), score=0.95 if sure else 0.6)


def _change(rel: LoadChange) -> Build:
    def build(match: Match) -> Draft:
        return Draft("load", LoadSaid(rel=rel))

    return build


def _same(match: Match) -> Draft:
    return Draft("load", LoadSaid(same=True))


def _none(match: Match) -> Draft:
    return Draft("load", LoadSaid(none=True, offered=_offered(match.stream, match.start)))


def _unit(match: Match) -> Draft | None:
    for token in range(match.start, match.end):
        if match.word(token) in _KG:
            return Draft("unit", UnitSaid("kg"))
        if match.word(token) in _LB:
            return Draft("unit", UnitSaid("lb"))
    return None


_LIGHTER = "[a] [little|bit|touch|tad|wee bit|little bit|smidge|size|fraction|shade|notch|whole lot|lot] (lighter|smaller)"
_HEAVIER = "[a] [little|bit|touch|tad|wee bit|little bit|smidge|size|fraction|shade|notch|whole lot|lot] (heavier|bigger)"

_TAKE = "(@take|down to|up to|back to|back on|drop to|go to|moved to|moving to|on to|onto|using|swap for|trade for|gone to|gone down to|going down to)"

RULES = (
    Rule("ten pounds", ("# (@lb|@kg) [@bell]", "# and a half (@lb|@kg)"), _load, 0.88, "word"),
    Rule("twenty five pounders", ("[a pair of|my|the|your] (#s|#) (pounders|pounder)",), _with(), 0.92),
    Rule("a pair of twelves", ("[a|the|my|your|this|another] (pair|set) of (#|#s) [@lb|@kg] [@bell]",), _with(basis="per_hand", implements=2), 0.95),
    Rule("ten in each hand", (
        "[a|the] (#|#s) [@lb|@kg] [@bell] (in|for|per) (each|every|either|both) (hand|arm)", "[a|the] (#|#s) [@lb|@kg] (each|per|a) hand",
        "[a|the] (#|#s) [@lb|@kg] [one] [in] (each|per|every) hand", "(#|#s) [@lb|@kg] one [in] each [hand]"), _with(basis="per_hand", implements=2), 0.95),
    Rule("one dumbbell, fifteen", ("(one|single|a single|1) (dumbbell|weight|bell) [it's|a|the|i've got a] {#} [@lb|@kg] [both hands]",), _with(basis="total", implements=1), 0.8),
    Rule("one dumbbell", ("[just|the|a] (one|1|single) (dumbbell|weight|bell|kettlebell)", "[just] the one of them", "one [in] (each|every) hand"), _kit_alone, 0.7),
    Rule("one eight, both hands", ("(to|grab|take|just|with|only|up|hold|use|need|want) #1 {#} [@lb|@kg]", "{#} [@lb|@kg] just (the one|one of them|one) [both hands]"), _with(basis="total", implements=1), 0.78),
    Rule("a sixteen bell", ("# [@lb|@kg] @bell", "#s [@lb|@kg] @bell"), _load, 0.85, "word"),
    Rule("grab your fifteens", (f"{_TAKE} @my #s", "(park|with|for|to|on|than) @my #s"), _open_load(0.88, 0.1), 0.9),
    Rule("grab tens", (f"{_TAKE} #s", "(with|to) #s"), _open_load(0.82, 0.15), 0.82),
    Rule("my twelves", ("@my #s",), _open_load(0.74, 0.2), 0.78),
    Rule("fifteens", ("#s", "#s again"), _open_load(0.6, 0.32), 0.62),
    Rule("grab the sixteen", (
        f"{_TAKE} (the|a|my|your|that|an|this) {{#}}", "(park|swap|drop|put|on|onto|to|with|than|back|for|it's|with just) (the|a|my|your|that|an|this) {#}",
        "(i've|you've|we've) got (the|a|my|your|this) {#}", "(holding|loaded|loading|added) {#}"), _open_load(0.72, 0.25), 0.82),
    Rule("the sixteen", ("(the|a|an|my|your|that|another) {#}",), _open_load(0.42, 0.3, 0.1), 0.5),
    Rule("on my fourteen", ("(i'm|we're|you're) (on|holding|using|with|at) (the|a|my) {#}", "(i'm|we're) (on|holding|using) {#}"), _open_load(0.5, 0.1, 0.35), 0.7),
    Rule("twenty across the hips", ("# (across|over|on) (the|your) (hips|hip|lap|chest|shoulders|back)",), _with(basis="total", implements=1), 0.75),
    Rule("fifteen in my right hand", ("[a|the|my] (#|#s) [@lb|@kg] in (the|my|your|that) [@lr|one|other] hand",), _with(basis="per_hand", implements=1), 0.9),
    Rule("ten a side on the bar", (
        "[bar plus|plus] [a|an] (#|#s) [@lb|@kg|more] (a|per|each|either|every) @end", "[a|an] (#|#s) [@lb|@kg] [more] on (each|either|every|both) @end",
        "(bar|plus) plus #"), _on_each_end, 0.8),
    Rule("a plate a side", (
        "[a|one|another|#] @plates [and (a|#) @plates] (a|per|each|every|on each|on the) @end", "[a|one] plate and [a|#] @plates"), _slang_plates, 0.86),
    Rule("a plate's a forty five", ("[a|the] (plate's|quarter's|dime's|nickel's) [a] {#}", "[a] @plates is a {#}"), _plate_name, 0.9),
    Rule("bar's forty five", ("(bar's|barbell's) [a] {#}", "(bar|barbell) (is|weighs|weighs in at|comes in at) [a|about] {#}"), _bar_weight, 0.92),
    Rule("empty bar", ("[the|an|your] empty (bar|barbell)", "just the bar"), _bar_alone, 0.85),
    Rule("ninety five on the bar", (
        "# [@lb|@kg] on the bar", "[total|so] {#} (total|all up|altogether|all in)",
        "(makes|total|that's|now|it's|so|at|now it's) [it's|that's|a] {#} [@lb|@kg]"), _on_the_bar, 0.74),
    Rule("seventy percent", ("# percent [of] [your|my|a] [one] [rep] [max|1rm]", "# per cent"), _percent, 0.75),
    Rule("little lighter", (
        "(go|going|something|slightly|bit|touch|little|that's|whatever's|whatever is|pick up something|to) " + _LIGHTER, "(little|bit|touch|tad|slightly) (lighter|smaller)", "lighter (weight|weights|pair|set|dumbbell|dumbbells|one|ones|bell|load)",
        "(drop|go|come|going) down (in weight|a weight|a size|on the weight|a pair)"), _change("lighter"), 0.75),
    Rule("touch heavier", (
        "(go|going|something|slightly|bit|touch|little|that's|whatever's|to) " + _HEAVIER, "(little|bit|touch|tad|slightly) (heavier|bigger)", "heavier (weight|weights|pair|set|dumbbell|dumbbells|one|ones|bell|load)",
        "(go|going|move|moving|step|bump) [it] up (in weight|a weight|a size|on the weight)"), _change("heavier"), 0.72),
    Rule("go up", ("(i'm|we're|you're) going up", "{go up} (if|by|a)"), _change("heavier"), 0.4),
    Rule("same weight", ("same (weight|weights|dumbbell|dumbbells|bell|load|kettlebell|pair|plates)", "(keep|stay with|stick with|hang on to|keep hold of) [the|your|that] (same|weights|weight)", "(keep|stay with) the same"), _same, 0.85),
    Rule("no weights", (
        "(no|without|without any|without the|without your|don't need) [any] (weight|weights|dumbbells|dumbbell|bells|kit|equipment|load)", "nothing in (your|the|my) hands", "(body weight|bodyweight) [only]",
        "(drop|ditch|ditching|lose|put down|leave|park) (the|your|those|these|all the) (weight|weights|dumbbells)", "(put|set) (the|your|those|these) (weights|dumbbells) (down|away)",
        "just (your|the|) bodyweight", "(empty hands|hands empty|still empty|unweighted|unloaded)", "just you (no weight|no weights)"), _none, 0.7),
    Rule("everything's in kilos", (
        "(everything|everything's|all|mine|mine's|weights|numbers|loads|dumbbells|they|they're|these|i) [i say|i use|i've got|i hold] [is|are|'re] [all] [in] (@kg|@lb)",
        "it's all [in] (@kg|@lb)", "(work|works|working|talk|talking|speak|count|say is) in (@kg|@lb)", "all (@kg|@lb)"), _unit, 0.8),
)
