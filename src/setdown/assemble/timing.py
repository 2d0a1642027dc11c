"""When a set starts and ends, from its words, the silences around them, and how well the captions tell time."""

from __future__ import annotations

from setdown.assemble.context import ClassContext, Draft

LONG_GAP_MS = 1_500


def time_draft(context: ClassContext, draft: Draft, before: Draft | None = None) -> tuple[int, int, int]:
    """(start, end, margin) of a set in ms.

    A go-word right before a silence starts the work at once; without one the silence still belongs to getting ready,
    and it is taken when the set ``before`` is a silent one that fills it. The margin is half the silence that was
    decided on, and never less than the transcript's own resolution.
    """
    transcript = context.tagged.transcript
    words = transcript.words
    first, last = draft.span.start, draft.span.end
    start = words[-1].end if first >= len(words) else words[first].start
    margin = transcript.resolution
    if 0 < first < len(words):
        silence = words[first].start - words[first - 1].end
        if silence > LONG_GAP_MS:
            margin = max(margin, silence // 2)
            taken = before is not None and before.span.start == before.span.end == first
            if first == last or (not taken and _starts_before_silence(context, draft)):
                start = words[first - 1].end
    end = words[last - 1].end if last > 0 else start
    if last == first and first < len(words):
        end = words[first].start
    if 0 < last < len(words) and last > first and context.index.has("stop", last, last + 2):
        silence = words[last].start - words[last - 1].end
        if silence > LONG_GAP_MS:
            end = words[last].start
    return start, max(start, end), margin


def _starts_before_silence(context: ClassContext, draft: Draft) -> bool:
    first = draft.span.start
    index = context.index
    if index.has("go", first, first + 2):
        return False
    return any(m.end >= first - 1 for m in index.within("go", first - 6, first)) or any(
        m.end >= first for m in index.within("countdown", first - 6, first)
    )
