"""How often form, dependence and half-weight sizes are right, by simulation; and how long they take.

``python -m tests.benchmarks.bench_form [part ...]``, parts: claims, reach, false-alarms, more, dependence,
half-weights, shapes, speed. Every number that the modules' texts give was printed here. The laws of the truth
are named in the code.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace

import numpy as np
import pandas as pd
from scipy.stats import binom

from hitlab import Counts, demo_season, shrink, tally
from hitlab.league import Effects, draw_counts
from hitlab.over_time.dependence import overdispersion, resample_by_game
from hitlab.over_time.form import form_over_time
from hitlab.over_time.form_law import fit_form
from hitlab.over_time.half_weights import half_weight_sizes
from hitlab.over_time.periods import compare_periods
from tests.benchmarks.calibration_leagues import LAWS, draw_league

GAMES = 72
FACTOR = 1.25


def season(rng, hitters, form, *, games=GAMES, mean=0.14, differ=0.2, swings=7.5, correlation=0.0):
    """Counts by hitter and game, and the log odds of every game; ``form``: (hitters, games) shifts of them.

    Starts are drawn: half of the hitters play nine games in ten, half three in ten. ``correlation`` of two
    swings of one game: a Beta law of the game's rate around the hitter's.
    """
    level = np.log(mean / (1 - mean)) + differ * rng.standard_normal((hitters, 1))
    share = np.where(np.arange(hitters) < hitters / 2, 0.9, 0.3)[:, np.newaxis]
    n = np.where(rng.random((hitters, games)) < share, 1 + rng.poisson(swings - 1, (hitters, games)), 0)
    p = 1 / (1 + np.exp(-(level + form)))
    if correlation:
        size = 1 / correlation - 1
        p = rng.beta(p * size, (1 - p) * size)
    k = rng.binomial(n, p)
    who, game = np.nonzero(n)
    frame = pd.DataFrame(
        {
            "hitter": [f"h{i:03d}" for i in who],
            "game": [f"g{j:03d}" for j in game],
            "swings": n[who, game],
            "hard": k[who, game],
        }
    )
    return Counts.from_table(frame, by=["hitter", "game"]), level[:, 0], n


def blocks(rng, hitters, spread, n, length=12):
    """Form of the fit's own kind: independent for each stretch of games played, counted from the last."""
    shifts = np.zeros(n.shape)
    for i, row in enumerate(n):
        played = np.flatnonzero(row)
        stretch = np.arange(len(played))[::-1] // length
        shifts[i, played] = rng.normal(0, spread, stretch.max(initial=0) + 1)[stretch]
    return shifts


def memory(rng, hitters, spread, games=GAMES, days=15.0):
    """Form that fades: its correlation falls to 1/e in ``days`` games of the club."""
    keep = np.exp(-1 / days)
    out = np.empty((hitters, games))
    out[:, 0] = rng.normal(0, spread, hitters)
    for g in range(1, games):
        out[:, g] = keep * out[:, g - 1] + rng.normal(0, spread * np.sqrt(1 - keep**2), hitters)
    return out


def drift(rng, hitters, spread, games=GAMES):
    """Form that wanders off, a little each game of the club: by so much over the season, as deviations go."""
    return np.cumsum(rng.normal(0, spread / np.sqrt(games), (hitters, games)), axis=1)


def switches(rng, hitters, size, games=GAMES, share=0.15):
    """Streaks: now and then, for 12 games of the club, odds times or divided by exp(size)."""
    out = np.zeros((hitters, games))
    for g in range(0, games, 12):
        out[:, g : g + 12] = (size * rng.choice([-1, 0, 1], hitters, p=[share / 2, 1 - share, share / 2]))[
            :, None
        ]
    return out


def calibration(chance, truth, words):
    """Print stated against realised frequency, in bands and past the bounds of the verdicts."""
    chance, truth = np.asarray(chance), np.asarray(truth, dtype=bool)
    bands = np.minimum((chance * 10).astype(int), 9)
    error = sum(
        abs(chance[bands == b].mean() - truth[bands == b].mean()) * (bands == b).mean()
        for b in np.unique(bands)
    )
    holds, fails = chance >= 0.9, chance <= 0.1
    parts = [
        f"{words}: {len(chance):,} chances, true {truth.mean():.3f}, stated {chance.mean():.3f}, "
        f"error {error:.4f}"
    ]
    for name, chosen, right in (("holds", holds, truth), ("does not hold", fails, ~truth)):
        if chosen.any():
            stated = np.where(name == "holds", chance, 1 - chance)[chosen].mean()
            parts.append(
                f"{name} {chosen.mean():.3f} of all, right {right[chosen].mean():.3f} (stated {stated:.3f})"
            )
        else:
            parts.append(f"{name} never")
    print("; ".join(parts), flush=True)


def claims(leagues=60):
    """Hot and steady under four kinds of truth; the spread of form is drawn for each league."""
    laws = {
        "stretches, spread half-normal .25": lambda rng, h, n: blocks(rng, h, abs(rng.normal(0, 0.25)), n),
        "stretches, spread uniform 0-.3": lambda rng, h, n: blocks(rng, h, rng.uniform(0, 0.3), n),
        "no form": lambda rng, h, n: np.zeros(n.shape),
        "fading form, spread uniform 0-.3": lambda rng, h, n: memory(rng, h, rng.uniform(0, 0.3)),
        "streaks of odds x 1.6 or / 1.6": lambda rng, h, n: switches(rng, h, np.log(1.6)),
    }
    for hitters in (150, 15, 1):
        for name, law in laws.items():
            rng = np.random.default_rng(20)
            hot, hot_true, steady, steady_true, covered = [], [], [], [], []
            for _ in range(leagues if hitters > 15 else leagues * 6 if hitters > 1 else leagues * 25):
                seed = rng.integers(1 << 31)
                _, _, n = season(np.random.default_rng(seed), hitters, np.zeros((hitters, GAMES)))
                form = law(rng, hitters, n)
                counts, level, n = season(np.random.default_rng(seed), hitters, form)
                try:
                    fit = fit_form(counts, "hard", "swings")
                except Exception as none:  # a lone hitter without hard-hit balls
                    print(none)
                    continue
                names = fit.games.totals.labels
                for place in rng.permutation(len(names))[: 40 if hitters > 15 else 12 if hitters > 1 else 1]:
                    i = int(names[place][1:])
                    mine = fit.of(int(place))
                    if mine.stop - mine.start < 2:
                        continue
                    played = np.flatnonzero(n[i])
                    # A stretch's true form: the mean over its swings. The usual level: that of the law.
                    first = fit.first[mine] - fit.first[mine.start]
                    weight = n[i][played].astype(float)
                    moved = np.add.reduceat(form[i][played] * weight, first) / np.add.reduceat(weight, first)
                    hot.append(fit.chance_above(int(place), FACTOR))
                    hot_true.append(moved[-1] > np.log(FACTOR))
                    steady.append(fit.chance_steady(int(place), FACTOR))
                    away = moved - np.average(form[i][played], weights=weight)
                    steady_true.append((abs(away) < np.log(FACTOR)).all())
                    row = fit.stretches(int(place)).iloc[-1]
                    truth = 1 / (1 + np.exp(-(level[i] + moved[-1])))
                    covered.append(row["low"] <= truth <= row["high"])
            print(
                f"-- {hitters} hitters, {name}; 90 % interval of the rate now covers {np.mean(covered):.3f}"
            )
            calibration(hot, hot_true, "hot")
            calibration(steady, steady_true, "steady")


def reach(leagues=10, hitters=150, games=60):
    """What record makes a hitter of some 400 swings hot, by law of form, and who is then called so."""
    laws = {
        "no form": lambda rng, n: np.zeros(n.shape),
        "day form, SD .4": lambda rng, n: rng.normal(0, 0.4, n.shape),
        "stretches, spread uniform 0-.3": lambda rng, n: blocks(rng, hitters, rng.uniform(0, 0.3), n),
        "stretches, spread .4": lambda rng, n: blocks(rng, hitters, 0.4, n),
        "fading, spread uniform 0-.3": lambda rng, n: memory(rng, hitters, rng.uniform(0, 0.3), games),
        "drift by up to .4": lambda rng, n: drift(rng, hitters, rng.uniform(0, 0.4), games),
        "streaks of odds x 1.6 or / 1.6": lambda rng, n: switches(rng, hitters, np.log(1.6), games),
    }
    for name, law in laws.items():
        rng, rows = np.random.default_rng(31), []
        for _ in range(leagues):
            seed = rng.integers(1 << 31)
            _, _, n = season(np.random.default_rng(seed), hitters, np.zeros((hitters, games)), games=games)
            counts, _, _ = season(np.random.default_rng(seed), hitters, law(rng, n), games=games)
            fit = fit_form(counts, "hard", "swings")
            swings = np.bincount(fit.hitter, fit.exposure)
            for place in np.flatnonzero(np.abs(swings - 400) <= 15)[:8]:
                least, usual = fit.least_above(int(place), FACTOR, 0.9), fit.usual_rate(int(place))
                last = int(fit.exposure[fit.of(int(place)).stop - 1])
                odds = usual / (1 - usual) * np.array([1.25, 1.6, 2.0, 3.0])
                called = np.zeros(4) if least is None else binom.sf(least - 1, last, odds / (1 + odds))
                rows.append((usual, last, np.nan if least is None else least / last, *called))
        told = np.array(rows)
        never = np.isnan(told[:, 2])
        print(
            f"{name}: {len(told)} hitters, usual {told[:, 0].mean():.3f}, {told[:, 1].mean():.0f} swings "
            f"in the last stretch; called hot from {np.nanmedian(told[:, 2]):.3f} (middle), from "
            f"{np.nanquantile(told[:, 2], 0.1):.3f} in a tenth, never in {never.mean():.2f}; whose odds are "
            f"1.25, 1.6, 2 and 3 times the usual is called so in {told[:, 3:].mean(axis=0).round(3)}",
            flush=True,
        )


def false_alarms(seasons=1_500):
    """Nominal against realised alarms of the scan under constant rates, and what real streaks it sees."""
    for correlation in (0.0, 0.05):
        for luck in ("shuffled games", "dealt attempts"):
            for games in (72, 24):
                rng = np.random.default_rng(5)
                hot, uneven = [], []
                for _ in range(seasons):
                    counts, _, _ = season(rng, 1, np.zeros((1, games)), games=games, correlation=correlation)
                    try:
                        form = form_over_time(counts, "h000", luck=luck, draws=400, seed=rng)
                    except Exception:
                        continue
                    hot.append(form.chance_as_hot <= 0.10)
                    uneven.append(form.chance_as_uneven <= 0.10)
                error = np.sqrt(0.09 / len(hot))
                print(
                    f"correlation {correlation}, {luck}, {games} games: nominal .100, hottest "
                    f"{np.mean(hot):.3f}, uneven "
                    f"{np.mean(uneven):.3f} (Monte Carlo error {error:.3f})",
                    flush=True,
                )
    for factor in (1.5, 2.0, 3.0):
        rng = np.random.default_rng(6)
        seen, said = [], []
        for _ in range(400):
            form = np.zeros((1, GAMES))
            begin = rng.integers(0, GAMES - 12)
            form[0, begin : begin + 12] = np.log(factor)
            counts, _, _ = season(rng, 1, form)
            found = form_over_time(counts, "h000", draws=400, seed=rng)
            seen.append(found.chance_as_hot <= 0.10)
            said.append(found.chance_to_see(factor, 12, draws=200, seed=rng))
        print(
            f"streak of 12 games at odds x {factor}: seen in {np.mean(seen):.3f} of {len(seen)} seasons; "
            "chance_to_see says "
            f"{np.mean(said):.3f}",
            flush=True,
        )


def more(leagues=100):
    """``more than before`` in leagues whose hitters change by a normal law of log odds ratios."""
    for hitters in (150, 15):
        for name, draw in (
            ("spread uniform 0-.4, mean normal .1", lambda rng: (rng.normal(0, 0.1), rng.uniform(0, 0.4))),
            ("nobody changes", lambda rng: (0.0, 1e-6)),
        ):
            rng = np.random.default_rng(9)
            chance, truth, covered, raw = [], [], [], []
            for _ in range(leagues if hitters > 15 else leagues * 5):
                mean, spread = draw(rng)
                level = np.log(0.14 / 0.86) + 0.2 * rng.standard_normal(hitters)
                change = rng.normal(mean, spread, hitters)
                n1, n2 = (
                    np.rint(np.exp(rng.uniform(np.log(30), np.log(600), hitters))).astype(int)
                    for _ in range(2)
                )
                p1, p2 = 1 / (1 + np.exp(-level)), 1 / (1 + np.exp(-level - change))
                names = [f"h{i:03d}" for i in range(hitters)]
                one, two = (
                    Counts.from_table(
                        pd.DataFrame({"hitter": names, "swings": n, "hard": rng.binomial(n, p)})
                    )
                    for n, p in ((n1, p1), (n2, p2))
                )
                data = compare_periods(one, two, "hard", "swings").data
                chance += list(data["chance_higher"])
                truth += list(change > 0)
                covered += list((data["ratio_low"] <= change) & (change <= data["ratio_high"]))
                raw += list((data["low"] <= p2 - p1) & (p2 - p1 <= data["high"]))
            print(
                f"-- {hitters} hitters, {name}: 90 % interval of the log odds ratio covers "
                f"{np.mean(covered):.3f}, raw "
                f"hybrid-score {np.mean(raw):.3f}"
            )
            if name == "nobody changes":
                chance = np.array(chance)
                print(
                    "claims of a change (chance .9 or more, or .1 or less): "
                    f"{((chance >= 0.9) | (chance <= 0.1)).mean():.4f} of "
                    f"{len(chance):,}"
                )
            else:
                calibration(chance, truth, "more than before")


def dependence(leagues=150):
    """The estimated correlation, its interval's coverage, and intervals of rates."""
    for correlation in (0.0, 0.02, 0.1):
        rng = np.random.default_rng(11)
        estimate, covered, said, widths = [], [], [], {}
        for _ in range(leagues):
            level_rng = int(rng.integers(1 << 31))
            counts, level, _ = season(
                np.random.default_rng(level_rng), 60, np.zeros((60, GAMES)), correlation=correlation
            )
            found = overdispersion(counts, "hard", "swings")
            estimate.append(found.correlation)
            covered.append(found.low <= correlation <= found.high)
            said.append("that matters" in found.explanation)
            truth = 1 / (1 + np.exp(-level))[[int(n[1:]) for n in found.counts.labels]]
            resampled = resample_by_game(counts, "hard", "swings", draws=500, seed=rng).data
            effect = found.data["design_effect"]
            thin = shrink(found.counts, "hard", "swings", design_effect=effect).data
            plain = shrink(found.counts, "hard", "swings").data
            regular = np.arange(len(truth)) < 30
            for name, low, high in (
                ("Wilson", found.data["low"], found.data["high"]),
                ("widened Wilson", found.data["wide_low"], found.data["wide_high"]),
                ("resampled", resampled["low"], resampled["high"]),
                ("shrunk", plain["low"], plain["high"]),
                ("shrunk at effective exposure", thin["low"], thin["high"]),
            ):
                inside = ((low <= truth) & (truth <= high)).to_numpy()[low.notna().to_numpy()]
                widths.setdefault(name, []).append(
                    (inside[regular[: len(inside)]].mean(), inside[~regular[: len(inside)]].mean())
                )
        print(
            f"-- correlation {correlation}: estimated {np.mean(estimate):.4f} (sd {np.std(estimate):.4f}), "
            "90 % interval covers "
            f"{np.mean(covered):.3f}, 'matters' said in {np.mean(said):.3f} of {leagues} leagues of 60"
        )
        for name, pairs in widths.items():
            full, part = np.mean(pairs, axis=0)
            print(
                f"   {name}: covers {full:.3f} of the regulars' true rates, {part:.3f} of the part-timers'",
                flush=True,
            )


def _counted(rng, n, p, alike=0.0):
    """A table of counts; with ``alike``, the correlation of the swings of one game of eight."""
    if alike:
        size = 1 / alike - 1
        games = -(-n // 8)
        whose = np.repeat(np.arange(len(n)), games)
        today = rng.beta(p[whose] * size, (1 - p[whose]) * size)
        swings = np.full(len(whose), 8)
        swings[np.cumsum(games) - 1] = n - 8 * (games - 1)
        hard = np.bincount(whose, rng.binomial(swings, today), len(n)).astype(int)
    else:
        hard = rng.binomial(n, p)
    return pd.DataFrame({"hitter": [f"h{i:03d}" for i in range(len(n))], "swings": n, "hard": hard})


def _drifting(rng, mean, sd, hitters, seasons, kept=0.8):
    """Half-weight size, and a list of true rates by season that correlate at ``kept``."""
    z = [rng.standard_normal(hitters)]
    for _ in range(seasons - 1):
        z.append(kept * z[-1] + np.sqrt(1 - kept**2) * rng.standard_normal(hitters))
    size = (mean * (1 - mean) - sd**2) / sd**2 / (2 * kept - 1)
    return size, [np.clip(mean + sd * one, 0.01, 0.99) for one in z]


def half_weights(leagues=400):
    """Coverage of the intervals of half-weight sizes; truth from the law or from very many drawn hitters."""
    rng = np.random.default_rng(13)
    kept = 0.8  # correlation of true rates between seasons
    for hitters in (150, 40):
        for mean, sd in ((0.14, 0.025), (0.14, 0.013), (0.26, 0.04)):
            size = mean * (1 - mean) / sd**2 - 1
            inside, middle = {}, {}
            for _ in range(leagues):
                p = rng.beta(mean * size, (1 - mean) * size, hitters)
                other = rng.beta(mean * size, (1 - mean) * size, hitters)
                anew = np.where(rng.random(hitters) < kept, p, other)
                n = np.rint(np.exp(rng.uniform(np.log(40), np.log(600), hitters))).astype(int)
                one, two = (_counted(rng, m, p) for m in ((n + 1) // 2, n // 2))
                games = [_counted(rng, m, p, alike=0.05) for m in ((n + 1) // 2, n // 2)]
                whole = one.assign(swings=one["swings"] + two["swings"], hard=one["hard"] + two["hard"])
                drifted, years = _drifting(rng, mean, sd, hitters, seasons=6)
                lines = [_counted(rng, n, year) for year in years]
                pairs = [
                    pd.concat([line.assign(season=str(t)) for t, line in enumerate(part)])
                    for part in (lines[:-1], lines[1:])
                ]
                tables = {
                    "fit": (whole, None, size),
                    "halves": (one, two, size),
                    "halves, swings of a game alike by .05": (*games, size),
                    "seasons, a fifth drawn anew": (whole, _counted(rng, n, anew), size / (2 * kept - 1)),
                    "seasons, all drift": (lines[0], lines[1], drifted),
                    "five pairs of seasons, all drift": (*pairs, drifted),
                }
                for name, (first, second, truth) in tables.items():
                    way = "seasons" if "seasons" in name else "halves"
                    by = ["hitter", "season"] if "season" in first else ["hitter"]
                    counts = [None if t is None else Counts.from_table(t, by) for t in (first, second)]
                    found = half_weight_sizes(*counts, [("hard", "swings")], way=way, seed=rng)
                    row = found.data.iloc[0]
                    inside.setdefault(name, []).append(row["low"] <= truth <= row["high"])
                    middle.setdefault(name, []).append(row["half_weight_size"] / truth)
            print(f"{hitters} hitters, mean {mean}, sd {sd} (size {size:,.0f}), {leagues} leagues:")
            for name in inside:
                print(
                    f"  {name}: covers {np.mean(inside[name]):.3f}, median estimate "
                    f"{np.median(middle[name]):.2f} of the truth",
                    flush=True,
                )
    # The invented league's own law of talents, without the effect of talent on playing time.
    effects = Effects(better_play_more=0.0, unmeasured=0.0)
    many = draw_counts(hitters=2_000, clubs=20, seed=1, effects=effects)
    for event, rate in (
        ("whiffs", "whiffs_per_swing"),
        ("in_play", "in_play_per_swing"),
        ("hard", "hard_per_swing"),
    ):
        p = many[rate].to_numpy()
        truth = (p * (1 - p)).mean() / p.var()
        hits, ratio = [], []
        for seed in range(100):
            league = draw_counts(hitters=150, seed=seed, effects=effects)[["hitter_id", "swings", event]]
            row = half_weight_sizes(league[league["swings"] > 0], rates=[(event, "swings")]).data.iloc[0]
            hits.append(row["low"] <= truth <= row["high"])
            ratio.append(row["half_weight_size"] / truth)
        print(
            f"drawn league, {event} per swing: true size {truth:.0f}, fit covers {np.mean(hits):.2f} of 100, "
            f"median {np.median(ratio):.2f}",
            flush=True,
        )


def shapes(leagues=200, seed=31):
    """Coverage of half-weight sizes where the true rates follow other laws than one bell."""
    for hitters in (150, 40):
        for name in ("large", "normal", "two groups", "skewed", "heavy right"):
            law = replace(LAWS[name], hitters=hitters, swings=(40, 600))
            many = draw_league(replace(law, hitters=1_000_000), np.random.default_rng(1)).truth
            truth = (many * (1 - many)).mean() / many.var()
            rng = np.random.default_rng(seed)
            inside = {"fit": [], "halves": []}
            for _ in range(leagues):
                league = draw_league(law, rng)
                n, k = league.exposure, league.events
                n1 = (n + 1) // 2
                k1 = rng.hypergeometric(k, n - k, n1)
                parts = ((n, k), (n1, k1), (n - n1, k - k1))
                whole, one, two = (
                    pd.DataFrame({"hitter": [f"h{i:03d}" for i in range(len(n))], "swings": a, "hard": b})
                    for a, b in parts
                )
                for way, tables in (("fit", (whole,)), ("halves", (one, two))):
                    row = half_weight_sizes(*tables, rates=[("hard", "swings")], seed=rng).data.iloc[0]
                    inside[way].append(row["low"] <= truth <= row["high"])
            covered = ", ".join(f"{way} covers {np.mean(held):.3f}" for way, held in inside.items())
            print(f"{hitters} hitters, {name}: {covered}", flush=True)


def speed():
    """Seconds on the demo season, tallied beforehand."""
    counts = tally(demo_season(), by=["hitter", "game", "date"])
    who = counts.labels[0].split(",")[0]
    for name, run in (
        ("fit_form", lambda: fit_form(counts, "hard", "swings")),
        ("form_over_time", lambda: form_over_time(counts, who)),
        ("overdispersion", lambda: overdispersion(counts, "hard", "swings")),
        ("resample_by_game", lambda: resample_by_game(counts, "hard", "swings")),
    ):
        run()
        times = []
        for _ in range(5):
            start = time.perf_counter()
            run()
            times.append(time.perf_counter() - start)
        print(f"{name}: {np.median(times):.3f} s, {counts.data.shape[0]:,} rows")


PARTS = {
    "claims": claims,
    "reach": reach,
    "false-alarms": false_alarms,
    "more": more,
    "dependence": dependence,
    "half-weights": half_weights,
    "shapes": shapes,
    "speed": speed,
}

if __name__ == "__main__":
    for part in sys.argv[1:] or PARTS:
        print(f"== {part}")
        PARTS[part]()
