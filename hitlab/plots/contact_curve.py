"""What an offset of a fraction of an inch does to the ball: launch angle and exit speed of one swing."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import ArrayLike, NDArray

from hitlab.physics.bats import BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.one_swing import (
    LINE_DRIVE_DEG,
    Contact,
    PitchAtPlate,
    Swing,
    aim_for_launch,
    contact_values,
)
from hitlab.physics.quantities import QuantityError
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.placing import Label, named_axis, place_labels, plain

__all__ = ["launch_against_offset"]

_REACH = BALL_RADIUS_IN + BAT_RADIUS_IN
_EDGE = 3.4  # inches shown either way
_POINTS = 601
_SPEED_PART = 0.34  # of the height


def launch_against_offset(
    swing: Swing | None = None, ax: Axes | None = None, *, pitch: PitchAtPlate | None = None
) -> Axes:
    """Draw launch angle and exit speed of one swing, on time, against the offset at first touch.

    Parameters
    ----------
    swing, pitch
        The swing and what is thrown; ``Swing()`` and ``PitchAtPlate()`` where not given.
    ax
        Axes to draw on; a fresh figure where not given. The exit speed is drawn in a panel beneath the
        launch angle, set into it (``ax.child_axes``).

    Returns
    -------
    Axes
        Where a value is missing or bat and ball never meet, words instead of a picture.

    Raises
    ------
    QuantityError
        If a value of the swing or the pitch lies outside its range.

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, launch_against_offset
    >>> ax = launch_against_offset()
    >>> print(fill(describe(ax), 90))
    Launch angle and exit speed against the offset at first touch. Bat 70 mph, 10° up; pitch
    85 mph, 6° down; on time, at the good spot. Line drive: 10 to 25 degrees. Hatched: beyond
    2.76 in bat and ball miss. The curve of launch angles stops where the ball goes back over
    the bat: a foul. With no offset the ball leaves at 1.8 degrees and 101 mph. It is fastest,
    101 mph, at an offset of 0.27 in. It is a line drive from 0.33 to 0.93 in.
    """
    swing, pitch = swing or Swing(), pitch or PitchAtPlate()
    offset = np.linspace(-_EDGE, _EDGE, _POINTS)
    hit = _struck(swing, pitch, offset)
    if not hit.touched.any():
        return look.nothing(
            ax, "A value is missing, or bat and ball never meet: there is no launch angle to draw."
        )
    ax, own = look.axes_for(ax, 9.6, 6.4)
    ax.set_axis_off()
    speed = hit.values["exit_mph"]
    forward = hit.touched & (np.abs(hit.values["spray_deg"]) <= 90)
    launch = np.where(forward, hit.values["launch_deg"], np.nan)
    upper, lower = _panels(ax)
    upper.plot(offset, launch, color=look.ACCENTS[0], linewidth=2.4, zorder=3, label="launch angle")
    lower.plot(offset, speed, color=look.ACCENTS[1], linewidth=2.4, zorder=3, label="exit speed")
    struck = offset[hit.touched]
    back = offset[hit.touched & ~forward]
    for panel in (upper, lower):
        for begin, end in ((-_EDGE, struck[0]), (struck[-1], _EDGE)):
            panel.axvspan(
                begin, end, facecolor=look.BACKGROUND, edgecolor="#C9C6BC", hatch="///", linewidth=0,
                zorder=0, label="miss",
            )  # fmt: skip
        panel.axvline(0, color=look.FAINT, linewidth=0.8, zorder=1)
        panel.set_xlim(-_EDGE, _EDGE)
    low, high = LINE_DRIVE_DEG
    upper.axhspan(low, high, facecolor=look.ACCENTS[1], alpha=0.13, linewidth=0, zorder=0, label="line drive")
    upper.set_ylim(-95, 95)
    upper.set_yticks([-90, -60, -30, 0, 30, 60, 90])
    upper.set_xticks(range(-3, 4))
    upper.set_xticklabels([])
    lower.set_xticks(range(-3, 4))
    top = float(np.nanmax(speed))
    lower.set_ylim(0, 1.12 * top)
    lower.set_yticks(_ticks(top))
    named_axis(
        lower.xaxis, "offset at first touch (in): left, the bat is over the ball's path; right, under it"
    )
    named_axis(upper.yaxis, "launch angle (degrees)")
    named_axis(lower.yaxis, "exit speed (mph)")
    fastest = int(np.nanargmax(speed))
    drive = _drive_offsets(swing, pitch)
    alt = _words(swing, pitch, hit, offset, fastest, drive, back.size > 0)
    look.finish(ax, own, _title(drive), _below(swing, pitch, back.size > 0), alt=alt)
    _label(upper, lower, (offset, launch, speed), fastest, drive, back)
    keep_words(ax, alt)
    return ax


def _panels(ax: Axes) -> tuple[Axes, Axes]:
    gap = 0.05
    boxes = ((0, _SPEED_PART + gap, 1, 1 - _SPEED_PART - gap), (0, 0, 1, _SPEED_PART))
    upper, lower = (look.axes_for(ax.inset_axes(box))[0] for box in boxes)
    for panel in (upper, lower):
        panel.grid(True, axis="y", color=look.GRID, linewidth=0.8)
        panel.set_axisbelow(True)
    return upper, lower


def _struck(swing: Swing, pitch: PitchAtPlate, offset: NDArray[np.float64]) -> Contact:
    """Bring bat and ball together, on time, at each offset at first touch.

    A bat that faces another field meets the ball at another angle than the swing's own, so the meeting is
    worked out as for any swing. On time the offset is a straight line in the miss.
    """

    def met(misses: ArrayLike) -> Contact:
        return contact_values(misses, 0.0, swing.attack_deg, pitch=pitch, swing=swing, miss="touch")

    none, half = met([0.0, 0.5]).values["offset_in"]
    return met((offset - none) / (2 * (half - none)))


def _ticks(top: float) -> list[float]:
    step = next(step for step in (1, 2, 5, 10, 20, 25, 50, 100) if top / step <= 5)
    return [float(tick) for tick in range(0, int(top) + 1, step)]


def _drive_offsets(swing: Swing, pitch: PitchAtPlate) -> tuple[float, float] | None:
    """Offsets between which this swing's ball is a line drive; None where it cannot be."""
    try:
        aims = [aim_for_launch(angle, pitch=pitch, swing=swing, miss="touch") for angle in LINE_DRIVE_DEG]
    except QuantityError:
        return None
    # An upright miss becomes an offset across the ball's path.
    met = contact_values(aims, 0.0, swing.attack_deg, pitch=pitch, swing=swing, miss="touch")
    low, high = map(float, met.values["offset_in"])
    return low, high


def _label(
    upper: Axes,
    lower: Axes,
    curves: tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]],
    fastest: int,
    drive: tuple[float, float] | None,
    back: NDArray[np.float64],
) -> None:
    offset, launch, speed = curves
    known = np.isfinite(launch)
    labels = []
    if drive is not None:
        for place, angle in zip(drive, LINE_DRIVE_DEG, strict=True):
            upper.plot(
                [place, place], [-95, angle], color=look.ACCENTS[1], linewidth=0.9, linestyle=(0, (2, 2)),
                zorder=1, label="edge",
            )  # fmt: skip
        middle = sum(drive) / 2
        labels.append(
            Label(
                f"line drive: from {plain(drive[0], 2)} to {plain(drive[1], 2)} in",
                (middle, sum(LINE_DRIVE_DEG) / 2),
                (-1.0, 0.6),
                look.ACCENTS[1],
                weight="bold",
            )
        )
    labels += [
        Label(
            "topped: into the ground",
            (-1.7, float(np.interp(-1.7, offset[known], launch[known]))),
            (1.0, -0.4),
        ),
        Label("undercut: popped up", (1.5, float(np.interp(1.5, offset[known], launch[known]))), (-1.0, 0.4)),
    ]
    if back.size:
        side = back[back > 0] if (back > 0).any() else back
        upper.axvspan(side[0], side[-1], facecolor=look.ACCENTS[2], alpha=0.12, linewidth=0, label="back")
        labels.append(Label("straight\nback:\nfoul", (float(side.mean()), 0.0), (0.0, -1.0), look.ACCENTS[2]))
    sides = [Label("miss", (side * (_REACH + _EDGE) / 2, -75.0), (0.0, 1.0), look.QUIET) for side in (-1, 1)]
    curve = np.column_stack([offset, launch])[known]
    place_labels(upper, [*labels, *sides], curve)
    lower.plot(
        offset[fastest], speed[fastest], "o", color=look.ACCENTS[1], markersize=6, zorder=4, label="fastest"
    )
    place_labels(
        lower,
        [
            Label(
                f"fastest: {plain(speed[fastest], 0)} mph, {plain(abs(offset[fastest]), 2)} in "
                f"{'under' if offset[fastest] > 0 else 'over'}",
                (float(offset[fastest]), float(speed[fastest])),
                (0.0, -1.0),
                look.ACCENTS[1],
            )
        ],
        np.column_stack([offset, speed])[np.isfinite(speed)],
    )


def _title(drive: tuple[float, float] | None) -> str:
    if drive is None:
        return "In the model, this swing hits no line drive wherever it strikes the ball"
    return (
        f"In the model, all line drives of this swing lie within {plain(drive[1] - drive[0], 2)} in of offset"
    )


def _below(swing: Swing, pitch: PitchAtPlate, back: bool) -> str:
    words = (
        f"Bat {plain(swing.bat_mph)} mph, {plain(abs(swing.attack_deg))}° "
        f"{'up' if swing.attack_deg >= 0 else 'down'}; "
        f"pitch {plain(pitch.speed_mph)} mph, {plain(abs(pitch.descent_deg))}° "
        f"{'down' if pitch.descent_deg >= 0 else 'up'}; on time, at the good spot. Line drive: "
        f"{LINE_DRIVE_DEG[0]:g} to {LINE_DRIVE_DEG[1]:g} degrees. Hatched: beyond "
        f"{plain(_REACH, 2)} in bat and ball miss."
    )
    gap = " The curve of launch angles stops where the ball goes back over the bat: a foul." if back else ""
    return words + gap


def _words(
    swing: Swing,
    pitch: PitchAtPlate,
    hit: Contact,
    offset: NDArray[np.float64],
    fastest: int,
    drive: tuple[float, float] | None,
    back: bool,
) -> str:
    middle = len(offset) // 2
    words = (
        f"Launch angle and exit speed against the offset at first touch. {_below(swing, pitch, back)} "
        f"With no offset the ball leaves at {plain(float(hit.values['launch_deg'][middle]))} degrees and "
        f"{plain(float(hit.values['exit_mph'][middle]), 0)} mph. It is fastest, "
        f"{plain(float(hit.values['exit_mph'][fastest]), 0)} mph, "
        f"at an offset of {plain(float(offset[fastest]), 2)} in. "
    )
    if drive is None:
        return words + "No offset gives a line drive."
    return words + f"It is a line drive from {plain(drive[0], 2)} to {plain(drive[1], 2)} in."
