"""A slider redraws its picture; without widgets the picture stays and a line says so."""

from __future__ import annotations

import asyncio
import base64
import io
import re
import sys
from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import approach
from hitlab.demonstration import demo_season
from hitlab.errors import HitlabError
from hitlab.exercises import sliders
from hitlab.plots import image
from tests.needs import package

plots = package("hitlab.plots")
package("matplotlib")
ipython_display = package("IPython.display")


def _draw(hard):
    counts = {"hitter": ["Ann", "Lou"], "hard": [hard, 1], "in_play": [10, 1], "swings": [25, 25]}
    table = package("pandas").DataFrame(counts)
    return plots.two_denominators(hitlab.counting.denominators(table, "hard", over=("in_play", "swings")))


async def _drawn(asked, many):
    """Wait until so many pictures were asked for: on a busy machine that takes a while."""
    async with asyncio.timeout(60):
        while len(asked) < many:
            await asyncio.sleep(0.05)


class Screen(list):
    """What stands on the screen, from top to bottom; a display that is updated changes in its place."""

    def display(self, thing, raw=False, display_id=None):
        at = len(self)
        self.append(thing)
        return SimpleNamespace(update=lambda now: self.__setitem__(at, now)) if display_id else None

    @property
    def pictures(self):
        return [thing.data for thing in self if "<img" in getattr(thing, "data", "")]


@pytest.fixture
def shown(monkeypatch):
    screen = Screen()
    monkeypatch.setattr(ipython_display, "display", screen.display)
    return screen


@pytest.fixture
def made(monkeypatch):
    """The sliders that were made."""
    widgets, out = package("ipywidgets"), []
    real = widgets.SelectionSlider
    monkeypatch.setattr(widgets, "SelectionSlider", lambda **given: out.append(real(**given)) or out[-1])
    return out


def test_the_slider_redraws_the_one_picture_in_its_place(shown, made):
    sliders.move_it(_draw, "hard <balls>", range(11), start=4)
    bundle, picture = shown
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/plain"] == "In JupyterLab a slider stands here: hard <balls>, from 0 to 10."
    assert picture.data.endswith("<p>hard &lt;balls&gt;: 4</p>")
    (before,) = shown.pictures
    (slider,) = made
    slider.value = 5
    (after,) = shown.pictures
    assert ".500, 5 of 10" in after
    assert after.endswith("<p>hard &lt;balls&gt;: 5</p>")
    assert after != before
    assert shown[0] is bundle
    slider.value = 4
    assert shown.pictures == [before]  # the same number gives the same bytes
    assert slider.description == "hard <balls>"


def test_without_widgets_the_picture_stays_and_a_line_says_so(shown, monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "ipywidgets", None)
    sliders.move_it(_draw, "hard balls", [1, 2])
    (static,) = shown
    assert "data:image/png;base64," in static.data
    assert "pip install ipywidgets" in capsys.readouterr().out


def test_without_a_notebook_the_install_line_is_given(monkeypatch):
    monkeypatch.setitem(sys.modules, "IPython.display", None)
    with pytest.raises(HitlabError, match=r"sliders need IPython.*\[course\]"):
        sliders.move_it(_draw, "x", [1])


@pytest.mark.parametrize(("values", "start"), [([], None), ([1, 2], 3), (range(5), "a")])
def test_a_start_that_is_not_a_place_is_refused(shown, values, start):
    with pytest.raises(HitlabError, match="not among the slider's values"):
        sliders.move_it(_draw, "x", values, start)
    assert shown == []


def test_the_alt_text_is_escaped_and_the_picture_fits():
    html = image(_draw(4), width=720)
    assert re.search(
        r'^<img alt="[^"<>]{40,}" width="\d+" style="max-width: 100%; height: auto" src="data:', html
    )


def pixels(html):
    file = base64.b64decode(re.search(r"base64,([^\"]+)", html)[1])
    return np.asarray(package("PIL.Image").open(io.BytesIO(file)).convert("RGB")).astype(int)


def _whiff_answers():
    return plots.whiff_answers(approach.after_whiff(demo_season()))


def _calibration():
    bins = {"number": [120], "stated": [0.6], "came": [0.58], "error": [0.03]}
    return plots.calibration(pd.DataFrame({"kind": "above", "setting": "all settings"} | bins))


@pytest.mark.slow
@pytest.mark.parametrize("draw", [_whiff_answers, _calibration])
@pytest.mark.parametrize("dots", [50, 100, 133])
def test_a_quick_picture_of_a_fractional_size_is_the_same_picture(draw, dots):
    ax = draw()
    own = ax.figure.get_size_inches() * 100
    assert (own != own.astype(int)).any()
    plain, quick = (pixels(image(ax, 720, dots, quick=quick)) for quick in (False, True))
    assert plain.shape == quick.shape
    assert np.abs(plain - quick).max() <= 3
    assert ax.figure.get_dpi() == 100


def test_a_quick_picture_is_the_same_picture():
    plain, quick = (pixels(image(_draw(4), 720, 100, quick=quick)) for quick in (False, True))
    assert plain.shape == quick.shape
    # Letters laid on are rounded once more than letters drawn: three of 255 shades at most.
    assert np.abs(plain - quick).max() <= 3
    assert np.ptp(plain) > 200
    assert image(_draw(4), quick=True) == image(_draw(4), quick=True)
    # Other words at the same place are drawn as they are.
    other = pixels(image(_draw(5), 720, 100, quick=True))
    assert np.abs(other - pixels(image(_draw(5), 720, 100))).max() <= 3
    assert np.abs(other - quick).max() > 100


@pytest.mark.parametrize("shade", ["#FAF9F5", "none"])
def test_a_quick_file_holds_the_pixels_that_were_drawn(shade):
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    from hitlab.plots.redrawing import quick_png

    figure = package("matplotlib.figure").Figure((2.31, 1.47), dpi=100, facecolor=shade)
    figure.add_artist(package("matplotlib.patches").Circle((0.4, 0.5), 0.3, color="#B5470E", alpha=0.5))
    file = package("PIL.Image").open(io.BytesIO(quick_png(figure, 100)))
    assert file.mode == ("RGB" if shade != "none" else "RGBA")
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    np.testing.assert_array_equal(np.asarray(file.convert("RGBA")), np.asarray(canvas.buffer_rgba()))


def test_pictures_of_one_size_leave_nothing_on_each_other():
    late, on_time = plots.margin_map(timing_error_ms=12), plots.margin_map()
    plain = [pixels(image(ax, 720, 100)) for ax in (late, on_time)]
    for ax, one in zip((late, on_time, late), (*plain, plain[0]), strict=True):
        assert np.abs(pixels(image(ax, 720, 100, quick=True)) - one).max() <= 3
    assert np.abs(plain[0] - plain[1]).max() > 100


def test_the_next_steps_are_drawn_while_nothing_else_is_asked_for(shown, made):
    asked = []

    def draw(value):
        asked.append(value)
        if value == 5:
            raise ValueError("no picture of 5")
        return _draw(value)

    async def notebook():
        sliders.move_it(draw, "hard balls", [1, 2, 3, 4, 5], start=3)
        assert asked == [3]
        await _drawn(asked, 3)
        assert asked == [3, 4, 2]
        (slider,) = made
        before = shown.pictures
        slider.value = 4
        assert asked == [3, 4, 2]  # it was there already
        assert shown.pictures != before
        await _drawn(asked, 4)
        assert asked == [3, 4, 2, 5]  # tried ahead; nobody has gone there yet
        with pytest.raises(ValueError, match="no picture of 5"):
            slider.value = 5

    asyncio.run(notebook())


def test_nothing_is_drawn_ahead_while_cells_are_run_one_after_the_other(shown, monkeypatch):
    package("ipywidgets")
    asked, cells = [], iter(range(1_000_000))
    monkeypatch.setattr(sliders, "_cells_run", lambda: next(cells))

    async def notebook():
        sliders.move_it(lambda value: asked.append(value) or _draw(value), "hard balls", [1, 2, 3], start=2)
        await asyncio.sleep(0.8)
        assert asked == [2]
        monkeypatch.setattr(sliders, "_cells_run", lambda: 0)
        await _drawn(asked, 3)
        assert asked == [2, 3, 1]

    asyncio.run(notebook())
