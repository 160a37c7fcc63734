"""Coverage of intervals for rates told by eye: ``python -m tests.benchmarks.bench_eye``.

Decided before the run: of the two intervals of ``corrected_interval`` that one is the default whose coverage
is nearest to 90 % on average over the table. 2,000 leagues a row.
"""

from __future__ import annotations

import sys

import numpy as np
import pandas as pd

import hitlab
from hitlab.charting import corrected_interval
from hitlab.charting.corrected import Method

LEAGUES = 2_000
ROWS = tuple(
    (rate, judged, hard, sensitivity, specificity)
    for rate in (0.1, 0.37)
    for judged in (300, 3_000)
    for hard, sensitivity, specificity in ((40, 0.85, 0.90), (150, 0.85, 0.90), (40, 0.70, 0.97))
)


MIXED = tuple(
    (rate, judged, share, 40, 0.85, 0.90)
    for rate in (0.1, 0.37)
    for judged, share in ((300, 0.2), (300, 0.8), (3_000, 0.2), (3_000, 0.8))
)
"""Of the balls judged a radar judged the third number."""

METHODS: tuple[Method, ...] = ("adjusted", "posterior")


def coverage(leagues: int = LEAGUES) -> pd.DataFrame:
    """Return the share of leagues whose true rate is inside, by method."""
    rng = np.random.default_rng(1)
    out = []
    for rate, judged, hard, sensitivity, specificity in ROWS:
        soft = 2 * hard
        inside = dict.fromkeys(METHODS, 0)
        for _ in range(leagues):
            eye = (rng.binomial(hard, sensitivity), hard, rng.binomial(soft, specificity), soft)
            ticked = rng.binomial(judged, rate * sensitivity + (1 - rate) * (1 - specificity))
            for method in inside:
                _, low, high = corrected_interval(ticked, judged, eye, method=method)
                inside[method] += bool(low <= rate <= high)
        shares = {name: count / leagues for name, count in inside.items()}
        out.append((rate, judged, hard, soft, sensitivity, specificity, *shares.values()))
    names = ("rate", "judged", "hard", "soft", "sensitivity", "specificity", "adjusted", "posterior")
    return pd.DataFrame(out, columns=names)


def mixed(leagues: int = LEAGUES) -> pd.DataFrame:
    """Return the share of leagues whose true rate is inside, where a radar judged some of the balls."""
    rng = np.random.default_rng(2)
    out = []
    for rate, judged, share, hard, sensitivity, specificity in MIXED:
        measured, inside = round(judged * share), 0
        for _ in range(leagues):
            eye = (rng.binomial(hard, sensitivity), hard, rng.binomial(2 * hard, specificity), 2 * hard)
            seen = judged - measured
            ticked = rng.binomial(seen, rate * sensitivity + (1 - rate) * (1 - specificity))
            fast = rng.binomial(measured, rate)
            _, low, high = corrected_interval(ticked, seen, eye, measured=(fast, measured))
            inside += bool(low <= rate <= high)
        out.append((rate, judged, share, inside / leagues))
    return pd.DataFrame(out, columns=["rate", "judged", "by_radar", "inside"])


def shrunk(leagues: int = 60, seed: int = 3) -> dict[str, float]:
    """Return how often 90 % intervals of shrunk rates take in the truth, and with the errors left out."""
    rng = np.random.default_rng(seed)
    held: dict[str, list[float]] = {"per ball in play": [], "per swing": [], "errors left out": []}
    for _ in range(leagues):
        swings = rng.integers(60, 500, 60)
        rate, in_play = rng.beta(14, 26, 60), rng.beta(40, 65, 60)
        c = rng.binomial(swings, in_play)
        h = rng.binomial(c, rate)
        k = rng.binomial(h, 0.85) + rng.binomial(c - h, 0.10)
        eye = (rng.binomial(100, 0.85), 100, rng.binomial(200, 0.90), 200)
        table = pd.DataFrame(
            {"hitter": [f"H{i:02d}" for i in range(60)], "swings": swings, "in_play": c, "hard": k}
        )
        for name, per, options in (
            ("per ball in play", "in_play", {"eye": eye}),
            ("per swing", "swings", {"eye": eye}),
            ("errors left out", "in_play", {}),
        ):
            data = hitlab.shrink(table, "hard", per, **options).table()
            truth = rate * in_play if per == "swings" else rate
            held[name].append(float(((data["low"] <= truth) & (truth <= data["high"])).mean()))
    error = {f"{name}, error": float(np.std(all_) / np.sqrt(leagues)) for name, all_ in held.items()}
    return {**{name: float(np.mean(all_)) for name, all_ in held.items()}, **error}


def shrunk_mixed(leagues: int = 60, seed: int = 4) -> dict[str, float]:
    """Return how often 90 % intervals of shrunk rates take in the truth, by how much a radar judged.

    And how far off, on average, the rates are of those whom the radar alone saw, as they are and taken for
    ticks.
    """
    rng = np.random.default_rng(seed)
    share = np.repeat([0.0, 0.5, 1.0], 20)
    kinds = {"by eye": share == 0, "half by radar": share == 0.5, "by radar": share == 1}
    off = ("off, by radar", "off, taken for ticks")
    held: dict[str, list[float]] = {name: [] for name in (*kinds, *off)}
    for _ in range(leagues):
        judged, rate = rng.integers(40, 200, 60), rng.beta(14, 26, 60)
        measured = rng.binomial(judged, share)
        seen = judged - measured
        hard = rng.binomial(seen, rate)
        ticked = rng.binomial(hard, 0.85) + rng.binomial(seen - hard, 0.10)
        fast = rng.binomial(measured, rate)
        eye = (rng.binomial(100, 0.85), 100, rng.binomial(200, 0.90), 200)
        names = [f"H{i:02d}" for i in range(60)]
        table = pd.DataFrame({"hitter": names, "in_play": judged, "hard": ticked + fast})
        told = table.assign(hard_by_eye=seen, hard_ticked=ticked)
        for counts, name in zip((told, table), off, strict=True):
            data = hitlab.shrink(counts, "hard", "in_play", eye=eye).table()
            held[name].append(float((data["shrunk"] - rate).abs()[share == 1].mean()))
            if counts is told:
                inside = ((data["low"] <= rate) & (rate <= data["high"])).to_numpy()
                for kind, which in kinds.items():
                    held[kind].append(float(inside[which].mean()))
    error = {f"{name}, error": float(np.std(all_) / np.sqrt(leagues)) for name, all_ in held.items()}
    return {**{name: float(np.mean(all_)) for name, all_ in held.items()}, **error}


if __name__ == "__main__":
    if sys.argv[1:] == ["shrunk"]:
        print(shrunk())
    elif sys.argv[1:] == ["mixed"]:
        print(mixed().to_string(index=False))
        print(shrunk_mixed())
    else:
        table = coverage()
        print(table.to_string(index=False))
        print((table[["adjusted", "posterior"]] - 0.9).abs().mean().round(4).to_dict())
        print(f"standard error of a row: {np.sqrt(0.09 / LEAGUES):.4f}")
