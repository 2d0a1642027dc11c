"""What each part of the extraction brings: the annotated classes scored with one part at a time switched off.

usage: python tests/gold/ablate.py [--limit 24] [--part "held back"] [--style .vtt --style .txt] [--write]

Prints a Markdown table: F1 of rows, perfect rows and effort saved in per cent, with everything and without each part.
Weights are not learned anew, so that a part's loss is the most that it can bring; but the segmenter's readiness to
cut is set so that it finds as many sets as with everything, since a feature that is missing shifts the balance.
``--write`` puts the table into DEVELOPERS.md between its marks.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from gold.make_scores import list_files, replace_between, split_classes
from setdown.assemble.announced import REACH
from setdown.assemble.build import build_routine
from setdown.assemble.context import lay_out
from setdown.assemble.decide import decide_class
from setdown.assemble.ranker import load_ranker_weights
from setdown.evaluate import Measures, score_rows, total_measures
from setdown.lexicon import Lexicon, load_lexicon
from setdown.lexicon.profiles import ProfileModel, gather_texts, learn_profiles, load_profiles
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.segment import Segmentation
from setdown.read import read_transcript
from setdown.segment.boundaries import score_boundaries
from setdown.segment.decode import decode_spans
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.weights import SegmentWeights, index_lexical, load_weights
from setdown.sheet import read_sheet_csv, routine_to_rows
from setdown.tag import tag_transcript

ROOT = Path(__file__).resolve().parents[2]
MARKS = ("<!-- ablation -->", "<!-- /ablation -->")
SILENCE = ("gap>", "pause ", "silence@", "pace@")
WORDS = ("w-", "w0", "w1", "w2", "ww")
ORDER = ("expected ", "successor", "restart", "opener", "listed", "done ", "new", "same")
DECLARABLE = ("reps", "work_s", "sets", "load", "interval", "emom", "scheme", "moves")
LEAST_BIAS, MOST_BIAS, HALVINGS = -12.0, 12.0, 9
Profiles = Callable[[Lexicon], ProfileModel]


@dataclass(frozen=True, slots=True)
class Part:
    """What is taken away: mentions of some kinds, features of boundaries and of names by prefix, profiles, plans."""

    name: str
    kinds: frozenset[str] = frozenset()
    boundary: tuple[str, ...] = ()
    naming: tuple[str, ...] = ()
    profiles: Profiles = load_profiles
    declared: bool = True


def make_no_profiles(lexicon: Lexicon) -> ProfileModel:
    """Profiles that know no movement."""
    return ProfileModel([], {})


def leave_out_coached(lexicon: Lexicon) -> ProfileModel:
    """Profiles made from names and descriptions alone."""
    names = frozenset(path.name for path in (lexicon.folder / "coached").glob("*.csv"))
    return learn_profiles(gather_texts(lexicon, names))


PARTS = (
    Part("nothing"),
    Part("near matches of misheard names", frozenset({"movement_guess"})),
    Part("moves that are described", frozenset({"described"})),
    Part("coaching lines", profiles=leave_out_coached),
    Part("profiles of how a move is taught", profiles=make_no_profiles),
    Part("counting", frozenset({"count", "remaining", "countdown"})),
    Part("go-words and stop-words", frozenset({"go", "stop", "last", "halfway", "keep_on"})),
    Part("silences and pace", boundary=SILENCE),
    Part("the words beside a boundary", boundary=WORDS),
    Part("tense, negation, likening, options", frozenset({"negated", "likened", "past", "future", "option", "aside"})),
    Part("what was declared", frozenset({"announce"}), declared=False),
    Part("the order of moves", naming=ORDER),
    Part("left, right and each side", frozenset({"side_left", "side_right", "side_other", "each_side", "alternate"})),
)


def extract_without(
    part: Part, tagged: TaggedTranscript, lexicon: Lexicon, profiles: ProfileModel, sets: int | None = None
) -> list[dict[str, str]]:
    """The sheet's rows of one class with a part switched off (and without asking whether it is a class).

    ``sets`` is how many sets to find, about; by default as many as the weights make of it.
    """
    kept = tuple(m for m in tagged.mentions if m.kind not in part.kinds)
    tagged = replace(tagged, mentions=kept)
    signals = gather_signals(tagged)
    weights = _strip_boundary(load_weights()[signals.regime], part.boundary)
    segmentation = cut_class(tagged, signals, weights, sets)
    if not part.declared:
        tagged = replace(tagged, mentions=_drop_declared(kept, segmentation, tagged))
    context = lay_out(tagged, segmentation, lexicon, profiles)
    rankers = dict(load_ranker_weights())
    rankers["exercise"] = {k: v for k, v in rankers["exercise"].items() if not _has_part(k, part.naming)}
    decide_class(context, rankers)
    return routine_to_rows(build_routine(context)[0])


def cut_class(tagged: TaggedTranscript, signals: Signals, weights: SegmentWeights, sets: int | None) -> Segmentation:
    """The spans of a class; with ``sets``, under the bias that gives as many, found by halving."""
    scores = score_boundaries(signals, weights)
    spans = decode_spans(tagged, signals, scores, weights)
    low, high = LEAST_BIAS, MOST_BIAS
    for _ in range(HALVINGS if sets is not None else 0):
        if len(spans) == sets:
            break
        bias = (low + high) / 2
        spans = decode_spans(tagged, signals, scores, replace(weights, bias=bias))
        low, high = (bias, high) if len(spans) < (sets or 0) else (low, bias)
    return Segmentation(tuple(spans))


def _has_part(name: str, prefixes: tuple[str, ...]) -> bool:
    """Whether the feature, or one side of the conjunction that it is, begins with a prefix."""
    return bool(prefixes) and any(piece.startswith(prefixes) for piece in name.split(" | "))


def _strip_boundary(weights: SegmentWeights, prefixes: tuple[str, ...]) -> SegmentWeights:
    if not prefixes:
        return weights
    dense = {k: v for k, v in weights.dense.items() if not k.startswith(prefixes)}
    lexical = {k: v for k, v in weights.lexical.items() if not k.startswith(prefixes)}
    return replace(weights, dense=dense, lexical=lexical, by_place=index_lexical(lexical))


def _drop_declared(
    mentions: Sequence[Mention], segmentation: Segmentation, tagged: TaggedTranscript
) -> tuple[Mention, ...]:
    """Without the numbers that were said for everything: before the first set, or beside a word that announces."""
    first = segmentation.spans[0].start if segmentation.spans else len(tagged.words)
    announcing = [m for m in tagged.mentions if m.kind == "announce"]

    def declares(m: Mention) -> bool:
        return m.kind in DECLARABLE and (
            m.start < first - 30 or any(m.start - REACH <= a.start < m.end + REACH for a in announcing)
        )

    return tuple(m for m in mentions if not declares(m))


def run_ablation(scripts: list[Path], styles: Sequence[str]) -> dict[str, Measures]:
    """Totals over classes and styles for every part."""
    lexicon = load_lexicon()
    with tempfile.TemporaryDirectory() as folder:
        files = [f for f in list_files(scripts, Path(folder)) if f[0] in styles]
        classes = [(read_sheet_csv(gold), tag_transcript(read_transcript(file), lexicon)) for _, gold, file in files]
    totals = {}
    wanted: list[int | None] = [None] * len(classes)
    for part in PARTS:
        profiles = part.profiles(lexicon)
        rows = [
            extract_without(part, tagged, lexicon, profiles, sets)
            for (_, tagged), sets in zip(classes, wanted, strict=True)
        ]
        if part.name == "nothing":
            wanted = [len(found) for found in rows]
        made = [score_rows(gold, found)[0] for (gold, _), found in zip(classes, rows, strict=True)]
        totals[part.name] = total_measures(made)
    return totals


def format_ablation(totals: dict[str, Measures]) -> str:
    """One row a part: the measures, and how much effort saved the part brings."""
    lines = ["| without | F1 | sets found | perfect | saved | loss |", "|---|--:|--:|--:|--:|--:|"]
    whole = totals["nothing"]["effort_saved"] or 0.0
    for name, measures in totals.items():
        keys = ("row_f1", "seg_f1", "perfect_rows", "effort_saved")
        cells = [f"{100 * (measures[key] or 0.0):.1f}" for key in keys]
        loss = 100 * (whole - (measures["effort_saved"] or 0.0))
        lines.append(f"| {name} | {' | '.join(cells)} | {loss:.1f} |")
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--limit", type=int, default=24)
    parser.add_argument("--part", default="held back", choices=["held back", "tuning"])
    parser.add_argument("--style", action="append")
    parser.add_argument("--write", action="store_true")
    options = parser.parse_args()
    styles = options.style or [".vtt", ".txt"]
    scripts = split_classes()[options.part]
    scripts = scripts[:: max(len(scripts) // options.limit, 1)][: options.limit]
    table = format_ablation(run_ablation(scripts, styles))
    made = f"{len(scripts)} classes ({options.part}), {' and '.join(f'`{s}`' for s in styles)}:\n\n{table}"
    print(made)
    if options.write:
        document = ROOT / "DEVELOPERS.md"
        text = replace_between(document.read_text(encoding="utf-8"), made, *MARKS)
        document.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
