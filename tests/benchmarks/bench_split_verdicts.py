"""How often verdicts on splits are false, against the share stated, where the truth is known; what is found.

``python -m tests.benchmarks.bench_split_verdicts LEAGUES`` draws leagues of 60 and of 150 hitters. A
situation moves everybody by a shift of the log odds, and each hitter by a difference of his own beside that.
Printed is, for each shift and spread of the differences, and for each of the three comparisons: calls in a
thousand hitters at a chance of .90 either way, the stated and the true share of false ones with the standard
error of the difference (a league is the unit), and how many of those called rightly with the law known are
called rightly (``found``).

Options: ``--beside NUMBER`` situations that are fitted together, all with that shift and spread (1: from
counts alone); ``--others SPREAD`` another spread for all but the asked one; ``--swings`` situations that
share swings, as in a pitch table (six factors, 14 situations); ``--shape NAME`` of the differences, a key
of ``SHAPES``; ``--hitters NUMBER``; ``--rate`` of the event.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

import numpy as np
from scipy.special import expit, logit

from hitlab.splits.split_law import Common, FourCounts, fit_laws
from tests.benchmarks.bench_splits import OF_LEVELS, calls

SHIFTS, SPREADS = (0.0, 0.25), (0.0, 0.06, 0.12, 0.25)
COMPARISONS = ("rest", "usual", "league")

Draw = Callable[[np.random.Generator, tuple[int, ...]], np.ndarray]


def _few(rng: np.random.Generator, size: tuple[int, ...]) -> np.ndarray:
    """One hitter in eight differs, the others almost not at all."""
    scale = np.where(rng.random(size) < 0.125, np.sqrt(8 * 0.96), np.sqrt(0.04 / 0.875))
    return np.asarray(scale * rng.standard_normal(size))


SHAPES: dict[str, Draw] = {
    "normal": lambda rng, size: rng.standard_normal(size),
    "skewed": lambda rng, size: (rng.gamma(2.0, 1.0, size) - 2) / np.sqrt(2),
    "few": _few,
    "two humps": lambda rng, size: (
        np.where(rng.random(size) < 0.5, 0.9, -0.9) + np.sqrt(1 - 0.81) * rng.standard_normal(size)
    ),
    # Looked at once, when everything else was done.
    "long tails": lambda rng, size: rng.standard_t(3, size) / np.sqrt(3),
}
"""Laws of the differences, each of mean 0 and standard deviation 1."""


def apart(
    rng: np.random.Generator, hitters: int, shift: float, spreads: np.ndarray, shape: str, rate: float = 0.14
) -> tuple[list[FourCounts], np.ndarray, np.ndarray, np.ndarray]:
    """Draw situations that share no swings, the first the asked one.

    Returns the counts, and of the asked situation each hitter's true difference, what the situation does to
    everybody (the mean), and each hitter's level inside beyond the average hitter's.
    """
    swings = np.exp(rng.uniform(np.log(100), np.log(1200), hitters)).astype(np.int64)
    level = rng.normal(logit(rate), OF_LEVELS, hitters)
    own = shift + spreads[:, np.newaxis] * SHAPES[shape](rng, (len(spreads), hitters))
    drawn = []
    for difference in own:
        inside = np.clip(rng.binomial(swings, rng.uniform(0.1, 0.5)), 1, swings - 1)
        k = rng.binomial(inside, expit(level + difference))
        rest = rng.binomial(swings - inside, expit(level))
        drawn.append(FourCounts(k, inside, rest, swings - inside))
    return drawn, own[0], own[0] - shift, level + own[0] - logit(rate) - shift


# Shares of what a pitch may be, by factor: kind, place, side, count, bases, speed.
_FACTORS = (
    (0.35, 0.16, 0.08, 0.22, 0.09, 0.10),
    (0.12, 0.13, 0.14, 0.15, 0.46),
    (0.58, 0.42),
    (0.25, 0.20, 0.10, 0.25, 0.20),
    (0.55, 0.45),
    (0.80, 0.20),
)
# Situations by factor and the values inside; the first is asked.
_SITUATIONS = (
    (0, (3, 4)), (0, (0, 1)), (0, (5,)), (1, (0, 1)), (1, (2, 3)), (1, (0, 2)), (1, (1, 3)), (1, (4,)),
    (2, (0,)), (3, (0,)), (3, (1,)), (3, (2, 3)), (4, (0,)), (5, (1,)),
)  # fmt: skip


def sharing(
    rng: np.random.Generator, hitters: int, shift: float, spreads: np.ndarray, shape: str, rate: float = 0.14
) -> tuple[list[FourCounts], np.ndarray, np.ndarray, np.ndarray]:
    """Draw a season swing by swing: every situation parts the same swings.

    The asked situation is breaking balls: these have the shift and the first spread, against all else; the
    values of the other factors differ by the second spread. What comes back is as of ``apart``.
    """
    swings = np.exp(rng.uniform(np.log(100), np.log(1200), hitters)).astype(np.int64)
    level = rng.normal(logit(rate), OF_LEVELS, hitters)
    who = np.repeat(np.arange(hitters), swings)
    own = shift + spreads[0] * SHAPES[shape](rng, (hitters,))
    what = [rng.choice(len(shares), len(who), p=shares) for shares in _FACTORS]
    breaking: np.ndarray = np.isin(what[0], _SITUATIONS[0][1])
    odds = level[who] + np.where(breaking, own[who], 0.0)
    for values, shares in list(zip(what, _FACTORS, strict=True))[1:]:
        odds += (spreads[-1] * SHAPES[shape](rng, (hitters, len(shares))))[who, values]
    chance = expit(odds)
    hit = rng.random(len(who)) < chance
    drawn = []
    for factor, inside in _SITUATIONS:
        there = np.isin(what[factor], inside)
        sides = [
            np.bincount(who[mask], minlength=hitters) for mask in (hit & there, there, hit & ~there, ~there)
        ]
        some = (sides[1] > 0) & (sides[3] > 0)
        drawn.append(FourCounts(*(side[some] for side in sides)))
    n = np.bincount(who[breaking], minlength=hitters)
    kept = (n > 0) & (n < swings)
    # The other factors move his level as well.
    level = logit(np.bincount(who[breaking], chance[breaking], minlength=hitters)[kept] / n[kept])
    return drawn, own[kept], own[kept] - shift, level - logit(rate) - shift


def verdicts(
    leagues: int, hitters: int, shift: float, spread: float, asked: argparse.Namespace, seed: int = 2_032
) -> dict[str, tuple[list[tuple[int, float, int]], list[int]]]:
    """State leagues: for each comparison the calls of every league, and right calls with the law known."""
    rng = np.random.default_rng([seed, hitters, round(100 * shift), round(100 * spread)])
    spreads = np.full(asked.beside, spread if asked.others is None else asked.others)
    spreads[0] = spread
    found: dict[str, tuple[list[tuple[int, float, int]], list[int]]] = {c: ([], []) for c in COMPARISONS}
    for _ in range(leagues):
        draw = sharing if asked.swings else apart
        drawn, rest, usual, league = draw(rng, hitters, shift, spreads, asked.shape, asked.rate)
        [law] = fit_laws(drawn[:1], beside=drawn)
        [known] = fit_laws(drawn[:1], common=Common(max(abs(shift), 0.02), spread))
        for comparison, truth in zip(COMPARISONS, (rest, usual, league), strict=True):
            chance, best = (getattr(one, f"above_{comparison}") for one in (law, known))
            called = calls(chance, truth > 0)
            if not truth.any():  # nothing is true: every call is false
                called = (called[0], called[1], called[0])
            found[comparison][0].append(called)
            found[comparison][1].append(calls(best, truth > 0)[0] - calls(best, truth > 0)[2])
    return found


def line(rows: list[tuple[int, float, int]], known: list[int], hitters: int) -> str:
    """Calls in a thousand, stated and false shares, standard error of the difference, and what is found."""
    called, stated, false = np.array(rows, dtype=float).T
    n, right = called.sum(), called.sum() - false.sum()
    per_thousand = 1000 * n / hitters / len(rows)
    if not n:
        return f"{0:5.1f}                        "
    off = false - stated
    error = np.sqrt(((off - off.sum() / n * called) ** 2).sum()) / n
    told = f"{per_thousand:5.1f} {stated.sum() / n:.3f} {false.sum() / n:.3f} ({error:.3f})"
    return f"{told} {right / sum(known):5.2f}" if sum(known) else f"{told}     -"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("leagues", type=int)
    parser.add_argument("--beside", type=int, default=1)
    parser.add_argument("--others", type=float)
    parser.add_argument("--swings", action="store_true")
    parser.add_argument("--shape", choices=SHAPES, default="normal")
    parser.add_argument("--hitters", type=int, nargs="+", default=[60, 150])
    parser.add_argument("--rate", type=float, default=0.14)
    parser.add_argument("--shifts", type=float, nargs="+", default=SHIFTS)
    parser.add_argument("--spreads", type=float, nargs="+", default=SPREADS)
    asked = parser.parse_args()
    if asked.swings:
        asked.beside = 2
    print(
        "hitters shift spread | " + " | ".join(f"{c:8s} called stated false (se) found" for c in COMPARISONS)
    )
    for hitters in asked.hitters:
        for shift in asked.shifts:
            for spread in asked.spreads:
                found = verdicts(asked.leagues, hitters, shift, spread, asked)
                parts = [line(*found[comparison], hitters) for comparison in COMPARISONS]
                print(f"{hitters:7d} {shift:5.2f} {spread:6.2f} | " + " | ".join(parts), flush=True)


if __name__ == "__main__":
    main()
