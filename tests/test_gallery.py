"""The gallery: every picture and card of the demo season is drawn as it was, on a page for everybody."""

from __future__ import annotations

import inspect
import json
import re
import shutil
from pathlib import Path

import matplotlib
import pytest

from hitlab import plots
from hitlab.claims import KINDS
from hitlab.evidence.cards import SIZES
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
    """Made again by ``python -m hitlab.evidence --to FOLDER --hashes tests/reference/pictures.json``."""
    kept = json.loads(REFERENCE.read_text(encoding="utf-8"))
    pin = pinned_matplotlib()
    assert kept["matplotlib"] == pin
    if matplotlib.__version__ != pin:
        pytest.skip(f"pictures are compared under matplotlib {pin}, and this is {matplotlib.__version__}")
    _, prints = drawn
    assert set(prints) == set(kept["pictures"])
    changed = [name for name, one in prints.items() if kept["pictures"][name] != one]
    assert not changed, f"{len(changed)} pictures changed; look at them, then make the file again: {changed}"


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
