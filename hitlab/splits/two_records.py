"""Two records held against each other by themselves, where no others tell how much they differ."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from hitlab.counting.intervals import DEFAULT_LEVEL

__all__ = ["TwoRecords", "two_records"]

_QUANTILES = 2_000


class TwoRecords(NamedTuple):
    """The chance that the first true rate is higher, the log odds ratio, its interval."""

    chance: float
    log_odds_ratio: float
    low: float
    high: float


def two_records(k: int, n: int, rest_k: int, rest_n: int) -> TwoRecords:
    """Compare events of an exposure with those of the rest.

    The rates have beta laws, with Jeffreys' prior (half an event, half a miss): the chance goes through the
    first by its quantiles. The log odds of such a law have the mean digamma(a) - digamma(b) and the variance
    trigamma(a) + trigamma(b); for the interval their difference is taken for normal.
    """
    from scipy.special import betainc, betaincinv, digamma, ndtri, polygamma

    inside, rest = (k + 0.5, n - k + 0.5), (rest_k + 0.5, rest_n - rest_k + 0.5)
    quantiles = (np.arange(_QUANTILES) + 0.5) / _QUANTILES
    chance = float(betainc(*rest, betaincinv(*inside, quantiles)).mean())
    ratio = float(digamma(inside[0]) - digamma(inside[1]) - digamma(rest[0]) + digamma(rest[1]))
    reach = float(ndtri((1 + DEFAULT_LEVEL) / 2) * np.sqrt(polygamma(1, [*inside, *rest]).sum()))
    return TwoRecords(chance, ratio, ratio - reach, ratio + reach)
