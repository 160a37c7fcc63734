"""How many swings until a record says more than the league's average does: the half-weight size of a rate.

A hitter's record of ``n`` attempts and the league's average are best mixed with weights ``n / (n + size)``
and ``size / (n + size)``, where ``size`` is the mean of p (1 - p) over the variance of the true rates p. At
``n = size`` both weigh half. Three ways to it:

- ``fit``, from one table: a Beta law of true rates, its spread integrated over as in ``shrink`` but with one
  mean for all. The interval is the posterior's: flat on the mean, and on the spread's share of the largest
  possible. It takes every difference beyond independent luck for talent, so dependence within games makes the
  size too small.
- ``halves``, from two halves of a season (``paired_halves``): the covariance of a hitter's two rates is the
  variance of what both share. Luck, and dependence within a game, are not shared by odd and even games.
- ``seasons``, from one season to the next: the weight of last season's record in the best guess of this
  season's true rate. True rates change between seasons; where the two correlate at r, the size is
  mean p (1 - p) / (variance (2 r - 1)), and where r is a half or less, the record never gets half of the
  weight. Dependence within games counts as talent here, too.

Who hits often weighs more: hitter by hitter, by the product of the two weights above.

The intervals of the last two are pivotal (``hitlab.over_time.pivots``): true rates and luck are drawn as
normal deviations around the means, and each draw is asked which variance would have given the sums that were
seen. Simulated with 150 and 40 hitters (``tests/benchmarks/bench_form.py``), what is called 90 % covered .90
to .94 between halves (.88 to .92 where swings of a game are alike by .05), .88 to .92 from one season to the
next where all rates drift, .89 to .96 over five pairs of seasons a hitter; the fit's covered .88 to .95 where
its law is right. When they fail: other laws of the true rates (``_HELD``, which is said with every answer);
where one hitter in five drew a new rate and the others kept theirs, .83 to .93.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.estimates.shrinkage import fit_beta_binomial
from hitlab.over_time.pivots import halves_pivot, seasons_pivot
from hitlab.results import Listing, Note, Part, Table
from hitlab.rounding import settled
from hitlab.wording import hitters_text, level_words, rate_text

__all__ = ["USUAL_RATES", "HalfWeights", "half_weight_sizes"]

Floats = NDArray[np.float64]

USUAL_RATES: tuple[tuple[str, str], ...] = (
    ("swings", "pitches"),
    ("whiffs", "swings"),
    ("contact", "swings"),
    ("fouls", "swings"),
    ("in_play", "swings"),
    ("hard", "swings"),
    ("hard", "in_play"),
    ("hits", "at_bats"),
)
"""The rates of the table where none are named."""

_SHARES = np.linspace(0.0, 1 / np.sqrt(3), 401)[1:]  # spread over its largest; 1 / sqrt(3) is the flat law's
_MEANS = 25
_FEWEST = 5  # hitters: fewer say nothing of a spread
# Of the intervals, by the law of the true rates: bench_form shapes.
_BELL, _TWO, _SKEWED, _FAR = (
    "where true rates lie in one bell",
    "with two kinds of hitters",
    "where they are skewed",
    "where a few lie far above the rest",
)
_HELD = {
    "fit": f"88 to 91 % {_BELL}, 79 to 86 % {_TWO}, 84 to 87 % {_SKEWED}, 64 to 66 % {_FAR}",
    "halves": f"89 to 92 % {_BELL}, 92 % {_TWO}, 83 to 88 % {_SKEWED}, 64 to 71 % {_FAR}",
}


@dataclass(frozen=True, slots=True)
class HalfWeights(Listing):
    """Half-weight sizes of a set of rates.

    Attributes
    ----------
    data
        One row a rate: ``event``, ``per``, ``hitters``, ``league_rate``, ``spread`` (standard deviation of
        true rates), ``half_weight_size``, ``low``, ``high`` (its interval; infinite where the record may
        never get half of the weight), ``usual_exposure`` (median of the hitters), ``own_weight`` (of a record
        that long), and for seasons ``carried`` (correlation of the true rates of the two).
    way
        ``fit``, ``halves`` or ``seasons``.
    level
        Of the intervals.
    left_out
        Rates that could not be worked out, with the reason.
    """

    data: pd.DataFrame
    way: str
    level: float
    left_out: dict[str, str]

    @property
    def explanations(self) -> list[str]:
        """One sentence a rate, the quickest to settle first."""
        rows = self.data.sort_values("half_weight_size", key=_as_shown, kind="stable")
        return [self._sentence(row) for _, row in rows.iterrows()]

    def _sentence(self, row: pd.Series[Any]) -> str:
        name, noun = rate_words(row["event"], row["per"]), per_words(row["per"], 2)
        about = "next season" if self.way == "seasons" else "the hitter"
        ends = f"{level_words(self.level)} from {_size_text(row['low'])} to {_size_text(row['high'])}"
        if not np.isfinite(row["half_weight_size"]):
            return f"No record of {name} says more about {about} than the league's average does ({ends})"
        return (
            f"After about {_size_text(row['half_weight_size'])} {noun} a record of {name} says more about "
            f"{about} than the league's average does ({ends})"
        )

    @property
    def title(self) -> str:
        """What the table shows and where its intervals come from."""
        from_where = {
            "fit": "from how one table scatters; posterior intervals",
            "halves": "from two halves; pivotal intervals",
            "seasons": "from one season to the next; pivotal intervals",
        }[self.way]
        return f"Attempts until a record weighs as much as the league's average, {from_where}"

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: the rates left out, and how many such intervals held."""
        said = [Note(f"{name}, {why}", "left out") for name, why in self.left_out.items()]
        if self.way in _HELD:
            drawn = "of such 90 % intervals, in leagues of 40 and of 150 hitters that were drawn"
            said.append(Note(f"{drawn}, {_HELD[self.way]} held"))
        return [self.title, *said, Table(self.table_for_people())]

    def table_for_people(self) -> pd.DataFrame:
        """Return the rates, the quickest to settle first, as they are said."""
        shown = self.data.sort_values("half_weight_size", key=_as_shown, kind="stable")
        for name in ("league_rate", "spread"):
            shown[name] = [rate_text(value) for value in shown[name]]
        for name in ("half_weight_size", "low", "high"):
            shown[name] = [_size_text(value) for value in shown[name]]
        for name in {"own_weight", "carried"} & set(shown.columns):
            shown[name] = [f"{value:.2f}" for value in shown[name]]
        return shown.rename(columns=lambda name: str(name).replace("_", " "))


def half_weight_sizes(
    first: Any,
    second: Any = None,
    rates: Iterable[tuple[str, str]] | None = None,
    *,
    way: Literal["halves", "seasons"] = "halves",
    level: float = DEFAULT_LEVEL,
    draws: int = 1_000,
    seed: int | np.random.Generator = 0,
) -> HalfWeights:
    """Work out how many attempts a record needs to say more than the league's average does.

    Parameters
    ----------
    first
        ``Counts``, or any table of counts, one row a hitter. Pairs of seasons can be put under one another,
        counted by hitter and season (the hitter first; his pairs are taken to share his talent).
    second
        The same hitters' other half of the season (``paired_halves``), or their next season. Without it the
        size comes from the law fitted to ``first``.
    rates
        Pairs of event and denominator; ``USUAL_RATES`` where not given (those that cannot be counted are left
        out).
    way
        What ``second`` is: with ``halves`` both tables share one true rate a hitter, with ``seasons`` true
        rates may change in between.
    level
        Of the intervals.
    draws, seed
        Draws for the interval, and their seed or generator; not used by the fit.

    Returns
    -------
    HalfWeights
        One row a rate: the size, its interval, and what a usual record weighs.

    Raises
    ------
    CountsError
        Where a named rate cannot be worked out: fewer than five hitters, or no hitter in both tables.
    MissingColumnsError
        Where a named rate was not counted.

    Examples
    --------
    Hitters differ more in whiffs than in hard-hit balls here, so that fewer swings tell them apart:

    >>> import pandas as pd
    >>> from hitlab.over_time import half_weight_sizes
    >>> league = pd.DataFrame({"hitter": [f"hitter {n}" for n in range(1, 9)], "swings": 300,
    ...                        "whiffs": [45, 60, 66, 75, 78, 90, 105, 120],
    ...                        "hard": [36, 50, 54, 60, 62, 66, 72, 88]})
    >>> sizes = half_weight_sizes(league, rates=[("whiffs", "swings"), ("hard", "swings")])
    >>> for row in sizes.table().itertuples():
    ...     print(f"{row.event}: {row.half_weight_size:.0f} swings, own weight {row.own_weight:.2f}")
    whiffs: 26 swings, own weight 0.91
    hard: 58 swings, own weight 0.82
    """
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    if isinstance(draws, bool) or int(draws) != draws or draws < 1:
        raise CountsError(f"draws={draws!r}: give a whole number from 1 up, such as 1000")
    if way not in ("halves", "seasons"):
        raise CountsError(f"way={way!r}: give 'halves' or 'seasons'")
    one = as_counts(first)
    other = None if second is None else as_counts(second)
    rng = np.random.default_rng(seed)
    rows, left_out = [], {}
    asked = list(USUAL_RATES if rates is None else rates)
    if any(isinstance(rate, str) or len(rate) != 2 for rate in asked):
        raise CountsError("rates: give pairs of event and denominator, such as [('hard', 'swings')]")
    for event, per in asked:
        try:
            if other is None:
                found = _from_fit(one, event, per, level)
            else:
                found = _from_two(one, other, event, per, way, level, draws, rng)
        except (CountsError, MissingColumnsError) as why:
            if rates is not None:
                raise
            left_out[rate_words(event, per)] = str(why)
            continue
        rows.append({"event": event, "per": per, **found})
    if not rows:
        raise CountsError(f"none of the rates can be worked out: {'; '.join(left_out.values())}")
    return HalfWeights(pd.DataFrame(rows), "fit" if other is None else way, level, left_out)


def _from_fit(counts: Counts, event: str, per: str, level: float) -> dict[str, Any]:
    both = pair(counts, event, per)
    used = both.measured_exposure > 0
    k, n = both.events[used].astype(float), both.measured_exposure[used].astype(float)
    _enough(len(k), event, per)
    _varies(k.sum(), n.sum(), event, per)
    mean, weight = _posterior_of_share(k, n)
    size = 1 / _SHARES**2 - 1  # falls as the share rises
    # Each share stands for its cell, so that an end that falls into a cell is found inside it.
    cumulative = np.concatenate([[0.0], np.cumsum(weight)])
    edges = np.concatenate([[0.0], (_SHARES[1:] + _SHARES[:-1]) / 2, [_SHARES[-1]]])
    tail = (1 - level) / 2
    wide, narrow = np.interp([tail, 1 - tail], cumulative, edges)
    middle = float(np.interp(0.5, cumulative, edges))
    usual = float(np.median(n))
    return {
        "hitters": len(k),
        "league_rate": mean,
        "spread": float(weight @ _SHARES) * float(np.sqrt(mean * (1 - mean))),
        "half_weight_size": 1 / middle**2 - 1,
        "low": 1 / narrow**2 - 1,
        "high": 1 / wide**2 - 1 if wide > _SHARES[0] else np.inf,
        "usual_exposure": usual,
        "own_weight": float(weight @ (usual / (usual + size))),
    }


def _posterior_of_share(k: Floats, n: Floats) -> tuple[float, Floats]:
    """Return the posterior mean of the league's rate, and the weight of each share of the largest spread."""
    from scipy.special import gammaln

    a, b = fit_beta_binomial(k, n)
    centre = np.log(a / b)
    mean = a / (a + b)
    # Means are tried around the likeliest, out to five standard errors of a law of each spread.
    error = np.sqrt((1 / n.sum() + _SHARES**2 / len(k)) / (mean * (1 - mean)))[:, np.newaxis]
    means = 1 / (1 + np.exp(-(centre + error * np.linspace(-5, 5, _MEANS))))
    sizes = (1 / _SHARES**2 - 1)[:, np.newaxis]
    alpha, beta = sizes * means, sizes * (1 - means)

    def rising(start: Floats, values: Floats) -> Floats:
        """Log of the rising factorials, summed over the hitters."""
        steps, times = np.unique(values, return_counts=True)
        total = -gammaln(start) * len(values)
        for step, many in zip(steps, times, strict=True):
            total += many * gammaln(start + step)
        return np.asarray(total)

    # Sizes are shared along rows: the total's factorial needs one column only.
    log_likelihood = rising(alpha, k) + rising(beta, n - k) - rising(sizes, n)
    weight = (
        np.exp(log_likelihood - log_likelihood.max()) * error * means * (1 - means)
    )  # flat on the mean itself
    weight /= weight.sum()
    return float((weight * means).sum()), weight.sum(axis=1)


def _from_two(
    first: Counts,
    second: Counts,
    event: str,
    per: str,
    way: str,
    level: float,
    draws: int,
    rng: np.random.Generator,
) -> dict[str, Any]:
    who, k1, n1, k2, n2 = _joined(first, second, event, per)
    _enough(int(who.max(initial=-1)) + 1, event, per)
    _varies(k1.sum() + k2.sum(), n1.sum() + n2.sum(), event, per)
    a, b = k1 / n1, k2 / n2
    start = float(sum(fit_beta_binomial(k1 + k2, n1 + n2)))
    w = n1 / (n1 + start) * n2 / (n2 + start)
    # Unbiased for p (1 - p): of one attempt, and of the luck in a whole record.
    single_1, single_2 = (k * (n - k) / (n * (n - 1)) for k, n in ((k1, n1), (k2, n2)))
    terms = np.stack(
        [
            w,
            w * a * b,
            w * a,
            w * b,
            w * (a * a - single_1 / n1),
            w * (b * b - single_2 / n2),
            w * (single_1 + single_2) / 2,
            w * w,
        ],
        axis=1,
    )
    spread_squared, single, carried, worth = _moments(terms.sum(axis=0), way)
    size = 1 / worth if worth > 0 else np.inf
    share = w / w.sum()
    deviations = (a - share @ a, b - share @ b)
    luck = (single / n1, single / n2)
    pivot = halves_pivot if way == "halves" else seasons_pivot
    drawn = pivot(who.astype(np.int64), deviations, luck, share, draws, rng) / single
    least, most = np.quantile(drawn, [(1 - level) / 2, (1 + level) / 2])
    low, high = (1 / float(end) if end > 0 else np.inf for end in (most, least))
    usual = float(np.median(np.concatenate([n1, n2])))
    found: dict[str, Any] = {
        "hitters": int(who.max()) + 1,
        "league_rate": float((w @ (a + b)) / (2 * w.sum())),
        "spread": float(np.sqrt(max(spread_squared, 0.0))),
        "half_weight_size": size,
        "low": float(low),
        "high": float(high),
        "usual_exposure": usual,
    }
    if way == "seasons":
        reliable = spread_squared / (spread_squared + single / usual) if spread_squared > 0 else 0.0
        return {**found, "own_weight": max(carried, 0.0) * reliable, "carried": carried}
    return {**found, "own_weight": usual / (usual + size)}


def _moments(sums: Floats, way: str) -> tuple[float, float, float, float]:
    """Return variance of true rates, mean p (1 - p), correlation and 1 / half-weight size from sums."""
    w, ab, a, b, aa, bb, single, ww = (float(total) for total in sums)
    mean_1, mean_2 = a / w, b / w
    # Deviations are from means estimated on the same hitters; w is then a little too many of them.
    hitters = w * w / ww
    lost = hitters / (hitters - 1)
    shared = (ab / w - mean_1 * mean_2) * lost
    single = single / w
    if way == "halves":
        return shared, single, 1.0, shared / single
    variance = ((aa + bb) / w - mean_1**2 - mean_2**2) / 2 * lost
    carried = float(np.clip(shared / variance, -1, 1)) if variance > 0 else 0.0
    return variance, single, carried, variance * (2 * carried - 1) / single


def _joined(first: Counts, second: Counts, event: str, per: str) -> tuple[Floats, ...]:
    """Return hitter, events and exposure of the rows that have two attempts or more in both tables."""
    if first.by != second.by:
        raise CountsError(
            f"the two tables are counted by {first.by} and by {second.by}; count both the same way"
        )
    frames = []
    for number, counts in enumerate((first, second)):
        both = pair(counts, event, per)
        frames.append(
            counts.data[list(counts.by)].assign(
                **{f"k{number}": both.events, f"n{number}": both.measured_exposure}
            )
        )
    joined = frames[0].merge(frames[1], on=list(first.by))
    joined = joined[(joined["n0"] > 1) & (joined["n1"] > 1)]
    who = pd.factorize(joined[first.by[0]])[0].astype(float)
    return who, *(joined[name].to_numpy(float) for name in ("k0", "n0", "k1", "n1"))


def _varies(events: float, exposure: float, event: str, per: str) -> None:
    if not 0 < events < exposure:
        raise CountsError(
            f"{rate_words(event, per)}: {events:,.0f} in {exposure:,.0f}, and a rate that never varies has "
            "no half-weight size"
        )


def _enough(hitters: int, event: str, per: str) -> None:
    if hitters < _FEWEST:
        raise CountsError(
            f"{rate_words(event, per)}: {hitters_text(hitters)} can be used, and fewer than {_FEWEST} say "
            "nothing of how true rates differ"
        )


def _as_shown(sizes: pd.Series[float]) -> pd.Series[float]:
    """Round as they are shown: of equal ones, such as a rate's and its complement's, the listed first."""
    return pd.Series(settled(sizes, 2), index=sizes.index)


def _size_text(value: float) -> str:
    if not np.isfinite(value):
        return "never"
    step = 10 ** max(int(np.floor(np.log10(max(value, 1)))) - 1, 0)  # two figures are more than is known
    return f"{round(value / step) * step:,.0f}"
