"""A law of true rates that is stated from outside, such as the league's for a club of 12 hitters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.events import rate_words
from hitlab.errors import CountsError
from hitlab.estimates.prior_laws import Stated
from hitlab.wording import rate_text

__all__ = ["LeagueLaw"]

_SURPRISE = 0.001  # a stated law that makes the table rarer than this is warned about


Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class LeagueLaw:
    """A law of true rates stated from outside, such as the league's for a club of 12 hitters.

    Attributes
    ----------
    mean, spread
        Mean and standard deviation of the true rates.
    rates
        How many hitters these two figures rest on: they are then taken with the standard errors that
        so many true rates give. ``None``: exactly known.
    source
        What they were taken from, for the answers that rest on them.

    Raises
    ------
    CountsError
        Where no law of rates has these figures.
    """

    mean: float
    spread: float
    rates: int | None = None
    source: str = ""

    def __post_init__(self) -> None:
        if not isinstance(self.mean, int | float) or not 0 < self.mean < 1:
            raise CountsError(f"mean={self.mean!r}: give a rate between 0 and 1")
        if not 0 < self.spread < np.sqrt(self.mean * (1 - self.mean)):
            most = np.sqrt(self.mean * (1 - self.mean))
            raise CountsError(
                f"spread={self.spread!r}: give a standard deviation above 0 and below {most:.3f}, the "
                f"largest that rates with a mean of {rate_text(self.mean)} can have"
            )
        if self.rates is not None and self.rates < 2:
            raise CountsError(f"rates={self.rates!r}: give a whole number from 2 up, or None")

    @property
    def size(self) -> float:
        """Sum of the two parameters of the Beta law: the exposure at which a record weighs half."""
        return self.mean * (1 - self.mean) / self.spread**2 - 1

    def stated(self) -> Stated | None:
        """Return the prior on the law that these figures are; ``None`` where they are exactly known."""
        if self.rates is None:
            return None
        most = np.sqrt(self.mean * (1 - self.mean))
        r = self.spread / most
        return Stated(
            float(np.log(self.mean / (1 - self.mean))),
            self.spread / most**2 / np.sqrt(self.rates),
            float(r),
            float(r / np.sqrt(2 * self.rates)),
        )

    def contradictions(self, k: Floats, n: Floats, event: str, per: str) -> list[str]:
        """Say where the law makes mean or scatter of events ``k`` in exposure ``n`` a great surprise."""
        from scipy.stats import chi2, norm

        k, n = k[n > 0], n[n > 0]
        luck = self.mean * (1 - self.mean)
        own = self.spread**2 / self.rates if self.rates else 0.0
        error = np.sqrt(self.spread**2 * (n @ n) / n.sum() ** 2 + luck / n.sum() + own)
        pooled = k.sum() / n.sum()
        chance = 2 * float(norm.sf(abs(pooled - self.mean) / error))
        name, found = rate_words(event, per), []
        if chance < _SURPRISE:
            found.append(
                f"the stated mean of {name} is {rate_text(self.mean)}, this table's is {rate_text(pooled)}, "
                f"{abs(pooled - self.mean) / error:.1f} standard errors away, more than luck makes: what was "
                "stated is of another kind of hitters, or the rate is counted otherwise"
            )
        scatter = float((((k / n - pooled) ** 2) / (self.spread**2 + luck / n)).sum())
        chance = (
            2 * float(min(chi2.sf(scatter, len(n) - 1), chi2.cdf(scatter, len(n) - 1))) if len(n) > 1 else 1.0
        )
        if chance < _SURPRISE:
            word = "more" if scatter > len(n) - 1 else "less"
            found.append(
                f"the rates of {name} scatter {word} than the stated spread of {rate_text(self.spread)} and "
                f"luck allow: {scatter:.0f} where {len(n) - 1} is expected"
            )
        return found
