"""Effort saved against the strength of corruption, over annotated classes that rules and weights were made with.

usage: python tests/corrupt/curve.py [--limit 6] [--seed 1] [--kind KIND ...] [--steps 4] [--jobs 2] [--plot OUT.png]

Prints one Markdown table row for each kind of corruption, one for all of them but the blocks, and one for all of them:
effort saved in per cent at each strength, and the word error rate at full strength. ``--plot`` draws the same.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "gold")]

from corrupt.captions import Captions, format_vtt, read_captions  # noqa: E402
from corrupt.degrade import KINDS, degrade, measure_word_errors  # noqa: E402
from gold.compile_class import write_class  # noqa: E402
from gold.make_scores import split_classes  # noqa: E402
from setdown.cli.batch import run_jobs  # noqa: E402
from setdown.cli.score import load_rows  # noqa: E402
from setdown.evaluate import score_rows, total_measures  # noqa: E402
from setdown.sheet import read_sheet_csv  # noqa: E402

STYLE = ".clean.vtt"  # the others have been misheard already
Curve = dict[float, float]


def choose_classes(limit: int) -> list[Path]:
    """Tuning classes spread evenly over the list, so that a few are of different kinds."""
    scripts = split_classes()["tuning"]
    step = max(len(scripts) // limit, 1)
    return scripts[::step][:limit]


def list_mixtures(kinds: list[str]) -> dict[str, tuple[str, ...]]:
    """The kinds one by one, then together, without blocks and with them."""
    made = {kind: (kind,) for kind in kinds}
    if len(kinds) == len(KINDS):
        made["all but blocks"] = tuple(k for k in KINDS if k != "blocks")
        made["all"] = tuple(KINDS)
    return made


def run_curves(
    scripts: list[Path], kinds: list[str], strengths: list[float], seed: int, jobs: int
) -> tuple[dict[str, Curve], dict[str, float]]:
    """Effort saved by mixture and strength, and each mixture's word error rate at the greatest strength."""
    mixtures = list_mixtures(kinds)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        said: dict[str, Captions] = {}
        for script in scripts:
            write_class(script, folder)
            said[script.stem] = read_captions(folder / (script.stem + STYLE))
        gold = {name: read_sheet_csv(folder / f"{name}.gold.csv") for name in said}
        files: dict[Path, tuple[str, float, str]] = {}
        errors: dict[str, list[float]] = {mixture: [] for mixture in mixtures}
        for m, (mixture, parts) in enumerate(mixtures.items()):
            for strength in strengths:
                for name, captions in said.items():
                    heard = degrade(captions, strength, seed, parts)
                    file = folder / f"{m}.{strength:.2f}.{name}.vtt"
                    file.write_text(format_vtt(heard), encoding="utf-8")
                    files[file] = (mixture, strength, name)
                    if strength == strengths[-1]:
                        errors[mixture].append(measure_word_errors(captions, heard))
        results: dict[tuple[str, float], list[dict[str, float | None]]] = {}
        for key, loaded in zip(files.values(), run_jobs(load_rows, [str(f) for f in files], jobs), strict=True):
            if loaded.error:
                raise loaded.error
            results.setdefault(key[:2], []).append(score_rows(gold[key[2]], loaded.rows)[0])
    curves: dict[str, Curve] = {mixture: {} for mixture in mixtures}
    for (mixture, strength), measures in results.items():
        curves[mixture][strength] = total_measures(measures)["effort_saved"] or 0.0
    return curves, {mixture: sum(found) / len(found) for mixture, found in errors.items()}


def format_curves(curves: dict[str, Curve], errors: dict[str, float]) -> str:
    strengths = list(next(iter(curves.values())))
    lines = [
        "| corruption | " + " | ".join(f"{s:.2f}" for s in strengths) + " | words wrong |",
        "|---" + "|--:" * (len(strengths) + 1) + "|",
    ]
    for mixture, curve in curves.items():
        cells = [f"{100 * curve[s]:.0f}" for s in strengths]
        lines.append(f"| {mixture} | " + " | ".join(cells) + f" | {100 * errors[mixture]:.0f} % |")
    return "\n".join(lines)


def plot_curves(curves: dict[str, Curve], path: Path) -> None:
    """A PNG with one line a kind. Needs matplotlib."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    figure, axes = pyplot.subplots(figsize=(8, 5), layout="constrained")
    axes.set_prop_cycle(color=pyplot.get_cmap("tab20").colors)
    for mixture, curve in curves.items():
        wide = mixture.startswith("all")
        axes.plot([*curve], [100 * v for v in curve.values()], label=mixture, lw=2.5 if wide else 1.2, marker=".")
    axes.set(xlabel="strength of corruption", ylabel="effort saved, %", ylim=(0, 100))
    axes.grid(alpha=0.3)
    axes.legend(fontsize=8, loc="lower left", ncols=2)
    figure.savefig(path, dpi=120, metadata={"Software": None})


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--limit", type=int, default=6)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", action="append", choices=[*KINDS])
    parser.add_argument("--steps", type=int, default=4)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--plot", type=Path)
    options = parser.parse_args()
    strengths = [k / options.steps for k in range(options.steps + 1)]
    scripts = choose_classes(options.limit)
    curves, errors = run_curves(scripts, options.kind or [*KINDS], strengths, options.seed, options.jobs)
    print(f"effort saved in per cent, {len(scripts)} classes, seed {options.seed}\n\n{format_curves(curves, errors)}")
    if options.plot:
        plot_curves(curves, options.plot)


if __name__ == "__main__":
    main()
