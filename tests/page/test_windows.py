"""Two windows on one routine, a file that changes outside, a killed process: nothing is lost or written over."""

from __future__ import annotations

import re

import pytest

from setdown.document import format_routine
from setdown.review.store import open_routine

pytestmark = pytest.mark.slow


def change(page, set_id: str, field: str, text: str) -> None:
    """Type a value into a cell."""
    page.locator(f'tr[data-set="{set_id}"] [data-field="{field}"]').focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Control+a")
    page.keyboard.type(text)
    page.keyboard.press("Enter")


def show(page, set_id: str, field: str) -> str:
    return page.locator(f'tr[data-set="{set_id}"] [data-field="{field}"] bdi').first.inner_text()


def wait_said(page, words: str) -> None:
    page.wait_for_function("(words) => document.getElementById('live').textContent.includes(words)", arg=words)


def test_a_second_window_does_not_write_over_the_first(serve, sample, open_page):
    """The later one is told what happened, sees the newest on request, and its own change is made only then."""
    path = sample("quayside-strength")
    one = open_routine(path).routine.iter_sets()[2][2]
    run = serve(path)
    first, second = open_page(run.url), open_page(run.url)
    change(first, one.id, "reps", "11")
    wait_said(first, "reps 10 → 11")
    change(second, one.id, "round", "2")
    notice = second.locator("#notice-conflict")
    notice.wait_for()
    assert "another window" in notice.inner_text()
    assert "reps 10 → 11" in notice.inner_text()
    assert show(second, one.id, "reps") == "10"
    assert show(second, one.id, "round") == "1"  # nothing was done yet
    second.get_by_role("button", name="Show the newest and do mine again").click()
    wait_said(second, "round 1 → 2")
    assert show(second, one.id, "reps") == "11"
    assert show(second, one.id, "round") == "2"


def test_killed_edits_are_offered_again(serve, sample, open_page):
    """After kill -9 the file is the old one, and the next start offers every edit that was answered."""
    path = sample("quayside-strength")
    before = path.read_bytes()
    one = open_routine(path).routine.iter_sets()[2][2]
    run = serve(path)
    page = open_page(run.url)
    for text in ("11", "12", "13"):
        change(page, one.id, "reps", text)
        wait_said(page, f"→ {text}")
    page.keyboard.press("Control+z")
    wait_said(page, "Undone")
    run.kill()
    assert path.read_bytes() == before

    run = serve(path)
    page = open_page(run.url)
    assert "never saved" in page.locator("#notice-kept").inner_text()
    assert show(page, one.id, "reps") == "10"  # nothing is taken up unasked
    page.get_by_role("button", name="Take them up again").click()
    wait_said(page, "Taken up again")
    assert show(page, one.id, "reps") == "12"
    page.keyboard.press("Control+s")
    wait_said(page, "Saved")
    assert str(next(x for _, _, x in open_routine(path).routine.iter_sets() if x.id == one.id).reps) == "12"


def test_edits_that_are_set_aside_are_kept_in_a_file(serve, sample, open_page):
    """Nothing is thrown away: the journal stays beside the routine under another name."""
    path = sample("quayside-strength")
    one = open_routine(path).routine.iter_sets()[2][2]
    run = serve(path)
    change(open_page(run.url), one.id, "reps", "11")
    import time

    for _ in range(50):
        if "set_value" in path.with_name(f".{path.name}.unsaved").read_text():
            break
        time.sleep(0.1)
    run.kill()
    page = open_page(serve(path).url)
    page.get_by_role("button", name="Set them aside").click()
    wait_said(page, "Set aside in")
    [aside] = path.parent.glob(".*.unsaved-*")
    assert '"11"' in aside.read_text()
    assert page.locator("#notice-kept").count() == 0


def test_a_file_that_changed_outside_is_not_written_over(serve, sample, open_page):
    """Saving says so, writes nothing, and offers to bring both together: both edits are in the outcome."""
    path = sample("quayside-strength")
    opened = open_routine(path)
    one, other = (opened.routine.iter_sets()[n][2] for n in (2, 3))
    page = open_page(serve(path).url)
    change(page, one.id, "reps", "11")
    wait_said(page, "→ 11")
    theirs = opened.routine.model_copy(deep=True)
    next(x for _, _, x in theirs.iter_sets() if x.id == other.id).tempo = "3-1-1"
    path.write_text(format_routine(theirs), encoding="utf-8")
    page.keyboard.press("Control+s")
    notice = page.locator("#notice-conflict")
    notice.wait_for()
    assert re.search("changed .*outside", notice.inner_text())
    assert path.read_text(encoding="utf-8") == format_routine(theirs)
    page.get_by_role("button", name="Bring both together").click()
    wait_said(page, "together")
    page.keyboard.press("Control+s")
    wait_said(page, "Saved")
    sets = {x.id: x for _, _, x in open_routine(path).routine.iter_sets()}
    assert str(sets[one.id].reps) == "11"
    assert sets[other.id].tempo == "3-1-1"
