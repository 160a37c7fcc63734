"""Claims about two parts of a record, a situation and the rest or two periods; with what was true."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import repeat

import numpy as np
from numpy.typing import NDArray

from hitlab.over_time.periods import FACTOR, compare_periods
from hitlab.splits.one_split import split_rates
from tests.benchmarks.calibration_leagues import draw_events
from tests.benchmarks.calibration_stated import Floats, Stated, counts_of


@dataclass(frozen=True, slots=True)
class TwoPartLaw:
    """Counts of two parts of a record, by hitters' log odds in one and log odds ratios of the other.

    The ratios' mean is normal around ``mean`` with standard deviation .1 and their spread uniform from 0
    to .4, anew for each league. ``slope``: change of the level with one unit of log swings. ``skewed``:
    ratios by a shifted Gamma law of shape 2. ``day_form``: as in ``TrueLaw``.
    """

    hitters: int
    mean: float = 0.0
    slope: float = 0.0
    skewed: bool = False
    day_form: float = 0.0

    def draw(
        self, rng: np.random.Generator, first: NDArray[np.int64], second: NDArray[np.int64]
    ) -> tuple[NDArray[np.int64], NDArray[np.int64], Floats, float]:
        """Draw events of the first and the second part, the log odds ratios, and the mean of their law."""
        swings = np.log(first + second)
        level = rng.normal(-1.8, 0.2, self.hitters) + self.slope * (swings - swings.mean())
        mean, spread = rng.normal(self.mean, 0.1), rng.uniform(0, 0.4)
        away = rng.standard_normal(self.hitters)
        if self.skewed:
            away = (rng.gamma(2.0, 1.0, self.hitters) - 2) / np.sqrt(2)
        ratio = mean + spread * away
        rates = 1 / (1 + np.exp(-level)), 1 / (1 + np.exp(-level - ratio))
        one, two = (
            draw_events(rng, n, p, self.day_form) for n, p in zip((first, second), rates, strict=True)
        )
        return one, two, ratio, mean


def _swings(rng: np.random.Generator, hitters: int, least: int) -> NDArray[np.int64]:
    return np.rint(np.exp(rng.uniform(np.log(least), np.log(600), hitters))).astype(np.int64)


def state_splits(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """Three swings in ten are inside the situation."""
    for _ in repeat(None):
        swings = _swings(rng, law.hitters, 60)
        inside = np.clip(rng.binomial(swings, 0.3), 1, swings - 1)
        rest_hard, inside_hard, ratio, usual = law.draw(rng, swings - inside, inside)
        data = split_rates(
            counts_of(hard=rest_hard + inside_hard, swings=swings),
            counts_of(hard=inside_hard, swings=inside),
            "hard",
            "swings",
        ).data
        stated = Stated()
        stated.add("split", data["chance_above_rest"].to_numpy(), ratio > 0)
        stated.add("split, usual", data["chance_above_usual"].to_numpy(), ratio > usual)
        stated.cover("split", ((data["low"] <= ratio) & (ratio <= data["high"])).to_numpy())
        yield stated


def state_changes(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """Both periods have swings of their own, from 30 up."""
    for _ in repeat(None):
        before, now = _swings(rng, law.hitters, 30), _swings(rng, law.hitters, 30)
        hard, hard_now, change, _ = law.draw(rng, before, now)
        data = compare_periods(
            counts_of(hard=hard, swings=before), counts_of(hard=hard_now, swings=now), "hard", "swings"
        ).data
        stated = Stated()
        stated.add("more", data["chance_higher"].to_numpy(), change > 0)
        another = (data["chance_raised"] + data["chance_lowered"]).to_numpy()
        stated.add("more, different", another, np.abs(change) >= np.log(FACTOR))
        stated.cover("more", ((data["ratio_low"] <= change) & (change <= data["ratio_high"])).to_numpy())
        yield stated
