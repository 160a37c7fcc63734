"""Two rates that go together: the correlation of true talents across hitters, luck taken out of both.

What is estimated: each hitter has a true rate of the one and of the other; the correlation of their log odds
across hitters. The model, its prior and how it is worked out stand in ``hitlab.two_rates.logit_normal``. The
correlation of *observed* rates is smaller, because luck in one knows nothing of luck in the other: it is
about the true one times the root of the product of the two reliabilities (Spearman 1904, Amer. J. Psychol.
15:72-101).

When nothing can be told: where one of the two rates shows no spread beyond luck there is no talent in it to
correlate. The rule, fixed beforehand: twice the log likelihood ratio of a spread over none has to reach 2.71
for both rates, a test with 5 % false alarms when there is none (half of its law sits at 0: Self & Liang 1987,
J. Amer. Stat. Assoc. 82:605-610). The posterior is given all the same; it then says little but the prior.

When it fails: shared causes (see ``hitlab.two_rates.link.SHARED_CAUSES``) make two rates go together that
have nothing to do with each other; hitters of several kinds mixed, so that no one normal law fits their log
odds.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, pair, unknown_contact
from hitlab.counting.events import per_words
from hitlab.counting.facts import Conventions
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.rates import as_counts
from hitlab.counting.situations import Situation
from hitlab.counting.tallies import columns_of, tally
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.two_rates.disjoint import RateOf, proof_disjoint, rule_disjoint
from hitlab.two_rates.link import Link
from hitlab.two_rates.logit_normal import Talents, correlation_posterior, law_of_rates, talent_rates

__all__ = ["LEAST_GAIN", "Link", "RateOf", "correlate_counts", "correlate_rates"]


LEAST_GAIN = 2.71
"""Twice the log likelihood ratio that a rate's spread has to reach before its correlation can be told."""

_FEWEST = 3  # a line goes through any two
_MINIMUM_SHARE = 4
_FEW = 40  # below it the prior on the spreads is felt


def correlate_rates(
    pitches: Any,
    first: RateOf,
    second: RateOf,
    *,
    level: float = DEFAULT_LEVEL,
    conventions: Conventions | None = None,
    trust: bool = False,
) -> Link:
    """Correlate hitters' true talents in two rates, the sampling noise of both taken out.

    Parameters
    ----------
    pitches
        As in ``tally``.
    first, second
        The two rates, each over its own pitches. Two periods of one rate (does it repeat?) are two rates
        whose ``where`` tell the dates apart.
    level
        Level of the posterior interval.
    conventions, trust
        As in ``tally``.

    Returns
    -------
    Link
        Hitters are matched by id; who has exposure in one rate only is left out and named.

    Raises
    ------
    CountsError
        Where the two rates share pitches so that luck alone makes them go together, or fewer than three
        hitters have exposure in both.
    MissingColumnsError, ReadingError
        As in ``tally`` and ``rate``.

    Examples
    --------
    Do hitters who miss more put fewer of the balls that they touch in play? Here they do:

    >>> import pandas as pd
    >>> from hitlab.two_rates import RateOf, correlate_rates
    >>> cells = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"] * 3,
    ...                       "outcome": ["whiff"] * 4 + ["foul"] * 4 + ["in play"] * 4,
    ...                       "times": [110, 60, 84, 40, 180, 150, 146, 120, 110, 170, 120, 150]})
    >>> pitches = cells.loc[cells.index.repeat(cells["times"])]
    >>> link = correlate_rates(pitches, RateOf("whiffs", "swings"), RateOf("in_play", "contact"))
    >>> round(link.correlation, 1), round(link.chance_positive, 2)
    (-0.6, 0.1)
    """
    conventions = conventions or Conventions()
    for rate in (first, second):
        asked = rate.where.columns if isinstance(rate.where, Situation) else ()
        absent = sorted(set(asked) - columns_of(pitches, trust=trust)) if asked else []
        if absent:
            raise MissingColumnsError(f"{rate.title}: the pitch table has no column {absent[0]}")
    counted = [
        tally(pitches, where=rate.where, conventions=conventions, trust=trust) for rate in (first, second)
    ]
    for counts, rate in zip(counted, (first, second), strict=True):
        pair(counts, rate.event, rate.per)  # says what is missing before the pitches are looked through
    proof = proof_disjoint(pitches, first, second, conventions)
    return _link(counted[0], counted[1], first, second, proof, level)


def correlate_counts(
    first_counts: Any,
    second_counts: Any,
    first: RateOf,
    second: RateOf,
    *,
    apart: str = "",
    level: float = DEFAULT_LEVEL,
) -> Link:
    """Correlate hitters' true talents in two rates that were counted already, such as two seasons.

    Parameters
    ----------
    first_counts, second_counts
        ``Counts``, or any tables of counts, one row a hitter.
    first, second
        The two rates; ``where`` stays empty, ``words`` tell them apart (``"last season"``).
    apart
        Why no swing is in both, in words: counts cannot show it, so it is the caller's statement and stands
        in the answer (``"the two seasons share no game"``). Not needed where the counting rules settle it
        (whiffs per swing and balls in play per contact).
    level
        Level of the posterior interval.

    Returns
    -------
    Link
        The correlation of true talents with its interval and the chance that it is positive; hitters with a
        record in one rate only are left out and named.

    Raises
    ------
    CountsError
        Where ``disjoint`` is needed and not given, one table is given twice for rates that share its swings,
        the two are not counted by one and the same column, or fewer than three hitters have exposure in both.

    Examples
    --------
    Does a rate come back the next season?

    >>> import pandas as pd
    >>> from hitlab.two_rates import RateOf, correlate_counts
    >>> last = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch", "Goriches"],
    ...                      "swings": [400, 380, 350, 310, 290], "hard": [104, 70, 63, 50, 70]})
    >>> this = last.assign(hard=[95, 75, 55, 52, 66])
    >>> link = correlate_counts(
    ...     last, this, RateOf("hard", "swings", words="last season"), RateOf("hard", "swings"),
    ...     apart="the two seasons share no game")
    >>> round(link.correlation, 1), round(link.chance_positive, 2)
    (0.6, 0.88)
    """
    if first.where is not None or second.where is not None:
        raise CountsError("counts are counted already: leave where= out and say in words= what they are of")
    one, other = as_counts(first_counts), as_counts(second_counts)
    proof = rule_disjoint(first, second, one.conventions) if one.conventions == other.conventions else ""
    if not proof:
        if one.fingerprint == other.fingerprint:
            raise CountsError(
                f"{first.title} and {second.title} come from one table of counts, so they share their "
                f"{per_words(second.per, 2)}; count each over its own pitches, or use correlate_rates"
            )
        if not apart.strip():
            raise CountsError(
                "counts do not show whether a swing is in both tables: say why none is with apart=, such as "
                "apart='the two seasons share no game', or give the pitches to correlate_rates"
            )
        proof = f"that no swing is in both was stated, not checked: {apart.strip()}"
    return _link(one, other, first, second, proof, level)


def _link(one: Counts, other: Counts, first: RateOf, second: RateOf, proof: str, level: float) -> Link:
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    matched, left_out = _matched_hitters(one, other, first, second)
    rates = [pair(counts, rate.event, rate.per) for counts, rate in ((one, first), (other, second))]
    places = [matched["first_place"].to_numpy(np.int64), matched["second_place"].to_numpy(np.int64)]
    if len(matched) < _FEWEST:
        raise CountsError(
            f"{len(matched)} hitters have both {per_words(first.per, 2)} ({first.title}) and "
            f"{per_words(second.per, 2)} ({second.title}); a correlation needs at least {_FEWEST}, and many "
            "more to say anything. If there should be more, look at how the hitters are written in the two"
        )
    events = [rate.events[place] for rate, place in zip(rates, places, strict=True)]
    exposure = [rate.measured_exposure[place] for rate, place in zip(rates, places, strict=True)]
    talents = correlation_posterior(events[0], exposure[0], events[1], exposure[1])
    mean, low, high, positive = _summary(talents, level)
    observed = [rate.rate[place] for rate, place in zip(rates, places, strict=True)]
    shrunk = talent_rates(talents)
    data = matched[["hitter"]].copy()
    for side, rate, place, values, pulled in zip(
        ("first", "second"), rates, places, observed, shrunk, strict=True
    ):
        data[f"{side}_events"] = rate.events[place]
        data[f"{side}_exposure"] = rate.exposure[place]
        data[f"{side}_rate"] = values
        data[f"{side}_shrunk"] = pulled
    laws = law_of_rates(talents)
    field = _usual_field(exposure)
    noise = [law[2] * float((1 / n[field]).mean()) for law, n in zip(laws, exposure, strict=True)]
    reliable = [law[1] ** 2 / (law[1] ** 2 + luck) for law, luck in zip(laws, noise, strict=True)]
    told = (*one.notes_on(first.event, first.per), *other.notes_on(second.event, second.per))
    notes = list(dict.fromkeys(told))
    if len(data) < _FEW:
        notes.append(f"only {len(data)} hitters: the interval is wide, and the prior is felt")
    return Link(
        data=data.reset_index(drop=True),
        left_out=left_out,
        first=first.title,
        second=second.title,
        level=level,
        correlation=mean,
        low=low,
        high=high,
        chance_positive=positive,
        why_not=_why_not(talents, (first, second), len(data)),
        naive=_correlation(*(values[field] for values in observed)),
        naive_hitters=int(field.sum()),
        reliabilities=(reliable[0], reliable[1]),
        spreads=(laws[0][1], laws[1][1]),
        gains=talents.gains,
        exposure_links=(
            _rank_correlation(exposure[0], observed[0]),
            _rank_correlation(exposure[1], observed[1]),
        ),
        unknown_share=max(_unknown(one, first), _unknown(other, second)),
        proof=proof,
        density=_curve(talents),
        source=" and ".join(dict.fromkeys((one.source, other.source))),
        notes=tuple(notes),
    )


def _usual_field(exposure: list[NDArray[np.int64]]) -> NDArray[np.bool_]:
    """Whom one would compare without a model: a quarter of the largest exposure or more in both rates."""
    enough = np.all([n >= n.max() / _MINIMUM_SHARE for n in exposure], axis=0)
    return enough if enough.sum() >= _FEWEST else np.ones_like(enough)


def _why_not(talents: Talents, rates: tuple[RateOf, RateOf], hitters: int) -> str:
    flat = [
        f"{hitters:,} observed rates of {rate.title} scatter little more than luck alone would make them "
        f"(likelihood ratio {max(gain, 0.0):.1f}; {LEAST_GAIN} is asked for), so its true spread may be zero"
        for rate, gain in zip(rates, talents.gains, strict=True)
        if gain < LEAST_GAIN
    ]
    return "; ".join(flat)


def _matched_hitters(
    one: Counts, other: Counts, first: RateOf, second: RateOf
) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Match rows by the hitter's id: the places of those with exposure in both, and who is left out."""
    if one.by != other.by or len(one.by) != 1:
        raise CountsError(
            f"the two tables are counted by {', '.join(one.by)} and by {', '.join(other.by)}; "
            "count both by the hitter alone"
        )
    parts = []
    for side, counts, rate in (("first", one, first), ("second", other, second)):
        key = counts.data[counts.by[0]]
        parts.append(
            pd.DataFrame(
                {
                    "id": key.astype(object)
                    .where(key.notna(), None)
                    .map(lambda v: None if v is None else str(v)),
                    f"{side}_label": pd.Series(counts.labels, dtype=object),
                    f"{side}_place": np.arange(len(key)),
                    f"{side}_n": pair(counts, rate.event, rate.per).measured_exposure,
                }
            )
        )
    nameless = [part["id"].isna() for part in parts]
    kept = [part[~lacks] for part, lacks in zip(parts, nameless, strict=True)]
    both = kept[0].merge(kept[1], on="id", how="outer", sort=True)
    both["hitter"] = both["first_label"].fillna(both["second_label"])
    lacking = {side: ~(both[f"{side}_n"].fillna(0).to_numpy(float) > 0) for side in ("first", "second")}
    why = np.select(
        [lacking["first"] & lacking["second"], lacking["first"], lacking["second"]],
        [
            "no exposure in either rate",
            f"no {per_words(first.per, 2)} in {first.title}",
            f"no {per_words(second.per, 2)} in {second.title}",
        ],
        "",
    )
    left_out = both.assign(why=why).loc[why != "", ["hitter", "why"]]
    strangers = [
        pd.DataFrame({"hitter": ["not recorded"], "why": ["no id"]}) for lacks in nameless if lacks.any()
    ]
    left_out = pd.concat([left_out, *strangers[:1]], ignore_index=True)
    return both[why == ""].reset_index(drop=True), left_out


def _unknown(counts: Counts, rate: RateOf) -> float:
    unknown, contact = unknown_contact(counts, rate.event)
    return float(unknown.sum() / contact.sum()) if contact.sum() else 0.0


def _summary(talents: Talents, level: float) -> tuple[float, float, float, float]:
    """Return mean, both ends of the interval, and the chance above 0; mass lies evenly in each cell."""
    grid = talents.correlation
    half = (grid[1] - grid[0]) / 2
    mass = talents.weight.sum(axis=(0, 1))
    edges = np.append(grid - half, grid[-1] + half)
    cumulative = np.append(0.0, np.cumsum(mass))
    tail = (1 - level) / 2
    low, high = np.interp((tail, 1 - tail), cumulative, edges)
    positive = 1 - float(np.interp(0.0, edges, cumulative, left=0.0, right=1.0))
    return float(mass @ grid), float(low), float(high), positive


def _curve(talents: Talents) -> pd.DataFrame:
    """Return the posterior density on its grid, with the ends -1 and 1."""
    grid, density = talents.correlation, talents.density
    half = (grid[1] - grid[0]) / 2
    reaches = (grid[0] - half <= -1 + 1e-9, grid[-1] + half >= 1 - 1e-9)
    ends = [density[place] if there else 0.0 for place, there in zip((0, -1), reaches, strict=True)]
    return pd.DataFrame(
        {"correlation": [-1.0, *grid, 1.0], "density": [ends[0], *density, ends[1]]}, dtype=float
    )


def _correlation(x: Any, y: Any) -> float:
    x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
    if np.ptp(x) == 0 or np.ptp(y) == 0:
        return float("nan")
    return float(np.corrcoef(x, y)[0, 1])


def _rank_correlation(x: Any, y: Any) -> float:
    return _correlation(pd.Series(x).rank(), pd.Series(y).rank())
