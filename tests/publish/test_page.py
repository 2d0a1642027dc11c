"""The page: valid, usable by everybody, and printed without a row cut in two."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import unicodedata
from pathlib import Path

import html5lib
import pytest

from publish.shared import SAMPLES, read_sample

WIDTHS = (360, 820, 1280)  # a telephone, a tablet, a desk
PAGES = {  # A4 and Letter, looked at
    "allotment-kettlebell": 2,
    "arms-and-shoulders": 3,
    "library-lunchtime": 2,
    "quayside-strength": (2, 3),
    "signal-box-intervals.words": 2,
    "slipway-stretch": 1,
}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
BLANK = re.compile(r"\s+")


def name_sample(path: Path) -> str:
    return path.name.removesuffix(".routine.json")


@pytest.fixture(scope="module")
def pages(publish, tmp_path_factory) -> dict[str, Path]:
    """The page of every sample, in files."""
    folder = tmp_path_factory.mktemp("pages")
    written = {}
    for sample in SAMPLES:
        routine, transcript = read_sample(sample)
        path = folder / f"{name_sample(sample)}.html"
        path.write_text(publish(routine, "page", transcript=transcript)["plan.html"], encoding="utf-8")
        written[name_sample(sample)] = path
    return written


@pytest.mark.parametrize("sample", SAMPLES, ids=name_sample)
def test_a_page_is_parsed_without_an_error(pages, sample):
    """By html5lib in strict mode (WHATWG, 'HTML', section 'Parsing HTML documents')."""
    parser = html5lib.HTMLParser(strict=True)
    parser.parse(pages[name_sample(sample)].read_text(encoding="utf-8"))


@pytest.mark.slow
def test_pages_pass_the_nu_html_checker(pages):
    """The Nu Html Checker finds no error and no warning. NU_HTML_CHECKER names vnu.jar (npm install vnu-jar)."""
    jar = os.environ.get("NU_HTML_CHECKER", "")
    if not Path(jar).is_file() or not shutil.which("java"):
        pytest.skip("NU_HTML_CHECKER does not name vnu.jar, or there is no Java")
    command = ["java", "-jar", jar, "--stdout", *map(str, pages.values())]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    # Linked data is a data block, which nobody runs (WHATWG, 'HTML', 'The script element'): no script is blocked.
    told = [line for line in done.stdout.splitlines() if "Inline script violates Content Security Policy" not in line]
    assert told == []
    assert done.returncode == 0


@pytest.mark.slow
@pytest.mark.parametrize("sample", SAMPLES, ids=name_sample)
def test_a_page_is_usable_by_everybody(browser, pages, sample):
    """axe-core finds nothing against WCAG 2.2 A and AA or its best practice, and nothing runs over the edge."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed")
    page = browser.new_page(bypass_csp=True)  # the page forbids scripts, so axe would not run in it
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(pages[name_sample(sample)].as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = axe.Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}}).response
    page.close()
    assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found["violations"]] == []


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("sample", SAMPLES, ids=name_sample)
def test_a_printed_page_cuts_no_row(browser, pages, sample, paper, tmp_path):
    """The number of pages is the one that was looked at, and every move with all its lines is on one of them."""
    pypdf = pytest.importorskip("pypdf", reason="pypdf is not installed")
    page = browser.new_page()
    page.goto(pages[name_sample(sample)].as_uri())
    rows = [squeeze(text) for text in page.locator(".move > div:first-child").all_inner_texts()]
    headings = [squeeze(text) for text in page.locator(".group > h3").all_inner_texts()]
    firsts = [squeeze(text) for text in page.locator(".group .move:first-of-type h4").all_inner_texts()]
    page.pdf(path=str(tmp_path / "plan.pdf"), format=paper)
    page.close()
    printed = [squeeze(one.extract_text()) for one in pypdf.PdfReader(tmp_path / "plan.pdf").pages]
    wanted = PAGES[name_sample(sample)]
    assert len(printed) == (wanted[paper == "Letter"] if isinstance(wanted, tuple) else wanted)
    assert rows
    for row in rows:
        assert any(row in text for text in printed), row
    for heading, first in zip(headings, firsts, strict=True):
        assert any(heading in text and first in text for text in printed), f"{heading} stands alone at a page's foot"


def squeeze(text: str) -> str:
    """Letters only: blanks, quotation marks and ligatures are set differently in print."""
    return BLANK.sub("", unicodedata.normalize("NFKC", text)).replace("“", "").replace("”", "")


def test_the_page_needs_nothing_from_elsewhere(pages):
    """No address, no script but the linked data, and a policy that says so."""
    for path in pages.values():
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"(?:src|href)=|url\(|@import", text)
        assert "default-src 'none'" in text
