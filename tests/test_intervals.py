"""Intervals against published values, statsmodels, and coverage by exact enumeration."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from hitlab.counting.intervals import INTERVAL_NAMES, difference_interval, share_interval
from hitlab.errors import CountsError

PRINTED = 0.00005 + 1e-12  # half the last of four printed digits

# Newcombe 1998, Stat. Med. 17:857-872, table I. The rows 15/148 and 1/29 are from memory.
NEWCOMBE_SHARES = [
    ("wilson", 81, 263, 0.2553, 0.3662),
    ("wilson", 15, 148, 0.0624, 0.1605),
    ("wilson", 0, 20, 0.0, 0.1611),
    ("wilson", 1, 29, 0.0061, 0.1718),
    ("clopper-pearson", 81, 263, 0.2527, 0.3676),
    ("clopper-pearson", 15, 148, 0.0578, 0.1617),
    ("clopper-pearson", 0, 20, 0.0, 0.1684),
    ("clopper-pearson", 1, 29, 0.0009, 0.1776),
]

# Newcombe 1998, Stat. Med. 17:873-890, table II, method 10.
NEWCOMBE_DIFFERENCES = [
    (56, 70, 48, 80, 0.0524, 0.3339),
    (9, 10, 3, 10, 0.1705, 0.8090),
    (5, 56, 0, 29, -0.0381, 0.1926),
    (0, 10, 0, 20, -0.1611, 0.2775),
]

LEVELS = (0.5, 0.8, 0.9, 0.95, 0.999)
GRID = [(k, n) for n in (1, 2, 7, 20, 263, 4001) for k in sorted({0, 1, n // 3, n - 1, n})]


@pytest.mark.parametrize(("kind", "events", "exposure", "low", "high"), NEWCOMBE_SHARES)
def test_shares_of_newcombe_1998(kind, events, exposure, low, high):
    assert share_interval(events, exposure, kind, 0.95) == pytest.approx((low, high), abs=PRINTED)


@pytest.mark.parametrize(("ka", "na", "kb", "nb", "low", "high"), NEWCOMBE_DIFFERENCES)
def test_differences_of_newcombe_1998(ka, na, kb, nb, low, high):
    assert difference_interval(ka, na, kb, nb, 0.95) == pytest.approx((low, high), abs=PRINTED)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize(
    ("kind", "method"), [("wilson", "wilson"), ("jeffreys", "jeffreys"), ("clopper-pearson", "beta")]
)
def test_shares_as_statsmodels_gives_them(kind, method, level):
    events, exposure = np.array(GRID).T
    theirs = [proportion_confint(k, n, 1 - level, method=method) for k, n in GRID]
    # Two implementations of the inverse incomplete beta: some 1e-13 apart.
    np.testing.assert_allclose(
        np.stack(share_interval(events, exposure, kind, level), axis=1), theirs, rtol=1e-10, atol=1e-12
    )


@pytest.mark.parametrize("level", LEVELS)
def test_differences_as_statsmodels_gives_them(level):
    chosen = [(k, n) for k, n in GRID if n in (2, 20, 263)]
    for (ka, na), (kb, nb) in itertools.product(chosen, chosen):
        theirs = confint_proportions_2indep(ka, na, kb, nb, method="newcomb", compare="diff", alpha=1 - level)
        assert difference_interval(ka, na, kb, nb, level) == pytest.approx(theirs, abs=1e-12)


# Exact enumeration at n = 50 for rates .020, .021, ... .500. Mean and least coverage of nominal 95 %
# intervals as usually quoted: Wilson .952/.922, Jeffreys .949/.885, Clopper-Pearson .968/.953. The least
# of Jeffreys is .885 on a grid of .002 or .010, and .884 on this finer one (it lies at a rate of .049).
@pytest.mark.parametrize(
    ("kind", "mean", "least"),
    [("wilson", 0.952, 0.922), ("jeffreys", 0.949, 0.884), ("clopper-pearson", 0.968, 0.953)],
)
def test_coverage_by_exact_enumeration(kind, mean, least):
    coverage = _coverage(kind, 50, np.round(np.arange(0.020, 0.5005, 0.001), 3))
    assert coverage.mean() == pytest.approx(mean, abs=0.0005)
    assert coverage.min() == pytest.approx(least, abs=0.0005)


def test_least_coverage_of_jeffreys_on_a_coarser_grid():
    assert _coverage("jeffreys", 50, np.arange(10, 251) / 500).min() == pytest.approx(0.885, abs=0.0005)


@given(st.integers(1, 60), st.floats(0.001, 0.999), st.sampled_from([0.8, 0.9, 0.95]))
def test_clopper_pearson_never_covers_less_than_it_says(exposure, rate, level):
    assert _coverage("clopper-pearson", exposure, np.array([rate]), level)[0] >= level - 1e-9


def _coverage(kind, exposure, rates, level=0.95):
    events = np.arange(exposure + 1)
    low, high = share_interval(events, exposure, kind, level)
    inside = (low[:, None] <= rates) & (rates <= high[:, None])
    return (stats.binom.pmf(events[:, None], exposure, rates) * inside).sum(axis=0)


@given(
    st.sampled_from(sorted(INTERVAL_NAMES)), st.integers(0, 3000), st.integers(1, 3000), st.floats(0.01, 0.99)
)
def test_intervals_mirror_and_stay_in_range(kind, events, more, level):
    exposure = events + more
    low, high = share_interval(events, exposure, kind, level)
    assert 0 <= low < high <= 1
    if kind != "jeffreys":  # near 0 and 1 an equal-tailed Jeffreys interval leaves the observed share out
        assert low - 1e-12 <= events / exposure <= high + 1e-12
    mirrored = share_interval(exposure - events, exposure, kind, level)
    np.testing.assert_allclose((1 - high, 1 - low), mirrored, atol=1e-9)


@given(st.integers(0, 50), st.integers(0, 50), st.integers(0, 50), st.integers(0, 50))
def test_difference_changes_sign_with_the_order(ka, more_a, kb, more_b):
    na, nb = ka + more_a + 1, kb + more_b + 1
    low, high = difference_interval(ka, na, kb, nb)
    back_low, back_high = difference_interval(kb, nb, ka, na)
    assert -1 - 1e-12 <= low <= ka / na - kb / nb <= high <= 1 + 1e-12
    np.testing.assert_allclose((low, high), (-back_high, -back_low), atol=1e-12)


@pytest.mark.parametrize("kind", sorted(INTERVAL_NAMES))
def test_no_exposure_gives_no_interval(kind):
    low, high = share_interval([0, 3], [0, 7], kind)
    assert np.isnan([low[0], high[0]]).all()
    assert np.isfinite([low[1], high[1]]).all()
    assert np.isnan(difference_interval(0, 0, 3, 7)).all()


def test_shapes_broadcast():
    low, high = share_interval(np.array([[1], [2]]), np.array([10, 20, 30]))
    assert low.shape == high.shape == (2, 3)


@pytest.mark.parametrize(
    ("events", "exposure", "message"),
    [
        (3, 2, "3 events in an exposure of 2: a share cannot be more than 1"),
        (-1, 2, "events: .*-1.* is not a count"),
        (1.5, 2, "events: .*1.5.* is not a count"),
        (1, np.nan, "exposure: .*nan.* is not a count"),
        ("many", 2, "events: 'many' is not a number"),
    ],
)
def test_impossible_counts_are_refused(events, exposure, message):
    with pytest.raises(CountsError, match=message):
        share_interval(events, exposure)


def test_unknown_kind_and_level_are_refused():
    with pytest.raises(CountsError, match="interval kind 'exact': accepted are wilson, jeffreys"):
        share_interval(1, 2, "exact")
    for level in (0, 1, 95):
        with pytest.raises(CountsError, match="give a coverage between 0 and 1"):
            share_interval(1, 2, level=level)
