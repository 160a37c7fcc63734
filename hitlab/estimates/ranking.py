"""Ranks: who may be the best, given how little each record says.

Chances come from quadrature under each prior law, averaged over the laws (all groups share the law). Rank
intervals of up to 100 groups come from draws with a stated seed; with more, the number of others above a rate
is so nearly normal that they come from quadrature, too. A group's rank 1 is the highest true rate.

"The best" is looked for before it is judged, and stays judged rightly: chances and shrunk rates are
conditional on all counts, so that picking the largest changes nothing, as long as the law fits everybody. The
observed rate of the one who was picked overstates; ``leader_by_minimum`` shows by how much. Of
intervals, those of the *truly* best cover less than stated (about .75 where all others cover .90), because
nobody knows who that is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.events import per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import ClaimError, CountsError
from hitlab.estimates.shrinkage import Fit, Posterior
from hitlab.estimates.top_places import LEAST_LOG, chance_of_top, trigamma
from hitlab.results import Listing, Note, Part, Table
from hitlab.wording import chance_text, percent, rate_text

__all__ = [
    "Ranks",
    "above_the_rest",
    "leader_by_minimum",
    "ranks",
    "usual_minimum",
    "who_is_ranked",
]

_OTHERS_AT, _OTHERS_WEIGH = np.polynomial.hermite_e.hermegauss(9)

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_MINIMUM_SHARE = 4  # who has a quarter of the largest exposure is ranked, unless the caller says otherwise
_DRAWS, _MOST_DRAWN = 4_000, 100  # draws of the ranks, and how many groups are ranked by them
_RANK_LAWS, _RANK_REACH = 32, 5.0  # laws behind the rank intervals; standard deviations that are looked at


@dataclass(frozen=True, slots=True)
class Ranks(Listing):
    """Chances and ranks by group.

    Attributes
    ----------
    data
        One row a group with enough exposure, the likeliest best first: who it is, the counts,
        ``rate``, ``shrunk``, ``chance_best``, ``chance_top``, ``rank_low``, ``rank_high`` (interval for the
        true rank).
    event, per
        The rate: names of two counts.
    level
        Level of the rank intervals.
    minimum
        Fewest exposures to be ranked.
    top
        The k of ``chance_top``.
    leader
        Place in ``data`` of the highest observed rate.
    leader_excess
        How far that observed rate overstates the leader's true rate, on average.
    draws
        Draws behind the rank intervals; 0 where they were worked out without.
    notes
        Who is not ranked although the exposure would do, and why.
    """

    data: pd.DataFrame
    event: str
    per: str
    top: int
    level: float
    minimum: int
    leader: int
    leader_excess: float
    draws: int
    notes: tuple[str, ...] = ()

    @property
    def explanation(self) -> str:
        """What the table says, in two sentences."""
        lead = self.data.iloc[self.leader]
        name = lead.iloc[0]
        others = int((self.data["rate"] == lead["rate"]).sum()) - 1
        leads = f"and {others:,} more have" if others else "has"
        excess = round(self.leader_excess, 3)
        luck = (
            f"that overstates the true rate by about {rate_text(excess)}, as a leader's record does"
            if excess > 0
            else "that does not overstate the true rate, as far as these records tell"
        )
        return (
            f"{name} {leads} the highest observed rate of {rate_words(self.event, self.per)}, "
            f"{rate_text(lead['rate'])}; {luck}. The chance that {name} truly is "
            f"the best of {len(self.data)} is {chance_text(lead['chance_best'])}."
        )

    @property
    def title(self) -> str:
        """The explanation."""
        return self.explanation

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of; the title begins with a name."""
        notes = (Note(note) for note in self.notes)
        return [Note(self.title, ""), *notes, Table(self.table_for_people(), self.MOST_ROWS)]

    def table_for_people(self) -> pd.DataFrame:
        """Return the groups with rates and chances as they are said."""
        shown = self.data.copy()
        for name in ("rate", "shrunk"):
            shown[name] = [rate_text(value) for value in shown[name]]
        for name in ("chance_best", "chance_top"):
            shown[name] = [percent(value) for value in shown[name]]
        return shown


def usual_minimum(exposure: Wholes) -> int:
    """Return the minimum exposure of a ranking where none is asked for: a quarter of the largest, 1 at least.

    From 100 up it is rounded down to tens, which are easier to say.

    Parameters
    ----------
    exposure
        Exposures of all groups, whole numbers from 0 up.

    Returns
    -------
    int
        Fewest exposures to be ranked.

    Examples
    --------
    >>> import numpy as np
    >>> from hitlab.estimates import usual_minimum
    >>> usual_minimum(np.array([547, 390, 12])), usual_minimum(np.array([90, 40]))
    (130, 22)
    """
    least = int(exposure.max(initial=0)) // _MINIMUM_SHARE
    return least // 10 * 10 if least >= 100 else max(least, 1)


def ranks(
    fit: Fit,
    *,
    top: int = 5,
    minimum: int = 0,
    level: float = DEFAULT_LEVEL,
    seed: int | np.random.Generator = 0,
) -> Ranks:
    """Rank the groups of a fit by their true rates, with what is not known.

    Parameters
    ----------
    fit
        From ``shrink``; its law is fitted on everybody.
    top
        Places for the chance of being among the top.
    minimum
        Only groups with at least this exposure are ranked. A minimum does not bias the chances; it
        changes who the best is chosen from.
    level
        Level of the rank intervals.
    seed
        For the draws of the rank intervals, where there are any (up to 100 groups).

    Returns
    -------
    Ranks
        One row a group that is ranked, the likeliest best first: rate, shrunk rate, chance to be truly the
        best and among the ``top``, and the interval of the true rank.

    Raises
    ------
    ClaimError
        Where nobody has the exposure, ``top`` is not a whole number from 1 up, or ``level`` is not
        between 0 and 1; where more contact is of unknown hardness than the fit's ``most_unknown``.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"],
    ...                      "swings": [400, 420, 380, 350], "hard": [104, 95, 70, 63]})
    >>> ranked = hitlab.ranks(hitlab.shrink(team, "hard", "swings"), top=2)
    >>> ranked.table()[["hitter", "shrunk", "chance_best", "chance_top"]].round(2)
          hitter  shrunk  chance_best  chance_top
    0   Kvalbakk    0.25         0.81        0.97
    1   Haxditch    0.22         0.16        0.83
    2   Quarmoor    0.19         0.01        0.11
    3  Wychditch    0.19         0.01        0.09
    """
    if not isinstance(fit, Fit):
        raise CountsError(f"ranks takes what shrink returns, and this is a {type(fit).__name__}")
    if int(top) != top or top < 1:
        raise ClaimError(f"top={top!r}: give a whole number from 1 up")
    if not 0 < level < 1:
        raise ClaimError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    kept, bounded = who_is_ranked(fit, minimum)
    left = len(bounded)
    posterior = fit.posterior.only(kept)
    size = _DRAWS if len(kept) <= _MOST_DRAWN else 0
    if size:
        low, high = _drawn_ranks(posterior, level, size, np.random.default_rng(seed))
    else:
        low, high = _rank_intervals(posterior, level)
    who = list(fit.counts.identity.columns)
    data = fit.data.iloc[kept][[*who, fit.event, fit.per, "rate", "shrunk"]].reset_index(drop=True)
    labels = fit.counts.labels
    data.insert(0, "label", [labels[i] for i in kept])
    data["chance_best"] = chance_of_top(posterior, 1)
    data["chance_top"] = chance_of_top(posterior, min(top, len(kept)))
    data["rank_low"], data["rank_high"] = low, high
    data = data.sort_values("chance_best", ascending=False, kind="stable").reset_index(drop=True)
    leader = int(data["rate"].to_numpy(float).argmax())
    excess = float(data["rate"].iloc[leader] - data["shrunk"].iloc[leader])
    notes = []
    if left:
        much = percent(fit.most_unknown)
        notes.append(
            f"{left:,} more {'is' if left == 1 else 'are'} not ranked, with more than {much} of the contact "
            "of unknown hardness"
        )
    return Ranks(data, fit.event, fit.per, top, level, minimum, leader, excess, size, tuple(notes))


def _drawn_ranks(
    posterior: Posterior, level: float, size: int, rng: np.random.Generator
) -> tuple[Wholes, Wholes]:
    """Return the ends of the rank intervals from draws of all rates together."""
    order = np.argsort(-posterior.draws(size, rng), axis=1)
    place = np.empty_like(order)
    np.put_along_axis(place, order, np.arange(1, order.shape[1] + 1)[np.newaxis], axis=1)
    place.sort(axis=0)
    tail = (1 - level) / 2
    low, high = place[int(np.floor(tail * (size - 1)))], place[int(np.ceil((1 - tail) * (size - 1)))]
    return low.astype(np.int64), high.astype(np.int64)


def _rank_intervals(posterior: Posterior, level: float) -> tuple[Wholes, Wholes]:
    """Return the ends of the rank intervals of many groups by quadrature.

    Given his rate and the law, how many of the others are above is a sum of many unequal coins: its mean is
    exact, its law is taken for normal. Rates are put on a grid of log odds as fine as the narrowest density
    is wide, where sums are as good as integrals; beyond a point they get the end's correction (Euler and
    Maclaurin's first term).
    """
    from scipy.special import betaln, expit, ndtr, psi

    posterior = posterior.of_heaviest_laws(_RANK_LAWS)
    groups = posterior.a.shape[1]
    held, scatter = np.zeros(groups * groups), np.zeros(groups * groups)
    row = np.arange(groups)[:, np.newaxis] * groups
    for law, weight in enumerate(posterior.weights):
        one = posterior.under(np.array([law]), np.ones(1))
        a, b = one.a, one.b
        centre, spread = psi(a) - psi(b), np.sqrt(trigamma(a) + trigamma(b))
        step = float(spread.min())
        low, high = (centre - _RANK_REACH * spread).min(), (centre + _RANK_REACH * spread).max()
        y = low + step * np.arange(int((high - low) / step) + 2)
        x = expit(y)
        log_x, log_rest = -np.logaddexp(0, -y), -np.logaddexp(0, y)
        density = a[..., np.newaxis] * log_x + b[..., np.newaxis] * log_rest
        density -= betaln(a, b)[..., np.newaxis]
        density = np.exp(np.maximum(density, LEAST_LOG, out=density), out=density)
        slope = density * (a[..., np.newaxis] - (a + b)[..., np.newaxis] * x)
        shares = np.ones((1, 1)) if one.shares is None else one.shares
        density, slope = ((shares[..., np.newaxis] * each).sum(axis=0) for each in (density, slope))
        mass = step * density
        beyond = np.cumsum(mass[:, ::-1], axis=1)[:, ::-1]
        above = np.clip(beyond - mass / 2 + step**2 / 12 * slope, 0, 1)
        others = above.sum(axis=0) - above
        variance = (above * (1 - above)).sum(axis=0) - above * (1 - above)
        share = weight * mass / mass.sum(axis=1, keepdims=True)
        place = np.minimum(others.astype(np.int64), groups - 2)
        part = others - place
        for which, split in ((place, 1 - part), (place + 1, part)):
            cell, split_mass = (row + which).ravel(), (split * share).ravel()
            held += np.bincount(cell, split_mass, groups * groups)
            scatter += np.bincount(cell, split_mass * variance.ravel(), groups * groups)
    # From the expected number of others above to the number itself.
    by_place = held.reshape(groups, groups)
    there = np.maximum(by_place.sum(axis=0), 1e-300)
    deviation = np.sqrt(np.maximum(scatter.reshape(groups, groups).sum(axis=0) / there, 1e-6))
    number = np.arange(groups)
    up_to = ndtr((number + 0.5 - number[:, np.newaxis]) / deviation[:, np.newaxis])
    passed = by_place @ up_to
    passed /= passed[:, -1:]
    tail = (1 - level) / 2
    low_end, high_end = ((passed < chance).sum(axis=1) + 1 for chance in (tail, 1 - tail))
    return low_end.astype(np.int64), np.minimum(high_end, groups).astype(np.int64)


def who_is_ranked(fit: Fit, minimum: int) -> tuple[Wholes, Wholes]:
    """Return the places of those who are ranked, and of those who have the exposure and only bounds.

    Raises
    ------
    ClaimError
        Where nobody has the exposure, or too much contact is of unknown hardness to rank anybody.
    """
    _refuse_unknown(fit)
    enough = (fit.exposure >= minimum) & (fit.exposure > 0)
    if not enough.any():
        raise ClaimError(f"nobody has {minimum:,} {fit.per}; the most is {int(fit.exposure.max()):,}")
    kept, bounded = np.flatnonzero(enough & ~fit.bounded), np.flatnonzero(enough & fit.bounded)
    if not len(kept):
        raise ClaimError(
            f"everybody with at least {minimum:,} {per_words(fit.per, minimum)} has more than "
            f"{percent(fit.most_unknown)} of the contact of unknown hardness, so nobody is ranked: "
            f"{_mend_unknown(fit)}"
        )
    return kept, bounded


def _refuse_unknown(fit: Fit) -> None:
    """Refuse to rank where too much of all contact is of unknown hardness."""
    if fit.unknown_share > fit.most_unknown:
        raise ClaimError(
            f"hardness is unknown for {percent(fit.unknown_share)} of the contact, more than "
            f"{percent(fit.most_unknown)}, so nobody is ranked by {rate_words(fit.event, fit.per)}: "
            f"{_mend_unknown(fit)}"
        )


def _mend_unknown(fit: Fit) -> str:
    fouls = ", count without hard fouls," if fit.counts.conventions.hard_fouls else ","
    return f"measure more of it{fouls} or give shrink a larger most_unknown="


def above_the_rest(
    posterior: Posterior, place: int, exposure: NDArray[np.float64] | NDArray[np.int64]
) -> float:
    """Return the chance that one true rate is above those of all others together, weighted by exposure.

    Under each law the rates are independent; the weighted mean of many is taken for normal.

    Parameters
    ----------
    posterior
        Of all true rates.
    place
        Whose rate it is.
    exposure
        Everybody's measured exposure, shape (hitters,); the own one does not count.
    """
    others = np.flatnonzero(np.arange(len(exposure)) != place)
    share = exposure[others] / exposure[others].sum()
    mean, variance = posterior.only(others).mean_and_variance_by_law()
    center, spread = mean @ share, np.sqrt(variance @ share**2)
    at = np.clip(center[:, None] + spread[:, None] * _OTHERS_AT, 1e-9, 1 - 1e-9)
    above = posterior.above_by_law(place, at) @ (_OTHERS_WEIGH / _OTHERS_WEIGH.sum())
    return float(posterior.weights @ above)


def leader_by_minimum(fit: Fit, minimums: Sequence[int] = (0, 100, 250, 400)) -> pd.DataFrame:
    """Lay side by side who leads under different minimum exposures, and how far his record overstates.

    A minimum does not make the leader's record right: it leaves out the records that luck moves most. The
    corrected value needs no minimum.

    Parameters
    ----------
    fit
        From ``shrink``.
    minimums
        Fewest exposures to be compared.

    Returns
    -------
    pandas.DataFrame
        One row a minimum that somebody reaches: ``minimum``, ``compared`` (how many), ``leader`` (label), the
        exposure, ``rate`` (observed), ``corrected`` (his shrunk rate), ``excess`` (their difference: how far
        the record is expected to overstate).

    Raises
    ------
    ClaimError
        Where nobody reaches any of the minimums; where more contact is of unknown hardness than the fit's
        ``most_unknown``. Who has more than that is not compared.

    Examples
    --------
    The best record of all is often a short one, and luck has lifted it most:

    >>> import pandas as pd
    >>> from hitlab.estimates import leader_by_minimum, shrink
    >>> team = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"],
    ...                      "swings": [30, 420, 380, 350], "hard": [10, 110, 70, 63]})
    >>> fit = shrink(team, "hard", "swings")
    >>> sides = leader_by_minimum(fit, minimums=[0, 100])
    >>> sides[["minimum", "leader", "swings", "rate", "corrected"]].round(3)
       minimum    leader  swings   rate  corrected
    0        0  Kvalbakk      30  0.333      0.290
    1      100  Haxditch     420  0.262      0.255
    """
    _refuse_unknown(fit)
    rate, shrunk = fit.data["rate"].to_numpy(float), fit.data["shrunk"].to_numpy(float)
    rows, labels = [], fit.counts.labels
    for minimum in minimums:
        some = np.flatnonzero((fit.exposure >= minimum) & (fit.exposure > 0) & ~fit.bounded)
        if len(some):
            first = int(some[rate[some].argmax()])
            who = labels[first]
            excess = rate[first] - shrunk[first]
            rows.append(
                (minimum, len(some), who, fit.exposure[first], rate[first], shrunk[first], float(excess))
            )
    if not rows:
        raise ClaimError(f"nobody has {min(minimums):,} {fit.per}; the most is {int(fit.exposure.max()):,}")
    return pd.DataFrame(
        rows, columns=["minimum", "compared", "leader", fit.per, "rate", "corrected", "excess"]
    )
