"""A full Bayesian fit of the crossed model by plain Metropolis steps: slow, and nothing of it is approximate.

Model and priors are those of ``hitlab.estimates.crossed``; every effect and every standard deviation is a
parameter, and nothing is integrated by hand. Effects of one kind are proposed all at once and accepted one by
one (given the other kinds they are independent); shifts between kinds that leave the likelihood as it is are
drawn from their normal conditional law, else the chain would creep.
"""

from __future__ import annotations

import numpy as np

from hitlab.estimates.crossed import Crossed

FACED_SCALE, HITTER_SCALE, SLOPE_DEVIATION = 0.5, 1.0, 0.5


def _log_likelihood(eta, k, n):
    return k * eta - n * np.logaddexp(0, eta)


class _Chain:
    def __init__(self, cells: Crossed, seed: int) -> None:
        self.rng = np.random.default_rng(seed)
        self.k, self.n = cells.events, cells.exposure
        self.at = [cells.hitter, *cells.levels]
        self.sizes = [cells.hitters, *cells.sizes]
        total = np.bincount(cells.hitter, self.n, cells.hitters)
        log_n = np.log(np.maximum(total, 1.0))
        z = (log_n - log_n.mean()) / max(log_n.std(), 0.5)
        self.design = np.column_stack([np.ones(len(z)), z])
        start = np.log(self.k.sum() / (self.n.sum() - self.k.sum()))
        self.beta = np.array([start, 0.0])
        self.effects = [np.full(cells.hitters, start)] + [np.zeros(size) for size in cells.sizes]
        self.deviations = np.array([0.2] + [0.1] * len(cells.sizes))
        self.steps = [np.full(size, 0.15) for size in self.sizes]
        self.deviation_steps = np.full(len(self.sizes), 0.3)
        self.scales = np.array([HITTER_SCALE] + [FACED_SCALE] * len(cells.sizes))

    def centre(self, kind):
        return self.design @ self.beta if kind == 0 else 0.0

    def eta(self):
        return sum(effect[at] for effect, at in zip(self.effects, self.at, strict=True))

    def step(self, tune: bool) -> None:
        eta = self.eta()
        now = _log_likelihood(eta, self.k, self.n)
        for kind, size in enumerate(self.sizes):
            x, s = self.effects[kind], self.deviations[kind]
            move = self.steps[kind] * self.rng.standard_normal(size)
            then = _log_likelihood(eta + move[self.at[kind]], self.k, self.n)
            gain = np.bincount(self.at[kind], then - now, size)
            c = self.centre(kind)
            gain -= ((x + move - c) ** 2 - (x - c) ** 2) / (2 * s**2)
            taken = np.log(self.rng.random(size)) < gain
            self.effects[kind] = x + np.where(taken, move, 0.0)
            there = taken[self.at[kind]]
            eta = eta + np.where(there, move[self.at[kind]], 0.0)
            now = np.where(there, then, now)
            if tune:
                self.steps[kind] *= np.exp(0.05 * (taken - 0.4))
        self.shift_between()
        self.hyper(tune)

    def shift_between(self) -> None:
        """Add to all of one kind what is taken from all of another; the likelihood stays."""
        for kind in range(1, len(self.sizes)):
            precision, linear = 0.0, 0.0
            for other, sign in ((0, 1.0), (kind, -1.0)):
                w = self.deviations[other] ** -2.0
                precision += w * self.sizes[other]
                linear -= sign * w * (self.effects[other] - self.centre(other)).sum()
            c = linear / precision + self.rng.standard_normal() / np.sqrt(precision)
            self.effects[0] = self.effects[0] + c
            self.effects[kind] = self.effects[kind] - c

    def hyper(self, tune: bool) -> None:
        s = self.deviations[0]
        precision = self.design.T @ self.design / s**2 + np.diag([1e-6, SLOPE_DEVIATION**-2.0])
        root = np.linalg.cholesky(precision)
        mean = np.linalg.solve(precision, self.design.T @ self.effects[0] / s**2)
        self.beta = mean + np.linalg.solve(root.T, self.rng.standard_normal(2))
        for kind, size in enumerate(self.sizes):
            square = ((self.effects[kind] - self.centre(kind)) ** 2).sum()

            def log_density(log_s, square=square, size=size, kind=kind):
                s = np.exp(log_s)
                return -size * log_s - square / (2 * s**2) - 0.5 * (s / self.scales[kind]) ** 2 + log_s

            for _ in range(3):
                old = np.log(self.deviations[kind])
                new = old + self.deviation_steps[kind] * self.rng.standard_normal()
                taken = np.log(self.rng.random()) < log_density(new) - log_density(old)
                if taken:
                    self.deviations[kind] = np.exp(new)
                if tune:
                    self.deviation_steps[kind] *= np.exp(0.05 * (taken - 0.4))
        self.scale_move()

    def scale_move(self) -> None:
        """Scale a kind's effects together with their deviation: what lets a deviation leave 0."""
        eta = self.eta()
        now = _log_likelihood(eta, self.k, self.n).sum()
        for kind in range(1, len(self.sizes)):
            factor = np.exp(0.4 * self.rng.standard_normal())
            moved = self.effects[kind] * factor
            then_eta = eta + (moved - self.effects[kind])[self.at[kind]]
            then = _log_likelihood(then_eta, self.k, self.n).sum()
            s = self.deviations[kind]
            # Effects over deviation stay as they are: the density of the logarithm of the deviation is left.
            gain = then - now + np.log(factor) - 0.5 * (s**2 * (factor**2 - 1)) / self.scales[kind] ** 2
            if np.log(self.rng.random()) < gain:
                self.effects[kind], self.deviations[kind], eta, now = moved, s * factor, then_eta, then


def sample(cells: Crossed, *, draws: int = 30_000, tune: int = 5_000, every: int = 10, seed: int = 0):
    """Return kept draws: faced effects, deviations, and what each hitter faced, on the log odds.

    Effects are measured as ``hitlab.estimates.crossed.Drawn`` does; what was faced from the league's mean.
    """
    chain = _Chain(cells, seed)
    share = cells.exposure / cells.exposure.sum()
    effects, deviations, faced, own = [], [], [], []
    for i in range(tune + draws):
        chain.step(i < tune)
        if i < tune or i % every:
            continue
        rest = np.concatenate(chain.effects[1:])
        effect = cells.effect(rest)
        p = 1 / (1 + np.exp(-chain.eta()))
        weight = cells.exposure * p * (1 - p)
        faced.append(cells.sum_over(weight * (effect - share @ effect)) / cells.sum_over(weight))
        effects.append(rest)
        deviations.append(chain.deviations.copy())
        league = 1 / (1 + np.exp(-(chain.effects[0][:, np.newaxis] + effect)))
        own.append(league @ share)
    return tuple(np.array(x) for x in (effects, deviations, faced, own))
