"""What is known of true rates: a mixture of Beta laws, one or more parts for each prior law that may hold.

Each prior law gives every group a law of its own once its record is in: a Beta law, or, where the prior law
is itself a mixture (a long tail, two humps), a mixture with shares of the group's own. The prior laws are
weighted by how well they explain the whole table. All groups share the law: chances that concern several
groups are worked out under each law and averaged after.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.intervals import DEFAULT_LEVEL

__all__ = ["Posterior"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_CLOSE = 1e-12  # how far a quantile's chance may be from the one asked for
_NEARLY = 1e-5  # from where one step more is enough
_FIRST_LAWS = 12  # laws from whose quantiles those of many are looked for
_STEPS = 60  # enough to halve any bracket to nothing; three or four are used


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is known of each group's true rate: a mixture of Beta laws.

    Attributes
    ----------
    weights
        Shape (laws,), sum 1: the weight of each prior law.
    a, b
        Shape (parts, groups): parameters of each group's Beta laws, the parts of one prior law together.
    shares
        Shape (parts, groups) or (parts, 1): how much of the law each part is, sum 1 over the parts of a law.
        ``None``: every law has one part.
    first
        Shape (laws,): the place of each law's first part. ``None``: every law has one part.
    """

    weights: Floats
    a: Floats
    b: Floats
    shares: Floats | None = None
    first: Wholes | None = None

    @property
    def law_of_part(self) -> Wholes:
        """The law that each part belongs to, shape (parts,)."""
        if self.first is None:
            return np.arange(len(self.weights))
        return np.repeat(np.arange(len(self.first)), np.diff(self.first, append=len(self.a)))

    @property
    def part_weights(self) -> Floats:
        """Weight of each part in all, shape (parts, groups) or (parts, 1), sum 1 over the parts."""
        weights = self.weights[self.law_of_part][:, np.newaxis]
        return weights if self.shares is None else weights * self.shares

    def averaged(self, of_parts: Floats) -> Floats:
        """Average what has the shape (parts, groups) over all parts."""
        if self.shares is None:
            return np.asarray(self.weights @ of_parts)
        return np.asarray(np.einsum("ij,ij->j", np.broadcast_to(self.part_weights, of_parts.shape), of_parts))

    def by_law(self, of_parts: Floats) -> Floats:
        """Average what has the shape (parts, groups) over the parts of each law: shape (laws, groups)."""
        if self.shares is None or self.first is None:
            return of_parts
        return np.asarray(np.add.reduceat(self.shares * of_parts, self.first, axis=0))

    def mean(self) -> Floats:
        """Return the mean of each group's rate."""
        return self.averaged(self.a / (self.a + self.b))

    def spread(self) -> Floats:
        """Return the standard deviation of each group's rate."""
        part = self.a / (self.a + self.b)
        within = part * (1 - part) / (self.a + self.b + 1)
        return np.sqrt(self.averaged(within + (part - self.averaged(part)) ** 2))

    def mean_and_variance_by_law(self) -> tuple[Floats, Floats]:
        """Return mean and variance of each group's rate under each law, shape (laws, groups)."""
        part = self.a / (self.a + self.b)
        within = part * (1 - part) / (self.a + self.b + 1)
        mean = self.by_law(part)
        if self.shares is None:
            return mean, within
        return mean, self.by_law(within + (part - mean[self.law_of_part]) ** 2)

    def log_odds(self) -> tuple[Floats, Floats]:
        """Return mean and covariance of the groups' rates on the log odds, shapes (n,) and (n, n).

        Groups covary by the law that all share.
        """
        from scipy.special import digamma, polygamma

        each = digamma(self.a) - digamma(self.b)
        within = polygamma(1, self.a) + polygamma(1, self.b)
        by_law = self.by_law(each)
        mean = np.asarray(self.weights @ by_law)
        apart = by_law - mean
        covariance = (apart * self.weights[:, np.newaxis]).T @ apart
        covariance[np.diag_indices_from(covariance)] = self.averaged(within + (each - mean) ** 2)
        return mean, covariance

    def above(self, value: float) -> Floats:
        """Return the chance that each group's rate is above a value between 0 and 1."""
        from scipy.special import betaincc

        return self.averaged(betaincc(self.a, self.b, value))

    def above_by_law(self, place: int, values: Floats) -> Floats:
        """Return the chance that one group's rate is above values of shape (laws, values), law by law."""
        from scipy.special import betaincc

        a, b = self.a[:, [place]], self.b[:, [place]]
        return self.only(np.array([place])).by_law(betaincc(a, b, values[self.law_of_part]))

    def interval(self, level: float = DEFAULT_LEVEL) -> tuple[Floats, Floats]:
        """Return the equal-tailed interval of each group's rate."""
        tail = (1 - level) / 2
        return self._quantile(tail), self._quantile(1 - tail)

    def _quantile(self, chance: float) -> Floats:
        from scipy.special import betainc, betaincinv, betaln

        if len(self.a) == 1:
            return np.asarray(betaincinv(self.a[0], self.b[0], chance), dtype=np.float64)
        # Start from the one Beta law with the mixture's mean and spread, or from the heaviest laws, then
        # Halley's steps inside a bracket: the distribution function costs one call a part and group.
        if len(self.weights) > 4 * _FIRST_LAWS:
            x = self.of_heaviest_laws(_FIRST_LAWS)._quantile(chance)
        else:
            mean, spread = self.mean(), self.spread()
            size = mean * (1 - mean) / spread**2 - 1
            x = np.asarray(betaincinv(mean * size, (1 - mean) * size, chance), dtype=np.float64)
        low, high = np.zeros_like(x), np.ones_like(x)
        log_norm = betaln(self.a, self.b)
        todo = np.arange(len(x))
        for _ in range(_STEPS):
            some = self.only(todo)
            a, b, at = some.a, some.b, x[todo]
            off = some.averaged(betainc(a, b, at)) - chance
            low[todo] = np.where(off < 0, at, low[todo])
            high[todo] = np.where(off < 0, high[todo], at)
            with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
                parts = np.exp((a - 1) * np.log(at) + (b - 1) * np.log1p(-at) - log_norm[:, todo])
                density = some.averaged(parts)
                slope = some.averaged(parts * ((a - 1) / at - (b - 1) / (1 - at)))
                newton = off / density
                # Halley's step: the density changes on the way.
                step = at - newton / np.clip(1 - newton * slope / density / 2, 0.5, 2.0)
            inside = (step > low[todo]) & (step < high[todo])
            done = np.abs(off) < _CLOSE
            x[todo] = np.where(done, at, np.where(inside, step, (low[todo] + high[todo]) / 2))
            # The error is cubed by the step just taken.
            todo = todo[~done & ~(inside & (np.abs(off) < _NEARLY))]
            if not len(todo):
                break
        return x

    def draws(self, size: int, rng: np.random.Generator) -> Floats:
        """Return draws of all rates together, shape (size, groups)."""
        law = rng.choice(len(self.weights), size, p=self.weights)
        if self.shares is None or self.first is None:
            return rng.beta(self.a[law], self.b[law])
        # Each group draws a part of the law that all share.
        point = rng.random((size, self.a.shape[1]))
        a, b = np.empty_like(point), np.empty_like(point)
        shares = np.broadcast_to(self.shares, self.a.shape)
        ends = np.append(self.first[1:], len(self.a))
        for one in np.unique(law):
            mine, parts = np.flatnonzero(law == one), slice(self.first[one], ends[one])
            at = point[mine]
            (own_a, *more_a), (own_b, *more_b) = self.a[parts], self.b[parts]
            for passed, next_a, next_b in zip(np.cumsum(shares[parts], axis=0), more_a, more_b, strict=False):
                beyond = at > passed
                own_a, own_b = np.where(beyond, next_a, own_a), np.where(beyond, next_b, own_b)
            a[mine], b[mine] = own_a, own_b
        return rng.beta(a, b)

    def after(self, places: Wholes, events: Floats | float, others: Floats | float) -> Posterior:
        """Return what is known once some groups have more events, and more attempts without; the laws stay.

        Parameters
        ----------
        places
            The groups.
        events, others
            How many events and other attempts more, for all of them or one each; they may be fewer than none
            as long as the counts that the posterior rests on are there.
        """
        from scipy.special import betaln

        a, b = self.a.copy(), self.b.copy()
        a[:, places] += events
        b[:, places] += others
        if self.shares is None or self.first is None:
            return replace(self, a=a, b=b)
        shares = np.array(np.broadcast_to(self.shares, a.shape))
        before, now = (betaln(one[:, places], two[:, places]) for one, two in ((self.a, self.b), (a, b)))
        told = now - before  # log probability of the new counts under each part
        told -= np.maximum.reduceat(told, self.first, axis=0)[self.law_of_part]
        fresh = shares[:, places] * np.exp(told)
        shares[:, places] = fresh / np.add.reduceat(fresh, self.first, axis=0)[self.law_of_part]
        return Posterior(self.weights, a, b, shares, self.first)

    def of_the_others(self) -> Posterior:
        """Return what is known of the rates of attempts without the event: one less each rate."""
        return replace(self, a=self.b, b=self.a)

    def of_heaviest_laws(self, laws: int | None) -> Posterior:
        """Return the part under so many laws that weigh most: nearly the same, sooner worked out."""
        if laws is None or laws >= len(self.weights):
            return self
        kept = np.argsort(-self.weights, kind="stable")[:laws]
        return self.under(kept, self.weights[kept] / self.weights[kept].sum())

    def under(self, laws: Wholes, weights: Floats) -> Posterior:
        """Return the part under some laws, with weights for them."""
        if self.shares is None or self.first is None:
            return Posterior(weights, self.a[laws], self.b[laws])
        count = np.diff(self.first, append=len(self.a))[laws]
        first = np.cumsum(count) - count
        parts = np.arange(count.sum()) - np.repeat(first - self.first[laws], count)
        return Posterior(weights, self.a[parts], self.b[parts], self.shares[parts], first)

    def for_groups(self, groups: int) -> Posterior:
        """Return the same with a column for each of so many groups, where there is one for all."""
        a, b = (np.broadcast_to(one, (len(one), groups)) for one in (self.a, self.b))
        return replace(self, a=a, b=b)

    def only(self, mask: NDArray[np.bool_] | Wholes) -> Posterior:
        """Return the groups that the mask or the places choose."""
        shares = self.shares
        if shares is not None and shares.shape[1] > 1:
            shares = shares[:, mask]
        return Posterior(self.weights, self.a[:, mask], self.b[:, mask], shares, self.first)
