"""Chances of ranks against closed forms, quadrature by scipy, and draws."""

import math

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, special, stats

from hitlab import ranks, shrink
from hitlab.errors import ClaimError
from hitlab.estimates.ranking import leader_by_minimum
from hitlab.estimates.shrinkage import Posterior
from hitlab.estimates.top_places import Rivals, chance_above, chance_of_top


def _posterior(a, b):
    return Posterior(np.ones(1), np.array([a], dtype=float), np.array([b], dtype=float))


def _closed_form(a1, b1, a2, b2):
    """Chance that a Beta(a1, b1) rate is above a Beta(a2, b2) one, for whole a1: a finite sum.

    The survival function of the second's law integrated term by term (from memory).
    """
    return sum(
        math.exp(
            special.betaln(a2 + i, b2 + b1)
            - math.log(b1 + i)
            - special.betaln(1 + i, b1)
            - special.betaln(a2, b2)
        )
        for i in range(a1)
    )


@pytest.mark.parametrize(
    ("a1", "b1", "a2", "b2"),
    [
        (1, 1, 1, 1),
        (3, 17, 2, 9),
        (97, 325, 60, 300),
        (1, 24, 15, 85),
        (400, 2000, 380, 2000),
        (2, 2, 900, 100),
    ],
)
def test_chance_above_against_the_closed_form(a1, b1, a2, b2):
    posterior = _posterior([a1, a2], [b1, b2])
    expected = _closed_form(a1, b1, a2, b2)
    # The quadrature stops where the chances add up within 1e-8.
    assert chance_above(posterior, 0, 1) == pytest.approx(expected, abs=1e-7)
    assert chance_above(posterior, 1, 0) == pytest.approx(1 - expected, abs=1e-7)


def _some_groups(seed, groups):
    rng = np.random.default_rng(seed)
    exposure = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), groups)))
    events = rng.binomial(exposure.astype(int), rng.beta(27, 165, groups))
    return 27 + events, 165 + exposure - events


def test_chance_best_against_scipy_quadrature():
    a, b = _some_groups(1, 12)
    chances = chance_of_top(_posterior(a, b), 1)
    laws = stats.beta(a, b)
    for one in range(len(a)):
        mine = stats.beta(a[one], b[one])

        def density_of_best(x, one=one, mine=mine):
            return mine.pdf(x) * np.delete(laws.cdf(x), one).prod()

        expected, _ = integrate.quad(
            density_of_best, mine.ppf(1e-13), mine.isf(1e-13), limit=400, epsabs=1e-11
        )
        assert chances[one] == pytest.approx(expected, abs=1e-8)


@pytest.mark.parametrize("top", [1, 2, 3, 5, 9])
def test_chance_of_top_against_draws(top):
    a, b = _some_groups(2, 10)
    chances = chance_of_top(_posterior(a, b), top)
    draws = 100_000
    drawn = np.random.default_rng(11).beta(a, b, (draws, len(a)))
    among = (np.argsort(np.argsort(-drawn, axis=1), axis=1) < top).sum(axis=0)
    for count, chance in zip(among, chances, strict=True):
        # One in a million a comparison.
        assert stats.binomtest(int(count), draws, float(np.clip(chance, 0, 1))).pvalue > 1e-6


@given(
    st.lists(st.tuples(st.integers(0, 400), st.integers(0, 2000)), min_size=3, max_size=9),
    st.integers(1, 3),
)
@settings(deadline=None, max_examples=40)
def test_chances_add_up_and_grow_with_the_places(records, top):
    a, b = np.array([(1 + k, 4 + misses) for k, misses in records]).T
    chances = chance_of_top(_posterior(a, b), top)
    assert chances.sum() == pytest.approx(top, abs=1e-9)
    assert (chances <= chance_of_top(_posterior(a, b), top + 1) + 1e-7).all()


def test_equal_records_have_equal_chances_however_narrow():
    for top in (1, 2):
        assert chance_of_top(_posterior([1e6] * 5, [6e6] * 5), top) == pytest.approx([top / 5] * 5)
    assert chance_of_top(_posterior([2, 2, 2], [5, 5, 5]), 3).tolist() == [1, 1, 1]


def test_a_mixture_of_laws_mixes_the_chances():
    one, other = _posterior([5, 9], [30, 40]), _posterior([50, 30], [300, 240])
    mixed = Posterior(np.array([0.25, 0.75]), np.vstack([one.a, other.a]), np.vstack([one.b, other.b]))
    expected = 0.25 * chance_above(one, 0, 1) + 0.75 * chance_above(other, 0, 1)
    assert chance_above(mixed, 0, 1) == pytest.approx(expected, abs=1e-8)


@pytest.fixture
def fit():
    rng = np.random.default_rng(5)
    swings = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), 60))).astype(int)
    hard = rng.binomial(swings, rng.beta(27, 165, 60))
    return shrink(
        pd.DataFrame({"hitter": [f"h{i:02d}" for i in range(60)], "swings": swings, "hard": hard}),
        "hard",
        "swings",
    )


def test_ranks_are_in_order_and_their_chances_add_up(fit):
    result = ranks(fit, top=4)
    table = result.table()
    assert table["chance_best"].sum() == pytest.approx(1)
    assert table["chance_top"].sum() == pytest.approx(4)
    assert table["chance_best"].is_monotonic_decreasing
    assert ((table["rank_low"] >= 1) & (table["rank_low"] <= table["rank_high"])).all()
    assert (table["rank_high"] <= 60).all()
    assert table["rate"].iloc[result.leader] == table["rate"].max()
    assert result.leader_excess == table["rate"].max() - table["shrunk"].iloc[result.leader]
    assert "chance that" in result.explanation


def test_rank_intervals_hold_their_share_of_the_draws(fit):
    table = ranks(fit, level=0.8, seed=1).table().set_index("hitter")
    drawn = fit.posterior.draws(20_000, np.random.default_rng(99))
    place = np.argsort(np.argsort(-drawn, axis=1), axis=1) + 1
    names = fit.data["hitter"]
    inside = (place >= table.loc[names, "rank_low"].to_numpy()) & (
        place <= table.loc[names, "rank_high"].to_numpy()
    )
    # Ranks are whole, so an interval holds 80 % or more; bounds from 4,000 draws are .0063 off (one s.e.
    # of a tail), and this is a mean over both tails.
    assert inside.mean(axis=0).min() > 0.8 - 4 * np.sqrt(2 * 0.1 * 0.9 / 4000)


def test_the_minimum_chooses_who_is_ranked(fit):
    table = ranks(fit, minimum=400).table()
    assert (table["swings"] >= 400).all()
    assert len(table) == (fit.exposure >= 400).sum()
    assert ranks(fit, seed=3).table().equals(ranks(fit, seed=3).table())


def test_questions_without_an_answer_are_refused(fit):
    with pytest.raises(ClaimError, match="nobody has 5,000 swings; the most is 1,"):
        ranks(fit, minimum=5000)
    for top in (0, 2.5):
        with pytest.raises(ClaimError, match="give a whole number from 1 up"):
            ranks(fit, top=top)
    with pytest.raises(ClaimError, match="level=90: give a level between 0 and 1"):
        ranks(fit, level=90)


def test_the_leader_is_corrected_and_a_minimum_lowers_the_excess(fit):
    table = leader_by_minimum(fit, (0, 100, 400))
    assert table["minimum"].tolist() == [0, 100, 400]
    assert table["compared"].is_monotonic_decreasing
    by_hand = fit.data[fit.data["swings"] >= 100].sort_values("rate").iloc[-1]
    row = table.set_index("minimum").loc[100]
    assert row["leader"] == by_hand["hitter"]
    assert row["corrected"] == by_hand["shrunk"]
    assert row["excess"] == pytest.approx(by_hand["rate"] - by_hand["shrunk"])
    result = ranks(fit, minimum=100)
    assert result.data["shrunk"].iloc[result.leader] == row["corrected"]
    assert result.leader_excess == pytest.approx(row["excess"])
    assert result.draws == 4000
    with pytest.raises(ClaimError, match="nobody has 5,000 swings; the most is 1,"):
        leader_by_minimum(fit, (5000,))


@pytest.mark.parametrize("other", [(131, 472), (60, 200), (0, 1)])
def test_one_who_never_missed_makes_nobody_elses_chance_rough(other):
    """His log odds reach so far that too few nodes lie on the others': sum and masses were right by luck."""
    a, b = np.array([other, (170, 100), (251, 0)], float).T + 1.0

    def at(x):
        lower, upper = stats.beta.sf(x, a[1], b[1]), stats.beta.sf(x, a[2], b[2])
        return stats.beta.pdf(x, a[0], b[0]) * (1 - lower * upper)

    exact = integrate.quad(at, 0, 1, points=(a / (a + b)).tolist(), limit=400, epsabs=1e-13)[0]
    assert chance_of_top(_posterior(a, b), 2)[0] == pytest.approx(exact, abs=1e-9)


@given(
    st.lists(
        st.tuples(st.integers(0, 300), st.integers(0, 900)).filter(lambda one: sum(one) > 0),
        min_size=2,
        max_size=40,
    ),
    st.data(),
)
@settings(max_examples=200)
def test_beside_rivals_one_has_the_chance_that_he_has_in_the_whole_field(records, data):
    """As the records are, for any other record of his own, and under laws of one part and of several."""
    place = data.draw(st.integers(0, len(records) - 1))
    top = data.draw(st.integers(1, min(3, len(records))))
    events, others = np.array(records, float).T
    laws = np.array([[4.0, 30.0], [30.0, 180.0], [1.0, 1.0]])
    weights = np.array([0.5, 0.3, 0.2])
    first = data.draw(st.sampled_from([None, np.array([0, 2])]))
    shares = None if first is None else np.array([[0.25], [0.75], [1.0]])
    of_laws = weights if first is None else np.array([0.8, 0.2])
    field = Posterior(of_laws, laws[:, :1] + events, laws[:, 1:] + others, shares, first)
    rivals = Rivals(field, place, top)
    assert rivals.chances() == pytest.approx(chance_of_top(field, top), abs=2e-8)
    now = events[place], others[place]
    for _ in range(3):
        other = data.draw(st.tuples(st.integers(0, 300), st.integers(0, 900)))
        more = other[0] - now[0], other[1] - now[1]
        changed = field.after(np.array([place]), *more)
        own = field.only(np.array([place])).after(np.array([0]), *more)
        assert rivals.chance(own) == pytest.approx(chance_of_top(changed, top)[place], abs=2e-8)


@pytest.mark.slow
@pytest.mark.parametrize("top", [1, 5])
def test_more_nodes_change_nothing(fit, top, monkeypatch):
    posterior = fit.posterior
    usual = chance_of_top(posterior, top)
    monkeypatch.setattr(
        "hitlab.estimates.top_places._WANTED", 1e-30
    )  # never satisfied: as many panels as allowed
    monkeypatch.setattr("hitlab.estimates.top_places._MOST_PANELS", 8)
    np.testing.assert_allclose(chance_of_top(posterior, top), usual, atol=1e-8)


@pytest.mark.slow
def test_chances_of_500_hitters_agree_with_a_million_draws():
    rng = np.random.default_rng(3)
    swings = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), 500))).astype(int)
    lines = pd.DataFrame({"hitter": [f"h{i:03d}" for i in range(500)], "swings": swings})
    lines["hard"] = rng.binomial(swings, rng.beta(27, 165, 500))
    posterior = shrink(lines, "hard", "swings").posterior
    best, five = chance_of_top(posterior, 1), chance_of_top(posterior, 5)
    draws, part = 1_000_000, 20_000
    first, among = np.zeros(500), np.zeros(500)
    for _ in range(draws // part):
        drawn = posterior.draws(part, rng)
        first += np.bincount(drawn.argmax(axis=1), minlength=500)
        among += np.bincount(np.argpartition(-drawn, 5, axis=1)[:, :5].ravel(), minlength=500)
    for times, chance in ((first, best), (among, five)):
        # Exact tails: a chance of 4e-8 drawn twice is far out by the normal law, and not so by this one.
        tails = stats.binom.sf(times - 1, draws, chance), stats.binom.cdf(times, draws, chance)
        assert np.minimum(*tails).min() > stats.norm.sf(5.5)  # of 1,000 comparisons


def test_what_leads_together_and_without_luck_is_not_told_as_one_leader_with_a_lucky_record():
    alike = pd.DataFrame({"hitter": ["Ada Velm", "Cy Drul", "Lo Quar"], "swings": 4, "whiffs": 2})
    told = ranks(shrink(alike, "whiffs", "swings")).explanation
    assert (
        "Ada Velm and 2 more have the highest observed rate of whiffs per swing, .500; that does not" in told
    )
    assert "-0" not in told
    assert "overstates" not in told
    apart = ranks(shrink(alike.assign(whiffs=[3, 2, 1]), "whiffs", "swings")).explanation
    assert "Ada Velm has the highest observed rate of whiffs per swing, .750; that overstates the" in apart
