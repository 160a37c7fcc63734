"""Rates adjusted for what hitters faced: the crossed fit, the rates, and what claims make of them."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pandas as pd
import polars as pl
import pytest

import hitlab
from hitlab.claims import check_ahead, check_hot, check_leads, check_more, check_split, check_steady
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.estimates import adjust_for_faced
from hitlab.estimates.crossed import Crossed, _scoring, fit_crossed, fit_mode
from hitlab.estimates.faced import faced_columns, meetings, unequal
from hitlab.estimates.shrinkage import shrink
from hitlab.estimates.top_places import chance_of_top
from hitlab.over_time import compare_periods, fit_form
from hitlab.over_time.form_law import FormFit
from hitlab.splits.split_law import FourCounts
from tests.benchmarks.unequal_schedules import draw_league, one_league, play, summary


def _pitches(rng: np.random.Generator, spread: float, hitters: int = 8, games: int = 60) -> pd.DataFrame:
    """Six clubs, of which the first three meet each other mostly; swings only, one staff harder by spread."""
    clubs = [f"Club {i}" for i in range(6)]
    hard = np.array([spread, spread, spread, -spread, -spread, -spread])
    talent = rng.normal(0, 0.15, (6, hitters))
    rows = []
    for game in range(games):
        group = game % 2
        a, b = rng.choice(3, 2, replace=False) + 3 * group
        if game % 7 == 0:
            a, b = rng.integers(0, 3), rng.integers(3, 6)
        for half, (batting, other) in (("top", (a, b)), ("bottom", (b, a))):
            for i in range(hitters):
                for _ in range(rng.poisson(5)):
                    pitcher = rng.integers(0, 3)
                    chance = 1 / (1 + np.exp(1.1 - talent[batting, i] - hard[other]))
                    rows.append(
                        (f"g{game:03d}", half, clubs[batting], f"H{batting}{i}", f"P{other}{pitcher}",
                         "whiff" if rng.random() < chance else "foul")
                    )  # fmt: skip
    return pd.DataFrame(rows, columns=["game", "half", "club", "hitter", "pitcher", "outcome"])


@pytest.fixture(scope="module")
def uneven() -> pd.DataFrame:
    return _pitches(np.random.default_rng(2), 0.5)


@pytest.fixture(scope="module")
def even() -> pd.DataFrame:
    return _pitches(np.random.default_rng(3), 0.0)


def _cells(seed: int = 1, spread: float = 0.3, pitcher: float = 0.2, park: float = 0.1) -> Crossed:
    rng = np.random.default_rng(seed)
    met = play(rng, draw_league(rng, 8, spread, pitcher, park), 0.7)
    counts = hitlab.Counts.from_table(met, by=["hitter", "pitcher", "staff", "park"])
    found = meetings(counts, None, "hard", "swings")
    assert found is not None
    return found.cells


def _plain_objective(x: np.ndarray, cells: Crossed, deviations: np.ndarray, design: np.ndarray) -> float:
    """The penalised log likelihood, written out."""
    h, m = cells.hitters, sum(cells.sizes)
    hitters, faced, own = x[:h], x[h : h + m], x[h + m :]
    eta = (hitters + design @ own)[cells.hitter].copy()
    start = 0
    for level, size in zip(cells.levels, cells.sizes, strict=True):
        eta += faced[start : start + size][level]
        start += size
    value = cells.events @ eta - cells.exposure @ np.logaddexp(0, eta)
    value -= (
        0.5 * (hitters @ hitters) / deviations[0] ** 2 + 0.5 * own[1] ** 2 / 0.5**2 + 0.5e-6 * own[0] ** 2
    )
    start = 0
    for size, s in zip(cells.sizes, deviations[1:], strict=True):
        value -= 0.5 * (faced[start : start + size] ** 2).sum() / s**2
        start += size
    return float(value)


def test_the_mode_is_the_maximum_and_the_factor_its_curvature_by_a_dense_plain_version():
    cells = _cells()
    system, mode, _ = fit_mode(cells)
    h, m = cells.hitters, sum(cells.sizes)
    at = np.concatenate([mode.hitters, mode.rest])
    best = _plain_objective(at, cells, mode.deviations, system.design)
    rng = np.random.default_rng(0)
    for _ in range(50):
        other = at + rng.normal(0, 0.01, len(at))
        assert _plain_objective(other, cells, mode.deviations, system.design) < best
    # The whole precision, dense: one row a cell.
    x = np.zeros((len(cells.hitter), h + m + 2))
    rows = np.arange(len(x))
    x[rows, cells.hitter] = 1
    start = h
    for level, size in zip(cells.levels, cells.sizes, strict=True):
        x[rows, start + level] = 1
        start += size
    x[:, h + m :] = system.design[cells.hitter]
    p = 1 / (1 + np.exp(-(x @ at)))
    prior = np.concatenate(
        [
            np.full(h, mode.deviations[0] ** -2.0),
            np.repeat(mode.deviations[1:] ** -2.0, cells.sizes),
            [1e-6, 4.0],
        ]
    )
    precision = (x.T * (cells.exposure * p * (1 - p))) @ x + np.diag(prior)
    covariance = np.linalg.inv(precision)
    ours = np.linalg.inv(mode.factor @ mode.factor.T)
    # The factor is that of the last step but one, whose gain was below a thousandth.
    assert np.allclose(ours, covariance[h:, h:], rtol=1e-3, atol=1e-5)
    sign, log_det = np.linalg.slogdet(precision)
    assert sign > 0
    laplace = best - h * np.log(mode.deviations[0]) - 0.5 * log_det
    laplace -= np.repeat(np.log(mode.deviations[1:]), cells.sizes).sum()
    assert mode.log_marginal == pytest.approx(laplace, abs=1e-2)


def test_the_steps_towards_the_likeliest_deviations_are_those_of_the_covariance_written_out():
    system, mode, _ = fit_mode(_cells())
    gradient, information = _scoring(system, mode)
    h, m = len(mode.hitters), len(mode.rest)
    joined = np.diag(mode.diagonal)
    rest = mode.factor @ mode.factor.T + mode.beside.T @ (mode.beside / mode.diagonal[:, np.newaxis])
    whole = np.linalg.inv(np.block([[joined, mode.beside], [mode.beside.T, rest]]))
    ends = np.cumsum([0, h, *system.cells.sizes])
    parts = [slice(a, b) for a, b in itertools.pairwise(ends)]
    at, s2 = np.concatenate([mode.hitters, mode.rest]), mode.deviations**2
    scale = np.array([1.0, 0.5, 0.5, 0.5])
    found = [(at[p] @ at[p] + np.trace(whole[p, p])) / s - (p.stop - p.start) + 1 - s / c**2
             for p, s, c in zip(parts, s2, scale, strict=True)]  # fmt: skip
    assert gradient == pytest.approx(np.array(found), rel=1e-8, abs=1e-8)
    expected = np.array([[2 * (whole[p, q] ** 2).sum() / (s * t) for q, t in zip(parts, s2, strict=True)]
                         for p, s in zip(parts, s2, strict=True)])  # fmt: skip
    own = [p.stop - p.start - 2 * np.trace(whole[p, p]) / s + s / c**2
           for p, s, c in zip(parts, s2, scale, strict=True)]  # fmt: skip
    assert information == pytest.approx(expected + 2 * np.diag(own), rel=1e-8, abs=1e-8)
    assert whole.shape == (h + m, h + m)


def test_where_nothing_faced_differs_the_records_stay_as_they_are():
    cells = _cells(spread=0.0, pitcher=0.0, park=0.0)
    system, mode, information = fit_mode(cells)
    rest = np.append(np.zeros(sum(cells.sizes)), mode.rest[-2:])
    flat = replace(mode, deviations=np.array([0.2, 1e-3, 1e-3, 1e-3]), rest=rest)
    drawn = fit_crossed(cells, 16, (system, flat, information * 1e6))
    events, exposure = cells.of_hitters
    assert drawn.mean_of(drawn.exposure) == pytest.approx(exposure, rel=1e-3)
    assert drawn.mean_of(drawn.events) == pytest.approx(events, abs=0.3)
    assert np.abs(drawn.mean_of(drawn.rate)).max() < 1e-3


def test_an_uneven_schedule_is_told_from_the_hitters(uneven):
    faced = adjust_for_faced(uneven, "whiffs", "swings")
    assert faced.told == "18 pitchers, 6 pitching staffs and 6 parks"
    difference = faced.data.set_index("hitter")["faced_log_odds"]
    hard, easy = (difference[difference.index.str[1].isin(list(x))].mean() for x in ("012", "345"))
    assert hard > 0.2 > -0.2 > easy  # nearly .5 each way, less what they meet of the other side
    staffs = faced.effects[faced.effects["kind"] == "pitching staffs"].set_index("name")["effect"]
    pitchers = faced.effects[faced.effects["kind"] == "pitchers"].set_index("name")["effect"]
    both = [staffs[f"Club {i}"] + pitchers.filter(like=f"P{i}").mean() for i in range(6)]
    assert min(both[:3]) > max(both[3:])
    plain = shrink(faced.fit.counts, "whiffs", "swings").data.set_index("hitter")["shrunk"]
    moved = faced.data.set_index("hitter")["shrunk"] - plain
    assert (moved[moved.index.str[1].isin(list("012"))] < 0).all()
    assert np.isclose(faced.data["chance_best"].sum(), 1, atol=1e-6)
    assert "told apart by 18 pitchers" in str(faced)


def test_mean_and_covariance_on_the_log_odds_are_those_of_draws(uneven):
    fit = adjust_for_faced(uneven, "whiffs", "swings")
    mean, covariance = fit.log_odds()
    rng = np.random.default_rng(1)
    products, means = [], []
    for _ in range(30):
        draws = fit.fit.posterior.draws(10_000, rng)
        draws = np.log(draws / (1 - draws)) - mean
        products.append(draws.T @ draws / len(draws))
        means.append(draws.mean(axis=0))
    # In standard errors, told by thirty batches: products of draws have heavier tails than a normal law;
    # beyond 5 lies 1 in 40,000 of them, and the 1,176 of the covariance have a mean square of 1.
    off, apart = (
        (np.mean(found, axis=0) - target) / (np.std(found, axis=0, ddof=1) / np.sqrt(len(found)))
        for found, target in ((means, 0.0), (products, covariance))
    )
    assert np.abs(off).max() < 4
    assert np.abs(apart).max() < 5
    assert np.mean(apart[np.triu_indices(len(mean))] ** 2) < 1.3
    # Two hitters of one club met the same staffs: what is not known of these is shared.
    club = [i for i, who in enumerate(fit.data["hitter"]) if who.startswith("H0")]
    shared = covariance[np.ix_(club, club)][~np.eye(len(club), dtype=bool)]
    assert shared.mean() > 0


def test_counts_and_pitches_give_the_same(uneven):
    by = ["hitter", "game", "pitcher"]
    counts = hitlab.tally(uneven, by)
    from_pitches = adjust_for_faced(uneven, "whiffs", "swings")
    met = meetings(counts, uneven, "whiffs", "swings")
    assert met is not None
    staff = np.array(met.names[1])[met.cells.levels[1]]
    pitcher = np.array(met.names[0])[met.cells.levels[0]]
    assert (np.char.add("Club ", [p[1] for p in pitcher]) == staff).all()
    table = pd.DataFrame(
        {
            "hitter": [met.counts.labels[i] for i in met.cells.hitter],
            "pitcher": pitcher,
            "staff": staff,
            "park": np.array(met.names[2])[met.cells.levels[2]],
            "whiffs": met.cells.events.astype(int),
            "swings": met.cells.exposure.astype(int),
        }
    )
    from_counts = adjust_for_faced(pl.from_pandas(table), "whiffs", "swings")
    assert from_counts.data["shrunk"].to_numpy() == pytest.approx(from_pitches.data["shrunk"].to_numpy())


def test_a_pitcher_who_is_not_recorded_is_taken_for_an_average_one(uneven):
    holes = uneven.copy()
    holes.loc[holes.index % 5 == 0, "pitcher"] = None
    faced = adjust_for_faced(holes, "whiffs", "swings")
    assert faced.told.startswith("18 pitchers")
    whole = adjust_for_faced(uneven, "whiffs", "swings")
    assert np.corrcoef(faced.data["shrunk"], whole.data["shrunk"])[0, 1] > 0.9


@pytest.mark.slow
def test_without_halves_there_are_no_parks_and_without_clubs_no_staffs(uneven):
    assert adjust_for_faced(uneven.drop(columns="half"), "whiffs").told == "18 pitchers and 6 pitching staffs"
    assert adjust_for_faced(uneven.drop(columns=["club"]), "whiffs").told == "18 pitchers"
    # Without names of pitchers the club that does not bat stands for them.
    told = adjust_for_faced(uneven.drop(columns="pitcher"), "whiffs").told
    assert told == "6 pitching staffs and 6 parks"


def test_hands_and_the_mix_of_pitches_are_told_apart_where_asked(uneven):
    rng = np.random.default_rng(9)
    more = uneven.assign(
        hitter_side=np.where(uneven["hitter"].str[2].astype(int) < 5, "left", "right"),
        pitcher_hand=np.where(uneven["pitcher"].str[2] == "0", "left", "right"),
        pitch_kind=rng.choice(["sinker", "slider"], len(uneven)),
    )
    faced = adjust_for_faced(more, "whiffs", "swings", also=["hands", "pitch_kind"])
    assert faced.deviations["kind"].tolist()[-2:] == ["same hand or other hand", "kinds of pitch"]
    assert set(faced.effects["name"]) >= {"same hand", "other hand", "sinker", "slider"}


def test_what_cannot_be_adjusted_is_refused_with_the_mend(uneven):
    with pytest.raises(MissingColumnsError, match="the column pitcher, or game and club"):
        adjust_for_faced(uneven.drop(columns=["pitcher", "game"]), "whiffs")
    with pytest.raises(CountsError, match="also="):
        adjust_for_faced(uneven, "whiffs", also=["weather"])
    with pytest.raises(MissingColumnsError, match="these counts are by hitter; to know whom"):
        adjust_for_faced(hitlab.tally(uneven), "whiffs")
    with pytest.raises(CountsError, match="these are counts already"):
        adjust_for_faced(hitlab.tally(uneven, ["hitter", "pitcher"]), "whiffs", where="half=top")
    with pytest.raises(MissingColumnsError, match="not two pitchers"):
        adjust_for_faced(
            pd.DataFrame({"hitter": ["A", "B"], "pitcher": ["C", "C"], "swings": [20, 30], "hard": [3, 5]})
        )
    drawn = fit_crossed(_cells(), 4)
    with pytest.raises(CountsError, match="faced"):
        shrink(hitlab.tally(uneven), "whiffs", faced=drawn)


def test_parts_that_never_met_are_named():
    rng = np.random.default_rng(5)
    met = play(rng, draw_league(rng, 8, 0.3), 1.0)
    assert any("3 parts that never met" in note for note in adjust_for_faced(met).notes)


@pytest.mark.slow
def test_a_claim_allows_for_an_uneven_schedule_and_says_so(uneven):
    claim = check_leads(uneven, "H00", event="whiffs", minimum=10)
    told = [note for note in claim.notes if "pitching and parks that hitters faced" in note]
    assert len(told) == 1
    assert "that matters, so true rates are those against what the whole league met" in told[0]
    assert claim.numbers["faced_rate"] > 0.02
    faced = adjust_for_faced(uneven, "whiffs", "swings").data.set_index("hitter")
    shrunk = claim.evidence.set_index("hitter")["shrunk"]
    # The claim allows for the likeness of swings of one game where it may matter.
    assert shrunk["H00"] == pytest.approx(faced.loc["H00", "shrunk"], abs=0.01)
    assert any("log odds alike" in one for one in claim.assumptions)
    # The same for two hitters, and the same question gives the same answer.
    ahead = check_ahead(uneven, "H00", "H30", event="whiffs")
    assert ahead.question.ask(uneven).to_dict() == ahead.to_dict()
    record = check_leads(uneven, "H00", event="whiffs", about="record", minimum=10)
    assert not any("faced" in note for note in record.notes)


@pytest.mark.slow
def test_a_claim_says_where_it_does_not_matter_and_where_nothing_tells(even):
    claim = check_leads(even, event="whiffs", minimum=10)
    assert any("too little to matter, so nothing is allowed for" in note for note in claim.notes)
    counts = hitlab.tally(even, ["hitter", "game"])
    plain = check_leads(counts, event="whiffs", minimum=10)
    assert plain.chance == claim.chance
    assert any("these counts do not tell whom the hitters faced" in note for note in plain.notes)
    nobody = check_leads(even.drop(columns=["pitcher", "club"]), event="whiffs", minimum=10)
    assert any("the table does not tell whom the hitters faced" in note for note in nobody.notes)
    assert nobody.chance == claim.chance


def test_counting_by_pitcher_too_leaves_the_counts_as_they_were():
    season = hitlab.demo_season()
    fine = hitlab.tally(season, ["hitter", "game", "pitcher"])
    summed, plain = fine.summed(("hitter_id", "game")), hitlab.tally(season, ["hitter", "game"])
    pd.testing.assert_frame_equal(summed.data, plain.data)
    assert summed.fingerprint == plain.fingerprint


def test_the_rule_is_by_how_much_the_estimates_would_move():
    rng = np.random.default_rng(6)
    for spread, matters in ((0.0, False), (0.6, True)):
        met = play(rng, draw_league(rng, 20, spread), 0.7)
        counts = hitlab.Counts.from_table(met, by=["hitter", "pitcher", "staff", "park"])
        found = meetings(counts, None, "hard", "swings")
        assert found is not None
        assert unequal(found)[0].matters(shrink(found.counts)) is matters


def test_which_columns_tell_what_was_faced():
    assert faced_columns({"hitter", "outcome"}) == []
    assert faced_columns({"pitcher", "pitcher_id"}) == ["pitcher_id"]
    assert faced_columns({"pitcher", "game"}) == ["game", "pitcher"]
    assert faced_columns({"club", "game"}) == ["game", "club"]
    with pytest.raises(MissingColumnsError, match="pitcher_hand"):
        faced_columns({"pitcher", "hitter_side"}, ["hands"])


def _season(rng: np.random.Generator, hard: float, hitters: int = 6, days: int = 40) -> pd.DataFrame:
    """Six clubs, of which three have hard staffs: first each meets the other kind, then its own."""
    staff = np.array([hard, hard, hard, -hard, -hard, -hard])
    talent = rng.normal(0, 0.15, (6, hitters))
    rows = []
    for day in range(days):
        date = pd.Timestamp(2031, 4 + day // 20, 1 + day % 20)
        same = day >= days // 2  # of the two halves of the clubs, who meets whom
        rest = list(rng.permutation(3))
        own = [(rest[0], rest[1]), (3 + rest[0], 3 + rest[1])]
        pairs = own if same else [(c, 3 + rest[c]) for c in range(3)]
        for a, b in pairs:
            for half, (batting, other) in (("top", (a, b)), ("bottom", (b, a))):
                number = rng.poisson(8, hitters)
                hitter = np.repeat(np.arange(hitters), number)
                chance = 1 / (1 + np.exp(1.1 - talent[batting, hitter] - staff[other]))
                rows.append(
                    pd.DataFrame(
                        {
                            "date": date,
                            "game": f"{date:%m-%d} {a}{b}",
                            "half": half,
                            "club": f"Club {batting}",
                            "hitter": [f"H{batting}{i}" for i in hitter],
                            "pitcher": [f"P{other}{i}" for i in rng.integers(0, 2, len(hitter))],
                            "outcome": np.where(rng.random(len(hitter)) < chance, "whiff", "foul"),
                        }
                    )
                )
    return pd.concat(rows, ignore_index=True)


@pytest.fixture(scope="module")
def turned() -> pd.DataFrame:
    return _season(np.random.default_rng(7), 0.5)


@pytest.mark.slow
def test_another_schedule_is_no_change_of_the_hitter(turned):
    first, second = (
        turned[(turned["date"] >= "2031-05-01") == later].reset_index(drop=True) for later in (False, True)
    )
    plain = compare_periods(hitlab.tally(first), hitlab.tally(second), "whiffs").data.set_index("hitter")
    up = plain["log_odds_ratio"][plain.index.str[1].isin(list("012"))]
    assert up.mean() > 0.4  # twice .5, shrunk, and taken for a change of the hitters
    claims = [check_more(turned, f"H{club}0", event="whiffs", since="2031-05-01") for club in range(6)]
    for claim in claims:
        assert any("that matters, and the chance allows for it" in note for note in claim.notes)
        assert any("log odds alike" in one for one in claim.assumptions)
        assert abs(claim.numbers["log_odds_ratio"]) < 0.5 * up.mean()
    assert [claim.numbers["faced_rate"] > 0.1 for claim in claims] == [True] * 3 + [False] * 3
    record = check_more(turned, "H00", event="whiffs", since="2031-05-01", about="record")
    assert not any("faced" in note for note in record.notes)
    assert claims[0].question.ask(turned).to_dict() == claims[0].to_dict()


@pytest.fixture(scope="module")
def form(turned) -> FormFit:
    return fit_form(hitlab.tally(turned, ["hitter", "game", "date"]), "whiffs", "swings", stretch=10)


@pytest.mark.slow
def test_form_is_what_is_left_of_the_pitching_faced(turned, form):
    hot = check_hot(turned, "H00", event="whiffs", stretch=10)
    assert any("that matters, so form is what is left of it" in note for note in hot.notes)
    bare = form.stretches(form.games.place("H00"))["shrunk"].iloc[-1]
    assert hot.numbers["now"] < bare - 0.02  # the hard staffs of the end are no form of his
    steady = check_steady(turned, "H30", event="whiffs", stretch=10)
    assert any("over the last 10 games makes a difference of -" in note for note in steady.notes)
    # Nobody's talent moves: what is left of the form is less than half of what the schedule alone makes.
    assert steady.numbers["form_spread"] < 0.5 * form.spread
    assert steady.chance > form.chance_steady(form.games.place("H30"), 1.25)


def test_form_less_nothing_faced_stays_as_it_is_and_what_is_less_known_weighs_less(turned, form):
    counts = hitlab.tally(turned, ["hitter", "game", "date"])
    none = np.zeros(len(form.hitter))
    same = fit_form(counts, "whiffs", "swings", stretch=10, faced=(none, none))
    assert same.chance_above(0, 1.25) == pytest.approx(form.chance_above(0, 1.25))
    last = form.of(0).stop - 1
    vague = np.where(np.arange(len(none)) == last, 2.0, 0.0)
    unsure = fit_form(counts, "whiffs", "swings", stretch=10, faced=(none, vague)).stretches(0).iloc[-1]
    known = form.stretches(0).iloc[-1]
    assert unsure["high"] - unsure["low"] > known["high"] - known["low"]
    with pytest.raises(CountsError, match="one entry for each"):
        fit_form(counts, "whiffs", "swings", stretch=10, faced=(none[1:], none[1:]))


def test_a_split_says_what_was_faced_and_why_nothing_is_allowed_for(turned):
    claim = check_split(turned, "H00", event="whiffs", when="half=top")
    note = next(note for note in claim.notes if "pitching and parks" in note)
    assert "each against what everybody met there" in note
    counts, inside = hitlab.tally(turned), hitlab.tally(turned, where="half=top")
    told = check_split(counts, "H00", event="whiffs", inside=inside)
    assert told.chance == claim.chance
    assert any("these counts do not tell whom the hitters faced" in note for note in told.notes)


def test_the_likelihood_inside_a_part_is_that_of_the_pitching_of_the_rest():
    counts = [np.array([4, 7]), np.array([20, 30]), np.array([10, 9]), np.array([60, 50])]
    plain, grid = FourCounts(*counts), np.linspace(-3, 1, 401)
    moved = FourCounts(*counts, np.array([0.2, 0.0]), np.zeros(2)).inside(grid)
    assert moved[0] == pytest.approx(plain.inside(grid + 0.2)[0])
    assert moved[1] == pytest.approx(plain.inside(grid)[1])
    unsure = FourCounts(*counts, np.zeros(2), np.array([0.5, 0.0])).inside(grid)
    # Near its top it is a normal law, whose variance grows by .25: 1/(20 x .22) becomes 1/(20 x .22) + .25.
    p = 11 / 50
    by = 1 / (1 + 20 * p * (1 - p) * 0.25)
    assert unsure[0] == pytest.approx(plain.inside(grid)[0] ** by, rel=1e-6)


def test_other_subjects_suppose_comparable_ones_and_say_so(even):
    claim = check_leads(even, subject="pitcher", event="whiffs", minimum=10)
    assert (
        "which hitters each pitcher faced is not allowed for, so comparable ones are supposed" in claim.notes
    )
    assert "all met comparable hitters, parks and measuring" in claim.assumptions


def test_the_hand_faced_is_told_from_the_hitter():
    rng = np.random.default_rng(12)
    rows = []
    for hitter in range(30):
        share = 0.8 if hitter < 15 else 0.2  # of pitchers of his own hand, whom everybody misses more
        same = rng.random(300) < share
        missed = rng.random(300) < 1 / (1 + np.exp(1.2 - 0.6 * same))
        rows.append(
            pd.DataFrame(
                {
                    "hitter": f"h{hitter:02d}",
                    "pitcher": [f"p{i}" for i in np.where(same, 0, 10) + rng.integers(0, 10, 300)],
                    "hitter_side": "left",
                    "pitcher_hand": np.where(same, "left", "right"),
                    "outcome": np.where(missed, "whiff", "foul"),
                }
            )
        )
    faced = adjust_for_faced(pd.concat(rows, ignore_index=True), "whiffs", "swings", also=["hands"])
    moved = faced.data["faced_log_odds"].to_numpy()
    # .6 times the difference of the shares, of .8 and .2 against .5 in the league.
    assert moved[:15].mean() == pytest.approx(0.18, abs=0.06)
    assert moved[15:].mean() == pytest.approx(-0.18, abs=0.06)
    plain = faced.data["rate"].to_numpy()
    assert abs(np.diff([x.mean() for x in np.split(faced.data["shrunk"].to_numpy(), 2)])) < 0.02
    assert np.diff([x.mean() for x in np.split(plain, 2)]) < -0.04


@pytest.mark.slow
@pytest.mark.parametrize("spread", [0.0, 0.3, 0.6])
def test_uneven_leagues_are_as_well_told_as_even_ones(spread):
    told = summary([one_league(1_000 + seed, 30, spread) for seed in range(24)])
    adjusted, plain = told.loc["adjusted"], told.loc["unadjusted"]
    # Three standard errors of the coverage beside the nominal .90, which are estimated with it.
    assert abs(adjusted["covered"] - 0.90) < 3 * adjusted["covered_se"] + 0.005
    # The ratio of two errors of 2,160 rates each has a standard error of about .02.
    assert adjusted["error_to_even"] < 1.05 + 0.04
    assert adjusted["error"] < plain["error"] * (1.01 if spread == 0 else 1.0)
    if spread == 0.6:
        assert plain["covered"] < 0.85
        assert plain["error_to_even"] > 1.15


@pytest.mark.slow
def test_the_crossed_fit_is_the_full_bayesian_one():
    from tests.benchmarks.crossed_full_bayes import sample

    rng = np.random.default_rng(4)
    met = play(rng, draw_league(rng, 12, 0.3, 0.15, 0.1), 0.7)
    counts = hitlab.Counts.from_table(met, by=["hitter", "pitcher", "staff", "park"])
    found = meetings(counts, None, "hard", "swings")
    assert found is not None
    drawn = fit_crossed(found.cells, 256)
    chains = [sample(found.cells, draws=5_000, tune=2_000, seed=seed) for seed in (0, 1)]
    effects, deviations, faced, own = (np.concatenate([c[i] for c in chains]) for i in range(4))
    # The two chains differ by up to .18 standard deviations, so that a tenth is the reference's own error;
    # 256 draws of ours leave .06 in each of some hundred means, about .17 in the largest. Together: .35.
    close = 0.35
    assert np.abs((drawn.effects.mean(axis=0) - effects.mean(axis=0)) / effects.std(axis=0)).max() < close
    assert np.abs((drawn.log_odds.mean(axis=0) - faced.mean(axis=0)) / faced.std(axis=0)).max() < close
    assert (
        np.abs((drawn.deviations.mean(axis=0) - deviations.mean(axis=0)) / deviations.std(axis=0)).max()
        < close
    )
    # A spread from 256 draws has an error of .045; Laplace's is left a twentieth, and the largest of many
    # three errors.
    ratio = drawn.log_odds.std(axis=0) / faced.std(axis=0)
    assert 0.8 < ratio.min() < ratio.max() < 1.25
    assert np.median(drawn.effects.std(axis=0) / effects.std(axis=0)) == pytest.approx(1, abs=0.05)
    # The rates: a Beta law stands here for the reference's normal law of the log odds, which moves the
    # farthest of 36 by another quarter of a standard deviation, and their spread by some hundredths.
    fit = adjust_for_faced(met).fit
    assert np.abs((fit.posterior.mean() - own.mean(axis=0)) / own.std(axis=0)).max() < close + 0.25
    assert np.median(fit.posterior.spread() / own.std(axis=0)) == pytest.approx(1, abs=0.07)
    best = np.bincount(own.argmax(axis=1), minlength=own.shape[1]) / len(own)
    assert np.abs(best - chance_of_top(fit.posterior, 1)).max() < 0.08


def _halves_against_others(swings=800, hitters=24, pitchers=12):
    """Half the hitters mostly meet one half of the pitchers, who differ by .6 on the log odds."""
    rng = np.random.default_rng(1)
    talent, pitching = rng.normal(0, 0.25, hitters), rng.normal(0, 0.6, pitchers)
    hitter = np.repeat(np.arange(hitters), swings)
    own = (hitter % 2) * (pitchers // 2) + rng.integers(0, pitchers // 2, len(hitter))
    pitcher = np.where(rng.random(len(hitter)) < 0.9, own, rng.integers(0, pitchers, len(hitter)))
    missed = rng.random(len(hitter)) < 1 / (1 + np.exp(1.2 - talent[hitter] - pitching[pitcher]))
    return pd.DataFrame(
        {
            "hitter": [f"Ada Frusk{number}" for number in hitter],
            "pitcher": [f"Bo Quirl{number}" for number in pitcher],
            "outcome": np.where(missed, "whiff", "foul"),
        }
    )


@pytest.mark.slow
def test_what_would_change_an_answer_that_allows_for_what_was_faced_would():
    """The number of whiffs that would leave it open does, given to him in the table; half of it does not."""
    pitches = _halves_against_others()
    answers = 0
    for number in range(0, 24, 6):
        name = f"Ada Frusk{number}"
        claim = check_leads(pitches, name, event="whiffs", per="swings")
        assert "that matters" in " ".join(claim.notes)
        if claim.verdict != "does not hold":
            continue
        needed = int(claim.would_change.split(" more whiffs")[0])
        fouls = np.flatnonzero((pitches["hitter"] == name) & (pitches["outcome"] == "foul"))
        spread = np.random.default_rng(number).permutation(fouls)
        verdicts = []
        for more in (needed // 2, int(needed * 1.2) + 3):
            changed = pitches.copy()
            changed.loc[spread[:more], "outcome"] = "whiff"
            verdicts.append(check_leads(changed, name, event="whiffs", per="swings").verdict)
        assert verdicts == ["does not hold", "open"]
        answers += 1
    assert answers >= 3
