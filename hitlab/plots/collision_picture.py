"""Side view of one collision: where the bat strikes the ball, and where the ball then goes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import Circle
from matplotlib.text import Annotation
from numpy.typing import NDArray

from hitlab.physics.bats import BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.contact import collide, line_of_centres
from hitlab.physics.quantities import QuantityError
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.placing import Label, place_labels, plain, to_scale
from hitlab.wording import capitalised

__all__ = ["collision_side_view"]

_MPH_PER_INCH = 14.0
"""Length of the arrows: 14 mph are drawn as long as an inch of ball and bat."""
_BALL, _BAT = "#EFEADB", "#C79B6A"
_LEAST_MPH = 3.0  # a slower arrow would be only its head

Point = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Struck:
    """The numbers of one collision that the picture shows."""

    pitch: float
    descent: float
    bat: float
    attack: float
    offset: float
    reach: float
    centres: float
    exit: float
    launch: float
    backspin: float
    backward: bool


def collision_side_view(
    pitch_mph: float = 85.0,
    descent_deg: float = 6.0,
    bat_mph: float = 70.0,
    attack_deg: float = 10.0,
    offset_in: float = 0.5,
    ax: Axes | None = None,
    *,
    pitch_backspin_rpm: float = 2000.0,
    efficiency: float = 0.2,
    mass_ratio: float = 0.25,
    ball_radius_in: float = BALL_RADIUS_IN,
    bat_radius_in: float = BAT_RADIUS_IN,
) -> Axes:
    """Draw ball and bat at first touch from the side, every angle and length to scale.

    The pitch comes from the right; centre field is on the right. The arrows are as long as the speeds.

    Parameters
    ----------
    pitch_mph, descent_deg, bat_mph, attack_deg, offset_in
        One number each; see :func:`hitlab.physics.contact.collide`.
    ax
        Axes to draw on; a fresh figure where not given.
    pitch_backspin_rpm, efficiency, mass_ratio, ball_radius_in, bat_radius_in
        See :func:`hitlab.physics.contact.collide`; spin and bat are those of an ordinary fastball and bat.

    Returns
    -------
    Axes
        With an offset beyond touching, ball and bat passing each other; where a number is missing, or
        the two never meet, words instead of a picture.

    Raises
    ------
    QuantityError
        If an argument lies outside its range or is not a single number.

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import collision_side_view, describe
    >>> ax = collision_side_view(offset_in=0.5)
    >>> print(fill(describe(ax), 90))
    Side view of ball and bat. The pitch comes from the right at 85 mph, 6° down; the bat
    comes from the left at 70 mph, 10° up. The bat is 0.5 in under the ball's path. The line
    of centres points 16.4° up. The ball leaves at 100 mph, 18.6° up, with 1,390 rpm of
    backspin.
    """
    hit = collide(
        pitch_mph,
        descent_deg,
        bat_mph,
        attack_deg,
        offset_in,
        pitch_backspin_rpm=pitch_backspin_rpm,
        efficiency=efficiency,
        mass_ratio=mass_ratio,
        ball_radius_in=ball_radius_in,
        bat_radius_in=bat_radius_in,
    )
    if hit.touched.shape != ():
        raise QuantityError(
            f"the arguments hold {hit.touched.size} collisions; accepted is one number each. "
            "Draw one collision at a time, or launch_against_offset for many."
        )
    centres = line_of_centres(
        offset_in, descent_deg, ball_radius_in=ball_radius_in, bat_radius_in=bat_radius_in
    )
    reach = float(ball_radius_in + bat_radius_in)
    found = _Struck(
        float(pitch_mph),
        float(descent_deg),
        float(bat_mph),
        float(attack_deg),
        float(offset_in),
        reach,
        float(centres),
        float(hit.exit_mph),
        float(hit.launch_deg),
        float(hit.backspin_rpm),
        bool(abs(hit.spray_deg) > 90),
    )
    numbers = (found.pitch, found.descent, found.bat, found.attack, found.offset)
    if not np.isfinite(numbers).all():
        return look.nothing(ax, "A number is missing: without it this collision cannot be drawn.")
    missed = abs(found.offset) > reach
    if not hit.touched and not missed:
        return look.nothing(ax, "Ball and bat do not come together at these speeds: nothing is struck.")
    return _drawn(found, ax, float(ball_radius_in), float(bat_radius_in), missed)


def _drawn(found: _Struck, ax: Axes | None, ball_radius: float, bat_radius: float, missed: bool) -> Axes:
    ax, own = look.axes_for(ax, 9.6, 5.6)
    ax.set_axis_off()
    came = _way(found.descent)  # from the ball back to where it came from
    across = np.array([came[1], -came[0]])  # from the ball's path down to the bat
    ball = found.reach * _way(found.centres) if not missed else -found.offset * across
    foot = ball - (ball @ came) * came  # of the bat's axis on the ball's path
    swing = _way(found.attack)
    leaves = _way(found.launch) * (-1 if found.backward else 1, 1)
    for centre, radius, color, z, name in (
        (np.zeros(2), bat_radius, _BAT, 2, "bat"),
        (ball, ball_radius, _BALL, 3, "ball"),
    ):
        ax.add_patch(
            Circle(
                (float(centre[0]), float(centre[1])),
                radius,
                facecolor=color,
                edgecolor=look.INK,
                linewidth=1.2,
                zorder=z,
                label=name,
            )
        )
    lengths = {name: getattr(found, name) / _MPH_PER_INCH for name in ("pitch", "bat")}
    tail = ball + (ball_radius + lengths["pitch"]) * came
    start = -(bat_radius + lengths["bat"]) * swing
    paths: list[tuple[str, list[Point], str, Any]] = [
        ("ball's path", [tail, foot - 2.4 * came], look.ACCENTS[1], (0, (1, 2))),
        ("bat's path", [start, (bat_radius + 0.5) * swing], look.INK, (0, (1, 2))),
    ]
    arrows = [
        ("pitch", found.pitch, tail, ball + ball_radius * came, look.ACCENTS[1], 2.0),
        ("swing", found.bat, start, -bat_radius * swing, look.INK, 2.0),
    ]
    tip = ball
    if not missed:
        tip = ball + (ball_radius + found.exit / _MPH_PER_INCH) * leaves
        arrows.insert(0, ("exit", found.exit, ball + ball_radius * leaves, tip, look.ACCENTS[0], 4.0))
        over = _way(found.centres) * (found.reach + ball_radius + 0.5)
        paths.append(
            ("line of centres", [-0.6 * bat_radius * _way(found.centres), over], look.ACCENTS[2], "-")
        )
    for name, ends, color, style in paths:
        ax.plot(
            *np.array(ends).T, color=color, linewidth=1.0, linestyle=style, zorder=4, label=name,
            scalex=False, scaley=False,
        )  # fmt: skip
    for name, speed, begin, end, color, width in arrows:
        if speed >= _LEAST_MPH:
            arrow = ax.annotate(
                "", xy=(float(end[0]), float(end[1])), xytext=(float(begin[0]), float(begin[1])),
                annotation_clip=False, zorder=4 if name == "exit" else 5,
                arrowprops={
                    "arrowstyle": "-|>", "color": color, "linewidth": width, "shrinkA": 0, "shrinkB": 0,
                    "mutation_scale": 16 if name == "exit" else 12, "patchA": None,
                },
            )  # fmt: skip
            arrow.set_label(name)
    ax.plot(
        *np.array([foot, np.zeros(2)]).T, color=look.ACCENTS[2], linewidth=3.0, zorder=5,
        solid_capstyle="butt", label="offset", scalex=False, scaley=False,
    )  # fmt: skip
    ax.plot(0, 0, "o", color=look.INK, markersize=4, zorder=5, label="axis", scalex=False, scaley=False)
    side = -1.0 if found.offset > 0 else 1.0
    names = [
        look.put(
            ax, float(middle[0]), float(middle[1]), word, ha="center", va="center", size=look.SMALL, zorder=6,
        )
        for word, middle in (
            ("bat", (0.0, 0.62 * side * bat_radius)),
            ("ball", (ball[0], ball[1] + 0.62 * ball_radius)),
        )
    ]  # fmt: skip
    arcs, levels = _angles(found, ball, ball_radius, bat_radius, missed)
    ax.add_collection(
        LineCollection(levels, colors=look.FAINT, linewidths=0.8, zorder=1, label="level"), autolim=False
    )
    for name, arc, color in arcs:
        ax.plot(
            *arc.T, color=color, linewidth=1.2, zorder=4, label=f"angle of {name}", scalex=False, scaley=False
        )
    alt = _words(found, missed)
    corners = [*(c + s * r for c, r in ((ball, ball_radius), (np.zeros(2), bat_radius)) for s in (-1, 1))]
    every = np.array([*corners, tail, tip, start, foot - 2.4 * came, *(p for line in levels for p in line)])
    room = np.array([1.6, 1.2])  # inches, for the labels
    low, high = every.min(0) - room, every.max(0) + room
    shown = ((float(low[0]), float(low[1])), (float(high[0]), float(high[1])))
    to_scale(ax, *shown)
    look.finish(ax, own, _title(found, missed), _below(missed), alt=alt)
    to_scale(ax, *shown)  # the title has taken room
    _label(ax, found, missed, (ball, ball_radius, bat_radius), (tail, tip, start, foot), arcs, names)
    keep_words(ax, alt)
    return ax


def _way(degrees: float) -> Point:
    return np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])


def _angles(
    found: _Struck, ball: Point, ball_radius: float, bat_radius: float, missed: bool
) -> tuple[list[tuple[str, Point, str]], list[Point]]:
    """Arcs from the level to each path, and the level lines that they are measured from."""
    arcs = []
    out = ball_radius + 1.2
    parts = [("the pitch", ball, ball_radius + 0.75 * found.pitch / _MPH_PER_INCH, 0.0, found.descent)]
    parts.append(
        ("the swing", np.zeros(2), bat_radius + 0.7 * found.bat / _MPH_PER_INCH, 180.0, found.attack)
    )
    if not missed:
        exit_radius = ball_radius + 0.55 * found.exit / _MPH_PER_INCH
        turned = 180 - found.launch if found.backward else found.launch
        parts.append(("the exit", ball, exit_radius, 0.0, turned))
        out = max(out, exit_radius)
    out = max(out, parts[0][2])
    colors = (look.ACCENTS[1], look.INK, look.ACCENTS[0])
    for (name, centre, radius, level, degrees), color in zip(parts, colors, strict=False):
        turn = np.radians(level + np.linspace(0, degrees, 40))
        arcs.append((name, centre + radius * np.column_stack([np.cos(turn), np.sin(turn)]), color))
    levels = [
        np.array([ball, (ball[0] + out + 0.8, ball[1])]),
        np.array([(0.0, 0.0), (-parts[1][2] - 0.8, 0.0)]),
    ]
    return arcs, levels


def _label(
    ax: Axes,
    found: _Struck,
    missed: bool,
    round_parts: tuple[Point, float, float],
    ends: tuple[Point, Point, Point, Point],
    arcs: list[tuple[str, Point, str]],
    names: list[Annotation],
) -> None:
    ball, ball_radius, bat_radius = round_parts
    tail, tip, start, foot = ends
    came, swing = _way(found.descent), _way(found.attack)
    rust, teal, violet = look.ACCENTS
    labels = []
    if not missed:
        labels.append(
            Label(
                f"ball leaves at {plain(found.exit, 0)} mph,\n{_slope(found.launch)}",
                tuple(tip),
                tuple(tip - ball),
                rust,
                look.BODY + 1,
                "bold",
            )
        )
    pitch = f"pitch {plain(found.pitch, 0)} mph,\n{_slope(-found.descent)}" if found.pitch else "ball at rest"
    bat = f"bat {plain(found.bat, 0)} mph,\n{_slope(found.attack)}" if found.bat else "bat at rest"
    labels.append(
        Label(pitch, tuple(tail), (came[0], came[1] + 0.5 * np.sign(found.descent - found.launch)), teal)
    )
    labels.append(Label(bat, tuple(start), tuple(-swing)))
    labels.append(Label(f"offset {plain(found.offset, 2)} in", tuple(foot / 2), (-1.0, 0.3), violet))
    if not missed:
        over = _way(found.centres) * (found.reach + ball_radius + 0.5)
        labels.append(
            Label(
                f"line of centres,\n{_slope(found.centres)}",
                tuple(over),
                tuple(_way(found.centres + 60)),
                violet,
            )
        )
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    ring = np.column_stack([np.cos(turn), np.sin(turn)])
    along = np.linspace(0, 1, 40)[:, None]
    drawn = [
        *(ball + share * ball_radius * ring for share in (1.0, 0.6, 0.2)),
        *(share * bat_radius * ring for share in (1.0, 0.6, 0.2)),
        *(
            begin + along * (end - begin)
            for begin, end in ((tail, foot - 2.4 * came), (ball, tip), (start, 0 * start))
        ),
        *(arc for _, arc, _ in arcs),
    ]
    place_labels(ax, labels, np.vstack(drawn), before=names)


def _slope(degrees: float) -> str:
    size = plain(abs(degrees))
    return "level" if size == "0" else f"{size}° {'up' if degrees > 0 else 'down'}"


def _below_words(offset: float) -> str:
    size = plain(abs(offset), 2)
    if size == "0":
        return "the bat is right on the ball's path"
    return f"the bat is {size} in {'under' if offset > 0 else 'over'} the ball's path"


def _title(found: _Struck, missed: bool) -> str:
    if missed:
        return f"In the model, {_below_words(found.offset)}: a miss"
    back = ", backward" if found.backward else ""
    return (
        f"In the model, {_below_words(found.offset)}: the ball leaves {_slope(found.launch)}{back}, "
        f"{plain(found.exit, 0)} mph"
    )


def _below(missed: bool) -> str:
    at = "as they pass each other" if missed else "at first touch"
    return (
        f"Seen from the side {at}, all to scale: the pitch comes from the right, the bat "
        f"from the left, and the "
        "arrows are as long as the speeds. Thin grey lines are level."
    )


def _words(found: _Struck, missed: bool) -> str:
    words = (
        f"Side view of ball and bat. The pitch comes from the right at {plain(found.pitch, 0)} mph, "
        f"{_slope(-found.descent)}; the bat comes from the left at {plain(found.bat, 0)} mph, "
        f"{_slope(found.attack)}. {capitalised(_below_words(found.offset))}. "
    )
    if missed:
        return words + f"They pass each other: they touch only within {plain(found.reach, 2)} in."
    turning = "backspin" if found.backspin >= 0 else "topspin"
    return words + (
        f"The line of centres points {_slope(found.centres)}. The ball leaves at {plain(found.exit, 0)} mph, "
        f"{_slope(found.launch)}{', backward' if found.backward else ''}, with "
        f"{abs(found.backspin):,.0f} rpm of "
        f"{turning}."
    )
