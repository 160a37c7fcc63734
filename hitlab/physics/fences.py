"""An outfield fence as a profile: distance and height by direction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import FloatArray, QuantityError, quantity

__all__ = ["Fence"]


@dataclass(frozen=True, slots=True)
class Fence:
    """A fence's profile, straight in distance and height between the given directions.

    Parameters
    ----------
    bearing_deg
        Directions, rising, -90 to 90 degrees; 0 is centre field, positive the hitter's pull side. The
        first and the last are the foul poles.
    distance_ft
        Distance from home plate in each direction, above 0 and up to 1000 ft.
    height_ft
        Height of the top above the ground, 0 to 100 ft.

    Raises
    ------
    QuantityError
        If fewer than two directions are given, they do not rise, the three lengths differ or a value
        lies outside its range.

    Examples
    --------
    >>> fence = Fence((-45, 0, 45), (330, 400, 330), (8, 8, 8))
    >>> float(fence.distance(22.5))
    365.0
    """

    bearing_deg: tuple[float, ...]
    distance_ft: tuple[float, ...]
    height_ft: tuple[float, ...]

    def __post_init__(self) -> None:
        bearing = quantity("bearing_deg", self.bearing_deg, "degrees", -90, 90)
        distance = quantity("distance_ft", self.distance_ft, "feet", 0, 1000, above=True)
        height = quantity("height_ft", self.height_ft, "feet", 0, 100)
        if not (bearing.ndim == 1 and bearing.shape == distance.shape == height.shape and bearing.size >= 2):
            raise QuantityError(
                f"bearing_deg, distance_ft and height_ft have shapes {bearing.shape}, {distance.shape} and "
                f"{height.shape}; accepted are three lists of one length, two entries or more. Give one "
                "distance and one height for each direction."
            )
        if np.isnan(bearing + distance + height).any() or (np.diff(bearing) <= 0).any():
            raise QuantityError(
                f"bearing_deg is {tuple(bearing.tolist())}; accepted are known directions that rise from one "
                "foul pole to the other, each with a distance and a height. Sort them, negative (the "
                "opposite field) first."
            )

    def distance(self, bearing_deg: ArrayLike) -> FloatArray:
        """Distance in feet in a direction; beyond the poles that of the nearer pole."""
        bearing = quantity("bearing_deg", bearing_deg, "degrees", -180, 180)
        return np.asarray(np.interp(bearing, self.bearing_deg, self.distance_ft))

    def top(self, bearing_deg: ArrayLike) -> FloatArray:
        """Height of the top in feet in a direction; beyond the poles that of the nearer pole."""
        bearing = quantity("bearing_deg", bearing_deg, "degrees", -180, 180)
        return np.asarray(np.interp(bearing, self.bearing_deg, self.height_ft))

    def covers(self, bearing_deg: ArrayLike) -> np.ndarray:
        """Tell whether a direction lies between the foul poles."""
        bearing = quantity("bearing_deg", bearing_deg, "degrees", -180, 180)
        return np.asarray((bearing >= self.bearing_deg[0]) & (bearing <= self.bearing_deg[-1]))
