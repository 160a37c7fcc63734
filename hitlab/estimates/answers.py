"""Which combinations of answers matter, found without fitting all of them.

Three earlier seasons and two kinds of hitters make more than a thousand combinations. Questions are put one
after another. All answers are tried under the likeliest combination so far, roughly (``look_along``); those
that are hopeless there are left out under the others, too. Of many combinations that are left, the heavy ones
stay as they are and some of the light ones stand for all of these.

Spreads of groups have no answers beforehand: how many times as wide a group's law is as that of the others is
a number, and the nodes of a rule over its posterior are the answers.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.prior_laws import Likely, Records, Stated, by_cubics, gauss_rule, look_along
from hitlab.estimates.questions import Option, Part, SpreadPart

__all__ = ["LEAST", "OFF", "Chosen", "Offset", "Search", "design_of", "factors_of", "records_of", "some_of"]

Floats = NDArray[np.float64]

LEAST = 1e-3
"""Weight, of the best answer's, below which an answer is left out."""

OFF = 1e-7
"""How far beside a border on which sums may lie, by symmetry, a step is taken."""

_MOST_ANSWERS = 24  # combinations that stand for all
_COMPRESS = 2_000  # records from which equal ones are put together
_HOPELESS = np.log(LEAST) - 1.0  # an answer that is so much worse where it is only looked at roughly
_LOG_FACTORS = np.linspace(-1.75, 1.75, 11)  # of a group's spread against that of the others, looked at
_LOG_FACTOR_DEVIATION = 0.7  # before the table is seen: a third are more than twice or less than half
_FACTOR_POINTS, _FACTOR_NODES = 201, 3

Chosen = tuple[Option, ...]
"""One answer to each question."""

Offset = tuple[Chosen, float]
"""Answers, and the log of how many times as much they weigh because they stand for others, too."""


class Search:
    """Fits under combinations of answers: roughly while it is looked which matter, then with all laws."""

    def __init__(self, k: Floats, n: Floats, stated: Stated | None) -> None:
        self.k, self.n, self.stated = k, n, stated
        self.found: dict[Chosen, Likely] = {}

    def likely(self, chosen: Chosen, near: Chosen | None = None) -> Likely:
        """Return where the spread is likely under these answers; looked for from where others have it."""
        key = tuple(one for one in chosen if _says(one))
        if key not in self.found:
            # Without others given, from where it was found before the last answer.
            start = self.likely(near or key[:-1]) if key else None
            self.found[key] = look_along(records_of(self.k, self.n, chosen), self.stated, start)
        return self.found[key]

    def value(self, chosen: Chosen, near: Chosen | None = None) -> float:
        """Return about how likely the answers are, as a logarithm."""
        return self.likely(chosen, near).log_total + sum(float(np.log(option.prior)) for option in chosen)

    def best(self, chosen: Sequence[Offset]) -> Chosen:
        """Return the likeliest combination."""
        return max((one for one, _ in chosen), key=self.value)

    def narrowed(self, chosen: list[Offset], part: Part) -> list[Offset]:
        """Put one more question to the combinations that are left.

        All answers are tried under the likeliest combination: which are hopeless hardly depends on it.
        """
        first = self.best(chosen)
        worth = np.array([self.value((*first, option)) for option in part.options])
        worth -= worth.max()
        tried = [
            ((*before, option), offset, self.value(before) + offset + more)
            for before, offset in chosen
            for option, more in zip(part.options, worth, strict=True)
            if more > _HOPELESS
        ]
        kept, more = some_of(np.array([value for *_, value in tried]), 2 * _MOST_ANSWERS)
        found = [(tried[i][0], tried[i][1] + x) for i, x in zip(kept, more, strict=True)]
        value = np.array([self.value(one, (*first, one[-1])) + offset for one, offset in found])
        some = np.flatnonzero(value > value.max() + _HOPELESS)
        kept, more = some_of(value[some], _MOST_ANSWERS)
        return [(found[some[i]][0], found[some[i]][1] + x) for i, x in zip(kept, more, strict=True)]

    def spread_parts(self, chosen: list[Offset], asked: SpreadPart) -> list[Part]:
        """Look for the spreads that groups have, as factors of the others' under the likeliest answers.

        Returns
        -------
        list
            A question for each group: one spread, or the nodes of a rule over the factor's posterior.
        """
        first, number = self.best(chosen), len(asked.members)
        # However many groups there are, that all have one spread is even money.
        same = 0.5 ** (1 / number)
        at = np.zeros(number)
        parts: dict[int, Part] = {}
        for place in [*range(number)] * (2 if number > 1 else 1):
            others = np.exp(np.where(np.arange(number) == place, 0, at) @ asked.members)
            value = np.array(
                [
                    self.value((*first, Option("", 1.0, factors=np.exp(x * asked.members[place]) * others)))
                    for x in _LOG_FACTORS
                ]
            )
            x, mass, total = _along(value, number + 1)
            at[place] = x[mass.argmax()]
            nodes, weights = gauss_rule(x, mass, _FACTOR_NODES)
            # What a node stands for: its weight in the posterior over its likelihood.
            log_share = np.log(weights) + total - by_cubics(_LOG_FACTORS, value, nodes)
            options = [Option(f"one spread, whatever the {asked.name}", same, nothing=True)]
            options += [
                Option(
                    f"a spread of its own, {np.exp(node):.2f} times",
                    float((1 - same) * np.exp(share)),
                    factors=np.exp(node * asked.members[place]),
                )
                for node, share in zip(nodes, log_share, strict=True)
            ]
            which = f", {asked.levels[place]}" if number > 1 else ""
            parts[place] = Part(f"spread by {asked.name}{which}", tuple(options), "spread by groups")
        return [parts[place] for place in range(number)]


def _along(value: Floats, groups: int) -> tuple[Floats, Floats, float]:
    """Return the posterior of a log factor: points, masses, and the log of the table's probability.

    It is normal before the table is seen. Everything else is flat on the spread of one of the groups; moved
    by its variance over their number, it is flat on their geometric mean, so that it does not matter which of
    them the others are measured against.
    """
    x = np.linspace(_LOG_FACTORS[0], _LOG_FACTORS[-1], _FACTOR_POINTS)
    moved = _LOG_FACTOR_DEVIATION**2 / groups
    prior = -0.5 * ((x - moved) / _LOG_FACTOR_DEVIATION) ** 2
    prior -= np.log(np.exp(prior).sum())
    log = by_cubics(_LOG_FACTORS, value, x) + prior
    mass = np.exp(log - log.max())
    return x, mass / mass.sum(), float(log.max() + np.log(mass.sum()))


def _says(option: Option) -> bool:
    """Whether an answer changes the fit."""
    return any(one is not None for one in (option.columns, option.earlier_exposure, option.factors))


def some_of(value: Floats, wanted: int) -> tuple[NDArray[np.intp], Floats]:
    """Return the places of some that stand for all, and the log of how many times as much they then weigh.

    Those that weigh much stay as they are. Of the others, in their order, one is taken at equal steps along
    their summed weight, and all that are taken weigh the same.
    """
    if len(value) <= wanted:
        return np.arange(len(value)), np.zeros(len(value))
    weight = np.exp(value - value.max())
    weight /= weight.sum()
    light = np.flatnonzero(weight < 1 / wanted)
    number = wanted - (len(weight) - len(light))
    passed = np.cumsum(weight[light])
    taken = light[np.searchsorted(passed / passed[-1], (np.arange(number) + 0.5 - OFF) / number)]
    now = weight.copy()
    now[light] = np.bincount(taken, minlength=len(weight))[light] * passed[-1] / number
    kept = np.flatnonzero(now)
    return kept, np.log(now[kept] / weight[kept])


def records_of(k: Floats, n: Floats, chosen: Chosen) -> Records:
    """Return counts by hitter as these answers have them fitted; of large tables equal ones together."""
    scales = [np.full(c.shape[1], o.scale) for o in chosen if (c := o.columns) is not None]
    earlier = next((option for option in chosen if option.earlier_exposure is not None), None)
    nothing, factors = np.zeros(len(k)), factors_of(chosen)
    design = design_of(len(k), chosen)
    events, exposure = nothing, nothing
    if earlier is not None and earlier.earlier_events is not None and earlier.earlier_exposure is not None:
        events, exposure = earlier.earlier_events, earlier.earlier_exposure
    every = np.concatenate([[np.inf], *scales])
    times = np.ones(len(k))
    if len(k) >= _COMPRESS:
        more = [events, exposure] if earlier else []
        rows = np.column_stack([k, n, design[:, 1:], *more, *([factors] if len(factors) > 1 else [])])
        # A random projection names a row; that equal names are equal rows is then looked at.
        name = rows @ np.random.default_rng(0).random(rows.shape[1])
        _, first, same, count = np.unique(name, return_index=True, return_inverse=True, return_counts=True)
        if len(first) < 0.8 * len(k) and np.array_equal(rows[first][same], rows):
            times = count.astype(float)
            k, n, design = k[first], n[first], design[first]
            events, exposure = events[first], exposure[first]
            factors = factors[first] if len(factors) > 1 else factors
    there = n > 0
    return Records(
        k[there],
        n[there],
        times[there],
        design[there],
        every,
        events[there],
        exposure[there],
        factors[there] if len(factors) > 1 else factors,
    )


def factors_of(chosen: Chosen) -> Floats:
    """Return how many times as wide each hitter's law is; one number where all are alike."""
    return np.asarray(
        np.prod([o.factors for o in chosen if o.factors is not None], axis=0, initial=1.0)
        if any(o.factors is not None for o in chosen)
        else np.ones(1)
    )


def design_of(hitters: int, chosen: Chosen) -> Floats:
    """Return the columns that the mean follows under these answers, shape (hitters, columns)."""
    columns = [option.columns for option in chosen if option.columns is not None]
    return np.column_stack([np.ones(hitters), *columns])
