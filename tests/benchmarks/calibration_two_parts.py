"""Claims about two parts of a record, a situation and the rest or two periods; with what was true."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import repeat

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_expit, ndtri

from hitlab.over_time.periods import FACTOR, compare_periods
from hitlab.splits.one_split import split_rates
from tests.benchmarks.calibration_leagues import draw_events
from tests.benchmarks.calibration_stated import Floats, Stated, Truths, counts_of

Wholes = NDArray[np.int64]

_LEVEL, _LEVEL_SPREAD = -1.8, 0.2
_LEVELS = np.linspace(-3, 3, 31)  # of an oracle, in standard deviations of the levels' law
_RATIOS = ndtri((np.arange(200) + 0.5) / 200)  # equally likely, in standard deviations of the ratios' law


@dataclass(frozen=True, slots=True)
class TwoParts:
    """Drawn records of two parts, the true log odds ratios, and the law that these were drawn from.

    ``level``: mean of each hitter's log odds in the first part. ``normal``: whether the oracle knows the law.
    """

    exposure: tuple[Wholes, Wholes]
    events: tuple[Wholes, Wholes]
    ratio: Floats
    mean: float
    spread: float
    level: Floats
    normal: bool

    def oracle(self) -> Oracle | None:
        """Know the normal laws that levels and ratios were drawn from; nothing where they are others."""
        if not self.normal:
            return None
        level = self.level[:, np.newaxis] + _LEVEL_SPREAD * _LEVELS
        ratio = self.mean + self.spread * _RATIOS
        own = _log_likelihood(self.events[0], self.exposure[0], level) - _LEVELS**2 / 2
        both = own[:, :, np.newaxis] + _log_likelihood(
            self.events[1], self.exposure[1], level[:, :, np.newaxis] + ratio
        )
        weight = np.exp(both - both.max(axis=(1, 2), keepdims=True)).sum(axis=1)
        return Oracle(ratio, weight / weight.sum(axis=1, keepdims=True))


@dataclass(frozen=True, slots=True)
class Oracle:
    """What is known of each hitter's log odds ratio: points, and weights of shape (hitters, points)."""

    ratio: Floats
    weight: Floats

    def chance(self, among: Truths) -> Floats:
        """Return each hitter's chance of a ratio among some of the points."""
        return np.asarray(self.weight @ among.astype(float))


def _log_likelihood(events: Wholes, exposure: Wholes, log_odds: Floats) -> Floats:
    """Binomial log likelihoods; the first axis of the log odds is hitters."""
    wide = (slice(None), *(np.newaxis,) * (log_odds.ndim - 1))
    return np.asarray(events[wide] * log_odds + exposure[wide] * log_expit(-log_odds))


@dataclass(frozen=True, slots=True)
class TwoPartLaw:
    """Counts of two parts of a record, by hitters' log odds in one and log odds ratios of the other.

    The ratios' mean is normal around ``mean`` with standard deviation .1 and their spread uniform from 0
    to .4, anew for each league. ``slope``: change of the level with one unit of log swings. ``skewed``:
    ratios by a shifted Gamma law of shape 2. ``day_form``: as in ``TrueLaw``. ``most``: swings, of the record
    that is split or of one period.
    """

    hitters: int
    mean: float = 0.0
    slope: float = 0.0
    skewed: bool = False
    day_form: float = 0.0
    most: int = 600

    def draw(self, rng: np.random.Generator, first: Wholes, second: Wholes) -> TwoParts:
        """Draw ratios, and events of the first and the second part."""
        swings = np.log(first + second)
        rise = self.slope * (swings - swings.mean())
        level = rng.normal(_LEVEL, _LEVEL_SPREAD, self.hitters) + rise
        mean, spread = rng.normal(self.mean, 0.1), rng.uniform(0, 0.4)
        away = rng.standard_normal(self.hitters)
        if self.skewed:
            away = (rng.gamma(2.0, 1.0, self.hitters) - 2) / np.sqrt(2)
        ratio = mean + spread * away
        rates = 1 / (1 + np.exp(-level)), 1 / (1 + np.exp(-level - ratio))
        one, two = (
            draw_events(rng, n, p, self.day_form) for n, p in zip((first, second), rates, strict=True)
        )
        normal = not self.skewed and not self.day_form
        return TwoParts((first, second), (one, two), ratio, mean, spread, _LEVEL + rise, normal)


def _swings(rng: np.random.Generator, law: TwoPartLaw, least: int) -> Wholes:
    return np.rint(np.exp(rng.uniform(np.log(least), np.log(law.most), law.hitters))).astype(np.int64)


def state_splits(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """Three swings in ten are inside the situation."""
    for _ in repeat(None):
        swings = _swings(rng, law, 60)
        inside = np.clip(rng.binomial(swings, 0.3), 1, swings - 1)
        yield state_split(law.draw(rng, swings - inside, inside))


def state_split(parts: TwoParts) -> Stated:
    """State splits of everybody: the first part is the rest, the second the situation."""
    (rest_hard, hard), (rest, swings), ratio = parts.events, parts.exposure, parts.ratio
    data = split_rates(
        counts_of(hard=rest_hard + hard, swings=rest + swings),
        counts_of(hard=hard, swings=swings),
        "hard",
        "swings",
    ).data
    stated, known = Stated(), parts.oracle()
    for kind, column, bound in (
        ("split", "chance_above_rest", 0.0),
        ("split, usual", "chance_above_usual", parts.mean),
    ):
        by_law = None if known is None else known.chance(known.ratio > bound)
        stated.add(kind, data[column].to_numpy(), ratio > bound, by_law)
    stated.cover("split", ((data["low"] <= ratio) & (ratio <= data["high"])).to_numpy())
    return stated


def state_changes(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """Both periods have swings of their own, from 30 up."""
    for _ in repeat(None):
        before, now = _swings(rng, law, 30), _swings(rng, law, 30)
        yield state_change(law.draw(rng, before, now))


def state_change(parts: TwoParts) -> Stated:
    """State everybody's change from the first part, the period before, to the second."""
    before, now = (
        counts_of(hard=hard, swings=swings) for hard, swings in zip(parts.events, parts.exposure, strict=True)
    )
    data = compare_periods(before, now, "hard", "swings").data
    stated, known, change = Stated(), parts.oracle(), parts.ratio
    by_law = None if known is None else known.chance(known.ratio > 0)
    stated.add("more", data["chance_higher"].to_numpy(), change > 0, by_law)
    by_law = None if known is None else known.chance(np.abs(known.ratio) >= np.log(FACTOR))
    another = (data["chance_raised"] + data["chance_lowered"]).to_numpy()
    stated.add("more, different", another, np.abs(change) >= np.log(FACTOR), by_law)
    stated.cover("more", ((data["ratio_low"] <= change) & (change <= data["ratio_high"])).to_numpy())
    return stated
