"""What the calibration states is what the claims say, a built-in effect is found, and chances come true."""

from functools import partial

import numpy as np
import pandas as pd
import pytest

from hitlab import Counts, check_above, check_leads, check_more, check_near, check_split
from hitlab.over_time.periods import FACTOR
from tests.benchmarks.calibration_kinds import KINDS, PART, SETTINGS
from tests.benchmarks.calibration_leagues import LAWS, League, TrueLaw, draw_league
from tests.benchmarks.calibration_rates import clubs_of, state_rates, value_near
from tests.benchmarks.calibration_scores import score
from tests.benchmarks.calibration_stated import counts_of
from tests.benchmarks.calibration_two_parts import TwoPartLaw, TwoParts, state_change, state_split

ALL_KINDS = frozenset(KINDS)
NAME = "h{:03d}".format
# To rounding: sums over laws are taken for some hitters there, for all here.
near = partial(pytest.approx, rel=1e-9)


def parts_of(first, second, rng, ratio, level=-1.8):
    """Two parts with ratios that are given; what an oracle would know is of no use."""
    rates = (1 / (1 + np.exp(-level - more)) for more in (0.0, ratio))
    events = tuple(rng.binomial(n, p) for n, p in zip((first, second), rates, strict=True))
    return TwoParts((first, second), events, ratio, 0.0, 0.0, np.full(len(ratio), level), normal=False)


@pytest.mark.slow
def test_rates_are_scored_as_the_claims_state_them():
    league = draw_league(LAWS["small"], np.random.default_rng(4))
    stated = state_rates(league, 0, np.random.default_rng(5), ALL_KINDS)
    counts = counts_of(hard=league.events, swings=league.exposure)
    hitters = np.random.default_rng(5).permutation(15)
    value = value_near(league)
    assert value == 1 / 6  # .162 of the swings were hard
    few = np.sort(hitters[:8])
    for place, i in ((0, few[0]), (7, few[7])):
        assert stated.chance["above, league"][place] == near(check_above(counts, NAME(i), "league").chance)
        assert stated.chance["near"][i] == near(check_near(counts, NAME(i), value).chance)
        rest = np.arange(15) != i
        others = league.truth[rest] @ league.exposure[rest] / league.exposure[rest].sum()
        assert stated.came["above, league"][place] == (league.truth[i] > others)
    assert list(stated.came["near"]) == list(np.abs(league.truth - value) <= value / 10)
    lowest = check_leads(counts, direction="less")
    assert stated.chance["leads, lowest"][0] == near(lowest.chance)
    assert stated.came["leads, lowest"][0] == (lowest.numbers["hitter"] == NAME(league.truth.argmin()))
    clubs = clubs_of(hitters)
    club = np.empty(15, dtype=object)
    for number, members in enumerate(clubs):
        club[members] = f"club {number}"
    by_club = Counts.from_table(counts.data.assign(club=club))
    for number, members in enumerate(clubs):
        claim = check_leads(by_club, club=f"club {number}")
        assert stated.chance["leads, club"][number] == near(claim.chance)
        leader = int(claim.numbers["hitter"][1:4])
        regular = members[league.exposure[members] >= league.exposure[members].max() // 4]
        if len(regular) == len(members):  # whoever has too few swings is not compared
            assert stated.came["leads, club"][number] == (league.truth[leader] == league.truth[members].max())


@pytest.mark.slow
def test_two_parts_are_scored_as_the_claims_state_them():
    rng = np.random.default_rng(3)
    drawn = TwoPartLaw(12).draw(rng, np.full(12, 300), np.full(12, 150))
    rest, part = (
        pd.DataFrame({"hitter": [NAME(i) for i in range(12)], "hard": k, "swings": n})
        for k, n in zip(drawn.events, drawn.exposure, strict=True)
    )
    whole = rest.assign(hard=rest["hard"] + part["hard"], swings=rest["swings"] + part["swings"])
    whole, rest, part = (Counts.from_table(table) for table in (whole, rest, part))
    split, change = state_split(drawn), state_change(drawn)
    for i in (0, 5):
        ask = partial(check_split, whole, NAME(i), inside=part, situation="there")
        assert split.chance["split"][i] == near(ask().chance)
        assert split.chance["split, usual"][i] == near(ask(against="usual").chance)
        ask = partial(check_more, part, NAME(i), before=rest)
        assert change.chance["more"][i] == near(ask().chance)
        assert change.chance["more, different"][i] == near(ask(direction="either").chance)
        # Less is the other side of more.
        assert ask(direction="less").chance == near(1 - change.chance["more"][i])
    assert list(split.came["split, usual"]) == list(drawn.ratio > drawn.mean)
    up_or_down = (drawn.ratio >= np.log(1.25)) | (drawn.ratio <= -np.log(1.25))
    assert list(change.came["more, different"]) == list(up_or_down)


def test_less_is_the_other_side_of_more():
    league = draw_league(LAWS["small"], np.random.default_rng(6))
    counts = counts_of(hard=league.events, swings=league.exposure)
    other = counts_of(hard=league.exposure - league.events, swings=league.exposure)
    for value in (0.14, "league"):
        more, less = (check_above(counts, NAME(2), value, direction=way).chance for way in ("more", "less"))
        assert less == near(1 - more)
    # What is seldom hard is often not hard: of few hitters all laws stand for themselves, on symmetric grids.
    assert check_above(counts, NAME(2), 0.14, direction="less").chance == pytest.approx(
        check_above(other, NAME(2), 0.86).chance, abs=1e-6
    )


def test_an_oracle_of_two_parts_by_drawing():
    """Levels and ratios drawn from their laws, kept where they make the counts: 2 in 20, then 5 in 20."""
    rng = np.random.default_rng(7)
    twenty = np.array([20])
    known = TwoParts(
        (twenty, twenty), (np.array([2]), np.array([5])), np.zeros(1), 0.1, 0.4, np.array([-1.8]), normal=True
    ).oracle()
    level = rng.normal(-1.8, 0.2, 2_000_000)
    ratio = rng.normal(0.1, 0.4, len(level))
    kept = (rng.binomial(20, 1 / (1 + np.exp(-level))) == 2) & (
        rng.binomial(20, 1 / (1 + np.exp(-level - ratio))) == 5
    )
    drawn = ratio[kept]
    for chance, share in (
        (known.chance(known.ratio > 0), (drawn > 0).mean()),
        (known.chance(np.abs(known.ratio) > np.log(FACTOR)), (np.abs(drawn) > np.log(FACTOR)).mean()),
    ):
        # A hundredth of the points may lie on the wrong side of a bound.
        assert chance[0] == pytest.approx(share, abs=3 * 0.5 / np.sqrt(len(drawn)) + 0.005)


def test_one_hitter_far_from_the_others_is_found_and_the_others_are_not():
    """40 hitters of 600 swings at .14; one at .28, nine standard errors up, one at .05, six down."""
    rng = np.random.default_rng(11)
    truth, swings = np.full(40, 0.14), np.full(40, 600)
    truth[0], truth[1] = 0.28, 0.05
    hard = rng.binomial(swings, truth)
    counts = counts_of(hard=hard, swings=swings)
    ask = partial(check_above, counts)
    assert ask(NAME(0), "league").verdict == "holds"
    assert ask(NAME(1), "league", direction="less").verdict == "holds"
    assert ask(NAME(2), "league").verdict != "holds"
    assert check_near(counts, NAME(0), "1/8").verdict == "does not hold"
    assert check_near(counts, NAME(1), "1/8").verdict == "does not hold"
    league = League(hard, swings, truth, *np.full((2, 40), np.nan))
    for kind in ("leads, lowest", "leads, club"):
        stated = state_rates(league, 0, np.random.default_rng(1), ALL_KINDS)
        first = stated.came[kind]
        assert (stated.chance[kind][first] >= 0.9).sum() >= 1
        assert not (stated.chance[kind][~first] >= 0.9).any()


def test_a_built_in_change_is_found_up_and_down_and_no_other_is():
    """40 hitters, 1,200 swings twice; odds of one doubled (6 standard errors), of one halved."""
    ratio = np.zeros(40)
    ratio[:2] = np.log(2), -np.log(2)
    swings = np.full(40, 1200)
    change = state_change(parts_of(swings, swings, np.random.default_rng(12), ratio))
    different = change.chance["more, different"]
    assert (different[:2] >= 0.9).all()
    assert list(change.came["more, different"]) == [True, True, *[False] * 38]
    assert (different[2:] < 0.9).all()
    assert (different[2:] <= 0.1).mean() > 0.5


def test_a_difference_from_the_usual_is_found_where_everybody_differs():
    """The situation halves everybody's odds but one hitter's, whom it leaves as he is."""
    ratio = np.full(40, -np.log(2))
    ratio[0] = 0.0
    parts = parts_of(np.full(40, 1200), np.full(40, 900), np.random.default_rng(13), ratio)
    stated = state_split(parts)
    assert stated.chance["split, usual"][0] >= 0.9
    assert stated.chance["split"][0] < 0.9  # his odds did not rise
    assert (stated.chance["split"][1:] <= 0.1).all()
    assert stated.chance["split, usual"].argmax() == 0


@pytest.mark.slow
def test_near_holds_in_a_league_where_it_is_so():
    """Rates around one half, known to .01: a tenth of one half is five standard errors."""
    league = draw_league(TrueLaw("half", 40, (2500, 2600), mean=0.5, spread=0.03), np.random.default_rng(14))
    stated = state_rates(league, 0, np.random.default_rng(1), ALL_KINDS)
    assert value_near(league) == 1 / 2
    held = stated.chance["near"] >= 0.9
    assert held.sum() > 20
    assert stated.came["near"][held].mean() > 0.9


@pytest.mark.slow
@pytest.mark.parametrize(
    ("kind", "setting", "leagues", "least_found"),
    [
        ("above, league", "150, every other", 100, 0.95),
        ("near", "150, every other", 40, 0.95),
        ("split, usual", "150, split, plain", 70, 0.75),
        ("more, different", "150, more, plain", 120, 0.3),
        ("more, different", "150, more, long records", 30, 0.7),
    ],
)
def test_verdicts_are_right_as_often_as_stated_and_find_what_can_be_found(
    kind, setting, leagues, least_found
):
    """Both verdicts right in .90, less 2.33 standard errors (of about .01): a chance of one in a hundred.

    The error is the larger one of that between leagues and the binomial one. What is found is held against
    what is found by an oracle that knows the law of the truth: measured 1.0, 1.0, .85, .38 and .78 of that.
    The oracle of a change knows how much hitters change in this very league, which one league tells badly.
    """
    stated = [
        one
        for number, _ in enumerate(range(0, leagues, PART))
        for one in SETTINGS[setting].part(number, PART, 17, frozenset({kind}))
    ]
    row, _ = score(kind, stated)
    for verdict in ("holds", "fails"):
        right, error = row[f"{verdict}_right"], row[f"{verdict}_right_error"]
        assert error <= 0.02
        assert right >= 0.90 - 2.33 * error
    assert abs(row["slope"] - 1) <= 0.1 + 2.33 * row["slope_error"]
    assert row["error"] <= 0.01 + row["luck"] + 2 * row["luck_spread"]
    chance, came, known = (
        np.concatenate([getattr(one, name)[kind] for one in stated]) for name in ("chance", "came", "oracle")
    )
    found, by_law = ((each[came.astype(bool)] >= 0.9).sum() for each in (chance, known))
    assert found >= least_found * by_law
