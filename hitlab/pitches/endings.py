"""A result belongs to the last pitch of its plate appearance; many tables repeat it on every pitch."""

from __future__ import annotations

import numpy as np
import pandas as pd

from hitlab.pitches.coded import Coded
from hitlab.pitches.counting import KeyOrder

__all__ = ["drop_early", "drop_repeated"]


def drop_repeated(frame: pd.DataFrame, order: KeyOrder | None) -> list[str]:
    """Take a result off the pitches before the last one where the last pitch has the same.

    Needs game, plate appearance and pitch; without them nothing is changed. Changes the frame.

    Parameters
    ----------
    frame
        The rows.
    order
        Their order by the key, where they have one.

    Returns
    -------
    list of str
        A sentence about what was done; none where nothing was.
    """
    places, same = _early(frame, order)
    places = places[same]
    if not len(places):
        return []
    frame.loc[frame.index[places], "result"] = pd.NA
    return [
        f"The result of a plate appearance is repeated on {len(places):,} pitches before its last; it is "
        "kept on the last one."
    ]


def drop_early(frame: pd.DataFrame, order: KeyOrder | None) -> list[str]:
    """Take off what other results stand before a last pitch; each of them contradicts the table.

    Parameters
    ----------
    frame, order
        As for :func:`drop_repeated`.

    Returns
    -------
    list of str
        A sentence about what was done; none where nothing was.
    """
    places, _ = _early(frame, order)
    if not len(places):
        return []
    frame.loc[frame.index[places], "result"] = pd.NA
    return [
        f"{len(places):,} results stand on a pitch before the last of the plate appearance, which has "
        "another or none; they are not counted."
    ]


def _early(frame: pd.DataFrame, order: KeyOrder | None) -> tuple[np.ndarray, np.ndarray]:
    """Return the places of results before a last pitch, and whether the last pitch has the same."""
    if order is None or "result" not in frame:
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=bool)
    result = Coded(frame, "result", order)
    early = ~result.among(("",)) & ~order.last
    last = result.codes[order.last]  # one a plate appearance, in their order
    return order.places[early], (result.codes == last[order.appearance])[early]
