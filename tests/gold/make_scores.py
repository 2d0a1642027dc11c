"""Score every annotated class in every caption style, and keep the figures.

usage: make_scores.py [--jobs N] [--write NAME] [--history WHAT]

Prints two tables: all classes that rules and weights were made with, and those held back (``split.toml``).
With ``--write NAME`` a third, of the first thirty classes, comes before them; they also go into DEVELOPERS.md between
its marks, and as rows NAME into ``scores.csv``.
With ``--history "what was changed"`` one row of the figures of tuning and held-back classes goes into ``HISTORY.csv``.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import tomllib
from pathlib import Path

GOLD = Path(__file__).resolve().parent
ROOT = GOLD.parent.parent
sys.path.insert(0, str(GOLD))

from compile_class import STYLES, write_class  # noqa: E402
from history import append_row, describe_part  # noqa: E402

from setdown.cli.batch import run_jobs  # noqa: E402
from setdown.cli.score import judge_loaded, load_rows  # noqa: E402
from setdown.evaluate import (  # noqa: E402
    Measures,
    Trust,
    append_history,
    format_table,
    format_trust,
    total_measures,
    total_trust,
)
from setdown.sheet import read_sheet_csv  # noqa: E402

HEARD, SUFFIXES = GOLD / "asr", (".vtt", ".words.json")
BEGIN, END = "<!-- scores -->", "<!-- /scores -->"
HEADINGS = {
    "first thirty": "The first thirty classes, d1 to i7, which the weights were learned from too",
    "tuning": "All classes that rules and weights were made with",
    "held back": "Classes held back: nothing was learned from them",
}
FIRST = "defhi"  # letters of the first thirty


def split_classes() -> dict[str, list[Path]]:
    """The scripts of each part of the split."""
    held_back = set(tomllib.loads((GOLD / "split.toml").read_text(encoding="utf-8"))["held_back"])
    parts: dict[str, list[Path]] = {part: [] for part in HEADINGS}
    for script in sorted((GOLD / "scripts").glob("*.script")):
        parts["held back" if script.stem.split("-")[0] in held_back else "tuning"].append(script)
        if script.stem[0] in FIRST:
            parts["first thirty"].append(script)
    return parts


def list_files(scripts: list[Path], folder: Path) -> list[tuple[str, Path, Path]]:
    """(style, gold sheet, transcript) of some classes: compiled into ``folder``, and as a recogniser heard them."""
    for script in scripts:
        write_class(script, folder)
    names = [script.stem for script in scripts]
    files = [(style, folder / f"{name}.gold.csv", folder / (name + style)) for style in STYLES for name in names]
    heard = [(suffix, HEARD / f"{name}.gold.csv", HEARD / (name + suffix)) for suffix in SUFFIXES for name in names]
    return files + [(f".asr{suffix}", gold, file) for suffix, gold, file in heard if file.exists()]


def score_part(
    scripts: list[Path], folder: Path, jobs: int, styles: tuple[str, ...] = ()
) -> tuple[dict[str, Measures], dict[str, Trust]]:
    """The totals of some classes for each caption style: measures, and what confidences and queries are worth."""
    files = [f for f in list_files(scripts, folder) if not styles or f[0] in styles]
    made = run_jobs(load_rows, [str(file) for _, _, file in files], jobs)
    results: dict[str, list[tuple[Measures, Trust]]] = {}
    for (style, gold, _), loaded in zip(files, made, strict=True):
        if loaded.error:
            raise loaded.error
        results.setdefault(style, []).append(judge_loaded(read_sheet_csv(gold), loaded))
    totals = {style: total_measures([m for m, _ in both]) for style, both in results.items()}
    return totals, {style: total_trust(t for _, t in both) for style, both in results.items()}


def format_part(totals: dict[str, Measures], trusts: dict[str, Trust]) -> str:
    """The table of a part, and below it calibration error and triage of each style."""
    lines = [f"`{style}`: {line}" for style, trust in trusts.items() for line in format_trust(trust)]
    return format_table(totals) + "\n\n" + "  \n".join(lines)


def replace_between(text: str, made: str, begin: str = BEGIN, end: str = END) -> str:
    """The text with what stands between the marks replaced."""
    before, mark, rest = text.partition(begin)
    _, found, after = rest.partition(end)
    if not mark or not found:
        raise SystemExit(f"DEVELOPERS.md has no {begin} … {end}")
    return f"{before}{begin}\n{made}\n{end}{after}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--write", metavar="NAME", help="keep the figures under this name, e.g. a version")
    parser.add_argument("--history", metavar="WHAT", help="add the figures to HISTORY.csv, with what was changed")
    options = parser.parse_args()
    tables = []
    cells: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder:
        for part, scripts in split_classes().items():
            if not scripts or (part == "first thirty" and not options.write):
                continue
            totals, trusts = score_part(scripts, Path(folder), options.jobs)
            tables.append(f"{HEADINGS[part]} ({len(scripts)}):\n\n{format_part(totals, trusts)}")
            print(tables[-1] + "\n", flush=True)
            if part != "first thirty":
                cells |= describe_part(part, totals, trusts)
            if options.write:
                append_history(GOLD / "scores.csv", f"{options.write} {part}", totals)
    if options.history:
        append_row(GOLD / "HISTORY.csv", options.history, cells)
    if options.write:
        document = ROOT / "DEVELOPERS.md"
        made = f"Scores of {options.write}\n\n" + "\n\n".join(tables)
        document.write_text(replace_between(document.read_text(encoding="utf-8"), made), encoding="utf-8")


if __name__ == "__main__":
    main()
