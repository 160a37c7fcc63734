"""Leagues drawn from known laws, and whether what is said of them comes true as often as stated.

    python -m tests.benchmarks.calibration_leagues --law large --leagues 1000

prints the errors of the default fit beside those of a fit with a plugged-in law, of one that ignores
exposure, and of an oracle that knows the law the truth was drawn from.
"""

from __future__ import annotations

import argparse
import time
import warnings
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import expit, logit

from hitlab.errors import HitlabWarning
from hitlab.estimates.designs import average
from hitlab.estimates.estimators import fit_beta_binomial
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.questions import exposure_part
from hitlab.estimates.shrinkage import shrink
from hitlab.estimates.top_places import chance_above, chance_of_top

Floats = NDArray[np.float64]

BANDS = (0, 50, 150, 450, 1_000_000)
THRESHOLDS = (0, 100, 250, 400)
VALUE = 0.16
SWINGS_A_GAME = 8


@dataclass(frozen=True, slots=True)
class TrueLaw:
    """The law that a league's true rates and exposures are drawn from.

    Attributes
    ----------
    hitters, swings
        How many; lowest and highest exposure.
    uniform
        Exposure uniform; log-uniform otherwise.
    mean, spread
        Of the true rates (at the average log exposure).
    slope
        Change of the mean's log odds with one unit of log exposure.
    drawn
        Mean and spread are drawn anew for each league, the spread from a Gamma law of shape 4 (its standard
        deviation is half its mean); a wider league of 150 hitters of the same law is drawn, too.
    mean_drawn
        Standard deviation of the normal law that the mean is then drawn from.
    shape
        ``beta``; ``two groups`` (a third of the hitters are another kind, two and a half standard deviations
        lower); or one of ``SHAPES``, laws of mean 0 and standard deviation 1 that are moved and stretched.
    day_form
        Correlation of two swings of one game of ``SWINGS_A_GAME``: the game's rate follows a Beta law around
        the hitter's.
    by_game
        The counts that claims are checked on are those by game.
    """

    name: str
    hitters: int = 150
    swings: tuple[int, int] = (20, 1300)
    uniform: bool = False
    mean: float = 0.14
    spread: float = 0.025
    slope: float = 0.0
    drawn: bool = False
    mean_drawn: float = 0.015
    shape: str = "beta"
    day_form: float = 0.0
    by_game: bool = False


_LOG_SPREAD = 0.9  # of the lognormal law behind "heavy right"
_FAR_SHARE, _FAR = 0.05, 4.0  # of the hitters, and how many of the others' standard deviations higher


def _lognormal(rng: np.random.Generator, size: int) -> Floats:
    square = _LOG_SPREAD**2
    mean, spread = np.exp(square / 2), np.exp(square / 2) * np.sqrt(np.expm1(square))
    return np.asarray((np.exp(_LOG_SPREAD * rng.standard_normal(size)) - mean) / spread)


def _far_few(rng: np.random.Generator, size: int) -> Floats:
    spread = np.sqrt(1 + _FAR_SHARE * (1 - _FAR_SHARE) * _FAR**2)
    moved = _FAR * ((rng.random(size) < _FAR_SHARE) - _FAR_SHARE)
    return np.asarray((rng.standard_normal(size) + moved) / spread)


SHAPES: dict[str, Callable[[np.random.Generator, int], Floats]] = {
    "normal": lambda rng, size: rng.standard_normal(size),
    "skewed": lambda rng, size: (rng.gamma(2.0, 1.0, size) - 2) / np.sqrt(2),
    "heavy right": _lognormal,
    "heavy both": lambda rng, size: rng.standard_t(4.0, size) / np.sqrt(2),
    "far few": _far_few,
    "falling": lambda rng, size: 1 - rng.exponential(1.0, size),
    "power tail": lambda rng, size: (rng.pareto(4.0, size) - 1 / 3) / np.sqrt(2 / 9),
}
"""Laws of the truth: a bell; a long tail of good hitters (Gamma law of shape 2); a heavy one (lognormal);
heavy on both sides (Student's, 4 degrees of freedom); a few stars far above the others; a long tail of bad
hitters; a tail that falls like a power (Lomax's law of shape 4), looked at once when all was done."""

LAWS = {
    law.name: law
    for law in (
        TrueLaw("large"),
        TrueLaw("large uniform", uniform=True),
        TrueLaw("rising", slope=0.12),
        TrueLaw("small", 15, (20, 200), drawn=True),
        TrueLaw("small, levels", 15, (20, 200), drawn=True, mean_drawn=0.03),
        TrueLaw("skewed", shape="skewed"),
        TrueLaw("two groups", shape="two groups"),
        TrueLaw("normal", shape="normal"),
        TrueLaw("heavy right", shape="heavy right"),
        TrueLaw("heavy both", shape="heavy both"),
        TrueLaw("far few", shape="far few"),
        TrueLaw("falling", shape="falling"),
        TrueLaw("power tail", shape="power tail"),
    )
}


@dataclass(frozen=True, slots=True)
class League:
    """One drawn league; ``a`` and ``b`` are the oracle's prior (missing where it is no Beta law).

    ``wider``: counts and exposures of a wider league of which this is a part, where one was drawn. ``games``:
    the place of the hitter, the events and the exposure of every game, where they are asked for.
    """

    events: NDArray[np.int64]
    exposure: NDArray[np.int64]
    truth: Floats
    a: Floats
    b: Floats
    wider: tuple[NDArray[np.int64], NDArray[np.int64]] | None = None
    games: tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]] | None = None


def draw_league(law: TrueLaw, rng: np.random.Generator) -> League:
    """Draw true rates, exposures and counts."""
    low, high = law.swings
    if law.uniform:
        exposure = rng.integers(low, high + 1, law.hitters)
    else:
        exposure = np.rint(np.exp(rng.uniform(np.log(low), np.log(high), law.hitters))).astype(np.int64)
    mean, spread = law.mean, law.spread
    if law.drawn:
        mean = float(np.clip(rng.normal(mean, law.mean_drawn), 0.02, 0.5))
        spread = rng.gamma(4.0, spread / 4.0)
    middle = (np.log(low) + np.log(high)) / 2 if not law.uniform else np.log((low + high) / 2)
    each = expit(logit(mean) + law.slope * (np.log(exposure) - middle))
    size = each * (1 - each) / spread**2 - 1
    a, b = each * size, (1 - each) * size
    if law.shape in SHAPES:
        truth = np.clip(each + spread * SHAPES[law.shape](rng, law.hitters), 1e-4, 1 - 1e-4)
    elif law.shape == "two groups":
        truth = rng.beta(a, b) - 2.5 * spread * (rng.random(law.hitters) < 1 / 3)
        truth = np.clip(truth, 1e-4, 1 - 1e-4)
    else:
        truth = rng.beta(a, b)
    if law.shape != "beta" or law.day_form:
        a, b = np.full(law.hitters, np.nan), np.full(law.hitters, np.nan)
    wider = _wider(rng.spawn(1)[0], mean, spread) if law.drawn else None
    if not law.by_game:
        return League(draw_events(rng, exposure, truth, law.day_form), exposure, truth, a, b, wider)
    games = draw_games(rng, exposure, truth, law.day_form)
    events = np.bincount(games[0], games[1], law.hitters).astype(np.int64)
    return League(events, exposure, truth, a, b, wider, games)


def _wider(
    rng: np.random.Generator, mean: float, spread: float
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Draw the records of 150 more hitters of the same law, with 20 to 1,300 swings."""
    exposure = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), 150))).astype(np.int64)
    size = mean * (1 - mean) / spread**2 - 1
    return rng.binomial(exposure, rng.beta(mean * size, (1 - mean) * size, 150)), exposure


def draw_events(
    rng: np.random.Generator, exposure: NDArray[np.int64], rate: Floats, day_form: float = 0.0
) -> NDArray[np.int64]:
    """Draw events of each hitter, game by game where swings of one game are correlated."""
    if not day_form:
        return rng.binomial(exposure, rate)
    who, events, _ = draw_games(rng, exposure, rate, day_form)
    return np.bincount(who, events, len(exposure)).astype(np.int64)


def draw_games(
    rng: np.random.Generator, exposure: NDArray[np.int64], rate: Floats, day_form: float
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Draw each hitter's games: his place, events and exposure of every game."""
    games = -(-exposure // SWINGS_A_GAME)
    first = np.cumsum(games) - games
    swings = np.full(games.sum(), SWINGS_A_GAME)
    swings[first + games - 1] = exposure - SWINGS_A_GAME * (games - 1)
    size, mean = 1 / day_form - 1, np.repeat(rate, games)
    events = rng.binomial(swings, rng.beta(mean * size, (1 - mean) * size))
    return np.repeat(np.arange(len(exposure)), games), events, swings


def default_fit(league: League) -> Posterior:
    """Fit as ``shrink`` does without options."""
    part = exposure_part(league.exposure, "auto")
    parts = [] if part is None else [part]
    return average(league.events, league.exposure, parts).posterior(league.events, league.exposure)


def without_exposure(league: League) -> Posterior:
    """Fit with one mean for all, the law integrated over."""
    return average(league.events, league.exposure, []).posterior(league.events, league.exposure)


def with_wider_league(league: League) -> Posterior:
    """Fit as the claims do that are told of the wider league (``prior=shrink(league).law``)."""
    if league.wider is None:
        return default_fit(league)
    tables = [
        pd.DataFrame({"hitter": np.arange(len(n)).astype(str), "hard": k, "swings": n})
        for k, n in (league.wider, (league.events, league.exposure))
    ]
    law = shrink(tables[0], "hard", "swings").law
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)  # one club in a thousand is a great surprise
        return shrink(tables[1], "hard", "swings", prior=law).posterior


def plugged_in(league: League) -> Posterior:
    """Fit one law by maximum likelihood and take it as known."""
    a, b = fit_beta_binomial(league.events, league.exposure)
    return Posterior(np.ones(1), (a + league.events)[None], (b + league.exposure - league.events)[None])


def oracle(league: League) -> Posterior:
    """Know the law that the truth was drawn from."""
    a, b = league.a + league.events, league.b + league.exposure - league.events
    return Posterior(np.ones(1), a[None], b[None])


METHODS: dict[str, Callable[[League], Posterior]] = {
    "default": default_fit,
    "without exposure": without_exposure,
    "plugged in": plugged_in,
    "wider league": with_wider_league,
    "oracle": oracle,
}

CLAIMS = (
    *("above", "ahead", "leads, named", "leads, likeliest", "leads, any"),
    *("top 5, named", "top 5, any"),
)


@dataclass(slots=True)
class Score:
    """What was stated of many leagues, and what was true."""

    stated: dict[str, list[float]] = field(default_factory=lambda: {name: [] for name in CLAIMS})
    came: dict[str, list[bool]] = field(default_factory=lambda: {name: [] for name in CLAIMS})
    covered: list[Floats] = field(default_factory=list)
    exposure: list[NDArray[np.int64]] = field(default_factory=list)
    leader_covered: list[bool] = field(default_factory=list)
    best_covered: list[bool] = field(default_factory=list)
    raw_excess: list[list[float]] = field(default_factory=list)
    corrected_excess: list[list[float]] = field(default_factory=list)

    def claim(self, name: str, stated: Floats, came: NDArray[np.bool_]) -> None:
        """Add chances of one kind of claim."""
        self.stated[name] += [float(x) for x in stated]
        self.came[name] += [bool(x) for x in came]

    def add(self, other: Score) -> None:
        """Add another score's leagues."""
        for name in CLAIMS:
            self.stated[name] += other.stated[name]
            self.came[name] += other.came[name]
        for name in (
            "covered",
            "exposure",
            "leader_covered",
            "best_covered",
            "raw_excess",
            "corrected_excess",
        ):
            getattr(self, name).extend(getattr(other, name))

    def error(self, name: str) -> float:
        """Return the expected calibration error of a kind of claim: ten bins of stated chance."""
        return calibration_error(np.array(self.stated[name]), np.array(self.came[name]))

    def bias(self, name: str) -> float:
        """Return how much larger than what came true the stated chances of a kind of claim are."""
        return float(np.mean(self.stated[name]) - np.mean(self.came[name]))

    def slope(self, name: str) -> float:
        """Return the calibration slope of a kind of claim."""
        return calibration_slope(np.array(self.stated[name]), np.array(self.came[name]))

    def coverage(self) -> float:
        """Return the share of all true rates inside their 90 % intervals."""
        return float(np.concatenate(self.covered).mean())

    def coverage_by_band(self) -> list[float]:
        """Return the same by band of exposure; missing where nobody is in it."""
        covered, exposure = np.concatenate(self.covered), np.concatenate(self.exposure)
        inside = [(exposure >= a) & (exposure < b) for a, b in pairwise(BANDS)]
        return [float(covered[one].mean()) if one.any() else float("nan") for one in inside]

    def excess(self) -> tuple[Floats, Floats, Floats]:
        """Return raw excess, what is left after correction, and the latter's standard error, by threshold."""
        raw, left = np.array(self.raw_excess), np.array(self.corrected_excess)
        there = ~np.isnan(raw).all(axis=0)  # thresholds that somebody reached
        error = np.nanstd(left[:, there], axis=0) / np.sqrt(len(left))
        return np.nanmean(raw[:, there], axis=0), np.nanmean(left[:, there], axis=0), error


def calibration_error(stated: Floats, came: NDArray[np.bool_], bins: int = 10) -> float:
    """Mean distance of stated and realised shares over bins of equal width, weighed by their numbers.

    Biased upward by luck: with ``m`` claims by about ``0.4 * sqrt(bins / m)``.
    """
    which = np.minimum((stated * bins).astype(int), bins - 1)
    parts = [(which == i) for i in range(bins)]
    return float(sum(abs(stated[p].mean() - came[p].mean()) * p.mean() for p in parts if p.any()))


def calibration_slope(stated: Floats, came: NDArray[np.bool_]) -> float:
    """Slope of the logistic regression of what came true on the log odds of the stated chance; 1 is right."""
    x = np.column_stack([np.ones(len(stated)), logit(np.clip(stated, 1e-6, 1 - 1e-6))])
    coefficient = np.array([0.0, 1.0])
    for _ in range(25):
        p = expit(x @ coefficient)
        step = np.linalg.lstsq((x.T * (p * (1 - p))) @ x, x.T @ (came - p))[0]
        coefficient = coefficient + step
        if np.abs(step).max() < 1e-10:
            break
    return float(coefficient[1])


def score_league(
    score: Score, league: League, posterior: Posterior, pairs: NDArray[np.int64], tops: bool
) -> None:
    """Add one league's claims to a score; ``pairs``, shape (pairs, 2), are compared."""
    truth, exposure = league.truth, league.exposure
    rate = league.events / exposure
    low, high = posterior.interval(0.90)
    covered = (low <= truth) & (truth <= high)
    score.covered.append(covered)
    score.exposure.append(exposure)
    score.claim("above", posterior.above(VALUE), truth > VALUE)
    ahead = np.array([chance_above(posterior, int(one), int(other)) for one, other in pairs])
    score.claim("ahead", ahead, truth[pairs[:, 0]] > truth[pairs[:, 1]])
    field_ = np.flatnonzero(exposure >= exposure.max() // 4)
    leader = field_[rate[field_].argmax()]
    score.leader_covered.append(bool(covered[leader]))
    score.best_covered.append(bool(covered[field_[truth[field_].argmax()]]))
    mean = posterior.mean()
    raw, left = [], []
    for least in THRESHOLDS:
        some = np.flatnonzero(exposure >= least)
        first = some[rate[some].argmax()] if len(some) else -1
        raw.append(float(rate[first] - truth[first]) if len(some) else np.nan)
        left.append(float(mean[first] - truth[first]) if len(some) else np.nan)
    score.raw_excess.append(raw)
    score.corrected_excess.append(left)
    if not tops:
        return
    order = np.argsort(-truth[field_])
    by_record = np.argsort(-rate[field_])
    for top, name in ((1, "leads"), (5, "top 5")):
        chance = chance_of_top(posterior.only(field_), top)
        among = np.zeros(len(field_), dtype=bool)
        among[order[:top]] = True
        named = by_record[:top]
        score.claim(f"{name}, named", chance[named], among[named])
        if top == 1:
            likeliest = [int(chance.argmax())]
            score.claim("leads, likeliest", chance[likeliest], among[likeliest])
        likely = chance >= 0.05
        score.claim(f"{name}, any", chance[likely], among[likely])


_PAIRS = 25  # disjoint pairs of a league that are compared, or as many as there are


def score_law(
    law: TrueLaw,
    leagues: int,
    seed: int,
    methods: tuple[str, ...] = tuple(METHODS),
    tops: bool = True,
    most_pairs: int = _PAIRS,
) -> dict[str, Score]:
    """Draw leagues and score every method on the same ones."""
    rng = np.random.default_rng(seed)
    scores = {name: Score() for name in methods}
    for _ in range(leagues):
        league = draw_league(law, rng)
        pairs = rng.permutation(law.hitters)[: 2 * min(most_pairs, law.hitters // 2)].reshape(-1, 2)
        for name in methods:
            if name == "oracle" and (law.shape != "beta" or law.day_form):
                continue
            score_league(scores[name], league, METHODS[name](league), pairs, tops)
    return {name: score for name, score in scores.items() if score.covered}


def score_in_parallel(
    law: TrueLaw, leagues: int, seed: int, methods: tuple[str, ...], tops: bool, processes: int
) -> dict[str, Score]:
    """As ``score_law``, in parts of 100 leagues with seeds of their own, whatever the number of processes."""
    parts = [min(100, leagues - first) for first in range(0, leagues, 100)]
    arguments = [(law, size, seed * 100_000 + i, methods, tops) for i, size in enumerate(parts)]
    if processes > 1:
        with ProcessPoolExecutor(processes) as pool:
            done = list(pool.map(score_law, *zip(*arguments, strict=True)))
    else:
        done = [score_law(*one) for one in arguments]
    total = done[0]
    for part in done[1:]:
        for name, score in total.items():
            score.add(part[name])
    return total


def report(law: TrueLaw, scores: dict[str, Score]) -> str:
    """Return the figures as text."""
    lines = [f"{law}"]
    for name, score in scores.items():
        raw, left, error = score.excess()
        lines.append(f"{name}: {len(score.covered)} leagues")
        lines.append(
            f"  90 % intervals cover {score.coverage():.4f}; by exposure {_list(score.coverage_by_band())}; "
            f"the leader {np.mean(score.leader_covered):.4f}, "
            f"the truly best {np.mean(score.best_covered):.4f}"
        )
        lines += [
            f"  {claim}: error {score.error(claim):.4f}, slope {score.slope(claim):.3f}, "
            f"stated less came true {score.bias(claim):.4f} ({len(score.stated[claim])} chances)"
            for claim in CLAIMS
            if score.stated[claim]
        ]
        lines.append(
            f"  leader's raw excess {_list(raw)}, left after correction {_list(left)}, s.e. {_list(error)}"
        )
    return "\n".join(lines)


def _list(values: list[float] | Floats) -> str:
    return " ".join(f"{value:.4f}" for value in values)


def main() -> None:
    """Score one law from the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--law", choices=list(LAWS), default="large")
    parser.add_argument("--hitters", type=int, help="of a league, in place of the law's own number")
    parser.add_argument("--leagues", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--methods", nargs="+", choices=list(METHODS), default=list(METHODS))
    parser.add_argument("--no-tops", action="store_true", help="leave the slow claims of rank out")
    options = parser.parse_args()
    start = time.perf_counter()
    law = LAWS[options.law]
    law = replace(law, hitters=options.hitters or law.hitters)
    scores = score_in_parallel(
        law, options.leagues, options.seed, tuple(options.methods), not options.no_tops, options.processes
    )
    print(report(law, scores))
    print(f"{time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
