"""False alarms and power of the analysis after a whiff, with day form in the null.

The bounds were set before: at most 6 % false alarms at a nominal 5 %, at least 80 % power at a true log
odds ratio of .10 in 700,000 pitches. What was measured stands beside each test, with its Monte Carlo error.
"""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab.approach.response_rows import joint_codes, pitcher_groups_of
from hitlab.approach.responses import after_whiff
from hitlab.approach.stratified import Comparison, compare_units
from hitlab.claims.response_claim import chance_to_find
from hitlab.league import Effects, make_season
from tests.visits import KINDS, OUTCOMES, WHIFF, League, draw

PITCHES = 700_000


def analyse(league: League, **options) -> Comparison:
    """Compare whiffs after whiffs as ``after_whiff`` does, without the table around it."""
    same = np.append(False, league.appearance[1:] == league.appearance[:-1])
    here = np.flatnonzero(same)
    here = here[league.strikes[here] == league.strikes[here - 1] + 1]
    missed = league.outcome == WHIFF
    groups = pitcher_groups_of(np.bincount(league.pitcher, missed), np.bincount(league.pitcher), 5)
    hitter, pitcher = league.hitter[here], league.pitcher[here]
    count = league.balls[here], league.strikes[here]
    return compare_units(
        joint_codes(groups[pitcher], *count, league.kind[here - 1], hitter),
        missed[here - 1],
        missed[here],
        league.strikes[here],
        league.appearance[here],
        joint_codes(hitter, pitcher, league.game[here]),
        hitter,
        0.90,
    )


def pitch_table(league: League) -> pd.DataFrame:
    """The same pitches as a pitch table."""
    return pd.DataFrame(
        {
            "game": league.game,
            "hitter": league.hitter,
            "pitcher": league.pitcher,
            "plate_appearance": league.appearance + 1,
            "pitch": league.pitch,
            "pitch_kind": np.array(KINDS, dtype=object)[league.kind],
            "outcome": np.array(OUTCOMES, dtype=object)[league.outcome],
        }
    )


def repeated(number: int, first_seed: int, pitches: int = PITCHES, **options) -> pd.DataFrame:
    found = []
    for seed in range(first_seed, first_seed + number):
        answer = analyse(draw(pitches, seed, **options))
        found.append(
            {
                "own": answer.own.log_ratio,
                "own_p": answer.own.p,
                "placebo": answer.placebo.log_ratio,
                "left": answer.difference.log_ratio,
                "error": answer.difference.error,
                "p": answer.difference.p,
            }
        )
    table = pd.DataFrame(found)
    print(table.describe().loc[["mean", "std"]].round(4), f"alarms {(table['p'] < 0.05).mean():.4f}")
    return table


def test_the_short_way_of_these_tests_is_the_analysis_itself():
    league = draw(40_000, 3, hitters=40)
    told = after_whiff(pitch_table(league), responses=("whiff",), pitcher_groups=5)
    answer = analyse(league)
    own = told.of("whiff", "after a whiff")
    assert own["log_odds_ratio"] == pytest.approx(answer.own.log_ratio, rel=1e-9)
    for test, part in (("placebo", answer.placebo), ("difference", answer.difference)):
        row = told.of("whiff", test)
        assert (row["log_odds_ratio"], row["error"]) == pytest.approx((part.log_ratio, part.error), rel=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("day_form", [0.2, 0.4])
def test_false_alarms_with_day_form_stay_near_the_nominal_rate(day_form):
    """300 null leagues of the demo season's size: tests at 5 % and verdicts at 90 % either way (20 %).

    Measured: .053 and .223 at the usual day form, .063 and .223 at twice that (Monte Carlo errors .013 and
    .023). Fails where true rates of 6 % and 22 % would give so many in less than 2 of 100 runs.
    """
    table = repeated(300, 50_000, pitches=120_000, day_form=day_form)
    for nominal, wanted in ((0.05, 0.06), (0.20, 0.22)):
        alarms = int((table["p"] < nominal).sum())
        assert stats.binom.sf(alarms - 1, len(table), wanted) > 0.02
    assert abs(table["left"].mean()) < 0.005


@pytest.mark.slow
def test_without_the_placebo_nearly_every_null_season_would_be_called():
    """Of 60 null leagues of 700,000 pitches; with it few are."""
    table = repeated(60, 10_000)
    assert (table["own_p"] < 0.05).mean() > 0.5
    alarms = int((table["p"] < 0.05).sum())
    assert stats.binom.sf(alarms - 1, len(table), 0.06) > 0.02
    assert abs(table["left"].mean()) < 0.005


@pytest.mark.slow
def test_power_at_a_log_odds_ratio_of_a_tenth():
    # Measured: 60 of 60, .096 on average (Monte Carlo error .002); at .05 it was 44 of 60, .049.
    table = repeated(60, 20_000, effect=0.10)
    assert ((table["p"] < 0.05) & (table["left"] > 0)).mean() >= 0.80
    assert abs(table["left"].mean() - 0.10) < 0.01


@pytest.mark.slow
def test_a_table_finds_a_tenth_as_often_as_it_says():
    """100 leagues of the demo season's size, the odds of a whiff raised by a tenth after a whiff."""
    table = repeated(100, 80_000, pitches=120_000, effect=np.log(1.1))
    said = np.mean([chance_to_find(error, 0.90) for error in table["error"]])
    found = (table["left"] / table["error"] >= stats.norm.ppf(0.90)).mean()
    assert found == pytest.approx(said, abs=2.33 * np.sqrt(said * (1 - said) / len(table)))
    assert 0.4 < said < 0.8


@pytest.mark.slow
def test_the_season_generator_agrees():
    # Day form three times the usual; measured on 28 null seasons: .000 left on average (Monte Carlo error
    # .005), 2 of 28 called at a nominal 5 %, 27 of 28 without the placebo.
    def left(seed: int, response: float) -> tuple[float, float]:
        effects = Effects(whiff_response=response, day_form=0.3)
        season = make_season(hitters=150, clubs=10, pitches=PITCHES, seed=seed, effects=effects)
        row = after_whiff(season.pitches, responses=("whiff",)).of("whiff")
        return float(row["log_odds_ratio"]), float(row["error"])

    null = np.array([left(seed, 0.0) for seed in range(700, 704)])
    assert abs(null[:, 0].mean()) < 3 * np.sqrt((null[:, 1] ** 2).sum()) / len(null)
    # The generator adds .15 to the logit of a whiff at a *swing*: at a pitch that is about .15 times
    # (1 - .26) / (1 - .13), because a quarter of swings and an eighth of pitches are whiffs there.
    found, error = left(705, 0.15)
    assert abs(found - 0.15 * 0.74 / 0.87) < 3 * error
