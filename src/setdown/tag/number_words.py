"""What one word says as (part of) a number: the vocabulary of the number reader.

A caption word may carry punctuation ("twelve,"), a unit ("20kg", "40%", "$14"), or several numbers ("12-15", "3x10",
"21-15-9"). ``read_word`` takes it apart once; the result is remembered, because a class repeats its words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache


def word_set(text: str) -> frozenset[str]:
    """The words of a text, for membership tests."""
    return frozenset(text.split())


def _row(text: str, first: int, step: int = 1) -> dict[str, int]:
    """Words and their values, which go up by ``step``."""
    return {word: first + k * step for k, word in enumerate(text.split())}


UNITS = _row("one two three four five six seven eight nine", 1)
TEENS = _row("ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen", 10)
TENS = _row("twenty thirty forty fifty sixty seventy eighty ninety", 20, 10) | {"fourty": 40}
ZEROS = frozenset({"zero", "nought", "naught"})
SCALES = {"hundred": 100, "thousand": 1000}
ORDINAL_UNITS = _row("first second third fourth fifth sixth seventh eighth ninth", 1)
ORDINAL_TEENS = _row(
    "tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth", 10
)
ORDINAL_TENS = _row("twentieth thirtieth fortieth fiftieth sixtieth seventieth eightieth ninetieth", 20, 10)
#: Words that captions write for a counted number; believed only inside a run of numbers that lacks exactly this one.
HOMOPHONES = {"won": 1, "to": 2, "too": 2, "tree": 3, "for": 4, "fore": 4, "ate": 8, "tin": 10}

_SMALL = {**UNITS, **TEENS, **TENS}
_PLURALS = {
    **{w + "s": (w, n) for w, n in {**UNITS, **TEENS}.items() if w not in {"six"}},
    "sixes": ("six", 6),
    **{w[:-1] + "ies": (w, n) for w, n in TENS.items()},
}

_STRIP = ' \t"“”„()[]{}<>*_.,;:!?…—–-♪~'
_DASHES = str.maketrans({"‐": "-", "‑": "-", "–": "-", "—": "-", "’": "'", "‘": "'", "×": "x"})
_DIGITS = re.compile(
    r"(?P<money>[$£€])?(?P<value>\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)(?P<half>½)?(?P<unit>%|['a-z]+)?$"
)
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?(am|pm)?$")
_MANY = re.compile(
    r"(\d+(?:\.\d+)?)(?:([-x/])(\d+(?:\.\d+)?))(?:\2(\d+(?:\.\d+)?|x))?(?:\2(\d+(?:\.\d+)?|x))?(?:\2(\d+))?"
    r"(?P<unit>%|[a-z]+)?$"
)
_ORDINAL_DIGITS = re.compile(r"(\d+)(st|nd|rd|th)$")


@dataclass(frozen=True, slots=True)
class Atom:
    """One word's share in a number.

    ``kind``: unit (1..9), teen (10..19), tens, pair (21..99, hyphenated), zero, oh, scale (hundred, thousand), digits,
    many (several numbers in one written word), clock, dozen, half, quarter, vague, ordinal.
    ``value`` of a clock is minutes times 60 plus seconds as if it read m:ss.
    """

    kind: str
    value: Decimal
    plural: bool = False
    unit: str = ""
    ordinal: str = ""  # class of an ordinal: unit | teen | tens | digits
    parts: tuple[Decimal, ...] = ()
    joint: str = ""  # the sign between the parts: - x /


@dataclass(frozen=True, slots=True)
class Spelling:
    """A word as written: its bare lower-case form, the punctuation that ends it, and its share in a number."""

    bare: str
    stop: str  # "" none, "," a light stop, "." a sentence end, "…" trailing off
    atom: Atom | None


def _atom(kind: str, value: int | Decimal, **more: object) -> Atom:
    return Atom(kind, Decimal(value), **more)  # type: ignore[arg-type]


def _build_table() -> dict[str, Atom]:
    table: dict[str, Atom] = {}
    for words, kind in ((UNITS, "unit"), (TEENS, "teen"), (TENS, "tens")):
        table |= {w: _atom(kind, n) for w, n in words.items()}
    table |= {w: _atom("zero", 0) for w in ZEROS}
    table |= {"oh": _atom("oh", 0)}
    table |= {w: _atom("scale", n) for w, n in SCALES.items()}
    table |= {w + "s": _atom("scale", n, plural=True) for w, n in SCALES.items()}
    table |= {"dozen": _atom("dozen", 12), "half": _atom("half", Decimal("0.5"))}
    table |= {"halves": _atom("half", Decimal("0.5"), plural=True), "½": _atom("half", Decimal("0.5"))}
    table |= {"quarter": _atom("quarter", Decimal("0.25")), "quarters": _atom("quarter", Decimal("0.25"), plural=True)}
    table |= {"couple": _atom("vague", 2), "few": _atom("vague", 3)}
    for w, (single, n) in _PLURALS.items():
        table[w] = _atom("unit" if single in UNITS else "teen" if single in TEENS else "tens", n, plural=True)
    for words, kind in ((ORDINAL_UNITS, "unit"), (ORDINAL_TEENS, "teen"), (ORDINAL_TENS, "tens")):
        table |= {w: _atom("ordinal", n, ordinal=kind) for w, n in words.items()}
    table["hundredth"] = _atom("ordinal", 100, ordinal="teen")
    for tens, n in TENS.items():
        for w, m in UNITS.items():
            table[f"{tens}-{w}"] = _atom("pair", n + m)
        for w, (single, m) in _PLURALS.items():
            if single in UNITS:
                table[f"{tens}-{w}"] = _atom("pair", n + m, plural=True)
        for w, m in ORDINAL_UNITS.items():
            table[f"{tens}-{w}"] = _atom("ordinal", n + m, ordinal="tens")
    return table


_TABLE = _build_table()


def _read_digits(text: str) -> Atom | None:
    if m := _ORDINAL_DIGITS.match(text):
        return _atom("ordinal", int(m[1]), ordinal="digits")
    if m := _CLOCK.match(text):
        return _atom("clock", int(m[1]) * 60 + int(m[2]), unit=m[4] or "")
    if m := _DIGITS.match(text):
        value = Decimal(m["value"].replace(",", "")) + (Decimal("0.5") if m["half"] else 0)
        unit = m["unit"] or ""
        if unit in {"s", "'s"}:
            # 12s are weights of twelve, but 40s written beside a time is forty seconds: the tagger decides
            return Atom("digits", value, plural=True, unit="s" if unit == "s" else "'s")
        return Atom("digits", value, unit=m["money"] or unit)
    if m := _MANY.match(text):
        raw = [g for g in (m[1], m[3], m[4], m[5], m[6]) if g]
        parts = tuple(Decimal(0) if g == "x" else Decimal(g) for g in raw)
        return Atom("many", parts[0], parts=parts, joint=m[2], unit=m["unit"] or "")
    return None


@dataclass(frozen=True, slots=True)
class Number:
    """A number over the words ``[start, end)``.

    ``form`` is cardinal, range (``high`` is set), plural ('fifteens'), ordinal, vague ('couple' is 2, 'few' 3),
    fraction ('half', 'three quarters'), year, clock ('5:30': value as if m:ss, in seconds), or count_up / count_down
    for a member of a counting run. ``unit`` is what was written on the number itself ('20kg', '$14', '40%').
    Numbers written in one word ('21-15-9', '3x10') share the word: they have the same ``start`` and ``end``, and
    ``joint`` holds the sign between them.
    """

    start: int
    end: int
    value: Decimal | None
    high: Decimal | None = None
    form: str = "cardinal"
    unit: str = ""
    joint: str = ""


@lru_cache(maxsize=16384)
def read_word(word: str) -> Spelling:
    """Take a caption word apart. A word that is only punctuation has an empty ``bare``."""
    text = word.translate(_DASHES).lower()
    bare = text.strip(_STRIP).rstrip("'")
    tail = text[text.rfind(bare) + len(bare) :] if bare else text
    stop = ""
    if tail:
        stop = "…" if "…" in tail or ".." in tail else "." if any(c in ".!?" for c in tail) else ","
        if stop == "," and not any(c in ",;:-" for c in tail):
            stop = ""
    atom = _TABLE.get(bare)
    if atom is None and bare:
        if bare[0].isdigit() or bare[0] in "$£€":
            atom = _read_digits(bare)
        elif bare.endswith("'s") and bare != "one's" and bare[:-2] in _SMALL:
            base = _TABLE[bare[:-2]]
            atom = Atom(base.kind, base.value, plural=True, unit="'s")
        elif bare.endswith("'s") and (pair := _TABLE.get(bare[:-2])) is not None and pair.kind == "pair":
            atom = Atom("pair", pair.value, plural=True, unit="'s")
    return Spelling(bare, stop, atom)
