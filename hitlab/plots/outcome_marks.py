"""One colour, hatching and shape for each thing that a swing may become, the same on every picture.

The colours differ in lightness as well as in hue, so that they stay apart under colour blindness and in
grey; the two that add nothing to the count of balls in play are hatched. A line that crosses them has to be
drawn twice, dark on a light border (:func:`hitlab.plots.look.cased`): no one colour stands out from all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hitlab.physics.one_swing import OUTCOME_WORDS
from hitlab.plots import look

__all__ = ["OUTCOME_LOOKS", "OutcomeLook"]


@dataclass(frozen=True, slots=True)
class OutcomeLook:
    """How an outcome is drawn.

    Attributes
    ----------
    word
        Its name.
    fill
        Colour of its area or mark.
    ink
        Colour of words on that area.
    hatch
        Hatching of its area; empty for none.
    mark
        Shape of a ball.
    """

    word: str
    fill: str
    ink: str
    hatch: str
    mark: Any


OUTCOME_LOOKS = tuple(
    OutcomeLook(word, *how)
    for word, how in zip(
        OUTCOME_WORDS,
        (
            ("#F4F2EC", look.INK, "///", "x"),
            ("#D8CCB0", look.INK, "...", "|"),
            ("#C08A3E", look.INK, "", "v"),
            ("#0B6478", look.BACKGROUND, "", "D"),
            ("#86BDC4", look.INK, "", "o"),
            ("#3F1568", look.BACKGROUND, "", "*"),
        ),
        strict=True,
    )
)
"""In the order of :data:`hitlab.physics.one_swing.OUTCOME_WORDS`."""
