"""A pitch's clock: two speeds on one scale of milliseconds, and what a swing timed for one of them does."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from hitlab.physics.meeting import fair_window
from hitlab.physics.quantities import QuantityError, quantity
from hitlab.physics.timing import SWING_S, mistime, time_pitch
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.placing import Label, named_axis, place_labels, plain

__all__ = ["pitch_timeline"]

_SAME_MS = 0.5  # an error that rounds to nothing
_TOP = -1.0  # of the picture, in rows from the upper one
_APART = 1.9  # the rows: between them stands the error of a swing at the faster pitch


def pitch_timeline(
    expected_mph: float = 95.0,
    thrown_mph: float = 85.0,
    ax: Axes | None = None,
    *,
    extension_ft: float = 6.0,
    swing_s: float = SWING_S,
    bat_mph: float = 70.0,
) -> Axes:
    """Draw two pitches from release to contact in time, and a swing timed for one of them.

    The faster pitch stands above. On each: release, the last moment to decide (when a swing on time
    starts), the swing and contact; beneath the pitch that was thrown, the swing as planned, how far the
    ball still is when it starts, and by how much it is early or late against the window for a fair ball.

    Parameters
    ----------
    expected_mph, thrown_mph
        Release speed that the swing is timed for, and that of the pitch; one number each.
    ax
        Axes to draw on; a fresh figure where not given.
    extension_ft, swing_s
        See :func:`hitlab.physics.timing.time_pitch`.
    bat_mph
        For the window of a fair ball; see :func:`hitlab.physics.meeting.fair_window`.

    Returns
    -------
    Axes
        Where a value is missing, words instead of a picture.

    Raises
    ------
    QuantityError
        If an argument lies outside its range or is not a single number.

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, pitch_timeline
    >>> ax = pitch_timeline(expected_mph=95.0, thrown_mph=85.0)
    >>> print(fill(describe(ax), 90))
    Time line from release to contact. The pitch thrown, 85 mph, is met after 448 ms; the last
    moment to decide, when a swing on time starts, is 298 ms. A ball stays fair within 25 ms
    either way. The pitch expected, 95 mph, would be met after 401 ms, its last moment 251 ms.
    A swing timed for it starts with the ball 22.7 ft away and is 47 ms early.
    """
    for name, value in (("expected_mph", expected_mph), ("thrown_mph", thrown_mph)):
        if quantity(name, value, "mph", 20, 130).shape != ():
            raise QuantityError(
                f"{name} is {value!r}; accepted is one number. Draw one pair of pitches at a time."
            )
    planned = time_pitch(expected_mph, extension_ft, swing_s=swing_s)
    real = time_pitch(thrown_mph, extension_ft, swing_s=swing_s)
    missed = mistime(expected_mph, thrown_mph, extension_ft, swing_s=swing_s)
    error, left = float(missed.timing_error_ms), float(missed.left_ft)
    if not np.isfinite(error + left):
        return look.nothing(ax, "A number is missing: without it there is no time to draw.")
    window = float(fair_window(float(real.meeting_mph), bat_mph).either_way_ms)
    same = abs(error) < _SAME_MS
    # The rows from the top: the faster pitch, the slower one, and the planned swing under the pitch thrown.
    rows = {
        "expected": 0.0 if expected_mph >= thrown_mph else _APART,
        "thrown": _APART if expected_mph >= thrown_mph else 0.0,
    }
    if same:
        rows = {"thrown": 0.0}
    ax, own = look.axes_for(ax, 9.6, 3.6 if same else 5.0)
    clocks = {
        "expected": (float(expected_mph), 1000 * float(planned.decision_s), 1000 * float(planned.time_s)),
        "thrown": (float(thrown_mph), 1000 * float(real.decision_s), 1000 * float(real.time_s)),
    }
    labels: list[Label] = []
    for name, row in rows.items():
        speed, decide, contact = clocks[name]
        color = look.ACCENTS[1] if name == "thrown" else look.QUIET
        ax.plot([0, contact], [row, row], color=color, linewidth=2.0, zorder=2, label=f"{name}: pitch")
        ax.plot(
            [decide, contact], [row, row], color=color, linewidth=8.0, solid_capstyle="butt", zorder=3,
            label=f"{name}: swing",
        )  # fmt: skip
        ax.plot([0, decide], [row, row], "|", color=color, markersize=16, markeredgewidth=2, zorder=4,
                label=f"{name}: release and last moment")  # fmt: skip
        ax.plot(contact, row, "o", color=color, markersize=11, zorder=5, label=f"{name}: contact")
        kind = "" if same else "thrown: " if name == "thrown" else "expected: "
        labels += [
            Label(f"{kind}{plain(speed)} mph\nrelease", (0.0, row), (0.3, 1.0), color, weight="bold"),
            Label(
                f"last moment to decide,\nswing starts: {plain(decide, 0)} ms",
                (decide, row),
                (-0.4, 1.0),
                color,
            ),
            Label(f"contact: {plain(contact, 0)} ms", (contact, row), (0.2, 1.0), color),
        ]
    if not same:
        row = rows["thrown"] + 0.62
        _, start, end = clocks["expected"]
        contact = clocks["thrown"][2]
        ax.plot(
            [start, end], [row, row], color=look.ACCENTS[0], linewidth=8.0, solid_capstyle="butt", zorder=3,
            label="planned swing",
        )  # fmt: skip
        ax.plot(
            sorted((end, contact)), [row + 0.2] * 2, "|-", color=look.ACCENTS[0], linewidth=1.2, markersize=7,
            zorder=3, label="error",
        )  # fmt: skip
        ax.plot(
            [contact, contact],
            [rows["thrown"], row + 0.2],
            color=look.FAINT,
            linewidth=0.8,
            zorder=1,
            label="same time",
        )
        late = "late" if error > 0 else "early"
        labels += [
            Label(
                f"swing timed for {plain(float(expected_mph))} mph:\n{plain(abs(error), 0)} ms {late}",
                ((end + contact) / 2, row + 0.2),
                (0.3 if error < 0 else -0.3, -1.0),
                look.ACCENTS[0],
                weight="bold",
            ),
            Label(f"as it starts the ball is\n{_away(left)}", (start, row), (-1.0, -0.5), look.ACCENTS[0]),
        ]
    contact = clocks["thrown"][2]
    ax.axvspan(contact - window, contact + window, color=look.ACCENTS[1], alpha=0.12, linewidth=0, zorder=0,
               label="fair window")  # fmt: skip
    bottom = max(rows.values()) + (0.9 if same else 1.6)
    # At the band's upper end: at the lower, the words on the error stand between.
    labels.append(
        Label(f"fair: ±{plain(window, 0)} ms", (contact, _TOP), (0.0, -1.0), look.ACCENTS[1], look.SMALL)
    )
    first = min(0.0, *(clocks[name][1] for name in rows))
    last = max(*(clocks[name][2] for name in clocks), contact + window)
    ax.set_xlim(first - 0.03 * (last - first), last + 0.16 * (last - first))
    ax.set_ylim(bottom, _TOP)
    ax.set_yticks([])
    named_axis(ax.xaxis, "milliseconds since release")
    title = _title(clocks["expected"][0], clocks["thrown"][0], error, window, same)
    words = _words(clocks, error, left, window, same)
    look.finish(
        ax,
        own,
        title,
        f"Thin: the ball's flight; thick: a swing of {plain(1000 * float(swing_s), 0)} "
        f"ms. Shaded: where the bat may "
        f"meet the thrown ball and keep it fair (bat {plain(float(bat_mph))} mph, squarely hit).",
        alt=words,
    )
    drawn = []
    for name, row in rows.items():
        drawn.append(np.column_stack([np.linspace(0, clocks[name][2], 80), np.full(80, row)]))
    if not same:
        ends = sorted((*clocks["expected"][1:], contact))
        drawn.append(
            np.column_stack([np.linspace(ends[0], ends[-1], 60), np.full(60, rows["thrown"] + 0.62)])
        )
        drawn.append(np.column_stack([np.full(30, contact), rows["thrown"] + np.linspace(0, 0.82, 30)]))
    place_labels(ax, labels, np.vstack(drawn))
    keep_words(ax, words)
    return ax


def _away(left_ft: float) -> str:
    return f"{plain(abs(left_ft))} ft {'away' if left_ft >= 0 else 'past already'}"


def _title(expected: float, thrown: float, error: float, window: float, same: bool) -> str:
    if same:
        return f"In the model, a hitter timed for {plain(thrown)} mph is on time"
    late = "late" if error > 0 else "early"
    fate = "still fair" if abs(error) <= window else "too much for a fair ball"
    return (
        f"In the model, timed for {plain(expected)} mph, thrown {plain(thrown)}: {plain(abs(error), 0)} ms "
        f"{late}, {fate}"
    )


def _words(
    clocks: dict[str, tuple[float, float, float]], error: float, left: float, window: float, same: bool
) -> str:
    speed, decide, contact = clocks["thrown"]
    words = (
        f"Time line from release to contact. The pitch thrown, {plain(speed)} mph, is met "
        f"after {plain(contact, 0)} ms; "
        f"the last moment to decide, when a swing on time starts, is {plain(decide, 0)} "
        f"ms. A ball stays fair within "
        f"{plain(window, 0)} ms either way."
    )
    if same:
        return words + " The hitter is timed for this speed and is on time."
    speed, decide, contact = clocks["expected"]
    return words + (
        f" The pitch expected, {plain(speed)} mph, would be met after {plain(contact, 0)} "
        f"ms, its last moment "
        f"{plain(decide, 0)} ms. A swing timed for it starts with the ball {_away(left)} and is "
        f"{plain(abs(error), 0)} ms {'late' if error > 0 else 'early'}."
    )
