"""After a whiff: what pitchers throw next, and what hitters do with it.

The question is about the next *pitch*, at each count that a strike has brought about: is a swing, a whiff, a
hard-hit ball more or less frequent where that strike was a whiff than where it was another one? Only the
first pitch at each count of a plate appearance enters, so that fouls with two strikes do not count one
plate appearance many times. Rows are compared within strata alike in hitter, group of pitchers (by
whiffs a pitch), count, and family of the pitch before (its kind, where repeats are counted): a pitcher
who repeats himself whatever happens would otherwise make whiffs on his best pitch follow each other.

That comparison alone is biased: on a hitter's bad day whiffs follow whiffs. So a placebo stands beside
it, made of whiffs in *other* plate appearances of the same hitter, pitcher and game, and the verdict rests on
the difference; see :mod:`hitlab.approach.stratified`.

What is estimated: by what factor a whiff, instead of another strike, multiplies the odds of the response
to the next pitch: everything between the two included, the pitcher's choice among it. Assumed: form
lasts for a game and acts on all counts alike. When it fails: a plan or a tired arm that belongs to one plate
appearance alone, an injury on the swing, and pitches that missed the bat because of where they were
(places are not in the strata). What happened on the next *swing*, or on the same kind of pitch, is picked
by what came after the whiff; such numbers are given as descriptions only.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, get_args

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.response_rows import (
    Against,
    Asked,
    Compared,
    Rows,
    choose_rows,
    hitters_of,
    looked_at,
    one_hitter,
    strata_named,
    strata_of,
)
from hitlab.approach.sequence import demand_told
from hitlab.approach.stratified import Comparison, compare_units, exact_p, scores
from hitlab.counting.facts import Conventions
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from hitlab.results import Part, Result, Table
from hitlab.wording import level_words

__all__ = ["RESPONSES", "Against", "Responses", "after_whiff", "pulled_together"]

_MEANS = np.linspace(-1.0, 1.0, 201)  # log odds ratios; a grid, so that the answer is the same every time
_SPREADS = np.linspace(0.0, 0.8, 33)

RESPONSES = {
    "swing": "the hitter swung at the next pitch",
    "take": "the hitter let it go",
    "whiff": "the hitter swung and missed",
    "hard": "the hitter hit it hard",
    "same kind": "the pitcher threw the same kind of pitch again",
}
"""What is looked at on the next pitch, and its meaning. The last one is the pitcher's doing."""

Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

_EVENTS = {"swing": "swings", "take": "takes", "whiff": "whiffs", "hard": "hard"}
_FEWEST_HITTERS = 30  # with fewer, games instead of hitters are the independent groups
_EXACT_ROWS = 3_000  # up to here the exact test takes well under a second


@dataclass(frozen=True, eq=False, slots=True)
class Responses(Result):
    """What follows a whiff.

    Attributes
    ----------
    data
        Three rows a response: ``test`` is ``after a whiff`` (the pooled odds ratio of Mantel and Haenszel;
        ``p`` of Cochran, Mantel and Haenszel, or exact mid-p for few rows), ``placebo`` (whiffs in other
        plate appearances of the day) and ``difference`` (the first over the second: the answer);
        ``odds_ratio``, ``low``, ``high``, ``p``, and ``log_odds_ratio`` with its ``error``.
    counts
        One row a response: how often after a whiff and after another strike (``whiff_yes`` of
        ``whiff_pitches``, ``other_yes`` of ``other_pitches``, with rates), ``strata_used``,
        ``strata_dropped`` (fewer than two rows, or an empty margin), ``rows_dropped`` with them,
        ``placebo_pairs``, ``unknown`` (pitches left out because it is not known), and how many of these came
        after a whiff and after another strike, ``whiff_unknown`` and ``other_unknown``.
    descriptions
        The same rates on the next *swing* and by kind of the next pitch. They are picked by what came after
        the whiff, so they say what happened and nothing of what a whiff does.
    hitters
        One row a hitter and response: ``score`` (observed less expected responses after a whiff),
        ``information`` (its variance), and the counts.
    against, strata
        What a whiff is compared with, and in what rows are alike.
    level
        Level of the intervals.
    notes
        What a careful reader wants to know besides.
    """

    data: pd.DataFrame
    counts: pd.DataFrame
    descriptions: pd.DataFrame
    hitters: pd.DataFrame
    against: Against
    strata: tuple[str, ...]
    level: float
    notes: tuple[str, ...]

    def of(self, response: str, test: str = "difference") -> pd.Series:
        """Return one row of ``data``.

        Raises
        ------
        ClaimError
            Where that response was not looked at.
        """
        found = self.data[(self.data["response"] == response) & (self.data["test"] == test)]
        if found.empty:
            have = ", ".join(self.data["response"].unique())
            raise ClaimError(f"{response!r} was not looked at here; there are {have}")
        return found.iloc[0]

    def table_for_people(self) -> pd.DataFrame:
        """Return the odds ratios with three digits."""
        return self.data[["response", "test", "odds_ratio", "low", "high", "p"]].round(3)

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: odds ratios, counts and descriptions."""
        other = "another strike" if self.against == "any strike" else f"a {self.against}"
        counts = self.counts.round(3).rename(columns=lambda name: str(name).replace("_", " "))
        return [
            f"The next pitch after a whiff, against after {other} to reach the same count.",
            f"Odds ratios with {level_words(self.level)} intervals; the difference is the answer.",
            Table(self.table_for_people()),
            "",
            Table(counts),
            "",
            "Descriptions only: picked by what came after the whiff.",
            Table(self.descriptions.round(3)),
            f"Compared within strata alike in {', '.join(self.strata)}.",
            *(f"Note: {note}." for note in self.notes),
        ]


def after_whiff(
    pitches: Any,
    *,
    hitter: str | None = None,
    responses: Sequence[str] | None = None,
    against: Against = "any strike",
    alike: Sequence[str] = ("hitter",),
    pitcher_groups: int | None = None,
    conventions: Conventions | None = None,
    level: float = DEFAULT_LEVEL,
) -> Responses:
    """Ask whether the next pitch goes otherwise after a whiff than after another strike.

    Parameters
    ----------
    pitches
        As for :func:`hitlab.approach.with_previous`; ``hitter`` is needed besides.
    hitter
        Only this hitter, by id, name or part of it: an exact test, and an answer that is open more often
        than not.
    responses
        Some of :data:`RESPONSES`; by default all that the table's columns can tell.
    against
        What a whiff is compared with: any other strike, a foul (he swung too), or a called strike.
    alike
        Columns in which the rows of a stratum are alike, besides pitchers, count and kind before. Where
        hitters have few pitches each: ``("hitter_side",)``.
    pitcher_groups
        Into how many groups pitchers are put by their whiffs a pitch; 0 for each pitcher by himself.
        ``None``: as many, up to five, as leave ten rows in the average stratum; the placebo takes out
        the rest.
    conventions
        How the debatable cases are counted; see ``hitlab.counting.facts``.
    level
        Level of the intervals.

    Returns
    -------
    Responses
        Three rows a response: the odds ratio after a whiff, the same in other plate appearances of the day
        (``placebo``), and the first over the second, which is the answer.

    Raises
    ------
    ClaimError
        Where an argument is out of its range, or the hitter is not there.
    MissingColumnsError, CountsError, ReadingError
        Where the table cannot tell; the message names the columns.
    MissingPackageError
        Where statsmodels is not installed.

    Examples
    --------
    >>> import hitlab
    >>> from hitlab.approach import after_whiff
    >>> answers = after_whiff(hitlab.demo_season(), responses=["swing"])
    >>> answers.table()[["response", "test", "odds_ratio", "low", "high"]].round(2)
      response           test  odds_ratio   low  high
    0    swing  after a whiff        1.01  0.96  1.05
    1    swing        placebo        0.98  0.93  1.03
    2    swing     difference        1.03  0.96  1.11
    """
    if against not in get_args(Against):
        raise ClaimError(f"against={against!r}: accepted are 'any strike', 'foul' and 'called strike'")
    if not 0 < level < 1:
        raise ClaimError(f"level={level!r}: give a level between 0 and 1, such as 0.9")
    conventions = conventions or Conventions()
    frame, columns = looked_at(pitches, alike)
    strata = strata_named(columns, alike, pitcher_groups)
    events, untold = _looked_for(frame, columns, responses, conventions)
    clubs = hitter is not None
    asked = Asked(
        columns, against, conventions, tuple(alike), tuple(sorted({*sum(events.values(), ())})), clubs
    )
    compared = choose_rows(frame, asked)
    rows = strata_of(compared, asked, pitcher_groups)
    names = hitters_of(compared, asked)
    told = _told(compared, events)
    if hitter is not None:
        mine = one_hitter(compared, asked, hitter)
        rows = Rows(*(getattr(rows, name)[mine] for name in Rows.__slots__))
        told = {name: (flag[mine], known[mine]) for name, (flag, known) in told.items()}
    odds, counts, hitters = [], [], []
    for name, (flag, known) in told.items():
        # Kinds are repeated at rates of their own, so there it has to be the very kind.
        stratum = rows.stratum_by_kind if name == "same kind" else rows.stratum
        comparison, exact = _compare(rows, stratum, flag, known, level)
        by_hitter = _by_hitter(rows, comparison, flag, known, names)
        by_hitter.insert(0, "response", name)
        odds.append(_three_rows(name, comparison, exact))
        counts.append(_counts(name, comparison, by_hitter, int((~known).sum())))
        hitters.append(by_hitter)
    return Responses(
        pd.concat(odds, ignore_index=True),
        pd.DataFrame(counts),
        _descriptions(rows, told),
        pd.concat(hitters, ignore_index=True),
        against,
        strata,
        level,
        (*_notes(compared.set_aside), *untold),
    )


def _looked_for(
    frame: Any, columns: Sequence[str], responses: Sequence[str] | None, conventions: Conventions
) -> tuple[dict[str, tuple[str, ...]], tuple[str, ...]]:
    """Return for each response the counts that tell it; and why some cannot be told."""
    asked = tuple(RESPONSES if responses is None else responses)
    unknown = [name for name in asked if name not in RESPONSES]
    if unknown or not asked:
        raise ClaimError(f"responses={responses!r}: choose some of {', '.join(RESPONSES)}")
    events: dict[str, tuple[str, ...]] = {}
    untold: list[str] = []
    for name in asked:
        told_by = ("hard", "unmeasured") if name == "hard" else (_EVENTS[name],) if name in _EVENTS else ()
        try:
            if name == "same kind" and "pitch_kind" not in columns:
                raise MissingColumnsError("the kind cannot be told: the table has no column pitch_kind")
            native = frame.to_native() if hasattr(frame, "to_native") else frame
            demand_told(native, columns, told_by, conventions)
            events[name] = told_by
        except (MissingColumnsError, CountsError) as error:
            if responses is not None:
                raise
            untold.append(f"{name} was not looked at: {error}")
    return events, tuple(untold)


def _told(compared: Compared, events: dict[str, tuple[str, ...]]) -> dict[str, tuple[Flags, Flags]]:
    """Return for each response whether it came and whether that is known."""
    told = {}
    for name, told_by in events.items():
        if name == "same kind":
            now, before = compared.numbers("kind"), compared.numbers("kind before")
            told[name] = now == before, (now >= 0) & (before >= 0)
        else:
            flag = compared.flag(told_by[0])
            known = ~compared.flag(told_by[1]) if name == "hard" else np.ones(len(flag), dtype=bool)
            told[name] = flag, known
    return told


def _compare(rows: Rows, stratum: Whole, flag: Flags, known: Flags, level: float) -> tuple[Comparison, float]:
    """Compare one response; with the exact mid-p where there are few rows, else NaN."""
    many = len(np.unique(rows.hitter)) >= _FEWEST_HITTERS
    cluster = rows.hitter if many else rows.visit
    comparison = compare_units(
        stratum[known],
        rows.whiffed[known],
        flag[known],
        rows.stage[known],
        rows.unit[known],
        rows.visit[known],
        cluster[known],
        level,
    )
    few = 0 < comparison.tables.rows.sum() <= _EXACT_ROWS
    return comparison, exact_p(comparison.tables)[1] if few else np.nan


def _three_rows(name: str, comparison: Comparison, exact: float) -> pd.DataFrame:
    own, placebo, difference = comparison.own, comparison.placebo, comparison.difference
    table = pd.DataFrame(
        [
            {
                "response": name,
                "test": test,
                "odds_ratio": np.exp(one.log_ratio),
                "low": np.exp(one.low),
                "high": np.exp(one.high),
                "p": one.p,
                "log_odds_ratio": one.log_ratio,
                "error": one.error,
            }
            for test, one in (("after a whiff", own), ("placebo", placebo), ("difference", difference))
        ]
    )
    if not np.isnan(exact):
        table.loc[0, "p"] = exact
    return table


def _counts(name: str, comparison: Comparison, by_hitter: pd.DataFrame, unknown: int) -> dict[str, Any]:
    line: dict[str, Any] = {"response": name}
    for side in ("whiff", "other"):
        yes, pitches = (int(by_hitter[f"{side}_{column}"].sum()) for column in ("yes", "pitches"))
        line |= {f"{side}_yes": yes, f"{side}_pitches": pitches}
        line[f"{side}_rate"] = yes / pitches if pitches else np.nan
    tables = comparison.tables
    return line | {
        "strata_used": len(tables.rows),
        "strata_dropped": tables.dropped,
        "rows_dropped": tables.rows_dropped,
        "placebo_pairs": comparison.pairs,
        "unknown": unknown,
        **{name: int(by_hitter[name].sum()) for name in ("whiff_unknown", "other_unknown")},
    }


def _by_hitter(
    rows: Rows, comparison: Comparison, flag: Flags, known: Flags, names: pd.DataFrame
) -> pd.DataFrame:
    """Return one row a hitter: score, information and counts."""
    number = int(rows.hitter.max()) + 1
    hitter, whiffed, answered = rows.hitter[known], rows.whiffed[known], flag[known]
    score, information = scores(comparison.tables, whiffed, answered, hitter, number)
    cells = np.bincount(4 * hitter + 2 * whiffed + answered, minlength=4 * number).reshape(number, 4)
    table = names[names.index.isin(np.unique(rows.hitter))].reset_index()
    place = table.pop("number").to_numpy(dtype=np.int64)
    table["score"], table["information"] = score[place], information[place]
    for side, no in (("whiff", 2), ("other", 0)):
        table[f"{side}_yes"], table[f"{side}_pitches"] = (
            cells[place, no + 1],
            cells[place, no : no + 2].sum(1),
        )
    for side, came in (("whiff", rows.whiffed), ("other", ~rows.whiffed)):
        table[f"{side}_unknown"] = np.bincount(rows.hitter[came & ~known], minlength=number)[place]
    return table


def _descriptions(rows: Rows, told: dict[str, tuple[Flags, Flags]]) -> pd.DataFrame:
    """Rates among pitches picked by what came after the whiff."""
    swung = told.get("swing")
    again = told.get("same kind")
    among = [] if swung is None else [("next pitches swung at", swung[0])]
    if again is not None:
        among += [
            ("of the same kind as before", again[0] & again[1]),
            ("of another kind", ~again[0] & again[1]),
        ]
    lines = []
    for name, (flag, known) in told.items():
        for words, part in among:
            if name == "same kind" or (name in ("swing", "take") and "swung" in words):
                continue  # true or false by its own definition
            line: dict[str, Any] = {"response": name, "among": words}
            for column, side in (("whiff", rows.whiffed), ("other", ~rows.whiffed)):
                chosen = part & known & side
                line[f"{column}_yes"], line[f"{column}_pitches"] = int(flag[chosen].sum()), int(chosen.sum())
                line[f"{column}_rate"] = flag[chosen].mean() if chosen.any() else np.nan
            lines.append(line)
    return pd.DataFrame(lines)


def _notes(set_aside: int) -> tuple[str, ...]:
    if not set_aside:
        return ()
    what = "plate appearance was" if set_aside == 1 else "plate appearances were"
    return (f"{set_aside:,} {what} set aside because the order cannot be trusted (see sequence_faults)",)


def pulled_together(
    score: NDArray[np.float64], information: NDArray[np.float64], own_score: float, own_information: float
) -> tuple[float, float, float]:
    """Pull one hitter's log odds ratio toward everybody's, by how much they are seen to differ.

    Flat on mean and spread of the normal law of all; each hitter's own ratio is about normal.

    Parameters
    ----------
    score, information
        By hitter: the ratio is the one over the other, and its variance one over the second.
    own_score, own_information
        The hitter's.

    Returns
    -------
    tuple of float
        Mean and error of his log odds ratio, and how much of it is his own record.
    """
    from scipy import stats

    spread = np.hypot.outer(_SPREADS, np.sqrt(1 / information))[:, None, :]
    logs = stats.norm.logpdf(score / information, _MEANS[None, :, None], spread).sum(axis=2)
    weight = np.exp(logs - logs.max())
    weight /= weight.sum()
    known = own_information > 0
    mine = float(own_score / own_information) if known else 0.0
    share = _SPREADS**2 / (_SPREADS**2 + 1 / own_information) if known else np.zeros(len(_SPREADS))
    center = _MEANS[None, :] + share[:, None] * (mine - _MEANS[None, :])
    scatter = _SPREADS**2 * (1 - share)
    mean = float((weight * center).sum())
    variance = float((weight * (scatter[:, None] + (center - mean) ** 2)).sum())
    return mean, float(np.sqrt(variance)), float((weight.sum(axis=1) * share).sum())
