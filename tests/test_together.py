"""Two rates that go together: the posterior against other ways to it, shared luck, who is matched."""

import json
from pathlib import Path

import narwhals as nw
import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from hitlab import Counts, demo_season, situation, tally
from hitlab.claims.checking import check_together
from hitlab.counting.facts import Conventions
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from hitlab.two_rates.disjoint import RateOf, rule_disjoint
from hitlab.two_rates.link import Link, correlation_text
from hitlab.two_rates.logit_normal import MEAN_SCALE, SPREAD_SCALE, correlation_posterior, talent_rates
from hitlab.two_rates.together import correlate_counts, correlate_rates
from tests.benchmarks.bench_together import (
    SPREAD,
    WIDE_SPREAD,
    draw,
    flat_share,
    logit_spread,
    score,
    smallest_error,
)

HARD, LATER = RateOf("hard", "swings", words="last season"), RateOf("hard", "swings", words="this season")
APART = "the two seasons share no game"


def _league(seed, hitters, correlation=0.5, spread=0.3, mean=-1.8, exposures=(20, 600)):
    rng = np.random.default_rng(seed)
    z = rng.standard_normal((2, hitters))
    z[1] = correlation * z[0] + np.sqrt(1 - correlation**2) * z[1]
    n = np.rint(np.exp(rng.uniform(*np.log(exposures), (2, hitters)))).astype(int)
    k = rng.binomial(n, 1 / (1 + np.exp(-mean - spread * z)))
    return k[0], n[0], k[1], n[1]


def _tables(counts, names=None):
    k1, n1, k2, n2 = counts
    names = names or [f"h{i:03d}" for i in range(len(k1))]
    return tuple(
        Counts.from_table(pd.DataFrame({"hitter": names, "swings": n, "hard": k}))
        for k, n in ((k1, n1), (k2, n2))
    )


def _linked(counts, **options):
    return correlate_counts(*_tables(counts), HARD, LATER, apart=APART, **options)


def _summary(found):
    mass, grid = found.weight.sum(axis=(0, 1)), found.correlation
    edges = np.append(grid, 2 * grid[-1] - grid[-2]) - (grid[1] - grid[0]) / 2
    mean = float(mass @ grid)
    ends = np.interp((0.05, 0.5, 0.95), np.append(0, np.cumsum(mass)), edges)
    return mean, float(np.sqrt(mass @ grid**2 - mean**2)), ends


def _double_integral(counts, found, side=11, points=61):
    """Posterior mass on the grid of correlations, summed over means, spreads and both talents."""
    z = np.linspace(-5.5, 5.5, points)
    parts = []
    for k, n, rate in ((counts[0], counts[1], found.first), (counts[2], counts[3], found.second)):
        spreads = (np.arange(side) + 0.5) / side * rate.spreads[-1] * 1.05
        reach = 5 / np.sqrt((1 / (rate.spreads.mean() ** 2 + 1 / rate.precision[6])).sum()) + 0.1
        means = rate.means.mean() + np.linspace(-reach, reach, side)
        x = (means[:, None, None] + spreads[None, :, None] * z).reshape(side * side, 1, points)
        log_term = k[None, :, None] * x - n[None, :, None] * np.logaddexp(0, x)
        prior = -0.5 * ((means[:, None] / MEAN_SCALE) ** 2 + (spreads / SPREAD_SCALE) ** 2).ravel()
        parts.append((np.exp(log_term - log_term.max(axis=(0, 2))[None, :, None]), prior))
    (one, prior1), (other, prior2) = parts
    total = []
    for r in found.correlation:
        law = np.exp(-(z[:, None] ** 2 - 2 * r * z[:, None] * z + z**2) / (1 - r * r) / 2)
        joined = one @ (law / law.sum())
        log_sum = prior1[:, None] + prior2
        for i in range(len(counts[0])):
            for start in range(
                0, side * side, 30
            ):  # small products, which numpy does not spread over threads
                log_sum[start : start + 30] += np.log(joined[start : start + 30, i] @ other[:, i].T)
        total.append(np.log(np.exp(log_sum - log_sum.max()).sum()) + log_sum.max())
    mass = np.exp(np.array(total) - max(total))
    return mass / mass.sum()


@pytest.mark.slow
@pytest.mark.parametrize(
    "league",
    [
        # The brute sum on a grid of 11 means and 11 spreads is good to about .001 (against 13 and 13); the
        # The brute sum over 11 means and 11 spreads is good to about .001 (against 13 and 13). The
        # largest differences measured: .0013 for a mean and .0025 for an end, posteriors are .1 to .5 wide.
        (1, 40, 0.6, 0.3, -2.2, (5, 50)),
        (3, 100, 0.6, 1.0, -2.0, (5, 20)),
        (5, 100, 0.6, 1.0, -3.5, (5, 40)),
        (6, 60, 0.9, 0.8, -1.0, (10, 200)),
    ],
)
def test_the_posterior_is_that_of_the_double_integral(league):
    counts = _league(*league)
    found = correlation_posterior(*counts)
    mean, _, ends = _summary(found)
    grid, mass = found.correlation, _double_integral(counts, found)
    edges = np.append(grid, 2 * grid[-1] - grid[-2]) - (grid[1] - grid[0]) / 2
    assert mean == pytest.approx(mass @ grid, abs=0.002)
    theirs = np.interp((0.05, 0.5, 0.95), np.append(0, np.cumsum(mass)), edges)
    np.testing.assert_allclose(ends, theirs, atol=0.004)


def test_a_spread_that_may_be_small_leaves_room_for_every_correlation():
    # At the likeliest spread anything under -.87 is all but ruled out; with a smaller one it is not.
    found = correlation_posterior(*draw(np.random.default_rng(0), 200, 0.5, (0.06, 0.8)))
    assert found.gains[0] < 5
    assert found.correlation[0] < -0.95
    assert found.correlation[-1] > 0.95


@pytest.mark.parametrize("name", ["season", "small counts"])
def test_the_posterior_is_that_of_a_full_bayesian_fit(name):
    """Made by tests/benchmarks/together_full_bayes.py with PyMC 5.28.5, No-U-Turn, 20,000 draws."""
    made = json.loads((Path(__file__).parent / "reference" / "together_full_bayes.json").read_text("utf-8"))
    league = made["leagues"][name]
    theirs = league["posterior"]
    assert theirs["r_hat"] < 1.01
    assert theirs["divergences"] == 0
    counts = (np.array(league["counts"][column]) for column in ("k1", "n1", "k2", "n2"))
    found = correlation_posterior(*counts)
    mean, deviation, ends = _summary(found)
    # Three Monte Carlo errors of the mean and the deviation; a quantile at .05 has about twice as much.
    error = theirs["standard_deviation"] / np.sqrt(theirs["effective_draws"])
    assert mean == pytest.approx(theirs["mean"], abs=3 * error)
    assert deviation == pytest.approx(theirs["standard_deviation"], abs=3 * error)
    quantiles = [theirs["quantiles"][q] for q in ("0.05", "0.5", "0.95")]
    np.testing.assert_allclose(ends, quantiles, atol=6 * error)
    spread = (
        found.weight.sum(axis=(1, 2)) @ found.first.spreads,
        found.weight.sum(axis=(0, 2)) @ found.second.spreads,
    )
    np.testing.assert_allclose(spread, theirs["spread_means"], rtol=0.01)


def test_with_no_luck_it_is_the_correlation_of_a_normal_sample():
    """Known rates: the flat-prior posterior has mean near r, deviation near (1 - r^2) / sqrt(n).

    Kendall & Stuart, The Advanced Theory of Statistics, vol. 1, the sampling variance of r (from memory).
    """
    k1, n1, k2, n2 = _league(5, 300, 0.7, exposures=(1e8, 2e8))
    observed = np.corrcoef(np.log(k1 / (n1 - k1)), np.log(k2 / (n2 - k2)))[0, 1]
    mean, deviation, _ = _summary(correlation_posterior(k1, n1, k2, n2))
    expected = (1 - observed**2) / np.sqrt(300)
    assert mean == pytest.approx(observed, abs=0.2 * expected)
    assert deviation == pytest.approx(expected, rel=0.05)


@pytest.mark.slow
@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000), hitters=st.integers(3, 60), most=st.integers(2, 400))
def test_swapping_turning_and_reordering(seed, hitters, most):
    rng = np.random.default_rng(seed)
    n1, n2 = rng.integers(1, most, hitters), rng.integers(1, most, hitters)
    k1, k2 = rng.binomial(n1, rng.uniform(0, 1, hitters)), rng.binomial(n2, 0.2)
    mean, deviation, _ = _summary(correlation_posterior(k1, n1, k2, n2))
    order = rng.permutation(hitters)
    same = ((k2, n2, k1, n1), tuple(column[order] for column in (k1, n1, k2, n2)))
    for counts in same:
        np.testing.assert_allclose(_summary(correlation_posterior(*counts))[:2], (mean, deviation), atol=1e-6)
    # The share of the others has the correlation with its sign turned.
    turned = _summary(correlation_posterior(n1 - k1, n1, k2, n2))
    np.testing.assert_allclose(turned[:2], (-mean, deviation), atol=2e-3)


@pytest.mark.slow
def test_the_observed_correlation_is_the_true_one_times_the_root_of_both_reliabilities():
    """Spearman 1904 (attenuation), on 2,500 hitters of 150 swings each."""
    link = _linked(_league(8, 2_500, 0.6, exposures=(150, 150)))
    assert link.naive_hitters == 2_500
    assert link.naive == pytest.approx(0.6 * link.largest_naive, abs=3 / np.sqrt(2_500))
    assert link.naive < link.low
    assert link.low < 0.6 < link.high
    noise = 0.14 * 0.86 / 150  # roughly p (1 - p) / n
    assert link.reliabilities[0] == pytest.approx(
        link.spreads[0] ** 2 / (link.spreads[0] ** 2 + noise), abs=0.03
    )
    assert f"a true correlation of 1 would show as about {correlation_text(link.largest_naive)}" in str(link)


def test_shrunk_rates_are_those_of_a_normal_model_with_known_parts():
    """With normal likelihoods and a sharp posterior of the rest, shrinking is linear: Gelman et al., Bayesian
    Data Analysis, chapter 3 (from memory). A record in one rate moves the other by the correlation."""
    counts = _league(2, 1_500, 0.8, 0.5, exposures=(100, 400))
    found = correlation_posterior(*counts)
    shrunk = np.stack(talent_rates(found))
    place = found.weight.sum(axis=(0, 1)).argmax()
    i, j = found.weight.sum(axis=(1, 2)).argmax(), found.weight.sum(axis=(0, 2)).argmax()
    s1, s2, r = found.first.spreads[i], found.second.spreads[j], found.correlation[place]
    law = np.array([[s1**2, r * s1 * s2], [r * s1 * s2, s2**2]])
    mean = np.array([found.first.means[i], found.second.means[j]])
    for h in (0, 7, 700):
        noise = np.diag([1 / found.first.precision[i, h], 1 / found.second.precision[j, h]])
        record = np.array([found.first.centre[i, h], found.second.centre[j, h]])
        posterior = mean + law @ np.linalg.solve(law + noise, record - mean)
        np.testing.assert_allclose(np.log(shrunk[:, h] / (1 - shrunk[:, h])), posterior, atol=0.03)
    rng = np.random.default_rng(2)
    z = rng.standard_normal((2, 1_500))
    true = 1 / (1 + np.exp(1.8 - 0.5 * z[0]))
    own = counts[0] / counts[1]
    assert ((shrunk[0] - true) ** 2).mean() < 0.8 * ((own - true) ** 2).mean()


# Whose luck is shared ------------------------------------------------------------------------------------


@pytest.mark.slow
def test_one_table_of_swings_for_two_rates_is_refused_with_the_number_of_pitches():
    season = demo_season()
    swings = int(tally(season).column("swings").sum())
    with pytest.raises(CountsError, match=f"{swings:,} pitches are counted in both"):
        correlate_rates(season, RateOf("whiffs", "swings"), RateOf("hard", "swings"))
    two, slider = situation("strikes=2"), situation("pitch_kind=slider")
    shared = int(tally(season, where=two.on(()) & slider.on(())).column("swings").sum())
    with pytest.raises(CountsError, match=f"^{shared:,} pitches are counted in both"):
        correlate_rates(season, RateOf("hard", "swings", two), RateOf("hard", "swings", slider))
    lines = tally(season)
    with pytest.raises(CountsError, match="come from one table of counts"):
        correlate_counts(lines, lines, RateOf("hard", "swings"), RateOf("whiffs", "swings"), apart=APART)


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        (("whiffs", "swings"), ("in_play", "contact"), "already settled"),
        (("swings", "pitches"), ("hard", "in_play"), "already settled"),
        (("hard", "in_play"), ("in_play", "swings"), "already settled"),
        (("whiffs", "swings"), ("fouls", "swings"), ""),
        (("hard", "swings"), ("hard", "in_play"), ""),
        (("fouls", "contact"), ("whiffs", "swings"), "already settled"),
        (("hits", "at_bats"), ("whiffs", "swings"), ""),
        (("two_strike_whiffs", "two_strike_swings"), ("hard", "in_play"), "already settled"),
        (("check_swings_held", "takes"), ("whiffs", "swings"), "no pitch can be among both"),
    ],
)
def test_the_counting_rules_alone_tell_which_rates_have_luck_apart(first, second, told):
    rates = RateOf(*first), RateOf(*second)
    assert told in rule_disjoint(*rates, Conventions())
    assert (
        bool(rule_disjoint(*rates, Conventions()))
        == bool(told)
        == bool(rule_disjoint(*rates[::-1], Conventions()))
    )


def test_luck_that_the_rules_call_apart_is_apart_and_the_other_is_not():
    """Covariance of multinomial shares: correlation -sqrt(p q / ((1-p)(1-q))) (Johnson, Kotz & Balakrishnan,
    Discrete Multivariate Distributions, chapter 35, from memory); nested shares are uncorrelated."""
    rng = np.random.default_rng(4)
    whiffs, fouls, in_play = rng.multinomial(200, (0.25, 0.4, 0.35), 20_000).T
    error = 1 / np.sqrt(20_000)
    shared = np.corrcoef(whiffs / 200, in_play / 200)[0, 1]
    assert shared == pytest.approx(-np.sqrt(0.25 * 0.35 / (0.75 * 0.65)), abs=4 * error)
    nested = np.corrcoef(whiffs / 200, in_play / (fouls + in_play))[0, 1]
    assert nested == pytest.approx(0, abs=4 * error)


@pytest.mark.slow
def test_pitches_and_counts_give_the_same_and_so_do_path_and_frame():
    season = demo_season()
    frame = pd.read_parquet(season)
    fast, breaking = situation("pitch_kind=fastball"), situation("pitch_kind=breaking")
    rates = RateOf("in_play", "contact", fast), RateOf("hard", "swings", breaking)
    link = correlate_rates(season, *rates)
    assert link.proof.endswith("all pitches were looked through")
    assert link.first == "balls in play per contact against fastballs"
    pd.testing.assert_frame_equal(correlate_rates(frame, *rates).table(), link.table())
    counted = [tally(frame, where=part) for part in (fast, breaking)]
    other = correlate_counts(
        *counted,
        RateOf("in_play", "contact", words="a"),
        RateOf("hard", "swings", words="b"),
        apart="kinds differ",
    )
    pd.testing.assert_frame_equal(other.table(), link.table())
    assert other.proof == "that no swing is in both was stated, not checked: kinds differ"


@pytest.mark.slow
def test_a_rate_repeats_between_two_periods():
    early = RateOf("whiffs", "swings", nw.col("inning") <= 4, "in innings 1 to 4")
    late = RateOf("whiffs", "swings", nw.col("inning") >= 5, "from inning 5 on")
    link = correlate_rates(demo_season(), early, late)
    assert link.can_be_told
    assert link.low > 0.3
    assert link.first == "whiffs per swing in innings 1 to 4"


# Who is matched, and what cannot be asked ----------------------------------------------------------------


def test_hitters_are_matched_by_id_in_any_order_and_the_others_are_named():
    counts = _league(1, 30)
    one, other = (table.table() for table in _tables(counts))
    one["hitter_id"], other["hitter_id"] = np.arange(30), [str(i) for i in range(30)]
    other["hitter"] = "renamed " + other["hitter"]
    other.loc[3, ["swings", "hard"]] = 0
    one = pd.concat([one, pd.DataFrame({"hitter": ["Ada"], "hitter_id": [99], "swings": [40], "hard": [3]})])
    one, other = one.sample(frac=1, random_state=1), other.sample(frac=1, random_state=2)
    # One id a number, the other text: they are matched as they read.
    tables = (
        Counts.from_table(table, by="hitter_id")
        for table in (one.assign(hitter_id=one["hitter_id"].astype(int)), other)
    )
    link = correlate_counts(*tables, HARD, LATER, apart=APART)
    assert len(link.table()) == 29
    assert dict(link.left_out.to_numpy()) == {
        "h003": "no swings in hard-hit balls per swing this season",
        "Ada": "no swings in hard-hit balls per swing this season",
    }
    straight = _linked(tuple(np.delete(column, 3) for column in counts))
    assert link.correlation == pytest.approx(straight.correlation, abs=1e-9)
    assert "left out: 2 with no swings in hard-hit balls per swing this season" in str(link)


def test_hitters_without_an_id_are_left_out():
    one, other = (table.table() for table in _tables(_league(1, 10)))
    one.loc[0, "hitter"] = None
    link = correlate_counts(
        Counts.from_table(one, by="hitter"), Counts.from_table(other, by="hitter"), HARD, LATER, apart=APART
    )
    assert len(link.data) == 9
    assert set(link.left_out["why"]) == {"no id", "no swings in hard-hit balls per swing last season"}


def test_questions_that_cannot_be_answered_say_what_to_do():
    counts = _league(1, 12)
    one, other = _tables(counts)
    for few in (0, 1, 2):
        mask = np.arange(12) < few
        with pytest.raises(CountsError, match=f"^{few} hitters have both swings .* at least 3"):
            correlate_counts(one.only(mask), other, HARD, LATER, apart=APART)
    with pytest.raises(CountsError, match="say why none is with apart="):
        correlate_counts(one, other, HARD, LATER)
    with pytest.raises(CountsError, match="leave where= out"):
        correlate_counts(one, other, RateOf("hard", "swings", situation("strikes=2")), LATER, apart=APART)
    with pytest.raises(CountsError, match=r"level=1\.5"):
        _linked(counts, level=1.5)
    by_club = Counts.from_table(one.table().rename(columns={"hitter": "club"}))
    with pytest.raises(CountsError, match="count both by the hitter alone"):
        correlate_counts(by_club, other, HARD, LATER, apart=APART)
    with pytest.raises(CountsError, match="say in words="):
        RateOf("hard", "swings", nw.col("strikes") == 2)
    with pytest.raises(CountsError, match="bases come up to four at a time"):
        RateOf("bases", "at_bats")
    pitches = pd.DataFrame({"hitter": ["Ada"] * 3, "outcome": ["whiff", "foul", "in play"]})
    on_sliders = RateOf("whiffs", "swings", situation("pitch_kind=slider"))
    with pytest.raises(MissingColumnsError, match="no column pitch_kind"):
        correlate_rates(pitches, on_sliders, RateOf("fouls", "contact"))


@pytest.mark.parametrize("exposed", [(0, 0, 0, 0), (0, 9, 9, 0)])
def test_no_exposure_in_both_is_an_error_not_an_answer(exposed):
    n1, n2 = np.array([9, 0, 0, 9]), np.array(exposed)
    with pytest.raises(CountsError, match=r"^0 hitters have both swings .* at least 3"):
        _linked((n1 // 9, n1, n2 // 9, n2))


def test_all_zero_and_equal_rates_cannot_be_told():
    k1, n1, _, n2 = _league(1, 60)
    for k2 in (0 * n2, n2):
        link = _linked((k1, n1, k2, n2))
        assert not link.can_be_told
        assert np.isnan(link.naive)
        assert link.why_not.startswith(
            "60 observed rates of hard-hit balls per swing this season scatter little more"
        )
        # Nothing is known, so the flat prior comes back: mean 0, 90 % interval -.9 to .9.
        assert link.correlation == pytest.approx(0, abs=0.01)
        assert (link.low, link.high) == pytest.approx((-0.9, 0.9), abs=0.01)
        assert "cannot be told" in str(link)


def test_curve_table_and_words():
    link = _linked(_league(3, 80), level=0.8)
    curve = link.curve()
    assert curve["correlation"].is_monotonic_increasing
    assert curve["correlation"].iloc[[0, -1]].tolist() == [-1, 1]
    assert np.trapezoid(curve["density"], curve["correlation"]) == pytest.approx(1, abs=0.01)
    inside = curve[(curve["correlation"] >= link.low) & (curve["correlation"] <= link.high)]
    assert np.trapezoid(inside["density"], inside["correlation"]) == pytest.approx(0.8, abs=0.05)
    positive = curve[curve["correlation"] > 0]
    assert np.trapezoid(positive["density"], positive["correlation"]) == pytest.approx(
        link.chance_positive, abs=0.02
    )
    assert list(link.table().columns) == [
        "hitter",
        *(
            f"{side}_{what}"
            for side in ("first", "second")
            for what in ("events", "exposure", "rate", "shrunk")
        ),
    ]
    for cause in ("park", "radar", "schedule", "exposure"):
        assert f"could mimic it: {cause}" in str(link)
    assert "80 % posterior interval" in link.explanation
    names = [f"<b>{i}</b>" for i in range(80)]
    marked = correlate_counts(*_tables(_league(3, 80), names), HARD, LATER, apart=APART)
    assert "<b>" not in marked._repr_html_()
    assert [correlation_text(value) for value in (0.304, -0.049, 1, 0.0, np.nan)] == [
        "+.30",
        "-.05",
        "+1.00",
        "+.00",
        "none",
    ]


# The claim -------------------------------------------------------------------------------------------------


def test_verdicts_and_sentences():
    holds = check_together(_linked(_league(3, 300, 0.7)))
    assert holds.verdict == "holds"
    assert holds.say_in_full.startswith(
        "Hitters with a higher true rate of hard-hit balls per swing last season most likely have a higher "
        "true rate of hard-hit balls per swing this season, too: across 300 hitters the correlation of true "
        "talents is about +."
    )
    assert holds.numbers["reliability_first"] == pytest.approx(0.6, abs=0.25)
    fails = check_together(_linked(_league(3, 300, -0.7)))
    assert fails.verdict == "does not hold"
    assert "most likely do not have a higher true rate" in fails.say_in_full
    undecided = _linked(_league(4, 60, 0.0))
    assert 0.1 < undecided.chance_positive < 0.9
    opened = check_together(undecided)
    assert opened.verdict == "open"
    assert "is open: across 60 hitters" in opened.say_in_full
    assert "hitters with as much exposure as these" in opened.would_change
    chance = undecided.chance_positive
    assert check_together(undecided, holds_at=chance, fails_at=0.05).verdict == "holds"
    assert check_together(undecided, holds_at=0.95, fails_at=chance).verdict == "does not hold"
    for claim in (holds, fails, opened):
        assert "names no cause" in claim.avoid
        assert APART in " ".join(claim.assumptions)
        assert json.loads(json.dumps(claim.to_dict()))["kind"] == "together"
        assert len(claim.table()) == 2
    with pytest.raises(ClaimError, match="the second below the first"):
        check_together(undecided, holds_at=0.1, fails_at=0.9)


def test_a_rate_without_spread_leaves_the_claim_open_with_the_reason():
    k1, n1, _, n2 = _league(1, 100)
    link = _linked((k1, n1, n2 // 7, n2))
    claim = check_together(link, holds_at=0.2, fails_at=0.0)
    assert link.chance_positive > 0.2
    assert claim.verdict == "open"
    assert "cannot be told from this table: 100 observed rates" in claim.say_in_full
    # A chance beside "open" would read as one that nearly settles it, and is what was supposed beforehand.
    assert claim.chance is None
    assert claim.verdict_line == "OPEN (this table cannot tell it)"
    assert claim.notes[0].startswith("it cannot be told")
    assert claim.would_change.startswith("more exposure")


def test_unmeasured_contact_leaves_it_open():
    counts = _league(3, 200, 0.8)
    tables = []
    for k, n in (counts[:2], counts[2:]):
        data = pd.DataFrame(
            {"hitter": [f"h{i}" for i in range(200)], "swings": n, "hard": k, "in_play": n // 2 + k}
        )
        data["in_play"] = data[["in_play", "swings"]].min(axis=1)
        data["unmeasured"] = (data["in_play"] - data["hard"]) // 4
        tables.append(Counts.from_table(data))
    link = correlate_counts(*tables, HARD, LATER, apart=APART)
    assert link.unknown_share > 0.05
    claim = check_together(link)
    assert claim.verdict == "open"
    assert "no claim about it is settled either way" in claim.notes[0]


def test_the_result_is_frozen():
    link = _linked(_league(3, 20))
    with pytest.raises(AttributeError):
        link.correlation = 1.0
    assert isinstance(link, Link)


# Whether it is as good as stated ---------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(
    ("hitters", "leagues", "most"), [(40, 200, 0.27), (150, 60, 0.155), (500, 20, 0.087)]
)
def test_errors_and_coverage_where_true_rates_spread_by_035(hitters, leagues, most):
    """Root mean square error over true correlations 0, .3, .6; means .14, exposures log-uniform 20 to 600.

    With a spread of .025 the bounds lie below what any unbiased estimate can reach (the next test).
    """
    scores = [
        score(hitters, correlation, logit_spread(WIDE_SPREAD), leagues, 70 + hitters)
        for correlation in (0.0, 0.3, 0.6)
    ]
    assert np.sqrt(np.mean([s.error**2 for s in scores])) <= most
    covered = round(sum(s.covered_95 for s in scores) * leagues)
    assert stats.binomtest(covered, 3 * leagues, 0.93, alternative="less").pvalue > 0.001


@pytest.mark.slow
def test_no_unbiased_estimate_could_be_much_better_where_true_rates_spread_by_025():
    spread = logit_spread(SPREAD)
    scores = [score(150, correlation, spread, 60, 11) for correlation in (0.0, 0.3, 0.6)]
    least = [smallest_error(150, correlation, spread) for correlation in (0.0, 0.3, 0.6)]
    assert min(least) > 0.155
    ratios = [s.error / bound for s, bound in zip(scores, least, strict=True)]
    # 180 leagues: a Monte Carlo error of about .06.
    assert np.mean(ratios) < 1.15


@pytest.mark.slow
@pytest.mark.parametrize(("hitters", "leagues"), [(40, 500), (150, 150)])
def test_intervals_cover_as_stated_on_average_over_the_prior(hitters, leagues):
    averaged = score(hitters, None, None, leagues, 5)
    for share, level in ((averaged.covered_95, 0.95), (averaged.covered_90, 0.90)):
        assert stats.binomtest(round(share * leagues), leagues, level).pvalue > 0.001


@pytest.mark.slow
def test_maximum_likelihood_is_worse_in_small_leagues():
    scored = score(40, 0.3, logit_spread(SPREAD), 60, 21, likelihood_leagues=60)
    assert scored.error < 0.74 * scored.likelihood_error
    assert scored.likelihood_at_end > 0


@pytest.mark.slow
def test_a_rate_without_spread_passes_the_rule_at_most_as_often_as_stated():
    passed = round(300 * flat_share(100, 300, 9))
    assert stats.binomtest(passed, 300, 0.05, alternative="greater").pvalue > 0.001
