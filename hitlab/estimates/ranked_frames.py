"""From a pitch frame to a ranked table in one call: frame in, frame out."""

from __future__ import annotations

from collections.abc import Sequence
from os import PathLike
from typing import Any

import narwhals as nw
import pandas as pd
import pyarrow as pa

from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import Pitches
from hitlab.counting.rates import rate
from hitlab.counting.tallies import tally
from hitlab.errors import CountsError
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.ranking import usual_minimum, who_is_ranked
from hitlab.estimates.shrinkage import Fit, shrink
from hitlab.estimates.top_places import chance_of_top
from hitlab.pitches.opening import frame_of

__all__ = ["rank_table"]


def rank_table(
    pitches: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    by: str | Sequence[str] = "hitter",
    where: Pitches | None = None,
    minimum: int | None = None,
    conventions: Conventions | None = None,
    prior: LeagueLaw | None = None,
) -> Any:
    """Count, shrink and rank in one call: a pitch frame in, a frame of the same kind out.

    It is ``tally``, ``shrink`` and ``ranks`` one after the other; their results tell more: what was assumed,
    how far true rates differ, how sure each rank is.

    Parameters
    ----------
    pitches
        What ``tally`` takes: a frame with one row a pitch, a ``Reading``, or a path to a file saved with
        ``write_checked``. Or a ``Fit``, such as that of one season of several
        (:func:`hitlab.questions.season_fit`); it has its rate, so that only ``minimum`` goes with it.
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    by
        Whose rates: ``"hitter"``, ``"pitcher"``, or any columns.
    where
        Only these pitches are counted: a situation, its text such as ``"strikes=2"``, or another form that
        ``tally`` takes.
    minimum
        Fewest exposures to be listed; a quarter of the largest by default, rounded down to tens from 100 up.
        All others still tell how far true rates differ.
    conventions
        How the debatable cases are counted.
    prior
        What is known of the league's true rates, from ``shrink(league).law``, where the table is a part of
        the league.

    Returns
    -------
    frame
        Of the caller's own kind: pandas, Polars (also for a lazy one) or PyArrow. A path or another lazy
        frame (DuckDB, Dask, Spark) gives pandas, and so does a fit. One row a hitter with at least the
        minimum, the highest shrunk rate first:

        - names and ids (``hitter``, ``hitter_id``, ``club``, as far as they are there),
        - the two counts, under their names,
        - ``rate``: observed, 0 to 1,
        - ``low``, ``high``: 90 % posterior interval of the true rate,
        - ``shrunk``: the true rate's posterior mean,
        - ``own_weight``: the share of the own record in it, 0 to 1,
        - ``chance_best``: the chance to have the highest true rate of those ranked,
        - ``rank``: place by ``shrunk``, 1 for the highest; equal ones share the better place.

        Who has more than a fifth of unknown hardness among the contact stands below without estimates and
        without a rank; ``low`` and ``high`` are then those of ``rate``, which take in all that the unknown
        contact may have been.

    Raises
    ------
    ReadingError, MissingColumnsError
        As in ``tally``.
    CountsError
        Where the event does not lie within the denominator, or ``minimum`` is no whole number from 0 up.
    ClaimError
        Where nobody has the minimum, or too much contact is of unknown hardness to rank anybody.

    Examples
    --------
    >>> from hitlab import demo_season, rank_table
    >>> table = rank_table(demo_season(), "contact", "swings", where="strikes=2")
    >>> table[["hitter", "contact", "swings", "rank"]].head(3)
                     hitter  contact  swings  rank
    0         Aiko Kanagane      160     195     1
    1      Alenka Larkditch      138     169     2
    2  Clementine Abaliches      133     163     3
    """
    if minimum is not None and (isinstance(minimum, bool) or minimum < 0 or int(minimum) != minimum):
        raise CountsError(f"minimum={minimum!r}: give a whole number, 0 or more")
    if isinstance(pitches, Fit):
        if where is not None or conventions is not None or prior is not None or by != "hitter":
            raise CountsError("by=, where=, conventions= and prior= choose what is fitted; here it is")
        if (event, per) not in (("hard", "swings"), (pitches.event, pitches.per)):
            raise CountsError(f"the fit is of {pitches.event} per {pitches.per}, not of {event} per {per}")
        fit = pitches
    else:
        fit = shrink(tally(pitches, by, where=where, conventions=conventions), event, per, prior=prior)
    counts, event, per = fit.counts, fit.event, fit.per
    least = usual_minimum(fit.exposure) if minimum is None else int(minimum)
    ranked, bounded = who_is_ranked(fit, least)

    who = list(counts.identity.columns)
    told = [*who, event, per, "rate", "low", "high", "shrunk", "own_weight"]
    data = fit.data.loc[ranked, told]
    data["chance_best"] = chance_of_top(fit.posterior.only(ranked), 1)
    data["rank"] = data["shrunk"].rank(method="min", ascending=False).astype("Int64")
    data = data.sort_values("shrunk", ascending=False, kind="stable")
    if len(bounded):
        observed = rate(counts, event, per, level=fit.level).data.loc[bounded]
        below = observed.sort_values("least", ascending=False, kind="stable")[
            [*who, event, per, "low", "high"]
        ]
        data = pd.concat([data, below])
    return _like(pitches, data.reset_index(drop=True))


def _like(pitches: Any, table: pd.DataFrame) -> Any:
    """Return a table as the kind of frame that the pitches came in."""
    if isinstance(pitches, str | PathLike | Fit):
        return table
    frame, _ = frame_of(pitches)
    kind = frame.implementation
    if not (kind.is_polars() or kind.is_pyarrow()):
        return table
    held = pa.Table.from_pandas(table, preserve_index=False).replace_schema_metadata(None)
    return nw.from_arrow(held, backend=kind).to_native()
