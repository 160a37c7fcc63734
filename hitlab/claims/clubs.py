"""Which hitters play for a club, also where the table tells hitters by their names alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from hitlab.claims.setting import Setting
from hitlab.claims.source import Source
from hitlab.counting.counts import Counts
from hitlab.over_time.stretches import hitter_key
from hitlab.showing import shown_name

__all__ = ["of_club"]


def of_club(source: Source, counts: Counts) -> tuple[NDArray[np.bool_], str]:
    """Tell whose club is the one that is asked for.

    Parameters
    ----------
    source
        The table, with a question that names a club.
    counts
        One row a hitter.

    Returns
    -------
    tuple
        For each row whether he plays for it, and the club's name as it is shown.

    Raises
    ------
    ClaimError
        Where the table has no column club.
    UnknownHitterError
        Where no club, or more than one, is called so.
    """
    if "club" not in counts.data.columns and "club" in source.columns:
        key = hitter_key(counts)
        by_club = source.counts(by=["club"]).data.dropna(subset=["club"])
        found = by_club.groupby(key)["club"].agg(lambda clubs: " and ".join(sorted(map(str, clubs))))
        counts = replace(counts, data=counts.data.assign(club=counts.data[key].map(found)))
    setting = Setting(source, counts, totals=True)
    chosen = np.zeros(len(counts.data), dtype=bool)
    chosen[setting.members] = True
    return chosen, shown_name(setting.club)
