"""The catalogue as a site: opened from the disk by a browser, and hostile texts in it."""

from __future__ import annotations

import json
import re
from contextlib import closing
from pathlib import Path

import html5lib
import pytest

from gold_routines import list_gold, write_folder
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.site import add_way_back, make_relative, tell_summary, write_site
from setdown.catalogue.store import open_store
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon
from setdown.publish import PublishOptions, publish_routine
from setdown.publish.inert import clean_line, make_file_stem

HOSTILE = "</script><script>document.title='owned'</script><img src=x onerror=\"document.title='owned'\">\u202e&amp;"
LEXICON = load_lexicon()


def render_page(routine) -> bytes:
    [document] = publish_routine(routine, LEXICON, ["page"], PublishOptions(draft=True))
    return document.data


def write(store, folder: Path, **options):
    how = {"render": render_page, "clean": clean_line, "name": make_file_stem} | options
    return write_site(store, folder, LEXICON, **how)


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    """Twenty classes; the third and the fourth are hostile in every text that is shown."""
    folder = tmp_path_factory.mktemp("site")
    gold = list(list_gold(20))
    for number in (2, 3):
        routine = gold[number].routine.model_copy(deep=True)
        routine.title, routine.source.instructor = HOSTILE, HOSTILE
        routine.source.media = ("javascript:document.title='owned'", "a.mp4")[number - 2]
        routine.equipment[0:] = [type(gold[3].routine.equipment[0])(id=HOSTILE[:100], name=HOSTILE)]
        for _, _, one in routine.iter_sets()[:2]:
            one.exercise.id, one.exercise.name = "", HOSTILE[:150] + str(number)
        gold[number] = type(gold[number])(number, f"hostile-{number}", routine, gold[number].vtt, gold[number].rows)
    write_folder(folder / "in", gold)
    with closing(open_store(folder / "c", create=True)) as store:
        assert not add_classes(store, list_sources([str(folder / "in")])).failed
        report = write(store, folder / "out")
    assert (report.classes, report.pages, report.without) == (20, 20, 0)
    return folder / "out"


def read_index(site: Path) -> dict:
    page = html5lib.parse((site / "index.html").read_text(encoding="utf-8"), namespaceHTMLElements=False)
    [data] = [one for one in page.iter("script") if one.get("type") == "application/json"]
    return json.loads(data.text)


def test_the_pages_are_sound_html(site):
    """Parsed strictly by html5lib; one script, one style, a policy that lets nothing else run or load."""
    for name in ("index.html", "all.html"):
        text = (site / name).read_text(encoding="utf-8")
        page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
        [policy] = [one.get("content") for one in page.iter("meta") if one.get("http-equiv")]
        assert policy.startswith("default-src 'none'; ")
        assert "unsafe" not in policy
        assert not [one for one in page.iter() if any(key.startswith("on") for key in one.attrib)]
        assert not [one for one in page.iter() if one.get("src")]
        runs = [one for one in page.iter("script") if one.get("type") is None]
        assert len(runs) == (1 if name == "index.html" else 0)


def test_every_link_leads_to_a_page(site):
    """In the search index and in the plain list; all relative, so that the folder can be moved."""
    index = read_index(site)
    pages = [one["page"] for one in index["classes"]]
    assert len(set(pages)) == 20
    assert all((site / page).is_file() for page in pages)
    listed = re.findall(r'<a href="([^"]+)"', (site / "all.html").read_text(encoding="utf-8"))
    assert sorted(listed) == sorted(pages)


def test_every_plan_leads_back(site):
    """Above each plan is a link to the search; the page is otherwise the published one."""
    for path in (site / "classes").glob("*.html"):
        page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(path.read_text(encoding="utf-8"))
        [nav] = list(page.iter("nav"))
        assert [(path.parent / one.get("href")).resolve() for one in nav.iter("a")] == [(site / "index.html").resolve()]
    assert add_way_back(b"<p>no plan</p>") == b"<p>no plan</p>"


def test_the_summary_says_what_there_is():
    """How many, how long, by how many, from when to when; nothing of what is not known."""
    one = {"title": "a", "by": "Ada", "date": "2024-02-29", "minutes": 40.0}
    two = {"title": "b", "by": "Ada", "date": "2023-12-01", "minutes": 80.0}
    assert tell_summary([one, two]) == "2 classes · 2 hours · 1 instructor · 1 Dec 2023 to 29 Feb 2024"
    assert tell_summary([one]) == "1 class · 1 hour · 1 instructor · 29 Feb 2024"
    assert tell_summary([{"title": "c", "by": "", "date": "", "minutes": 3.0}]) == "1 class"
    assert tell_summary([]) == "0 classes"


def test_no_folder_of_this_machine_is_told(site):
    """Neither where the classes are nor where the recordings are; a recording is linked as seen from the site."""
    folder = str(site.parent)
    for name in ("index.html", "all.html"):
        assert folder not in (site / name).read_text(encoding="utf-8")
    media = [one["media"] for one in read_index(site)["classes"] if one["media"]]
    assert "../in/a.mp4" in media
    assert not any("javascript" in one for one in media)
    assert make_relative("https://studio.example/a.mp4#t=3", site) == "https://studio.example/a.mp4"


def test_the_index_holds_the_sets(site):
    """Each class has its movements with the seconds at which they start, in order."""
    index = read_index(site)
    one = list_gold(1)[0]
    [shown] = [c for c in index["classes"] if c["title"] == one.routine.title]
    expected: dict[str, list[int]] = {}
    for _, _, x in one.routine.iter_sets():
        expected.setdefault(x.exercise.name, []).append(int(x.start))
    assert {index["movements"][move[0]]: move[1:] for move in shown["moves"]} == expected


def test_the_same_catalogue_gives_the_same_site(site, tmp_path):
    """Byte for byte; written again it is unchanged, and another page in its place is refused."""
    with closing(open_store(site.parent / "c")) as store:
        write(store, tmp_path / "out")
        made = {path.relative_to(tmp_path / "out"): path.read_bytes() for path in (tmp_path / "out").rglob("*.html")}
        for path in made:
            if str(path) != "index.html":  # links to recordings are relative to the site
                assert (site / path).read_bytes() == made[path]
        write(store, tmp_path / "out")
        (tmp_path / "out" / "index.html").write_text("mine")
        with pytest.raises(SetdownError, match="exists and differs"):
            write(store, tmp_path / "out")
        write(store, tmp_path / "out", replace=True)
        assert (tmp_path / "out" / "index.html").read_bytes() == made[Path("index.html")]


def test_classes_without_a_plan_are_listed(site, tmp_path):
    """What gets no page is in the list all the same."""
    with closing(open_store(site.parent / "c")) as store:
        report = write(store, tmp_path / "out", render=lambda routine: None)
    assert (report.pages, report.without) == (0, 20)
    assert {one["page"] for one in read_index(tmp_path / "out")["classes"]} == {""}


@pytest.fixture(scope="module")
def page(site, browser):
    """The site in a browser, from the disk."""
    tab = browser.new_page()
    tab.troubles = []
    tab.on("console", lambda message: tab.troubles.append(message.text) if message.type == "error" else None)
    tab.on("pageerror", lambda error: tab.troubles.append(str(error)))
    tab.on("request", lambda request: tab.troubles.append(request.url) if not request.url.startswith("file:") else None)
    yield tab
    tab.close()


@pytest.mark.slow
def test_searching_in_a_browser(page, site):
    """By movement, muscle, kit and minutes; moments are shown, links work, nothing hostile runs, nothing is fetched."""
    page.goto((site / "index.html").as_uri())
    index = read_index(site)

    def count() -> int:
        return int(page.inner_text("#count").split()[0])

    assert count() == 20
    assert page.locator("li").count() == 20
    page.fill("#words", "GOBLET squ")
    goblet = {n for n, name in enumerate(index["movements"]) if "goblet squ" in name}
    wanted = [one for one in index["classes"] if any(move[0] in goblet for move in one["moves"])]
    assert 0 < count() == len(wanted) < 20
    told = page.locator(".moments > :not(.rest)").all_inner_texts()
    assert told
    assert all("goblet squat" in one for one in told)  # not every squat
    page.fill("#words", "")
    page.fill("#minutes", "20")
    assert count() == sum(one["minutes"] <= 20 for one in index["classes"])
    page.fill("#minutes", "")
    page.select_option("#muscle", label="glutes")
    glutes = index["muscles"].index("glutes")
    assert count() == sum(glutes in one["muscles"] for one in index["classes"])
    page.select_option("#muscle", "")
    page.click("summary")
    page.check("text=no kit at all")
    assert count() == sum(not one["kit"] for one in index["classes"])
    page.uncheck("text=no kit at all")
    for piece in ("dumbbell", "mat"):
        page.get_by_label(piece, exact=True).check()
    enough = {"dumbbell", "mat"}
    assert 0 < count() == sum(all(enough & set(choice) for choice in one["kit"]) for one in index["classes"]) < 20
    assert page.inner_text("#kit-chosen") == "dumbbell, mat"
    page.click("#clear")
    assert (count(), page.inner_text("#kit-chosen"), page.is_hidden("#clear")) == (20, "any", True)
    [by] = {one["by"] for one in index["classes"] if one["title"] == list_gold(1)[0].routine.title}
    page.select_option("#by", by)
    assert count() == sum(one["by"] == by for one in index["classes"])
    page.select_option("#by", "")
    page.fill("#words", "script owned")
    assert count() == 2
    assert "<script>" in page.inner_text("li >> nth=0")
    assert page.title() == "Catalogue of classes"
    page.fill("#words", "nothing is called so")
    assert (count(), page.locator("li").count(), page.is_visible("#none")) == (0, 0, True)
    page.fill("#words", "goblet squat")
    page.click(".title a >> nth=0")
    assert "Catalogue" not in page.title()
    page.go_back()
    asked = page.input_value("#words")  # what is shown fits what the browser keeps of the search
    assert count() == (len(wanted) if asked else 20)
    page.fill("#words", "")
    page.click(".title a >> nth=0")
    page.click("text=All classes")
    assert page.title() == "Catalogue of classes"
    assert page.troubles == []
    for name in sorted((site / "classes").glob("*.html")):
        page.goto(name.as_uri())
        assert page.title() != "owned"
    page.goto((site / "all.html").as_uri())
    assert page.locator("li").count() == 20
    assert page.troubles == []


@pytest.mark.slow
def test_keyboard_and_narrow_screens(page, site):
    """Every field has a label and is reached by the tab key; at 320 px nothing is cut off to the side."""
    page.set_viewport_size({"width": 320, "height": 640})
    page.goto((site / "index.html").as_uri())
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.click("summary")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert all(label.strip() for label in page.locator(".kit label").all_inner_texts())
    page.click("summary")
    page.reload()
    reached = []
    for _ in range(5):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.tagName"))
    assert reached == ["words", "muscle", "minutes", "by", "SUMMARY"]
    for field in reached[:4]:
        assert page.locator(f"label[for={field}]").inner_text().strip()
