"""What the mean of the true rates may depend on, each possibility weighed by how well it explains the table.

A part is one question (does exposure tell something of the rate? do the groups differ? how much is an earlier
season worth?) with its possible answers. Every answer is fitted with the law integrated out, and
weighs by the probability that it gave to the table; nothing is chosen by looking at the errors of a
prediction. Answers that weigh less than a thousandth of the best are left out.

The default, fixed before any result was seen: whether exposure matters is even money; if it does, a straight
and a bent line in the logarithm of exposure are equally likely. Last the shape of the law is asked about
(``hitlab.estimates.shapes``), under the answers that are left; of fewer than twelve groups it is taken to be
the plain one, for so few tell no shape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.errors import CountsError
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.prior_laws import (
    Laws,
    Records,
    ShapeTable,
    Stated,
    heaviest,
    integrate,
    of_shapes,
)
from hitlab.estimates.shapes import FEW_SHAPES, PLAIN, SHAPES, Shape
from hitlab.rounding import settled

__all__ = [
    "Averaged",
    "Option",
    "Part",
    "average",
    "covariate_part",
    "earlier_part",
    "exposure_part",
    "group_part",
]

Floats = NDArray[np.float64]

_USUAL_DEVIATION = 0.5  # of log exposure
_LEAST = 1e-3  # of the best answer's weight
_FEWEST_FOR_SHAPES, _FEW_FOR_SHAPES = 12, 60  # groups: for any, for all shapes
_BANDS = 4  # of spread, on the path along which laws are thinned
_MOST_LAWS, _FEWER_LAWS = 120, 60  # of all shapes, and where there are many groups
_MANY_GROUPS = 300
_RIDGE = 1e-3  # of the equations for the weights, whose numbers are about 1
_OFF = 1e-7  # beside a border on which sums may lie, by symmetry
_COMPRESS = 2_000  # records from which equal ones are put together
_EARLIER_WEIGHTS = (0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1.0)
_FADES = (0.4, 0.7, 1.0)  # the next earlier season against the one after it
_GROUP_SCALES = (0.3, 1.0, 3.0)  # differences of groups, in units of the spread within them


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One answer: columns for the mean (or earlier counts), and its probability before the table is seen."""

    words: str
    prior: float
    columns: Floats | None = None
    scale: float = 1.0
    earlier_events: Floats | None = None
    earlier_exposure: Floats | None = None
    worth: float = 0.0


@dataclass(frozen=True, slots=True)
class Part:
    """One question with its answers; the first is "it does not matter" where that is possible."""

    name: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class Averaged:
    """All laws of all answers that matter.

    Attributes
    ----------
    weights, sizes
        Shape (laws,).
    means
        Shape (laws, groups), or (laws, 1) where all groups have one mean.
    earlier_events, earlier_exposure
        Shape (laws, groups) or (laws, 1): earlier counts as far as they count.
    weighed
        One row an answer: ``part``, ``option``, ``chance``.
    luck_factor
        See ``Laws``; averaged.
    spread_table
        Two arrays: standard deviations of the true rates around their means, and their masses.
    worth
        Posterior mean of what an attempt of the last earlier season is worth.
    shapes
        One row a shape of the law that is possible: ``shape``, ``kind``, ``chance``.
    shape_of_law
        Each law's shape, those of one shape and answer side by side; empty: all are plain.
    """

    weights: Floats
    sizes: Floats
    means: Floats
    earlier_events: Floats
    earlier_exposure: Floats
    weighed: pd.DataFrame
    luck_factor: float
    spread_table: tuple[Floats, Floats]
    worth: float
    shapes: pd.DataFrame = field(default_factory=pd.DataFrame)
    shape_of_law: tuple[Shape, ...] = ()

    def posterior(self, k: Any, n: Any) -> Posterior:
        """Return what is known of the true rates behind these counts."""
        k, n = np.asarray(k, dtype=float), np.asarray(n, dtype=float)
        return self.before().for_groups(len(k)).after(np.arange(len(k)), k, n - k)

    def before(self) -> Posterior:
        """Return what is expected of each group before this table's record is seen."""
        shapes = self.shape_of_law or (PLAIN,) * len(self.weights)
        ends = [i for i in range(1, len(shapes)) if shapes[i] is not shapes[i - 1]]
        every_a, every_b, every_share = [], [], []
        for start, end in pairwise([0, *ends, len(shapes)]):
            some, shape = slice(start, end), shapes[start]
            size = self.sizes[some, np.newaxis]
            means, sizes = shape.parts(self.means[some], 1 / np.sqrt(size + 1))
            a = (means * sizes).swapaxes(1, 2)  # (laws, parts, groups)
            b = ((1 - means) * sizes).swapaxes(1, 2)
            events, exposure = self.earlier_events[some, np.newaxis], self.earlier_exposure[some, np.newaxis]
            shares = np.broadcast_to(shape.shares[:, np.newaxis], (*a.shape[:2], 1))
            every_a.append((a + events).reshape(-1, max(a.shape[2], events.shape[2])))
            every_b.append((b + exposure - events).reshape(every_a[-1].shape))
            if len(shape.shares) > 1 and exposure.any():
                shares = _told_by(a, b, events, exposure - events, shares)
            every_share.append(shares.reshape(-1, shares.shape[2]))
        a, b = (np.concatenate(_as_wide(each)) for each in (every_a, every_b))
        if all(len(shape.shares) == 1 for shape in shapes):
            return Posterior(self.weights, a, b)
        count = np.array([len(shape.shares) for shape in shapes])
        return Posterior(self.weights, a, b, np.concatenate(_as_wide(every_share)), np.cumsum(count) - count)


def _told_by(a: Floats, b: Floats, events: Floats, others: Floats, shares: Floats) -> Floats:
    """Return the shares of the parts once earlier counts are seen; parts along the middle axis."""
    from scipy.special import betaln

    told = betaln(a + events, b + others) - betaln(a, b)
    shares = shares * np.exp(told - told.max(axis=1, keepdims=True))
    return np.asarray(shares / shares.sum(axis=1, keepdims=True))


def _as_wide(arrays: list[Floats]) -> list[Floats]:
    """Spread arrays of one column to as many as the widest has."""
    width = max(one.shape[1] for one in arrays)
    return [np.broadcast_to(one, (len(one), width)) for one in arrays]


_ORDER = [shape.name for shape in SHAPES]
_Chosen = tuple[Option, ...]
_Fitted = tuple[_Chosen, Shape, Laws, float]  # answers, shape, laws, log weight


def average(k: Any, n: Any, parts: Sequence[Part], stated: Stated | None = None) -> Averaged:
    """Fit every combination of answers that matters, and average over them.

    Parameters
    ----------
    k, n
        Counts by group.
    parts
        The questions, in the order in which they are put: combinations that an earlier question has
        ruled out are not fitted again.
    stated
        What is known of the law from outside.
    """
    k, n = np.asarray(k, dtype=float), np.asarray(n, dtype=float)
    fitted: dict[tuple[int, ...], Laws] = {}

    def fit(chosen: _Chosen) -> Laws:
        key = tuple(id(one) for one in chosen if one.columns is not None or one.earlier_exposure is not None)
        if key not in fitted:
            fitted[key] = integrate(_records(k, n, chosen), stated)
        return fitted[key]

    chosen: list[_Chosen] = [()]
    for part in parts:
        tried = [(*before, option) for before in chosen for option in part.options]
        value = _values(tried, [fit(one) for one in tried])
        chosen = [one for one, v in zip(tried, value, strict=True) if v > value.max() + np.log(_LEAST)]
    laws = [fit(one) for one in chosen]
    value = _values(chosen, laws)
    found = [(one, PLAIN, law, v) for one, law, v in zip(chosen, laws, value, strict=True)]
    if (n > 0).sum() >= _FEWEST_FOR_SHAPES:
        found = _with_shapes(k, n, found, stated)
    value = np.array([v for *_, v in found])
    share = np.exp(value - value.max())
    return _put_together(k, n, parts, found, share / share.sum())


def _with_shapes(k: Floats, n: Floats, plain: list[_Fitted], stated: Stated | None) -> list[_Fitted]:
    """Add the shapes that matter: all are tried under the likeliest answers, those left under the others."""
    found: list[_Fitted] = []
    shapes = (SHAPES if (n > 0).sum() >= _FEW_FOR_SHAPES else FEW_SHAPES)[1:]
    worth = np.zeros(len(shapes))
    best, tables = max(v for *_, v in plain), dict[str, ShapeTable]()
    made_under: float | None = None
    for chosen, _, law, value in sorted(plain, key=lambda one: -one[3]):
        # How likely a shape is beside the plain law hardly depends on the answer.
        tried = [shape for shape, w in zip(shapes, worth, strict=True) if value + w > best + np.log(_LEAST)]
        known_best = best - value + law.log_evidence
        fitted = (
            of_shapes(_records(k, n, chosen), law, tried, stated, known_best, tables, made_under)
            if tried
            else []
        )
        made_under = law.log_evidence if made_under is None else made_under
        mine = [(chosen, PLAIN, law, value + np.log(PLAIN.prior))]
        mine += [
            (chosen, shape, one, value + np.log(shape.prior) + one.log_evidence - law.log_evidence)
            for shape, one in fitted
        ]
        if not found:
            known = {shape: v - value for _, shape, _, v in mine}
            worth = np.array([known.get(shape, -np.inf) for shape in shapes])
        found += mine
        best = max(v for *_, v in found)
    return sorted(
        (one for one in found if one[3] > best + np.log(_LEAST)), key=lambda one: _ORDER.index(one[1].name)
    )


def _values(chosen: Sequence[_Chosen], laws: Sequence[Laws]) -> Floats:
    return np.array(
        [
            law.log_evidence + sum(np.log(option.prior) for option in one)
            for one, law in zip(chosen, laws, strict=True)
        ]
    )


def _records(k: Floats, n: Floats, chosen: _Chosen) -> Records:
    columns = [option.columns for option in chosen if option.columns is not None]
    scales = [np.full(c.shape[1], o.scale) for o in chosen if (c := o.columns) is not None]
    earlier = next((option for option in chosen if option.earlier_exposure is not None), None)
    nothing = np.zeros(len(k))
    design = np.column_stack([np.ones(len(k)), *columns])
    events, exposure = nothing, nothing
    if earlier is not None and earlier.earlier_events is not None and earlier.earlier_exposure is not None:
        events, exposure = earlier.earlier_events, earlier.earlier_exposure
    every = np.concatenate([[np.inf], *scales])
    times = np.ones(len(k))
    if len(k) >= _COMPRESS:
        rows = np.column_stack([k, n, design[:, 1:], *([events, exposure] if earlier else [])])
        # A random projection names a row; that equal names are equal rows is then looked at.
        name = rows @ np.random.default_rng(0).random(rows.shape[1])
        _, first, same, count = np.unique(name, return_index=True, return_inverse=True, return_counts=True)
        if len(first) < 0.8 * len(k) and np.array_equal(rows[first][same], rows):
            times = count.astype(float)
            k, n, design = k[first], n[first], design[first]
            events, exposure = events[first], exposure[first]
    there = n > 0
    return Records(k[there], n[there], times[there], design[there], every, events[there], exposure[there])


def _put_together(
    k: Floats, n: Floats, parts: Sequence[Part], found: list[_Fitted], share: Floats
) -> Averaged:
    from scipy.special import expit

    chosen = [one for one, _, _, _ in found]
    shapes, laws = [shape for _, shape, _, _ in found], [law for _, _, law, _ in found]
    weights = np.concatenate([s * law.weights for s, law in zip(share, laws, strict=True)])
    whose = np.repeat(np.arange(len(laws)), [len(law.weights) for law in laws])
    if (n > 0).sum() >= _FEWEST_FOR_SHAPES:
        few = _MOST_LAWS if (n > 0).sum() < _MANY_GROUPS else _FEWER_LAWS
        weights = _thinned(weights, *_what_differs(found, whose), few)
    kept = heaviest(weights)
    whose = whose[kept]
    sizes = np.concatenate([law.sizes for law in laws])[kept]
    plain = all(option.columns is None for one in chosen for option in one)
    means, events, exposure = [], [], []
    for i, (one, law) in enumerate(zip(chosen, laws, strict=True)):
        mine = kept[whose == i] - sum(len(other.weights) for other in laws[:i])
        columns = [option.columns for option in one if option.columns is not None]
        design = np.ones((1, 1)) if plain else np.column_stack([np.ones(len(k)), *columns])
        means.append(expit(law.coefficients[mine] @ design.T))
        for option in one:
            if option.earlier_events is not None and option.earlier_exposure is not None:
                events.append(np.tile(option.earlier_events, (len(mine), 1)))
                exposure.append(np.tile(option.earlier_exposure, (len(mine), 1)))
                break
        else:
            width = len(k) if any(o.earlier_events is not None for c in chosen for o in c) else 1
            events.append(np.zeros((len(mine), width)))
            exposure.append(np.zeros((len(mine), width)))
    mean = np.concatenate(means)
    pooled = float((k.sum() + 0.5) / (n.sum() + 1))
    scale = np.sqrt(pooled * (1 - pooled))
    rows = [
        (
            part.name,
            option.words,
            float(sum(s for s, one in zip(share, chosen, strict=True) if option in one)),
        )
        for part in parts
        for option in part.options
    ]
    worth = sum(s * sum(option.worth for option in one) for s, one in zip(share, chosen, strict=True))
    return Averaged(
        weights[kept] / weights[kept].sum(),
        sizes,
        mean,
        np.concatenate(events),
        np.concatenate(exposure),
        pd.DataFrame(rows, columns=["part", "option", "chance"]),
        float(share @ np.array([law.luck_factor for law in laws])),
        (
            scale * np.concatenate([law.table_r for law in laws]),
            np.concatenate([s * law.table_mass for s, law in zip(share, laws, strict=True)]),
        ),
        float(worth),
        pd.DataFrame(
            [
                (
                    shape.name,
                    shape.kind,
                    float(sum(s for s, one in zip(share, shapes, strict=True) if one.name == shape.name)),
                )
                for shape in SHAPES
            ],
            columns=["shape", "kind", "chance"],
        ),
        tuple(shapes[i] for i in whose),
    )


def _what_differs(found: list[_Fitted], whose: NDArray[np.intp]) -> tuple[Floats, Floats, Floats]:
    """Return the spread of each law and the level of its mean, on the logit scale, and what else it is.

    The rest, shape (laws, columns): the link with the first covariate, what earlier attempts are worth, and
    the kind of shape.
    """
    laws = [law for _, _, law, _ in found]
    level = np.concatenate([law.coefficients[:, 0] for law in laws])
    slope = np.concatenate([law.coefficients[:, 1:2].sum(axis=1) for law in laws])  # 0 without a covariate
    worth = np.array([sum(option.worth for option in one) for one, *_ in found])[whose]
    kinds = sorted({shape.kind for _, shape, _, _ in found})
    kind = np.array([kinds.index(shape.kind) for _, shape, _, _ in found])[whose]
    rest = [slope, worth, *(kind == i for i in range(1, len(kinds)))]
    return np.concatenate([law.r for law in laws]), level, np.column_stack(rest).astype(float)


def _thinned(weights: Floats, r: Floats, level: Floats, rest: Floats, wanted: int) -> Floats:
    """Let fewer laws stand for all.

    They are put on a path from law to similar law: by bands of spread, within a band by the mean, to and fro.
    At equal steps along their summed weight one is taken. Their weights are then changed, as little as need
    be, until spread, level (and their squares) and the rest are on average what they are over all laws.

    Parameters
    ----------
    weights, r, level, rest
        Weights, and what ``_what_differs`` gives.
    wanted
        How many laws at most.
    """
    weights = weights / weights.sum()
    if len(weights) <= wanted:
        return weights
    by_r = np.argsort(settled(r), kind="stable")
    band = (np.cumsum(weights[by_r]) * _BANDS * (1 - _OFF)).astype(int)
    path = by_r[np.lexsort((settled(np.where(band % 2, -1, 1) * level[by_r]), band))]
    passed = np.cumsum(weights[path])
    taken = path[np.searchsorted(passed / passed[-1], (np.arange(wanted) + 0.5 - _OFF) / wanted)]
    thinned = np.bincount(taken, minlength=len(weights)) / wanted
    x, y, *others = (_in_deviations(one, weights) for one in (np.log(r), level, *rest.T))
    told = np.column_stack([np.ones(len(x)), x, y, x**2, x * y, y**2, *others])
    there = np.flatnonzero(thinned)
    some = told[there]
    normal = (some.T * thinned[there]) @ some + _RIDGE * np.eye(some.shape[1])
    factor = 1 + some @ np.linalg.solve(normal, weights @ told - thinned @ told)
    thinned[there] *= np.maximum(factor, 0.0)
    return np.asarray(thinned / thinned.sum())


def _in_deviations(x: Floats, weights: Floats) -> Floats:
    """Return numbers in standard deviations from their mean; zeros where they do not vary."""
    off = x - weights @ x
    deviation = np.sqrt(weights @ off**2)
    return np.asarray(off / deviation) if deviation > 1e-12 else np.zeros(len(x))


def exposure_part(exposure: Any, by_exposure: bool | str) -> Part | None:
    """Return the question whether exposure tells something of the rate; none where all have the same.

    A group without exposure stands where the smallest exposure does.
    """
    n = np.asarray(exposure, dtype=float)
    if by_exposure is False or not (n > 0).any():
        return None
    log_n = np.log(np.where(n > 0, n, n[n > 0].min()))
    deviation = log_n[n > 0].std()
    if deviation < 1e-9:
        return None
    # Exposures are measured in standard deviations of their logarithms, but where everybody has nearly the
    # same exposure that unit is tiny, and the prior would then allow a large effect of a few swings more.
    # So the unit is never less than a factor of 1.65.
    apart = min(deviation / _USUAL_DEVIATION, 1.0)
    z = (log_n - log_n[n > 0].mean()) / deviation
    bent = z**2 - (z[n > 0] ** 2).mean()
    deviation = bent[n > 0].std()
    options = [
        Option("no link with exposure", 0.5),
        Option("a straight line in log exposure", 0.25, apart * z[:, np.newaxis]),
    ]
    if deviation > 1e-6 and len(np.unique(n[n > 0])) > 2:
        both = np.column_stack([apart * z, apart**2 * bent / deviation])
        options.append(Option("a bent line in log exposure", 0.25, both))
    return Part("exposure", tuple(options[1:] if by_exposure is True else options))


def group_part(name: str, values: pd.Series[Any]) -> Part | None:
    """Return the question whether the members of groups differ in the mean; none where there is one group.

    Each group's deviation is normal around 0 (partial pooling); its size is one of three, or nothing. Members
    whose group is missing stand at the mean of all.
    """
    code, levels = pd.factorize(values)
    if len(levels) < 2:
        return None
    columns = (code[:, np.newaxis] == np.arange(len(levels))).astype(float)
    each = 0.5 / len(_GROUP_SCALES)
    options = [Option(f"no difference by {name}", 0.5)]
    options += [
        Option(f"by {name}, {scale:g} times the spread within", each, columns, scale)
        for scale in _GROUP_SCALES
    ]
    return Part(name, tuple(options))


def covariate_part(name: str, values: pd.Series[Any]) -> Part | None:
    """Return the question whether a number tells something of the rate; none where it does not vary.

    The number enters in units of its standard deviation; missing ones stand at the mean.
    """
    number = pd.to_numeric(values, errors="coerce").to_numpy(float)
    known = np.isfinite(number)
    if not known.any() or number[known].std() < 1e-12:
        return None
    z = np.where(known, (number - number[known].mean()) / number[known].std(), 0.0)
    return Part(
        name,
        (Option(f"no link with {name}", 0.5), Option(f"a line in {name}", 0.5, z[:, np.newaxis])),
    )


def earlier_part(k: Any, n: Any, seasons: Sequence[tuple[Floats, Floats]]) -> Part:
    """Return the question what an attempt of the hitter's own earlier seasons is worth.

    Parameters
    ----------
    k, n
        This season's counts.
    seasons
        Events and exposure of each earlier season, the last one first, in the same order of hitters;
        0 where he did not play.

    Notes
    -----
    An attempt of the last season counts ``w`` of one of this season, one of the season before ``w f``, then
    ``w f**2``; both numbers are weighed on a grid. Each season's rates are first moved on the logit scale so
    that the hitters who were in both seasons have the same mean in both.
    """
    k, n = np.asarray(k, dtype=float), np.asarray(n, dtype=float)
    moved = [_moved(k, n, events, exposure) for events, exposure in seasons]
    if not any(exposure.any() for _, exposure in moved):
        raise CountsError(
            "nobody in the earlier table is in this one; the columns that name a hitter must agree"
        )
    fades = _FADES if len(moved) > 1 else (1.0,)
    options = [Option("earlier seasons count nothing", 0.5)]
    for weight in _EARLIER_WEIGHTS:
        for fade in fades:
            factors = [weight * fade**j for j in range(len(moved))]
            events = sum((f * m[0] for f, m in zip(factors, moved, strict=True)), np.zeros(len(k)))
            exposure = sum((f * m[1] for f, m in zip(factors, moved, strict=True)), np.zeros(len(k)))
            words = f"last season's counts {weight:g}"
            if len(moved) > 1:
                words += f", each season before {fade:g} of the next"
            prior = 0.5 / (len(_EARLIER_WEIGHTS) * len(fades))
            options.append(
                Option(words, prior, earlier_events=events, earlier_exposure=exposure, worth=weight)
            )
    return Part("earlier seasons", tuple(options))


def _moved(k: Floats, n: Floats, events: Floats, exposure: Floats) -> tuple[Floats, Floats]:
    both = (n > 0) & (exposure > 0)
    if not both.any():
        return events, exposure

    def log_odds(events: Floats, exposure: Floats) -> float:
        hits, misses = events[both].sum() + 0.5, (exposure - events)[both].sum() + 0.5
        return float(np.log(hits / misses))

    factor = np.exp(log_odds(k, n) - log_odds(events, exposure))
    with np.errstate(invalid="ignore", divide="ignore"):
        rate = np.where(exposure > 0, events / exposure, 0.0)
    return exposure * rate * factor / (1 - rate + rate * factor), exposure
