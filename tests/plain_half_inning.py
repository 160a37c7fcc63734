"""A half inning written out play by play, for tests and benchmarks: slow, nothing shared with the package.

Runners are three flags, moved from the lead runner back; the package builds matrices from sets of bases.
"""

from __future__ import annotations

from typing import Any

import numpy as np

ORDER = ("strikeout", "other out", "walk", "hit by pitch", "single", "double", "triple", "home run", "error")
STATES = [
    (first, second, third)
    for first, second, third in (
        (0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 0), (1, 0, 1), (0, 1, 1), (1, 1, 1),
    )
]  # fmt: skip
"""Bases in the order of the published tables, from empty to full."""

Flags = tuple[int, int, int]


def after(outcome: str, on: Flags, outs: int, rules: Any) -> list[tuple[float, Flags, int, int]]:
    """Return every (share, bases, outs, runs) that can follow; with three outs runs are 0."""
    first, second, third = on
    if outcome == "strikeout":
        return [(1, on, outs + 1, 0)]
    if outcome in ("walk", "hit by pitch"):
        if not first:
            return [(1, (1, second, third), outs, 0)]
        if not second:
            return [(1, (1, 1, third), outs, 0)]
        return [(1, (1, 1, 1), outs, third)]
    if outcome == "home run":
        return [(1, (0, 0, 0), outs, 1 + first + second + third)]
    if outcome == "triple":
        return [(1, (0, 0, 1), outs, first + second + third)]
    if outcome == "error":
        return [(1, (1, first, second), outs, third)]
    if outcome == "double":
        if not first:
            return [(1, (0, 1, 0), outs, second + third)]
        s = rules.first_scores_on_double
        return [(s, (0, 1, 0), outs, second + third + 1), (1 - s, (0, 1, 1), outs, second + third)]
    if outcome == "single":
        s, t = rules.second_scores_on_single, rules.first_to_third_on_single
        if first and second:
            return [
                (s * t, (1, 0, 1), outs, third + 1),
                (s * (1 - t), (1, 1, 0), outs, third + 1),
                (1 - s, (1, 1, 1), outs, third),
            ]
        if second:
            return [(s, (1, 0, 0), outs, third + 1), (1 - s, (1, 0, 1), outs, third)]
        if first:
            return [(t, (1, 0, 1), outs, third), (1 - t, (1, 1, 0), outs, third)]
        return [(1, (1, 0, 0), outs, third)]
    if outs == 2:
        return [(1, on, 3, 0)]
    found: list[tuple[float, Flags, int, int]] = []
    left = 1.0
    if first or second or third:
        found.append((rules.moves_up, (0, first, second), outs + 1, third))
        left -= rules.moves_up
    if first:
        ended = outs == 1
        found.append((rules.double_play, (0, 0, second), outs + 2, 0 if ended else third))
        found.append((rules.force_out, (1, 0, second), outs + 1, third))
        left -= rules.double_play + rules.force_out
    if third:
        found.append((rules.sacrifice_fly, (first, second, 0), outs + 1, 1))
        left -= rules.sacrifice_fly
    return [*found, (left, on, outs + 1, 0)]


def expected_runs(chances: Any, rules: Any, close: float = 1e-10) -> list[list[float]]:
    """Return run expectancy [outs][bases] by going over the 24 states until nothing changes: a plain loop."""
    value = {(outs, on): 0.0 for outs in range(3) for on in STATES}
    change = 1.0
    while change > close:
        change = 0.0
        for outs, on in value:
            total = 0.0
            for outcome, chance in zip(ORDER, chances, strict=True):
                for share, then, out, runs in after(outcome, on, outs, rules):
                    total += chance * share * (runs + (value[out, then] if out < 3 else 0.0))
            change = max(change, abs(total - value[outs, on]))
            value[outs, on] = total
    return [[value[outs, on] for on in STATES] for outs in range(3)]


def win_chance(
    hitter: Any,
    league: Any,
    behind: int,
    outs: int,
    on: Flags,
    tie_wins: float,
    rules: Any,
    rounds: int = 60,
) -> float:
    """Return the chance to win, the game stopped as soon as the club leads: one hitter, then the league."""
    needed = range(behind + 1)
    value = {(n, o, b): 0.0 for n in needed for o in range(3) for b in STATES}

    def one(chances: Any, n: int, o: int, b: Flags) -> float:
        total = 0.0
        for outcome, chance in zip(ORDER, chances, strict=True):
            for share, then, out, runs in after(outcome, b, o, rules):
                if runs > n:
                    worth = 1.0  # ahead: the game is over
                elif out == 3:
                    worth = tie_wins if runs == n else 0.0
                else:
                    worth = value[n - runs, out, then]
                total += chance * share * worth
        return total

    for _ in range(rounds):
        value = {key: one(league, *key) for key in value}
    return one(hitter, behind, outs, on)


def simulate(
    leading_off: Any,
    league: Any,
    start: tuple[int, Flags],
    number: int,
    rules: Any,
    rng: np.random.Generator,
    stop_above: int | None = None,
) -> np.ndarray:
    """Return runs of simulated half innings: one hitter, then the league; stopped above some runs."""
    place = {(outs, on): 8 * outs + at for outs in range(3) for at, on in enumerate(STATES)}
    most = 5
    edge = np.ones((9, 24, most))
    to, scored = np.zeros((9, 24, most), dtype=int), np.zeros((9, 24, most), dtype=int)
    for (outs, on), state in place.items():
        for k, outcome in enumerate(ORDER):
            ways = after(outcome, on, outs, rules)
            shares = np.cumsum([share for share, *_ in ways])
            shares[-1] = 1.0
            for j, (_, then, out, runs) in enumerate(ways):
                edge[k, state, j], scored[k, state, j] = shares[j], runs
                to[k, state, j] = 24 if out >= 3 else place[out, then]
    runs = np.zeros(number, dtype=int)
    alive, state = np.arange(number), np.full(number, place[start])
    law = np.cumsum(leading_off)
    while len(alive):
        k = np.minimum(np.searchsorted(law, rng.random(len(alive)), side="right"), 8)
        way = (rng.random(len(alive))[:, None] > edge[k, state]).sum(axis=1)
        runs[alive] += scored[k, state, way]
        state = to[k, state, way]
        on = state < 24
        if stop_above is not None:
            on &= runs[alive] <= stop_above
        alive, state, law = alive[on], state[on], np.cumsum(league)
    return runs
