"""A reviewer's whole session in a real browser, by mouse and by keyboard, and what is in the file afterwards."""

from __future__ import annotations

import json

import pytest

from setdown.check import check_document
from setdown.review.store import open_routine

pytestmark = pytest.mark.slow


def wait_said(page, words: str) -> None:
    """The live region says it."""
    page.wait_for_function("(words) => document.getElementById('live').textContent.includes(words)", arg=words)


def find_cell(page, set_id: str, field: str):
    return page.locator(f'tr[data-set="{set_id}"] [data-field="{field}"]')


def test_a_whole_session(serve, sample, open_page):
    """Three queries, a set split, a load mended, undo, redo, save, sign off: all of it is in the file."""
    path = sample("allotment-kettlebell")
    before = open_routine(path).routine
    assert len(before.queries) == 3
    run = serve(path)
    page = open_page(run.url)
    assert page.locator("#queries-note").inner_text().startswith("3 of 3 open, 1 must")

    # Signing off is refused as long as a query must be answered, and says which.
    page.click("#signoff")
    assert "must be answered first" in page.locator("#ask h2").inner_text()
    page.locator("#ask .query-list button").first.click()
    must = next(q for q in before.queries if q.severity == "must")
    assert must.message in page.locator("#query-card").inner_text()

    # The first two by mouse, one of them back to front; the third by keyboard alone.
    page.click("#query-back")
    page.locator("#query-card .offer").first.click()
    wait_said(page, "answered with deadlift")
    page.wait_for_function("() => document.getElementById('queries-note').textContent.startsWith('2 of 3')")
    assert must.message in page.locator("#query-card").inner_text()
    page.locator('#query-card [data-answer="forward-arm-swing"]').click()
    wait_said(page, "answered with forward-arm-swing")
    page.keyboard.press("Alt+2")
    page.keyboard.press("0")
    wait_said(page, "left as it is")
    page.wait_for_function("() => document.getElementById('queries-note').textContent.startsWith('0 of 3')")

    # A set is split from the keyboard, at the place that is proposed.
    swing = max((x for _, _, x in before.iter_sets()), key=lambda x: x.end - x.start)
    find_cell(page, swing.id, "exercise").click()
    page.keyboard.press("s")
    page.wait_for_selector("#ask[open]")
    page.keyboard.press("Enter")
    wait_said(page, "split at")
    assert page.locator("tr[data-set]").count() == len(before.iter_sets()) + 1

    # A load that was missed is put in: Enter opens the cell, its parts are boxes of choices.
    find_cell(page, swing.id, "load").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("14")
    page.get_by_label("Unit").select_option("kg")
    page.get_by_role("button", name="Set load").click()
    wait_said(page, "load")
    page.wait_for_function(
        "(id) => document.querySelector(`tr[data-set='${id}'] [data-field=load]`).innerText.includes('14 kg')",
        arg=swing.id,
    )
    page.keyboard.press("Control+z")
    wait_said(page, "Undone")
    assert "14 kg" not in find_cell(page, swing.id, "load").inner_text()
    page.keyboard.press("Control+Shift+z")
    wait_said(page, "Done again")
    assert "14 kg" in find_cell(page, swing.id, "load").inner_text()

    # One that was misheard is put right by mouse alone: the first click chooses the cell, the next one opens it.
    misheard = next(x for _, _, x in before.iter_sets() if x.load and x.id != swing.id)
    wrong, right = f"{misheard.load.value:f}", f"{misheard.load.value + 4:f}"
    find_cell(page, misheard.id, "load").click()
    find_cell(page, misheard.id, "load").click()
    assert page.get_by_label("Number").input_value() == wrong
    page.get_by_label("Number").fill(right)
    page.get_by_role("button", name="Set load").click()
    wait_said(page, f"load {wrong} {misheard.load.unit}")
    page.click("#undo")
    wait_said(page, "Undone")
    assert wrong in find_cell(page, misheard.id, "load").inner_text()
    page.click("#redo")
    wait_said(page, "Done again")
    assert right in find_cell(page, misheard.id, "load").inner_text()

    page.keyboard.press("Control+s")
    wait_said(page, "Saved")
    assert page.locator("#saved").inner_text() == "all saved"
    page.click("#signoff")
    page.keyboard.press("Enter")
    wait_said(page, "Signed off by Ada Lorrimer")
    assert page.locator("#status").inner_text().startswith("reviewed by Ada Lorrimer")

    after = open_routine(path).routine
    sets = {x.id: x for _, _, x in after.iter_sets()}
    assert len(sets) == len(before.iter_sets()) + 1
    assert (float(sets[swing.id].load.value), sets[swing.id].load.unit) == (14.0, "kg")
    assert sets[swing.id].origin["load"] == "edited"
    assert sets[swing.id].edited["load"].by == "Ada Lorrimer"
    assert sets[misheard.id].load == misheard.load.model_copy(update={"value": misheard.load.value + 4})
    assert sets[misheard.id].edited["load"].by == "Ada Lorrimer"
    halves = [x for x in sets.values() if swing.start <= x.start < swing.end]
    assert [halves[0].start, halves[-1].end] == [swing.start, swing.end]
    assert len(halves) == 2
    assert halves[0].end == halves[1].start
    assert sets[must.set].exercise.name == "forward arm swing"
    assert sorted(q.state for q in after.queries) == ["accepted", "accepted", "dismissed"]
    assert after.status == "reviewed"
    assert [s.by for s in after.signatures] == ["Ada Lorrimer"]
    checked = check_document(path.read_text(encoding="utf-8"), str(path))
    assert not [f for f in checked.findings if f.severity == "must"]
    log = [json.loads(line) for line in path.with_name(path.name[:-5] + ".log.jsonl").read_text().splitlines()]
    assert any("14 kg" in what for revision in log for what in revision["what"])
    assert run.stop() == 130
    assert not list(path.parent.glob(".*.unsaved*"))  # all is saved: nothing is offered at the next start


def test_choosing_one_shows_the_others(serve, sample, open_page):
    """A set chosen in the time line, the table or the transcript is chosen in the other two."""
    path = sample("quayside-strength")
    routine = open_routine(path).routine
    sets = [x for _, _, x in routine.iter_sets()]
    page = open_page(serve(path).url)

    page.locator(f"#bar-{sets[3].id}").click()
    assert "chosen" in page.locator(f'tr[data-set="{sets[3].id}"]').get_attribute("class")
    quotes = {e.quote for pieces in sets[3].evidence.values() for e in pieces}
    marks = {words.split("\n")[0] for words in page.locator("#cues mark").all_inner_texts()}
    assert marks & quotes

    find_cell(page, sets[5].id, "exercise").click()
    assert page.locator(f"#bar-{sets[5].id}").get_attribute("aria-selected") == "true"
    assert page.locator("#cues .cue.during").count() >= 1

    page.locator("#cues .cue", has_text="halfway don't let the knees fall in").locator("p").click()
    squat = next(x for x in sets if x.start < 137.9 < x.end)
    assert page.locator("#line-sets").get_attribute("aria-activedescendant") == f"bar-{squat.id}"
    assert "chosen" in page.locator(f'tr[data-set="{squat.id}"]').get_attribute("class")


def test_every_cell_by_keyboard(serve, sample, open_page):
    """Arrow keys, Enter, the choices that the model allows, Tab to go on, Esc to leave; what cannot be is explained."""
    path = sample("quayside-strength")
    routine = open_routine(path).routine
    one = routine.iter_sets()[2][2]
    page = open_page(serve(path).url)
    page.keyboard.press("Alt+3")
    find_cell(page, one.id, "reps").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("a few")
    page.keyboard.press("Enter")
    page.wait_for_selector(".cell-hint.bad")
    assert "8-10" in page.locator(".cell-hint.bad").inner_text()
    page.keyboard.press("Control+a")
    page.keyboard.type("8-10")
    page.keyboard.press("Tab")
    wait_said(page, "reps 10 → 8-10")
    assert page.evaluate("document.activeElement.dataset.field") == "work_s"
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate("document.activeElement.dataset.field") == "side"
    page.keyboard.press("Enter")
    options = page.locator("select.cell-input option").evaluate_all("all => all.map(o => o.value)")
    assert options == ["", "left", "right", "each"]
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    wait_said(page, "side nothing → left")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Escape")
    assert find_cell(page, one.id, "side").inner_text().startswith("left")
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    page.keyboard.press("Control+a")
    page.keyboard.type("goblet sq")
    page.wait_for_selector("#movements li")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    wait_said(page, "→ goblet squat")
    assert find_cell(page, one.id, "exercise").locator("bdi").inner_text() == "goblet squat"
