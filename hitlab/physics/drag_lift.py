"""Drag and lift of a baseball by published fits, chosen by name, and the spin that batted balls have.

Spin costs drag as well as it gives lift: with the fit ``spin`` the carry of a hard fly ball grows up to some
1,500 to 2,500 rpm and falls beyond (the flatter the launch, the later). A drag that ignores spin lets it
grow for ever.

No fit is the truth: balls differ in drag from one to the next (standard deviation .011; see
:func:`hitlab.physics.flight.carry_band`), and the fits differ by more. Each names its source and the range
in which it was measured; outside it a :class:`~hitlab.physics.quantities.RangeWarning` is given at the
launch values, once a call.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    FloatArray,
    QuantityError,
    RangeWarning,
    broadcast,
    keeps_index,
    quantity,
)

__all__ = [
    "BALL_TO_BALL_DRAG",
    "DRAG_AT_REST",
    "DRAG_FITS",
    "DRAG_PER_1000_RPM",
    "LIFT_FITS",
    "Fit",
    "average_spin",
    "check_fit",
    "falling_drag_coefficient",
    "lift_per_spin_factor",
    "warn_outside",
]


@dataclass(frozen=True, slots=True)
class Fit:
    """One published fit.

    Attributes
    ----------
    source
        Where it was published, and whether it is quoted from memory.
    lowest, highest
        The range in which it was measured (or that its authors give).
    unit
        Of the range: mph for drag; the spin factor (surface speed over flight speed), a ratio, for lift.

    Examples
    --------
    >>> from hitlab.physics import Fit
    >>> from hitlab.physics.drag_lift import DRAG_FITS
    >>> fit = DRAG_FITS["spin"]
    >>> isinstance(fit, Fit), fit.lowest, fit.highest, fit.unit
    (True, 30.0, 130.0, 'mph')
    """

    source: str
    lowest: float
    highest: float
    unit: str


DRAG_AT_REST = {"spin": 0.297, "constant": 0.35, "falling": 0.0}
"""The drag coefficient of a ball without spin, for each fit that has one number for it. For ``spin`` it is
that of the manuscript; the same author's published trajectory model has 0.3008, which carries 2 ft less
far."""
DRAG_PER_1000_RPM = 0.0292
"""Growth of the drag coefficient with total spin (the same in both)."""
BALL_TO_BALL_DRAG = 0.011
"""Standard deviation of the drag coefficient from one ball to the next (Nathan & Young 2020; as quoted)."""

DRAG_FITS = {
    "spin": Fit(
        "grows with total spin, 0.297 + 0.0292 for each 1,000 rpm, at every speed: Nathan, Analysis of "
        "Baseball Trajectories (2017, manuscript), eqs. 10 and 11, as quoted; fitted to fly "
        "balls of 90 mph and more at 20 to 35 degrees in one park with a roof, used here for all",
        30.0,
        130.0,
        "mph",
    ),
    "constant": Fit(
        "one coefficient at every speed, 0.35 unless stated: close to what tracked fly balls show "
        "(Nathan, Am. J. Phys. 76 (2008) 119; from memory)",
        30.0,
        130.0,
        "mph",
    ),
    "falling": Fit(
        "falls with speed from 0.56 to 0.22: Giordano, Computational Physics (1997), a fit to a curve in "
        "Adair, The Physics of Baseball; from memory. Later measurements show less of a fall.",
        0.0,
        130.0,
        "mph",
    ),
}
"""Fits of the drag coefficient."""

LIFT_FITS = {
    "kinked": Fit(
        "1.5 S below S = 0.1, 0.09 + 0.6 S above: Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152",
        0.0,
        0.6,
        "",
    ),
    "saturating": Fit(
        "S / (0.4 + 2.32 S): Cross, Physics of Baseball and Softball (2011); from memory", 0.0, 0.6, ""
    ),
    "gentle": Fit(
        "1.12 S / (0.583 + 2.333 S): Nathan, Am. J. Phys. 76 (2008) 119 and the manuscript of 2017, where it "
        "goes with the drag that grows with spin; as quoted",
        0.0,
        0.6,
        "",
    ),
    "none": Fit("no lift: for the closed forms and for comparison", 0.0, np.inf, ""),
}
"""Fits of the lift coefficient; S is the surface speed over the flight speed."""


@keeps_index
def average_spin(launch_deg: ArrayLike, spray_deg: ArrayLike = 0.0) -> tuple[FloatArray, FloatArray]:
    """Spin that batted balls of a launch angle have on average.

    Parameters
    ----------
    launch_deg
        Launch angle, -90 to 90 degrees. Below -10 and above 50 the spin at these angles is given: the line
        was fitted to fly balls.
    spray_deg
        Direction off the bat, -180 to 180 degrees; 0 centre field, positive the pull side. Beyond the foul
        lines the spin at 45 degrees is given.

    Returns
    -------
    tuple of numpy.ndarray
        Backspin and sidespin in rpm, as :func:`hitlab.physics.flight.fly` takes them; NaN where missing.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    Source: Nathan's published trajectory model, as quoted: backspin -763 + 120 launch - 21 spray, sidespin
    -849 + 94 spray (spray positive to the pull side). Single balls lie hundreds of rpm from it.

    Examples
    --------
    A liner and a fly ball to centre field:

    >>> from hitlab.physics import average_spin
    >>> backspin, sidespin = average_spin([15.0, 28.0])
    >>> backspin.round().tolist(), sidespin.round().tolist()
    ([1037.0, 2597.0], [-849.0, -849.0])
    """
    launch = quantity("launch_deg", launch_deg, "degrees", -90, 90)
    spray = quantity("spray_deg", spray_deg, "degrees", -180, 180)
    shape = broadcast({"launch_deg": launch, "spray_deg": spray})
    launch, spray = np.clip(launch, -10, 50), np.clip(spray, -45, 45)
    missing = np.where(np.isnan(launch + spray), np.nan, np.zeros(shape))
    return np.asarray(-763 + 120 * launch - 21 * spray + missing), np.asarray(-849 + 94 * spray + missing)


def falling_drag_coefficient(speed_mps: FloatArray) -> FloatArray:
    """Drag coefficient of the ``falling`` fit at a speed through the air in metres a second."""
    # The source gives drag per mass and speed squared, 1/m, for 1.2 kg/m3, 145 g and 36.6 mm.
    per_metre = 0.0039 + 0.0058 / (1 + np.exp((speed_mps - 35) / 5))
    return np.asarray(per_metre * 2 * 0.145 / (1.2 * np.pi * 0.0366**2))


def lift_per_spin_factor(spin_factor: FloatArray, fit: str) -> FloatArray:
    """Lift coefficient divided by the spin factor, which stays finite as the spin goes to nothing.

    Parameters
    ----------
    spin_factor
        Ball radius x spin across the flight (radians a second) / speed through the air; any shape.
    fit
        A key of :data:`LIFT_FITS`.

    Returns
    -------
    numpy.ndarray
        Shape of ``spin_factor``.
    """
    if fit == "kinked":
        # The two lines meet at 0.1; below it the first is the lower one.
        return np.asarray(np.minimum(1.5, 0.6 + 0.09 / np.maximum(spin_factor, 0.05)))
    if fit == "saturating":
        return np.asarray(1 / (0.4 + 2.32 * spin_factor))
    if fit == "gentle":
        return np.asarray(1.12 / (0.583 + 2.333 * spin_factor))
    return np.zeros_like(spin_factor)


def check_fit(argument: str, name: str, fits: dict[str, Fit]) -> None:
    """Refuse a fit that does not exist.

    Raises
    ------
    QuantityError
        With the list of those that do.
    """
    if name not in fits:
        known = ", ".join(repr(key) for key in fits)
        raise QuantityError(f"{argument} is {name!r}; accepted is one of {known}. See the fits' sources.")


def warn_outside(argument: str, name: str, fit: Fit, values: FloatArray) -> None:
    """Warn once when launch values lie outside a fit's range."""
    outside = int(np.count_nonzero((values < fit.lowest) | (values > fit.highest)))
    if outside:
        unit = f" {fit.unit}" if fit.unit else ""
        lie = (
            f"{outside} of {values.size} balls lie outside "
            f"({np.nanmin(values):.3g} to {np.nanmax(values):.3g})"
            if values.size > 1
            else f"this ball's {float(values.flat[0]):.3g} lies outside"
        )
        what = "speed off the bat" if fit.unit else "spin factor at launch"
        warnings.warn(
            f"{argument}={name!r} was measured for a {what} of {fit.lowest:g} to {fit.highest:g}{unit}; "
            f"{lie}. Read that as an extrapolation.",
            RangeWarning,
            stacklevel=5,
        )
