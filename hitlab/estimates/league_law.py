"""What is usual, stated from outside: the league's law of true rates for a club of 12 hitters, or its spread.

Twelve hitters hardly tell how far hitters differ, and that decides how far each is to be pulled toward their
mean. A league tells it, last year's team does in part, and a coach who has seen many can state a range.
Whatever is stated is itself known as well only as so many true rates would tell it.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.events import rate_words
from hitlab.errors import ClaimError, CountsError
from hitlab.estimates.prior_laws import Stated
from hitlab.spoken import range_of
from hitlab.wording import percent, rate_text

__all__ = ["AS_SURE_AS", "LeagueLaw", "stated_range", "what_is_usual"]

AS_SURE_AS = 12
"""How many true rates a range that somebody states is worth: a club's hitters (our choice, no source)."""

MOST_BETWEEN = 0.90
"""Share of hitters between the two ends of a stated range (our choice, no source)."""

_FLAT = 2.0  # the flat law on 0 to 1 is the Beta law of this size
_LEFT_BY_EYE, _LEFT_ERROR = 0.80, 0.15  # of differences, where an eye tells (see ``spread_alone``)
_LIKELY_ERRORS = 2.0  # standard errors that a stated spread may be off
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
    level
        Whether they are of the table's own kind. ``False``: an eye tells there what a radar tells here, so
        that the mean is another, and only by how much hitters differ is taken along.

    Raises
    ------
    CountsError
        Where no law of rates has these figures.
    """

    mean: float
    spread: float
    rates: int | None = None
    source: str = ""
    level: bool = True

    def __post_init__(self) -> None:
        if not isinstance(self.mean, int | float) or not 0 < self.mean < 1:
            raise CountsError(f"mean={self.mean!r}: give a rate between 0 and 1")
        most = np.sqrt(self.mean * (1 - self.mean))
        if not 0 < self.spread < most * (1 - 1e-9):  # below by more than rounding
            raise CountsError(
                f"spread={self.spread!r}: give a standard deviation above 0 and below {most:.3f}, the "
                f"largest that rates with a mean of {rate_text(self.mean)} can have"
            )
        if self.rates is not None and self.rates < 2:
            raise CountsError(f"rates={self.rates!r}: give a whole number from 2 up, or None")

    @classmethod
    def between(
        cls,
        low: float,
        high: float,
        *,
        share: float = MOST_BETWEEN,
        rates: int | None = AS_SURE_AS,
        source: str = "",
    ) -> LeagueLaw:
        """Return the law of hitters of whom a share lies between two rates, as many below as above.

        Parameters
        ----------
        low, high
            Rates between 0 and 1.
        share
            Of the hitters' true rates between them, above 0 and below 1.
        rates, source
            As in the class; ``source`` in words from the range where not given.

        Raises
        ------
        CountsError
            Where they are no range, or so wide that nothing is usual.

        Examples
        --------
        "Between 8 and 18 % of their swings are hit hard":

        >>> law = LeagueLaw.between(0.08, 0.18)
        >>> round(law.mean, 3), round(law.spread, 3), law.rates
        (0.126, 0.031, 12)
        """
        from scipy.optimize import least_squares
        from scipy.special import betaincinv, expit, logit, ndtri

        if not (_is_number(low) and _is_number(high) and 0 < low < high < 1):
            raise CountsError(
                f"between {low!r} and {high!r}: give two rates between 0 and 1, the lower one first"
            )
        if not (_is_number(share) and 0 < share < 1):
            raise CountsError(f"share={share!r}: give a share of the hitters between 0 and 1")
        ends = logit([low, high])
        tails = np.array([(1 - share) / 2, (1 + share) / 2])
        deviation = (ends[1] - ends[0]) / (2 * ndtri(tails[1]))
        mean = expit(ends.mean())
        # A normal law on the log odds is near enough to begin with.
        start = [ends.mean(), np.log(max(1 / (deviation**2 * mean * (1 - mean)) - 1, 0.1))]

        def off(at: Floats) -> Floats:
            size = np.exp(np.clip(at[1], -3, 18))
            middle = expit(at[0])
            found = betaincinv(middle * size, (1 - middle) * size, tails)
            return np.asarray(logit(np.clip(found, 1e-12, 1 - 1e-12)) - ends)

        at = least_squares(off, start, xtol=1e-12, ftol=1e-12, gtol=1e-12).x
        middle, size = float(expit(at[0])), float(np.exp(at[1]))
        if size < _FLAT or np.abs(off(at)).max() > 1e-4:
            raise CountsError(
                f"between {rate_text(low)} and {rate_text(high)} lies nearly every rate, so that nothing is "
                "said to be usual; give a narrower range, or none"
            )
        words = f"stated: {percent(share)} of hitters from {rate_text(low)} to {rate_text(high)}"
        return cls(middle, float(np.sqrt(middle * (1 - middle) / (size + 1))), rates, source or words)

    @property
    def spread_alone(self) -> LeagueLaw:
        """The same without its level, for a table in which an eye tells what a radar told here.

        An eye calls other balls hard, and more or fewer of them: of its level the radar's says nothing. Its
        differences are the hitters', blurred by its mistakes: of a difference between true rates is left what
        sensitivity and specificity add up to beyond 1, and we take 80 % with a standard error of 15 (no
        source). Where the eye calls fewer, differences are smaller in proportion.
        """
        return replace(self, level=False)

    def spread_at(self, mean: float) -> float:
        """Return the standard deviation of the true rates of a table with such a mean."""
        if self.level:
            return self.spread
        fewer = min(1.0, mean * (1 - mean) / (self.mean * (1 - self.mean)))
        return self.spread * fewer * _LEFT_BY_EYE

    @property
    def words(self) -> str:
        """Its figures, as an answer names them."""
        worth = "" if self.rates is None else f", as sure as {self.rates:,} true rates make it"
        if self.level:
            return f"a mean of {rate_text(self.mean)} and a spread of {rate_text(self.spread)}{worth}"
        return (
            f"a spread of {rate_text(self.spread)} (around {rate_text(self.mean)} there, not taken along)"
            f"{worth}, of which an eye's mistakes leave about {percent(_LEFT_BY_EYE)}"
        )

    @property
    def size(self) -> float:
        """Sum of the two parameters of the Beta law: the exposure at which a record weighs half."""
        return self.mean * (1 - self.mean) / self.spread**2 - 1

    def stated(self, pooled: float) -> Stated | None:
        """Return the prior on the law that these figures are; ``None`` where they are exactly known.

        Parameters
        ----------
        pooled
            The table's own rate of all together, which a law with a level does not ask.
        """
        if self.level and self.rates is None:
            return None
        mean = self.mean if self.level else pooled
        most = np.sqrt(mean * (1 - mean))
        r = self.spread_at(mean) / most
        rates = np.inf if self.rates is None else self.rates
        off = 1 / np.sqrt(2 * rates)
        if not self.level:
            return Stated(None, None, float(r), float(r * np.hypot(off, _LEFT_ERROR / _LEFT_BY_EYE)))
        error = self.spread / most**2 / np.sqrt(rates)
        return Stated(float(np.log(mean / (1 - mean))), float(error), float(r), float(r * off))

    def contradictions(self, k: Floats, n: Floats, event: str, per: str) -> list[str]:
        """Say where the law makes mean or scatter of events ``k`` in exposure ``n`` a great surprise."""
        from scipy.special import ndtr

        k, n = k[n > 0], n[n > 0]
        name, found = rate_words(event, per), list[str]()
        if not self.level:
            pooled = float((k.sum() + 0.5) / (n.sum() + 1))
            return _scatter(k, n, self.spread_at(pooled), name, pooled, self.rates)
        luck = self.mean * (1 - self.mean)
        own = self.spread**2 / self.rates if self.rates else 0.0
        error = np.sqrt(self.spread**2 * (n @ n) / n.sum() ** 2 + luck / n.sum() + own)
        pooled = k.sum() / n.sum()
        chance = 2 * float(ndtr(-abs(pooled - self.mean) / error))
        if chance < _SURPRISE:
            found.append(
                f"the stated mean of {name} is {rate_text(self.mean)}, this table's is {rate_text(pooled)}, "
                f"{abs(pooled - self.mean) / error:.1f} standard errors away, more than luck makes: what was "
                "stated is of another kind of hitters, or the rate is counted otherwise"
            )
        return [*found, *_scatter(k, n, self.spread, name, self.mean, self.rates)]


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _scatter(k: Floats, n: Floats, spread: float, name: str, mean: float, rates: int | None) -> list[str]:
    """Say where rates scatter more or less than a spread and luck around a mean allow."""
    from scipy.special import chdtr, chdtrc

    if len(n) < 2:
        return []
    pooled, free = k.sum() / n.sum(), len(n) - 1
    # Of a spread that is not well known, the one that fits best of those it may be.
    about = _LIKELY_ERRORS / np.sqrt(2 * rates) if rates else 0.0
    widest, least = (
        float((((k / n - pooled) ** 2) / ((spread * max(factor, 0.0)) ** 2 + mean * (1 - mean) / n)).sum())
        for factor in (1 + about, 1 - about)
    )
    if 2 * chdtrc(free, widest) < _SURPRISE:
        word, scatter = "more", widest
    elif 2 * chdtr(free, least) < _SURPRISE:
        word, scatter = "less", least
    else:
        return []
    return [
        f"the rates of {name} scatter {word} than the stated spread of {rate_text(spread)} and "
        f"luck allow: {scatter:.0f} where {free} is expected"
    ]


def stated_range(text: str, *, rates: int | None = AS_SURE_AS) -> LeagueLaw:
    """Return the law that somebody states by a range in which most hitters lie.

    Parameters
    ----------
    text
        As :func:`hitlab.spoken.range_of` takes it.
    rates
        As sure as so many hitters' true rates would make it.

    Raises
    ------
    ClaimError, CountsError
        Where it is no range, or one that leaves everything usual.

    Examples
    --------
    >>> stated_range("between 8 and 18 % of swings").words
    'a mean of .126 and a spread of .031, as sure as 12 true rates make it'
    """
    return LeagueLaw.between(*range_of(text), rates=rates)


def what_is_usual(prior: Any) -> tuple[float, float, int | None, str, bool]:
    """Return a law, a range in words, or what a law is made of, as a question keeps it.

    Parameters
    ----------
    prior
        A :class:`~hitlab.estimates.LeagueLaw`, a text for :func:`stated_range`, or a law's plain values.

    Raises
    ------
    ClaimError, CountsError
        Where it is none of these.
    """
    law = LeagueLaw(*prior) if isinstance(prior, tuple | list) else prior
    law = stated_range(law) if isinstance(law, str) else law
    if not isinstance(law, LeagueLaw):
        raise ClaimError(
            f"prior is a {type(prior).__name__}; give the .law of a fit, LeagueLaw(mean=..., spread=...), or "
            "a range such as '8% to 18%'"
        )
    return astuple(law)
