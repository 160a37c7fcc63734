"""The law of true rates, averaged over all that it may depend on, by how well each explains the table.

The questions stand in ``hitlab.estimates.questions``; which answers to them matter is found by
``hitlab.estimates.answers``. Every answer that is left is fitted with the law integrated out, and weighs by
the probability that it gave to the table; nothing is chosen by looking at the errors of a prediction. Answers
that weigh less than a thousandth of the best are left out.

Last the shape of the law is asked about (``hitlab.estimates.shapes``), under the answers that are left; of
fewer than twelve groups it is taken to be the plain one, for so few tell no shape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.estimates.answers import (
    LEAST,
    OFF,
    Chosen,
    Offset,
    Search,
    design_of,
    factors_of,
    records_of,
    some_of,
)
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.prior_laws import (
    LARGEST_R,
    Laws,
    ShapeTable,
    Stated,
    heaviest,
    integrate,
    logistic,
    of_shapes,
)
from hitlab.estimates.questions import Part, SpreadPart
from hitlab.estimates.shapes import FEW_SHAPES, PLAIN, SHAPES, Shape
from hitlab.rounding import settled

__all__ = ["HARDLY", "TELLS", "Averaged", "OwnSpreads", "average"]

Floats = NDArray[np.float64]

TELLS, HARDLY = 0.8, 0.2
"""Chance from which something is said to matter, and up to which it was not found to; between, it may."""

_FEWEST_FOR_SHAPES, _FEW_FOR_SHAPES = 12, 60  # groups: for any, for all shapes
_BANDS = 4  # of spread, on the path along which laws are thinned
_FEWEST_LAWS, _MOST_LAWS = 60, 600  # of all shapes, where there are many groups and where there are few
_LAWS_TIMES_GROUPS = 18_000  # between these: what is reckoned with them costs about the same
_RIDGE = 1e-3  # of the equations for the weights, whose numbers are about 1
_MOST_PAIRS = 40  # combinations with a shape that stand for all
_FEW_ANSWERS, _LITTLE = 4, 0.1  # of more, those that weigh little get few laws


@dataclass(frozen=True, slots=True)
class OwnSpreads:
    """What was found of the spreads of groups.

    Attributes
    ----------
    name, levels
        As in ``SpreadPart``.
    chance
        That they do not all have one spread.
    spreads
        Standard deviation of the true rates around their means in each of the groups, and in the others.
    """

    name: str
    levels: tuple[str, ...]
    chance: float
    spreads: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Averaged:
    """All laws of all answers that matter.

    Attributes
    ----------
    weights
        Shape (laws,).
    sizes
        Shape (laws, groups), or (laws, 1) where all groups have laws of one spread: sums of the two
        parameters of the Beta laws.
    means
        Shape (laws, groups), or (laws, 1) where all groups have one mean.
    earlier_events, earlier_exposure
        Shape (laws, groups) or (laws, 1): earlier counts as far as they count.
    weighed
        One row an answer: ``part`` and ``option`` in words, the ``kind`` of question (a ``Kind``), whether
        the answer is ``nothing``, and its ``chance``.
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
    own_spreads
        ``None`` where it was not asked.
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
    own_spreads: OwnSpreads | None = None

    def posterior(self, k: Any, n: Any) -> Posterior:
        """Return what is known of the true rates behind these counts."""
        k, n = np.asarray(k, dtype=float), np.asarray(n, dtype=float)
        return self.before().for_groups(len(k)).after(np.arange(len(k)), k, n - k)

    @property
    def telling(self) -> tuple[str, ...]:
        """Names of the groups and numbers that tell something of the rate, at four fifths or more."""
        if self.weighed.empty:
            return ()
        doubted = self.weighed[self.weighed["nothing"] & self.weighed["kind"].isin(["groups", "covariate"])]
        return tuple(doubted["part"][doubted["chance"] <= 1 - TELLS])

    def own_weight(self, n: Any) -> Floats:
        """Return the share that records of these exposures have in the posterior means."""
        n = np.asarray(n, dtype=float)
        return np.asarray(self.weights @ (n / (n + self.sizes + self.earlier_exposure)))

    def before(self) -> Posterior:
        """Return what is expected of each group before this table's record is seen."""
        shapes = self.shape_of_law or (PLAIN,) * len(self.weights)
        ends = [i for i in range(1, len(shapes)) if shapes[i] is not shapes[i - 1]]
        every_a, every_b, every_share = [], [], []
        for start, end in pairwise([0, *ends, len(shapes)]):
            some, shape = slice(start, end), shapes[start]
            size = self.sizes[some]
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
_Fitted = tuple[Chosen, Shape, Laws, float]  # answers, shape, laws, log weight


def average(k: Any, n: Any, parts: Sequence[Part | SpreadPart], stated: Stated | None = None) -> Averaged:
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
    search = Search(k, n, stated)
    chosen: list[Offset] = [((), 0.0)]
    asked: list[Part] = []
    for part in parts:
        for one in search.spread_parts(chosen, part) if isinstance(part, SpreadPart) else [part]:
            chosen = search.narrowed(chosen, one)
            asked.append(one)
    rough = np.array([search.value(one) + offset for one, offset in chosen])
    share = np.exp(rough - rough.max())
    few = (share / share.sum() < _LITTLE) & (len(chosen) > _FEW_ANSWERS)
    found: list[_Fitted] = []
    for (answers, offset), little in zip(chosen, few, strict=True):
        law = integrate(records_of(k, n, answers), stated, search.likely(answers) if little else None)
        prior = sum(float(np.log(option.prior)) for option in answers)
        found.append((answers, PLAIN, law, law.log_evidence + prior + offset))
    best = max(v for *_, v in found)
    found = [one for one in found if one[3] > best + np.log(LEAST)]
    if (n > 0).sum() >= _FEWEST_FOR_SHAPES:
        found = _with_shapes(k, n, found, stated)
    value = np.array([v for *_, v in found])
    share = np.exp(value - value.max())
    own = next((part for part in parts if isinstance(part, SpreadPart)), None)
    return _put_together(k, n, asked, found, share / share.sum(), own)


def _with_shapes(k: Floats, n: Floats, plain: list[_Fitted], stated: Stated | None) -> list[_Fitted]:
    """Add the shapes that matter: all are tried under the likeliest answers, those left under the others.

    How likely a shape is beside the plain law hardly depends on the answers. Of many answers, some of the
    pairs of answers and shapes are fitted.
    """
    shapes = (SHAPES if (n > 0).sum() >= _FEW_FOR_SHAPES else FEW_SHAPES)[1:]
    plain = sorted(plain, key=lambda one: -one[3])
    tables = dict[str, ShapeTable]()
    first, _, first_law, best = plain[0]
    tried = of_shapes(records_of(k, n, first), first_law, shapes, stated, first_law.log_evidence, tables)
    found = [(first, PLAIN, first_law, best + np.log(PLAIN.prior))]
    for shape, law in tried:
        found.append(
            (first, shape, law, best + np.log(shape.prior) + law.log_evidence - first_law.log_evidence)
        )
    worth = {shape: value - best for _, shape, _, value in found}
    best = max(v for *_, v in found)
    pairs = [
        (place, shape, value + more)
        for place, (*_, value) in enumerate(plain)
        for shape, more in worth.items()
        if place and value + more > best + np.log(LEAST)
    ]
    kept, offset = some_of(np.array([v for *_, v in pairs]), _MOST_PAIRS)
    weighs_more = {(pairs[i][0], pairs[i][1]): x for i, x in zip(kept, offset, strict=True)}
    for place, (chosen, _, law, value) in enumerate(plain):
        mine = {shape: x for (where, shape), x in weighs_more.items() if where == place}
        if PLAIN in mine:
            found.append((chosen, PLAIN, law, value + np.log(PLAIN.prior) + mine[PLAIN]))
        asked = [shape for shape in shapes if shape in mine]
        fitted = (
            of_shapes(
                records_of(k, n, chosen),
                law,
                asked,
                stated,
                best - value + law.log_evidence,
                tables,
                first_law.log_evidence,
            )
            if asked
            else []
        )
        for shape, one in fitted:
            beside = value + np.log(shape.prior) + one.log_evidence - law.log_evidence
            found.append((chosen, shape, one, beside + mine[shape]))
        best = max(v for *_, v in found)
    return sorted(
        (one for one in found if one[3] > best + np.log(LEAST)), key=lambda one: _ORDER.index(one[1].name)
    )


def _put_together(
    k: Floats,
    n: Floats,
    parts: Sequence[Part],
    found: list[_Fitted],
    share: Floats,
    own: SpreadPart | None,
) -> Averaged:
    chosen = [one for one, _, _, _ in found]
    shapes, laws = [shape for _, shape, _, _ in found], [law for _, _, law, _ in found]
    weights = np.concatenate([s * law.weights for s, law in zip(share, laws, strict=True)])
    whose = np.repeat(np.arange(len(laws)), [len(law.weights) for law in laws])
    if (n > 0).sum() >= _FEWEST_FOR_SHAPES:
        few = int(np.clip(_LAWS_TIMES_GROUPS // (n > 0).sum(), _FEWEST_LAWS, _MOST_LAWS))
        weights = _thinned(
            weights, *_what_differs(found, whose, n, None if own is None else own.members), few
        )
    kept = heaviest(weights)
    whose = whose[kept]
    factors = [factors_of(one) for one in chosen]
    wide = np.concatenate([law.r for law in laws])[kept][:, np.newaxis]
    if any(len(one) > 1 for one in factors):
        each = np.array([np.broadcast_to(one, len(k)) for one in factors])
        wide = np.minimum(wide * each[whose], LARGEST_R)
    plain = all(option.columns is None for one in chosen for option in one)
    means, events, exposure = [], [], []
    for i, (one, law) in enumerate(zip(chosen, laws, strict=True)):
        mine = kept[whose == i] - sum(len(other.weights) for other in laws[:i])
        design = np.ones((1, 1)) if plain else design_of(len(k), one)
        means.append(logistic(law.coefficients[mine] @ design.T))
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
            part.kind,
            option.words,
            option.nothing,
            float(sum(s for s, one in zip(share, chosen, strict=True) if option in one)),
        )
        for part in parts
        for option in part.options
    ]
    worth = sum(s * sum(option.worth for option in one) for s, one in zip(share, chosen, strict=True))
    return Averaged(
        weights[kept] / weights[kept].sum(),
        1 / wide**2 - 1,
        mean,
        np.concatenate(events),
        np.concatenate(exposure),
        pd.DataFrame(rows, columns=["part", "kind", "option", "nothing", "chance"]),
        float(share @ np.array([law.luck_factor for law in laws])),
        (
            scale
            * np.concatenate(
                [
                    law.table_r * np.sqrt((one[n > 0] ** 2 if len(one) > 1 else one).mean())
                    for one, law in zip(factors, laws, strict=True)
                ]
            ),
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
        None
        if own is None
        else OwnSpreads(
            own.name,
            own.levels,
            float(sum(s for s, one in zip(share, factors, strict=True) if len(one) > 1)),
            _spreads_of(own.members, weights[kept] / weights[kept].sum(), mean, wide),
        ),
    )


def _spreads_of(members: NDArray[np.bool_], weights: Floats, mean: Floats, r: Floats) -> tuple[float, ...]:
    """Return how far the true rates of each group differ, and those of the others."""
    square = np.broadcast_to(weights @ (r**2 * mean * (1 - mean)), members.shape[1])
    groups = (*members, ~members.any(axis=0))
    return tuple(float(np.sqrt(square[one].mean())) for one in groups if one.any())


def _what_differs(
    found: list[_Fitted], whose: NDArray[np.intp], n: Floats, members: NDArray[np.bool_] | None
) -> tuple[Floats, Floats, Floats]:
    """Return the spread of each law, levels of its mean on the logit scale, and what else it is.

    The levels, shape (laws, places), are those of somebody with few, with a middling number and with many
    attempts; where groups may have laws of their own, that of all. The rest, shape (laws, columns): each
    group's level, link with exposure and spread, what earlier attempts are worth, and the kind of shape.
    """
    laws = [law for _, _, law, _ in found]
    worth = np.array([sum(option.worth for option in one) for one, *_ in found])[whose]
    kinds = sorted({shape.kind for _, shape, _, _ in found})
    kind = np.array([kinds.index(shape.kind) for _, shape, _, _ in found])[whose]
    rest = [worth, *(kind == i for i in range(1, len(kinds)))]
    asked = _of_exposures(n) if members is None else _of_members(members, n)
    told = np.concatenate(
        [
            law.coefficients @ (asked @ design_of(len(n), one)).T
            for (one, *_), law in zip(found, laws, strict=True)
        ]
    )
    levels = told if members is None else told[:, :1]
    if members is not None:
        factors = [factors_of(one) for one, *_ in found]
        places = [np.flatnonzero(one)[0] for one in members]
        wide = np.log([np.broadcast_to(one, len(n))[places] for one in factors])
        rest = [*told[:, 1:].T, *rest, *wide[whose].T]
    return np.concatenate([law.r for law in laws]), levels, np.column_stack(rest).astype(float)


def _of_exposures(n: Floats) -> Floats:
    """Return rows of weights that pick somebody with a middling number of attempts, with few, with many."""
    there = np.flatnonzero(n > 0)
    ordered = there[np.argsort(n[there], kind="stable")]
    rows = np.zeros((3, len(n)))
    for row, share in enumerate((0.5, 0.02, 0.98)):
        rows[row, ordered[int(share * (len(ordered) - 1))]] = 1
    return rows


def _of_members(members: NDArray[np.bool_], n: Floats) -> Floats:
    """Return rows of weights: of all, of each group, and of those with many less those with few in it."""
    rows = [np.full(len(n), 1 / len(n))]
    for one in (~members.any(axis=0), *members):
        if one.any():
            many = one & (n > np.median(n[one]))
            few = one & ~many
            rows += [one / one.sum(), many / max(many.sum(), 1) - few / few.sum()]
    return np.array(rows)


def _thinned(weights: Floats, r: Floats, levels: Floats, rest: Floats, wanted: int) -> Floats:
    """Let fewer laws stand for all.

    They are put on a path from law to similar law: by bands of spread, within a band by the first level, to
    and fro. At equal steps along their summed weight one is taken. Their weights are then changed, as little
    as need be, until spread, levels (their squares, and each level times the spread) and the rest are on
    average what they are over all laws.

    Parameters
    ----------
    weights, r, levels, rest
        Weights, and what ``_what_differs`` gives.
    wanted
        How many laws at most.
    """
    weights = weights / weights.sum()
    if len(weights) <= wanted:
        return weights
    by_r = np.argsort(settled(r), kind="stable")
    band = (np.cumsum(weights[by_r]) * _BANDS * (1 - OFF)).astype(int)
    path = by_r[np.lexsort((settled(np.where(band % 2, -1, 1) * levels[by_r, 0]), band))]
    passed = np.cumsum(weights[path])
    taken = path[np.searchsorted(passed / passed[-1], (np.arange(wanted) + 0.5 - OFF) / wanted)]
    thinned = np.bincount(taken, minlength=len(weights)) / wanted
    x, *others = (_in_deviations(one, weights) for one in (np.log(r), *levels.T, *rest.T))
    y = np.column_stack(others[: levels.shape[1]])
    told = np.column_stack([np.ones(len(x)), x, x**2, y, x[:, np.newaxis] * y, y**2, *others[y.shape[1] :]])
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
