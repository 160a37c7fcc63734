"""Shrinkage: how much of each rate to believe, from how the whole table scatters.

The model: each group has a true rate, the true rates follow one Beta law around a mean, and events are
independent draws at the true rate. The law's mean and spread are not known; they are integrated over
(``hitlab.estimates.prior_laws``), so that intervals are honest where groups are few. By default the mean may
depend on the exposure, because better hitters get more swings: whether it does is weighed by the table itself
(``hitlab.estimates.questions``). A group's shrunk rate is its posterior mean.

The law's shape is weighed as well (``hitlab.estimates.shapes``): a Beta law even money, otherwise one with a
long tail, or with two humps, so that a few stars far above the others are neither pulled back to the crowd
nor taken for the rule. A Student's law on the log odds was not taken, as it has neither humps nor a tail on
one side alone, and a law without a form was not, as small leagues tell least of it at the ends.
Where even so the table could hardly come from the law, a note says it (``hitlab.estimates.fit_check``).

When it fails: groups of different kinds mixed (give ``groups=`` or ``covariates=``, which tell more than two
humps do); events that are not independent (swings of one plate appearance, one game), which makes
intervals too short; true rates that change within the table.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from statistics import NormalDist
from typing import Any, Literal

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, Pair, pair, unknown_and_contact, unknown_contact
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.facts import MOST_UNKNOWN
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.rates import as_counts, rates_or_bounds
from hitlab.errors import CountsError, HardnessError, HitlabWarning, MissingColumnsError
from hitlab.estimates.crossed import Drawn
from hitlab.estimates.designs import HARDLY, TELLS, Averaged, average
from hitlab.estimates.estimators import LARGEST_SIZE, ONE_LAW, fit_beta_binomial
from hitlab.estimates.eye_law import EyeErrors, EyeRecords, Ticks, errors_of
from hitlab.estimates.fit_check import doubts_of_fit
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.questions import Kind, Part, SpreadPart, earlier_part, questions
from hitlab.estimates.traits import beside_counts, taken_beside
from hitlab.results import Listing
from hitlab.wording import chance_text, level_words, rate_text, source_name

__all__ = ["ESTIMATORS", "Estimator", "Fit", "LeagueLaw", "Posterior", "fit_beta_binomial", "shrink"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

Estimator = Literal["integrated", "likelihood", "moments", "squared error", "combined"]
ESTIMATORS: tuple[str, ...] = ("integrated", *ONE_LAW, "combined")

_FEW_GROUPS = 40  # below it the spread's own interval is worth a note
_LAWS_A_DRAW = 2
# Of tables of which that was said: tests/reference/measured.md, "Aims and what was reached".
_FARTHEST = (
    ", but in leagues of 150 and of 500 hitters that were drawn with such a tail, at rates of about .14, "
    "whoever was first in it was still put .002 to .007 too near the others, and .014 to .026 where few "
    "swings were enough to be ranked"
)
_RULED_OUT = 0.05  # chance of the plain law: at most 1 in 19 tables that it made come to this
_LUCK_FACTOR = 3  # "worth more than a bare mention" (Kass & Raftery 1995, J. Amer. Stat. Assoc. 90:773-795)


@dataclass(frozen=True, slots=True)
class Fit(Listing):
    """Shrunk rates, and the law they were shrunk with.

    Attributes
    ----------
    data
        One row a group: who it is, the event's count, the exposure, ``unknown`` (contact of unknown
        hardness, where there is any), ``rate`` (as ``rate`` gives it), ``least`` and ``most`` (its bounds,
        where some have no more than these), ``shrunk`` (posterior mean), ``low``, ``high`` (posterior
        interval), ``own_weight`` (share of the group's own record in the shrunk rate), ``toward`` (the rate
        it is shrunk toward: what is expected of a group like it before its record is seen). Where hardness is
        unknown for a share of a group's contact, the fit sets the same share of its exposure aside.
    counts
        Where the records came from, one row a group as in ``data``.
    event, per
        The rate: names of two counts.
    level
        Level of the posterior intervals.
    mean, spread
        Mean of ``toward``, and standard deviation of the true rates around ``toward``: posterior means.
    half_weight_size
        The exposure at which a group's own record and ``toward`` get equal weight, averaged over the laws;
        infinite where a single law without spread was fitted.
    posterior
        For chances.
    unknown_share, unknown_shares
        Share of unmeasured contact, 0 to 1: in all, and group by group.
    most_unknown
        The share beyond which a rate has only bounds, and nobody is ranked by it.
    spread_interval
        Posterior interval of the spread at ``level``; both ends the same where one law is taken as known.
    weighed
        What the law may depend on, one row an answer: ``part`` and ``option`` in words, the ``kind`` of
        question, whether the answer is ``nothing`` (it does not matter), and its ``chance``.
    shapes
        What shape the law of true rates may have, one row a shape: ``shape``, ``kind``, ``chance``.
    decision
        What was done about it and why, in words.
    notes
        What a careful reader wants to know.
    eye, eye_effect, eye_share
        Where an eye told what is hard: its errors, how many times shorter each row's record counts for them,
        and the share of each row's balls that it judged.
    unasked
        What is left to be asked of the law where ``shrink`` was told to leave that: see :meth:`with_doubts`.
    """

    data: pd.DataFrame
    counts: Counts
    event: str
    per: str
    level: float
    mean: float
    spread: float
    half_weight_size: float
    posterior: Posterior
    unknown_shares: Floats
    unknown_share: float
    notes: tuple[str, ...] = ()
    spread_interval: tuple[float, float] = (np.nan, np.nan)
    weighed: pd.DataFrame = field(default_factory=pd.DataFrame)
    decision: str = ""
    most_unknown: float = MOST_UNKNOWN
    shapes: pd.DataFrame = field(default_factory=pd.DataFrame)
    eye: EyeErrors | None = None
    eye_effect: Floats | None = None
    eye_share: Floats | None = None
    unasked: Callable[[], tuple[str, ...]] | None = None

    @property
    def bounded(self) -> NDArray[np.bool_]:
        """Where too much contact is of unknown hardness for a rate and a rank."""
        return self.unknown_shares > self.most_unknown

    @property
    def events(self) -> Wholes:
        """The event's count by group."""
        return self.data[self.event].to_numpy(np.int64)

    @property
    def exposure(self) -> Wholes:
        """The exposure by group."""
        return self.data[self.per].to_numpy(np.int64)

    @property
    def exposure_tells(self) -> bool:
        """Whether the mean was found to follow the exposure, well above the even money it starts from."""
        if self.weighed.empty:
            return False
        asked = self.weighed[self.weighed["kind"] == "exposure"]
        return len(asked) > 0 and float(asked["chance"][asked["nothing"]].sum()) < 0.4

    @property
    def law(self) -> LeagueLaw:
        """Mean and spread as a prior for another table, such as one club of this league.

        It rests on as many hitters as would, with their true rates known, tell the spread as well as this
        table's records do.
        """
        there = max(int((self.exposure > 0).sum()), 2)
        low, high = self.spread_interval
        worth = float(there)
        if high > low:
            error = (high - low) / (2 * NormalDist().inv_cdf((1 + self.level) / 2))
            worth = (self.spread / error) ** 2 / 2
        groups = int(np.clip(round(worth), 2, there))
        source = f"{source_name(self.counts.source)}, counts {self.counts.fingerprint}"
        return LeagueLaw(self.mean, max(self.spread, 1e-9), groups, source)

    @property
    def explanation(self) -> str:
        """One sentence on what was done, and why."""
        name, one = rate_words(self.event, self.per), len(self.data) == 1
        rates = "one rate" if one else f"{len(self.data)} rates"
        if not np.isfinite(self.half_weight_size):
            return (
                f"one rate of {name}, and nothing says that true rates differ: it is taken to be the mean, "
                f"{rate_text(self.mean)}"
                if one
                else f"{rates} of {name} scatter no more than luck alone would make them, "
                f"so all are shrunk to the mean of {rate_text(self.mean)}"
            )
        low, high = (rate_text(end) for end in self.spread_interval)
        between = f", {level_words(self.level)} from {low} to {high}" if low != high else ""
        decision = f"; {self.decision}" if self.decision else ""
        return (
            f"{rates} of {name} shrunk toward {'a' if self.decision or one else 'their'} mean of "
            f"{rate_text(self.mean)}; true rates differ by about {rate_text(self.spread)} (standard "
            f"deviation{between}), and after {self.half_weight_size:,.0f} {per_words(self.per, 2)} a record "
            f"weighs as much as the mean{decision}"
        )

    @property
    def title(self) -> str:
        """The explanation, and what the intervals are."""
        return f"{self.explanation}; {level_words(self.level)} posterior intervals"

    def with_intervals(self) -> Fit:
        """Return it with the posterior intervals that :func:`shrink` was asked to leave out."""
        low, high = self.posterior.interval(self.level)
        return replace(self, data=self.data.assign(low=low, high=high))

    def with_doubts(self) -> Fit:
        """Return it with the doubts about its law that :func:`shrink` was asked to leave out."""
        if self.unasked is None:
            return self
        return replace(self, notes=(*self.notes, *self.unasked()), unasked=None)

    def table_for_people(self) -> pd.DataFrame:
        """Return the groups with the highest shrunk rate first, rates as they are said."""
        shown = self.data.sort_values("shrunk", ascending=False, kind="stable")
        shown["rate"] = rates_or_bounds(shown)
        for name in ("shrunk", "low", "high", "toward"):
            shown[name] = [rate_text(value) for value in shown[name]]
        shown = shown.drop(columns=["least", "most"], errors="ignore")
        shown["own_weight"] = [f"{value:.2f}" for value in shown["own_weight"]]
        return shown


def shrink(
    counts: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    level: float = DEFAULT_LEVEL,
    by_exposure: bool | Literal["auto"] = "auto",
    groups: str | None = None,
    covariates: Sequence[str] = (),
    earlier: Any = None,
    traits: Any = None,
    prior: LeagueLaw | None = None,
    design_effect: Any = None,
    estimator: Estimator = "integrated",
    most_unknown: float | None = None,
    faced: Drawn | None = None,
    eye: Any = None,
    intervals: bool = True,
    doubts: bool = True,
) -> Fit:
    """Shrink every group's rate toward what is expected of it, by what the table's scatter supports.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts.
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    level
        Level of the posterior intervals.
    by_exposure
        Whether the mean may follow the logarithm of the exposure. ``"auto"`` weighs the possibilities by how
        well they explain the table, starting from even money; ``True`` takes a link for granted.
    groups
        A column whose values (role, hand, class year) may have means of their own, partially pooled; where
        at most six of them have eight hitters or more, also links with exposure and spreads of their own
        (one spread for all with ``prior``). Of ``counts``, or of ``traits``.
    covariates
        Numeric columns that the mean may follow in a line. Of ``counts``, or of ``traits``.
    earlier
        The same hitters' earlier season as a table of counts, or a list of seasons, the last one first.
        What an attempt of it is worth is learned from this table.
    traits
        A frame with one row a hitter that holds ``groups`` and ``covariates`` where ``counts`` does not,
        and the columns that tell the hitters of ``counts`` apart.
    prior
        A law stated from outside, in place of "nothing known" about mean and spread, or its spread alone
        (``law.spread_alone``); then exposure is left out unless ``by_exposure=True``.
    design_effect
        One number of 1 or more for each row: the variance of its rate against that of independent attempts,
        as ``overdispersion`` finds it. Records count as if they were so many times shorter.
    estimator
        ``"integrated"`` averages over all laws; ``"likelihood"``, ``"moments"``, ``"squared error"`` and
        ``"combined"`` (the first and the last of these three in equal shares) take one law as known, with
        one mean for all.
    most_unknown
        Share of contact of unknown hardness beyond which a group's rate has only bounds and is not ranked;
        where it is beyond it in all groups together, nobody is. The counts' own where not given.
    faced
        What is known of the pitching and the parks that each group faced, from
        :func:`~hitlab.estimates.adjust_for_faced`; the shrunk rates are then against what the whole league
        faced. The observed ones stay as they are.
    eye
        Where an eye ticked what is hard: its errors, as :class:`~hitlab.estimates.EyeErrors`, four such
        counts, or what :func:`~hitlab.charting.eye_against_radar` gives. The counts' own
        (``Conventions(eye=...)``) where not given. Shrunk rates are then of balls truly hard, and what is
        not known of the errors is in them.
    intervals
        ``False`` leaves ``low`` and ``high`` missing, which take a third of the time with thousands of
        groups, for who asks for means and chances first; :meth:`Fit.with_intervals` works them out later.
    doubts
        ``False`` leaves it out of the notes whether this law could have made the table, which takes half of
        the time with thousands of groups; :meth:`Fit.with_doubts` adds it.

    Returns
    -------
    Fit
        A group without exposure gets what is expected of it, with the widest interval.

    Raises
    ------
    MissingColumnsError, CountsError
        As in ``rate``; where there is no exposure at all, so that nothing can be fitted; and where options
        exclude each other.

    Warns
    -----
    HitlabWarning
        Where a stated prior contradicts the table; the message gives both.

    References
    ----------
    Skellam 1948, J. Roy. Stat. Soc. B 10:257-261 (the Beta-binomial law); Efron & Morris 1975, J. Amer.
    Stat. Assoc. 70:311-319 (why shrinking helps).

    Examples
    --------
    A short record is pulled toward the mean of all, a long one hardly:

    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"],
    ...                      "swings": [30, 420, 380, 350], "hard": [10, 110, 70, 63]})
    >>> fit = hitlab.shrink(team, "hard", "swings")
    >>> fit.table()[["hitter", "rate", "shrunk", "own_weight"]].round(2)
          hitter  rate  shrunk  own_weight
    0   Kvalbakk  0.33    0.29        0.41
    1   Haxditch  0.26    0.25        0.84
    2   Quarmoor  0.18    0.19        0.83
    3  Wychditch  0.18    0.19        0.82
    """
    table, told = taken_beside(counts, groups, covariates, traits, (event, per))
    counts = as_counts(table)
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    if estimator not in ESTIMATORS:
        raise CountsError(f"estimator={estimator!r}: give one of {', '.join(ESTIMATORS)}")
    if by_exposure not in (True, False, "auto"):
        raise CountsError(f"by_exposure={by_exposure!r}: give True, False or 'auto'")
    given: Any = prior
    if given is not None and not isinstance(given, LeagueLaw):
        mend = "give its .law" if isinstance(given, Fit) else "give LeagueLaw(mean, spread, groups)"
        raise CountsError(f"prior: a {type(given).__name__} is no law of true rates; {mend}")
    most_unknown = counts.conventions.most_unknown if most_unknown is None else most_unknown
    both = pair(counts, event, per, most_unknown=most_unknown)
    if not both.measured_exposure.sum():
        if counts.column(per).any():
            raise HardnessError(
                f"how hard the ball was hit is known of no contact, so {rate_words(event, per)} cannot be "
                "told; the report of reading the table says why"
            )
        raise CountsError(f"no {per_words(per)} was counted, so there is nothing to fit")
    notes = list(counts.notes_on(event, per))
    notes += [
        f"{note}; the shrunk rates suppose it as often hard as the measured, which nothing here tells"
        for note in both.notes(most_unknown)
    ]
    more = groups is not None or len(covariates) > 0 or earlier is not None or by_exposure is True
    effect = _effect(both, design_effect)
    events, exposure = both.events.astype(np.float64), both.measured_exposure.astype(np.float64)
    if faced is not None:
        if faced.events.shape[1] != len(both.events):
            raise CountsError("faced: it is of other groups than these counts")
        events, exposure = faced.mean_of(faced.events), faced.mean_of(faced.exposure)
    by_eye = _by_eye(counts, both, counts.conventions.eye if eye is None else eye, eye is not None, notes)
    if by_eye is not None:
        if faced is not None or estimator != "integrated":
            raise CountsError("eye= goes with estimator='integrated' and without faced=; leave the other out")
        events, effect = by_eye.events, effect * by_eye.effect
        notes.insert(0, by_eye.note())
    k, n = events / effect, exposure / effect
    if estimator != "integrated":
        if more or prior is not None or design_effect is not None or faced is not None:
            raise CountsError(
                f"estimator={estimator!r} fits one law to this table alone; leave groups, covariates, "
                "earlier, prior, design_effect, faced and by_exposure out, or take estimator='integrated'"
            )
        averaged = _one_law(both, estimator)
    elif prior is not None and prior.level and prior.rates is None:
        if more:
            raise CountsError(
                "a prior that is exactly known leaves nothing to learn from groups, covariates, earlier "
                "seasons or exposure; say in the prior how many true rates it rests on (rates=)"
            )
        averaged = _known(np.array([1.0]), np.array([prior.size]), np.array([prior.mean]))
    else:
        parts = _parts(counts, both, effect, by_exposure, groups, covariates, earlier, told, prior, notes)
        pooled = float((k.sum() + 0.5) / (n.sum() + 1))
        averaged = average(k, n, parts, None if prior is None else prior.stated(pooled))
    for note in [] if prior is None else prior.contradictions(k, n, event, per):
        warnings.warn(note, HitlabWarning, stacklevel=2)
        notes.insert(0, note)
    posterior = averaged.posterior(k, n) if faced is None else _over_draws(averaged, faced, effect)
    before = averaged.before()
    if by_eye is not None:
        posterior, before = by_eye.over_errors(posterior, before)
    fit = _fit(
        counts,
        both,
        (k, n),
        averaged,
        posterior,
        before,
        level,
        notes,
        estimator,
        prior,
        most_unknown,
        by_eye,
    )
    fit = fit.with_intervals() if intervals else fit
    return fit.with_doubts() if doubts else fit


def _by_eye(counts: Counts, both: Pair, eye: Any, asked: bool, notes: list[str]) -> EyeRecords | None:
    """Take ticks for what they say of hard balls, where an eye's errors are known."""
    about = both.event == "hard" or bool(unknown_and_contact(counts, both.event)[0])
    if eye is None or not (about or asked):
        return None
    errors = errors_of(eye)
    if both.event != "hard":
        mend = "choose the pitches (when=, where=) and ask for hard itself" if about else "leave it out"
        raise CountsError(
            f"eye: its errors are about hard balls, and {event_words(both.event)!r} is another count; {mend}"
        )
    told = Ticks.of(counts)
    if not told.judged.sum():
        notes.append("no ball is judged by eye alone here, so that an eye's errors change nothing")
        return None
    room = both.measured_exposure
    judged = np.minimum(told.judged, room)
    return EyeRecords.of(
        errors, replace(told, judged=judged, measured=np.minimum(told.measured, room - judged)), room
    )


def _over_draws(averaged: Averaged, faced: Drawn, effect: Floats) -> Posterior:
    """Return what is known of the true rates where what was faced is known by draws.

    Each draw makes other records of the same counts. With each go a few of the prior laws, so chosen that
    over all draws every law comes as often as it weighs.
    """
    draws = len(faced.weights)
    number = draws * _LAWS_A_DRAW
    place = (np.arange(number) + 0.5) / number
    law = np.searchsorted(np.cumsum(averaged.weights), place).clip(max=len(averaged.weights) - 1)
    rng = np.random.default_rng(5)
    draw = np.concatenate([rng.permutation(draws) for _ in range(_LAWS_A_DRAW)])
    # Laws that weigh alike stand in no order, so that a part of them is like the whole.
    order = rng.permutation(number)
    law, draw = law[order], draw[order]
    weights = faced.weights[draw] / faced.weights[draw].sum()
    events, exposure = faced.events[draw] / effect, faced.exposure[draw] / effect
    groups = events.shape[1]
    before = averaged.before().for_groups(groups).under(law, weights)
    part = before.law_of_part
    return before.after(np.arange(groups), events[part], (exposure - events)[part])


def _parts(
    counts: Counts,
    both: Pair,
    effect: Floats,
    by_exposure: bool | str,
    groups: str | None,
    covariates: Sequence[str],
    earlier: Any,
    told: tuple[pd.DataFrame, ...],
    prior: LeagueLaw | None,
    notes: list[str],
) -> list[Part | SpreadPart]:
    kinds, numbers = beside_counts(counts, groups, covariates, told, notes)
    link = False if prior is not None and by_exposure == "auto" else by_exposure
    parts = questions(both.exposure, link, kinds, numbers, own=prior is None)
    if earlier is not None:
        tables = earlier if isinstance(earlier, (list, tuple)) else [earlier]
        seasons = [_season(counts, as_counts(table), both) for table in tables]
        # Earlier attempts are shortened by the same design effect, then weighed against this season's.
        shortened = [(then_k / effect, then_n / effect) for then_k, then_n in seasons]
        parts.append(earlier_part(both.events / effect, both.measured_exposure / effect, shortened))
    return parts


def _effect(both: Pair, design_effect: Any) -> Floats:
    """Return how many times shorter each record counts."""
    if design_effect is None:
        return np.ones(len(both.events))
    effect = np.asarray(design_effect, dtype=float)
    if effect.shape != both.events.shape or not (effect >= 1).all():
        raise CountsError(
            f"design_effect: give one number of 1 or more for each of the {len(both.events):,} rows, in "
            "their order"
        )
    return effect


def _season(counts: Counts, earlier: Counts, both: Pair) -> tuple[Floats, Floats]:
    absent = [key for key in counts.by if key not in earlier.data.columns]
    if absent:
        raise MissingColumnsError(f"the earlier table has no column {absent[0]!r} to find the hitters by")
    then = pair(earlier, both.event, both.per)
    season = earlier.data[list(counts.by)].assign(_events=then.events, _exposure=then.measured_exposure)
    if season.duplicated(list(counts.by)).any():
        raise CountsError("a hitter stands in the earlier table twice; give one table a season")
    found = (
        counts.data[list(counts.by)]
        .merge(season, on=list(counts.by), how="left")
        .fillna({"_events": 0, "_exposure": 0})
    )
    return found["_events"].to_numpy(float), found["_exposure"].to_numpy(float)


def _known(weights: Floats, sizes: Floats, means: Floats) -> Averaged:
    nothing = np.zeros((len(weights), 1))
    spread = np.where(sizes < LARGEST_SIZE * 0.999, np.sqrt(means * (1 - means) / (sizes + 1)), 0.0)
    return Averaged(
        weights,
        sizes[:, np.newaxis],
        means[:, np.newaxis],
        nothing,
        nothing,
        pd.DataFrame(),
        0.0,
        (spread, weights),
        0.0,
    )


def _one_law(both: Pair, estimator: str) -> Averaged:
    names = ("likelihood", "squared error") if estimator == "combined" else (estimator,)
    laws = np.array([ONE_LAW[name](both.events, both.measured_exposure) for name in names])
    size = laws.sum(axis=1)
    return _known(np.full(len(laws), 1 / len(laws)), size, laws[:, 0] / size)


def _fit(
    counts: Counts,
    both: Pair,
    records: tuple[Floats, Floats],
    averaged: Averaged,
    posterior: Posterior,
    before: Posterior,
    level: float,
    notes: list[str],
    estimator: str,
    prior: LeagueLaw | None,
    most_unknown: float,
    by_eye: EyeRecords | None,
) -> Fit:
    k, n = records
    shortened = float(both.measured_exposure.sum() / n.sum())
    for_eye = 1.0
    if by_eye is not None:
        for_eye = float(both.measured_exposure.sum() / (both.measured_exposure / by_eye.effect).sum())
    if shortened > 1.005 * for_eye:
        notes.append(
            "attempts of a game are alike, so that records count as if they were "
            f"{shortened / for_eye:.2f} times shorter"
        )
    toward = np.broadcast_to(before.mean(), k.shape)
    # In attempts as they are counted, not in independent ones.
    half = _half_weight(averaged.weights, averaged.sizes, n) * shortened
    spreads, mass = averaged.spread_table
    flat = not spreads.any()
    exposed = int((n > 0).sum())
    if flat or averaged.luck_factor > _LUCK_FACTOR:
        notes.append("no spread beyond luck was found: differences in this table tell hardly anybody apart")
    notes += _on_shape(averaged.shapes)
    spread_interval = _ends(spreads, mass, level)
    if exposed < _FEW_GROUPS and estimator == "integrated" and prior is None:
        low, high = (rate_text(end) for end in spread_interval)
        one = exposed == 1
        notes.append(
            f"only {exposed} {'group' if one else 'groups'}: how far true rates differ is known from {low} "
            f"to {high} only ({level_words(level)}), which the intervals take in"
        )
    data = counts.identity.copy()
    data[both.event], data[both.per] = both.events, both.exposure
    if both.unknown.any():
        data["unknown"] = both.unknown
    data["rate"] = both.rate
    if both.bounded.any():
        data["least"], data["most"] = both.least, both.most
    data["shrunk"], data["low"], data["high"] = posterior.mean(), np.nan, np.nan
    data["own_weight"] = averaged.own_weight(n)
    data["toward"] = toward
    unknown, contact = unknown_contact(counts, both.event)
    return Fit(
        data.reset_index(drop=True),
        counts,
        both.event,
        both.per,
        level,
        float(toward.mean()),
        float(spreads @ mass),
        np.inf if flat else half,
        posterior,
        both.unknown_share,
        float(unknown.sum() / contact.sum()) if contact.sum() else 0.0,
        tuple(notes),
        spread_interval,
        averaged.weighed,
        _decision(averaged, both, toward),
        most_unknown,
        averaged.shapes,
        None if by_eye is None else by_eye.errors,
        None if by_eye is None else by_eye.effect,
        None if by_eye is None else by_eye.by_eye,
        lambda: doubts_of_fit(averaged.before(), k, n),
    )


def _on_shape(shapes: pd.DataFrame) -> list[str]:
    """Say where one Beta law is nearly ruled out, and what explains the table better."""
    if shapes.empty or float(shapes["chance"].iloc[0]) > _RULED_OUT:
        return []
    kinds = shapes.iloc[1:].groupby("kind", sort=False)["chance"].sum()
    likely = str(kinds.idxmax())
    left = _FARTHEST if likely in ("a long upper tail", "a long lower tail") else ""
    return [
        f"the true rates have {likely} (chance {chance_text(float(kinds.max()))}); estimates and chances "
        f"allow for that{left}"
    ]


def _decision(averaged: Averaged, both: Pair, toward: Floats) -> str:
    """Say what the law was found to depend on."""
    said = []
    noun, weighed = per_words(both.per, 2), averaged.weighed
    chances = _chances(weighed)
    groups = next((name for kind, name in chances if kind == "groups"), "")
    apart = next((chance for (kind, _), chance in chances.items() if kind == "exposure by groups"), 0.0)
    for (kind, part), chance in chances.items():
        if kind == "exposure":
            if apart < TELLS:
                doubted = bool(weighed["nothing"][weighed["kind"] == "exposure"].any())
                said.append(_on_exposure(chance if doubted else None, both, toward))
            if apart > HARDLY:
                differs = _found(apart, "differs", "may or may not differ", "")
                said.append(
                    f"what the number of {noun} tells {differs} by {groups} (chance {chance_text(apart)})"
                )
        elif kind == "earlier":
            counts = _found(chance, "counts", "may count", "")
            but = "" if chance >= TELLS else f" (chance that it counts {chance_text(chance)})"
            said.append(
                f"one of the last season's {noun} {counts} as {averaged.worth:.2f} of this season's{but}"
                if counts
                else f"earlier seasons were not found to tell anything (chance {chance_text(chance)})"
            )
        elif kind in ("groups", "covariate"):
            tells = _found(
                chance, "tells something", "may or may not tell something", "was not found to tell anything"
            )
            said.append(f"{part} {tells} of the rate (chance {chance_text(chance)})")
    own = averaged.own_spreads
    if own is not None and own.chance > HARDLY:
        each = [
            f"{rate_text(x)} where {own.name} is {one}"
            for x, one in zip(own.spreads, own.levels, strict=False)
        ]
        fact = f"true rates differ by {', '.join(each)} and by {rate_text(own.spreads[-1])} elsewhere"
        perhaps = f"true rates may or may not differ by more in one {own.name} than in another"
        found = _found(own.chance, fact, perhaps, "")
        said.append(f"{found} (chance that it is not one spread {chance_text(own.chance)})")
    return ", ".join(said)


def _chances(weighed: pd.DataFrame) -> dict[tuple[Kind, str], float]:
    """Return the chance that it matters, by kind and name of the question."""
    chances = dict[tuple[Kind, str], float]()
    for row in weighed.to_dict("records"):
        asked = (row["kind"], row["part"])
        chances[asked] = chances.get(asked, 1.0) - (row["chance"] if row["nothing"] else 0.0)
    return chances


def _found(chance: float, fact: str, perhaps: str, nothing: str) -> str:
    """Return the words for what is so with this chance."""
    return fact if chance >= TELLS else perhaps if chance > HARDLY else nothing


def _on_exposure(chance: float | None, both: Pair, toward: Floats) -> str:
    """Say how the mean follows the exposure; without a chance, as it was taken for granted."""
    noun, follows, link = per_words(both.per, 2), "follows", ""
    if chance is not None:
        follows, link = (
            _found(chance, follows, "may follow", ""),
            f" (chance of a link {chance_text(chance)})",
        )
        if not follows:
            return f"the number of {noun} was not found to tell anything (chance {chance_text(chance)})"
    n = both.exposure
    few, many = np.quantile(n[n > 0], [0.1, 0.9], method="nearest")
    at = [rate_text(float(toward[n == one].mean())) for one in (few, many)]
    return (
        f"the mean {follows} the number of {noun}, from {at[0]} at {few:,.0f} to {at[1]} at {many:,.0f}{link}"
    )


def _half_weight(weights: Floats, sizes: Floats, n: Floats) -> float:
    """Exposure at which the own record's weight, averaged over laws and groups with exposure, is a half."""
    sizes = sizes[:, n > 0] if sizes.shape[1] > 1 else sizes
    low, high = float(np.log(sizes.min())), float(np.log(sizes.max()))
    for _ in range(60):
        middle = (low + high) / 2
        own = weights @ (1 / (1 + sizes / np.exp(middle))).mean(axis=1)
        low, high = (middle, high) if own < 0.5 else (low, middle)
    return float(np.exp((low + high) / 2))


def _ends(values: Floats, mass: Floats, level: float) -> tuple[float, float]:
    if len(values) == 1:
        return float(values[0]), float(values[0])
    order = np.argsort(values, kind="stable")
    middle = np.cumsum(mass[order]) - mass[order] / 2
    low, high = np.interp([(1 - level) / 2, (1 + level) / 2], middle / mass.sum(), values[order])
    return float(low), float(high)
