"""Learn the segmenter's and the rankers' weights from the annotated classes and write them beside the code.

usage: python tests/gold/train_weights.py [--folds 5] [--write] [--held-back] [--style .txt ...]

Without ``--write`` nothing is stored: the figures are cross-validated over the tuning classes (a class is never in
its own training set). What the confidences are worth is learned from those cross-validated decisions, and written with
the weights. ``--held-back`` also scores the held-back classes with weights learned from all tuning classes.
Needs the extra ``train`` (numpy, scikit-learn). Deterministic: the same classes give the same weights.
"""

from __future__ import annotations

import argparse
import json
import pickle
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent))

from training.boundaries import Example, make_example
from training.calibration import decide_results, fit_calibration, print_trust
from training.classes import STYLES, is_held_back, list_scripts, load_classes, load_not_classes
from training.gate import train_gate
from training.heard import HEARD, build_profiles, list_heard, write_heard
from training.rankers import collect_all, train_rankers
from training.scoring import Result, score_classes
from training.segmenter import Tables, add_spans, make_span_examples, segment, train_boundary_tables
from training.thinned import thin_classes

from setdown.lexicon import load_lexicon
from setdown.lexicon.profiles import COMPILED, fingerprint_sources, format_profiles, gather_texts, learn_profiles
from setdown.model.segment import Segmentation
from setdown.segment.gate import score_gate

SAME_AS_ANOTHER = (".rolling.vtt",)  # the words and times of .words.json: nothing new to learn from
ROOT = Path(__file__).resolve().parents[2]
LEXICON = ROOT / "lexicon"


@cache
def not_class_examples() -> tuple[Example, ...]:
    return tuple(make_example(c) for c in load_not_classes("train"))


def cross_segment(
    examples: dict[tuple[str, str], Example], thinned: list[Example], folds: list[frozenset[str]]
) -> tuple[dict[tuple[str, str], Segmentation], Tables]:
    """Every class segmented by weights that never saw it, and the weights of all together.

    Transcripts that are no classes are folded like the classes, so that spans learn from them as well; ``thinned``
    classes are only learned from.
    """
    known = {key: e for key, e in examples.items() if e.item.style not in SAME_AS_ANOTHER}
    known |= {(e.item.name, f"thinned {e.item.style}"): e for e in thinned}
    others = {(e.item.name, e.item.style): (n % len(folds), e) for n, e in enumerate(not_class_examples())}
    boundaries, lattices = [], []
    for f, fold in enumerate(folds):
        tables = train_boundary_tables(
            [e for key, e in known.items() if key[0] not in fold] + [e for g, e in others.values() if g != f]
        )
        boundaries.append(tables)
        own = [e for key, e in known.items() if key[0] in fold] + [e for g, e in others.values() if g == f]
        lattices.append(
            [(e.signals.regime, made) for e, made in zip(own, make_span_examples(own, tables), strict=True)]
        )
    segmented = {}
    for f, fold in enumerate(folds):
        tables = add_spans(boundaries[f], [x for g, some in enumerate(lattices) if g != f for x in some])
        for key, e in examples.items():
            if key[0] in fold:
                segmented[key] = segment(e, tables)
    everything = train_boundary_tables([*known.values(), *(e for _, e in others.values())])
    return segmented, add_spans(everything, [x for some in lattices for x in some])


def load_cache(path: Path | None) -> tuple[dict[tuple[str, str], Segmentation], Tables] | None:
    """Segmentations and tables of an earlier run (only for repeated runs in which the segmenter does not change)."""
    return pickle.loads(path.read_bytes()) if path and path.exists() else None


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--folds", type=int, default=5)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--held-back", action="store_true")
    parser.add_argument("--style", action="append")
    parser.add_argument("--penalty", type=float, default=1.0)
    parser.add_argument("--cache", type=Path, help="keep the segmentations of the folds in this file")
    parser.add_argument("--rows", action="store_true", help="print what differs in the cross-validated tuning classes")
    args = parser.parse_args()
    styles = tuple(args.style or STYLES)
    lexicon = load_lexicon()
    with tempfile.TemporaryDirectory() as out:
        scripts = [s for s in list_scripts() if args.held_back or not is_held_back(s.stem)]
        classes = load_classes(scripts, Path(out), styles)
    tuning = [c for c in classes if not is_held_back(c.name)]
    examples = {(c.name, c.style): make_example(c) for c in classes}
    names = sorted({c.name for c in tuning})
    folds = [frozenset(n for i, n in enumerate(names) if i % args.folds == f) for f in range(args.folds)]
    # every tuning class is segmented by weights that never saw it, for scoring and for training the rankers
    cached = load_cache(args.cache)
    segmented, tables = cached or cross_segment(
        {(c.name, c.style): examples[c.name, c.style] for c in tuning},
        [make_example(c) for c in thin_classes([c for c in tuning if c.style == styles[0]], lexicon)],
        folds,
    )
    if args.cache and not cached:
        args.cache.write_bytes(pickle.dumps((segmented, tables)))
    heard = list_heard([c for c in tuning if c.style == styles[0]], lexicon)
    profiles = {name: p for fold in folds for p in [build_profiles(lexicon, heard, fold)] for name in fold}
    pool = collect_all([(c, segmented[c.name, c.style]) for c in tuning], lexicon, profiles, args.penalty)
    results: list[Result] = []
    for fold in folds:
        weights = train_rankers(pool, fold, args.penalty)
        results += [(c, segmented[c.name, c.style], weights, profiles[c.name]) for c in tuning if c.name in fold]
    print("cross-validated over the tuning classes")
    score_classes(results, lexicon, styles, rows=args.rows)
    decided = decide_results(results, lexicon)
    print_trust(decided)
    if not (args.write or args.held_back):
        return
    weights = train_rankers(pool, penalty=args.penalty)
    others = [c for half in ("train", "test") for c in load_not_classes(half)]
    spans = {id(c): segment(make_example(c), tables).spans for c in others}
    gate = train_gate(
        [(c.tagged, segmented[c.name, c.style].spans) for c in tuning],
        [(c.tagged, segment(make_example(c), tables).spans) for c in load_not_classes("train")],
    )
    if args.write:
        write(ROOT / "src/setdown/segment/weights.json", {"regimes": tables, "gate": gate})
        write(ROOT / "src/setdown/assemble/weights.json", {"fields": weights})
        write(ROOT / "src/setdown/assemble/confidence.json", fit_calibration(decided))
        write_heard(LEXICON / "coached" / HEARD, heard)
        model = learn_profiles(gather_texts(lexicon))
        (LEXICON / COMPILED).write_text(format_profiles(model, fingerprint_sources(LEXICON)), encoding="utf-8")
    scores = {c.name: round(score_gate(c.tagged, spans[id(c)], gate), 1) for c in others}
    print("gate, transcripts that are no classes (all should be below 0):", scores)
    low = sorted(
        (round(score_gate(c.tagged, segmented[c.name, c.style].spans, gate), 1), c.name + c.style) for c in tuning
    )
    print("gate, lowest classes:", low[:8])
    if args.held_back:
        print("held back")
        everything = build_profiles(lexicon, heard)
        held = [c for c in classes if is_held_back(c.name)]
        score_classes(
            [(c, segment(examples[c.name, c.style], tables), weights, everything) for c in held], lexicon, styles
        )


def write(path: Path, data: dict[str, Any]) -> None:
    path.write_text(json.dumps(data, indent=0, sort_keys=True) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
