"""Learn the segmenter's and the rankers' weights from the annotated classes and write them beside the code.

usage: python tests/gold/train_weights.py [--folds 5] [--write] [--held-back] [--style .txt ...]

Without ``--write`` nothing is stored: the figures are cross-validated over the tuning classes (a class is never in
its own training set). ``--held-back`` also scores the held-back classes with weights learned from all tuning classes.
Needs the extra ``train`` (numpy, scikit-learn). Deterministic: the same classes give the same weights.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parent))

from training.boundaries import Example, as_weights, make_example, train_regime
from training.classes import STYLES, AnnotatedClass, is_held_back, list_scripts, load_classes
from training.rankers import train_rankers
from training.scoring import score_classes

from setdown.lexicon import load_lexicon
from setdown.model.segment import Segmentation
from setdown.segment.decode import decode_spans, score_boundaries

ROOT = Path(__file__).resolve().parents[2]


def segment(example: Example, tables: dict[str, Any]) -> Segmentation:
    weights = as_weights(tables[example.signals.regime])
    return Segmentation(tuple(decode_spans(example.signals, score_boundaries(example.signals, weights), weights)))


def train_boundaries(examples: list[Example]) -> dict[str, Any]:
    tables = {}
    for regime in ("fine", "block"):
        own = [e for e in examples if e.signals.regime == regime]
        tables[regime] = train_regime(regime, own)
    return tables


def fold_of(name: str, folds: int, names: list[str]) -> int:
    return names.index(name) % folds


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--folds", type=int, default=5)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--held-back", action="store_true")
    parser.add_argument("--style", action="append")
    parser.add_argument("--penalty", type=float, default=1.0)
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
    # every tuning class is segmented by weights that never saw it, for scoring and for training the rankers
    segmented: dict[tuple[str, str], Segmentation] = {}
    for fold in range(args.folds):
        inside = [examples[c.name, c.style] for c in tuning if fold_of(c.name, args.folds, names) != fold]
        tables = train_boundaries(inside)
        for c in tuning:
            if fold_of(c.name, args.folds, names) == fold:
                segmented[c.name, c.style] = segment(examples[c.name, c.style], tables)
    results: list[tuple[AnnotatedClass, Segmentation, Any]] = []
    for fold in range(args.folds):
        inside = [(c, segmented[c.name, c.style]) for c in tuning if fold_of(c.name, args.folds, names) != fold]
        weights = train_rankers(inside, lexicon, args.penalty)
        results += [
            (c, segmented[c.name, c.style], weights) for c in tuning if fold_of(c.name, args.folds, names) == fold
        ]
    print("cross-validated over the tuning classes")
    score_classes(results, lexicon, styles, rows=args.rows)
    if not (args.write or args.held_back):
        return
    tables = train_boundaries([examples[c.name, c.style] for c in tuning])
    weights = train_rankers([(c, segmented[c.name, c.style]) for c in tuning], lexicon, args.penalty)
    if args.write:
        write(ROOT / "src/setdown/segment/weights.json", {"regimes": tables})
        write(ROOT / "src/setdown/assemble/weights.json", {"fields": weights})
    if args.held_back:
        print("held back")
        held = [c for c in classes if is_held_back(c.name)]
        score_classes([(c, segment(examples[c.name, c.style], tables), weights) for c in held], lexicon, styles)


def write(path: Path, data: dict[str, Any]) -> None:
    path.write_text(json.dumps(data, indent=0, sort_keys=True) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
