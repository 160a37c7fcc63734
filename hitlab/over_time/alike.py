"""How alike attempts of one game are beyond the form of their stretch of games.

A day's form, a starting pitcher or a park makes the attempts of one game alike. Seen over a season, so does
form that lasts; here both are told apart: products of the deviations of two attempts of the same game are set
against those of two attempts in different games of the same stretch, which share the stretch's form and no
more.

What is estimated: one correlation for all hitters. When it fails: form that moves within a stretch makes
games of it less alike than they are within, and counts as going together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hitlab.over_time.stretches import ByGame

__all__ = ["crowding", "design_effects", "games_alike"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


def games_alike(games: ByGame, first: Wholes) -> float:
    """Return the correlation of two attempts of one game beyond their stretch, from 0 up.

    Parameters
    ----------
    games
        Counts by game.
    first
        Row of the first game of every stretch.

    Returns
    -------
    float
        The moment estimate, made smaller by the share of its square that is its own error (leaving out one
        stretch after the other), so that noise alone is rarely taken for going together; 0 where no stretch
        has two games.

    Examples
    --------
    All of a game's five swings hit hard, or none: as alike as can be. One hard-hit ball a game: not alike.

    >>> import numpy as np
    >>> import pandas as pd
    >>> from hitlab.over_time import games_alike
    >>> from hitlab.over_time.stretches import by_game
    >>> table = pd.DataFrame({"hitter": "Runa Kvalbakk", "game": [f"game {n:02d}" for n in range(1, 25)],
    ...                       "swings": 5, "hard": [0, 5] * 12})
    >>> stretches = np.array([0, 6, 12, 18])
    >>> round(games_alike(by_game(table, "hard", "swings"), stretches), 1)
    1.0
    >>> games_alike(by_game(table.assign(hard=1), "hard", "swings"), stretches)
    0.0
    """
    # Attempts of an unknown game are left out.
    k, n = (np.where(games.told, values, 0).astype(float) for values in (games.events, games.measured))
    many = np.bincount(games.hitter, n)
    p = (np.bincount(games.hitter, k) / np.where(many > 0, many, 1))[games.hitter]
    away = k - n * p
    squares = k * (1 - p) ** 2 + (n - k) * p**2  # of the single attempts' deviations
    total, size = np.add.reduceat(away, first), np.add.reduceat(n, first)
    same = np.add.reduceat((away**2 - squares) / 2, first), np.add.reduceat(n * (n - 1) / 2, first)
    other = (
        (total**2 - np.add.reduceat(away**2, first)) / 2,
        (size**2 - np.add.reduceat(n**2, first)) / 2,
    )
    variance = float((n * p * (1 - p)).sum() / n.sum())
    if not (variance > 0 and len(first) > 1 and same[1].sum() > 0 and other[1].sum() > 0):
        return 0.0

    def correlation(left_out: Floats | float) -> Floats:
        means = [
            (sums.sum() - left_out * sums) / (pairs.sum() - left_out * pairs) for sums, pairs in (same, other)
        ]
        return np.asarray((means[0] - means[1]) / variance)

    with np.errstate(invalid="ignore", divide="ignore"):
        without = correlation(1.0)
    without = without[np.isfinite(without)]
    found = float(correlation(0.0)[0])
    if found <= 0 or len(without) < 2:
        return 0.0
    error = (len(without) - 1) * float(without.var())
    return min(found * max(1 - error / found**2, 0.0), 1.0)


def design_effects(games: ByGame, first: Wholes, correlation: float) -> Floats:
    """Return for each stretch the variance of its rate against that of independent attempts.

    Parameters
    ----------
    games
        Counts by game.
    first
        Row of the first game of every stretch.
    correlation
        Of two attempts of one game beyond their stretch, such as :func:`games_alike` finds it.

    Returns
    -------
    numpy.ndarray
        One value a stretch; 1 where attempts are independent.

    Examples
    --------
    Two stretches of six games with five swings each, whose swings are a little alike within a game:

    >>> import numpy as np
    >>> import pandas as pd
    >>> from hitlab.over_time import design_effects
    >>> from hitlab.over_time.stretches import by_game
    >>> table = pd.DataFrame({"hitter": "Runa Kvalbakk", "game": [f"game {n:02d}" for n in range(1, 13)],
    ...                       "swings": 5, "hard": [0, 2, 1, 1, 2, 0, 1, 3, 0, 1, 2, 1]})
    >>> design_effects(by_game(table, "hard", "swings"), np.array([0, 6]), 0.05).round(2).tolist()
    [1.2, 1.2]
    """
    return 1 + correlation * crowding(games, first)


def crowding(games: ByGame, first: Wholes) -> Floats:
    """Return how many others an attempt has in its game, on average over the attempts of each run of rows.

    Attempts of an unknown game are taken to have as many as those of a known one, in all runs together where
    a run has no known one.
    """
    n = np.where(games.told, games.measured, 0).astype(float)
    squares, size = np.add.reduceat(n * n, first), np.add.reduceat(n, first)
    usual = squares.sum() / size.sum() if size.sum() else 1.0
    return np.asarray(np.divide(squares, size, out=np.full(len(size), usual), where=size > 0) - 1)
