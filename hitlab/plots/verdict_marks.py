"""How an answer looks on a card: a sign with the verdict in it, of another shape and place for each answer.

Colour alone carries nothing: what holds points to the right and stands there, what does not points to the
left, what is open is hollow and points both ways, what was counted has square corners and a second frame,
and what cannot be told is a broken outline.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hitlab.claims.verdicts import Answer
from hitlab.plots import look

__all__ = ["SIGNS", "Sign", "outline_of"]

Shape = Literal["right", "left", "both", "framed", "plain"]


@dataclass(frozen=True, slots=True)
class Sign:
    """A verdict's look.

    Attributes
    ----------
    color
        Of the sign, and of whom the picture is about.
    shape
        Where it points, or whether it has a frame.
    filled, dashed
        Whether it is filled, and whether its outline is broken.
    """

    color: str
    shape: Shape
    filled: bool = True
    dashed: bool = False


SIGNS: dict[Answer, Sign] = {
    "holds": Sign(look.ACCENTS[1], "right"),
    "does not hold": Sign(look.ACCENTS[0], "left"),
    "open": Sign(look.ACCENTS[2], "both", filled=False),
    "record holds": Sign(look.INK, "framed"),
    "record does not hold": Sign(look.INK, "framed", filled=False),
    "record open": Sign(look.INK, "framed", filled=False, dashed=True),
    "cannot be told": Sign(look.INK, "plain", filled=False, dashed=True),
}
"""The look of every answer. ``tests/test_verdict_marks.py`` holds that no two can be taken for each other."""

_POINT = 0.42  # how far a sign's point reaches out, in its heights


def outline_of(
    shape: Shape, left: float, top: float, width: float, height: float
) -> list[tuple[float, float]]:
    """Return the corners of a sign, its points within the width."""
    reach = _POINT * height
    middle, right, low = top + height / 2, left + width, top + height
    a, b = left + reach * (shape in ("left", "both")), right - reach * (shape in ("right", "both"))
    corners = [(a, top), (b, top)]
    corners += [(right, middle)] if shape in ("right", "both") else []
    corners += [(b, low), (a, low)]
    return corners + ([(left, middle)] if shape in ("left", "both") else [])
