"""Words of a transcript stay words, whatever they say."""

from __future__ import annotations

import pytest

from page.hostile import LONG, SCRIPT, SPOKEN, write_hostile_class

pytestmark = pytest.mark.slow

ELEMENTS = (
    "document.querySelectorAll('script, img, iframe, object, embed, [onerror], [onclick], a[href^=javascript]').length"
)


def test_hostile_words_are_shown_inert(serve, open_page, tmp_path):
    """Script tags, quotes, template marks, a word of 6,000 letters, right-to-left overrides, in every text there is."""
    page = open_page(serve(write_hostile_class(tmp_path)).url)
    assert page.evaluate(ELEMENTS) == 1  # the page's own script
    for number in range(len(SPOKEN)):
        page.locator(".bar-set").nth(number).click(force=True)
        page.wait_for_selector("#cues mark")
    for _ in SPOKEN:
        page.keyboard.press("Alt+2")
        page.keyboard.press("ArrowRight")
    page.click("#query-all")
    page.click("#compare")
    page.wait_for_selector("#changes:not([hidden])")
    assert page.evaluate("window.harmed") is None
    assert page.evaluate(ELEMENTS) == 1
    assert page.locator("#cues p").all_text_contents() == SPOKEN
    assert page.title().startswith(SCRIPT)
    assert "49" not in page.locator("h1").inner_text()  # {{ 7 * 7 }} is not worked out


def test_hostile_words_do_not_break_the_layout(serve, open_page, tmp_path):
    """The longest word is broken; the page is no wider than its window, and the overrides end where they began."""
    page = open_page(serve(write_hostile_class(tmp_path)).url)
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert page.evaluate(
        "document.getElementById('words-view').scrollWidth <= document.getElementById('words-view').clientWidth"
    )
    assert page.locator("#cues p").nth(2).text_content() == LONG
    isolation = page.locator("#cues p").evaluate_all("all => all.map(p => getComputedStyle(p).unicodeBidi)")
    assert set(isolation) <= {"isolate", "plaintext", "isolate-override"}
    names = page.locator("td.name bdi").evaluate_all("all => all.map(p => getComputedStyle(p).unicodeBidi)")
    assert set(names) == {"isolate"}


def test_an_edit_with_hostile_text_stays_text(serve, open_page, tmp_path):
    """What the reviewer types is escaped like everything else."""
    page = open_page(serve(write_hostile_class(tmp_path)).url)
    cell = page.locator('tr[data-set] [data-field="exercise"]').last
    cell.click()
    page.keyboard.press("Enter")
    page.keyboard.press("Control+a")
    page.keyboard.type(SCRIPT)
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.getElementById('live').textContent.includes('script')")
    assert cell.locator("bdi").first.inner_text() == SCRIPT
    assert page.evaluate("window.harmed") is None
