"""Leagues in which not everybody faces the same pitching, and what the adjustment makes of them.

    python -m tests.benchmarks.unequal_schedules [--leagues 60] [--within 0.7] [--hitters 30]

Twelve clubs in three divisions; most attempts are against clubs of the own division. Each club has a pitching
staff with an effect of its own on the log odds, shared by its pitchers. Every league is played twice, by its
own schedule and by an even one, with the same hitters, staffs and numbers of attempts. A hitter's true rate
is the mean of his rates against the twelve staffs.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass

import numpy as np
import pandas as pd
from scipy.special import expit

from hitlab.counting.counts import Counts
from hitlab.estimates.faced import adjust_for_faced, meetings, unequal
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import shrink
from hitlab.estimates.top_places import chance_of_top

CLUBS, DIVISIONS, PITCHERS = 12, 3, 6
SPREADS = (0.0, 0.1, 0.3, 0.6)
WITHIN = 0.7
FACED = ("pitcher", "staff", "park")


@dataclass(frozen=True)
class League:
    """Hitters and staffs of one league; the truth.

    Attributes
    ----------
    club, attempts, log_odds
        By hitter.
    staff, pitcher, park
        Effects on the log odds.
    """

    club: np.ndarray
    attempts: np.ndarray
    log_odds: np.ndarray
    staff: np.ndarray
    pitcher: np.ndarray
    park: np.ndarray

    @property
    def truth(self) -> np.ndarray:
        """Each hitter's rate against the league's pitching, all pitchers alike often."""
        faced = np.repeat(self.staff, PITCHERS) + self.pitcher
        return expit(self.log_odds[:, np.newaxis] + faced).mean(axis=1)


def draw_league(
    rng: np.random.Generator,
    hitters: int,
    staff_spread: float,
    pitcher_spread: float = 0.0,
    park_spread: float = 0.0,
) -> League:
    """Draw a league with so many hitters a division."""
    number = DIVISIONS * hitters
    a_division = CLUBS // DIVISIONS
    club = np.arange(number) % a_division + a_division * (np.arange(number) // hitters)
    rate = rng.beta(27, 165, number)
    return League(
        club,
        rng.integers(100, 500, number),
        np.log(rate / (1 - rate)),
        rng.normal(0, staff_spread, CLUBS) if staff_spread else np.zeros(CLUBS),
        rng.normal(0, pitcher_spread, CLUBS * PITCHERS) if pitcher_spread else np.zeros(CLUBS * PITCHERS),
        rng.normal(0, park_spread, CLUBS) if park_spread else np.zeros(CLUBS),
    )


def play(rng: np.random.Generator, league: League, within: float | None) -> pd.DataFrame:
    """Play a season: one row a hitter, pitcher, staff and park, with ``swings`` and ``hard``.

    ``within`` is the share of attempts against clubs of the own division; ``None`` for an even schedule.
    """
    clubs = np.arange(CLUBS)
    division = clubs // (CLUBS // DIVISIONS)
    same = division[league.club][:, np.newaxis] == division
    own = league.club[:, np.newaxis] == clubs
    others = (same & ~own).sum(axis=1, keepdims=True)
    share = np.where(same, (within or 0) / others, (1 - (within or 0)) / (~same).sum(axis=1, keepdims=True))
    share = np.where(own, 0.0, 1.0 / (CLUBS - 1) if within is None else share)
    # Against each staff: each of its pitchers, at home and away.
    chance = np.repeat(share / PITCHERS / 2, PITCHERS * 2, axis=1)
    faced = rng.multinomial(league.attempts, chance / chance.sum(axis=1, keepdims=True))
    hitter, cell = np.nonzero(faced)
    staff, pitcher, home = cell // (PITCHERS * 2), cell // 2, cell % 2
    park = np.where(home == 1, league.club[hitter], staff)
    swings = faced[hitter, cell]
    chance = expit(
        league.log_odds[hitter] + league.staff[staff] + league.pitcher[pitcher] + league.park[park]
    )
    return pd.DataFrame(
        {
            "hitter": [f"h{i:03d}" for i in hitter],
            "pitcher": [f"p{i:02d}" for i in pitcher],
            "staff": [f"s{i:02d}" for i in staff],
            "park": [f"k{i:02d}" for i in park],
            "swings": swings,
            "hard": rng.binomial(swings, chance),
        }
    )


def scores(fit, truth: np.ndarray) -> dict[str, float]:
    """Hold a fit against the truth: errors, coverage, and the leader's chance."""
    low, high = fit.data["low"].to_numpy(), fit.data["high"].to_numpy()
    compared = np.flatnonzero(fit.exposure >= usual_minimum(fit.exposure))
    chance = chance_of_top(fit.posterior.only(compared), 1)
    lead = int(chance.argmax())
    return {
        "squared": float(((fit.data["shrunk"] - truth) ** 2).mean()),
        "stated": float((fit.posterior.spread() ** 2).mean()),
        "covered": float(((low <= truth) & (truth <= high)).mean()),
        "leader": float(chance[lead]),
        "best": float(truth[compared[lead]] == truth[compared].max()),
    }


def one_league(
    seed: int, hitters: int, staff_spread: float, within: float = WITHIN, **spreads: float
) -> dict[str, dict[str, float]]:
    """Return the scores of one league: adjusted, not adjusted, as claims do, and by an even schedule."""
    rng = np.random.default_rng([seed, hitters, int(staff_spread * 100)])
    league = draw_league(rng, hitters, staff_spread, **spreads)
    met, even = play(rng, league, within), play(rng, league, None)
    counts = [t.groupby("hitter", as_index=False)[["swings", "hard"]].sum() for t in (met, even)]
    found = meetings(Counts.from_table(met, by=["hitter", *FACED]), None, "hard", "swings")
    assert found is not None
    plain = shrink(counts[0])
    matters = unequal(found)[0].matters(plain)
    told = {
        "adjusted": scores(adjust_for_faced(met).fit, league.truth),
        "unadjusted": scores(plain, league.truth),
        "even": scores(shrink(counts[1]), league.truth),
    }
    # A claim adjusts where what was faced matters, and not otherwise.
    told["claimed"] = {**told["adjusted" if matters else "unadjusted"], "matters": float(matters)}
    return told


def summary(leagues: list[dict[str, dict[str, float]]]) -> pd.DataFrame:
    """Return one row a way: root mean square error, coverage, stated and true chance of the leader."""
    rows = {}
    for way in leagues[0]:
        told = pd.DataFrame([one[way] for one in leagues])
        rows[way] = {
            "error": np.sqrt(told["squared"].mean()),
            "stated_error": np.sqrt(told["stated"].mean()),
            "covered": told["covered"].mean(),
            "covered_se": told["covered"].std() / np.sqrt(len(told)),
            "leader_stated": told["leader"].mean(),
            "leader_true": told["best"].mean(),
            "leader_se": (told["best"] - told["leader"]).std() / np.sqrt(len(told)),
            **({"matters": told["matters"].mean()} if "matters" in told else {}),
        }
    out = pd.DataFrame(rows).T
    out["error_to_even"] = out["error"] / out.loc["even", "error"]
    return out


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--leagues", type=int, default=60)
    parser.add_argument("--hitters", type=int, nargs="+", default=[12, 30, 60])
    parser.add_argument("--within", type=float, default=WITHIN)
    parser.add_argument("--pitchers", type=float, default=0.0)
    parser.add_argument("--parks", type=float, default=0.0)
    asked = parser.parse_args()
    spreads = {"pitcher_spread": asked.pitchers, "park_spread": asked.parks}
    for hitters in asked.hitters:
        for spread in SPREADS:
            told = [one_league(s, hitters, spread, asked.within, **spreads) for s in range(asked.leagues)]
            print(f"{hitters} hitters a division, staffs' spread {spread}, {asked.leagues} leagues")
            print(summary(told).round(4).to_string(), flush=True)


if __name__ == "__main__":
    main()
