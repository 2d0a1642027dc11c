"""One class laid out for the deciders: mentions by kind and place, spans with their set-up, what was decided so far."""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from setdown.assemble.ranker import Ranked
from setdown.lexicon import Lexicon
from setdown.lexicon.profiles import ProfileModel, ReadWords, load_profiles
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.segment import Segmentation, WorkSpan

HEAD_WORDS = 14  # the first words of a set still belong to its announcement
LOOKBACK_WORDS = 10  # the last words of a set may already announce the next one
_NOTHING: tuple[list[int], list[Mention]] = ([], [])


class MentionIndex:
    """Range queries over mentions of one kind by start position."""

    def __init__(self, mentions: Iterable[Mention]) -> None:
        self._by_kind: dict[str, tuple[list[int], list[Mention]]] = {}
        self._by_kinds: dict[tuple[str, ...], tuple[list[int], list[Mention]]] = {}
        for m in mentions:
            starts, items = self._by_kind.setdefault(m.kind, ([], []))
            starts.append(m.start)
            items.append(m)

    def within(self, kind: str, low: int, high: int) -> list[Mention]:
        """Mentions of ``kind`` that start in words ``[low, high)``, in order."""
        entry = self._by_kind.get(kind)
        if entry is None:
            return []
        starts, items = entry
        return items[bisect.bisect_left(starts, low) : bisect.bisect_left(starts, high)]

    def within_any(self, kinds: tuple[str, ...], low: int, high: int) -> list[Mention]:
        """Mentions of any of ``kinds`` starting in words ``[low, high)``, by start, then in the order of ``kinds``."""
        entry = self._by_kinds.get(kinds)
        if entry is None:
            items = [m for kind in kinds for m in self._by_kind.get(kind, _NOTHING)[1]]
            items.sort(key=lambda m: m.start)
            entry = self._by_kinds[kinds] = ([m.start for m in items], items)
        starts, items = entry
        return items[bisect.bisect_left(starts, low) : bisect.bisect_left(starts, high)]

    def has(self, kind: str, low: int, high: int) -> bool:
        """Whether a mention of ``kind`` starts in words ``[low, high)``."""
        entry = self._by_kind.get(kind)
        if entry is None:
            return False
        starts = entry[0]
        at = bisect.bisect_left(starts, low)
        return at < len(starts) and starts[at] < high

    def last(self, kind: str, low: int, high: int) -> Mention | None:
        """The last mention of ``kind`` that starts in words ``[low, high)``."""
        found = self.latest(kind, high, 1)
        return found[0] if found and found[0].start >= low else None

    def latest(self, kind: str, high: int, most: int) -> list[Mention]:
        """The last ``most`` mentions of ``kind`` that start before word ``high``, in order."""
        entry = self._by_kind.get(kind)
        if entry is None:
            return []
        starts, items = entry
        end = bisect.bisect_left(starts, high)
        return items[max(0, end - most) : end]

    def back_from(self, kind: str, high: int) -> Iterator[Mention]:
        """Mentions of ``kind`` that start before word ``high``, the last first."""
        entry = self._by_kind.get(kind)
        if entry is not None:
            starts, items = entry
            for at in range(bisect.bisect_left(starts, high) - 1, -1, -1):
                yield items[at]


@dataclass(slots=True)
class Draft:
    """A set in the making: its span, and each field as it was ranked."""

    span: WorkSpan
    setup_start: int  # first word of the talk before it (end of the set before)
    next_start: int  # first word of the set after it
    ranked: dict[str, Ranked] = field(default_factory=dict)
    section: str = "main"
    group: int = 0
    arrangement: str = "straight"
    round: int = 1

    def value(self, name: str) -> Any:
        """The chosen value of a field, ``None`` when it was not ranked."""
        chosen = self.ranked.get(name)
        return chosen.best.value if chosen else None


@dataclass(slots=True)
class ClassContext:
    """Everything a decider may look at."""

    tagged: TaggedTranscript
    lexicon: Lexicon
    index: MentionIndex
    drafts: list[Draft]
    profiles: ProfileModel
    name_counts: dict[str, int] = field(default_factory=dict)
    near_loads: dict[int, frozenset[str]] = field(
        default_factory=dict
    )  # movements named near a load, by its first word
    known_loads: dict[tuple[int, str | None], Any] = field(default_factory=dict)  # see loads.read_load
    announced: dict[str, MentionIndex] = field(default_factory=dict)  # what announces, by kind
    earlier: list[int] | None = None  # for every draft the one before it of the same movement, or -1
    earlier_quoted: list[Draft | None] = field(default_factory=list)  # likewise, the last whose name was said
    draft_counts: dict[str, int] = field(default_factory=dict)  # drafts by movement
    by_movement: dict[str, MentionIndex] = field(default_factory=dict)  # its names
    words_read: ReadWords | None = None  # see read_words

    def read_words(self) -> ReadWords:
        """The words of the class as terms of the profiles."""
        if self.words_read is None:
            self.words_read = self.profiles.read(self.tagged.words)
        return self.words_read

    def settle_names(self) -> None:
        """Note which drafts are of one movement, once the names of all are decided for good."""
        latest: dict[str, int] = {}
        quoted: dict[str, Draft] = {}
        self.earlier, self.earlier_quoted, self.draft_counts = [], [], {}
        for at, draft in enumerate(self.drafts):
            movement = draft.value("exercise") or ""
            self.earlier.append(latest.get(movement, -1))
            self.earlier_quoted.append(quoted.get(movement))
            latest[movement] = at
            if draft.ranked["exercise"].best.evidence:
                quoted[movement] = draft
            self.draft_counts[movement] = self.draft_counts.get(movement, 0) + 1

    def names_of(self, movement: str) -> MentionIndex:
        """Where a movement is named in the class, everyday words among it."""
        if not self.by_movement:
            found: dict[str, list[Mention]] = {}
            for m in self.tagged.of_kind("movement", "movement_guess", "movement_weak"):
                found.setdefault(m.value.movement, []).append(m)
            self.by_movement = {name: MentionIndex(mentions) for name, mentions in found.items()}
        return self.by_movement.get(movement) or MentionIndex(())

    def count_drafts(self, at: int) -> int:
        """How many drafts of the class have the movement of draft ``at``."""
        movement = self.drafts[at].value("exercise") or ""
        if self.earlier is not None:
            return self.draft_counts[movement]
        return sum((d.value("exercise") or "") == movement for d in self.drafts)

    def find_earlier(self, at: int) -> Draft | None:
        """The last draft before ``at`` of the same movement."""
        if self.earlier is not None:
            k = self.earlier[at]
            return self.drafts[k] if k >= 0 else None
        movement = self.drafts[at].value("exercise") or ""
        for k in range(at - 1, -1, -1):
            if (self.drafts[k].value("exercise") or "") == movement:
                return self.drafts[k]
        return None

    def count_names(self, movement: str) -> int:
        """How often a movement is named in the whole class, everyday words apart."""
        if not self.name_counts:
            for m in self.tagged.of_kind("movement", "movement_guess"):
                self.name_counts[m.value.movement] = self.name_counts.get(m.value.movement, 0) + 1
        return self.name_counts.get(movement, 0)

    def zone(self, draft: Draft, position: int) -> str:
        """Where a word lies from a set: ``tail`` (of the set before), ``setup``, ``head``, ``body``, ``after``."""
        if position < draft.setup_start:
            return "tail"
        if position < draft.span.start:
            return "setup"
        if position < min(draft.span.start + HEAD_WORDS, max(draft.span.end, draft.span.start + 3)):
            return "head"
        return "body" if position < draft.span.end else "after"


def lay_out(
    tagged: TaggedTranscript, segmentation: Segmentation, lexicon: Lexicon, profiles: ProfileModel | None = None
) -> ClassContext:
    """Drafts without values for every span."""
    drafts: list[Draft] = []
    spans = segmentation.spans
    for k, span in enumerate(spans):
        before = spans[k - 1].end if k else 0
        after = spans[k + 1].start if k + 1 < len(spans) else len(tagged.words)
        drafts.append(Draft(span, before, after))
    return ClassContext(tagged, lexicon, MentionIndex(tagged.mentions), drafts, profiles or load_profiles(lexicon))
