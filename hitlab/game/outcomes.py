"""How a plate appearance ends, as nine probabilities, and what they become against one pitcher."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.errors import HitlabError

__all__ = ["OUTCOMES", "OUTS", "GameStateError", "chances_of", "meet_pitcher"]

Floats = NDArray[np.float64]

OUTCOMES = (
    "strikeout",
    "other out",
    "walk",
    "hit by pitch",
    "single",
    "double",
    "triple",
    "home run",
    "error",
)
"""How a plate appearance ends here, in the order in which probabilities are given."""

OUTS = 2
"""How many of the outcomes, the first ones, are outs."""

_SUM_OFF = 1e-9  # how far probabilities may be from a sum of one: rounding of a long computation, no more


class GameStateError(HitlabError, ValueError):
    """A game state, a rule of advance or a set of outcome probabilities that cannot be."""


def chances_of(values: Any, name: str = "chances") -> Floats:
    """Return outcome probabilities as an array, checked.

    Parameters
    ----------
    values
        Shape (..., 9) in the order of ``OUTCOMES``, or a mapping from the nine names to one number each.
    name
        What to call it in a message.

    Raises
    ------
    GameStateError
        Where there are not nine, one is missing or negative, or they do not add up to one; the message names
        hitter and outcome.
    """
    if hasattr(values, "keys"):
        values = dict(values.items())
        lacking = [outcome for outcome in OUTCOMES if outcome not in values]
        unknown = [str(key) for key in values if key not in OUTCOMES]
        if lacking or unknown:
            what = f"lacks {lacking[0]!r}" if lacking else f"has {unknown[0]!r}"
            raise GameStateError(f"{name} {what}; the outcomes are: {', '.join(OUTCOMES)}")
        values = [values[outcome] for outcome in OUTCOMES]
    try:
        chances = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise GameStateError(f"{name}: {error}; give nine probabilities a hitter") from error
    if chances.ndim == 0 or chances.shape[-1] != len(OUTCOMES):
        raise GameStateError(
            f"{name} has the shape {chances.shape}; the last axis holds {len(OUTCOMES)} probabilities: "
            f"{', '.join(OUTCOMES)}"
        )
    for bad, said in ((~np.isfinite(chances), "is no number"), (chances < 0, "is negative")):
        if bad.any():
            *hitter, outcome = (int(i) for i in np.argwhere(bad)[0])
            value = float(chances[(*hitter, outcome)])
            raise GameStateError(f"{name}{_who(hitter)}, {OUTCOMES[outcome]}: {value!r} {said}; give 0 to 1")
    total = chances.sum(axis=-1)
    off = np.abs(total - 1) > _SUM_OFF
    if off.any():
        hitter = [int(i) for i in np.argwhere(off)[0]]
        raise GameStateError(
            f"{name}{_who(hitter)}: the nine probabilities add up to {float(total[tuple(hitter)]):.6g}, "
            "not 1; divide counts by their own sum"
        )
    return chances


def meet_pitcher(hitters: Any, pitcher: Any, league: Any) -> Floats:
    """Return hitters' outcome probabilities against a pitcher, by the odds-ratio method.

    Each probability is multiplied by the pitcher's and divided by the league's, and the nine are made to add
    up to one. With two outcomes this multiplies odds ratios, which is what a model of paired comparison says
    (Bradley & Terry 1952, Biometrika 39:324-345); for nine it is common practice, no source. It supposes that
    hitter and pitcher do not suit each other better or worse than their averages say.

    Parameters
    ----------
    hitters
        Shape (..., 9).
    pitcher, league
        The pitcher (or the pitchers of one hand) against everybody, and everybody against everybody. Shapes
        that broadcast with that of the hitters.

    Returns
    -------
    numpy.ndarray
        Probabilities of the nine outcomes in the order of ``OUTCOMES``, shape (..., 9); they add up to one.

    Raises
    ------
    GameStateError
        Where the league never has an outcome that a hitter or the pitcher has.

    Examples
    --------
    A hitter who strikes out in 30 % meets a pitcher who strikes out 30 %, in a league of 22 %:

    >>> from hitlab.game import meet_pitcher
    >>> league = [0.22, 0.44, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> often = [0.30, 0.36, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> round(float(meet_pitcher(often, often, league)[0]), 2)
    0.39
    """
    ours, theirs = chances_of(hitters, "hitters"), chances_of(pitcher, "pitcher")
    base = chances_of(league, "league")
    never = ((base == 0) & ((theirs > 0) | (ours > 0))).reshape(-1, len(OUTCOMES)).any(axis=0)
    if never.any():
        raise GameStateError(
            f"league, {OUTCOMES[int(np.flatnonzero(never)[0])]}: 0, while a hitter or the pitcher has some; "
            "the odds-ratio method divides by it"
        )
    met = ours * theirs / np.where(base > 0, base, 1.0)
    return np.asarray(met / met.sum(axis=-1, keepdims=True))


def _who(hitter: Sequence[int]) -> str:
    return f", hitter {', '.join(str(i + 1) for i in hitter)}" if hitter else ""
