"""The situations that a hitter's splits are usually asked for."""

from __future__ import annotations

from collections.abc import Iterable

from hitlab.counting.places import PLACES, Borders, place_expression
from hitlab.counting.situations import NAMED, Situation, situation
from hitlab.pitches.schema import FAMILIES

__all__ = ["usual_situations"]

_KINDS = ("four-seam fastball", "sinker", "cutter", "slider", "curveball", "changeup", "splitter")
_NAMES = (
    *("own side", "other side", "first pitch", "ahead in the count", "behind in the count", "full count"),
    *("runner on second or third", "after a whiff"),
)


_WITHIN_OTHERS = {
    *(f"pitch_kind={kind}" for kind in _KINDS),
    *("other side", "full count", "up and in", "up and away", "down and in", "down and away"),
}
"""What lies within another, or is all that another leaves."""


def usual_situations(
    columns: Iterable[str], borders: Borders | None = None, *, widest: bool = False
) -> list[Situation]:
    """List the situations that a hitter's splits are usually asked for, as far as the columns tell them.

    Up to 30: kinds of pitch (3 families, 7 kinds), place (9), side against hand (2), count (5), bases (2),
    speed (1), and after a whiff.

    Parameters
    ----------
    columns
        Names of the pitch table's columns; ``previous_whiff`` stands for those that tell what came before.
    borders
        Where "up", "down", "in", "away" and "over the middle" end, as for ``fastball_readiness``.
    widest
        Leave out what lies within another (sliders are breaking balls), or is all that another leaves.

    Returns
    -------
    list of Situation
        Those whose columns are all there.

    Examples
    --------
    >>> from hitlab.splits import usual_situations
    >>> for one in usual_situations(["balls", "strikes", "bases"]):
    ...     print(one.words)
    with two strikes
    with the bases empty
    on the first pitch
    ahead in the count
    behind in the count
    with a full count
    with a runner on second or third
    """
    there = set(columns)
    found = [
        *(f"pitch_kind={kind}" for kind in (*FAMILIES, *_KINDS)),
        "strikes=2",
        "bases=empty",
        "speed_mph>=95",
        *_NAMES,
    ]
    left_out = _WITHIN_OTHERS if widest else set()
    usual = [situation(term) for term in found if term not in left_out]
    usual += [_place(name, borders) for name in PLACES if name not in left_out]
    return [one for one in usual if there.issuperset(one.columns)]


def _place(name: str, borders: Borders | None) -> Situation:
    """Return a part of the zone with the caller's borders."""
    known = NAMED[name]
    return Situation(
        lambda columns: place_expression(name, columns, borders), known.words, known.columns, known.terms
    )
