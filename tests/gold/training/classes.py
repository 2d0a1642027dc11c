"""The annotated classes as the trainer sees them: tagged transcripts in their caption styles, with their gold sets.

``.asr.vtt`` and ``.asr.words.json`` are what a recogniser heard of some classes (``../asr``), with their own gold.
"""

from __future__ import annotations

import bisect
import re
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
GOLD = HERE.parent
sys.path.insert(0, str(GOLD))

import compile_class  # noqa: E402

from setdown.lexicon import load_lexicon  # noqa: E402
from setdown.model.mention import TaggedTranscript  # noqa: E402
from setdown.read import read_transcript  # noqa: E402
from setdown.sheet import read_sheet_csv  # noqa: E402
from setdown.tag import tag_transcript  # noqa: E402

STYLES = (".vtt", ".rolling.vtt", ".words.json", ".txt")
HEARD = ".asr"  # begins the styles that a recogniser wrote


@dataclass(slots=True)
class AnnotatedClass:
    """One class in one style. ``spans`` are the gold sets as word ranges of this transcript, in order of ``gold``."""

    name: str
    style: str
    tagged: TaggedTranscript
    gold: list[dict[str, str]]
    spans: list[tuple[int, int]]


def list_scripts() -> list[Path]:
    """All scripts of tests/gold, by name."""
    return sorted((GOLD / "scripts").glob("*.script"))


def held_back_names() -> tuple[str, ...]:
    """Prefixes of the classes that only measure."""
    return tuple(tomllib.loads((GOLD / "split.toml").read_text(encoding="utf-8"))["held_back"])


def is_held_back(name: str) -> bool:
    return name.split("-", 1)[0] in held_back_names()


def letters(text: str) -> int:
    return len(re.sub(r"\W", "", text))


def load_classes(scripts: list[Path], out: Path, styles: tuple[str, ...] = STYLES) -> list[AnnotatedClass]:
    """Compile, read and tag the scripts; a style that a recogniser wrote is there only for the classes it heard."""
    lexicon = load_lexicon()
    found: list[AnnotatedClass] = []
    for script in scripts:
        made = compile_class.write_class(script, out)
        for style in styles:
            if not style.startswith(HEARD):
                found.append(_load_one(script.stem, style, out, made.words, made.rows, lexicon))
            elif (heard := GOLD / "asr" / (script.stem + style.removeprefix(HEARD))).exists():
                found.append(_load_heard(heard, script.stem, style, lexicon))
    return found


def load_not_classes(half: str) -> list[AnnotatedClass]:
    """Transcripts that are no classes, of the half ``train`` or ``test``: nothing in them is a set."""
    folder = GOLD / "not_classes"
    if not (folder / "split.toml").exists():
        return []
    wanted = set(tomllib.loads((folder / "split.toml").read_text(encoding="utf-8"))[half])
    lexicon = load_lexicon()
    paths = [p for p in sorted(folder.iterdir()) if p.suffix in (".vtt", ".srt", ".txt")]
    return [
        AnnotatedClass(f"not-{p.stem}", p.suffix, tag_transcript(read_transcript(p), lexicon), [], [])
        for p in paths
        if p.stem in wanted or p.name in wanted
    ]


def _load_heard(path: Path, name: str, style: str, lexicon: Any) -> AnnotatedClass:
    """A recogniser's transcript: its gold is timed on the sound, so that times find the words."""
    tagged = tag_transcript(read_transcript(path), lexicon)
    gold = read_sheet_csv(path.parent / f"{name}.gold.csv")
    middles = [(w.start + w.end) / 2000 for w in tagged.transcript.words]
    spans = []
    for row in gold:
        start = bisect.bisect_left(middles, float(row["start"]))
        spans.append((start, max(start, bisect.bisect_left(middles, float(row["end"])))))
    return AnnotatedClass(name, style, tagged, gold, spans)


def _load_one(
    name: str, style: str, out: Path, words: list[Any], rows: list[dict[str, Any]], lexicon: Any
) -> AnnotatedClass:
    tagged = tag_transcript(read_transcript(out / f"{name}{style}"), lexicon)
    times = [w[1] for w in words]
    total = [0]
    for w in words:
        total.append(total[-1] + letters(w[0]))
    own = [0]
    for word in tagged.transcript.words:
        own.append(own[-1] + letters(word.text))

    def locate(seconds: float) -> int:
        target = total[bisect.bisect_left(times, seconds - 0.05)]
        at = bisect.bisect_left(own, target)
        if at > 0 and (at == len(own) or own[at] - target > target - own[at - 1]):
            at -= 1
        return at

    spans = []
    for row in rows:
        start = locate(float(row["start"]))
        spans.append((start, max(start, locate(float(row["end"])))))
    gold = [{k: str(v) for k, v in row.items()} for row in rows]
    return AnnotatedClass(name, style, tagged, gold, spans)
