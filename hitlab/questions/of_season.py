"""Everybody's rates in one season of a table of several, as its claims rest on them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hitlab.counting.facts import Conventions
from hitlab.estimates.shrinkage import Fit
from hitlab.pitches.opening import refuse_counts
from hitlab.questions.fitted import Fitted
from hitlab.questions.question import History, Question, Subject

__all__ = ["season_fit"]


def season_fit(
    pitches: Any,
    season: str | int,
    event: str = "hard",
    per: str = "swings",
    *,
    history: History = "ids",
    subject: Subject = "hitter",
    when: str | Sequence[str] = (),
    since: str = "",
    until: str = "",
    conventions: Conventions | None = None,
) -> Fit:
    """Shrink everybody's rates in one season, with those before it as history: for lists and ranks.

    Parameters
    ----------
    pitches
        A pitch table of several seasons: a folder of saved tables, a ``Reading``, a frame.
    season, history
        Which season, or ``"career"`` for all as one record; and how everybody is found in other seasons, as
        for :func:`hitlab.check_above`.
    event, per
        The rate: two counts, the first within the second.
    subject
        ``hitter``, ``pitcher`` or ``club``.
    when, since, until
        A term of a situation or several; first and last day.
    conventions
        How the debatable cases are counted.

    Returns
    -------
    Fit
        As :func:`hitlab.shrink` gives it. How alike attempts of one game are, and what hitters faced, is
        allowed for where that matters, as in the claims.

    Raises
    ------
    ClaimError
        Where the season is not there, or no id tells who is who in it and before, and nobody said that names
        do.
    HitlabError
        Where the rate cannot be counted, or counts stand in the place of pitches.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from hitlab.questions import season_fit
    >>> swings = pd.DataFrame({"hitter_id": ["h1", "h2"] * 2, "hitter": ["Kvalbakk", "Haxditch"] * 2,
    ...                        "date": pd.to_datetime(["2030-05-01"] * 2 + ["2031-05-01"] * 2)})
    >>> pitches = pd.concat([swings.assign(outcome=what) for what in ["whiff"] + ["foul"] * 4])
    >>> fit = season_fit(pitches, 2031, "whiffs", "swings")
    >>> hitlab.ranks(fit).data[["hitter", "whiffs", "swings"]]
         hitter  whiffs  swings
    0  Kvalbakk       1       5
    1  Haxditch       1       5
    """
    refuse_counts(pitches)
    question = Question(
        kind="list",
        event=event,
        per=per,
        subject=subject,
        season=str(season),
        history=history,
        when=(when,) if isinstance(when, str) else tuple(when),
        since=since,
        until=until,
        conventions=conventions or Conventions(),
    )
    return Fitted.asked(question, pitches).fit.with_intervals()
