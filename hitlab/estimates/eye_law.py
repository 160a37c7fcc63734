"""Hard balls told by eye: the true rates behind ticks, with the doubt about the eye carried through.

The eye ticks a hard ball with a chance (sensitivity), and leaves one that is not hard unticked with another
(specificity). Of ``k`` ticks on ``c`` balls judged, ``(k - (1 - specificity) c) / (sensitivity + specificity
- 1)`` balls were hard, on average (Rogan & Gladen 1978, Amer. J. Epidemiol. 107:71-76). Such a record is
worth fewer attempts than it has: its luck is that of the ticks, spread out by the division. The law of true
rates is fitted to these records. Neither chance is known: each has the Jeffreys posterior of the balls on
which it was measured, and every draw of both moves all rates together, by a stretch and a shift. A draw under
which rates would be negative weighs less by as much as it has them so.

Balls whose speed a radar measured are taken as measured: a draw moves as much of a rate as the eye told.

What it supposes: the eye errs at this table's balls as often as at those on which it was measured. It errs
near its threshold, so balls of another mix of speeds have other errors.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, unknown_contact
from hitlab.counting.facts import eye_counts
from hitlab.errors import CountsError
from hitlab.estimates.estimators import fit_moments
from hitlab.estimates.posterior import Posterior

__all__ = ["EyeErrors", "EyeRecords", "Ticks", "errors_of", "even_points"]

Floats = NDArray[np.float64]

_DRAWS = 128
_LAWS_A_DRAW = 2
_SEED = 11
_TELLS = 0.02  # sensitivity and specificity above one, below which ticks say nothing of a rate
_LEAST, _MOST = 1e-5, 1 - 1e-5  # of a mean that a Beta law is put around


class EyeErrors(NamedTuple):
    """How often an eye was right, on balls whose speed is known.

    Attributes
    ----------
    hard_ticked, hard
        Of the balls that were hard: those that the eye ticked, and all.
    soft_unticked, soft
        Of the balls that were not: those that it left unticked, and all.

    Examples
    --------
    >>> from hitlab.estimates import EyeErrors
    >>> eye = EyeErrors(hard_ticked=84, hard=100, soft_unticked=180, soft=200)
    >>> eye.sensitivity, eye.specificity
    (0.84, 0.9)
    """

    hard_ticked: int
    hard: int
    soft_unticked: int
    soft: int

    @property
    def sensitivity(self) -> float:
        """Share of the hard balls that the eye ticked."""
        return self.hard_ticked / self.hard

    @property
    def specificity(self) -> float:
        """Share of the balls that were not hard that it left unticked."""
        return self.soft_unticked / self.soft

    @property
    def expected(self) -> tuple[float, float]:
        """Posterior means of sensitivity and specificity."""
        return (self.hard_ticked + 0.5) / (self.hard + 1), (self.soft_unticked + 0.5) / (self.soft + 1)

    def at(self, dimensions: int, number: int, seed: int) -> tuple[Floats, Floats]:
        """Return the Jeffreys posteriors' quantiles of both, at the first two columns of even points."""
        points = dimensions, number, seed
        return (
            _quantiles(self.hard_ticked, self.hard, points, 0),
            _quantiles(self.soft_unticked, self.soft, points, 1),
        )

    def draws(self, number: int = _DRAWS) -> tuple[Floats, Floats]:
        """Return draws of sensitivity and specificity, evenly spread, without those of mere chance."""
        sensitivity, specificity = self.at(2, number, _SEED)
        better = sensitivity + specificity > 1 + _TELLS
        return sensitivity[better], specificity[better]


@lru_cache(maxsize=8)
def even_points(dimensions: int, number: int, seed: int) -> Floats:
    """Return points of the unit cube, evenly spread, the same for a seed; shape (number, dimensions)."""
    from scipy.stats import qmc

    points: Floats = qmc.Sobol(dimensions, rng=np.random.default_rng(seed)).random(number)
    points.flags.writeable = False
    return points


@lru_cache(maxsize=256)  # one eye judges for many claims
def _quantiles(right: int, tried: int, points: tuple[int, int, int], column: int) -> Floats:
    """Return a share's Jeffreys posterior's quantiles at a column of even points."""
    from scipy.special import betaincinv

    found: Floats = betaincinv(right + 0.5, tried - right + 0.5, even_points(*points)[:, column])
    found.flags.writeable = False
    return found


def errors_of(given: Any) -> EyeErrors:
    """Take an eye's errors from four counts, or from what measured them.

    Raises
    ------
    CountsError
        Where they are no such counts, or the eye was no better than chance.
    """
    errors = EyeErrors(*eye_counts(given))
    if not (errors.hard and errors.soft):
        raise CountsError(
            f"eye={tuple(errors)!r}: hard balls and others have to be among what the eye was tried on"
        )
    if sum(errors.expected) <= 1 + _TELLS:
        raise CountsError(
            f"eye={tuple(errors)!r}: an eye that ticks hard balls hardly more often than others tells nothing"
        )
    return errors


@dataclass(frozen=True, slots=True)
class Ticks:
    """Balls judged, by who judged them. All of shape (groups,).

    Attributes
    ----------
    ticked, judged
        Of the balls that an eye judged: those that it called hard, and all.
    measured_hard, measured
        Of the others, whose speed a radar told: those that were hard, and all.
    """

    ticked: Floats
    judged: Floats
    measured_hard: Floats
    measured: Floats

    @classmethod
    def of(cls, counts: Counts) -> Ticks:
        """Take them from counts; of a plain table of counts, which does not tell, all is an eye's.

        Raises
        ------
        CountsError
            Where there are more hard balls than balls judged, or flags were taken in place of speeds.
        MissingColumnsError
            Where hard balls, or those in play, were not counted.
        """
        hard = counts.column("hard")
        judged = counts.column("contact" if counts.conventions.hard_fouls else "in_play")
        judged = judged - unknown_contact(counts, "hard")[0]
        if (hard > judged).any():
            raise CountsError(
                "hard balls are among the balls judged, and here there are more of them somewhere"
            )
        if counts.conventions.eye is None and "hard_disputed" in counts.names:
            disputed = int(counts.column("hard_disputed").sum())
            if disputed:
                raise CountsError(
                    f"{disputed:,} balls have a speed and were counted by a flag that contradicts it; so "
                    "that the speed is taken there, count them with tally(pitches, "
                    "conventions=Conventions(eye=...))"
                )
        if "hard_by_eye" in counts.missing:  # pitches without a flag
            by_eye = ticked = np.zeros(len(hard), dtype=np.int64)
        elif "hard_by_eye" in counts.names:
            by_eye, ticked = counts.column("hard_by_eye"), counts.column("hard_ticked")
        else:
            by_eye, ticked = judged, hard
        told = (ticked, by_eye, hard - ticked, judged - by_eye)
        return cls(*(np.asarray(one, dtype=float) for one in told))

    @property
    def by_eye(self) -> Floats:
        """Share of each group's balls that an eye judged; of those without any the share of all."""
        both = self.judged + self.measured
        all_ = self.judged.sum() / both.sum() if both.sum() else 1.0
        share: Floats = np.full(len(both), float(all_))
        np.divide(self.judged, both, out=share, where=both > 0)
        return share


@dataclass(frozen=True, slots=True)
class EyeRecords:
    """Ticks of a table, as records of hard balls.

    Attributes
    ----------
    errors
        The eye's.
    events
        Shape (groups,): hard balls as expected of the ticks, and those measured; none below 0.
    effect
        Shape (groups,): how many times shorter a record counts, because the eye errs; 1 where a radar
        judged all of it.
    judged_share
        Shape (groups,): balls judged by eye per attempt, as expected of each group.
    by_eye
        Shape (groups,): share of the balls judged that the eye judged.
    measured
        How many balls a radar judged, in all.
    """

    errors: EyeErrors
    events: Floats
    effect: Floats
    judged_share: Floats
    by_eye: Floats
    measured: int

    @classmethod
    def of(cls, errors: EyeErrors, told: Ticks, exposure: Any) -> EyeRecords:
        """Make them of balls judged and of attempts, one each a group."""
        k, c, h, m = told.ticked, told.judged, told.measured_hard, told.measured
        n = np.asarray(exposure, dtype=float)
        sensitivity, specificity = errors.expected
        false, tells = 1 - specificity, sensitivity + specificity - 1
        events = (k - false * c) / tells
        share = float((c + m).sum() / n.sum())
        # Shares of hard balls among those of the eye and those measured, and what each is of an attempt.
        rate = float(np.clip(events.sum(), 0.5, max(c.sum() - 0.5, 0.5)) / c.sum())
        fast = float((h.sum() + 0.5) / (m.sum() + 1))
        seen, measured = share * told.by_eye, share * (1 - told.by_eye)
        mean = rate * seen + fast * measured
        ticks = (tells * rate + false) * seen
        # Variance of (ticks - false x judged) and of hard balls measured, of one attempt, against that of a
        # hard ball seen without error.
        variance = (ticks * (1 - false) ** 2 + (seen - ticks) * false**2) / tells**2
        variance += fast * measured - mean**2
        effect = np.maximum(variance / (mean * (1 - mean)), 1.0)
        expected = np.ones(len(n))
        if (c + m < n).any():
            a, b = fit_moments((c + m).astype(np.int64), n.astype(np.int64))
            expected = (c + m + a) / (n + a + b)
        held = np.clip(events + h, 0, n)
        return cls(errors, held, effect, expected * told.by_eye, told.by_eye, int(m.sum()))

    def over_errors(self, known: Posterior, before: Posterior) -> tuple[Posterior, Posterior]:
        """Average over what the eye's errors may be.

        Parameters
        ----------
        known
            What is known of the rates, were the errors those expected.
        before
            The same before the records were seen; its draws weigh as those of ``known``.

        Returns
        -------
        tuple of Posterior
            Both, each law of them stretched and shifted by a draw.
        """
        from scipy.special import betainc

        groups = known.a.shape[1]
        before = before.for_groups(groups) if before.a.shape[1] != groups else before
        sensitivity, specificity = self.errors.draws()
        stretch, shift = self._moves(sensitivity, specificity)
        # A law of rates that are negative with some chance: draws weigh by what the records take off it.
        weight = np.zeros(len(stretch))
        for one, sign in ((known, 1.0), (before, -1.0)):
            mean, spread = one.mean(), np.maximum(one.spread(), 1e-9)
            size = np.maximum(mean * (1 - mean) / spread**2 - 1, 1e-3)
            lowest = np.clip(-shift / stretch, 0, 1)
            inside = 1 - betainc(mean * size, (1 - mean) * size, lowest)
            weight += sign * np.log(np.maximum(inside, 1e-12)).sum(axis=1)
        weight = np.exp(weight - weight.max())
        number = len(stretch) * _LAWS_A_DRAW
        place = (np.arange(number) + 0.5) / number
        law = np.searchsorted(np.cumsum(known.weights), place).clip(max=len(known.weights) - 1)
        rng = np.random.default_rng(_SEED)
        # Laws that weigh alike stand in no order, so that a part of them is like the whole.
        draw = np.concatenate([rng.permutation(len(stretch)) for _ in range(_LAWS_A_DRAW)])
        weights = weight[draw] / weight[draw].sum()
        return (
            _moved(known.under(law, weights), stretch[draw], shift[draw]),
            _moved(before.under(law, weights), stretch[draw], shift[draw]),
        )

    def _moves(self, sensitivity: Floats, specificity: Floats) -> tuple[Floats, Floats]:
        """Return by what each rate under the expected errors is multiplied and moved under others."""
        own, other = self.errors.expected
        tells = sensitivity + specificity - 1
        less = (1 - other) - (1 - specificity)
        stretch = ((own + other - 1) / tells)[:, np.newaxis] * self.by_eye + (1 - self.by_eye)
        return stretch, (less / tells)[:, np.newaxis] * self.judged_share

    def note(self) -> str:
        """Say in one sentence what was allowed for."""
        e = self.errors
        radar = f"; {self.measured:,} balls that a radar judged are as measured" if self.measured else ""
        least, most = (f"{end:.2f}" for end in (self.effect.min(), self.effect.max()))
        shorter = most if least == most else f"{least} to {most}"
        return (
            f"hard is what an eye ticked: on balls of known speed it ticked {e.hard_ticked:,} of "
            f"{e.hard:,} hard ones and {e.soft - e.soft_unticked:,} of {e.soft:,} others. Observed rates are "
            "as the eye saw; shrunk rates and chances are of balls truly hard, allow for the doubt about "
            f"both, and take a record for {shorter} times shorter; the eye is supposed to err here "
            f"as often as there{radar}"
        )


def _moved(known: Posterior, stretch: Floats, shift: Floats) -> Posterior:
    """Stretch and shift each law's rates: Beta laws of the moments that come out."""
    law = known.law_of_part
    mean = known.a / (known.a + known.b)
    variance = mean * (1 - mean) / (known.a + known.b + 1) * stretch[law] ** 2
    mean = np.clip(stretch[law] * mean + shift[law], _LEAST, _MOST)
    size = np.maximum(mean * (1 - mean) / variance - 1, 1e-2)
    return replace(known, a=mean * size, b=(1 - mean) * size)
