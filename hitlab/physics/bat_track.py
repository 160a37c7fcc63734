"""A swing plane, an attack angle and a bat speed from timed positions of the bat, with standard errors.

Cameras and sensors give where a point of the barrel is at some moments. A plane through these points, and a
smooth curve in time along each axis, say how steep the plane is, how fast the point moves and how steeply it
rises at contact. Both are least squares, and so are the standard errors: they take the errors of single
positions as independent and alike. Positions smoothed by a device before they come here are not independent;
the errors are then too small.

Use the points around contact only, some 30 to 60 ms: over a whole swing neither a plane nor a cubic holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    INCHES_PER_METRE,
    MPS_PER_MPH,
    FloatArray,
    QuantityError,
    broadcast,
    keeps_index,
    quantity,
    single,
    warn_of_seconds,
    warn_of_unit,
    whole,
)

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["SwingPath", "swing_path"]

_TO_MPH = 1000 / INCHES_PER_METRE / MPS_PER_MPH
"""Inches a millisecond in miles an hour."""
_METRES_IN = 4.0
"""A barrel moves so far in four milliseconds, and in a whole swing no farther than so many metres."""


@dataclass(frozen=True, slots=True)
class SwingPath:
    """What timed positions of a bat say of its swing at a moment, each with its standard error.

    Attributes
    ----------
    bat_mph, bat_error_mph
        Speed of the tracked point.
    attack_deg, attack_error_deg
        Attack angle: how steeply it rises.
    direction_deg, direction_error_deg
        Where it goes in the horizontal plane; 0 centre field, positive toward the pull side.
    plane_deg, plane_error_deg
        How steep the plane of the swing is; 0 lies flat, 90 stands upright.
    plane_facing_deg
        The horizontal direction in which the plane falls most steeply.
    position_error_in
        Standard deviation of single positions about the curves.
    off_plane_in
        The same about the plane.
    points, left_out
        Positions used, and those with a missing value, which were not.

    Examples
    --------
    Positions on an arc of 28 in that rises by 0.1 in each millisecond:

    >>> import numpy as np
    >>> from hitlab.physics import swing_path
    >>> time = np.arange(-20.0, 21.0, 4.0)
    >>> path = swing_path(time, 28 * np.sin(time / 25), -28 * np.cos(time / 25), 0.1 * time)
    >>> round(path.bat_mph), round(path.bat_error_mph, 1), round(path.attack_deg, 1)
    (64, 0.1, 5.1)
    """

    bat_mph: float
    bat_error_mph: float
    attack_deg: float
    attack_error_deg: float
    direction_deg: float
    direction_error_deg: float
    plane_deg: float
    plane_error_deg: float
    plane_facing_deg: float
    position_error_in: float
    off_plane_in: float
    points: int
    left_out: int

    def table(self) -> pd.DataFrame:
        """Give the estimates as a data frame, one row each, with their standard errors."""
        import pandas as pd

        names = ("bat_mph", "attack_deg", "direction_deg", "plane_deg")
        errors = [getattr(self, name.replace("_", "_error_")) for name in names]
        return pd.DataFrame(
            {"what": names, "estimate": [getattr(self, name) for name in names], "error": errors}
        )


@keeps_index
def swing_path(
    time_ms: ArrayLike,
    out_in: ArrayLike,
    side_in: ArrayLike,
    height_in: ArrayLike,
    *,
    contact_ms: float = 0.0,
    degree: int = 3,
) -> SwingPath:
    """Fit a plane and a smooth path to timed positions of a bat.

    Parameters
    ----------
    time_ms
        Moments, -1000 to 1000 ms, not all alike.
    out_in, side_in, height_in
        Where the tracked point of the barrel is, -200 to 200 in: toward centre field, toward the pull side,
        up. A row with a missing value is left out.
    contact_ms
        The moment that is asked about, within the times given.
    degree
        Of the polynomial in time along each axis, 1 to 5; a cubic holds for about 60 ms.

    Returns
    -------
    SwingPath
        Estimates and standard errors.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, there are too few positions for the degree (degree + 3), or
        they lie on a line, so that they define no plane.

    Warns
    -----
    UnitWarning
        If the times look like seconds, or the positions like metres.

    Examples
    --------
    Positions on a circle of 28 in, in a plane that falls by 30 degrees away from the hitter:

    >>> import numpy as np
    >>> from hitlab.physics import swing_path
    >>> time = np.arange(-20.0, 21.0, 4.0)
    >>> turn = np.radians(20 + 2.5 * time)
    >>> flat = np.cos(np.radians(30.0))
    >>> path = swing_path(time, 28 * np.sin(turn), -28 * flat * np.cos(turn), -14 * np.cos(turn))
    >>> round(path.bat_mph, 1), round(path.attack_deg, 1), round(path.plane_deg, 1)
    (69.3, 9.8, 30.0)
    """
    columns = {
        "time_ms": quantity("time_ms", time_ms, "milliseconds", -1000, 1000),
        "out_in": quantity("out_in", out_in, "inches", -200, 200),
        "side_in": quantity("side_in", side_in, "inches", -200, 200),
        "height_in": quantity("height_in", height_in, "inches", -200, 200),
    }
    shape = broadcast(columns)
    order = whole("degree", degree, 1, 5, "3 fits some 60 ms around contact.")
    rows = np.array([np.broadcast_to(values, shape).ravel() for values in columns.values()])
    given = rows.shape[1]
    rows = rows[:, np.isfinite(rows).all(axis=0)]
    time, place = rows[0], rows[1:].T
    warn_of_seconds("time_ms", time[time != 0])
    if np.unique(time).size < order + 3:
        raise QuantityError(
            f"time_ms has {np.unique(time).size} known moments; accepted are {order + 3} or more for degree "
            f"{order}. Give more positions around contact, or a lower degree."
        )
    moment = single("contact_ms", contact_ms, "milliseconds", -1000, 1000)
    if not time.min() <= moment <= time.max():
        raise QuantityError(
            f"contact_ms is {moment:g}; accepted is a moment within the positions, {time.min():g} to "
            f"{time.max():g} ms. Beyond them the path is not known."
        )

    reach = float(np.abs(place).max())
    if reach < _METRES_IN:
        warn_of_unit(
            f"out_in, side_in and height_in lie within {reach:.3g} inches throughout: were these metres? "
            f"{reach:.3g} metres are {reach * INCHES_PER_METRE:.1f} inches."
        )

    # Scaled time keeps the powers apart; the slope at the moment is the second coefficient.
    scale = float(np.abs(time - moment).max())
    powers = ((time - moment) / scale)[:, None] ** np.arange(order + 1)
    covariance = np.linalg.inv(powers.T @ powers)
    fitted = covariance @ powers.T @ place
    left = place - powers @ fitted
    spare = time.size - order - 1
    variance = float((left**2).sum() / (3 * spare))
    velocity = fitted[1] / scale
    error = np.sqrt(variance * covariance[1, 1]) / scale
    x, y, z = velocity
    flat, speed = float(np.hypot(x, y)), float(np.sqrt(velocity @ velocity))
    # The errors of the three axes are alike and independent, so that one of any direction is the same.
    plane = _plane(place)
    return SwingPath(
        bat_mph=speed * _TO_MPH,
        bat_error_mph=float(error) * _TO_MPH,
        attack_deg=float(np.degrees(np.arctan2(z, flat))),
        attack_error_deg=float(np.degrees(error / speed)),
        direction_deg=float(np.degrees(np.arctan2(y, x))),
        direction_error_deg=float(np.degrees(error / flat)) if flat else float("nan"),
        plane_deg=plane[0],
        plane_error_deg=plane[1],
        plane_facing_deg=plane[2],
        position_error_in=float(np.sqrt(variance)),
        off_plane_in=plane[3],
        points=int(time.size),
        left_out=given - int(time.size),
    )


def _plane(place: FloatArray) -> tuple[float, float, float, float]:
    """Fit a plane by total least squares: steepness, its error, direction of fall (degrees), spread (in)."""
    middle = place.mean(axis=0)
    _, sizes, axes = np.linalg.svd(place - middle, full_matrices=False)
    if sizes[1] < 1e-6 * sizes[0] or sizes[1] == 0:
        raise QuantityError(
            "The positions lie on one line, so that no plane can be fitted. Give them over 20 ms or more."
        )
    normal = axes[2] if axes[2][2] >= 0 else -axes[2]
    variance = sizes[2] ** 2 / (len(place) - 3)
    steep = float(np.arccos(np.clip(normal[2], -1, 1)))
    # A small turn about one in-plane axis moves the points along the other out of the plane; the steepness is
    # the turn about the level line in the plane.
    level = np.array([-normal[1], normal[0], 0.0])
    length = np.linalg.norm(level)
    level = level / length if length > 1e-12 else axes[0]
    downhill = np.cross(normal, level)
    turns = [(variance / size**2, axis) for size, axis in zip(sizes[:2], axes[:2], strict=True)]
    error = np.sqrt(sum(part * float(axis @ downhill) ** 2 for part, axis in turns))
    facing = float(np.degrees(np.arctan2(normal[1], normal[0])))
    return float(np.degrees(steep)), float(np.degrees(error)), facing, float(np.sqrt(variance))
