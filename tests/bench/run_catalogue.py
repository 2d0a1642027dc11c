"""Measure the catalogue, and print figures beside their limits.

usage: python tests/bench/run_catalogue.py [--classes N] [--jobs N] [--bulk N,N,N] [--folder FOLDER] [--keep FOLDER]

(a) ``setdown catalogue add`` of N distinct classes, from cold start to finished index (20 classes a second on two
    cores); the share of the work that is extraction; the largest process; and the same again with nothing to do;
(b) catalogues of 1,000, 10,000 and 100,000 classes put in in bulk: build time, size of the file, and the 95th
    percentile of twenty mixed questions in one process (60 ms at 100,000).

Nothing here is a test: a machine under load would fail it. Classes are made once and kept in FOLDER.
"""

from __future__ import annotations

import argparse
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parent), str(Path(__file__).resolve().parent.parent)]

from make_classes import vary_entries, write_classes  # noqa: E402

POOL = 120  # extracted classes that the bulk ones are variations of
BATCH = 500


def print_row(what: str, value: str, limit: str = "", good: bool | None = None) -> None:
    mark = {True: "ok", False: "OVER", None: ""}[good]
    print(f"{what:<58}{value:>16}{limit:>14}  {mark}", flush=True)


def time_add(folder: Path, file: Path, jobs: int) -> tuple[float, float]:
    """Seconds of one ``catalogue add`` in a process of its own, and MB of its largest process."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    start = time.perf_counter()
    command = [sys.executable, "-m", "setdown", "catalogue", "add", str(folder), "-c", str(file), "--jobs", str(jobs)]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    seconds = time.perf_counter() - start
    unit = 1 if sys.platform == "darwin" else 1024  # bytes on macOS, kilobytes on Linux
    return seconds, max(before, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss) * unit / 1e6


def measure_add(folder: Path, count: int, jobs: int, aside: Path) -> None:
    """Part (a)."""
    write_classes(count, folder / f"{count}")
    print_row(f"{count} classes, {jobs} processes, {os.cpu_count()} cores", "measured", "limit")
    for part in sorted({count // 4, count}):
        place = folder / f"{part}"
        write_classes(part, place)
        file = aside / f"add-{part}.setdown"
        seconds, peak = time_add(place, file, jobs)
        rate = part / seconds
        limit, good = ("20", rate >= 20) if part == count else ("", None)
        print_row(f"add {part}: classes a second, cold start to finished", f"{rate:.1f}", limit, good)
        print_row("  largest process", f"{peak:.0f} MB")
    seconds, _ = time_add(folder / f"{count}", file, jobs)
    print_row("  again with nothing to do", f"{seconds:.1f} s")
    shares = measure_shares(folder / f"{count}", aside, min(count, 100))
    print_row("  share of the work that is extraction, one process", f"{100 * shares:.0f} %")


def measure_shares(folder: Path, aside: Path, count: int) -> float:
    """How much of the time to index some classes in this process goes into reading and extracting them."""
    from setdown.catalogue.add import add_classes, list_sources
    from setdown.catalogue.store import open_store

    with closing(open_store(aside / "share.setdown", create=True)) as store:
        sources = list_sources([str(folder)])[: count + 5]
        add_classes(store, sources[:5])  # the lexicon is loaded with the first
        start = time.perf_counter()
        report = add_classes(store, sources[5:])
        return report.extraction_s / (time.perf_counter() - start)


def make_pool(folder: Path) -> list[object]:
    """Extracted classes."""
    from setdown.catalogue.add import list_sources
    from setdown.catalogue.work import Job, index_class, load_own

    write_classes(POOL, folder / f"{POOL}")
    lexicon = load_own(()).fingerprint
    done = [index_class(Job(files, "", lexicon)) for files in list_sources([str(folder / f"{POOL}")])]
    return [one.entry for one in done if one.entry is not None and one.entry.sets]


def build_bulk(pool: list[object], count: int, file: Path) -> float:
    """Seconds to put ``count`` entries into a new catalogue."""
    from setdown.catalogue.store import open_store, write
    from setdown.catalogue.write import put_class

    entries = vary_entries(pool, count)
    spent = 0.0
    with closing(open_store(file, create=True)) as store:
        done = False
        while not done:
            batch = [entry for _, entry in zip(range(BATCH), entries, strict=False)]
            done = len(batch) < BATCH
            start = time.perf_counter()
            with write(store):
                for entry in batch:
                    put_class(store, entry)
            spent += time.perf_counter() - start
    return spent


def list_questions(store: object) -> dict[str, object]:
    """Twenty mixed questions, each a function without arguments."""
    from setdown.catalogue.ask import find_class, find_instructors, want_movement
    from setdown.catalogue.find import find_classes
    from setdown.catalogue.find_like import find_alike
    from setdown.catalogue.query import Query
    from setdown.catalogue.ranges import Range
    from setdown.lexicon import load_lexicon

    lexicon = load_lexicon()
    want = lambda name, **how: want_movement(name, lexicon, {}, **how)  # noqa: E731
    squat, row, pullover, bug = (want(name) for name in ("squat", "bent-over row", "pullover", "dead bug"))
    queries = {
        "squats": Query(movements=(squat,)),
        "pullovers": Query(movements=(pullover,)),
        "dead bugs in the main part": Query(movements=(bug,), sections=("main",)),
        "squats and rows": Query(movements=(squat, row)),
        "glutes": Query(muscles=("glutes",)),
        "lats with 10 to 15 kg": Query(muscles=("latissimus_dorsi",), load=Range(10, 15)),
        "stretches of the hamstrings": Query(muscles=("hamstrings",), patterns=("stretch",)),
        "hinges in supersets": Query(patterns=("hinge",), arrangements=("superset",)),
        "pulses": Query(finishers=("pulses",)),
        "dumbbells and a mat, 25 minutes": Query(only_kit=frozenset({"dumbbell", "mat"}), minutes=Range(None, 25)),
        "no kit": Query(only_kit=frozenset()),
        "kettlebells, chest": Query(kit=("kettlebell",), muscles=("chest",)),
        "20 to 25 minutes of glutes and chest": Query(minutes=Range(20, 25), muscles=("glutes", "chest")),
        "one instructor in a year": Query(
            instructors=find_instructors(store, ["ada quill"]), since="2012-01-01", until="2012-12-31"
        ),
        "one instructor's lunges, left": Query(
            instructors=find_instructors(store, ["bram osk"]), patterns=("lunge",), sides=("left",)
        ),
        "said: furnace": Query(words="furnace"),
        "said: breathe, with planks": Query(words="breathe", movements=(want("plank"),)),
        'said: "one more"': Query(words='"one more"'),
        "nothing answers": Query(movements=(pullover,), sections=("cool_down",), load=Range(50, None)),
    }
    questions = {name: (lambda query=query: find_classes(store, query)) for name, query in queries.items()}
    title = store.execute("SELECT title FROM class WHERE id = 500").fetchone()[0]
    questions["like a class"] = lambda: find_alike(store, find_class(store, title), Query())
    return questions


def measure_questions(file: Path) -> tuple[float, float, str]:
    """Median and 95th percentile in ms over twenty questions, each asked five times, and the slowest by name."""
    from setdown.catalogue.store import open_store

    with closing(open_store(file)) as store:
        times = {}
        for name, ask in list_questions(store).items():
            spent = []
            for _ in range(5):
                start = time.perf_counter()
                ask()
                spent.append(1000 * (time.perf_counter() - start))
            times[name] = spent
    every = sorted(value for spent in times.values() for value in spent)
    slow = sorted(times, key=lambda name: -statistics.median(times[name]))[:4]
    told = ", ".join(f"{name} {statistics.median(times[name]):.0f}" for name in slow)
    return statistics.median(every), every[int(len(every) * 0.95) - 1], told


def measure_bulk(folder: Path, sizes: list[int], aside: Path, keep: bool) -> None:
    """Part (b)."""
    pool = make_pool(folder)
    print(f"\n{'classes':>9}{'build':>10}{'per class':>12}{'file':>10}{'per class':>12}{'median':>10}{'p95':>10}")
    for count in sizes:
        file = aside / f"bulk-{count}.setdown"
        spent = build_bulk(pool, count, file)
        size = file.stat().st_size
        median, late, slow = measure_questions(file)
        mark = "" if count < 100_000 else "  ok" if late <= 60 else "  OVER (60 ms)"
        print(
            f"{count:>9}{spent:>8.1f} s{1000 * spent / count:>9.2f} ms"
            f"{size / 1e6:>7.0f} MB{size / count / 1000:>9.1f} kB"
            f"{median:>7.1f} ms{late:>7.1f} ms{mark}\n{'':>9} slowest, ms: {slow}",
            flush=True,
        )
        if not keep:
            for path in aside.glob(f"{file.name}*"):
                path.unlink()


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--classes", type=int, default=1000)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--bulk", default="1000,10000")
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "setdown-bench-classes")
    parser.add_argument("--keep", type=Path, help="a folder to leave the bulk catalogues in")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        if options.classes:
            measure_add(options.folder, options.classes, options.jobs, Path(name))
        sizes = [int(size) for size in options.bulk.split(",") if size]
        if sizes:
            measure_bulk(options.folder, sizes, options.keep or Path(name), options.keep is not None)


if __name__ == "__main__":
    main()
