"""What is known of true rates: a mixture of Beta laws, one part for each prior law that may hold.

Each prior law (a mean and a spread of the true rates) gives every group a Beta law once its record is in;
the laws are weighted by how well they explain the whole table. All groups share the law: chances that
concern several groups are worked out under each law and averaged after.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.intervals import DEFAULT_LEVEL

__all__ = ["Posterior"]

Floats = NDArray[np.float64]

_CLOSE = 1e-12  # how far a quantile's chance may be from the one asked for
_STEPS = 60  # enough to halve any bracket to nothing; three or four are used


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is known of each group's true rate: a mixture of Beta laws.

    Attributes
    ----------
    weights
        Shape (laws,), sum 1: the weight of each prior law.
    a, b
        Shape (laws, groups): parameters of each group's Beta law under each prior law.
    """

    weights: Floats
    a: Floats
    b: Floats

    def mean(self) -> Floats:
        """Return the mean of each group's rate."""
        mean: Floats = self.weights @ (self.a / (self.a + self.b))
        return mean

    def spread(self) -> Floats:
        """Return the standard deviation of each group's rate."""
        part = self.a / (self.a + self.b)
        mean = self.weights @ part
        within = part * (1 - part) / (self.a + self.b + 1)
        spread: Floats = np.sqrt(self.weights @ (within + (part - mean) ** 2))
        return spread

    def above(self, value: float) -> Floats:
        """Return the chance that each group's rate is above a value between 0 and 1."""
        from scipy.special import betaincc

        chance: Floats = self.weights @ betaincc(self.a, self.b, value)
        return chance

    def interval(self, level: float = DEFAULT_LEVEL) -> tuple[Floats, Floats]:
        """Return the equal-tailed interval of each group's rate."""
        tail = (1 - level) / 2
        return self._quantile(tail), self._quantile(1 - tail)

    def _quantile(self, chance: float) -> Floats:
        from scipy.special import betainc, betaincinv, betaln

        if len(self.weights) == 1:
            return np.asarray(betaincinv(self.a[0], self.b[0], chance), dtype=np.float64)
        # Start from the one Beta law with the mixture's mean and spread, then Newton's steps inside a
        # bracket: the mixture's distribution function costs one call a law and group each time.
        mean, spread = self.mean(), self.spread()
        size = mean * (1 - mean) / spread**2 - 1
        x = np.asarray(betaincinv(mean * size, (1 - mean) * size, chance), dtype=np.float64)
        low, high = np.zeros_like(x), np.ones_like(x)
        log_norm = betaln(self.a, self.b)
        todo = np.arange(len(x))
        for _ in range(_STEPS):
            a, b, at = self.a[:, todo], self.b[:, todo], x[todo]
            off = self.weights @ betainc(a, b, at) - chance
            low[todo] = np.where(off < 0, at, low[todo])
            high[todo] = np.where(off < 0, high[todo], at)
            with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
                density = self.weights @ np.exp(
                    (a - 1) * np.log(at) + (b - 1) * np.log1p(-at) - log_norm[:, todo]
                )
                step = at - off / density
            inside = (step > low[todo]) & (step < high[todo])
            done = np.abs(off) < _CLOSE
            x[todo] = np.where(done, at, np.where(inside, step, (low[todo] + high[todo]) / 2))
            # Newton's error is squared by the step just taken.
            todo = todo[~done & ~(inside & (np.abs(off) < np.sqrt(_CLOSE) / 10))]
            if not len(todo):
                break
        return x

    def draws(self, size: int, rng: np.random.Generator) -> Floats:
        """Return draws of all rates together, shape (size, groups)."""
        law = rng.choice(len(self.weights), size, p=self.weights)
        return rng.beta(self.a[law], self.b[law])

    def of_heaviest_laws(self, laws: int | None) -> Posterior:
        """Return the part under so many laws that weigh most: nearly the same, sooner worked out."""
        if laws is None or laws >= len(self.weights):
            return self
        kept = np.argsort(-self.weights, kind="stable")[:laws]
        return Posterior(self.weights[kept] / self.weights[kept].sum(), self.a[kept], self.b[kept])

    def only(self, mask: NDArray[np.bool_] | NDArray[np.int64]) -> Posterior:
        """Return the groups that the mask or the places choose."""
        return Posterior(self.weights, self.a[:, mask], self.b[:, mask])
