"""Integrating over what is not known of the law of true rates.

The law: the true rate of a group follows a Beta law whose mean is logistic in the group's covariates (none:
one mean for all) and whose standard deviation is ``r * sqrt(mean * (1 - mean))``; ``r`` is shared by all and
lies from 0 (one rate for all) to 1 / sqrt(3) (no law of true rates is taken to be wider than the flat
one).

What is assumed of the law before the table is seen: flat on its mean, and flat on ``r``, so on the
standard deviation. Coefficients of covariates are normal around 0, their standard deviations in units of
the law's own spread on the logit scale: a covariate is supposed to explain about as much of the differences
between groups as everything else together, or less. Where hardly an event, or hardly a miss, was counted,
that spread is not known, and is taken to be a unit of the logit scale at most.

How it is integrated: at each ``r`` the coefficients are close to normal around the solution of
the quasi-likelihood equations; nodes of a Gauss rule placed there carry the exact likelihood as weight. Over
``r`` the posterior is tabulated where it is not negligible, and the Gauss rule that belongs to that very
table (Golub & Welsch 1969, Math. Comp. 23:221-230) leaves a few laws which integrate any polynomial in
``r`` of twice their number exactly. The same table gives the same laws every time.

Groups of hitters may have spreads of their own: ``r`` is then that of one group, and each of the others has
it times a factor.

Shapes other than the Beta law (``hitlab.estimates.shapes``) share its coefficients' normal law but for the
mean, which a tail moves: at each ``r`` a parabola through three means says where the nodes go. Again they
carry the exact likelihood, now of the mixture. Which shapes are worth it is seen on a wide table of ``r``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.shapes import PLAIN, Shape
from hitlab.rounding import settled

__all__ = [
    "LARGEST_R",
    "Laws",
    "Likely",
    "Records",
    "ShapeTable",
    "integrate",
    "logistic",
    "look_along",
    "of_shapes",
]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

LARGEST_R = 1 / np.sqrt(3.0)
"""Standard deviation of the flat law on 0 to 1, as a share of the largest possible one at its mean."""

_NEGLIGIBLE = 18.0  # log units under the best: 1.5e-8
_NO_SPREAD = 1e-4
_SEARCH, _FINE = 9, 24  # nodes of a search step, and of the table of the posterior over r
_ROUGH = 12  # nodes where it is only looked how likely an answer is
_DOWN, _FAR_DOWN = 4.0, 9.0  # log units under the best: where most of it is to lie, and nearly all
_MOST_ZOOMS = 12
_SOLVED = 1e-4  # a hundredth of a standard deviation from the solution
_SHAPE_NODES = 9  # of the table on which it is seen which shapes are worth it
_NARROWER, _WIDER = 0.7, 1.5  # how far a shape's r may be outside the plain law's
_BESIDE = 1.5  # standard deviations to either side at which the parabola over the mean is taken
_HOPELESS = np.log(1e-4)  # a shape that is so much worse than the best on the wide table is left
_FEW_NORMALS = 6  # of the coefficients' normal laws from which those at any r are interpolated
_SHAPE_POINTS = 24  # of the table of a shape's posterior over r, where it is likely
_SHAPE_OUTER, _SHAPE_FEW = 4, 3  # laws along r of a shape that weighs much, and little
_LITTLE = np.log(0.1)  # of the best law's weight
_AT_ONCE = 400_000  # numbers of a likelihood that are held at once
_FEW_AXES = 10  # up to which a cross and a simplex have their corners near enough
_VERY_FEW, _FEW, _ENOUGH, _MANY = 8, 60, 300, 5_000  # groups: how many nodes are needed
# Where the rate of all is lower, and their events are fewer, their odds are hardly known (defaults): the
# largest r is there a spread of 4 units of the logit scale, which five events tell to half a unit.
_EXTREME, _HARDLY_ANY = 0.02, 5
# The spread that is then supposed at most (a default): a factor of e in the odds, so that one event in a kind
# of hitters does not move it by orders of magnitude.
_MOST_ON_LOGIT = 1.0
_FARTHEST = -np.log(1e-12)  # a mean whose logit is this far off has a Beta law yet
_DROPPED = 1e-4  # weight of all the laws together that are left out


class Counted(NamedTuple):
    """Numbers that records have: which, how many groups have each, and where each record's is."""

    values: Floats
    times: Floats
    place: Wholes | slice

    @classmethod
    def of(cls, values: Floats, times: Floats) -> Counted:
        """Put what is equal together."""
        found, place = np.unique(values, return_inverse=True)
        return cls(found, np.bincount(place, times).astype(float), place)


@dataclass(frozen=True)
class Records:
    """Records, equal ones together.

    Attributes
    ----------
    events, exposure, times
        Shape (records,): counts as floats, and how many groups have this record.
    design
        Shape (records, coefficients); the first column is 1.
    scales
        Shape (coefficients,): prior standard deviation of each coefficient in units of the law's spread on
        the logit scale; infinite for the first.
    earlier_events, earlier_exposure
        Shape (records,): earlier counts as far as they count (0: none).
    factors
        Shape (records,) or (1,): how many times as wide as ``r`` each record's law is.
    """

    events: Floats
    exposure: Floats
    times: Floats
    design: Floats
    scales: Floats
    earlier_events: Floats
    earlier_exposure: Floats
    factors: Floats = field(default_factory=lambda: np.ones(1))

    @cached_property
    def each(self) -> tuple[Counted, ...]:
        """Events, other attempts, and all attempts, record by record."""
        every = self.events, self.exposure - self.events, self.exposure
        return tuple(Counted(one, self.times, slice(None)) for one in every)

    @cached_property
    def distinct(self) -> tuple[Counted, ...]:
        """The same with equal numbers together."""
        return tuple(Counted.of(one.values, self.times) for one in self.each)

    @cached_property
    def pooled(self) -> float:
        """The rate of all together, kept off 0 and 1."""
        return float((self.times @ self.events + 0.5) / (self.times @ self.exposure + 1))

    @cached_property
    def extreme(self) -> bool:
        """Whether nearly all attempts ended alike: then the odds are hardly known."""
        events, attempts = float(self.times @ self.events), float(self.times @ self.exposure)
        return min(events, attempts - events) < min(_HARDLY_ANY, _EXTREME * (attempts + 1))

    def spreads(self, r: Floats) -> Floats:
        """Return each record's ``r``, shape (r, records) or (r, 1)."""
        return np.asarray(np.minimum(r[:, np.newaxis] * self.factors, LARGEST_R))


@dataclass(frozen=True, slots=True)
class Laws:
    """Weighted prior laws.

    Attributes
    ----------
    weights
        Shape (laws,), sum 1.
    r
        Shape (laws,): spread as a share of the largest possible.
    coefficients
        Shape (laws, coefficients).
    log_evidence
        Log probability of the table, averaged over all laws before it is seen.
    luck_factor
        How many times as probable the table is if there is no spread around the mean at all.
    table_r, table_mass
        Posterior of ``r`` where it is not negligible: evenly spaced points and their masses, sum 1.
    """

    weights: Floats
    r: Floats
    coefficients: Floats
    log_evidence: float
    luck_factor: float
    table_r: Floats
    table_mass: Floats

    @property
    def sizes(self) -> Floats:
        """Sum of the two parameters of each Beta law."""
        return 1 / self.r**2 - 1


@dataclass(frozen=True, slots=True)
class Stated:
    """A prior on the law, stated from outside: normal on r, and on the logit mean or flat on the mean.

    Attributes
    ----------
    logit_mean, logit_mean_error
        ``None`` where nothing was stated of the mean.
    r, r_error
        Of the spread, as a share of the largest possible.
    """

    logit_mean: float | None
    logit_mean_error: float | None
    r: float
    r_error: float


@dataclass(frozen=True, slots=True)
class _AlongR:
    """The posterior of ``r`` at evenly spaced points.

    Attributes
    ----------
    r, log_marginal
        The points, and the log of likelihood times prior, integrated over the coefficients.
    """

    r: Floats
    log_marginal: Floats

    @property
    def log_total(self) -> float:
        """Log of the integral over ``r``: the log probability of the table."""
        most = self.log_marginal.max()
        return float(most + np.log(np.exp(self.log_marginal - most).sum() * (self.r[1] - self.r[0])))

    @property
    def mass(self) -> Floats:
        """Mass of each point, sum 1."""
        mass = np.exp(self.log_marginal - self.log_marginal.max())
        return np.asarray(mass / mass.sum())


@dataclass(frozen=True, slots=True)
class Likely(_AlongR):
    """The posterior of ``r`` where it is not negligible, as if that of the coefficients were normal.

    Attributes
    ----------
    start
        Coefficients where it is highest.
    """

    start: Floats


def look_along(records: Records, stated: Stated | None = None, near: Likely | None = None) -> Likely:
    """Find where ``r`` is likely.

    Parameters
    ----------
    records, stated
        As for ``integrate``.
    near
        What was found under another answer: then it is looked from there, and roughly.
    """
    start = np.zeros(records.design.shape[1])
    start[0] = np.log(records.pooled / (1 - records.pooled))
    if near is not None:
        return _look_near(records, stated, near, near.start if len(near.start) == len(start) else start)
    low, high = 0.0, LARGEST_R
    nodes = _SEARCH
    for _ in range(_MOST_ZOOMS):
        step = (high - low) / nodes
        r = low + step * (np.arange(nodes) + 0.5)
        parts = _normals(records, r, start, stated)
        marginal = parts.log_marginal
        likely = np.flatnonzero(marginal > marginal.max() - _NEGLIGIBLE)
        if len(likely) >= nodes / 3 and nodes == _FINE:
            break
        # One node more on either side: a peak between two nodes may show at one only.
        first, last = likely[0] - 1, likely[-1] + 1
        low, high = max(low + first * step, 0.0), min(low + (last + 1) * step, LARGEST_R)
        nodes = _FINE if len(likely) > 2 else _SEARCH
        start = parts.centre[marginal.argmax()]
    return Likely(r, marginal, start)


def _look_near(records: Records, stated: Stated | None, near: Likely, start: Floats) -> Likely:
    """Look from where ``r`` was likely: at few points, and not as far into the tails."""
    likely = np.flatnonzero(near.log_marginal > near.log_marginal.max() - _FAR_DOWN)
    step = near.r[1] - near.r[0]
    low, high = near.r[likely[0]] - step, near.r[likely[-1]] + step
    nodes = _ROUGH
    for _ in range(_MOST_ZOOMS):
        low, high = max(low, 0.0), min(high, LARGEST_R)
        step = (high - low) / nodes
        r = low + step * (np.arange(nodes) + 0.5)
        parts = _normals(records, r, start, stated)
        marginal = parts.log_marginal
        start = parts.centre[marginal.argmax()]
        down = marginal - marginal.max()
        if (down[0] > -_DOWN and low > 0) or (down[-1] > -_DOWN and high < LARGEST_R):
            low, high = low - (high - low) * (down[0] > -_DOWN), high + (high - low) * (down[-1] > -_DOWN)
        elif (down > -_DOWN).sum() >= _ROUGH // 3:
            break
        elif (down > -_FAR_DOWN).sum() >= nodes / 2:
            nodes *= 2  # a narrow peak on a long tail
        else:
            first, last = np.flatnonzero(down > -_FAR_DOWN)[[0, -1]]
            low, high = low + (first - 1) * step, low + (last + 2) * step
    return Likely(r, marginal, start)


def integrate(records: Records, stated: Stated | None = None, roughly: Likely | None = None) -> Laws:
    """Return the prior laws that the table leaves possible, with their weights.

    Parameters
    ----------
    records
        What was counted.
    stated
        What is known of the law from outside; flat on mean and standard deviation where not given.
    roughly
        Where ``r`` is likely, as it was found: a few laws are then enough, as for an answer that weighs
        little.
    """
    groups = float(records.times @ (records.exposure > 0))
    few = roughly is not None
    likely = roughly or look_along(records, stated)
    start, log_total = likely.start, likely.log_total
    nodes = min(_outer_nodes(groups), _SHAPE_FEW) if few else _outer_nodes(groups)
    chosen, weight = gauss_rule(likely.r, likely.mass, nodes)
    laws_r, laws_c, laws_w = [], [], []
    parts = _normals(records, chosen, start, stated)
    for i, share in enumerate(weight):
        one, centre, root = chosen[i], parts.centre[i], parts.root[i]
        z, log_rule = _fewest(len(centre)) if few else _inner_rule(one, root, records, groups)
        coefficients = centre + z @ root.T
        log_weight = (
            log_rule
            + log_density(records, chosen[[i]], coefficients[np.newaxis], stated)[0]
            - parts.log_marginal[i]
            + parts.log_root[i]
        )
        laws_r.append(np.full(len(z), one))
        laws_c.append(coefficients)
        laws_w.append(share * np.exp(log_weight))
    weights = np.concatenate(laws_w)
    total = weights.sum()
    kept = heaviest(weights / total)
    nothing = _normals(records, np.array([_NO_SPREAD]), start, stated)
    luck = nothing.log_marginal[0] + np.log(LARGEST_R)
    return Laws(
        weights[kept] / weights[kept].sum(),
        np.concatenate(laws_r)[kept],
        np.concatenate(laws_c)[kept],
        log_total + float(np.log(total)),
        float(np.exp(np.clip(luck - log_total, -500, 500))),
        likely.r,
        likely.mass,
    )


@dataclass(frozen=True, slots=True)
class ShapeTable(_AlongR):
    """The posterior of ``r`` under a shape, and where the mean is at each ``r``.

    Attributes
    ----------
    moved, narrower
        The mean's place at each ``r`` in standard deviations from the plain law's, and its own deviation.
    """

    moved: Floats
    narrower: Floats

    def at(self, r: Floats) -> ShapeTable:
        """Return the table at other evenly spaced points."""
        columns = np.column_stack([self.log_marginal, self.moved, self.narrower])
        log_marginal, moved, narrower = by_cubics(self.r, columns, r).T
        return ShapeTable(r, log_marginal, moved, np.maximum(narrower, 0.3))


def by_cubics(x: Floats, values: Floats, at: Floats) -> Floats:
    """Return values at other points, by cubics through four neighbours.

    Parameters
    ----------
    x
        At least four evenly spaced points.
    values
        Shape (points,) or (points, columns).
    at
        Other points; beyond the ends the values are those of the ends.
    """
    place = np.clip((at - x[0]) / (x[1] - x[0]), 0, len(x) - 1)
    first = np.clip(place.astype(int) - 1, 0, len(x) - 4)
    off = place - first
    weights = [np.prod([(off - j) / (i - j) for j in range(4) if j != i], axis=0) for i in range(4)]
    each = np.zeros((len(at), *values.shape[1:]))
    for i, weight in enumerate(weights):
        each += weight.reshape(-1, *[1] * (values.ndim - 1)) * values[first + i]
    return each


def of_shapes(
    records: Records,
    plain: Laws,
    shapes: Sequence[Shape],
    stated: Stated | None,
    best: float,
    tables: dict[str, ShapeTable],
    made_under: float | None = None,
) -> list[tuple[Shape, Laws]]:
    """Return the laws of other shapes that the table leaves possible, shape by shape.

    Parameters
    ----------
    records, stated
        As ``integrate`` had them.
    plain
        What ``integrate`` returned.
    shapes
        Which are asked for. Those are left out that are hopeless beside the best of them and the plain law.
    best
        The log evidence of the best law known, weighed as this one's.
    tables
        Tables of shapes by name, as an earlier call under other answers made them: nodes go where they say,
        weights are exact all the same. Those that are missing are made and put there.
    made_under
        The log evidence of the plain law in that earlier call.
    """
    groups = float(records.times @ (records.exposure > 0))
    start = plain.weights @ plain.coefficients
    missing = [shape for shape in shapes if shape.name not in tables]
    if missing:
        low, high = float(plain.table_r[0]) * _NARROWER, min(float(plain.table_r[-1]) * _WIDER, LARGEST_R)
        r = low + (high - low) / _SHAPE_NODES * (np.arange(_SHAPE_NODES) + 0.5)
        normals = _normals(records, r, start, stated, exact=False)
        for shape in missing:
            tables[shape.name] = _over_mean(records, normals, stated, shape)
        best = max(best, *(tables[shape.name].log_total for shape in missing))
        for shape in missing:
            table = tables[shape.name]
            if table.log_total > best + _HOPELESS:
                fine = _likely_part(table)
                tables[shape.name] = (
                    table.at(fine)
                    if groups < _ENOUGH
                    else _over_mean(records, normals.at(fine), stated, shape)
                )
    else:
        ends = [(tables[shape.name].r[0], tables[shape.name].r[-1]) for shape in shapes]
        wide = np.linspace(min(low for low, _ in ends), max(high for _, high in ends), _FEW_NORMALS)
        normals = _normals(records, wide, start, stated, exact=False)
    result = []
    for shape in shapes:
        table = tables[shape.name]
        if shape not in missing or table.log_total > best + _HOPELESS:
            # Of a shape that weighs little a few laws are enough.
            expected = table.log_total + np.log(shape.prior)
            if made_under is not None:
                expected += plain.log_evidence - made_under
            few = expected < best + _LITTLE
            laws = _of_shape(records, groups, normals, table, stated, shape, few)
            luck = np.log(plain.luck_factor) + plain.log_evidence if plain.luck_factor else -np.inf
            luck = float(np.exp(np.clip(luck - laws.log_evidence, -500, 500)))
            result.append((shape, replace(laws, luck_factor=luck)))
    return result


def _likely_part(table: ShapeTable) -> Floats:
    """Return evenly spaced points where a table is not negligible."""
    likely = np.flatnonzero(table.log_marginal > table.log_marginal.max() - _NEGLIGIBLE)
    step = table.r[1] - table.r[0]
    low = max(float(table.r[likely[0]] - step), float(table.r[0] - step / 2))
    high = min(float(table.r[likely[-1]] + step), float(table.r[-1] + step / 2))
    return np.asarray(low + (high - low) / _SHAPE_POINTS * (np.arange(_SHAPE_POINTS) + 0.5))


def _over_mean(records: Records, normals: _Normals, stated: Stated | None, shape: Shape) -> ShapeTable:
    centre, along = normals.centre, normals.root[:, :, 0]
    rows = centre[:, np.newaxis] + _BESIDE * np.array([-1.0, 0.0, 1.0])[:, np.newaxis] * along[:, np.newaxis]
    left, middle, right = log_density(records, normals.r, rows, stated, shape).T
    curved = np.clip((2 * middle - left - right) / _BESIDE**2, 0.2, 5.0)
    moved = np.clip((right - left) / (2 * _BESIDE * curved), -3.0, 3.0)
    peak = middle + curved * moved**2 / 2
    return ShapeTable(
        normals.r,
        peak + normals.log_root - np.log(curved) / 2 + centre.shape[1] * np.log(2 * np.pi) / 2,
        moved,
        1 / np.sqrt(curved),
    )


def _of_shape(
    records: Records,
    groups: float,
    normals: _Normals,
    table: ShapeTable,
    stated: Stated | None,
    shape: Shape,
    few: bool,
) -> Laws:
    """Integrate over one shape's laws: nodes where its table says, with the exact likelihood as weight."""
    nodes = min(_outer_nodes(groups), _SHAPE_FEW if few else _SHAPE_OUTER)
    chosen, weight = gauss_rule(table.r, table.mass, nodes)
    log_marginal, moved, narrower = (
        np.interp(chosen, table.r, values) for values in (table.log_marginal, table.moved, table.narrower)
    )
    parts = normals.at(chosen)
    centre, root = parts.centre + moved[:, np.newaxis] * parts.root[:, :, 0], parts.root
    root[:, :, 0] *= narrower[:, np.newaxis]
    middle, axes = len(chosen) // 2, centre.shape[1]
    if not few:
        z, log_rule = _inner_rule(chosen[middle], root[middle], records, groups)
    else:
        # Pairs are the same for a rate and its complement; the fewest are cheaper where records are many.
        z, log_rule = _pairs(axes) if groups < _FEW else _fewest(axes)
    rows = centre[:, np.newaxis] + z @ root.swapaxes(1, 2)
    scale = parts.log_root - log_marginal
    log_weight = log_rule + log_density(records, chosen, rows, stated, shape) + scale[:, np.newaxis]
    log_weight += np.log(weight)[:, np.newaxis]
    most = log_weight.max()
    weights = np.exp(log_weight - most).ravel()
    return Laws(
        weights / weights.sum(),
        np.repeat(chosen, len(z)),
        rows.reshape(-1, rows.shape[2]),
        table.log_total + float(np.log(weights.sum()) + most),
        0.0,
        table.r,
        table.mass,
    )


def log_density(
    records: Records, r: Floats, coefficients: Floats, stated: Stated | None, shape: Shape = PLAIN
) -> Floats:
    """Log of likelihood times prior density, shape (r, rows).

    Parameters
    ----------
    r
        Shape (r,).
    coefficients
        Shape (r, rows, coefficients): the rows that each ``r`` is combined with.
    """
    plain = not records.earlier_exposure.any()
    one_mean = records.design.shape[1] == 1 and plain  # (r, rows, 1): one mean for all
    out = np.empty(coefficients.shape[:2])
    each = coefficients.shape[1] * len(records.events) * len(shape.shares)
    at_once = max(1, _AT_ONCE // max(each, 1))
    for i in range(0, len(r), at_once):
        some = coefficients[i : i + at_once]
        mean = logistic(some if one_mean else some @ records.design.T)
        out[i : i + at_once] = _log_likelihood(records, mean, r[i : i + at_once], shape)
    return out + _log_prior(records, r[:, np.newaxis], coefficients, stated)


def _log_likelihood(records: Records, mean: Floats, r: Floats, shape: Shape) -> Floats:
    from scipy.special import gammaln

    means, sizes = shape.parts(mean, records.spreads(r)[:, np.newaxis])
    before = records.earlier_exposure if records.earlier_exposure.any() else None
    # With one law for all, what has equal counts is worked out once.
    counts = records.distinct if before is None and means.shape[2] == 1 else records.each
    k, rest, n = counts
    told = before is not None and len(shape.shares) > 1  # earlier counts tell one part from another
    logs, weights = [], []
    for part, share in enumerate(shape.shares):
        # A size is the same for all rows, and for all records whose laws are as wide.
        size, m = sizes[:, :1, : len(records.factors), part], means[..., part]
        a, b = m * size, (1 - m) * size
        weight = np.log(share)
        if told:
            weight = weight - gammaln(a) - gammaln(b) + gammaln(size)
        if before is not None:
            a, b, size = a + records.earlier_events, b + before - records.earlier_events, size + before
        log_a, log_b, log_size = gammaln(a), gammaln(b), gammaln(size)
        if told:
            weight = weight + log_a + log_b - log_size
        logs.append(
            (
                gammaln(a + k.values) - log_a,
                gammaln(b + rest.values) - log_b,
                log_size - gammaln(size + n.values),
            )
        )
        weights.append(weight)
    total = sum((log @ one.times for log, one in zip(logs[0], counts, strict=True)), np.zeros(1))
    if len(logs) > 1:
        # Of the other parts only how far they are from the first is needed, record by record.
        before_it = [weight - weights[0] for weight in weights[1:]]
        beside = []
        for weight, own in zip(before_it, logs[1:], strict=True):
            of_k, of_rest, of_n = (
                (log - first)[..., one.place] for log, first, one in zip(own, logs[0], counts, strict=True)
            )
            of_k += of_rest
            of_k += of_n + weight
            beside.append(of_k)
        total = total + (_beside_one(beside) - _beside_one(before_it)) @ records.times
    return np.asarray(total)


def _beside_one(parts: Sequence[Floats]) -> Floats:
    """Return the logarithm of one and the sum of what has these logarithms."""
    total = np.zeros(1)
    for part in parts:
        apart = np.abs(part - total)
        np.negative(apart, out=apart)
        np.exp(apart, out=apart)
        apart += 1
        np.log(apart, out=apart)
        apart += np.maximum(part, total)
        total = apart
    return total


def _log_prior(records: Records, r: Floats, coefficients: Floats, stated: Stated | None) -> Floats:
    """Log prior density of coefficients (r, rows, coefficients); ``r`` has the shape (r, 1)."""
    first, others = coefficients[..., 0], coefficients[..., 1:]
    if stated is None or stated.logit_mean is None or stated.logit_mean_error is None:
        # Flat on the mean is logistic on its logit.
        value = -np.logaddexp(0, first) - np.logaddexp(0, -first)
    else:
        value = _log_normal(first, stated.logit_mean, stated.logit_mean_error)
    value = value - np.log(LARGEST_R) if stated is None else value + _log_normal(r, stated.r, stated.r_error)
    if others.shape[-1]:
        value = value + _log_normal(others, 0.0, _deviations(records, r[..., np.newaxis])).sum(axis=-1)
    return np.asarray(value)


def _log_normal(x: Floats, mean: float, deviation: Floats | float) -> Floats:
    return np.asarray(-0.5 * ((x - mean) / deviation) ** 2 - np.log(deviation) - 0.5 * np.log(2 * np.pi))


def _deviations(records: Records, r: Floats | float) -> Floats:
    """Prior deviations of the coefficients after the first: scale times spread on the logit scale."""
    scales, deviation = records.scales[1:], np.sqrt(records.pooled * (1 - records.pooled))
    if records.extreme:
        return np.asarray(scales * np.minimum(r / deviation, _MOST_ON_LOGIT))
    return np.asarray(scales * r / deviation)


@dataclass(frozen=True, slots=True)
class _Normals:
    """The coefficients at each ``r``: a normal law's centre and root of the covariance; the log integral."""

    r: Floats
    centre: Floats
    root: Floats
    log_marginal: Floats

    @property
    def log_root(self) -> Floats:
        """Log determinants of the roots, which are triangular."""
        return np.asarray(np.log(np.diagonal(self.root, axis1=1, axis2=2)).sum(axis=1))

    def at(self, r: Floats) -> _Normals:
        """Interpolate between two ``r``; beyond the ends it is as at the ends."""
        place = np.interp(r, self.r, np.arange(len(self.r)))
        i = np.minimum(place.astype(int), len(self.r) - 2)
        share = (place - i)[:, np.newaxis]
        centre = (1 - share) * self.centre[i] + share * self.centre[i + 1]
        share = share[:, np.newaxis]
        root = (1 - share) * self.root[i] + share * self.root[i + 1]
        return _Normals(r, centre, root, np.full(len(r), np.nan))


def _normals(
    records: Records, r: Floats, start: Floats, stated: Stated | None, *, exact: bool = True
) -> _Normals:
    """Find the normal law of the coefficients at each ``r``, all at once; ``exact`` with the integral."""
    at_once = max(1, _AT_ONCE // max(len(records.events), 1))
    portions = [_some(records, r[i : i + at_once], start, stated, exact) for i in range(0, len(r), at_once)]
    return _Normals(r, *(np.concatenate(each) for each in zip(*portions, strict=True)))


def _some(
    records: Records, r: Floats, start: Floats, stated: Stated | None, exact: bool
) -> tuple[Floats, Floats, Floats]:
    """Return centres, roots and log integrals."""
    x, coefficients = records.design, len(start)
    size = 1 / records.spreads(r) ** 2 - 1
    centre = np.tile(start, (len(r), 1))
    precision = np.zeros_like(centre)
    precision[:, 1:] = _deviations(records, r[:, np.newaxis]) ** -2.0
    target = np.zeros(coefficients)
    level_stated = stated is not None and stated.logit_mean is not None
    if stated is not None and stated.logit_mean is not None and stated.logit_mean_error is not None:
        precision[:, 0], target[0] = stated.logit_mean_error**-2, stated.logit_mean
    clustered = 1 + (records.exposure - 1) / (size + records.earlier_exposure + 1)
    share = size / (size + records.earlier_exposure)
    earlier = (1 - share) * _earlier_rate(records) if records.earlier_exposure.any() else None
    curvature = np.empty((len(r), coefficients, coefficients))
    diagonal = np.arange(coefficients)
    row, column = np.tril_indices(coefficients)
    products = x[:, row] * x[:, column]
    todo = np.arange(len(r))
    for _ in range(30):
        mean = logistic(centre[todo] @ x.T)
        expected, slope = mean, mean * (1 - mean)
        variance = slope
        if earlier is not None:
            expected, slope = share[todo] * mean + earlier[todo], share[todo] * slope
            variance = expected * (1 - expected)
        # The solution's equations are sums of this, times events and exposure.
        told = records.times * slope / (variance * clustered[todo])
        gradient = (told * (records.events - records.exposure * expected)) @ x
        gradient -= precision[todo] * (centre[todo] - target)
        told *= slope * records.exposure
        bent = np.empty((len(todo), coefficients, coefficients))
        bent[:, row, column] = bent[:, column, row] = told @ products
        bent[:, diagonal, diagonal] += precision[todo]
        if not level_stated:
            first = logistic(centre[todo, 0])
            gradient[:, 0] += 1 - 2 * first
            bent[:, 0, 0] += 2 * first * (1 - first)
        change = np.linalg.solve(bent, gradient[..., np.newaxis])[..., 0]
        centre[todo] += np.clip(change, -2.0, 2.0)
        curvature[todo] = bent
        todo = todo[(gradient * change).sum(axis=1) >= _SOLVED]
        if not len(todo):
            break
    root = np.linalg.inv(np.linalg.cholesky(curvature)).swapaxes(1, 2)
    integral = np.full(len(r), np.nan)
    if exact:
        log_root = np.log(np.diagonal(root, axis1=1, axis2=2)).sum(axis=1)
        at = log_density(records, r, centre[:, np.newaxis], stated)[:, 0]
        integral = at + log_root + 0.5 * coefficients * np.log(2 * np.pi)
    return centre, root, integral


def _earlier_rate(records: Records) -> Floats:
    there = records.earlier_exposure > 0
    rate = np.zeros(len(there))
    np.divide(records.earlier_events, records.earlier_exposure, out=rate, where=there)
    return rate


def _outer_nodes(groups: float) -> int:
    """How many laws along the spread: the fewer groups, the wider and more skewed its posterior."""
    return (
        8
        if groups < _FEW
        else 6
        if groups < _ENOUGH
        else 4
        if groups < _MANY
        else 3
        if groups < 50_000
        else 1
    )


def _inner_rule(r: float, root: Floats, records: Records, groups: float) -> tuple[Floats, Floats]:
    """Nodes and log weights over the coefficients, in standard deviations.

    Along the mean so many nodes that the posteriors under neighbouring laws overlap; a law narrower than
    the step between two means would leave gaps.
    """
    size = 1 / min(r * float(records.factors.min()), LARGEST_R) ** 2 - 1
    mean = records.pooled
    narrowest = 1 / np.sqrt(mean * (1 - mean) * (records.exposure.max() + size))
    pulled = size / (size + records.exposure.max())
    # The rows of the root for the first coefficient: its standard deviation.
    apart = float(np.linalg.norm(root[0])) * pulled / narrowest
    first = 3 if apart < 0.5 else 5 if apart < 0.8 else 7 if apart < 1.2 else 15
    others = len(root) - 1
    if groups < _FEW:  # and where the normal law is only roughly the shape of what is integrated
        first = max(first, 11 if groups < _VERY_FEW else 5)
    elif groups >= _MANY:
        return np.zeros((1, others + 1)), np.array([0.5 * (others + 1) * np.log(2 * np.pi)])
    elif groups >= _ENOUGH and apart < 0.5:
        return _pairs(others + 1)
    x, log_w = _hermite(first)
    if not others:
        return x[:, np.newaxis], log_w
    if others == 1:
        y, log_v = _hermite(3)
        y = y[:, np.newaxis]
    else:
        y, log_v = _pairs(others)
    z = np.hstack([np.repeat(x, len(y))[:, np.newaxis], np.tile(y, (len(x), 1))])
    # The root is upper triangular: its last coordinate moves all coefficients, its first the mean alone.
    return z, np.repeat(log_w, len(y)) + np.tile(log_v, len(x))


def _fewest(axes: int) -> tuple[Floats, Floats]:
    """Return few nodes, exact to the second degree for a normal weight."""
    if axes <= _FEW_AXES:
        return _simplex(axes)
    return _alike(_signs(axes + 1)[:, 1:])


def _pairs(axes: int) -> tuple[Floats, Floats]:
    """Return nodes in opposite pairs, exact to the third degree for a normal weight."""
    if axes <= _FEW_AXES:
        return _cross(axes)
    one = _signs(axes)
    return _alike(np.vstack([one, -one]))


def _alike(points: Floats) -> tuple[Floats, Floats]:
    """Return corners of the cube, a standard deviation off on each axis, with equal weights.

    Corners of a cross, or of a simplex, lie ever farther out along one axis the more axes there are, so that
    tails are weighed in place of the bulk. These do not, and are as exact.
    """
    nodes, axes = points.shape
    return points, np.full(nodes, -np.log(nodes) + 0.5 * axes * (1 + np.log(2 * np.pi)))


def _signs(axes: int) -> Floats:
    """Return columns of signs of which each is at right angles to all others, the first of them all 1."""
    from scipy.linalg import hadamard

    return np.asarray(hadamard(1 << (axes - 1).bit_length())[:, :axes], dtype=float)


def _simplex(axes: int) -> tuple[Floats, Floats]:
    """Return a regular simplex's corners, exact to the second degree for a normal weight.

    Its axes are written down: those that a decomposition finds are any of infinitely many, and differ from
    one processor to the next.
    """
    points = np.zeros((axes + 1, axes))
    for i in range(axes):
        rest = axes - i
        points[i, i] = -np.sqrt(rest / (rest + 1))
        points[i + 1 :, i] = 1 / np.sqrt(rest * (rest + 1))
    points *= np.sqrt(axes + 1)
    return points, np.full(
        axes + 1, -np.log(axes + 1) + 0.5 * (points[0] @ points[0]) + 0.5 * axes * np.log(2 * np.pi)
    )


def _cross(axes: int) -> tuple[Floats, Floats]:
    """Two points on each axis, exact to the third degree for a normal weight (from memory: Stroud 1971)."""
    points = np.sqrt(axes) * np.vstack([np.eye(axes), -np.eye(axes)])
    return points, np.full(2 * axes, -np.log(2 * axes) + 0.5 * axes * (1 + np.log(2 * np.pi)))


@lru_cache(maxsize=8)
def _hermite(nodes: int) -> tuple[Floats, Floats]:
    """Gauss-Hermite nodes, and log weights that integrate a function given without its normal factor."""
    x, w = np.polynomial.hermite_e.hermegauss(nodes)
    return x, np.log(w) + 0.5 * x**2


def gauss_rule(x: Floats, mass: Floats, nodes: int) -> tuple[Floats, Floats]:
    """Return the Gauss rule of a discrete measure, by its orthogonal polynomials' recurrence.

    Parameters
    ----------
    x, mass
        Points and their masses, sum 1.
    nodes
        How many nodes; no more than there are points that matter.
    """
    there = mass > 1e-15
    x, mass = x[there], mass[there]
    if len(x) <= nodes:
        return x, mass
    diagonal, beside = np.zeros(nodes), np.zeros(nodes)
    before, now = np.zeros_like(x), np.ones_like(x)
    for i in range(nodes):
        diagonal[i] = mass @ (x * now**2)
        after = (x - diagonal[i]) * now - (beside[i - 1] if i else 0.0) * before
        beside[i] = np.sqrt(mass @ after**2)
        before, now = now, after / beside[i]
    values, vectors = np.linalg.eigh(np.diag(diagonal) + np.diag(beside[:-1], 1) + np.diag(beside[:-1], -1))
    return values, vectors[0] ** 2


def heaviest(weights: Floats) -> Wholes:
    """Return the places of all weights but the lightest, which together are a ten-thousandth."""
    order = np.argsort(settled(weights), kind="stable")
    light = int((np.cumsum(weights[order]) < _DROPPED).sum())
    return np.sort(order[light:])


def logistic(x: Floats) -> Floats:
    """Return means of logits, kept off 0 and 1, where no Beta law is."""
    mean = np.maximum(x, -_FARTHEST)
    np.minimum(mean, _FARTHEST, out=mean)
    np.negative(mean, out=mean)
    np.exp(mean, out=mean)
    mean += 1
    return np.asarray(np.reciprocal(mean, out=mean))
