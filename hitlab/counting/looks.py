"""How many splits were looked at, and how many of those called are expected to be false.

Who looks at enough splits finds striking ones by luck. Two ways to say how many, never mixed:

- chances: each split has a chance of being above, from a law fitted to all hitters. Among those called, the
  expected share of false ones is the mean of one minus the chance. It is right as far as the law is.
- p-values: each split is tested by itself, without a law; the Benjamini-Hochberg step-up rule chooses so that
  the expected share of false ones among those called is at most the rate asked for (Benjamini & Hochberg
  1995, J. R. Stat. Soc. B 57:289-300). Splits of one hitter share swings; the rule is known to hold for tests
  that are independent or positively dependent, and complementary situations are neither.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import ClassVar, Literal

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.errors import CountsError
from hitlab.results import Listing, Part, Result
from hitlab.wording import percent

__all__ = ["AGAINST", "Against", "Called", "Looks", "call_by_chance", "call_by_p", "exact_p"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

Against = Literal["rest", "usual", "league"]
AGAINST: dict[str, str] = {
    "rest": "against the hitter's own rest",
    "usual": "against the hitter's own rest, beyond what the situation does to everybody",
    "league": "against the average hitter in the same situation",
}
"""What a split is compared with, in words."""

_KEY = ["hitter", "situation", "event", "per", "against"]


@dataclass(frozen=True, slots=True)
class Called(Listing):
    """Splits that stand out, and how many of them are expected to be false.

    Attributes
    ----------
    data
        The rows called, the most certain first, with ``direction``: above or below. By chance, with
        ``chance``: that of the direction called.
    looked_at
        Number of splits looked at.
    false_share
        Expected share of false ones among those called; by p-values, the bound that was asked for. Missing
        where none is called by chance.
    rule
        ``chance`` or ``p-value``.
    """

    data: pd.DataFrame
    looked_at: int
    false_share: float
    rule: Literal["chance", "p-value"]

    MOST_ROWS: ClassVar[int | None] = 20

    @property
    def explanation(self) -> str:
        """One sentence: how many looked at, how many called, how many of those false."""
        n = len(self.data)
        called = f"{n:,} of {self.looked_at:,} {'split' if self.looked_at == 1 else 'splits'} looked at"
        verb = "stands" if n == 1 else "stand"
        if self.rule == "p-value":
            return (
                f"{called} {verb} out by p-values; the rule keeps the expected share of false ones "
                f"to {percent(self.false_share)} at most"
            )
        if not n:
            return f"none of {self.looked_at:,} splits looked at stands out by its chance"
        share = percent(self.false_share)
        false = f"{self.false_words} ({share})"
        return f"{called} {verb} out by the chance; expected to be false among them: {false}"

    @property
    def false_words(self) -> str:
        """How many of those that were called are expected to be false, in words; of none, none."""
        number = self.false_share * len(self.data) if len(self.data) else 0.0
        return f"about {number:.{0 if number >= 9.5 else 1}f}" if number >= 0.05 else "fewer than 0.1"

    @property
    def title(self) -> str:
        """The sentence of ``words``."""
        return self.explanation


@dataclass(slots=True)
class Looks(Result):
    """A log of the splits that somebody looked at; pass the same one to every call.

    The same split looked at twice counts once, with its latest figures: what is counted is how many chances
    luck had, not how often they were read.

    Examples
    --------
    >>> looks = Looks()
    >>> looks.number
    0
    """

    _seen: dict[tuple[str, ...], tuple[float, float]] = field(default_factory=dict, repr=False)

    @property
    def number(self) -> int:
        """Number of different splits looked at."""
        return len(self._seen)

    def add(self, rows: pd.DataFrame) -> None:
        """Add splits.

        Parameters
        ----------
        rows
            One row a split: ``hitter`` (whatever tells him apart), ``situation``, ``event``, ``per``,
            ``against`` (a key of ``AGAINST``), ``chance_above`` and ``p_value`` (missing where there is
            none).

        Raises
        ------
        CountsError
            Where a chance is not between 0 and 1.
        """
        chance = rows["chance_above"].to_numpy(float)
        if not ((chance >= 0) & (chance <= 1)).all():
            raise CountsError("chance_above holds a value that is not between 0 and 1")
        keys = zip(*(rows[name].astype(str) for name in _KEY), strict=True)
        self._seen.update(zip(keys, zip(chance, rows["p_value"].to_numpy(float), strict=True), strict=True))

    def table(self) -> pd.DataFrame:
        """One row a split looked at, in the order in which they came."""
        rows = [(*key, *value) for key, value in self._seen.items()]
        return pd.DataFrame(rows, columns=[*_KEY, "chance_above", "p_value"])

    def by_chance(self, bound: float = 0.90) -> Called:
        """Call the splits whose chance of being above, or below, reaches a bound."""
        return call_by_chance(self.table(), "chance_above", bound)

    def by_p(self, rate: float = 0.10) -> Called:
        """Call by p-values, over every split in the log, at most this share of them false.

        Raises
        ------
        CountsError
            Where a split in the log has none.
        """
        return call_by_p(self.table(), "p_value", rate, above="chance_above", middle=0.5)

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: one sentence."""
        return [f"Looks: {self.by_chance().explanation}"]


def call_by_chance(splits: pd.DataFrame, chance: str, bound: float = 0.90) -> Called:
    """Call every split whose chance of being above, or of being below, reaches a bound.

    Parameters
    ----------
    splits
        One row a split looked at.
    chance
        The column that holds the chance of being above.
    bound
        From .5 up to 1.

    Returns
    -------
    Called
        The splits that were called, the surest first, each with ``direction`` and ``chance``; how many were
        looked at; and the share of false ones to be expected among those called.

    Raises
    ------
    CountsError
        Where the bound is out of range.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.counting import call_by_chance
    >>> splits = pd.DataFrame({"situation": ["on sliders", "with two strikes", "up and in"],
    ...                        "chance_above": [0.97, 0.60, 0.04]})
    >>> called = call_by_chance(splits, "chance_above")
    >>> called.table()[["situation", "direction", "chance"]]
        situation direction  chance
    0  on sliders     above    0.97
    1   up and in     below    0.96
    """
    if not 0.5 <= bound <= 1:
        raise CountsError(f"bound={bound!r}: give a chance from .5 up to 1, such as .90")
    above = splits[chance].to_numpy(float)
    sure = np.maximum(above, 1 - above)
    rows = splits.assign(direction=np.where(above >= 0.5, "above", "below"), chance=sure)
    rows = rows[sure >= bound].sort_values("chance", ascending=False, kind="stable")
    share = float(1 - rows["chance"].mean()) if len(rows) else float("nan")
    return Called(rows.reset_index(drop=True), len(splits), share, "chance")


def call_by_p(splits: pd.DataFrame, p_value: str, rate: float, *, above: str, middle: float = 0.0) -> Called:
    """Call splits by the Benjamini-Hochberg step-up rule.

    Parameters
    ----------
    splits
        One row a split looked at: all of them, for the rule counts them.
    p_value
        The column that holds the p-values.
    rate
        The expected share of false ones among those called, at most; between 0 and 1.
    above, middle
        A split is above where this column exceeds this value.

    Returns
    -------
    Called
        The splits that were called, the smallest p-value first, each with ``direction``; how many were looked
        at; and the rate that was asked for.

    Raises
    ------
    CountsError
        Where the rate is out of range, or a p-value is missing.

    Examples
    --------
    All three p-values below .05 are called here. Among twenty splits only the first of them would be, for
    the rule counts all that were looked at:

    >>> import pandas as pd
    >>> from hitlab.counting import call_by_p
    >>> splits = pd.DataFrame({"situation": ["on sliders", "with two strikes", "up and in", "first pitch"],
    ...                        "p_value": [0.004, 0.030, 0.045, 0.700],
    ...                        "log_odds_ratio": [0.9, -0.4, 0.6, 0.1]})
    >>> called = call_by_p(splits, "p_value", 0.10, above="log_odds_ratio")
    >>> called.table()[["situation", "direction", "p_value"]]
              situation direction  p_value
    0        on sliders     above    0.004
    1  with two strikes     below    0.030
    2         up and in     above    0.045
    """
    from scipy import stats

    if not 0 < rate < 1:
        raise CountsError(f"rate={rate!r}: give a share between 0 and 1, such as .10")
    values = splits[p_value].to_numpy(float)
    if not np.isfinite(values).all():
        without = int((~np.isfinite(values)).sum())
        raise CountsError(
            f"{without:,} of {len(values):,} splits have no p-value; call by chance, or look at splits "
            "against 'rest' or 'league' only"
        )
    chosen = stats.false_discovery_control(values) <= rate if len(values) else np.zeros(0, dtype=bool)
    direction = np.where(splits[above].to_numpy(float) > middle, "above", "below")
    rows = splits.assign(direction=direction)[chosen].sort_values(p_value, kind="stable")
    return Called(rows.reset_index(drop=True), len(splits), rate, "p-value")


def exact_p(events: Wholes, exposure: Wholes, other_events: Wholes, other_exposure: Wholes) -> Floats:
    """Test two shares for equality: Fisher's exact test, the tail on the record's side doubled.

    Parameters
    ----------
    events, exposure, other_events, other_exposure
        Counts of both records, one entry a test; nothing is checked.
    """
    from scipy.stats import hypergeom

    every, hits = exposure + other_exposure, events + other_events
    low = events * every < exposure * hits
    tail = np.empty(len(events))
    tail[low] = hypergeom.cdf(events[low], every[low], hits[low], exposure[low])
    tail[~low] = hypergeom.sf(events[~low] - 1, every[~low], hits[~low], exposure[~low])
    return np.minimum(1.0, 2 * tail)
