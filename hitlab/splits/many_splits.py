"""Every hitter in every situation at once: one pass over the pitches, one fit of all situations.

Each situation has an effect on everybody, each hitter his own difference from it; a split of twelve swings is
pulled toward the hitter's own level plus the situation's effect (``hitlab.splits.split_law``). How much
hitters differ is told by the usual situations of the same pitches, whichever are asked: a split has one
answer here, in a claim, on a card and in a log. Three comparisons stand side by side: against the hitter's
own rest, the same beyond what the situation does to everybody, and against the average hitter in that
situation.

When it fails: as for ``split_rates``; and situations that overlap (sliders, breaking balls) share swings,
while the fit takes what each says about the common spread as news, at half its weight. How many splits were
looked at, and how many of those that stand out are expected to be false, is said with the answer
(``hitlab.counting.looks``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.counting.events import rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.looks import AGAINST, Against, Called, Looks, call_by_chance, call_by_p, exact_p
from hitlab.counting.tallies import tally
from hitlab.errors import ClaimError, CountsError
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.results import Listing
from hitlab.splits.beside import Pitched
from hitlab.splits.one_split import four_counts, split_table, with_law
from hitlab.splits.split_law import fit_laws
from hitlab.splits.usual import Asked, asked_situations
from hitlab.wording import capitalised, percent

__all__ = ["ManySplits", "all_splits"]


@dataclass(frozen=True, slots=True)
class ManySplits(Listing):
    """Every hitter's split in every situation.

    Attributes
    ----------
    data
        One row a hitter and situation with exposure on both sides: ``situation``, ``label`` (the hitter), the
        columns of ``SplitFit.data``, and ``league_rate`` and ``others_rate`` (observed inside: everybody's,
        and everybody's but his). Where the comparison is ``rest`` or ``league`` there is also ``p_value``:
        Fisher's exact test of his record inside against his own rest, or against everybody else's inside.
        It is two-sided, the tail on the side of the record doubled, and knows no law.
    situations
        One row a situation: ``situation``, ``hitters`` (with both), ``exposure`` inside, ``league_rate``,
        ``league_ratio``, ``league_spread`` (posterior mean and standard deviation of the differences, log
        odds).
    left_out
        Situations that no hitter has both inside and outside.
    event, per, level
        As asked.
    against
        The comparison that was asked for, a key of ``hitlab.counting.looks.AGAINST``.
    so_far
        What stands out among everything in the log when these splits had been added to it.
    notes
        What a reader of the counts has to know.
    """

    data: pd.DataFrame
    situations: pd.DataFrame
    left_out: tuple[str, ...]
    event: str
    per: str
    level: float
    against: Against
    so_far: Called
    notes: tuple[str, ...]

    def by_chance(self, bound: float = 0.90) -> Called:
        """Call the splits of this call whose chance, in the comparison asked for, reaches a bound either way.

        ``false_share`` is the mean of one minus the chance among them.
        """
        return call_by_chance(self.data, f"chance_above_{self.against}", bound)

    def by_p(self, rate: float = 0.10) -> Called:
        """Call the splits of this call by the Benjamini-Hochberg rule, at most this share of them false.

        Raises
        ------
        CountsError
            Where the comparison is ``usual``, which has no test without a law.
        """
        if self.against == "usual":
            raise CountsError(
                "splits beyond what the situation does to everybody have no p-value; ask all_splits for "
                "against='rest' or 'league', or call by chance"
            )
        beside = "rest_rate" if self.against == "rest" else "others_rate"
        beyond = self.data["inside_rate"] - self.data[beside]
        called = call_by_p(self.data.assign(beyond=beyond), "p_value", rate, above="beyond")
        return replace(called, data=called.data.drop(columns="beyond"))

    @property
    def explanation(self) -> str:
        """What was looked at and what stands out; against the rest, how much the situation does."""
        called = self.by_chance()
        rate, number = rate_words(self.event, self.per), len(self.situations)
        text = f"{capitalised(rate)} in {number} {'situation' if number == 1 else 'situations'}, "
        text += f"{AGAINST[self.against]}: {called.explanation}."
        if self.against == "rest":
            beyond, alone = call_by_chance(self.data, "chance_above_usual"), self.by_p()
            text += (
                " These chances take in what a situation does to everybody, told by all hitters together; "
                f'beyond that {len(beyond.data):,} stand out (against="usual"), and by each own record '
                f"alone, at most {percent(alone.false_share)} of them false, {len(alone.data):,} (by_p())."
            )
        if self.so_far.looked_at > called.looked_at:
            text += f" With what was looked at before: {self.so_far.explanation}."
        if self.left_out:
            text += f" Nobody has {self.per} both inside and outside: {', '.join(self.left_out)}."
        return text

    @property
    def title(self) -> str:
        """The sentences of ``words``."""
        return self.explanation

    def table_for_people(self) -> pd.DataFrame:
        """Return the first of the splits that stand out by their chance."""
        columns = ["label", "situation", "inside_events", "inside_exposure", "inside_rate", "rest_rate"]
        return self.by_chance().data[[*columns, "shrunk_rate", "direction", "chance"]].head(20).round(3)


def all_splits(
    pitches: Any,
    situations: Sequence[Asked] | Mapping[str, Asked] | None = None,
    event: str = "hard",
    per: str = "swings",
    *,
    against: Against = "usual",
    by: str = "hitter",
    level: float = DEFAULT_LEVEL,
    looks: Looks | None = None,
    conventions: Conventions | None = None,
) -> ManySplits:
    """Compare every hitter in every situation with his own rest and with the league.

    Parameters
    ----------
    pitches
        A pitch table: a path to a file saved with ``write_checked`` or to a folder of such files, a
        ``Reading``, or any frame, in memory or on an engine, which then sums all situations in one pass.
    situations
        Terms (``"pitch_kind=breaking"``), several that all have to be true (``("strikes=2", "balls=3")``),
        what ``situation`` returns, or an expression under a name of your own in a mapping. By default
        ``usual_situations`` of the table's columns. An expression may use what ``with_previous`` adds.
    event, per
        The rate.
    against
        What a split is called against: ``usual`` (his difference beyond what the situation does to
        everybody), ``rest`` (his own rest) or ``league`` (the average hitter in that situation). All three
        chances are in the table; this one counts as looked at.
    by
        Column that tells the hitters apart.
    level
        Level of the intervals.
    looks
        A log from earlier calls; these splits are added to it.
    conventions
        How the debatable cases are counted.

    Returns
    -------
    ManySplits
        One row a hitter and situation: record inside and outside, the difference with its interval, and the
        three chances; what stands out of all that was looked at.

    Raises
    ------
    ClaimError
        Where a situation or ``against`` is not understood, two situations have one name, or nobody has any of
        them.
    MissingColumnsError
        Where the table lacks a column.
    CountsError
        Where the event is not a part of its denominator, or is not counted pitch by pitch.
    ReadingError
        Where it is no pitch table.

    Examples
    --------
    >>> import pandas as pd
    >>> import hitlab
    >>> rows = [("Runa Kvalbakk", "slider", "whiff", 30), ("Runa Kvalbakk", "slider", "foul", 30),
    ...         ("Runa Kvalbakk", "sinker", "whiff", 20), ("Runa Kvalbakk", "sinker", "foul", 100),
    ...         ("Nils Haxditch", "slider", "whiff", 20), ("Nils Haxditch", "slider", "foul", 40),
    ...         ("Nils Haxditch", "sinker", "whiff", 25), ("Nils Haxditch", "sinker", "foul", 95)]
    >>> pitches = pd.DataFrame(
    ...     [row[:3] for row in rows for _ in range(row[3])], columns=["hitter", "pitch_kind", "outcome"])
    >>> splits = hitlab.all_splits(pitches, ["pitch_kind=slider"], "whiffs", "swings", against="rest")
    >>> splits.table()[["hitter", "inside_rate", "rest_rate", "chance_above_rest"]].round(2)
              hitter  inside_rate  rest_rate  chance_above_rest
    0  Nils Haxditch         0.33       0.21               0.98
    1  Runa Kvalbakk         0.50       0.17               1.00
    """
    if against not in AGAINST:
        raise ClaimError(f"against={against!r}: accepted are {', '.join(AGAINST)}")
    frame, _ = frame_of(pitches)
    doubts = doubts_of(pitches)
    asked = asked_situations(frame, situations, doubts, conventions or Conventions())
    whole = tally(frame.to_native(), by, conventions=conventions, doubts=doubts)
    pitched = Pitched.of(frame, whole, event, per)
    parts, beside = pitched.splits(asked)
    tables = {name: split_table(pitched.whole, part, event, per) for name, part in parts.items()}
    some = {name: table for name, table in tables.items() if len(table)}
    left_out = tuple(name for name in tables if name not in some)
    if not some:
        raise ClaimError(f"nobody has {per} both inside and outside any of: {', '.join(left_out)}")
    laws = fit_laws([four_counts(table) for table in some.values()], level, beside=beside)
    label = dict(zip(whole.data[whole.by[0]], whole.labels, strict=True))
    rows, about = [], []
    for (name, table), law in zip(some.items(), laws, strict=True):
        data = _compared(with_law(table, law), against)
        data.insert(0, "situation", name)
        data.insert(1, "label", [label[who] for who in data[whole.by[0]]])
        rows.append(data)
        events, exposure = int(data["inside_events"].sum()), int(data["inside_exposure"].sum())
        about.append((name, len(data), exposure, events / exposure, law.mean, law.spread))
    splits = pd.concat(rows, ignore_index=True)
    looks = Looks() if looks is None else looks
    looks.add(
        pd.DataFrame(
            {
                "hitter": splits[whole.by[0]],
                "situation": splits["situation"],
                "event": event,
                "per": per,
                "against": against,
                "chance_above": splits[f"chance_above_{against}"],
                "p_value": np.nan if against == "usual" else splits["p_value"],
            }
        )
    )
    heads = ["situation", "hitters", "exposure", "league_rate", "league_ratio", "league_spread"]
    table = pd.DataFrame(about, columns=heads)
    return ManySplits(
        splits, table, left_out, event, per, level, against, looks.by_chance(), whole.notes_on(event, per)
    )


def _compared(data: pd.DataFrame, against: Against) -> pd.DataFrame:
    """Add everybody's rate inside, and p-values where the comparison has a test."""
    k, n = data["inside_events"].to_numpy(), data["inside_exposure"].to_numpy()
    others_k, others_n = k.sum() - k, n.sum() - n
    others = np.divide(others_k, others_n, out=np.full(len(k), np.nan), where=others_n > 0)
    data = data.assign(league_rate=k.sum() / n.sum(), others_rate=others)
    if against == "rest":
        data["p_value"] = exact_p(k, n, data["rest_events"].to_numpy(), data["rest_exposure"].to_numpy())
    elif against == "league":
        data["p_value"] = exact_p(k, n, others_k, others_n)
    return data
