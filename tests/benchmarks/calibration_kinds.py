"""What hitlab states of drawn leagues, kind of claim by kind of claim, and what was true.

A setting is a size and a law of the truth; it draws leagues and states the chances of one or more kinds of
claim by the functions that the claims use. ``SETTINGS`` holds all; ``tests/benchmarks/calibration_report.py``
runs them. The settings, sizes and bounds were written down before the first full run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import repeat
from zlib import crc32

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.claims import form_claims
from hitlab.claims.setting import Setting as ClaimSetting
from hitlab.counting.counts import Counts
from hitlab.estimates.ranking import chance_above, chance_of_top
from hitlab.league import Effects, draw_counts
from hitlab.over_time.form_law import fit_form
from hitlab.over_time.periods import compare_periods
from hitlab.splits.one_split import split_rates
from tests.benchmarks import bench_form
from tests.benchmarks.calibration_leagues import VALUE, League, TrueLaw, draw_events, draw_league, oracle

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]

KINDS = ("above", "ahead", "leads", "leads, anybody", "top", "split", "more", "hot", "steady")
"""``leads``, ``top``: the hitters whom the record names; ``leads, anybody``: all chances of .05 or more."""

PART = 10  # leagues that are drawn from one stream of random numbers
_ABOVE_A_LEAGUE, _TOP_EVERY = 50, 3  # hitters whose "above" is stated; every third league states "top"
_LIKELY = 0.05


@dataclass(slots=True)
class Stated:
    """What was stated of one league: chances and what was true; with the true prior; intervals that held."""

    chance: dict[str, Floats] = field(default_factory=dict)
    came: dict[str, Truths] = field(default_factory=dict)
    oracle: dict[str, Floats] = field(default_factory=dict)
    covered: dict[str, tuple[int, int]] = field(default_factory=dict)  # how many of how many

    def add(self, kind: str, chance: Floats, came: Truths, oracle: Floats | None = None) -> None:
        """Keep a kind's chances."""
        self.chance[kind] = np.asarray(chance, dtype=np.float64)
        self.came[kind] = np.asarray(came, dtype=np.bool_)
        if oracle is not None:
            self.oracle[kind] = np.asarray(oracle, dtype=np.float64)

    def cover(self, kind: str, inside: Truths) -> None:
        """Keep how many intervals held the truth."""
        self.covered[kind] = (int(np.sum(inside)), int(np.size(inside)))


@dataclass(frozen=True, slots=True)
class CalibrationSetting:
    """A size and a law of the truth.

    Attributes
    ----------
    name, hitters, truth
        Its name in the report; how many hitters; the law in words.
    kinds
        The kinds of claim that it can state.
    weight
        Leagues drawn for each one that the command asks for.
    state
        From random numbers and the kinds that are asked for to what is stated, league by league, without end.
        What is drawn does not depend on the kinds.
    """

    name: str
    hitters: int
    truth: str
    kinds: tuple[str, ...]
    weight: float
    state: Callable[[np.random.Generator, frozenset[str]], Iterator[Stated]]

    def part(self, number: int, leagues: int, seed: int, kinds: frozenset[str]) -> list[Stated]:
        """State the claims of one part; its random numbers depend on name, number and seed alone."""
        rng = np.random.default_rng([seed, crc32(self.name.encode()), number])
        drawn = self.state(rng, kinds)
        return [next(drawn) for _ in range(leagues)]


def counts_of(**columns: NDArray[np.int64]) -> Counts:
    """Make counts of hitters h000, h001, ..."""
    names = [f"h{i:03d}" for i in range(len(next(iter(columns.values()))))]
    return Counts.from_table(pd.DataFrame({"hitter": names, **columns}))


def _claimed(league: League) -> Counts:
    """Return the counts that a claim is checked on: by game, where the league has them."""
    if league.games is None:
        return counts_of(hard=league.events, swings=league.exposure)
    who, events, swings = league.games
    table = pd.DataFrame({"hitter": who, "game": np.arange(len(who)), "hard": events, "swings": swings})
    names = table.astype({"game": str}).assign(hitter=[f"h{i:03d}" for i in who])
    return Counts.from_table(names, by=["hitter", "game"])


def state_rates(league: League, number: int, rng: np.random.Generator, kinds: frozenset[str]) -> Stated:
    """State "above", "ahead", "leads" and "top" as the claims do, for hitters and pairs drawn beforehand."""
    stated, truth = Stated(), league.truth
    hitters = rng.permutation(len(truth))
    pairs = hitters[: len(truth) // 2 * 2].reshape(-1, 2)
    claim = ClaimSetting.of(_claimed(league), "hard", "swings")
    posterior, qualified = claim.fit.posterior, claim.qualified
    known = None if np.isnan(league.a).any() else oracle(league)
    low, high = (claim.fit.data[end].to_numpy(float) for end in ("low", "high"))
    inside = (low <= truth) & (truth <= high)
    if "above" in kinds:
        some = np.sort(hitters[:_ABOVE_A_LEAGUE])
        by_law = known.only(some).above(VALUE) if known else None
        stated.add("above", posterior.only(some).above(VALUE), truth[some] > VALUE, by_law)
        stated.cover("above", inside)
    if "ahead" in kinds:
        chance, by_law = (
            np.array([chance_above(one, int(i), int(j)) for i, j in pairs]) if one else None
            for one in (posterior, known)
        )
        stated.add("ahead", chance, truth[pairs[:, 0]] > truth[pairs[:, 1]], by_law)
    rate = league.events[qualified] / league.exposure[qualified]
    by_record, by_truth = np.argsort(-rate, kind="stable"), np.argsort(-truth[qualified])
    if kinds & {"leads", "leads, anybody"}:
        chance = chance_of_top(posterior.only(qualified), 1)
        by_law = chance_of_top(known.only(qualified), 1) if known else None
        best = np.arange(len(qualified)) == by_truth[0]
        first, likely = by_record[:1], chance >= _LIKELY
        stated.add("leads", chance[first], best[first], by_law[first] if known else None)
        stated.cover("leads", inside[qualified[first]])
        stated.add("leads, anybody", chance[likely], best[likely], by_law[likely] if known else None)
    top = min(5, len(qualified) // 3)
    if "top" in kinds and number % _TOP_EVERY == 0 and top > 1:
        chance = chance_of_top(posterior.only(qualified), top)
        by_law = chance_of_top(known.only(qualified), top) if known else None
        among = np.isin(np.arange(len(qualified)), by_truth[:top])
        named = by_record[:top]
        stated.add("top", chance[named], among[named], by_law[named] if known else None)
    return stated


def _from_law(law: TrueLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    for number, _ in enumerate(repeat(None)):
        yield state_rates(draw_league(law, rng), number, rng, kinds)


def _from_season(
    hitters: int, clubs: int, effects: Effects, rng: np.random.Generator, kinds: frozenset[str]
) -> Iterator[Stated]:
    """Leagues of the season generator; who never swung is left out."""
    for number, _ in enumerate(repeat(None)):
        table = draw_counts(hitters, clubs, seed=int(rng.integers(1 << 31)), effects=effects)
        table = table[table["swings"] > 0]
        hard, swings, truth = (table[name].to_numpy() for name in ("hard", "swings", "hard_per_swing"))
        unknown = np.full(len(table), np.nan)
        league = League(hard, swings, truth, unknown, unknown)
        yield state_rates(league, number, rng, kinds)


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
    ) -> tuple[NDArray[np.int64], NDArray[np.int64], Floats]:
        """Draw events of the first and the second part, and the log odds ratios."""
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
        return one, two, ratio


def _swings(rng: np.random.Generator, hitters: int, least: int) -> NDArray[np.int64]:
    return np.rint(np.exp(rng.uniform(np.log(least), np.log(600), hitters))).astype(np.int64)


def _splits(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """Three swings in ten are inside the situation."""
    for _ in repeat(None):
        swings = _swings(rng, law.hitters, 60)
        inside = np.clip(rng.binomial(swings, 0.3), 1, swings - 1)
        rest_hard, inside_hard, ratio = law.draw(rng, swings - inside, inside)
        data = split_rates(
            counts_of(hard=rest_hard + inside_hard, swings=swings),
            counts_of(hard=inside_hard, swings=inside),
            "hard",
            "swings",
        ).data
        stated = Stated()
        stated.add("split", data["chance_above_rest"].to_numpy(), ratio > 0)
        stated.cover("split", ((data["low"] <= ratio) & (ratio <= data["high"])).to_numpy())
        yield stated


def _changes(law: TwoPartLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    for _ in repeat(None):
        before, now = _swings(rng, law.hitters, 30), _swings(rng, law.hitters, 30)
        hard, hard_now, change = law.draw(rng, before, now)
        data = compare_periods(
            counts_of(hard=hard, swings=before), counts_of(hard=hard_now, swings=now), "hard", "swings"
        ).data
        stated = Stated()
        stated.add("more", data["chance_higher"].to_numpy(), change > 0)
        stated.cover("more", ((data["ratio_low"] <= change) & (change <= data["ratio_high"])).to_numpy())
        yield stated


Forms = Callable[[np.random.Generator, int, NDArray[np.int64]], Floats]

_FORMS: dict[str, Forms] = {
    "stretches": lambda rng, hitters, n: bench_form.blocks(rng, hitters, rng.uniform(0, 0.3), n),
    "fading": lambda rng, hitters, n: bench_form.memory(rng, hitters, rng.uniform(0, 0.3)),
    "streaks": lambda rng, hitters, n: bench_form.switches(rng, hitters, np.log(1.6)),
}


def _form(
    hitters: int, law: str, day_form: float, rng: np.random.Generator, kinds: frozenset[str]
) -> Iterator[Stated]:
    """Seasons game by game; a stretch's true form is the mean over its swings."""
    factor, log_factor = form_claims.FACTOR, np.log(form_claims.FACTOR)
    for _ in repeat(None):
        seed = rng.integers(1 << 31)
        # Who plays when is drawn first, since form in stretches is counted in games played.
        _, _, n = bench_form.season(
            np.random.default_rng(seed), hitters, np.zeros((hitters, bench_form.GAMES))
        )
        form = _FORMS[law](rng, hitters, n)
        counts, level, n = bench_form.season(np.random.default_rng(seed), hitters, form, correlation=day_form)
        fit = fit_form(counts, "hard", "swings")
        rows: list[tuple[float, bool, float, bool, bool]] = []
        for place in rng.permutation(len(fit.games.totals.labels))[: min(hitters, 30)]:
            mine, who = fit.of(int(place)), int(fit.games.totals.labels[place][1:])
            if mine.stop - mine.start < 2:
                continue
            played = np.flatnonzero(n[who])
            first, weight = fit.first[mine] - fit.first[mine.start], n[who][played].astype(float)
            moved = np.add.reduceat(form[who][played] * weight, first) / np.add.reduceat(weight, first)
            last = fit.stretches(int(place)).iloc[-1]
            rate = 1 / (1 + np.exp(-(level[who] + moved[-1])))
            rows.append((
                fit.chance_above(int(place), factor), moved[-1] > log_factor,
                fit.chance_steady(int(place), factor), bool((np.abs(moved) < log_factor).all()),
                bool(last["low"] <= rate <= last["high"]),
            ))  # fmt: skip
        hot, is_hot, steady, is_steady, inside = (np.array(column) for column in zip(*rows, strict=True))
        stated = Stated()
        stated.add("hot", hot, is_hot)
        stated.cover("hot", inside)
        stated.add("steady", steady, is_steady)
        yield stated


def _settings() -> Iterator[CalibrationSetting]:
    rates = ("above", "ahead", "leads", "leads, anybody", "top")
    sizes = {15: ((20, 200), True), 40: ((20, 600), False), 150: ((20, 1300), False)}
    weights = {15: 3.0, 40: 1.2, 150: 1.0}
    truths: dict[str, tuple[str, dict[str, object], tuple[int, ...]]] = {
        "plain": ("Beta law", {}, (15, 40, 150)),
        "rising": ("Beta law whose mean rises with exposure", {"slope": 0.12}, (15, 40, 150)),
        "skewed": ("skewed (shifted Gamma law)", {"shape": "skewed"}, (15, 40, 150)),
        "two groups": ("a third lower by 2.5 standard deviations", {"shape": "two groups"}, (15, 150)),
        "day form": ("Beta law; swings of one game correlated by .05", {"day_form": 0.05}, (15, 150)),
        "day form, by game": (
            "Beta law; swings of one game correlated by .05, counted by game",
            {"day_form": 0.05, "by_game": True},
            (15, 150),
        ),
    }
    for name, (words, options, hitters) in truths.items():
        for size in hitters:
            swings, drawn = sizes[size]
            law = TrueLaw(name, size, swings, drawn=drawn, **options)
            more = "; mean and spread drawn for each league" if drawn else ""
            yield CalibrationSetting(
                f"{size}, {name}", size, words + more, rates, weights[size], _bound(_from_law, law)
            )
    for name, hitters, clubs, effects in (
        ("150, season", 150, 10, Effects(unmeasured=0.0)),
        ("150, season, play not by worth", 150, 10, Effects(unmeasured=0.0, better_play_more=0.0)),
        ("40, season", 40, 3, Effects(unmeasured=0.0)),
    ):
        words = "the season generator's, " + (
            "better hitters play more" if effects.better_play_more else "worth does not decide who plays"
        )
        yield CalibrationSetting(
            name, hitters, words, rates, weights[hitters], _bound(_from_season, hitters, clubs, effects)
        )
    for kind, draw, mean in (("split", _splits, -0.1), ("more", _changes, 0.0)):
        for size, name, words, options in (
            (15, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (40, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (150, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (150, "rising", "normal log odds ratios; level rises with exposure", {"slope": 0.12}),
            (150, "skewed", "skewed log odds ratios", {"skewed": True}),
            (
                150,
                "day form",
                "normal log odds ratios; swings of one game correlated by .05",
                {"day_form": 0.05},
            ),
        ):
            law = TwoPartLaw(size, mean, **options)
            yield CalibrationSetting(
                f"{size}, {kind}, {name}", size, words, (kind,), 2 * weights[size], _bound(draw, law)
            )
    for size, name, words, day_form in (
        (15, "stretches", "form normal, anew each 12 games", 0.0),
        (40, "stretches", "form normal, anew each 12 games", 0.0),
        (150, "stretches", "form normal, anew each 12 games", 0.0),
        (150, "fading", "form that fades over 15 games", 0.0),
        (150, "streaks", "odds times or by 1.6 in one stretch of seven", 0.0),
        (
            150,
            "stretches, day form",
            "form normal, anew each 12 games; swings of one game correlated by .05",
            0.05,
        ),
    ):
        yield CalibrationSetting(
            f"{size}, {name}", size, words, ("hot", "steady"), 1.0,
            _bound(_form, size, name.partition(",")[0], day_form),
        )  # fmt: skip


def _bound(
    draw: Callable[..., Iterator[Stated]], *arguments: object
) -> Callable[[np.random.Generator, frozenset[str]], Iterator[Stated]]:
    def state(rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
        return draw(*arguments, rng, kinds)

    return state


SETTINGS: dict[str, CalibrationSetting] = {setting.name: setting for setting in _settings()}
"""Every setting by name, in the order of the report."""
