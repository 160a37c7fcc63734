"""Which effects act in an invented season, and how strongly: one switch each."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from hitlab.errors import ClaimError

__all__ = ["Effects"]

_BOUNDED = {"better_play_more": 1.0, "unmeasured": 0.9}
_MAY_BE_NEGATIVE = ("whiff_response",)


@dataclass(frozen=True, slots=True)
class Effects:
    """Sizes of the effects in an invented season; 0 switches one off.

    Where nothing else is said the size multiplies the built-in spread: 1 is the default league, 2 a
    league with twice the spread. All the sizes are invented.

    Attributes
    ----------
    choice_of_swings
        Hitters differ in swinging at strikes and at balls.
    whiffs
        Hitters differ in missing when they swing.
    fouls
        Hitters differ in the share of their contact that goes foul.
    force_and_aim
        Hitters differ in top exit speed, in meeting the ball squarely and in lift.
    pitch_kinds
        Hitters differ in handling breaking and offspeed pitches.
    locations
        Hitters differ in handling pitches inside and up.
    readiness
        Hitters differ in being on time for fastballs.
    pitchers
        Pitchers differ: how hard they are to hit, speed, scatter of places, kinds thrown.
    better_play_more
        Correlation between a hitter's worth and his manager's liking, from 0 to 1.
    day_form
        Standard deviation of a hitter's form from game to game, on the logit scale of a whiff; a
        unit of form is also worth 8 mph off the bat.
    whiff_response
        Added to the logit of a whiff when the last swing of the same plate appearance was a
        whiff; negative values mean that hitters adjust.
    platoon
        Same-handed pitchers are harder to hit, and locations follow the hands.
    count
        Pitchers and hitters act by the count: more fastballs when behind, wider with two strikes,
        swings that protect.
    unmeasured
        Share of balls in play without exit speed and launch angle, from 0 to 0.9.

    Raises
    ------
    ClaimError
        For a size that is negative, not finite, or above its bound.
    """

    choice_of_swings: float = 1.0
    whiffs: float = 1.0
    fouls: float = 1.0
    force_and_aim: float = 1.0
    pitch_kinds: float = 1.0
    locations: float = 1.0
    readiness: float = 1.0
    pitchers: float = 1.0
    better_play_more: float = 0.5
    day_form: float = 0.1
    whiff_response: float = 0.15
    platoon: float = 1.0
    count: float = 1.0
    unmeasured: float = 0.01

    def __post_init__(self) -> None:
        for field in fields(self):
            size = getattr(self, field.name)
            lowest = -5.0 if field.name in _MAY_BE_NEGATIVE else 0.0
            highest = _BOUNDED.get(field.name, 5.0)
            if not (isinstance(size, int | float) and math.isfinite(size) and lowest <= size <= highest):
                raise ClaimError(
                    f"Effects({field.name}={size!r}): a number from {lowest:g} to {highest:g} is "
                    f"accepted. Use 0 to switch the effect off; the default is {field.default!r}."
                )

    @classmethod
    def none(cls) -> Effects:
        """All effects off: a null league in which every hitter has the same true rates."""
        return cls(**dict.fromkeys((field.name for field in fields(cls)), 0.0))
