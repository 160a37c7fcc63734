"""The gallery: every picture and card of the demo season is drawn as it was, on a page for everybody."""

from __future__ import annotations

import inspect
import io
import re
import shutil
from dataclasses import replace
from pathlib import Path

import matplotlib
import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.text import Text
from PIL import Image, ImageDraw

from hitlab import plots
from hitlab.evidence.cards import SIZES
from hitlab.evidence.drawn import Drawn, load_prints, save_prints
from hitlab.evidence.gallery import gallery, pictures, write_gallery
from hitlab.evidence.strokes import Strokes, _whole, draw_png
from hitlab.questions import KINDS
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
def test_nothing_is_written_smaller_than_ten_points():
    """At the picture's own size, which is what a slide or a page shows (common practice, no source)."""
    import matplotlib.pyplot as plt

    for name, draw in pictures().items():
        figure = draw().get_figure(root=True)
        written = [text for text in figure.findobj(Text) if text.get_visible() and text.get_text().strip()]
        plt.close(figure)
        assert written, name
        small = {text.get_text(): text.get_fontsize() for text in written if text.get_fontsize() < 10}
        assert not small, name


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
    nothing = Strokes(np.zeros((0, 2), dtype=np.int32), np.zeros(0, dtype=np.int16))
    return Drawn("Group", "name", "words", ("written",), nothing, held.getvalue(), image.size)


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


def _figure(*, marks_at=0.0, dots_at=0.0, lines=3, color="#0B6478", width=1.5, ends_at=0.0, label_at=0.0):
    """Two sorts of dots, lines alone and together, a band, hatched bars, words; one unit is one pixel."""
    figure = Figure((4, 3), dpi=100)
    ax = figure.add_axes((0, 0, 1, 1))
    ax.set_xlim(0, 400)
    ax.set_ylim(0, 300)
    ax.plot([40 + marks_at, 90, 140], [50, 60, 70], "o", color="#C24E00", markersize=4)
    ax.scatter([40 + dots_at, 90, 140], [150, 160, 170], [9, 12, 15], color=["#C24E00", "#0B6478", "#4B1C7D"])
    for number in range(lines):
        ax.plot([200, 380 + ends_at], [40 + 20 * number] * 2, color=color, linewidth=width)
    ax.hlines([150, 170, 190], 200, 380 + ends_at, color="#868F96", linewidth=1)
    ax.axvspan(20, 30, color="#DCE3E2")
    ax.bar([200, 240], [30, 20 + ends_at], 20, hatch="//")
    ax.text(60 + label_at, 250, "words")
    return figure


def _print_of(figure):
    png, strokes = draw_png(figure, 100)
    return Drawn("Group", "name", "words", ("words",), strokes, png, (400, 300)).print


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"marks_at": 4}, "marks, drawn as number"),
        ({"marks_at": 3}, "marks, drawn as number"),
        ({"dots_at": 4}, "lines or areas, drawn as number"),
        ({"lines": 2}, "things are drawn, and were"),
        ({"color": "#0B6470"}, "line or area, drawn as number"),
        ({"color": "#FFFFFF"}, "line or area, drawn as number"),
        ({"width": 1.8}, "line or area, drawn as number"),
        ({"ends_at": -4}, "drawn as number"),
        ({"label_at": 4}, "text, drawn as number"),
    ],
)
def test_a_print_knows_dots_moved_by_four_pixels_and_a_line_less(change, why, tmp_path):
    before = _print_of(_figure())
    assert why in _print_of(_figure(**change)).differs(before)
    save_prints({"one": before}, tmp_path / "prints.json")
    _, kept = load_prints(tmp_path / "prints.json")
    assert not kept["one"].differs(before)
    assert why in _print_of(_figure(**change)).differs(kept["one"])


def test_a_print_forgives_shifts_under_a_pixel():
    before = _print_of(_figure())
    for shift in (-0.9, -0.5, 0.3, 0.9):
        assert not _print_of(_figure(marks_at=shift, dots_at=shift, ends_at=shift, label_at=shift)).differs(
            before
        )


def test_four_pixels_are_always_found_and_one_is_always_forgiven():
    def at(place):
        numbers = _whole([place])
        return Strokes(np.array([(0, 1)], dtype=np.int32), numbers)

    starts = [whole + part for whole in range(-3, 4) for part in (-0.5, -0.25, 0.0, 0.49, 0.5, 0.51)]
    found = {
        apart: [bool(at(start).differs(at(start + apart))) for start in starts]
        for apart in (0.5, 1, 3, 3.01, 4)
    }
    assert not any(found[0.5] + found[1])
    assert all(found[3.01] + found[4])
    missed = [start for start, seen in zip(starts, found[3], strict=True) if not seen]
    assert missed
    assert all(start % 1 == 0.5 for start in missed)


def test_nothing_of_a_picture_goes_unseen():
    """Each thing of a figure, hidden by itself, makes another picture."""
    before = _print_of(_figure())
    things = [
        number
        for number, one in enumerate(_figure().axes[0].get_children())
        if not (isinstance(one, Text) and not one.get_text())
    ]
    assert len(things) > 15
    for number in things:
        figure = _figure()
        thing = figure.axes[0].get_children()[number]
        thing.set_visible(False)
        assert _print_of(figure).differs(before), thing


def test_drawing_leaves_the_figure_its_canvas_and_its_file():
    figure = _figure()
    before, held = figure.canvas, io.BytesIO()
    figure.savefig(held, format="png", dpi=100, metadata={"Software": None})
    assert draw_png(figure, 100)[0] == held.getvalue()
    assert figure.canvas is before


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
