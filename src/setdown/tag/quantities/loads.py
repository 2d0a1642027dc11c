"""What is held or put on: loads, changes of load, and the class's unit."""

from __future__ import annotations

from decimal import Decimal

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import plain, said_words, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import Alternative, LoadBasis, LoadChange, LoadSaid, LoadUnit, RepTarget, UnitSaid

HEAVIEST = 600  # nothing heavier is lifted in a class, in either unit; common practice, no source
_LB = frozenset("pounds pound lbs lb pounders pounder".split())
_KG = frozenset("kilos kilo kgs kg kilograms kilogram kilogrammes".split())
_BAR = frozenset("bar barbell barbells plates collars rack".split())
_KIT = frozenset(
    "dumbbell dumbbells weight weights bell bells kettlebell kettlebells pounds kilos kg lb bar barbell plates".split()
)
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
        near = basis_near(stream, start, end)
        basis, implements = basis or near or "per_hand", implements or 2
    else:
        basis = basis or basis_near(stream, start, end)
    if implements is None and basis is not None:
        implements = 1 if basis == "total" else None
    return LoadSaid(
        plain(value), unit, basis, implements=implements, offered=_offered(stream, start)
    )


def _load(match: Match) -> Draft | None:
    number, token = match.numbers[-1], match.tokens[-1]
    load = load_of(match.stream, number, match.start, match.end, unit=unit_beside(match.stream, token))
    return load and Draft("load", load)


def _with(**fixed: object) -> Build:
    """A load with some fields fixed by the phrase."""

    def build(match: Match) -> Draft | None:
        number, token = match.numbers[-1], match.tokens[-1]
        unit = unit_beside(match.stream, token)
        load = load_of(match.stream, number, match.start, match.end, unit=unit, **fixed)  # type: ignore[arg-type]
        return load and Draft("load", load)

    return build


def _weighed(match: Match) -> Draft | None:
    """'ten pounds', 'eight kilos': a load unless it is a body, food or a price (other rules claim those)."""
    return _load(match)


def _plural(match: Match) -> Draft | None:
    """'fifteens', 'my tens': weights, unless the class has none, when they are the reps of a ladder."""
    number, token = match.numbers[-1], match.tokens[-1]
    if number.value is None or number.value <= 1:
        return None
    stream = match.stream
    load = load_of(stream, number, match.start, match.end, unit=unit_beside(stream, token))
    size = whole(number)
    reps = Alternative("reps", RepTarget(size, size), 0.4) if size else None
    has_kit = bool(stream.said & _KIT)
    if load is None:
        return None
    if not has_kit and size and size <= 30:
        return Draft("reps", RepTarget(size, size, alternatives=(Alternative("load", load, 0.3),)), score=0.6)
    if reps is not None:
        load = LoadSaid(load.value, load.unit, load.basis, implements=load.implements, offered=load.offered, alternatives=(reps,))
    return Draft("load", load)


_AFTER_NOUN = frozenset(
    "now and then again on in up down back for with this from so today but or just i we you if when because is right "
    "across over under out off too instead here there by because same nobody bell bells dumbbell dumbbells weight at "
    "aside away to as".split()
)


def _as_noun(match: Match) -> Draft | None:
    """'the sixteen', 'a ten', 'my twelve': nothing that is counted may follow the number."""
    token, stream = match.tokens[-1], match.stream
    number = match.numbers[-1]
    if number.form != "cardinal" or number.value is None or number.value < 2:
        return None
    after = stream.word(token + 1)
    if not stream.breaks_after(token) and after not in _AFTER_NOUN and after not in _LB | _KG:
        return None
    if not stream.said & _KIT:
        return None
    load = load_of(stream, number, match.start, match.end, unit=unit_beside(stream, token))
    return load and Draft("load", load)


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

RULES = (
    Rule("ten pounds", ("# (@lb|@kg) [@bell]", "# and a half (@lb|@kg)"), _weighed, 0.88),
    Rule("twenty five pounders", ("[a pair of|my|the|your] (#s|#) (pounders|pounder)",), _with(), 0.92),
    Rule("a pair of twelves", ("[a|the|my|your|this|another] (pair|set) of (#|#s) [@lb|@kg] [@bell]",), _with(basis="per_hand", implements=2), 0.95),
    Rule("ten in each hand", ("[a|the] (#|#s) [@lb|@kg] (in|for|per) (each|every|either|both) hand", "[a|the] (#|#s) [@lb|@kg] (each|per|a) hand",
                          "[a|the] (#|#s) [@lb|@kg] [one] [in] (each|per|every) hand", "(#|#s) [@lb|@kg] one [in] each [hand]"), _with(basis="per_hand", implements=2), 0.95),
    Rule("one dumbbell, fifteen", ("(one|single|a single|1) (dumbbell|weight|bell) [it's|a|the|i've got a] {#} [@lb|@kg] [both hands]",), _with(basis="total", implements=1), 0.8),
    Rule("a sixteen bell", ("# [@lb|@kg] @bell", "#s [@lb|@kg] @bell"), _load, 0.85),
    Rule("grab your fifteens", ("(@take|park|down to|up to|back to|on to|onto|on|with|to|swap for|for|trade for) @my #s",), _plural, 0.9),
    Rule("grab tens", ("(@take|down to|up to|back to|drop to|go to|moved to|on to|onto|with|using|to) #s",), _plural, 0.82),
    Rule("my twelves", ("(my|your|those|these|our|some|the) #s",), _plural, 0.78),
    Rule("fifteens", ("#s",), _plural, 0.62),
    Rule("grab the sixteen", ("(@take|park|swap|drop|put|on|onto|to|with|than|back|for|it's) (the|a|my|your|that|an|this) {#}", "(i've|you've|we've) got (the|a|my|your) {#}",
                              "(holding|using|got) {#}"), _as_noun, 0.8),
    Rule("the sixteen", ("(the|a|an|my|your) {#}",), _as_noun, 0.55),
    Rule("on my fourteen", ("(i'm|we're|you're) (on|holding|using|with|at) [the|a|my] {#}",), _as_noun, 0.75),
    Rule("twenty across the hips", ("# (across|over|on) (the|your) (hips|hip|lap|chest|shoulders|back)",), _with(basis="total", implements=1), 0.75),
    Rule("in my right hand", ("(#|#s) [@lb|@kg] in (the|my|your|that) [@lr|one|other] hand",), _with(basis="per_hand", implements=1), 0.9),
    Rule("ten a side on the bar", ("[bar plus|plus] [a|an] (#|#s) [@lb|@kg|more] (a|per|each|either|every) @end", "[a|an] (#|#s) [@lb|@kg] [more] on (each|either|every|both) @end",
                                   "(bar|plus) plus #"), _on_each_end, 0.8),
    Rule("a plate a side", ("(a|one|another|#|) (plate|quarter|dime|nickel|dimes|quarters|nickels|plates) [and (a|#) (dime|quarter|nickel|dimes|plate)] (a|per|each|every|on each) @end",), _slang_plates, 0.82),
    Rule("empty bar", ("[the|an|your] empty (bar|barbell)", "just the bar"), _bar_alone, 0.85),
    Rule("ninety five on the bar", ("# [@lb|@kg] on the bar", "[total|so] {#} (total|all up|altogether|all in)", "(makes|total|that's|now|it's|so) [it's|that's|a] {#} [@lb|@kg]"), _on_the_bar, 0.72),
    Rule("seventy percent", ("# percent [of] [your|my|a] [one] [rep] [max|1rm]", "# per cent"), _percent, 0.75),
    Rule("little lighter", (
        "(go|going|something|slightly|bit|touch|little|that's|whatever's|whatever is|pick up something|to) " + _LIGHTER, "(little|bit|touch|tad|slightly) (lighter|smaller)", "lighter (weight|weights|pair|set|dumbbell|dumbbells|one|ones|bell|load)",
        "(drop|go|come|going) down (in weight|a weight|a size|on the weight|a pair)"), _change("lighter"), 0.75),
    Rule("touch heavier", (
        "(go|going|something|slightly|bit|touch|little|that's|whatever's|to) " + _HEAVIER, "(little|bit|touch|tad|slightly) (heavier|bigger)", "heavier (weight|weights|pair|set|dumbbell|dumbbells|one|ones|bell|load)",
        "(go|going|move|moving|step|bump) [it] up (in weight|a weight|a size|on the weight)"), _change("heavier"), 0.72),
    Rule("go up", ("(i'm|we're|you're) going up", "{go up} (if|by|a)"), _change("heavier"), 0.4),
    Rule("same weight", ("same (weight|weights|dumbbell|dumbbells|bell|load|kettlebell|pair)", "(keep|stay with|stick with) [the|your] (same|weights|weight)"), _same, 0.85),
    Rule("no weights", (
        "(no|without|without any|without the|without your|don't need) (weight|weights|dumbbells|dumbbell|bells|kit|equipment|load)", "nothing in (your|the|my) hands", "(body weight|bodyweight) [only]",
        "(drop|ditch|ditching|lose|put down|leave|park) (the|your|those|these|all the) (weight|weights|dumbbells)", "(put|set) (the|your|those|these) (weights|dumbbells) (down|away)",
        "just (your|the|) bodyweight", "(empty hands|hands empty|still empty|unweighted|unloaded)", "just (you|yourself) [no weight]"), _none, 0.7),
    Rule("everything's in kilos", (
        "(everything|everything's|all|mine|mine's|weights|numbers|loads|dumbbells|they|they're|these|we|i|it's|say) [i say|i|are|is|'re|am|that i say is|we say is|work|talk|going] [all] [in] (@kg|@lb)",
        "(all|everything) [is|are] [in] (@kg|@lb)", "(work|works|working|talk|talking|speak|count) in (@kg|@lb)"), _unit, 0.8),
)
