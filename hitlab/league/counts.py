"""Counts without pitches: leagues drawn from the same model, thousands a second.

The true rates of a hitter are a smooth function of his talents and sides. That function is fitted
once for each set of effects, as a quadratic on the logit scale, to the rates that
:mod:`hitlab.league.truth` works out; then a league costs one draw of talents and a few binomial
draws a hitter. The outcomes of a hitter's swings are drawn as independent, so what the count, the
pitcher and the day's form do to neighbouring swings is in the rates and not in the scatter. In seasons
played pitch by pitch the variance of hard-hit balls given the swings is larger by about 2 %
through the count, and by more in long seasons where pitchers differ and form varies.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import expit, logit

from hitlab.league.effects import Effects
from hitlab.league.pitching import KINDS
from hitlab.league.schedule import start_shares
from hitlab.league.seasons import PLATE_APPEARANCES_A_START, check_league, identities, whole
from hitlab.league.swinging import FOUL_TIP_SHARE
from hitlab.league.talents import (
    LEFT_PITCHER_SHARE,
    Pitchers,
    draw_pitchers,
    draw_sides,
    draw_talents,
    liking,
    scaled,
)
from hitlab.league.truth import rates_with_error

__all__ = ["draw_counts", "fitted_rates"]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

_DESIGN_HITTERS = 700
_DESIGN_POINTS = 1024
_POOL_CLUBS = 20
_SEED_OF_FIT, _SEED_OF_STAFF = 31_415, 92_653
_HITTERS_AT_ONCE = 150_000
# Variance of plate appearances a start and of swings a plate appearance, from seasons played
# pitch by pitch with the default effects.
_PLATE_APPEARANCES_VARIANCE = 0.55
_SWINGS_VARIANCE = 1.12


def _features(talents: Floats, side: Whole) -> Floats:
    """Return intercept, linear and quadratic terms; shape (hitters, terms)."""
    # Share of pitches from same-handed pitchers: left-handed, right-handed and switch hitters.
    same = np.array([LEFT_PITCHER_SHARE, 1 - LEFT_PITCHER_SHARE, 0.0])[side]
    variables = np.concatenate([talents, same[None] - 0.5])
    rows, columns = np.triu_indices(len(variables))
    return np.concatenate([np.ones((1, len(side))), variables, variables[rows] * variables[columns]]).T


def average_staff(effects: Effects) -> Pitchers:
    """Return the pitchers that drawn leagues meet: those of twenty clubs."""
    return draw_pitchers(_POOL_CLUBS, len(KINDS), effects, np.random.default_rng(_SEED_OF_STAFF))


@lru_cache(maxsize=32)
def _coefficients(effects: Effects) -> Floats:
    """Coefficients, shape (terms, 4): whiff, foul given contact, hard given in play, log swings."""
    rng = np.random.default_rng(_SEED_OF_FIT)
    talents = 1.3 * draw_talents(rng, (_DESIGN_HITTERS,))
    side = np.arange(_DESIGN_HITTERS) % 3
    rates, _ = rates_with_error(
        scaled(talents, effects), side, average_staff(effects), effects, _DESIGN_POINTS
    )
    in_play = rates["in_play_per_swing"]
    targets = np.stack(
        [
            logit(rates["whiffs_per_swing"]),
            logit(1 - in_play / (1 - rates["whiffs_per_swing"])),
            logit(rates["hard_per_in_play"]),
            np.log(rates["swings_per_plate_appearance"]),
        ],
        axis=1,
    )
    return np.asarray(np.linalg.lstsq(_features(talents, side), targets)[0])


def fitted_rates(talents: Floats, side: Whole, effects: Effects) -> dict[str, Floats]:
    """Return true rates of hitters by the fitted function.

    Parameters
    ----------
    talents
        Standard talents, shape (12, hitters), in the order of ``hitlab.league.talents.TALENTS``.
    side
        0 left, 1 right, 2 switch; shape (hitters,).
    effects
        What is switched on.

    Returns
    -------
    Rates by the names of ``hitlab.league.RATES``, a part of them, each of shape (hitters,). Against
    an average staff of pitchers.
    """
    whiff, foul, hard, swings = (_features(talents, side) @ _coefficients(effects)).T
    missed, fouled, hit_hard = expit(whiff), expit(foul), expit(hard)
    in_play = (1 - missed) * (1 - fouled)
    return {
        "hard_per_swing": in_play * hit_hard,
        "hard_per_in_play": hit_hard,
        "whiffs_per_swing": missed,
        "fouls_per_swing": (1 - missed) * fouled * (1 - FOUL_TIP_SHARE),
        "foul_tips_per_swing": (1 - missed) * fouled * FOUL_TIP_SHARE,
        "in_play_per_swing": in_play,
        "swings_per_plate_appearance": np.exp(swings),
    }


def draw_counts(
    hitters: int = 150,
    clubs: int = 10,
    games_a_club: int = 69,
    seed: int = 0,
    effects: Effects | None = None,
    leagues: int = 1,
) -> pd.DataFrame:
    """Draw the true rates and the season's counts of hitters, without playing pitches.

    Parameters
    ----------
    hitters, clubs
        As for :func:`make_season`.
    games_a_club
        Games that each club plays, from 1 to 1,000; 69 go with about 100,000 pitches.
    seed
        The same seed gives the same leagues.
    effects
        Which effects act; the default league where it is left out.
    leagues
        How many leagues, each with hitters of its own.

    Returns
    -------
    pandas.DataFrame
        One row a league and hitter:

        - ``league`` (from 0), ``hitter_id``, ``rank`` (0 is the hitter whom his manager likes best);
        - true rates, named as in ``hitlab.league.RATES``: ``hard_per_swing``, ``hard_per_in_play``,
          ``whiffs_per_swing``, ``fouls_per_swing``, ``foul_tips_per_swing``, ``in_play_per_swing``,
          ``swings_per_plate_appearance``;
        - counts: ``plate_appearances``, ``swings``, ``whiffs``, ``foul_tips``, ``fouls`` (without the tips),
          ``contact`` (fouls and balls in play), ``in_play``, ``unmeasured`` (balls in play without exit
          speed), ``hard`` (of those measured).

    Raises
    ------
    ClaimError
        When an argument is out of its range.

    Notes
    -----
    Starts are binomial, plate appearances and swings near normal around their expectation;
    the outcomes given the swings are multinomial. All numbers are invented.

    Examples
    --------
    In 200 leagues, the highest observed rate of each against the same hitter's true one:

    >>> from hitlab.league import draw_counts
    >>> table = draw_counts(leagues=200)
    >>> table["observed"] = table["hard"] / table["swings"]
    >>> leaders = table.loc[table.groupby("league")["observed"].idxmax()]
    >>> leaders[["observed", "hard_per_swing"]].mean().round(2).tolist()
    [0.28, 0.14]
    """
    hitters, clubs, seed, effects = check_league(hitters, clubs, seed, effects)
    games_a_club = whole("games_a_club", games_a_club, 1, 1_000)
    leagues = whole("leagues", leagues, 1, 1_000_000)
    rng = np.random.default_rng(seed)
    at_once = max(1, _HITTERS_AT_ONCE // hitters)
    parts = [
        _draw(min(at_once, leagues - first), hitters, clubs, games_a_club, effects, rng)
        for first in range(0, leagues, at_once)
    ]
    columns = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
    table = pd.DataFrame(columns)
    ids = pd.Series(np.tile(identities("h", hitters), leagues))
    table.insert(0, "league", np.repeat(np.arange(leagues), hitters))
    table.insert(1, "hitter_id", ids)
    return table


def _draw(
    leagues: int, hitters: int, clubs: int, games: int, effects: Effects, rng: np.random.Generator
) -> dict[str, NDArray[Any]]:
    club = np.sort(np.arange(hitters) % clubs)
    talents = draw_talents(rng, (leagues, hitters))
    # Within a club the best liked come first; a club's number outweighs any liking.
    order = np.argsort(1_000.0 * club - liking(talents, effects, rng), axis=1)
    talents = np.take_along_axis(talents, order[None], axis=2).reshape(len(talents), -1)
    side = draw_sides(rng, (leagues * hitters,))
    roster = np.bincount(club)
    rank = np.arange(hitters) - np.searchsorted(club, np.arange(clubs))[club]
    shares = {int(size): start_shares(int(size)) for size in np.unique(roster)}
    share = np.array([shares[roster[c]][r] for c, r in zip(club, rank, strict=True)])
    rates = fitted_rates(talents, side, effects)

    starts = rng.binomial(games, np.tile(share, leagues))
    mean = PLATE_APPEARANCES_A_START * starts
    appearances = _near(mean, _PLATE_APPEARANCES_VARIANCE * starts, rng)
    mean = appearances * rates["swings_per_plate_appearance"]
    swings = _near(mean, _SWINGS_VARIANCE * appearances, rng)
    whiffs = rng.binomial(swings, rates["whiffs_per_swing"])
    touched = swings - whiffs
    in_play = rng.binomial(touched, rates["in_play_per_swing"] / (1 - rates["whiffs_per_swing"]))
    tips = rng.binomial(touched - in_play, FOUL_TIP_SHARE)
    unmeasured = rng.binomial(in_play, effects.unmeasured)
    return {
        "rank": np.tile(rank, leagues),
        **rates,
        "plate_appearances": appearances,
        "swings": swings,
        "whiffs": whiffs,
        "foul_tips": tips,
        "fouls": touched - in_play - tips,
        "contact": touched - tips,
        "in_play": in_play,
        "unmeasured": unmeasured,
        "hard": rng.binomial(in_play - unmeasured, rates["hard_per_in_play"]),
    }


def _near(mean: NDArray[Any], variance: NDArray[Any], rng: np.random.Generator) -> Whole:
    """Whole numbers of 0 or more, near normal around a mean."""
    draws = mean + np.sqrt(variance) * rng.standard_normal(mean.shape)
    whole_draws: Whole = np.maximum(np.rint(draws), 0).astype(np.int64)
    return whole_draws
