"""Colours and lettering: contrast, colour blindness, scripts, and labels that are moved apart."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.text import Text

from hitlab.errors import HitlabWarning
from hitlab.plots import look
from hitlab.plots.lettering import balanced, move_apart, readable, width_of, wrapped
from tests.needs import package

TEXT = (look.INK, look.QUIET, *look.ACCENTS)
MARKS = (look.INK, look.FAINT, *look.ACCENTS)


def rgb(color):
    return np.array([int(color[i : i + 2], 16) for i in (1, 3, 5)]) / 255


def contrast(one, other):
    """Contrast ratio of the Web Content Accessibility Guidelines 2.2, definitions 'contrast ratio' and
    'relative luminance'."""

    def luminance(color):
        value = rgb(color)
        linear = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_is_computed_as_the_guidelines_do():
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    # WCAG technique G18 and common checkers: #767676 on white is the lightest grey that passes 4.5.
    assert contrast("#767676", "#FFFFFF") >= 4.5 > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("color", TEXT)
def test_text_has_contrast(color):
    assert contrast(color, look.BACKGROUND) >= 4.5


@pytest.mark.parametrize("color", MARKS)
def test_marks_have_contrast(color):
    assert contrast(color, look.BACKGROUND) >= 3.0


def as_seen(color, kind):
    """The colour as somebody sees it; kind None for somebody who sees all colours."""
    if kind is None:
        return rgb(color)
    seen = {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}
    return np.clip(package("colorspacious").cspace_convert(rgb(color), seen, "sRGB1"), 0, 1)


@pytest.mark.parametrize("kind", [None, "deuteranomaly", "protanomaly", "tritanomaly"])
def test_marks_differ_for_the_colour_blind(kind):
    """Machado, Oliveira & Fernandes 2009 at full severity, as colorspacious has it; distance in CAM02-UCS.

    10 is far above what a trained eye just sees (about 1); common practice, no source.
    """
    space = package("colorspacious")
    seen = {color: as_seen(color, kind) for color in MARKS}
    for one, other in combinations(MARKS, 2):
        assert space.deltaE(seen[one], seen[other], input_space="sRGB1") >= 10, (kind, one, other)


@pytest.mark.parametrize(
    "text",
    [
        "Íñigo Žižum-Grönvall Nguyểm Thị Ánh",
        "שרה למט-גיר, 4 in 9",
        "محمد الغزمري",
        "Дмитрий Ποπ",
        "$a_b^2$ 5 \\x",
    ],
)
def test_every_script_is_drawn_as_it_is_spelled(text):
    figure = Figure()
    ax = figure.add_axes((0, 0, 1, 1))
    label = look.put(ax, 0.5, 0.5, text)
    figure.canvas.draw()  # a glyph that is missing warns, and warnings are errors
    assert label.get_text().translate({0x200E: None, 0x2068: None, 0x2069: None}) == text
    assert not label.get_parse_math()


def test_a_number_stays_on_its_side_of_a_name_written_from_the_right():
    """Without the marks, '4' would be drawn on the name's left (Unicode Standard Annex 9, rules N1, L2)."""
    assert readable("against שרה למט, 4 in 9") == "\u200eagainst \u2068שרה למט\u2069, 4 in 9"
    assert readable("שרה's rate") == "\u200e\u2068שרה\u2069's rate"
    assert readable("no such letters") == "no such letters"
    assert readable("e\u0301") == "é"


def test_a_pile_of_accents_does_not_reach_over_what_stands_above():
    assert readable("Ada" + "\u0301" * 9) == readable("Ada" + "\u0301" * 4)  # one joins the letter
    assert readable("Nguyễn") == "Nguyễn"


def test_a_character_that_no_font_has_is_said():
    with pytest.warns(HitlabWarning, match="no installed font has .*so \\? is drawn"):
        assert readable("A \U00012345 B") == "A ? B"


@pytest.mark.parametrize("width", [60.0, 150.0, 400.0])
@pytest.mark.parametrize("breaking", [wrapped, balanced])
def test_lines_are_no_wider_than_asked_and_lose_nothing(width, breaking):
    text = "Nadia Izezno may have the highest rate at Oberunterwaldhausen: the chance is 23 %, שרה למט says"
    lines = breaking(text, width, 12)
    assert "".join(lines).replace("\u00a0", " ").replace(" ", "") == text.replace(" ", "")
    figure = Figure(dpi=72)
    for line in lines:
        drawn = figure.text(0, 0, readable(line), fontsize=12, parse_math=False, fontfamily="DejaVu Sans")
        assert drawn.get_window_extent().width <= width + 0.5, line
    assert not any(line.endswith("23") for line in lines)


def test_a_width_is_that_of_the_drawn_text():
    figure = Figure(dpi=72)
    drawn = figure.text(0, 0, "Clementine Abaliches 98 of 545", fontsize=20, fontfamily="DejaVu Sans")
    assert width_of("Clementine Abaliches 98 of 545", 20) == pytest.approx(
        drawn.get_window_extent().width, rel=0.025
    )


@pytest.mark.parametrize(
    "heights", [[0.5] * 8, [0.1, 0.11, 0.5, 0.51, 0.52, 0.9], [1.0, 1.0, 0.99], [0, 0, 0.5]]
)
def test_labels_are_moved_apart_in_their_order_and_no_farther(heights):
    figure = Figure((5, 5), dpi=100)
    ax = figure.add_axes((0, 0.1, 1, 0.8))
    labels = [look.put(ax, 0.5, y, f"label {number}", va="center") for number, y in enumerate(heights)]
    frame = ax.get_window_extent()
    wanted = np.array([frame.y0 + y * frame.height for y in heights])
    move_apart(labels, frame.y0, frame.y1)
    boxes = [Text.get_window_extent(label) for label in labels]
    placed = np.array([(box.y0 + box.y1) / 2 for box in boxes])
    tall = max(box.height for box in boxes)
    order = np.argsort(heights, kind="stable")
    assert (np.diff(placed[order]) >= tall + 0.5).all()
    assert min(box.y0 for box in boxes) >= frame.y0 - 0.6
    assert max(box.y1 for box in boxes) <= frame.y1 + 0.6
    alone = [i for i in range(len(heights)) if np.sum(np.abs(wanted - wanted[i]) < 2 * tall) == 1]
    for i in alone:
        assert placed[i] == pytest.approx(wanted[i], abs=tall)


def test_fresh_figures_share_nothing_and_follow_the_settings_of_their_time() -> None:
    from matplotlib import rc_context

    one, own = look.axes_for(None, 5.0, 3.0)
    assert own
    one.set_xticks([1, 2], ["one", "two"])
    one.set_xlim(0, 3)
    other, _ = look.axes_for(None, 6.0, 4.0)
    assert other.figure is not one.figure
    assert tuple(one.figure.get_size_inches()) == (5.0, 3.0)
    assert tuple(other.figure.get_size_inches()) == (6.0, 4.0)
    assert other.get_xlim() == (0.0, 1.0)
    assert "one" not in [text.get_text() for text in other.get_xticklabels()]
    with rc_context({"lines.linewidth": 7.0, "xtick.major.pad": 21.0}):
        styled, _ = look.axes_for(None)
        assert styled.xaxis.get_major_ticks()[0].get_pad() == 21.0
    plain, _ = look.axes_for(None)
    assert plain.xaxis.get_major_ticks()[0].get_pad() == 3.5


def test_a_title_is_laid_out_where_it_ends() -> None:
    ax, own = look.axes_for(None)
    ax.plot([0, 1], [0, 1])
    look.finish(ax, own, "What is seen", "What it means, " * 20, alt="words", steady=True)
    before = ax.get_position().bounds
    look._place(ax, look._overhang(ax))
    np.testing.assert_allclose(before, ax.get_position().bounds, atol=1e-3)
