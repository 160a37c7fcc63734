"""What comes out of correlating two rates across hitters: the correlation, its curve, and what mimics it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import pandas as pd

from hitlab.results import Note, Part, Result, Table
from hitlab.wording import chance_text, level_words, percent, rate_text

__all__ = ["SHARED_CAUSES", "Link", "correlation_text"]

SHARED_CAUSES = (
    "park: hitters of one club share a ballpark, which can lift or lower both rates",
    "radar or eye: one device or scorer that judges hardness generously does so in both rates",
    "schedule: hitters who met weak pitching met it in both",
    "exposure: who plays more may be better at both, and who plays little may be new, hurt or old",
)
"""What makes two rates go together without one skill behind both."""


@dataclass(frozen=True, slots=True)
class Link(Result):
    """How two rates go together across hitters.

    Attributes
    ----------
    data
        One row a hitter with exposure in both: who it is, ``first_events``, ``first_exposure``,
        ``first_rate``, ``first_shrunk`` (posterior mean of the true rate, given both records), and the same
        four as ``second_...``.
    left_out
        One row a hitter who is not in it: who and ``why``.
    first, second
        The two rates in words.
    level
        Level of the interval.
    correlation, low, high
        Posterior mean and equal-tailed interval of the correlation of true talents; prior flat on -1 to 1.
    chance_positive
        The chance that it is above 0.
    why_not
        Why it cannot be told; empty where it can.
    naive
        The correlation of the observed rates of ``naive_hitters``, each alike; missing where a rate does not
        vary.
    naive_hitters
        How many have at least a quarter of the largest exposure in both rates: whom one would compare
        without a model. All, where they are fewer than three.
    reliabilities
        For each rate, the share of the variance of these observed rates that is true differences, the rest
        being luck.
    spreads
        For each rate, the standard deviation of true rates across hitters.
    gains
        For each rate, twice the log likelihood ratio of a spread over none.
    exposure_links
        For each rate, the rank correlation of observed rate and exposure.
    unknown_share
        The larger share of contact with unknown hardness of the two rates.
    proof
        Why luck in one rate says nothing of luck in the other.
    density
        The posterior's curve, as :meth:`curve` gives it.
    source
        Where the counts came from.
    notes
        What a careful reader wants to know besides.
    """

    data: pd.DataFrame
    left_out: pd.DataFrame
    first: str
    second: str
    level: float
    correlation: float
    low: float
    high: float
    chance_positive: float
    why_not: str
    naive: float
    naive_hitters: int
    reliabilities: tuple[float, float]
    spreads: tuple[float, float]
    gains: tuple[float, float]
    exposure_links: tuple[float, float]
    unknown_share: float
    proof: str
    density: pd.DataFrame
    source: str
    notes: tuple[str, ...] = ()

    def curve(self) -> pd.DataFrame:
        """Return the posterior's curve: ``correlation`` from -1 to 1 in ascending order, ``density``."""
        return self.density.copy()

    @property
    def deviation(self) -> float:
        """The posterior's standard deviation."""
        x, density = (self.density[name].to_numpy(float) for name in ("correlation", "density"))
        total = np.trapezoid(density, x)
        return float(np.sqrt(np.trapezoid(density * (x - self.correlation) ** 2, x) / total))

    @property
    def can_be_told(self) -> bool:
        """Whether both rates show true differences, so that there is something to correlate."""
        return not self.why_not

    @property
    def largest_naive(self) -> float:
        """About what the correlation of observed rates would be if the true one were 1."""
        return float(np.sqrt(self.reliabilities[0] * self.reliabilities[1]))

    @property
    def explanation(self) -> str:
        """The answer in one sentence."""
        head = f"True talents of {len(self.data):,} hitters in {self.first} and in {self.second}"
        found = (
            f"correlation {correlation_text(self.correlation)}, {level_words(self.level)} posterior interval "
            f"{correlation_text(self.low)} to {correlation_text(self.high)}, chance that it is positive "
            f"{chance_text(self.chance_positive)}"
        )
        if self.why_not:
            return (
                f"{head}: how they go together cannot be told. {self.why_not}. Little but the prior: {found}"
            )
        return f"{head}: {found}"

    @property
    def attenuation(self) -> str:
        """Why the correlation of observed rates is too small, in one sentence with its numbers."""
        shown = "cannot be formed" if np.isnan(self.naive) else f"is {correlation_text(self.naive)}"
        return (
            f"The correlation of observed rates {shown} ({self.naive_hitters:,} hitters with a quarter of "
            f"the largest exposure or more). About {percent(self.reliabilities[0])} of the variance of the "
            f"first and {percent(self.reliabilities[1])} of the second are true differences, the rest is "
            f"luck: a true correlation of 1 would show as about {correlation_text(self.largest_naive)}"
        )

    @property
    def shared_causes(self) -> tuple[str, ...]:
        """What could make the two go together without one skill behind both."""
        one, other = (correlation_text(value) for value in self.exposure_links)
        return (
            *SHARED_CAUSES[:-1],
            f"{SHARED_CAUSES[-1]} (rank correlation of exposure and observed rate here: {one} and {other})",
        )

    @property
    def left_out_words(self) -> str:
        """How many hitters are left out, and why."""
        if self.left_out.empty:
            return "nobody is left out"
        reasons = self.left_out["why"].value_counts()
        return "left out: " + ", ".join(f"{number:,} with {why}" for why, number in reasons.items())

    @property
    def title(self) -> str:
        """The explanation as a sentence."""
        return f"{self.explanation}."

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with rates as they are said."""
        shown = self.data.copy()
        for name in shown.columns:
            if name.endswith(("_rate", "_shrunk")):
                shown[name] = [rate_text(value) for value in shown[name]]
        return shown.rename(columns=lambda name: str(name).replace("_", " "))

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: what luck does to it and what could mimic it, too."""
        return [
            self.title,
            Note(f"{self.attenuation}.", ""),
            *(Note(note) for note in (self.left_out_words, self.proof, *self.notes)),
            *(Note(cause, "could mimic it") for cause in self.shared_causes),
            Table(self.table_for_people(), most_rows=10),
        ]


def correlation_text(value: float) -> str:
    """Return a correlation with its sign and two digits: ``+.31``, ``-.04``; ``none`` where it is missing."""
    return "none" if np.isnan(value) else f"{value:+.2f}".replace("0.", ".", 1)
