"""The picture of a rate that moves: what is drawn is the table."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from matplotlib.figure import Figure

from hitlab import form_over_time, plots


@pytest.fixture(scope="module")
def form():
    rng = np.random.default_rng(8)
    swings = rng.integers(4, 12, 50)
    games = pd.DataFrame(
        {
            "hitter": "Íñigo Hoshidori",
            "game": [f"g{i:02d}" for i in range(50)],
            "date": pd.date_range("2031-04-01", periods=50),
            "hard": rng.binomial(swings, 0.2),
            "swings": swings,
        }
    )
    return form_over_time(games, "Íñigo Hoshidori", "hard", "swings", draws=300)


def test_line_bands_and_ends_are_those_of_the_table(form):
    ax = plots.draw(form)
    data = form.table()
    (line,) = [one for one in ax.lines if one.get_label() == "rate"]
    np.testing.assert_array_equal(line.get_xydata(), data[["game", "rate"]])
    (overall,) = [one for one in ax.lines if one.get_label() == "overall"]
    assert overall.get_ydata()[0] == form.overall
    for label, low, high in (
        ("luck, all windows", "luck_low", "luck_high"),
        ("luck, one window", "point_low", "point_high"),
    ):
        (band,) = [one for one in ax.collections if one.get_label() == label]
        heights = band.get_paths()[0].vertices[:, 1]
        assert (heights.min(), heights.max()) == (data[low].min(), data[high].max())
    (ends,) = [one for one in ax.collections if one.get_label() == "ends"]
    assert ends.get_offsets()[:, 1].tolist() == data["rate"].iloc[[form.hottest, form.coldest]].tolist()
    said = [text.get_text() for text in ax.texts]
    best = data.iloc[form.hottest]
    assert f"best: {best['hard']} of {best['swings']}, {best['rate']:.3f}".replace(", 0.", ", .") in said
    assert form.explanation in plots.describe(ax)
    assert form.hitter in said[-1]


def test_it_draws_on_the_axes_that_are_given(form):
    ax = Figure().add_subplot()
    assert plots.moving_rate(form, ax) is ax


def test_more_whiffs_are_not_called_the_best(form):
    whiffs = form_over_time(
        pd.DataFrame(
            {
                "hitter": "Ada",
                "game": [f"g{i:02d}" for i in range(40)],
                "date": pd.date_range("2031-04-01", periods=40),
                "whiffs": [i % 5 for i in range(40)],
                "swings": 8,
            }
        ),
        "Ada",
        "whiffs",
        "swings",
        draws=200,
    )
    assert whiffs.extremes == ("highest", "lowest")
    assert form.extremes == ("best", "worst")
    said = " ".join(text.get_text() for text in plots.draw(whiffs).texts)
    assert "highest: " in said
    assert "best" not in f"{said} {whiffs.explanation}"
    assert "as hot" not in whiffs.explanation
