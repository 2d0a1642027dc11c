"""What a recogniser wrote although nobody said it, told by its timing.

Recognisers trained on captions fill silence with a line that ends many recordings ('thank you for watching', a lone
'you'), loop one line with the regularity of a machine, and write a phrase twice where two of their windows meet. An
instructor says the same words for good reasons: 'and press' twelve times, 'bye' at the end. So words alone decide
nothing:

- *made up*: only words that close a recording, alone in a silence or stretched over it, with speech to follow;
- *looped*: the same line three times and more, back to back and each of the same length to a few hundredths of a
  second, or faster than anyone speaks;
- *doubled*: a phrase and at once the same again, one of the two faster than anyone speaks, or at the same time.

The text stays in its cue; the words are set aside (``Aside`` of kind ``artefact``) and leave a silence. The phrases are
from memory of what open recognisers are known to do; no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from setdown.model.transcript import Aside
from setdown.read.base import RawCue

KIND = "artefact"

# A line of these phrases alone says nothing about a class. A lone 'and', 'in', 'next' or 'good' does.
_CLOSING = re.compile(
    r"(?:(?:you|thanks?(?: you)?(?: all| guys| everyone)?(?: (?:so|very) much)?(?: for (?:watching|listening))?"
    r"|bye(?:[ -]bye)*|goodbye|(?:i'll )?see you(?: all| guys)?(?: (?:soon|later|next time|in the next (?:one|video)))?"
    r"|(?:please )?(?:like and )?subscribe(?: to (?:my|our|the|this) channel)?)(?: |$))+"
)
MOST_MADE_UP = 10  # words in a line that is made up
ALONE_MS = 4_000  # silence on both sides of such a line
STRETCHED_MS = 2_500  # per word: said so slowly, it fills a silence

LOOP_COPIES, LOOP_WORDS = 3, 9  # at least, in all copies
CONTIGUOUS_MS, REGULAR_MS = 50, 30
FASTEST = 8.0  # words a second that nobody reaches over several words (common practice, no source)
SHORTEST_PHRASE = 3  # words: shorter ones are doubled in any speech
LONGEST_PHRASE = 24
OVERLAP_MS = 300

_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
Span = tuple[int, int]
Lines = Sequence[Sequence[str]]  # the normalised words of each cue


def find_artefacts(cues: Sequence[RawCue]) -> dict[int, tuple[Aside, ...]]:
    """The artefacts of each cue that has some, in order, not overlapping. Every cue must have an end."""
    lines = [_list_words(cue.text) for cue in cues]
    found: dict[int, set[Span]] = {}
    for rule in (_find_made_up, _find_loops, _find_doubled):
        for index, span in rule(cues, lines):
            found.setdefault(index, set()).add(span)
    return {index: _merge(cues[index].text, spans) for index, spans in sorted(found.items())}


def _list_words(text: str) -> list[str]:
    if text.isascii():
        return _WORD.findall(text.lower())
    return [word.lower().replace("’", "'") for word in _WORD.findall(text)]


def _place_words(text: str) -> list[Span]:
    """The characters of each word; few cues need them."""
    return [match.span() for match in _WORD.finditer(text)]


def _merge(text: str, spans: set[Span]) -> tuple[Aside, ...]:
    """Asides for the spans, widened to the punctuation that belongs to their last word."""
    out: list[Span] = []
    for start, end in sorted(spans):
        while end < len(text) and not text[end].isspace():
            end += 1
        while start > 0 and not text[start - 1].isspace():
            start -= 1
        if out and start <= out[-1][1]:
            out[-1] = (out[-1][0], max(end, out[-1][1]))
        else:
            out.append((start, end))
    return tuple(Aside(KIND, start, end, text[start:end].replace("\n", " ")) for start, end in out)


def _end(cue: RawCue) -> int:
    return cue.start if cue.end is None else cue.end


def _find_made_up(cues: Sequence[RawCue], lines: Lines) -> Iterator[tuple[int, Span]]:
    closing = [_is_closing(words) for words in lines]
    if True not in closing:
        return
    last_said = max((i for i, words in enumerate(lines) if words and not closing[i]), default=-1)
    for i, (cue, words) in enumerate(zip(cues, lines, strict=True)):
        if not closing[i] or i > last_said:
            continue
        first, last = _speech_time(cue)
        before = first - _speech_time(cues[i - 1])[1] if i else ALONE_MS
        after = _speech_time(cues[i + 1])[0] - last
        alone = before >= ALONE_MS and after >= ALONE_MS
        if alone or _end(cue) - cue.start >= STRETCHED_MS * len(words):
            yield i, (0, len(cue.text))


def _is_closing(words: Sequence[str]) -> bool:
    return len(words) <= MOST_MADE_UP and _CLOSING.fullmatch(" ".join(words)) is not None


def _speech_time(cue: RawCue) -> Span:
    """When the cue's words are said: by the words' own times where there are any."""
    starts = [w.start for w in cue.words if w.start is not None]
    ends = [w.end for w in cue.words if w.end is not None]
    return (min(starts) if starts else cue.start, max(ends) if ends else _end(cue))


def _find_loops(cues: Sequence[RawCue], lines: Lines) -> Iterator[tuple[int, Span]]:
    i = 0
    while i < len(cues):
        j = i + 1
        while j < len(cues) and lines[j] == lines[i]:
            j += 1
        copies, words = j - i, len(lines[i])
        if words and copies >= LOOP_COPIES and copies * words >= LOOP_WORDS and _is_machine(cues[i:j], words):
            for k in range(i + 1, j):
                yield k, (0, len(cues[k].text))
        i = j


def _is_machine(run: Sequence[RawCue], words: int) -> bool:
    """Back to back and equally long (but for the last, which the next speech may cut), or impossibly fast."""
    lengths = sorted(_end(cue) - cue.start for cue in run[:-1])
    joined = all(abs(b.start - _end(a)) <= CONTIGUOUS_MS for a, b in pairwise(run))
    if joined and len(lengths) >= LOOP_COPIES - 1 and lengths[-1] - lengths[0] <= REGULAR_MS:
        return True
    return (_end(run[-1]) - run[0].start) / 1000 * FASTEST < words * len(run)


def _find_doubled(cues: Sequence[RawCue], lines: Lines) -> Iterator[tuple[int, Span]]:
    for i, (cue, words) in enumerate(zip(cues, lines, strict=True)):
        if cue.words:
            yield from ((i, span) for span in _find_doubled_inside(cue, words))
        if i and words and words[0] in lines[i - 1]:
            yield from _find_doubled_across(i, cues[i - 1], cue, lines[i - 1], words)


def _find_doubled_inside(cue: RawCue, words: Sequence[str]) -> Iterator[Span]:
    """Copies inside one cue, by the times of its words."""
    at = 0
    places: list[Span] = []
    while at + 2 * SHORTEST_PHRASE <= len(words):
        n = _longest_echo(words, at)
        if n:
            places = places or _place_words(cue.text)
            first = _time_words(cue, places[at : at + n])
            second = _time_words(cue, places[at + n : at + 2 * n])
            if second is not None and _is_impossible(second, n):
                yield places[at + n][0], places[at + 2 * n - 1][1]
            elif first is not None and _is_impossible(first, n):
                yield places[at][0], places[at + n - 1][1]
            at += n
        else:
            at += 1


def _longest_echo(names: Sequence[str], at: int) -> int:
    """The most words from ``at`` that come again at once; 0 for fewer than a phrase."""
    for n in range(min(LONGEST_PHRASE, (len(names) - at) // 2), SHORTEST_PHRASE - 1, -1):
        if names[at : at + n] == names[at + n : at + 2 * n]:
            return n
    return 0


def _find_doubled_across(
    i: int, before: RawCue, cue: RawCue, old: Sequence[str], new: Sequence[str]
) -> Iterator[tuple[int, Span]]:
    """A phrase that ends one cue and begins the next."""
    for n in range(min(LONGEST_PHRASE, len(old), len(new)), SHORTEST_PHRASE - 1, -1):
        if old[-n] != new[0] or old[-n:] != new[:n]:
            continue
        old_places, new_places = _place_words(before.text), _place_words(cue.text)
        first = _time_words(before, old_places[-n:]) or _share_time(before, n, len(old))
        second = _time_words(cue, new_places[:n]) or _share_time(cue, n, len(new))
        if _is_impossible(second, n) or first[1] - second[0] > OVERLAP_MS:
            yield i, (new_places[0][0], new_places[n - 1][1])
        elif _is_impossible(first, n):
            yield i - 1, (old_places[-n][0], old_places[-1][1])
        return


def _time_words(cue: RawCue, places: Sequence[Span]) -> Span | None:
    """From the start of the first to the end of the last of these words; ``None`` where the cue does not tell."""
    low, high = places[0][0], places[-1][1]
    inside = [w for w in cue.words if w.char_start < high and low < w.char_end]
    if not inside or inside[0].start is None or inside[-1].end is None:
        return None
    return inside[0].start, inside[-1].end


def _share_time(cue: RawCue, n: int, total: int) -> Span:
    """The time of a cue without word times, when ``n`` of its words take their share of it."""
    return cue.start, cue.start + (_end(cue) - cue.start) * n // total


def _is_impossible(span: Span, words: int) -> bool:
    return (span[1] - span[0]) / 1000 * FASTEST < words
