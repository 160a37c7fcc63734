"""A hitter against the league on the same pitches: what his pitches explain is taken out.

What is estimated: a logistic regression of one yes-or-no result (a ball put in play fair, say) on what the
pitch was (speed, place) over the whole league gives each pitch its league chance. A hitter's effect is what
has to be added to the logits of his pitches to make his record likely. The effects of all hitters follow a
normal law around 0; its spread is integrated over a grid, flat on the logit scale, so that a small record
is pulled toward the league and a league without differences shows none.

When it fails: pitches that differ in something that is not in the regression (movement, sequence, the
hitter's guess); hitters who are pitched differently because of who they are; a shape that squares and a
product cannot follow. The regression's own error is not in the intervals: with a whole league behind it, it
is small against one hitter's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import CountsError
from hitlab.optional import load
from hitlab.results import Listing
from hitlab.wording import chance_text, level_words, rate_text

__all__ = ["FEWEST", "Matched", "match_to_league"]

Floats = NDArray[np.float64]

FEWEST = 200  # events and non-events needed for a regression of this size (about 20 a coefficient)
_WIDEST = 1.0  # spread of the effects: beyond it one hitter's odds would be seven times another's
_SPREADS = 40
_EFFECTS = np.linspace(-3.0, 3.0, 241)
_ROWS = 200_000  # rows times effects held at once stay below about 100 MB


@dataclass(frozen=True, slots=True, eq=False)
class Matched(Listing):
    """Every group against the league on its own pitches.

    Attributes
    ----------
    data
        One row a group, in the order of its number: ``tries``, ``successes``, ``league`` (how many the
        league would have had on the same pitches), ``effect`` (posterior mean of the effect on the log
        odds), ``low``, ``high`` (its interval), ``adjusted`` (the rate of such a hitter on the league's
        pitches), ``chance_above`` (that the effect is above 0).
    rate
        The league's rate.
    spread
        Posterior mean of the standard deviation of the effects.
    level
        Level of the intervals.
    names, coefficients
        Of the regression; ``coefficients`` on standardised columns.
    """

    data: pd.DataFrame
    rate: float
    spread: float
    level: float
    names: tuple[str, ...]
    coefficients: Floats

    @property
    def title(self) -> str:
        """The league's rate, and what the intervals are of."""
        return (
            f"{len(self):,} groups against the league's rate of {rate_text(self.rate)} on their own pitches; "
            f"{level_words(self.level)} posterior intervals of the log odds"
        )

    def table_for_people(self) -> pd.DataFrame:
        """Return the groups in order, with two or three digits."""
        shown = self.data.round({"league": 1, "effect": 2, "low": 2, "high": 2})
        shown["adjusted"] = [rate_text(value) for value in shown["adjusted"]]
        shown["chance_above"] = [chance_text(value) for value in shown["chance_above"]]
        return shown


def match_to_league(
    success: NDArray[np.bool_],
    group: NDArray[np.int64],
    pitches: pd.DataFrame,
    *,
    groups: int | None = None,
    level: float = DEFAULT_LEVEL,
) -> Matched:
    """Compare every group with the league on the pitches that it had.

    Parameters
    ----------
    success
        What is counted, one value a pitch.
    group
        Number of the group from 0, one value a pitch.
    pitches
        Numeric columns that the league's chance may depend on, one row a pitch, none missing. Each enters
        with its square, and each two with their product.
    groups
        How many groups there are; those without a pitch get the whole law.
    level
        Level of the intervals, between 0 and 1.

    Returns
    -------
    Matched
        One row a group: its record, what the league would have had on the same pitches, and the effect on
        the log odds with its interval.

    Raises
    ------
    CountsError
        Where there are too few successes or failures for the regression, or values are missing.

    Examples
    --------
    Two hitters touch 250 of 350 each. The second met the faster pitches, which are touched less often:

    >>> import pandas as pd
    >>> from hitlab.approach import match_to_league
    >>> cells = pd.DataFrame({"speed_mph": [86.0, 86.0, 91.0, 91.0, 96.0, 96.0], "hitter": [0, 1] * 3,
    ...                       "tries": [200, 50, 100, 100, 50, 200], "touched": [155, 42, 70, 75, 25, 133]})
    >>> pitches = cells.loc[cells.index.repeat(cells["tries"])]
    >>> touched = (pitches.groupby(level=0).cumcount() < pitches["touched"]).to_numpy()
    >>> found = match_to_league(touched, pitches["hitter"].to_numpy(), pitches[["speed_mph"]])
    >>> found.table()[["tries", "successes", "league", "adjusted"]].round(2)
       tries  successes  league  adjusted
    0    350        250   261.7      0.69
    1    350        250   238.3      0.74
    """
    success = np.asarray(success, dtype=bool)
    group = np.asarray(group, dtype=np.int64)
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    if not len(success) == len(group) == len(pitches):
        raise CountsError(
            f"success, group and pitches have {len(success)}, {len(group)} and {len(pitches)} rows; "
            "they describe the same pitches"
        )
    values = pitches.to_numpy(float)
    if not np.isfinite(values).all():
        row, column = np.argwhere(~np.isfinite(values))[0]
        raise CountsError(
            f"{pitches.columns[column]}, row {row + 1}: a value is missing; leave the pitch out"
        )
    fewest = min(int(success.sum()), int((~success).sum()))
    if fewest < FEWEST:
        raise CountsError(
            f"{int(success.sum()):,} of {len(success):,} tries succeeded; the league's chances need at least "
            f"{FEWEST} that did and {FEWEST} that did not"
        )
    names, logits, coefficients = _league_logits(success, pitches)
    count = int(group.max()) + 1 if groups is None else groups
    tries = np.bincount(group, minlength=count)
    hits = np.bincount(group[success], minlength=count)
    league = np.bincount(group, weights=1 / (1 + np.exp(-logits)), minlength=count)
    log_likelihood = hits[:, np.newaxis] * _EFFECTS - _log_norms(logits, group, count)
    spread, weight = _over_spreads(log_likelihood)
    effect = weight @ _EFFECTS
    tail = (1 - level) / 2
    cumulative = np.cumsum(weight, axis=1)
    low, high = (_quantile(cumulative, chance) for chance in (tail, 1 - tail))
    rate = float(success.mean())
    data = pd.DataFrame(
        {
            "tries": tries,
            "successes": hits,
            "league": league,
            "effect": effect,
            "low": low,
            "high": high,
            "adjusted": weight @ _moved_rates(logits),
            "chance_above": weight[:, _EFFECTS > 0].sum(axis=1) + weight[:, _EFFECTS == 0].sum(axis=1) / 2,
        }
    )
    return Matched(data, rate, spread, level, names, coefficients)


def _league_logits(
    success: NDArray[np.bool_], pitches: pd.DataFrame
) -> tuple[tuple[str, ...], Floats, Floats]:
    # The two modules that are needed, for all of statsmodels takes longer to load than the fit to run.
    models, families = (
        load(f"statsmodels.genmod.{module}", "comparisons on the same pitches", "statistics")
        for module in ("generalized_linear_model", "families")
    )
    usable = [name for name in pitches.columns if pitches[name].std() > 0]
    scaled = {name: (pitches[name] - pitches[name].mean()) / pitches[name].std() for name in usable}
    columns = dict(scaled)
    for i, first in enumerate(usable):
        for second in usable[i:]:
            if first == second and pitches[first].nunique() == 2:
                continue  # the square of a flag is the flag
            name = f"{first} squared" if first == second else f"{first} x {second}"
            columns[name] = scaled[first] * scaled[second]
    design = np.column_stack([np.ones(len(pitches)), pd.DataFrame(columns).to_numpy(float)])
    found = models.GLM(success.astype(float), design, family=families.Binomial()).fit()
    return ("constant", *columns), design @ found.params, np.asarray(found.params)


def _log_norms(logits: Floats, group: NDArray[np.int64], count: int) -> Floats:
    """Sum over each group's pitches of log(1 + exp(logit + effect)), for every effect of the grid."""
    total = np.zeros((count, len(_EFFECTS)))
    order = np.argsort(group, kind="stable")
    step = max(_ROWS // len(_EFFECTS), 1) * 16
    for start in range(0, len(order), step):
        rows = order[start : start + step]
        value = np.logaddexp(0, logits[rows, np.newaxis] + _EFFECTS)
        own = group[rows]
        first = np.flatnonzero(np.r_[True, own[1:] != own[:-1]])
        total[own[first]] += np.add.reduceat(value, first, axis=0)
    return total


def _over_spreads(log_likelihood: Floats) -> tuple[float, Floats]:
    """Integrate the spread of the effects over a flat grid; the groups' weights on the grid of effects."""
    spreads = (np.arange(_SPREADS) + 0.5) * _WIDEST / _SPREADS
    likelihood = np.exp(log_likelihood - log_likelihood.max(axis=1, keepdims=True))
    evidence = np.zeros(_SPREADS)
    parts = []
    for i, spread in enumerate(spreads):
        prior = np.exp(-0.5 * (_EFFECTS / spread) ** 2)
        joint = likelihood * (prior / prior.sum())
        each = joint.sum(axis=1, keepdims=True)
        evidence[i] = np.log(each).sum()
        parts.append(joint / each)
    mass = np.exp(evidence - evidence.max())
    mass /= mass.sum()
    weight = sum((m * part for m, part in zip(mass, parts, strict=True)), np.zeros_like(likelihood))
    return float(mass @ spreads), np.asarray(weight)


def _quantile(cumulative: Floats, chance: float) -> Floats:
    """Return the effect at which each row of a cumulated grid reaches a chance, between two grid points."""
    at = np.argmax(cumulative >= chance, axis=1)
    rows = np.arange(len(cumulative))
    before = np.where(at > 0, cumulative[rows, at - 1], 0.0)
    share = (chance - before) / np.maximum(cumulative[rows, at] - before, 1e-300)
    step = _EFFECTS[1] - _EFFECTS[0]
    return np.asarray(_EFFECTS[at] + (share - 0.5) * step)


def _moved_rates(logits: Floats) -> Floats:
    """Return the league's rate if every pitch's logit were moved by each effect of the grid."""
    points = np.quantile(logits, (np.arange(400) + 0.5) / 400)
    return np.asarray((1 / (1 + np.exp(-(points[:, np.newaxis] + _EFFECTS)))).mean(axis=0))
