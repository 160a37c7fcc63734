"""The gallery: every picture and card of the demo season is drawn as it was, on a page for everybody."""

from __future__ import annotations

import inspect
import io
import re
import shutil
from dataclasses import replace
from pathlib import Path

import matplotlib
import pytest
from PIL import Image, ImageDraw

from hitlab import plots
from hitlab.claims import KINDS
from hitlab.evidence.cards import SIZES
from hitlab.evidence.drawn import Drawn, load_prints, save_prints
from hitlab.evidence.gallery import gallery, pictures, write_gallery
from tests.needs import needs_chromium, package

REFERENCE = Path(__file__).parent / "reference" / "pictures.json"
NO_PICTURES = {"draw", "claim"}  # one draws by another's name; claims have a part of their own


def pinned_matplotlib():
    pins = (Path(__file__).parent.parent / ".ci" / "constraints.txt").read_text(encoding="utf-8")
    return re.search(r"^matplotlib==(\S+)", pins, flags=re.M)[1]


@pytest.fixture(scope="module")
def drawn(tmp_path_factory):
    folder = tmp_path_factory.mktemp("gallery")
    prints = write_gallery(folder, gallery())
    return folder, prints


@pytest.mark.slow
def test_every_picture_of_the_package_is_in_the_gallery():
    shown = pictures()
    drawing = {
        name
        for name in set(dir(plots)) - NO_PICTURES
        if inspect.isfunction(one := getattr(plots, name))
        and "Axes" in str(inspect.signature(one).return_annotation)
    }
    assert len(drawing) > 20
    assert not drawing - set(shown)


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(pictures()))
def test_nothing_is_written_smaller_than_ten_points(name):
    """At the picture's own size, which is what a slide or a page shows (common practice, no source)."""
    import matplotlib.pyplot as plt
    from matplotlib.text import Text

    figure = pictures()[name]().get_figure(root=True)
    written = [text for text in figure.findobj(Text) if text.get_visible() and text.get_text().strip()]
    plt.close(figure)
    assert written
    small = {text.get_text(): text.get_fontsize() for text in written if text.get_fontsize() < 10}
    assert not small


@pytest.mark.slow
@pytest.mark.pinned
def test_pictures_are_drawn_as_they_were(drawn):
    """Made again by ``python -m hitlab.evidence --to FOLDER --prints tests/reference/pictures.json``."""
    version, kept = load_prints(REFERENCE)
    pin = pinned_matplotlib()
    assert version == pin
    if matplotlib.__version__ != pin:
        pytest.skip(f"pictures are compared under matplotlib {pin}, and this is {matplotlib.__version__}")
    _, prints = drawn
    assert set(prints) == set(kept)
    changed = {name: why for name, one in prints.items() if (why := one.differs(kept[name]))}
    assert not changed, f"{len(changed)} pictures changed; look at them, then make the file again: {changed}"


def _picture(draw):
    image = Image.new("RGB", (400, 300), "white")
    draw(ImageDraw.Draw(image))
    held = io.BytesIO()
    image.save(held, format="png")
    return Drawn("Group", "name", "words", ("written",), held.getvalue(), image.size)


def _with_dot(pen, at=100, colour="#0B6478"):
    pen.ellipse((at - 6, 94, at + 6, 106), fill=colour)


def test_a_print_knows_another_picture_and_forgives_a_dot_of_shift(tmp_path):
    one = _picture(_with_dot).print
    assert not one.differs(_picture(lambda pen: _with_dot(pen, at=101)).print)
    assert "colours are" in one.differs(_picture(lambda pen: None).print)
    assert "colours are" in one.differs(_picture(lambda pen: _with_dot(pen, at=140)).print)
    assert "colours are" in one.differs(_picture(lambda pen: _with_dot(pen, colour="#C24E00")).print)
    other = replace(_picture(_with_dot), written=("written", "more"))
    assert one.differs(other.print) == "something else is written in it"
    wide = replace(one, size=(401, 300))
    assert wide.differs(one) == "401 by 300 pixels, and was 400 by 300"
    path = tmp_path / "prints.json"
    save_prints({"b": one, "a": other.print}, path)
    version, kept = load_prints(path)
    assert version == matplotlib.__version__
    assert list(kept) == ["a", "b"]
    assert not kept["b"].differs(one)
    assert not kept["a"].differs(other.print)


@pytest.mark.slow
def test_every_claim_has_a_card_in_every_size(drawn):
    _, prints = drawn
    claims = {name.removeprefix("claim_") for name in prints if name.startswith("claim_")}
    assert {name.split("_")[0] for name in claims} == set(KINDS)
    for name in claims:
        for page in (*SIZES, "assumptions"):
            assert f"card_{name}_{page}" in prints


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_the_page_can_be_used_by_everybody(drawn):
    folder, prints = drawn
    text = (folder / "index.html").read_text(encoding="utf-8")
    assert text.count("<img ") == len(prints)
    assert not re.search(r'alt="\s*"', text)
    axe = package("axe_playwright_python.sync_playwright").Axe()
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = chromium.new_page()
        page.goto((folder / "index.html").as_uri())
        found = axe.run(page)
        chromium.close()
    assert found.violations_count == 0, found.generate_report()
