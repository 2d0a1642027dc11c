"""What stands in a caption but was not said as part of the class: speaker marks, sounds, laughs, lyrics.

- ``>>``, ``NAME:``, a dash at the beginning of a line: a change of speaker.
- ``[Music]``, ``[ __ ]``: captions put sounds and masked words in square brackets. With a digit inside it is speech.
- ``(laughs)``, ``(upbeat music)``: round brackets only when they name a sound, because speech uses them too.
- lyrics between notes (``♪``).

A name before a colon is doubtful: 'remember: breathe', 'SQUATS: let's go'. In capitals it is one unless it is a word of
the class; in other letters only after ``>>``, or when a few such names begin at least half of the file's cues.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from setdown.model.transcript import Aside

_HINT = re.compile(r"[\[(♪♫♬:]|>>|(?:^|\n)[ \t]*[-–—]")
_MARK = re.compile(
    r"(?P<square>\[[^\[\]\n]{0,80}\][.,;:!?]*)"
    r"|(?P<round>\([^()\n]{1,60}\)[.,;:!?]*)"
    r"|(?P<music>[♪♫♬]+(?:[^♪♫♬]*[♪♫♬]+|[^♪♫♬\n]*))"
    r"|(?P<chevron>(?<!\S)>>+)"
)
_NAME = re.compile(
    r"^[ \t]*+(?P<sign>>>+|[-–—](?=[ \t]))?[ \t]*+(?P<name>[^\W\d_][^:\n<>\[\]()♪]{0,39}):(?=[ \t\n]|\Z)", re.MULTILINE
)
_DASH = re.compile(r"^[ \t]*([-–—])(?=[ \t]+\S)", re.MULTILINE)
_CHEVRON_NAME = re.compile(r"[ \t]*([^\W\d_][^:\n<>\[\]()♪]{0,39}):(?=[ \t\n]|\Z)")
_NAME_WORD = re.compile(r"[^\W\d_](?:[\w'’-]|\.(?!\.))*\.?|[0-9]{1,2}")

# Words that begin a line of a class, or of a caption, before a colon without being anyone's name.
_NOT_NAMES_TEXT = """
    a an and the or but so if when then now next first second third last final today tonight remember note notes tip
    tips hint warning caution careful important ps nb faq disclaimer option options modification modifications modifier
    variation variations level beginner beginners intermediate advanced easier harder round rounds set sets rep reps
    repeat rest work interval intervals block circuit superset finisher warm cool up down warmup cooldown stretch
    stretches exercise exercises move moves movement movements section part workout class routine plan equipment kit
    weights weight load tempo focus goal time timer minute minutes second seconds left right side sides both each
    other arms legs core chest back shoulders glutes abs cardio strength yoga music song playlist question answer
    example here there this that these those it is are was you your we our i my one two three four five six seven eight
    nine ten eleven twelve start stop go ready pause end intro outro summary chapter breathe breath inhale exhale
    position bonus challenge instructions transcript title date squat squats lunge lunges plank planks press row rows
    curl curls hold bridge bridges
"""
_NOT_NAMES = frozenset(_NOT_NAMES_TEXT.split())
# Not 'bell', 'beat', 'static', 'crash', 'pants': in a class these are kit, counting, ways to hold, or clothes.
_SOUND = re.compile(
    r"(?:music|song|singing|sings|laugh\w*|chuckl\w*|giggl\w*|applau\w*|claps|clapping|cheers|cheering|sighs?|sighing"
    r"|cough\w*|sneez\w*|sniff\w*|groans?|groaning|grunts?|grunting|gasps?|gasping|panting|yawns?|yawning|exhales"
    r"|exhaling|inhales|inhaling|whistles|whistling|beeps?|beeping|buzzes|buzzing|buzzer|rings|ringing|dings?|chimes?"
    r"|alarm|barks|barking|meows?|meowing|knocks|knocking|doorbell|inaudible|indistinct|unintelligible|silence|crosstalk"
    r"|noise|noises|snaps|snapping|humming|hums|whoosh\w*|thuds?|clatter\w*|slams|screams|shouts|shouting|squeals"
    r"|chatter|murmurs|throat)"
)
_AFTER_SOUND = re.compile(r"(?:playing|plays|continues|continuing|stops|starts|fades|background|out|loudly|[a-z]+ly)")


def find_names(texts: Iterable[str]) -> frozenset[str]:
    """Names before a colon that the file as a whole shows to be speakers (as written, without the colon).

    At most five names, each twice or more, that together begin at least half of the cues.
    """
    counts: Counter[str] = Counter()
    total = 0
    for text in texts:
        total += 1
        if ":" in text and (match := _NAME.search(text)) and not text[: match.start()].strip():
            counts[match["name"].strip()] += 1
    names = {name: n for name, n in counts.items() if n > 1 and _is_name(name)}
    usual = dict(Counter(names).most_common(5))
    return frozenset(usual) if sum(usual.values()) * 2 >= max(total, 4) else frozenset()


def find_asides(text: str, names: frozenset[str], *, capitals: bool) -> tuple[tuple[Aside, ...], str]:
    """The asides of a cue in order, not overlapping, and its first named speaker ('' when none is).

    ``names`` come from ``find_names``; ``capitals`` is true when the file is in capitals throughout, where a name
    in capitals is no sign of anything.
    """
    if not _HINT.search(text):
        return (), ""
    found: list[tuple[int, int, str]] = []
    speaker = ""
    for match in _MARK.finditer(text):
        start, end = match.span()
        group = match.lastgroup
        if group == "chevron":
            follow = _CHEVRON_NAME.match(text, end)
            if follow and _is_name(follow[1].strip()):
                end = follow.end()
                speaker = speaker or follow[1].strip()
            found.append((start, end, "speaker"))
        elif group == "music" or _is_sound(match.group(), group == "square"):
            found.append((start, end, "sound"))
    if ":" in text:
        for match in _NAME.finditer(text):
            name = match["name"].strip()
            if match["sign"] != ">>" and _is_speaker(name, names, capitals):
                begin = match.start("sign") if match["sign"] else match.start("name")
                found.append((begin, match.end(), "speaker"))
                speaker = speaker or name
    for match in _DASH.finditer(text):
        found.append((*match.span(1), "speaker"))
    found.sort(key=lambda item: (item[0], -item[1]))
    asides: list[Aside] = []
    last = 0
    for start, end, kind in found:
        if start >= last:
            asides.append(Aside(kind, start, end, text[start:end].replace("\n", " ")))
            last = end
    return tuple(asides), speaker


def merge_asides(first: tuple[Aside, ...], second: tuple[Aside, ...]) -> tuple[Aside, ...]:
    """Both in order; of the second, those that lie outside of all of the first."""
    apart = [b for b in second if all(b.char_end <= a.char_start or a.char_end <= b.char_start for a in first)]
    return tuple(sorted([*first, *apart], key=lambda aside: aside.char_start))


def _is_sound(mark: str, square: bool) -> bool:
    inside = mark.rstrip(".,;:!?")[1:-1]
    words = inside.lower().strip(".,!? ").split()
    if not words:
        return square
    names_sound = _SOUND.fullmatch(words[-1].strip(".,!")) is not None or (
        _SOUND.fullmatch(words[0].strip(".,!")) is not None and _AFTER_SOUND.fullmatch(words[-1]) is not None
    )
    if square:
        return names_sound or not any(c.isdigit() for c in inside)
    return names_sound and len(words) <= 6


def _is_name(name: str) -> bool:
    words = name.split()
    return (
        1 <= len(words) <= 3
        and all(_NAME_WORD.fullmatch(word) for word in words)
        and not any(word.lower().strip(".") in _NOT_NAMES for word in words if not word.isdigit())
    )


def _is_speaker(name: str, names: frozenset[str], capitals: bool) -> bool:
    if name in names:
        return True
    return not capitals and name.isupper() and len(name) > 1 and _is_name(name)
