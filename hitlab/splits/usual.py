"""The situations that a hitter's splits are asked for: the usual ones, or those that somebody names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import narwhals as nw

from hitlab.counting.facts import Conventions
from hitlab.counting.places import PLACES, Borders, place_expression
from hitlab.counting.situations import NAMED, Situation, situation
from hitlab.errors import ClaimError
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.schema import FAMILIES, KEY

__all__ = ["Asked", "asked_situations", "usual_situations"]

Asked = Situation | str | Sequence[str] | nw.Expr
"""A situation as it is asked for: its terms, what ``situation`` returns, or an expression."""

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


def asked_situations(
    frame: Any,
    situations: Sequence[Asked] | Mapping[str, Asked] | None,
    doubts: Doubts,
    conventions: Conventions,
) -> dict[str, nw.Expr]:
    """Give every situation its name and its expression.

    Parameters
    ----------
    frame
        The narwhals frame that they are asked of.
    situations
        As for :func:`hitlab.all_splits`; ``None`` for the usual ones of the table's columns.
    doubts, conventions
        A situation that rests on a column in doubt is refused; of the usual ones it is left out.

    Raises
    ------
    ClaimError
        Where none is given, one is not understood, or two have one name.
    ReadingError
        Where a column is in doubt.
    """
    columns, most = set(frame.collect_schema().names()), conventions.most_contradicted
    if situations is None:
        previous = {"previous_whiff"} if {*KEY, "outcome"} <= columns else set()
        situations = usual_situations(
            {name for name in columns | previous if not doubts.reason([name], most)}
        )
    if isinstance(situations, str):
        raise ClaimError(f"situations is a list of situations; write [{situations!r}]")
    named: dict[str, nw.Expr] = {}
    pairs = situations.items() if isinstance(situations, Mapping) else ((None, one) for one in situations)
    for name, one in pairs:
        if isinstance(one, nw.Expr):
            if name is None:
                raise ClaimError("an expression needs a name: give {name: expression}")
            named[name] = one
            continue
        understood = (
            one if isinstance(one, Situation) else situation(*([one] if isinstance(one, str) else one))
        )
        words = name or understood.words
        doubts.refuse(understood.columns, most, f"a split {words}")
        if words in named:
            raise ClaimError(f"two situations are called {words!r}; give each its own name in a mapping")
        named[words] = understood.on(columns)
    if not named:
        raise ClaimError("no situation is given; name at least one, such as pitch_kind=breaking")
    return named
