"""Parts of the strike zone: where "up", "in" and "over the middle" begin and end."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import narwhals as nw

__all__ = ["HALF_PLATE_IN", "PLACES", "Borders", "place_expression"]

HALF_PLATE_IN = 8.5
"""Official Baseball Rules 2.02: home base is 17 inches wide (from memory)."""

_BALL_RADIUS_IN = 1.45  # 3.01: 9 to 9 1/4 inches around (from memory); a strike touches the zone
_BIG = 1e9  # both bounds are asked for: NaN is larger than any number on some engines


@dataclass(frozen=True, slots=True)
class Borders:
    """Where the parts of the zone end, relative to the hitter (common practice, no source).

    Attributes
    ----------
    in_from_in
        "In" begins here: inches from the middle of the plate toward the hitter. The default is the inner
        third.
    up_from
        "Up" begins here: share of the way from the bottom to the top of the hitter's zone.
    beyond_in
        How far outside the zone a pitch still belongs to "up and in", in inches.
    middle_half_width_in, middle_low, middle_high
        "Over the middle": no farther from the middle of the plate, and between these shares of the zone's
        height.
    bottom_in, top_in
        The zone where the table does not give the hitter's own: from the hollow under the kneecap to the
        middle of the chest of a hitter of common size.
    """

    in_from_in: float = HALF_PLATE_IN / 3
    up_from: float = 2 / 3
    beyond_in: float = 4.0
    middle_half_width_in: float = 2 * HALF_PLATE_IN / 3
    middle_low: float = 0.25
    middle_high: float = 0.75
    bottom_in: float = 19.0
    top_in: float = 42.0


def _between(value: nw.Expr, low: float, high: float) -> nw.Expr:
    """Ranges have both ends: a missing value is in none."""
    return (value >= low) & (value <= high)


def _inner(x: nw.Expr, share: nw.Expr, b: Borders) -> nw.Expr:
    return _between(x, b.in_from_in, _BIG)


def _outer(x: nw.Expr, share: nw.Expr, b: Borders) -> nw.Expr:
    return _between(x, -_BIG, -b.in_from_in)


def _up(x: nw.Expr, share: nw.Expr, b: Borders) -> nw.Expr:
    return _between(share, b.up_from, _BIG)


def _down(x: nw.Expr, share: nw.Expr, b: Borders) -> nw.Expr:
    return _between(share, -_BIG, 1 - b.up_from)


def _middle(x: nw.Expr, share: nw.Expr, b: Borders) -> nw.Expr:
    across = _between(x, -b.middle_half_width_in, b.middle_half_width_in)
    return across & _between(share, b.middle_low, b.middle_high)


Part = Callable[[nw.Expr, nw.Expr, Borders], nw.Expr]

_HEIGHT, _SIDE = ("height_in",), ("inside_in",)
_BOTH = (*_SIDE, *_HEIGHT)

PLACES: dict[str, tuple[Part, tuple[str, ...]]] = {
    "up": (_up, _HEIGHT),
    "down": (_down, _HEIGHT),
    "inside": (_inner, _SIDE),
    "away": (_outer, _SIDE),
    "up and in": (lambda x, s, b: _up(x, s, b) & _inner(x, s, b), _BOTH),
    "up and away": (lambda x, s, b: _up(x, s, b) & _outer(x, s, b), _BOTH),
    "down and in": (lambda x, s, b: _down(x, s, b) & _inner(x, s, b), _BOTH),
    "down and away": (lambda x, s, b: _down(x, s, b) & _outer(x, s, b), _BOTH),
    "over the middle": (_middle, _BOTH),
}
"""Parts of the zone by name: the test, and the columns that it needs."""


def place_expression(place: str, columns: frozenset[str], borders: Borders | None = None) -> nw.Expr:
    """Return the test of whether a pitch is in a part of the zone.

    Parameters
    ----------
    place
        A key of ``PLACES``, or ``in the zone`` or ``outside the zone``.
    columns
        The table's: the hitter's own zone is taken where the table has it.
    borders
        Where the parts end.
    """
    b = borders or Borders()
    x, y = nw.col("inside_in"), nw.col("height_in")
    own = {"zone_bottom_in", "zone_top_in"} <= columns
    # The hitter's own zone where he has one on this row, else that of a hitter of common size.
    bottom = nw.col("zone_bottom_in").fill_null(b.bottom_in) if own else nw.lit(b.bottom_in)
    top = nw.col("zone_top_in").fill_null(b.top_in) if own else nw.lit(b.top_in)
    if place in PLACES:
        return PLACES[place][0](x, (y - bottom) / (top - bottom), b)
    reach = HALF_PLATE_IN + _BALL_RADIUS_IN
    across = _between(x, -reach, reach)
    high = _between(y - bottom, -_BALL_RADIUS_IN, _BIG) & _between(y - top, -_BIG, _BALL_RADIUS_IN)
    if place == "in the zone":
        return across & high
    told = _between(x, -_BIG, _BIG) & _between(y, -_BIG, _BIG)
    return told & ~(across & high)
