"""Hitters against the league on the same pitches: truth recovered, luck not mistaken for skill."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.optimize import minimize
from scipy.special import expit

from hitlab.approach.matched import match_to_league
from hitlab.errors import CountsError


def league(
    seed: int, spread: float, hitters: int = 60
) -> tuple[np.ndarray, np.ndarray, pd.DataFrame, np.ndarray]:
    rng = np.random.default_rng(seed)
    tries = rng.integers(20, 300, hitters)
    group = np.repeat(np.arange(hitters), tries)
    # Some hitters see faster pitches, so that the raw rates mislead.
    speed = rng.normal(92, 3, len(group)) + rng.normal(0, 2, hitters)[group]
    height = rng.normal(30, 8, len(group))
    effect = rng.normal(0, spread, hitters) if spread else np.zeros(hitters)
    z, h = (speed - 92) / 3, (height - 30) / 8
    logit = 0.1 - 0.5 * z - 0.3 * h**2 + 0.2 * z * h + effect[group]
    success = rng.random(len(group)) < expit(logit)
    return success, group, pd.DataFrame({"speed_mph": speed, "height_in": height}), effect


@pytest.mark.slow
def test_intervals_cover_and_the_spread_is_found() -> None:
    inside, spreads, misled, matched_error = [], [], [], []
    for seed in range(60):
        success, group, pitches, effect = league(seed, 0.35)
        found = match_to_league(success, group, pitches)
        data = found.table()
        inside.append(((data["low"] < effect) & (effect < data["high"])).mean())
        spreads.append(found.spread)
        raw = data["successes"] / data["tries"]
        misled.append(np.corrcoef(raw, effect)[0, 1])
        matched_error.append(np.corrcoef(data["effect"], effect)[0, 1])
    # 3,600 intervals: standard error .005, and leagues differ; .90 wanted.
    assert 0.88 < np.mean(inside) < 0.92
    assert np.mean(spreads) == pytest.approx(0.35, abs=0.02)
    assert np.mean(matched_error) > np.mean(misled) + 0.05


@pytest.mark.slow
def test_a_league_without_differences_shows_none() -> None:
    calls = 0
    for seed in range(10):
        success, group, pitches, _ = league(100 + seed, 0.0)
        found = match_to_league(success, group, pitches)
        calls += int(((found.data["chance_above"] > 0.9) | (found.data["chance_above"] < 0.1)).sum())
        assert found.spread < 0.15
    # Of 600 hitters who are all alike, next to none may be called: a chance of .90 that is wrong.
    assert calls <= 12


def test_the_league_line_is_the_likeliest_one() -> None:
    """The regression against a plain maximisation of the likelihood by scipy."""
    success, group, pitches, _ = league(7, 0.0)
    found = match_to_league(success, group, pitches)
    z = ((pitches - pitches.mean()) / pitches.std()).to_numpy()
    design = np.column_stack(
        [np.ones(len(z)), z[:, 0], z[:, 1], z[:, 0] ** 2, z[:, 0] * z[:, 1], z[:, 1] ** 2]
    )
    order = [
        "constant",
        "speed_mph",
        "height_in",
        "speed_mph squared",
        "speed_mph x height_in",
        "height_in squared",
    ]

    def loss(beta: np.ndarray) -> float:
        return float(np.logaddexp(0, design @ beta).sum() - (design @ beta)[success].sum())

    best = minimize(loss, np.zeros(6), method="BFGS", options={"gtol": 1e-6}).x
    ours = dict(zip(found.names, found.coefficients, strict=True))
    assert [ours[name] for name in order] == pytest.approx(best.tolist(), abs=1e-4)
    assert found.data["league"].sum() == pytest.approx(success.sum())


def test_a_group_without_a_pitch_stands_at_the_league() -> None:
    success, group, pitches, _ = league(3, 0.3)
    found = match_to_league(success, group, pitches, groups=61).table()
    last = found.iloc[60]
    assert last["tries"] == 0
    assert last["effect"] == pytest.approx(0, abs=1e-9)
    assert last["chance_above"] == pytest.approx(0.5)
    assert last["high"] - last["low"] >= (found["high"] - found["low"]).max() - 1e-9


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"success": np.zeros(400, bool)}, "0 of 400 tries succeeded"),
        ({"group": np.zeros(3, int)}, "they describe the same pitches"),
        ({"pitches": pd.DataFrame({"speed_mph": [np.nan] * 400})}, "speed_mph, row 1: a value is missing"),
        ({"level": 1.0}, "between 0 and 1"),
    ],
)
def test_what_cannot_be_matched_says_why(change: dict[str, object], message: str) -> None:
    given = {
        "success": np.arange(400) % 2 == 0,
        "group": np.zeros(400, int),
        "pitches": pd.DataFrame({"speed_mph": np.linspace(80, 100, 400)}),
    }
    with pytest.raises(CountsError, match=message):
        match_to_league(**(given | change))  # type: ignore[arg-type]
