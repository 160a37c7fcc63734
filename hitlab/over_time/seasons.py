"""Seasons of one table: what tells them, and whether a rate moved between them by more than luck."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd

from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import per_words
from hitlab.showing import shown_name
from hitlab.wording import listed, percent, rate_text

__all__ = ["column_of_seasons", "each_season", "moved", "seasons_of", "span_words"]

_MORE_THAN_LUCK = 0.05  # so rarely would luck alone move a rate as far (common practice)
_DRAWS, _SEED = 2_000, 7


def column_of_seasons(columns: frozenset[str]) -> str:
    """Return the column that tells the seasons; empty where none does."""
    return next((name for name in ("season", "date") if name in columns), "")


def seasons_of(values: pd.Series[Any]) -> pd.Series[Any]:
    """Return the season of each value of :func:`column_of_seasons`; empty where it is not told."""
    if values.name == "season":
        return values.astype(object).where(values.notna(), "").astype(str)
    years = pd.to_datetime(values).dt.year
    return years.astype("Int64").astype(object).where(years.notna(), "").astype(str)


def span_words(names: Sequence[str]) -> str:
    """Return seasons in words, by the first and the last of them."""
    ends = [shown_name(names[0]), shown_name(names[-1])]
    return ends[0] if len(names) == 1 else f"{ends[0]} {'and' if len(names) == 2 else 'to'} {ends[1]}"


def each_season(counts: Counts, column: str, event: str, per: str) -> pd.DataFrame:
    """Add up the events and the attempts of each subject in each season.

    Parameters
    ----------
    counts
        By subject and by ``column``, which tells the seasons.
    event, per
        The rate.

    Returns
    -------
    pandas.DataFrame
        The subject's key, ``season`` (empty where it is not told), ``events``, ``exposure`` (those measured).
    """
    both, keys = pair(counts, event, per), [counts.by[0], "season"]
    each = counts.data[keys[:1]].assign(
        season=seasons_of(counts.data[column]), events=both.events, exposure=both.measured_exposure
    )
    return each.groupby(keys, as_index=False)[["events", "exposure"]].sum()


def moved(each: pd.DataFrame, per: str, effect: float) -> tuple[str, ...]:
    """Say that one rate over several seasons is an average, and whether it moved by more than luck does.

    Parameters
    ----------
    each
        Of one subject, as :func:`each_season` gives it.
    per
        What the rate is of.
    effect
        How many times shorter the record counts, because attempts of one game are alike.

    Returns
    -------
    tuple of str
        Empty where there are not two seasons with attempts.

    Notes
    -----
    Given its events in all, and no change, the events of a season are drawn without replacement from all
    attempts; a chance of five in a hundred or less for so large a chi-square is taken for more than luck.
    """
    table = each[(each["exposure"] > 0) & (each["season"] != "")].sort_values("season")
    if len(table) < 2:
        return ()
    k, n = (np.rint(table[name].to_numpy() / effect).astype(np.int64) for name in ("events", "exposure"))
    k = np.minimum(k, n)
    if not n.all() or not 0 < k.sum() < n.sum():
        return ()
    expected = n * k.sum() / n.sum()
    drawn = np.random.default_rng(_SEED).multivariate_hypergeometric(
        n, int(k.sum()), _DRAWS, method="marginals"
    )
    apart = (((drawn - expected) ** 2) / expected).sum(axis=1)
    chance = (1 + (apart >= ((k - expected) ** 2 / expected).sum() * (1 - 1e-12)).sum()) / (_DRAWS + 1)
    noun = per_words(per, 2)
    over = span_words(list(table["season"]))
    average = f"over {over} this rate is an average, in which each season weighs by its {noun}"
    if chance > _MORE_THAN_LUCK:
        return (f"{average}; between seasons it moved no more than luck alone would",)
    told = zip(table["season"], table["events"] / table["exposure"], strict=True)
    rates = [f"{rate_text(each_rate)} in {shown_name(str(name))}" for name, each_rate in told]
    so = f"luck alone moves one so far with a chance of {percent(float(chance))}"
    return (f"{average}, and no season's own: it moved by more than luck, {listed(rates)} ({so})",)
