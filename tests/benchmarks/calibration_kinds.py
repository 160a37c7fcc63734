"""What hitlab states of drawn leagues, kind of claim by kind of claim, and what was true.

A setting is a size and a law of the truth; it draws leagues and states the chances of one or more kinds of
claim by the functions that the claims use. ``SETTINGS`` holds all; ``tests/benchmarks/calibration_report.py``
runs them. The settings, sizes and bounds were written down before the first full run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import repeat
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from hitlab.league import Effects
from hitlab.over_time.form_law import fit_form
from hitlab.over_time.periods import FACTOR
from tests.benchmarks import bench_form
from tests.benchmarks.calibration_leagues import TrueLaw
from tests.benchmarks.calibration_rates import state_law, state_season
from tests.benchmarks.calibration_stated import Floats, Stated
from tests.benchmarks.calibration_two_parts import TwoPartLaw, state_changes, state_splits

KINDS = (
    *("above", "above, league", "near", "ahead", "leads", "leads, anybody", "leads, club", "leads, lowest"),
    *("top", "split", "split, usual", "more", "more, different", "hot", "steady"),
)
"""``leads``, ``top``: the hitters whom the record names, by the highest rates; ``leads, anybody``: all
chances of .05 or more; ``leads, club``: among a club's hitters; ``leads, lowest``: of the lowest rate;
``split, usual``: against what the situation does to everybody; ``more, different``: up or down by 1.25."""

PART = 10  # leagues that are drawn from one stream of random numbers


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
        drawn = self.state(rng, kinds & frozenset(self.kinds))
        return [next(drawn) for _ in range(leagues)]


Forms = Callable[[np.random.Generator, int, NDArray[np.int64]], Floats]

_FORMS: dict[str, Forms] = {
    "no form": lambda rng, hitters, n: np.zeros(n.shape),
    "drift": lambda rng, hitters, n: bench_form.drift(rng, hitters, rng.uniform(0, 0.4)),
    "stretches": lambda rng, hitters, n: bench_form.blocks(rng, hitters, rng.uniform(0, 0.3), n),
    "fading": lambda rng, hitters, n: bench_form.memory(rng, hitters, rng.uniform(0, 0.3)),
    "streaks": lambda rng, hitters, n: bench_form.switches(rng, hitters, np.log(1.6)),
}


def _form(
    hitters: int, law: str, day_form: float, rng: np.random.Generator, kinds: frozenset[str]
) -> Iterator[Stated]:
    """Seasons game by game; a stretch's true form is the mean over its swings, steady is as of the season."""
    factor, log_factor = FACTOR, np.log(FACTOR)
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
            away = moved - np.average(form[who][played], weights=weight)
            rows.append((
                fit.chance_above(int(place), factor), moved[-1] > log_factor,
                fit.chance_steady(int(place), factor), bool((np.abs(away) < log_factor).all()),
                bool(last["low"] <= rate <= last["high"]),
            ))  # fmt: skip
        hot, is_hot, steady, is_steady, inside = (np.array(column) for column in zip(*rows, strict=True))
        stated = Stated()
        stated.add("hot", hot, is_hot)
        stated.cover("hot", inside)
        stated.add("steady", steady, is_steady)
        yield stated


def _settings() -> Iterator[CalibrationSetting]:
    rates = (
        *("above", "above, league", "near", "ahead"),
        *("leads", "leads, anybody", "leads, club", "leads, lowest", "top"),
    )
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
                f"{size}, {name}", size, words + more, rates, weights[size], _bound(state_law, law)
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
            name, hitters, words, rates, weights[hitters], _bound(state_season, hitters, clubs, effects)
        )
    for size, options in ((15, {"swings": (100, 800), "drawn": True, "mean_drawn": 0.03}), (150, {})):
        law = TrueLaw("every other", size, **{"mean": 0.46, "spread": 0.05, "swings": (100, 2700), **options})
        more = "; mean and spread drawn for each league" if options else ""
        yield CalibrationSetting(
            f"{size}, every other", size, f"Beta law of mean .46, spread .05, as of swings a pitch{more}",
            tuple(kind for kind in rates if kind != "above"), weights[size], _bound(state_law, law),
        )  # fmt: skip
    for kinds, draw, mean in (
        (("split", "split, usual"), state_splits, -0.1),
        (("more", "more, different"), state_changes, 0.0),
    ):
        for size, name, words, options in (
            (15, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (40, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (150, "plain", "normal log odds ratios, mean and spread drawn", {}),
            (150, "rising", "normal log odds ratios; level rises with exposure", {"slope": 0.12}),
            (150, "skewed", "skewed log odds ratios", {"skewed": True}),
            (150, "long records", "normal log odds ratios; up to 3,000 swings", {"most": 3000}),
            (
                150,
                "day form",
                "normal log odds ratios; swings of one game correlated by .05",
                {"day_form": 0.05},
            ),
        ):
            law = TwoPartLaw(size, mean, **options)
            yield CalibrationSetting(
                f"{size}, {kinds[0]}, {name}", size, words, kinds, 2 * weights[size], _bound(draw, law)
            )
    for size, name, words, day_form, weight in (
        (15, "stretches", "form normal, anew each 12 games", 0.0, 1.0),
        (40, "stretches", "form normal, anew each 12 games", 0.0, 1.0),
        (150, "stretches", "form normal, anew each 12 games", 0.0, 1.0),
        (150, "fading", "form that fades over 15 games", 0.0, 1.0),
        (150, "streaks", "odds times or by 1.6 in one stretch of seven", 0.0, 1.0),
        (
            150,
            "stretches, day form",
            "form normal, anew each 12 games; swings of one game correlated by .05",
            0.05,
            1.0,
        ),
        (150, "no form", "nobody's form moves", 0.0, 0.5),
        (150, "no form, day form", "nobody's form moves; swings of one game correlated by .05", 0.05, 0.5),
        (150, "drift", "form that wanders, by up to .4 over the season", 0.0, 0.5),
    ):
        yield CalibrationSetting(
            f"{size}, {name}", size, words, ("hot", "steady"), weight,
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
