"""A rate that an eye told, with the eye's measured errors taken out of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError
from hitlab.estimates.eye_law import EyeErrors, Ticks, errors_of, even_points
from hitlab.results import Listing
from hitlab.wording import level_words, rate_text

__all__ = ["Corrected", "correct_rates", "corrected_interval"]

Floats = NDArray[np.float64]
Method = Literal["adjusted", "posterior"]

_DRAWS = 1024
_SEED = 7


@dataclass(frozen=True, slots=True, eq=False)
class Corrected(Listing):
    """Rates of hard balls per ball judged, the eye's errors taken out.

    Attributes
    ----------
    data
        One row a group, and ``corrected``, ``low``, ``high`` beside ``ticked``, ``judged`` and the rate
        ``by_eye``; where a radar judged some of the balls, also ``measured_hard`` and ``measured``, which
        are taken as they are: what is corrected is then the rate of all together. Nothing is shrunk: for
        hitters beside each other ``shrink(counts, eye=...)`` says more.
    total
        The same of all together, one row.
    level
        Of the intervals.
    notes
        What has to be known.
    """

    data: pd.DataFrame
    total: pd.DataFrame
    level: float
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What all together are, by eye and corrected."""
        row = self.total.iloc[0]
        low, high = rate_text(float(row["low"])), rate_text(float(row["high"]))
        radar = ""
        if "measured" in row:
            hard, measured = int(row["measured_hard"]), int(row["measured"])
            radar = f"{rate_text(hard / measured)} by radar ({hard:,} of {measured:,}), "
        return (
            f"Hard balls per ball judged: {rate_text(float(row['by_eye']))} by eye "
            f"({int(row['ticked']):,} of {int(row['judged']):,}), {radar}"
            f"{rate_text(float(row['corrected']))} {'in all ' if radar else ''}with "
            f"the eye's errors taken out ({level_words(self.level)} from {low} to {high})"
        )

    def table_for_people(self) -> pd.DataFrame:
        """Return rates as they are said."""
        shown = self.data.sort_values("corrected", ascending=False, kind="stable")
        return shown.assign(
            **{
                name: [rate_text(float(one)) for one in shown[name]]
                for name in ("by_eye", "corrected", "low", "high")
            }
        )


def correct_rates(counts: Any, eye: Any, *, level: float = DEFAULT_LEVEL) -> Corrected:
    """Take an eye's measured errors out of the rates of hard balls per ball judged.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts with ``hard`` and ``in_play`` (``contact`` where fouls count).
    eye
        Its errors: :class:`~hitlab.estimates.EyeErrors`, four such counts, or what
        :func:`eye_against_radar` gives.
    level
        Of the intervals, which take in the luck of the ticks and the doubt about both errors.

    Returns
    -------
    Corrected

    Raises
    ------
    CountsError, MissingColumnsError
        Where counts or errors cannot be.

    References
    ----------
    Rogan & Gladen 1978, Amer. J. Epidemiol. 107:71-76.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.charting import correct_rates
    >>> team = pd.DataFrame({"hitter": ["Haxditch", "Quarmoor"], "in_play": [200, 150], "hard": [90, 50]})
    >>> found = correct_rates(team, eye=(84, 100, 180, 200))
    >>> found.table()[["hitter", "by_eye", "corrected"]].round(3)
         hitter  by_eye  corrected
    0  Haxditch   0.450      0.473
    1  Quarmoor   0.333      0.315
    """
    table = as_counts(counts)
    errors = errors_of(eye)
    told = Ticks.of(table)
    if not told.judged.sum():
        raise CountsError("no ball was judged by eye, so there is nothing to correct")
    data = table.identity.reset_index(drop=True).join(_rows(told, errors, level))
    together = (told.ticked, told.judged, told.measured_hard, told.measured)
    total = _rows(Ticks(*(one.sum(keepdims=True) for one in together)), errors, level)
    notes = (
        f"the eye ticked {errors.hard_ticked:,} of {errors.hard:,} hard balls and left "
        f"{errors.soft_unticked:,} of {errors.soft:,} others unticked; it is supposed to err here as "
        "often as there",
    )
    return Corrected(data, total, level, notes)


def _rows(told: Ticks, errors: EyeErrors, level: float) -> pd.DataFrame:
    ticked, judged, measured_hard, measured = (
        one.astype(np.int64) for one in (told.ticked, told.judged, told.measured_hard, told.measured)
    )
    value, low, high = corrected_interval(
        ticked, judged, errors, measured=(measured_hard, measured), level=level
    )
    by_eye = np.divide(ticked, judged, out=np.full(len(judged), np.nan), where=judged > 0)
    beside = {"measured_hard": measured_hard, "measured": measured} if measured.any() else {}
    ends = {"by_eye": by_eye, "corrected": value, "low": low, "high": high}
    return pd.DataFrame({"ticked": ticked, "judged": judged, **beside, **ends})


def corrected_interval(
    ticked: ArrayLike,
    judged: ArrayLike,
    eye: Any,
    *,
    measured: tuple[ArrayLike, ArrayLike] = (0, 0),
    level: float = DEFAULT_LEVEL,
    method: Method = "posterior",
) -> tuple[Floats, Floats, Floats]:
    """Return corrected rates and their intervals.

    Parameters
    ----------
    ticked, judged
        Ticks and balls judged; they broadcast.
    eye
        The eye's errors, as for :func:`correct_rates`.
    measured
        Hard balls, and all balls, that a radar judged beside them; they broadcast, too. The rate is then
        that of all together, the radar's as they are.
    level
        Of the intervals.
    method
        ``posterior`` (default: of 12 simulated kinds of leagues its coverage was nearer to the stated one):
        the quantiles under Jeffreys priors of all three shares; ``adjusted``: Lang and Reiczigel's interval,
        which adds a few counts of either kind to them, and knows no balls that were measured.

    Returns
    -------
    rate, low, high
        Arrays of the broadcast shape, from 0 to 1; NaN where nothing was judged.

    Raises
    ------
    CountsError
        Where counts, errors, level or method cannot be.

    References
    ----------
    Lang & Reiczigel 2014, Prev. Vet. Med. 113:13-22.

    Examples
    --------
    >>> from hitlab.charting import corrected_interval
    >>> [round(float(one), 3) for one in corrected_interval(140, 350, (84, 100, 180, 200))]
    [0.405, 0.335, 0.478]
    """
    errors = errors_of(eye)
    if not 0 < level < 1 or method not in ("adjusted", "posterior"):
        raise CountsError(
            f"level={level!r}, method={method!r}: give a level such as 0.90, and one of the two"
        )
    k, n, h, m = np.broadcast_arrays(
        *(np.asarray(one, dtype=float) for one in (ticked, judged, measured[0], measured[1]))
    )
    if (k < 0).any() or (k > n).any() or (h < 0).any() or (h > m).any():
        raise CountsError("hard balls are among the balls judged, and none are fewer than none")
    if method == "adjusted" and m.any():
        raise CountsError("method='adjusted' knows no balls that were measured; leave one of both out")
    tells = errors.sensitivity + errors.specificity - 1
    if tells <= 0:
        raise CountsError("this eye ticks hard balls no more often than others: it tells nothing")
    all_ = n + m
    share = np.divide(k, n, out=np.full(k.shape, np.nan), where=n > 0)
    by_eye = n * np.clip((np.nan_to_num(share) + errors.specificity - 1) / tells, 0, 1)
    rate = np.divide(by_eye + h, all_, out=np.full(k.shape, np.nan), where=all_ > 0)
    if method == "adjusted":
        low, high = _adjusted(share, n, errors, level)
    else:
        low, high = _posterior(k, n, h, m, errors, level)
    gone = all_ == 0
    return rate, np.where(gone, np.nan, np.clip(low, 0, 1)), np.where(gone, np.nan, np.clip(high, 0, 1))


def _adjusted(share: Floats, n: Floats, errors: EyeErrors, level: float) -> tuple[Floats, Floats]:
    from scipy.special import ndtri

    z = float(ndtri((1 + level) / 2))
    more, of_hard, of_soft = n + z**2, errors.hard + 2, errors.soft + 2
    p = (n * share + z**2 / 2) / more
    sensitivity, specificity = (errors.hard_ticked + 1) / of_hard, (errors.soft_unticked + 1) / of_soft
    tells = sensitivity + specificity - 1
    rate = (p + specificity - 1) / tells
    one = sensitivity * (1 - sensitivity) / of_hard
    other = specificity * (1 - specificity) / of_soft
    moved = 2 * z**2 * (rate * one - (1 - rate) * other)
    error = np.sqrt(p * (1 - p) / more + rate**2 * one + (1 - rate) ** 2 * other) / tells
    return rate + moved - z * error, rate + moved + z * error


def _posterior(
    k: Floats, n: Floats, h: Floats, m: Floats, errors: EyeErrors, level: float
) -> tuple[Floats, Floats]:
    from scipy.special import betaincinv

    dimensions = 4 if m.any() else 3
    points = even_points(dimensions, _DRAWS, _SEED)
    sensitivity, specificity = errors.at(dimensions, _DRAWS, _SEED)
    better = sensitivity + specificity > 1
    k, n, h, m = (one[..., np.newaxis] for one in (k, n, h, m))
    p = betaincinv(k + 0.5, n - k + 0.5, points[better, 2])
    rates = np.clip((p + specificity[better] - 1) / (sensitivity + specificity - 1)[better], 0, 1)
    if m.any():
        measured = betaincinv(h + 0.5, m - h + 0.5, points[better, 3])
        rates = (n * rates + m * measured) / np.maximum(n + m, 1)
    low, high = np.quantile(rates, [(1 - level) / 2, (1 + level) / 2], axis=-1)
    return np.asarray(low), np.asarray(high)
