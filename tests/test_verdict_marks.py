"""Signs of verdicts: no two can be taken for each other, whatever colours are seen."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pandas as pd
import pytest
from matplotlib.patches import Polygon

import hitlab
from hitlab.evidence.cards import SIZES, card
from hitlab.plots import look
from hitlab.plots.verdict_marks import SIGNS, outline_of
from tests.needs import package
from tests.test_cards import made
from tests.test_plots_look import as_seen, contrast


def test_every_answer_has_a_shape_of_its_own():
    """Shape, filling and outline alone tell all apart, for those who see no colours at all."""
    shapes = {answer: (sign.shape, sign.filled, sign.dashed) for answer, sign in SIGNS.items()}
    assert len(set(shapes.values())) == len(SIGNS) == 7
    corners = {shape: tuple(outline_of(shape, 0, 0, 10, 4)) for shape in ("right", "left", "both", "plain")}
    assert len(set(corners.values())) == 4
    for found in corners.values():
        across, along = np.array(found).T
        assert (across.min(), across.max(), along.min(), along.max()) == (0, 10, 0, 4)


@pytest.mark.parametrize("answer", SIGNS)
def test_words_in_a_sign_can_be_read(answer):
    assert contrast(SIGNS[answer].color, look.BACKGROUND) >= 4.5


@pytest.mark.parametrize("kind", [None, "deuteranomaly", "protanomaly", "tritanomaly"])
def test_the_colours_differ_for_the_colour_blind(kind):
    """As the accents are tested: Machado, Oliveira & Fernandes 2009, distance in CAM02-UCS."""
    space = package("colorspacious")
    colors = {sign.color for sign in SIGNS.values()}
    assert len(colors) == 4  # those of a chance, and one of what has none
    for one, other in combinations(sorted(colors), 2):
        seen = (as_seen(color, kind) for color in (one, other))
        assert space.deltaE(*seen, input_space="sRGB1") >= 10, (kind, one, other)


@pytest.mark.parametrize("color", [look.BACKGROUND, *look.BANDS])
def test_where_a_band_ends_is_seen(color):
    assert contrast(look.EDGE, color) >= 3.0


def verdicts():
    claim = made("above underlying")
    record = made("above record")
    return {
        "holds": replace(claim, verdict="holds", chance=0.95),
        "does not hold": replace(claim, verdict="does not hold", chance=0.04),
        "open": replace(claim, verdict="open", chance=0.5),
        **{f"record {word}": replace(record, verdict=word) for word in ("holds", "does not hold", "open")},
        "cannot be told": claim.withheld("hardness is unknown for 70 % of the contact"),
    }


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("size", SIZES)
def test_a_sign_stands_at_the_place_of_its_answer(size):
    middles, shapes = {}, set()
    for answer, claim in verdicts().items():
        assert claim.answer == answer
        ax = card(claim, size=size).axes[0]
        (sign,) = [one for one in ax.patches if isinstance(one, Polygon) and one.get_label() == "sign"]
        framed = any(patch.get_label() == "frame" for patch in ax.patches)
        assert framed == answer.startswith("record")
        across = sign.get_xy()[:, 0]
        middles[answer] = (across.min() + across.max()) / 2
        shapes.add((len(sign.get_xy()), framed, sign.get_facecolor(), sign.get_linestyle()))
    assert middles["does not hold"] + 50 < middles["open"] < middles["holds"] - 50
    assert len(shapes) == 7


def test_a_claim_about_the_best_of_two_does_not_say_best():
    two = hitlab.questions.Question(kind="leads", minimum=0)
    frame = hitlab.Counts.from_table(
        pd.DataFrame({"hitter": ["Ada Yarl", "Bo Zelm"], "swings": [400, 410], "hard": [80, 60]})
    )
    assert two.ask(frame).rows().columns[2] == "truly the higher"
