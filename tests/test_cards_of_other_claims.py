"""Cards of the claims that are not about one rate: a response, two rates together, a spot."""

from __future__ import annotations

from statistics import NormalDist
from typing import Any

import numpy as np
import pandas as pd
import pytest
from PIL import Image

import hitlab
import hitlab.claims
from hitlab.claims.rows import rows_of
from hitlab.evidence.cards import card, read_card
from hitlab.plots import describe

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def given() -> dict[str, Any]:
    pitches = hitlab.demo_season()
    fast, spin = hitlab.situation("pitch_kind=fastball"), hitlab.situation("pitch_kind=breaking")
    link = hitlab.two_rates.correlate_rates(
        pitches,
        hitlab.two_rates.RateOf("in_play", "contact", fast),
        hitlab.two_rates.RateOf("hard", "swings", spin),
    )
    return {
        "counts": hitlab.tally(pitches),
        "responses": hitlab.approach.after_whiff(pitches),
        "link": link,
        "spot": hitlab.game.Spot(-2, 1, "first second"),
        "outcomes": hitlab.game.outcome_counts(pitches),
    }


def _claims(given: dict[str, Any]) -> dict[str, hitlab.Claim]:
    return {
        "response": hitlab.check_response(given["counts"], responses=given["responses"], response="hard"),
        "together": hitlab.check_together(given["link"]),
        "spot": hitlab.check_spot(given["outcomes"], given["spot"], "Nadia Izezno"),
    }


def test_every_card_can_be_traced_and_made_again(given, tmp_path):
    for kind, claim in _claims(given).items():
        path = tmp_path / f"{kind}.png"
        card(claim, path)
        with Image.open(path) as image:
            assert image.size == (1920, 1080)
        facts = read_card(path)
        assert (facts.kind, facts.verdict, facts.chance) == (kind, claim.verdict, claim.chance)
        table = {"response": given["counts"], "together": given["link"], "spot": given["outcomes"]}[kind]
        more = {"responses": given["responses"]} if kind == "response" else {}
        assert facts.asked.ask(table, **more).to_dict() == claim.to_dict()


def test_what_is_drawn_is_the_evidence(given):
    claims = _claims(given)
    spot = rows_of(claims["spot"])
    assert spot is not None
    assert spot.value.tolist() == claims["spot"].evidence["win_chance"].tolist()
    assert spot.names[int(np.flatnonzero(spot.subject)[0])] == "Nadia Izezno"
    assert spot.lines == (claims["spot"].numbers["league_win_chance"],)
    link = rows_of(claims["together"])
    assert link is not None
    assert (link.value[0], link.low[0], link.high[0]) == (
        given["link"].correlation,
        given["link"].low,
        given["link"].high,
    )
    response = rows_of(claims["response"])
    assert response is not None
    numbers = claims["response"].numbers
    assert response.value.tolist() == [numbers["log_odds_ratio"]]
    assert (response.high - response.low)[0] / numbers["log_odds_ratio_error"] == pytest.approx(
        2 * 1.6449, abs=1e-3
    )
    assert response.lines == (0.0,)
    assert response.line_words == ("no difference",)
    for row in claims["response"].evidence.to_dict("records"):
        assert any(
            f"{row['record']}: {row['hard']:,} of {row['next_pitches']:,}" in line
            for line in response.beneath
        )
    # In the words of the sentence: per cent with per cent.
    assert spot.text(spot.value[0]).endswith(" %")
    ax = hitlab.plots.claim(claims["spot"])
    ax.figure.canvas.draw()
    assert all(label.get_text().endswith(" %") for label in ax.get_xticklabels() if label.get_text())
    words = describe(hitlab.plots.claim(claims["together"]))
    assert claims["together"].say_in_full in words
    assert f"{given['link'].correlation:+.2f}".replace("0.", ".") in words


def test_the_usual_rate_and_the_bounds_stand_across_the_stretches():
    counts = hitlab.tally(hitlab.demo_season(), by=["hitter", "game", "date"])
    for kind, ends in (("hot", ("usual", "hot_from")), ("steady", ("steady_from", "season", "steady_to"))):
        claim = getattr(hitlab, f"check_{kind}")(counts, "Nadia Izezno")
        ax = hitlab.plots.claim(claim)
        across = [line.get_xdata()[0] for line in ax.lines if line.get_label() == "line"]
        assert across == [claim.numbers[name] for name in ends] == sorted(across)
        assert all(
            f"{place:.3f}"[1:] in claim.say_in_full for place in across if place != claim.numbers["usual"]
        )
        seen = rows_of(claim)
        assert seen is not None
        assert seen.subject.sum() == (1 if kind == "hot" else len(seen.names))
        record = getattr(hitlab, f"check_{kind}")(counts, "Nadia Izezno", about="record")
        without = rows_of(record)
        assert without is not None
        assert without.line_words == ("everybody",)
        assert without.lines == (record.numbers["mean_rate"],)


@pytest.mark.parametrize("hard", [15, 32, 41])
def test_the_interval_of_the_leagues_split_is_that_of_its_chance(hard):
    """The chance goes through beta laws, the drawn interval takes log odds for normal."""
    whole = pd.DataFrame({"hitter": ["A", "B"], "swings": [300, 310], "hard": [60, 50]})
    part = pd.DataFrame({"hitter": ["A", "B"], "swings": [100, 105], "hard": [hard, 12]})
    claim = hitlab.check_split(whole, "league", inside=part, situation="on sliders")
    drawn = rows_of(claim)
    error = (drawn.high - drawn.low)[0] / (2 * NormalDist().inv_cdf(0.95))
    assert NormalDist().cdf(drawn.value[0] / error) == pytest.approx(claim.chance, abs=0.01)
