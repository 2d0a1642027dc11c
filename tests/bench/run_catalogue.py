"""Measure the catalogue, and print figures beside their limits.

usage: python tests/bench/run_catalogue.py [--classes N] [--jobs N] [--bulk N,N,N] [--folder FOLDER] [--keep FOLDER]
                                           [--write]

(a) ``setdown catalogue add`` of N distinct classes, from cold start to finished index (20 classes a second on two
    cores); the share of the work that is extraction; memory over time; and the same again with nothing to do;
(b) catalogues of 1,000, 10,000 and 100,000 classes put in in bulk: build time, size of the file, and the 95th
    percentile of twenty mixed questions in one process (60 ms at 100,000).

Nothing here is a test: a machine under load would fail it. The processor's seconds for each class depend least on what
else the machine does; two cores that are free do two of them in a second. Classes are made once and kept in FOLDER.
``--write`` puts the tables into DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import os
import re
import statistics
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent), str(HERE.parent / "gold")]

from make_classes import vary_entries, write_classes  # noqa: E402
from make_scores import replace_between  # noqa: E402
from watch_process import watch_command  # noqa: E402

POOL = 120  # extracted classes that the bulk ones are variations of
BATCH = 500
DEVELOPERS = HERE.parent.parent / "DEVELOPERS.md"
BEGIN, END = "<!-- catalogue -->", "<!-- end of catalogue -->"
BULK_HEAD = (
    "classes",
    "build",
    "processor",
    "for each class",
    "file",
    "for each class",
    "median find",
    "p95 find",
    "limit",
)


def format_rows(rows: list[tuple[str, ...]]) -> str:
    """A table in Markdown; the first row is its head. Numbers stand to the right."""
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    lines = [
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) + " |" for row in rows
    ]
    rule = ["-" * width if at == 0 else "-" * (width - 1) + ":" for at, width in enumerate(widths)]
    return "\n".join([lines[0], "|" + "|".join(f" {dashes} " for dashes in rule) + "|", *lines[1:]])


def measure_add(folder: Path, count: int, jobs: int, aside: Path) -> str:
    """Part (a) as a table."""
    place = folder / f"{count}"
    write_classes(count, place)
    command = [sys.executable, "-m", "setdown", "catalogue", "add", str(place), "-c", str(aside / "add.setdown")]
    first = watch_command([*command, "--jobs", str(jobs), "--timing"])
    again = watch_command([*command, "--jobs", str(jobs)])
    share = re.search(r"(\d+) % of the work was extraction", first.errors)
    rate, cost = count / first.seconds, first.processor_s / count
    rows = [
        (f"{count} classes, {jobs} processes, {os.cpu_count()} cores", "measured", "limit"),
        ("classes a second, cold start to finished index", f"{rate:.1f}", "20" if rate >= 20 else "20, MISSED"),
        ("processor's seconds for each class", f"{cost:.3f}", "0.100"),
        ("share of the work that is extraction", f"{share[1]} %" if share else "?", ""),
        ("memory of all processes, second quarter of the time", f"{first.find_peak(0.25, 0.5):.0f} MB", ""),
        ("memory of all processes, last quarter", f"{first.find_peak(0.75, 1.0):.0f} MB", "flat"),
        ("again with nothing to do", f"{again.seconds:.1f} s", ""),
    ]
    return format_rows(rows)


def make_pool(folder: Path) -> list[object]:
    """Extracted classes."""
    from setdown.catalogue.add import list_sources
    from setdown.catalogue.work import Job, index_class, load_own

    write_classes(POOL, folder / f"{POOL}")
    lexicon = load_own(()).fingerprint
    done = [index_class(Job(files, "", lexicon)) for files in list_sources([str(folder / f"{POOL}")])]
    return [one.entry for one in done if one.entry is not None and one.entry.sets]


def build_bulk(pool: list[object], count: int, file: Path) -> tuple[float, float]:
    """Seconds on the clock and of the processor to put ``count`` entries into a new catalogue."""
    from setdown.catalogue.store import open_store, write
    from setdown.catalogue.together import keep_together
    from setdown.catalogue.write import put_class

    entries = vary_entries(pool, count)
    spent = processor = 0.0
    with closing(open_store(file, create=True)) as store:
        done = False
        while not done:
            batch = [entry for _, entry in zip(range(BATCH), entries, strict=False)]
            done = len(batch) < BATCH
            start, begin = time.perf_counter(), time.process_time()
            with write(store):
                for entry in batch:
                    put_class(store, entry)
                if done:
                    keep_together(store)
            spent += time.perf_counter() - start
            processor += time.process_time() - begin
    return spent, processor


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


def measure_bulk(folder: Path, sizes: list[int], aside: Path, keep: bool) -> str:
    """Part (b) as a table."""
    pool = make_pool(folder)
    rows: list[tuple[str, ...]] = [BULK_HEAD]
    for count in sizes:
        file = aside / f"bulk-{count}.setdown"
        spent, processor = build_bulk(pool, count, file)
        size = file.stat().st_size
        median, late, slow = measure_questions(file)
        print(f"{count}: slowest questions, ms: {slow}", flush=True)
        limit = "" if count < 100_000 else "60 ms" if late <= 60 else "60 ms, MISSED"
        each = f"{1000 * processor / count:.2f} ms", f"{size / count / 1000:.1f} kB"
        built = f"{spent:.1f} s", f"{processor:.1f} s", each[0], f"{size / 1e6:.0f} MB", each[1]
        rows.append((f"{count:,}", *built, f"{median:.1f} ms", f"{late:.1f} ms", limit))
        if not keep:
            for path in aside.glob(f"{file.name}*"):
                path.unlink()
    return format_rows(rows)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--classes", type=int, default=1000)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--bulk", default="1000,10000")
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "setdown-bench-classes")
    parser.add_argument("--keep", type=Path, help="a folder to leave the bulk catalogues in")
    parser.add_argument("--write", action="store_true", help="put the tables into DEVELOPERS.md")
    options = parser.parse_args()
    tables = []
    with tempfile.TemporaryDirectory() as name:
        if options.classes:
            tables.append(measure_add(options.folder, options.classes, options.jobs, Path(name)))
            print(tables[-1] + "\n", flush=True)
        sizes = [int(size) for size in options.bulk.split(",") if size]
        if sizes:
            tables.append(measure_bulk(options.folder, sizes, options.keep or Path(name), options.keep is not None))
            print(tables[-1], flush=True)
    if options.write:
        text = DEVELOPERS.read_text(encoding="utf-8")
        DEVELOPERS.write_text(replace_between(text, "\n\n".join(tables), BEGIN, END), encoding="utf-8")


if __name__ == "__main__":
    main()
