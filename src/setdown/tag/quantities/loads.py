"""What is held: loads that are said as a number."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial
from itertools import pairwise

from setdown.tag.number_words import Number, word_set
from setdown.tag.quantities.build import OPEN, Unsettled, plain, said_words, stands_free, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import LoadBasis, LoadSaid, LoadUnit
from setdown.tag.quantities.vocabulary import CLASSES

HEAVIEST = 600  # nothing heavier is lifted in a class, in either unit; common practice, no source
LB = word_set("pounds pound lbs lb pounders pounder")
KG = word_set("kilos kilo kgs kg kilograms kilogram kilogrammes")
_HOLDING = CLASSES["take"] | CLASSES["bell"] | LB | KG | word_set("those these my your the with on borrowed")
_HELD = word_set("dumbbell dumbbells kettlebell kettlebells bells weights kilos pounds pair")

_TOTAL = re.compile(
    r" (?:(?:both|two) hands|(?:one|single) dumbbell|on the bar|goblet|on its end|all up|in total"
    r"|across (?:the|your) hips"
    r"|on(?:to)? (?:the|your) hips|just (?:the one|one of them)|under (?:the|your) chin) "
)
_PER_HAND = re.compile(
    r" (?:(?:each|every|per|either) hand|each arm|one (?:in )?each(?: hand)?|both hands full|one each side|pairs?"
    r"|(?:right|left|one) hand|by (?:the|your) sides) "
)
_EVERY_HAND = re.compile(r" (?:(?:each|every|per|either) hand|each arm|one (?:in )?each|both hands full) ")
#: The words without which no basis is said.
_BASIS_WORDS = word_set("hand hands arm dumbbell bar goblet end up total hips one chin pair pairs each sides")


def unit_beside(stream: Stream, token: int) -> LoadUnit | None:
    """The unit said right behind a number."""
    for word in (stream.word(token + 1), stream.word(token + 2)):
        if word in LB:
            return "lb"
        if word in KG:
            return "kg"
    return None


def basis_near(stream: Stream, start: int, end: int) -> LoadBasis | None:
    """Per hand or in total, from the words around a load: just behind it, then before, then further on."""
    for low, high in ((start, end + 5), (max(start - 4, 0), end), (start, end + 9)):
        words = stream.text[low:high]
        if _BASIS_WORDS.isdisjoint(words):
            continue
        text = f" {' '.join(words)} "
        if _EVERY_HAND.search(text):
            return "per_hand"
        if _TOTAL.search(text):
            return "total"
        if _PER_HAND.search(text):
            return "per_hand"
    return None


_NOT_OWNERS = frozenset({"it's", "that's", "who's", "there's", "he's", "she's", "what's", "here's"})


def is_offered(stream: Stream, start: int) -> bool:
    """'if you only have tens', 'or grab a ten', 'Greg's got the sixteen': not what is used here."""
    before = stream.text[max(start - 7, 0) : start]
    if "if" in before or "or" in before[-3:] or "maybe" in before[-4:]:
        return True
    owners = pairwise(before)
    return any(has in {"got", "has"} and who.endswith("'s") and who not in _NOT_OWNERS for who, has in owners)


def load_of(
    match: Match, index: int = 0, *, basis: LoadBasis | None = None, implements: int | None = None
) -> LoadSaid | None:
    """The load that a number of the match says, with unit and basis from the words around it."""
    number, token, stream = match.numbers[index], match.tokens[index], match.stream
    if number.value is None or not 0 < number.value <= HEAVIEST:
        return None
    value = number.high if number.high is not None and number.form == "range" else number.value
    if number.form == "plural":
        # one for each hand; plates of a bar have rules of their own ('on each end')
        basis, implements = basis or "per_hand", implements or 2
    else:
        basis = basis or basis_near(stream, match.start, match.end)
        implements = implements or (1 if basis == "total" else None)
    offered = is_offered(stream, match.start)
    return LoadSaid(plain(value), unit_beside(stream, token), basis, implements=implements, offered=offered)


def _load(match: Match) -> Draft | None:
    if match.numbers[0].value == 1 and unit_beside(match.stream, match.tokens[0]) is None:
        return None  # 'one dumbbell'
    load = load_of(match)
    return None if load is None else Draft("load", load)


def _with(basis: LoadBasis | None = None, implements: int | None = None) -> Build:
    """A load whose basis the phrase settles."""

    def build(match: Match) -> Draft | None:
        number = match.numbers[0]
        if number.form.startswith("count") or (
            number.value == 1 and unit_beside(match.stream, match.tokens[0]) is None
        ):
            return None
        load = load_of(match, basis=basis, implements=implements)
        return None if load is None else Draft("load", load)

    return build


def _kit_alone(match: Match) -> Draft | None:
    """'one dumbbell', 'one in each hand': how many are held, though not how heavy."""
    if match.numbers and match.numbers[0].value != 1:
        return None
    if match.word(match.end - 1) == "hand":
        return Draft("load", LoadSaid(basis="per_hand", implements=2))
    return Draft("load", LoadSaid(basis=basis_near(match.stream, match.start, match.end) or "total", implements=1))


def _two_of(match: Match) -> Draft | None:
    """'two eights': a pair of weights, in a class that has weights."""
    around = match.stream.text[max(match.start - 3, 0) : match.end + 2]
    if (
        _two_of_music(match)
        or whole(match.numbers[0]) != 2
        or not match.stream.said & _HELD
        or _HOLDING.isdisjoint(around)
    ):
        return None
    load = load_of(match, 1, basis="per_hand", implements=2)
    return None if load is None else Draft("load", load)


def _two_of_music(match: Match) -> bool:
    """'two eights', 'four eights' are counts of music unless somebody takes them up."""
    return match.numbers[1].value == 8 and match.word(match.start - 1) not in _TAKING


_TAKING = CLASSES["take"] | word_set("with my your these those the")


def _put_aside(match: Match) -> Draft | None:
    """'the ten, not the sixteen': spoken of and left."""
    if not _may_be_load(match.stream, match.numbers[0], match.tokens[0]) or not match.stream.said & _HELD:
        return None
    load = load_of(match)
    return None if load is None else Draft("load", replace(load, offered=True))


def _open(load: float, reps: float, count: float = 0.0) -> Build:
    """A number that may be a load ('the sixteen', 'tens'): what the class said before decides."""

    def build(match: Match) -> Draft | None:
        number, token = match.numbers[-1], match.tokens[-1]
        if not _may_be_load(match.stream, number, token):
            return None
        if unit_beside(match.stream, token) is not None:
            said = load_of(match, -1)
            return None if said is None else Draft("load", said, score=max(load, 0.85))
        priors = {"load": load}
        if whole(number) is not None and number.value is not None and number.value <= 60:
            priors["reps"] = reps
            if count:
                priors["count"] = count
        return Draft(OPEN, Unsettled(number, priors, partial(load_of, match, -1)))

    return build


def _may_be_load(stream: Stream, number: Number, token: int) -> bool:
    if number.value is None or number.value < 2:
        return False
    return number.form == "plural" or (number.form == "cardinal" and stands_free(stream, token))


def _percent(match: Match) -> Draft | None:
    value = match.numbers[0].value
    words = said_words(match.stream, match.start - 6, match.end + 6)
    if value is None or not 20 <= value < 100 or words & {"effort", "strength", "range", "speed"}:
        return None
    sure = bool(words & {"max", "1rm", "maximum"})
    return Draft("load", LoadSaid(plain(value), "pct1rm"), score=0.95 if sure else 0.6)


_U = "[@lb|@kg]"
_A = "(the|a|an|my|your|that|this)"
_TO = "(down to|up to|back to|back on|drop to|go to|moved to|moving to|on to|onto|swap for|trade for|gone to)"
_STAY = "(staying on|stay on|staying with|stay with|stick with|sticking with|still on|keep to|going with|going for)"
_GOING = "(going|gone|go|moving|moved|dropping|dropped|staying|sticking|taking it|taking them|working)"
_ONE = "(to|grab|take|just|with|only|hold|use|need|want|the|there's|got|have|and)"

RULES = (
    Rule("ten pounds", ("# (@lb|@kg) [@bell]",), _load, 0.88, "word"),
    Rule("twenty five pounders", ("[my|the|your] (#s|#) (pounders|pounder)",), _with(), 0.92),
    Rule(
        "a pair of twelves",
        (
            f"[a|the|my|your|this|another] (pair|set) of #s {_U} [@bell]",
            f"[a|the|my|your|this|another] pair of # {_U} [@bell]",
            "(pair|set) of # (@lb|@kg) [@bell]",
        ),
        _with("per_hand", 2),
        0.95,
    ),
    Rule(
        "ten in each hand",
        (
            f"[a|the] (#|#s) {_U} [@bell] (in|for|per) (each|every|either|both) (hand|arm)",
            f"[a|the] (#|#s) {_U} (each|per|a|every) hand",
            f"(#|#s) {_U} one [in] each [hand]",
        ),
        _with("per_hand", 2),
        0.95,
    ),
    Rule(
        "one dumbbell, fifteen",
        (f"(one|single|1) (dumbbell|weight|bell) [it's|a|the|i've got a] {{#}} {_U} [both hands]",),
        _with("total", 1),
        0.8,
    ),
    Rule(
        "one dumbbell",
        ("[just|the|a] (one|1|single) (@bell1|weight)", "[just] the one of them", "one [in] (each|every) hand"),
        _kit_alone,
        0.7,
    ),
    Rule(
        "one eight, both hands",
        (f"{_ONE} #1 {{#}} {_U}", f"{{#}} {_U} just (the one|one of them|one) [both hands]"),
        _with("total", 1),
        0.78,
    ),
    Rule("a sixteen bell", ("# @bell1", "# (@lb|@kg) @bell", f"#s {_U} @bell"), _load, 0.85, "word"),
    Rule("two eights", ("# #s",), _two_of, 0.75),
    Rule("grab your fifteens", (f"(@take|{_TO}|using|park|with|for|to|on|than) @my #s",), _open(0.88, 0.1), 0.9),
    Rule(
        "grab tens",
        (f"(@take|{_TO}|using|with|to|in for|for|{_STAY}) #s", "(i'm|we're) on #s"),
        _open(0.82, 0.15),
        0.82,
    ),
    Rule("tens for eight", ("{#s} for #",), _open(0.86, 0.1), 0.72),
    Rule("my twelves", ("@my #s", "(the|my|your|those) same #s"), _open(0.74, 0.2), 0.78),
    Rule("fifteens", ("#s",), _open(0.64, 0.3), 0.64),
    Rule("tens again", ("#s again",), _open(0.56, 0.38), 0.64),
    Rule(
        "grab the sixteen",
        (
            f"(@take|{_TO}|using|park|drop|put|on|to|with|than|back|for|with just) {_A} {{#}}",
            "(i've|you've|we've) got (the|a|my|your|this) {#}",
            "(holding|loaded|loading|added) {#}",
        ),
        _open(0.72, 0.25),
        0.82,
    ),
    Rule("a sixteen", ("(a|an|my) {#}",), _open(0.5, 0.1), 0.52),
    Rule("the sixteen", ("(the|your|that|another) {#}",), _open(0.46, 0.26, 0.1), 0.5),
    Rule("I'm on fourteen", ("i'm (on|holding|using|at) {#}",), _open(0.5, 0.1, 0.35), 0.7),
    Rule(
        "going up to fourteen",
        (
            f"(i'm|we're|i've|i'll) {_GOING} [up|down|back] [to|for|with|on|at] {{#}} [@lb|@kg]",
            "(up|down) to {#} (for|from|on) (the|my|these|this|here)",
        ),
        _open(0.52, 0.2),
        0.7,
    ),
    Rule(
        "not the sixteen",
        ("(not|than|instead of|rather than|no more) (the|my|your|those|them) {(#|#s)}",),
        _put_aside,
        0.93,
    ),
    Rule("same twenty on the rows", ("same {#} (on|for|with) (the|your|these)",), _open(0.56, 0.3), 0.7),
    Rule("we're on ten", ("(we're|you're) on {#}",), _open(0.3, 0.32, 0.28), 0.6),
    Rule(
        "twenty across the hips",
        ("# (across|over|on) (the|your) (hips|hip|lap|chest|shoulders|back)",),
        _with("total", 1),
        0.75,
    ),
    Rule(
        "twelve at your chest",
        (
            "{#} (at|against) (the|your|my) (chest|chin|sternum)",
            "{#} (between|by) (the|your|my) (heels|feet|ankles)",
            "{#} (held|upside down) [by]",
            "roll (the|your|that) {#} (into|onto|on|to)",
        ),
        _open(0.58, 0.15),
        0.8,
    ),
    Rule(
        "fifteen in my right hand",
        (f"[a|the|my] (#|#s) {_U} in (the|my|your|that) [@lr|one|other] hand",),
        _with("per_hand", 1),
        0.9,
    ),
    Rule("seventy percent", ("# percent [of] [your|my|a] [one] [rep] [max|1rm]", "# per cent"), _percent, 0.75),
)
