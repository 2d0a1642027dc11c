"""Chapter marks: sections with their groups and sets inside, as WebVTT, and as ``m:ss Title`` lines.

The WebVTT keeps to the form that the standard sets for chapters (W3C, "WebVTT: The Web Video Text Tracks Format", 'file
using only nested cues' and 'chapter title text'): no two cues overlap in part, and titles hold no tags.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from setdown.model.routine import Group, Routine, Section
from setdown.model.timecode import format_clock
from setdown.publish.fixed_text import Strings, load_strings
from setdown.publish.inert import clean_line
from setdown.publish.passes import list_moves
from setdown.publish.vtt import TextCue, format_vtt
from setdown.publish.wording import tell_name

NAMED = 3  # moves that a title names before it says how many more there are


@dataclass(frozen=True, slots=True)
class Chapter:
    """A stretch of the recording in ms, with the stretches inside it."""

    start: int
    end: int
    title: str
    inside: tuple[Chapter, ...] = ()


def list_chapters(routine: Routine) -> list[Chapter]:
    """The sections one after the other without gaps from 0 to the end, their groups inside, the sets inside those.

    What an edited routine has out of order is put in order; what would overlap in part is cut off at the next start.
    """
    strings = load_strings(routine.language)
    sections = sorted(routine.sections, key=lambda section: (section.start, section.end))
    whole = _ms(max([routine.source.duration_s, *(section.end for section in sections)]))
    if not sections and whole:
        return [Chapter(0, whole, clean_line(routine.title) or strings.say("plan.untitled"))]
    chapters = []
    for n, section in enumerate(sections):
        start = _ms(section.start) if n else 0
        end = _ms(sections[n + 1].start) if n + 1 < len(sections) else whole
        if end > start:
            title = strings.say(f"section.{section.kind}")
            chapters.append(Chapter(start, end, title, tuple(_list_groups(section, start, end, strings))))
    return chapters


def format_chapters_vtt(routine: Routine) -> str:
    """All chapters, outer ones before those inside them."""
    cues = [TextCue(c.start, c.end, c.title) for chapter in list_chapters(routine) for c in _walk(chapter)]
    strings = load_strings(routine.language)
    notes = [strings.say("captions.draft_note")] if routine.status == "draft" else []
    return format_vtt(cues, kind="chapters", language=routine.language, notes=notes)


def format_chapter_lines(routine: Routine, gap_s: float = 10.0) -> str:
    """``0:00 Introduction``: one line for a section without sets or a group, the first at 0:00, times rising.

    A line that would come less than ``gap_s`` seconds after the one before is left out.
    """
    strings = load_strings(routine.language)
    lines: list[tuple[int, str]] = []
    for chapter in list_chapters(routine):
        marks = [(chapter.start, chapter.title)]
        if chapter.inside:
            named = [strings.say("chapters.section_group", section=chapter.title, title=chapter.inside[0].title)]
            named += [group.title for group in chapter.inside[1:]]
            starts = [chapter.start, *(group.start for group in chapter.inside[1:])]
            marks = list(zip(starts, named, strict=True))
        for start, title in marks:
            if not lines or start // 1000 - lines[-1][0] >= max(gap_s, 1):
                lines.append((start // 1000, title))
    if lines and routine.status == "draft":
        lines[0] = (lines[0][0], strings.say("chapters.draft_title", title=lines[0][1]))
    return "".join(f"{format_clock(at * 1000)} {clean_line(title)}\n" for at, title in lines)


def _list_groups(section: Section, start: int, end: int, strings: Strings) -> Iterator[Chapter]:
    groups = sorted((g for g in section.groups if g.sets), key=lambda g: min(one.start for one in g.sets))
    for n, group in enumerate(groups):
        first = min(max(start, _ms(min(one.start for one in group.sets))), end)
        until = _ms(min(one.start for one in groups[n + 1].sets)) if n + 1 < len(groups) else end
        until = max(first, min(until, end))
        if until > first:
            start = until
            yield Chapter(first, until, title_group(group, strings), tuple(_list_sets(group, first, until, strings)))


def _list_sets(group: Group, start: int, end: int, strings: Strings) -> Iterator[Chapter]:
    if len(group.sets) < 2:
        return  # it would say the same as the group
    several = len(list_moves(group)) > 1
    sets = sorted(group.sets, key=lambda one: (one.start, one.end))
    for n, one in enumerate(sets):
        first = min(max(start, _ms(one.start)), end)
        until = min(_ms(one.end), _ms(sets[n + 1].start) if n + 1 < len(sets) else end, end)
        if until <= first:
            continue
        start = until
        title = tell_name(one)
        if group.rounds > 1 or not several:
            title = strings.say("chapters.round" if several else "chapters.set", name=title, n=one.round)
        if one.side:
            title = strings.say("chapters.with_side", title=title, side=strings.say(f"chapters.{one.side}"))
        yield Chapter(first, until, title)


def title_group(group: Group, strings: Strings) -> str:
    """The names of a group's moves: ``Row and squat``, ``Cat cow, bird dog, plank and 3 more``."""
    names = [tell_name(move.first) for move in list_moves(group)]
    names = [names[0], *(name[:1].lower() + name[1:] if name[1:2].islower() else name for name in names[1:])]
    if len(names) > NAMED + 1:
        names = [*names[:NAMED], strings.say("list.more", n=len(names) - NAMED)]
    return strings.join(names)


def _walk(chapter: Chapter) -> Sequence[Chapter]:
    return [chapter, *(c for inner in chapter.inside for c in _walk(inner))]


def _ms(seconds: float) -> int:
    return max(0, round(seconds * 1000))
