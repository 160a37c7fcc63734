"""The glossary: every term of the lessons, beside them, the same bytes each time, for everybody to read."""

from __future__ import annotations

import re
import shutil
import tomllib
from base64 import b64decode
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner
from matplotlib.text import Text

from hitlab.errors import ReadingError
from hitlab.lessons.copies import GLOSSARY, lay_out
from hitlab.plots.look import SMALL
from tests.needs import needs_chromium, package

package("jupytext")
package("jinja2")

from hitlab.course.__main__ import main  # noqa: E402
from hitlab.course.glossary import glossary, write_glossary  # noqa: E402
from hitlab.course.sources import CourseError, lessons_folder, read_source, source_paths  # noqa: E402
from hitlab.course.term_pictures import PICTURES, drawn, picture  # noqa: E402
from hitlab.course.terms import TERMS, Term, explained  # noqa: E402

COMMITTED = lessons_folder() / GLOSSARY


class Page(HTMLParser):
    """What stands in the page: anchors, links, pictures with their words."""

    def __init__(self, text):
        super().__init__()
        self.anchors, self.links, self.pictures, self.terms = [], [], [], []
        self._in_term = False
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.anchors += [found["id"]] if "id" in found else []
        self.links += [found["href"]] if tag == "a" else []
        self.pictures += [(found["src"], found["alt"])] if tag == "img" else []
        self._in_term = tag == "h3"

    def handle_data(self, data):
        if self._in_term:
            self.terms.append(data)
            self._in_term = False


@pytest.fixture(scope="module")
def page():
    return Page(COMMITTED.read_text(encoding="utf-8"))


@pytest.mark.pinned
def test_building_it_again_changes_nothing():
    assert glossary() == COMMITTED.read_text(encoding="utf-8")


def test_every_term_stands_in_it_once_and_sorted(page):
    assert page.terms == sorted((term.name for term in TERMS), key=str.casefold)
    assert len(set(page.anchors)) == len(page.anchors)
    assert {term.anchor for term in TERMS} <= set(page.anchors)


def test_every_term_of_the_lists_of_new_words_is_among_them():
    listed = {
        name
        for path in source_paths()
        for name in re.findall(r"^# - \*\*([^*]+)\*\*: ", path.read_text(encoding="utf-8"), re.M)
    }
    assert listed - {"Swing-and-hope", "Steady"} <= {term.name for term in TERMS}


def test_a_term_that_nobody_lists_or_explains_is_told():
    sources = [read_source(path) for path in source_paths()]
    with pytest.raises(CourseError, match="no cell explains 'wobble'"):
        explained(sources, (*TERMS, Term("wobble")))
    with pytest.raises(CourseError, match="'kappa' is explained and not among the terms"):
        explained(sources, tuple(term for term in TERMS if term.name != "kappa"))


def test_a_term_that_stands_under_another_lesson_is_told():
    sources = [read_source(path) for path in source_paths()]
    moved = tuple(replace(term, lesson="12") if term.name == "kappa" else term for term in TERMS)
    with pytest.raises(CourseError, match="lesson 13 explains 'kappa' first"):
        explained(sources, moved)


def test_links_lead_to_lessons_and_letters(page):
    for link in page.links:
        if link.startswith("#"):
            assert link[1:] in page.anchors
        else:
            assert (lessons_folder() / link).is_file()


def test_it_needs_nothing_else_and_is_small(page):
    text = COMMITTED.read_text(encoding="utf-8")
    assert len(text.encode()) < 1_000_000
    assert "<script" not in text
    assert not re.search(r'(?:src|href)="(?:https?:)?//', text)
    assert all(uri.startswith("data:image/svg+xml;base64,") for uri, _ in page.pictures)


def test_pictures_have_words_and_are_those_of_terms(page):
    assert len(page.pictures) == len(PICTURES) >= 25
    assert PICTURES.keys() <= {term.name for term in TERMS}
    assert all(len(alt.split()) >= 8 for _, alt in page.pictures)
    assert len({alt for _, alt in page.pictures}) == len(page.pictures)
    assert all(b64decode(uri.partition(",")[2]).lstrip().startswith(b"<?xml") for uri, _ in page.pictures)


@pytest.mark.parametrize("name", PICTURES)
def test_no_word_leaves_its_picture_or_lies_on_another(name):
    ax = drawn(name)
    figure = ax.figure
    figure.canvas.draw()
    boxes = [Text.get_window_extent(text) for text in ax.texts]
    assert all(text.get_fontsize() >= SMALL for text in ax.texts)
    for box in boxes:
        assert min(box.x0, box.y0) >= 0
        assert (box.x1 <= figure.bbox.x1, box.y1 <= figure.bbox.y1) == (True, True)
    assert not [1 for i, one in enumerate(boxes) for other in boxes[:i] if one.overlaps(other)]


def test_a_picture_is_the_same_each_time():
    assert picture("kappa") == picture("kappa")


@pytest.mark.slow
def test_the_command_writes_it(tmp_path):
    result = CliRunner().invoke(main, ["glossary", "--to", str(tmp_path / "words")])
    assert result.exit_code == 0, result.output
    assert (tmp_path / "words" / GLOSSARY).read_text(encoding="utf-8") == glossary()
    assert write_glossary(tmp_path) == tmp_path / GLOSSARY


def test_learners_get_it_beside_their_lessons(tmp_path):
    first = lay_out(tmp_path / "lessons")
    assert (tmp_path / "lessons" / GLOSSARY).read_bytes() == COMMITTED.read_bytes()
    assert "the glossary" in first.told()[0]
    assert GLOSSARY in lay_out(tmp_path / "lessons").same
    older = COMMITTED.read_bytes().replace(b"<h3", b"<h3 ", 1)
    (tmp_path / "lessons" / GLOSSARY).write_bytes(older)
    assert GLOSSARY in lay_out(tmp_path / "lessons").updated
    assert (tmp_path / "lessons" / GLOSSARY).read_bytes() == COMMITTED.read_bytes()


def test_another_page_of_that_name_stays(tmp_path):
    lay_out(tmp_path / "lessons")
    (tmp_path / "lessons" / GLOSSARY).write_text("my own words", encoding="utf-8")
    with pytest.raises(ReadingError, match="another page than ours"):
        lay_out(tmp_path / "lessons")
    assert (tmp_path / "lessons" / GLOSSARY).read_text(encoding="utf-8") == "my own words"


def test_the_wheel_has_it():
    project = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8"))
    carried = project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    assert carried[f"notebooks/{GLOSSARY}"] == f"hitlab/notebooks/{GLOSSARY}"


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_everybody_can_read_it():
    axe = package("axe_playwright_python.sync_playwright").Axe()
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for width in (1000, 360):
            opened = chromium.new_page(bypass_csp=True, viewport={"width": width, "height": 900})
            away = []
            opened.on("request", lambda request, away=away: away.append(request.url))
            opened.goto(COMMITTED.as_uri())
            found = axe.run(opened).response["violations"]
            wide = opened.evaluate("document.documentElement.scrollWidth")
            opened.close()
            assert [(one["id"], one["nodes"][0]["html"][:160]) for one in found] == []
            assert [url for url in away if not url.startswith(("file:", "data:"))] == []
            assert wide <= width
        chromium.close()
