"""Measure the review page with a long class, and print it beside the limits.

usage: python tests/bench/review_page.py

A class of 400 sets and 40,000 words (a sample said over and over):
(a) from the start of the command until it prints its address;
(b) from opening the address until everything is on the page, in Debian's chromium (limit: 2 s);
(c) a cell that is changed: the server's answer, and until the page shows it (limit of each: 100 ms);
(d) undo, and going from set to set.

Nothing here is a test: a machine under load would fail it, so the load is printed too. Times are the median of several,
and the worst.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
SAMPLE = "arms-and-shoulders"
SETS, WORDS, EDITS = 400, 40_000, 15


def write_long_class(folder: Path) -> Path:
    """The sample's captions and sets, one time after the other; the path of the routine."""
    from setdown.document import format_routine
    from setdown.model.routine import Routine
    from setdown.read import read_transcript

    def stamp(ms: int) -> str:
        return f"{ms // 3_600_000:02d}:{ms // 60_000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"

    once = read_transcript(ROOT / "samples" / f"{SAMPLE}.vtt")
    length = once.duration + 10_000
    times = WORDS // len(once.words) + 1
    lines = ["WEBVTT", ""]
    for n in range(times):
        for cue in once.cues:
            lines += [f"{stamp(cue.start + n * length)} --> {stamp(cue.end + n * length)}", cue.text, ""]
    data = "\n".join(lines).encode()
    (folder / "long.vtt").write_bytes(data)
    routine = Routine.model_validate_json((ROOT / "samples" / f"{SAMPLE}.routine.json").read_text(encoding="utf-8"))
    document = routine.model_dump(mode="json")
    sections, queries = [], []
    left = SETS
    for n in range(times):
        part = _shift(document, n, length / 1000, len(once.cues))
        for section in part["sections"]:
            for group in section["groups"]:
                group["sets"] = group["sets"][:left]
                left -= len(group["sets"])
            section["groups"] = [g for g in section["groups"] if g["sets"]]
        sections += part["sections"]
        queries += part["queries"]
    kept = {one["id"] for s in sections for g in s["groups"] for one in g["sets"]}
    source = document["source"] | {"name": "long.vtt", "sha256": hashlib.sha256(data).hexdigest()}
    source |= {"duration_s": times * length / 1000, "cue_count": times * len(once.cues)}
    document |= {"sections": sections, "source": source, "declared": [], "equipment": []}
    document["queries"] = [q for q in queries if q["set"] in kept]
    path = folder / "long.routine.json"
    path.write_text(format_routine(Routine.model_validate(document)), encoding="utf-8")
    return path


def _shift(part: object, n: int, seconds: float, cues: int) -> object:
    """A copy of a part of the routine, ``n`` times the length of the class later."""
    if isinstance(part, list):
        return [_shift(one, n, seconds, cues) for one in part]
    if not isinstance(part, dict):
        return part
    moved = {key: _shift(value, n, seconds, cues) for key, value in part.items()}
    for key in ("start", "end", "at"):
        if isinstance(moved.get(key), float | int):
            moved[key] = round(moved[key] + n * seconds, 3)
    if isinstance(moved.get("cue"), int):
        moved["cue"] += n * cues
    if "sets" in moved or "groups" in moved or "start" in moved or "suggestions" in moved:
        for key in ("id", "set"):
            if isinstance(moved.get(key), str) and moved[key]:
                moved[key] += f"-{n}"
    return moved


def main() -> None:
    from playwright.sync_api import sync_playwright

    print(f"{os.cpu_count()} processors, load average {os.getloadavg()[0]:.1f} before it begins")
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        path = write_long_class(Path(name))
        begun = time.perf_counter()
        command = [sys.executable, "-m", "setdown", "review", str(path), "--no-open"]
        run = subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8")
        try:
            assert run.stdout
            url = next(line.strip() for line in run.stdout if line.startswith("http"))
            print_row("the command until it serves", [time.perf_counter() - begun], None)
            browser = playwright.chromium.launch(
                executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
            )
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.goto("about:blank")
            time.sleep(2)  # the lexicon is loaded in the background meanwhile
            measure_opening(page, url)
            measure_edits(page)
            browser.close()
        finally:
            run.terminate()
            run.wait()


def measure_opening(page, url: str) -> None:
    """Seconds from the address to everything shown, as the browser's own clock has it."""
    times = []
    for _ in range(5):
        page.goto("about:blank")
        page.goto(url)
        page.wait_for_selector("html[data-ready]")
        times.append(page.evaluate("performance.getEntriesByName('ready')[0].startTime / 1000"))
    sets, words = page.evaluate(
        """[document.querySelectorAll('tr[data-set]').length,
            [...document.querySelectorAll('.cue p')].map(p => p.textContent).join(' ').split(/\\s+/).length]"""
    )
    print_row(f"opening a class of {sets} sets, {words} words", times, 2.0)


def measure_edits(page) -> None:
    """An edit of a cell as the server answers it, as the page shows it, and undo."""
    ids = page.evaluate("[...document.querySelectorAll('tr[data-set]')].map(row => row.dataset.set)")
    answered = page.evaluate(
        """async ([ids, edits]) => {
          const times = [];
          let { revision } = await (await fetch('api/revision')).json();
          for (let n = 0; n < edits; n++) {
            const edit = { kind: 'set_value', set: ids[(n * 37) % ids.length], field: 'reps', text: String(20 + n) };
            const begun = performance.now();
            const headers = { 'Content-Type': 'application/json' }, body = JSON.stringify({ revision, edit });
            const answer = await fetch('api/edit', { method: 'POST', headers, body });
            revision = (await answer.json()).revision;
            times.push((performance.now() - begun) / 1000);
          }
          return times;
        }""",
        [ids, EDITS],
    )
    print_row("a cell edit, answered", answered, 0.1)
    page.reload()
    page.wait_for_selector("html[data-ready]")
    shown = page.evaluate(
        """async ([ids, edits]) => {
          const talk = await import('./static/talk.js');
          const pause = () => new Promise((go) => setTimeout(go, 250));  // nobody types two edits at once
          const times = { edit: [], undo: [], choose: [] };
          for (let n = 0; n < edits; n++) {
            const set = ids[(n * 53) % ids.length];
            await pause();
            const begun = performance.now();
            await talk.edit({ kind: 'set_value', set, field: 'reps', text: String(50 + n) });
            document.body.getBoundingClientRect();
            times.edit.push((performance.now() - begun) / 1000);
          }
          for (let n = 0; n < edits; n++) {
            await pause();
            const begun = performance.now();
            await talk.change('undo');
            document.body.getBoundingClientRect();
            times.undo.push((performance.now() - begun) / 1000);
          }
          const { choose } = await import('./static/state.js');
          for (let n = 0; n < edits; n++) {
            await pause();
            const begun = performance.now();
            choose(ids[(n * 31) % ids.length], 'load', 'line');
            document.body.getBoundingClientRect();
            times.choose.push((performance.now() - begun) / 1000);
          }
          return times;
        }""",
        [ids, EDITS],
    )
    print_row("  answered and shown on the page", shown["edit"], 0.1)
    print_row("  undone, and shown", shown["undo"], None)
    print_row("choosing another set, everywhere", shown["choose"], None)


def print_row(what: str, seconds: list[float], limit: float | None) -> None:
    middle = statistics.median(seconds)
    mark = "" if limit is None else "ok" if middle < limit else "OVER"
    bound = "" if limit is None else f"{1000 * limit:.0f} ms"
    print(f"{what:<52}{1000 * middle:>8.0f} ms (worst {1000 * max(seconds):.0f}){bound:>12}  {mark}", flush=True)


if __name__ == "__main__":
    main()
