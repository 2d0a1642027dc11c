"""Usable without a mouse, without sight, enlarged and on a tablet: checked in the browser, light and dark."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from setdown.review.store import open_routine

pytestmark = pytest.mark.slow

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def axe() -> str:
    """The source of axe-core (MPL-2.0), which is not part of the project: that of ``SETDOWN_AXE``, or the one that the
    test dependency axe-playwright-python carries."""
    named = os.environ.get("SETDOWN_AXE", "")
    if named:
        return Path(named).read_text(encoding="utf-8")
    carrier = pytest.importorskip("axe_playwright_python", reason="no axe-core: install axe-playwright-python")
    return (Path(carrier.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


def find_faults(page, axe: str) -> list[str]:
    """What axe-core finds wrong with the page as it is: rule, and the elements."""
    page.evaluate(axe)
    found = page.evaluate("tags => axe.run(document, { runOnly: tags })", TAGS)
    return [
        f"{fault['id']}: {fault['help']}: {[(node['html'][:120], node['any'][:1]) for node in fault['nodes'][:3]]}"
        for fault in found["violations"]
    ]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_is_found_by_axe(serve, sample, open_page, axe, scheme):
    """WCAG 2.2 AA at rest, with a set chosen, a cell open, all queries listed, changes shown, and in each dialog."""
    page = open_page(serve(sample("arms-and-shoulders")).url, color_scheme=scheme)
    assert find_faults(page, axe) == []
    page.locator(".bar-set").nth(9).click()
    page.click("#query-all")
    page.keyboard.press("Alt+3")
    page.keyboard.press("Home")
    page.keyboard.press("Enter")
    assert find_faults(page, axe) == []
    page.keyboard.press("Control+a")
    page.keyboard.type("plank")
    page.wait_for_selector("#movements li")
    page.keyboard.press("ArrowDown")
    assert find_faults(page, axe) == []
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('live').textContent.includes('plank')")
    page.click("#compare")
    page.wait_for_selector("#grid .was")
    assert find_faults(page, axe) == []
    page.keyboard.press("Alt+3")
    page.locator('tr.chosen [data-field="load"]').focus()
    page.keyboard.press("Enter")
    assert find_faults(page, axe) == []
    page.keyboard.press("Escape")
    for button in ("#keys", "#signoff", '[data-act="split"]', '[data-act="add"]', '[data-act="move"]'):
        page.click(button)
        page.wait_for_selector("#ask[open]")
        assert find_faults(page, axe) == [], button
        page.keyboard.press("Escape")


@pytest.mark.parametrize(
    ("width", "height"),
    [
        (1440, 900),
        (820, 1180),  # a tablet upright
        (720, 450),  # a window of 1440 by 900 at 200 % (WCAG 2.2, 1.4.4)
        (320, 640),  # 400 % of 1280 (WCAG 2.2, 1.4.10: no scrolling in two directions but for tables)
    ],
)
def test_the_page_is_never_wider_than_its_window(serve, sample, open_page, width, height):
    """What does not fit scrolls within its own box; every control can be reached and clicked."""
    page = open_page(serve(sample("quayside-strength")).url)
    page.set_viewport_size({"width": width, "height": height})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.locator("#query-card .offer").first.click(trial=True)
    page.locator("#signoff").click(trial=True)
    page.locator('tr[data-set] [data-field="load"]').first.click(trial=True)
    page.locator(".cue button").nth(5).click(trial=True)
    page.locator(".bar-set").first.click(trial=True)


# Where the text of a cell begins: one that spans half the table can be wider than the window.
SEEN = """() => {
  const one = document.activeElement, box = one.getBoundingClientRect();
  const top = document.elementFromPoint(box.left + Math.min(box.width, 80) / 2, box.top + box.height / 2);
  return [one.dataset.field ?? "", Boolean(top && one.contains(top))];
}"""


def wait_until_seen(page, keys: str) -> None:
    """The focus is in sight as soon as the page has been drawn again."""
    for _ in range(20):
        if page.evaluate(SEEN)[1]:
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"the focus is out of sight after {keys}")


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (820, 1180), (720, 450), (320, 640)])
def test_the_keyboard_never_goes_out_of_sight(serve, sample, open_page, width, height):
    """Wherever the keys lead, the focus is inside its boxes and the window, and under nothing (WCAG 2.2, 2.4.11)."""
    page = open_page(serve(sample("arms-and-shoulders")).url)
    page.set_viewport_size({"width": width, "height": height})
    for keys in ("Alt+3", "End", *["ArrowDown"] * 6, "PageDown", "PageDown", "Home", "End", "PageUp", "Control+Home"):
        page.keyboard.press(keys)
        wait_until_seen(page, keys)
    for keys in ("Alt+4", *["ArrowDown"] * 12, "Alt+1", *["ArrowRight"] * 9):
        page.keyboard.press(keys)
        wait_until_seen(page, keys)
    page.keyboard.press("Enter")
    assert page.evaluate(SEEN)[1], "the row of the bar"


def test_going_down_keeps_to_its_column(serve, sample, open_page):
    """Rows of groups and sections lie between; behind them it is the same column again."""
    page = open_page(serve(sample("arms-and-shoulders")).url)
    page.locator('tr[data-set] [data-field="load"]').first.focus()
    fields = []
    for _ in range(12):
        page.keyboard.press("ArrowDown")
        fields.append(page.evaluate("[document.activeElement.dataset.kind, document.activeElement.dataset.field]"))
    assert {field for kind, field in fields if kind == "set"} == {"load"}
    assert {kind for kind, _ in fields} == {"set", "group", "section"}


def test_a_tablet_is_enough(serve, sample, open_page):
    """By touch alone: a tap chooses a cell, the next opens it, choices are tapped, a query is answered, it is saved."""
    path = sample("quayside-strength")
    page = open_page(serve(path).url, has_touch=True)
    page.set_viewport_size({"width": 820, "height": 1180})
    cell = page.locator('tr[data-set] [data-field="load"]').first
    cell.tap()
    cell.tap()
    page.get_by_label("Number").fill("9")
    page.get_by_label("Unit").select_option("kg")
    page.get_by_role("button", name="Set load").tap()
    page.wait_for_function("() => document.getElementById('live').textContent.includes('9 kg')")
    assert "9 kg" in cell.inner_text()
    page.locator("#query-card .offer").first.tap()
    page.wait_for_function("() => document.getElementById('live').textContent.includes('answered')")
    page.locator("#save").tap()
    page.wait_for_function("() => document.getElementById('live').textContent.includes('Saved')")
    first = open_routine(path).routine.iter_sets()[0][2]
    assert (first.load.value, first.load.unit) == (9, "kg")


def test_the_tab_key_goes_through_the_page_in_order(serve, sample, open_page):
    """Head, time line, sets, queries, transcript; each part is one stop, and no part is a trap (WCAG 2.2, 2.1.2)."""
    page = open_page(serve(sample("quayside-strength")).url)
    seen = []
    for _ in range(60):
        page.keyboard.press("Tab")
        where = page.evaluate(
            """{
              const part = document.activeElement.closest('header, #line, #sets, #queries, #words, .skips');
              part?.id || part?.className || '';
            }"""
        )
        if not seen or seen[-1] != where:
            seen.append(where)
        if where == "" and "words" in seen:
            break
    assert seen[:6] == ["skips", "head", "line", "sets", "queries", "words"]
    assert seen[6:] in ([], [""])


def test_what_happens_is_said(serve, sample, open_page):
    """A live region tells what an edit did (WCAG 2.2, 4.1.3), and names of rows and bars hold what is only drawn."""
    page = open_page(serve(sample("quayside-strength")).url)
    live = page.locator("#live")
    assert (live.get_attribute("role"), live.get_attribute("aria-live")) == ("status", "polite")
    assert page.get_by_role("grid", name="Sets").count() == 1
    bar = page.get_by_role("option", name="8 neck side stretch").first
    assert "1 open query" in bar.get_attribute("aria-label")
    assert "left" in bar.get_attribute("aria-label")
    row = page.locator('tr[data-set^="neck-tilt"]')
    assert "1 open query" in row.inner_text()
    assert "percent sure" in page.locator("#grid").inner_text()


def test_motion_is_left_out_on_request(serve, sample, open_page):
    """With prefers-reduced-motion nothing moves by itself (WCAG 2.2, 2.3.3)."""
    page = open_page(serve(sample("quayside-strength")).url, reduced_motion="reduce")
    moving = page.evaluate("document.getAnimations().length")
    smooth = page.evaluate(
        """[...document.querySelectorAll('*')].map(e => getComputedStyle(e))
            .filter(s => s.scrollBehavior === 'smooth' || parseFloat(s.transitionDuration) > 0).length"""
    )
    assert (moving, smooth) == (0, 0)
