"""Measure time and memory, and print them beside their limits.

usage: python tests/bench/run.py [--quick]

(a) a warm extraction of a 30-minute class of about 4,500 words, against spaCy's blank English tokenizer and one
    PhraseMatcher pass over the names of the same lexicon (limit: three times that and 60 ms);
(b) a cold ``setdown extract`` of the same class: wall time (1.5 s) and peak memory (350 MB), of a new process whose
    modules are compiled to bytecode, as those of an installed package are;
(c) ``setdown version`` (0.25 s);
(d) growth: time a word of 64 classes in one transcript, against one class.

Nothing here is a test: a machine under load would fail it. Times are the least of several runs.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

GOLD = Path(__file__).resolve().parent.parent / "gold"
sys.path.insert(0, str(GOLD))

from compile_class import Word, compile_class, cut_captions, format_vtt  # noqa: E402

LOWER = {"case": "lower"}
WORDS, SECONDS = 4500, 1800.0
SIZES = (1, 2, 4, 8, 16, 32, 64)


def list_words(count: int) -> list[Word]:
    """The first ``count`` words of the annotated classes, one class after the other."""
    words: list[Word] = []
    scripts = sorted((GOLD / "scripts").glob("*.script"))
    while len(words) < count:
        for script in scripts:
            start = words[-1][2] + 5 if words else 0.0
            words += [(text, start + a, start + b) for text, a, b in compile_class(script).words]
            if len(words) >= count:
                break
    return words[:count]


def write_class(folder: Path) -> Path:
    """A class of 4,500 words in half an hour."""
    words = list_words(WORDS)
    scale = SECONDS / words[-1][2]
    file = folder / "bench.vtt"
    captions = cut_captions([(text, a * scale, b * scale) for text, a, b in words], LOWER, long=False)
    file.write_text(format_vtt(captions), encoding="utf-8")
    return file


def write_many(folder: Path, classes: int) -> tuple[Path, int]:
    """The same class several times over in one transcript, and its number of words."""
    script = sorted((GOLD / "scripts").glob("*.script"))[0]
    one = compile_class(script).words
    length = one[-1][2] + 30
    words = [(text, a + n * length, b + n * length) for n in range(classes) for text, a, b in one]
    file = folder / f"many-{classes}.vtt"
    file.write_text(format_vtt(cut_captions(words, LOWER, long=False)), encoding="utf-8")
    return file, len(words)


def time_least(work: Callable[[], object], runs: int) -> float:
    """Seconds of the quickest run."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def keep_bytecode(folder: Path) -> dict[str, str]:
    """The environment of a command whose modules are compiled already, as those of an installed package are."""
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(folder)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    return environment


def time_process(*command: str, runs: int, environment: dict[str, str]) -> tuple[float, float]:
    """Seconds of the quickest run and MB of the largest; the process is waited for alone."""
    seconds, peak = [], 0.0
    for _ in range(runs):
        start = time.perf_counter()
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env=environment)
        _, status, usage = os.wait4(process.pid, 0)
        seconds.append(time.perf_counter() - start)
        assert process.stderr
        message = process.stderr.read().decode()
        process.stderr.close()
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{' '.join(command)} failed: {message}")
        unit = 1 if sys.platform == "darwin" else 1024  # bytes on macOS, kilobytes on Linux
        peak = max(peak, usage.ru_maxrss * unit / 1e6)
    return min(seconds), peak


def time_matcher(file: Path, runs: int) -> float:
    """Seconds of spaCy alone: tokenizing the class's words, and one pass for the names of the lexicon."""
    import spacy
    from spacy.matcher import PhraseMatcher

    from setdown.lexicon import load_lexicon
    from setdown.read import read_transcript

    nlp = spacy.blank("en")
    matcher = PhraseMatcher(nlp.vocab, attr="LOWER")
    names = {name for movement in load_lexicon().movements.values() for name in (movement.name, *movement.names)}
    matcher.add("movement", list(nlp.tokenizer.pipe(sorted(names))))
    text = " ".join(word.text for word in read_transcript(file).words)
    return time_least(lambda: matcher(nlp(text)), runs)


def print_row(what: str, value: str, limit: str, good: bool | None) -> None:
    mark = {True: "ok", False: "OVER", None: ""}[good]
    print(f"{what:<44}{value:>14}{limit:>14}  {mark}", flush=True)


def main(*arguments: str) -> None:
    runs = 2 if "--quick" in arguments else 7
    command = [sys.executable, "-m", "setdown"]
    print_row("", "measured", "limit", None)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        file = write_class(folder)
        environment = keep_bytecode(folder / "bytecode")
        seconds, _ = time_process(*command, "version", runs=runs, environment=environment)
        print_row("setdown version", f"{seconds:.3f} s", "0.25 s", seconds <= 0.25)
        target = str(folder / "bench.json")
        extraction = (*command, "extract", str(file), "-o", target, "--replace")
        seconds, peak = time_process(*extraction, runs=max(runs // 2, 2), environment=environment)
        print_row("cold setdown extract, 30 min", f"{seconds:.2f} s", "1.5 s", seconds <= 1.5)
        print_row("  peak memory", f"{peak:.0f} MB", "350 MB", peak <= 350)

        from setdown import extract
        from setdown.cli.main import spare_collector

        spare_collector()  # as the command does
        extract(file)
        warm = time_least(lambda: extract(file), runs)
        alone = time_matcher(file, runs)
        limit = 3 * alone + 0.06
        print_row("warm extract, 30 min", f"{1000 * warm:.0f} ms", f"{1000 * limit:.0f} ms", warm <= limit)
        print_row("  spaCy tokenizer and one matcher pass", f"{1000 * alone:.0f} ms", "", None)

        first = 0.0
        for classes in SIZES[:3] if "--quick" in arguments else SIZES:
            many, words = write_many(folder, classes)
            each = time_least(lambda many=many: extract(many), 3 if classes < 16 else 1) / words
            first = first or each
            good = None if classes == 1 else each <= 1.5 * first
            limit_text = "" if classes == 1 else f"{1.5e6 * first:.1f} µs"
            print_row(f"time a word, {classes} classes ({words} words)", f"{1e6 * each:.1f} µs", limit_text, good)


if __name__ == "__main__":
    main(*sys.argv[1:])
