"""A plate appearance from left to right: what was thrown, where it went, and what came of it."""

from __future__ import annotations

from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon, Rectangle

from hitlab.approach.sequence import eager, put_in_order
from hitlab.counting.places import Borders
from hitlab.errors import MissingColumnsError
from hitlab.pitches.opening import demand_here
from hitlab.plots import look
from hitlab.plots.lettering import wrapped
from hitlab.plots.placing import plain

__all__ = ["plate_appearance_strip"]

_NEEDED = ("game", "plate_appearance", "pitch", "outcome")
_TEXTS = (
    "hitter",
    "pitcher",
    "hitter_side",
    "pitch_kind",
    "foul_side",
    "result",
    "inning",
    "half",
    "outs",
    "bases",
)
_NUMBERS = (
    "balls",
    "strikes",
    "speed_mph",
    "inside_in",
    "height_in",
    "zone_bottom_in",
    "zone_top_in",
    "exit_mph",
    "launch_deg",
)
_FLAGS = ("check_swing", "bunt")
_ACROSS = 6  # pitches side by side; more of them begin a new line
_HALF_PLATE_IN = 8.5  # Official Baseball Rules 2.02: home base is 17 inches wide (from memory)
_WIDE_IN, _HIGH_IN = 26.0, 60.0  # shown around the plate where no pitch lies farther out
_CELL_IN = (1.58, 3.3)  # inches of figure for one pitch
_LINE = 0.056  # height of a line of text, in heights of a cell
_MARKS = {"whiff": "X", "foul": "^", "foul tip": "^", "in play": "D"}
"""Shape of a pitch that was swung at; any other is round, filled for a strike."""


def plate_appearance_strip(pitches: Any, game: str, plate_appearance: int, ax: Axes | None = None) -> Axes:
    """Draw a plate appearance pitch by pitch: count before, kind, speed, place, and what happened.

    Parameters
    ----------
    pitches
        Path of a checked file, a ``Reading``, or a frame of the pitch table; see
        ``hitlab.approach.with_previous``.
    game, plate_appearance
        Which one, as in the table.
    ax
        Axes to draw on; one panel a pitch is set into it (``ax.child_axes``).

    Returns
    -------
    Axes
        The zones are seen from the catcher where the hitter's side is known, else with the hitter at the
        right. Words instead of a picture where the table has no such plate appearance.

    Raises
    ------
    MissingColumnsError
        Where the table has no key or no outcome.
    ReadingError
        Where it is no table, or its rows are spread over workers.

    Examples
    --------
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, plate_appearance_strip
    >>> pitches = pd.DataFrame({"game": "game 1", "plate_appearance": 1, "pitch": [1, 2, 3],
    ...                         "hitter": "Runa Kvalbakk", "balls": [0, 1, 1], "strikes": [0, 0, 1],
    ...                         "pitch_kind": ["slider", "slider", "sinker"], "speed_mph": [84.0, 85.1, 92.3],
    ...                         "outcome": ["ball", "whiff", "in play"]})
    >>> ax = plate_appearance_strip(pitches, "game 1", 1)
    >>> print(fill(describe(ax), 90))
    Runa Kvalbakk: 3 pitches, no result. Plate appearance 1 of game 1. Pitch 1, count 0-0:
    slider, 84 mph, place not known; ball. Pitch 2, count 1-0: slider, 85.1 mph, place not
    known; whiff. Pitch 3, count 1-1: sinker, 92.3 mph, place not known; in play.
    """
    demand_here(pitches, "a picture of a plate appearance")
    frame = eager(pitches, (*_NEEDED, *_TEXTS, *_NUMBERS, *_FLAGS))[0]
    absent = [name for name in _NEEDED if name not in frame.columns]
    if absent:
        raise MissingColumnsError(
            f"a plate appearance is drawn from the columns {', '.join(_NEEDED)}; "
            f"this table has no {', '.join(absent)}"
        )
    chosen = frame.filter(
        nw.col("game") == game,
        nw.col("plate_appearance") == plate_appearance,
        ~nw.col("pitch").is_null(),
        ~nw.col("outcome").is_null(),
    ).sort("pitch")
    if not len(chosen):
        return look.nothing(ax, f"There is no pitch of plate appearance {plate_appearance} in game {game}.")
    visit, fault = _complete(chosen)
    lines = -(-len(visit) // _ACROSS)
    across = -(-len(visit) // lines)
    ax, own = look.axes_for(ax, max(6.4, 0.4 + _CELL_IN[0] * across), 1.2 + _CELL_IN[1] * lines)
    ax.set_xlim(0, across)
    ax.set_ylim(lines, 0)
    ax.set_axis_off()
    figure = ax.get_figure(root=True)
    assert figure is not None
    room = ax.get_window_extent().width / across * 72 / figure.dpi
    for number in range(len(visit)):
        _draw_pitch(ax, visit, number, (number % across, number // across), room)
    return look.finish(ax, own, _title(visit), _caption(visit, fault), alt=_alt(visit, fault))


def _complete(chosen: nw.DataFrame[Any]) -> tuple[pd.DataFrame, str]:
    """Return the pitches in plain types, absent columns missing, and why their order cannot be trusted.

    The count is filled in from the order where the table does not say it, and ``across_in`` is added: inches
    from the middle of the plate to the right, seen from the catcher where the hitter's side is known.
    """
    order = put_in_order(chosen)
    given = chosen.to_pandas().reset_index(drop=True)
    visit = given[list(_NEEDED)].copy()
    for name in _TEXTS:
        visit[name] = given[name].astype(object) if name in given else None
        visit[name] = visit[name].where(visit[name].notna(), None)
    for name in _NUMBERS:
        visit[name] = pd.to_numeric(given[name]).astype(float) if name in given else np.nan
    for name in _FLAGS:
        visit[name] = given[name].fillna(False).astype(bool) if name in given else False
    for name, rebuilt in (("balls", order.balls), ("strikes", order.strikes)):
        visit[name] = visit[name].fillna(pd.Series(rebuilt, dtype=float).where(rebuilt >= 0))
    visit["side"] = np.where(visit["hitter_side"] == "right", -1, 1)
    visit["across_in"] = visit["inside_in"] * visit["side"]
    return visit, "" if order.faults.empty else str(order.faults["fault"].iloc[0])


def _draw_pitch(ax: Axes, visit: pd.DataFrame, number: int, cell: tuple[int, int], room: float) -> None:
    pitch = visit.iloc[number]
    color = _color(pitch)
    middle, top = cell[0] + 0.5, float(cell[1])
    if cell[0]:
        ax.plot(
            [middle - 0.7, middle - 0.52], [top + 0.06] * 2, color=look.FAINT, linewidth=1.2, label="then"
        )
    look.put(
        ax, middle - 0.44, top + 0.0, f"{int(pitch['pitch'])}", ha="left", va="top", color=look.QUIET,
        fontweight="bold",
    )  # fmt: skip
    look.put(ax, middle, top + 0.06, _count(pitch), ha="center", va="center", size=17, fontweight="bold")
    kind = wrapped(_kind(pitch), 0.94 * room, look.SMALL)[:2]
    for line, text in enumerate(kind):
        low = top + 0.15 + _LINE * (line + (2 - len(kind)) / 2)
        look.put(ax, middle, low, text, ha="center", va="center", size=look.SMALL)
    look.put(ax, middle, top + 0.265, _speed(pitch), ha="center", va="center", fontweight="bold")
    across, lines = ax.get_xlim()[1], ax.get_ylim()[0]
    panel = ax.inset_axes(((cell[0] + 0.04) / across, 1 - (top + 0.79) / lines, 0.92 / across, 0.485 / lines))
    look.axes_for(panel)
    _draw_zone(panel, visit, number)
    for line, text in enumerate(_lines(_happened(pitch), 0.95 * room)):
        look.put(
            ax, middle, top + 0.835 + _LINE * line, text, ha="center", va="center", size=look.SMALL,
            color=color, fontweight="bold" if line == 0 else "normal",
        )  # fmt: skip


def _draw_zone(ax: Axes, visit: pd.DataFrame, number: int) -> None:
    """Draw plate, zone and hitter to scale, this pitch, and faintly those before it."""
    pitch = visit.iloc[number]
    usual = Borders()
    bottom, top = (
        usual_in if np.isnan(pitch[name]) else float(pitch[name])
        for name, usual_in in (("zone_bottom_in", usual.bottom_in), ("zone_top_in", usual.top_in))
    )
    wide, low, high = _reach(visit)
    stands = float(pitch["side"]) * (wide - 3.5)
    ax.plot([stands, stands], [1.0, 49.0], color=look.GRID, linewidth=6, solid_capstyle="round", zorder=0,
            label="hitter")  # fmt: skip
    ax.add_patch(Circle((stands, 55.0), 3.4, facecolor=look.GRID, linewidth=0, zorder=0, label="hitter"))
    ax.add_patch(
        Polygon(
            [(-8.5, 4.5), (8.5, 4.5), (8.5, 2.5), (0, 0.5), (-8.5, 2.5)], facecolor=look.GRID, linewidth=0,
            label="home plate",
        )
    )  # fmt: skip
    ax.add_patch(
        Rectangle(
            (-_HALF_PLATE_IN, bottom), 2 * _HALF_PLATE_IN, top - bottom, facecolor="none",
            edgecolor=look.QUIET, linewidth=1.1, zorder=1, label="zone",
        )
    )  # fmt: skip
    ax.plot([-wide, wide], [0.0, 0.0], color=look.GRID, linewidth=1.0, zorder=0, label="ground")
    before = visit.iloc[:number]
    ax.scatter(before["across_in"], before["height_in"], s=12, color=look.FAINT, linewidths=0, zorder=2,
               label="before")  # fmt: skip
    color, mark = _color(pitch), _MARKS.get(str(pitch["outcome"]), "o")
    hollow = mark == "o" and "strike" not in str(pitch["outcome"])
    if np.isfinite(pitch["across_in"]) and np.isfinite(pitch["height_in"]):
        ax.scatter(
            [pitch["across_in"]], [pitch["height_in"]], s=80, marker=mark,
            facecolors=look.BACKGROUND if hollow else color,
            edgecolors=color if hollow else look.BACKGROUND, linewidths=2.2 if hollow else 0.6,
            zorder=3, label="pitch",
        )  # fmt: skip
    else:
        look.put(
            ax, 0.0, (bottom + top) / 2, "place\nnot\nknown", ha="center", va="center", size=look.SMALL,
            color=look.QUIET,
        )  # fmt: skip
    ax.set_xlim(-wide, wide)
    ax.set_ylim(low, high)
    ax.set_aspect("equal", adjustable="box")
    ax.set_axis_off()


def _reach(visit: pd.DataFrame) -> tuple[float, float, float]:
    """Return half the width, the lower and the upper end of all panels, in inches."""
    places = visit[["across_in", "height_in"]].to_numpy(float)
    across, height = (column[np.isfinite(column)] for column in places.T)
    wide = max([_WIDE_IN, *(np.abs(across) + 5.0)])
    return float(wide), float(min([0.0, *(height - 5.0)])), float(max([_HIGH_IN, *(height + 5.0)]))


def _color(pitch: pd.Series[Any]) -> str:
    return look.ACCENTS[0] if pitch["outcome"] in _MARKS else look.ACCENTS[1]


def _count(pitch: pd.Series[Any]) -> str:
    known = np.isfinite(pitch["balls"]) and np.isfinite(pitch["strikes"])
    return f"{int(pitch['balls'])}-{int(pitch['strikes'])}" if known else "?-?"


def _kind(pitch: pd.Series[Any]) -> str:
    return pitch["pitch_kind"] or "kind not known"


def _speed(pitch: pd.Series[Any]) -> str:
    return f"{plain(float(pitch['speed_mph']))} mph" if np.isfinite(pitch["speed_mph"]) else "speed not known"


def _place(pitch: pd.Series[Any]) -> str:
    inside, height = float(pitch["inside_in"]), float(pitch["height_in"])
    if not np.isfinite(inside) or not np.isfinite(height):
        return "place not known"
    toward = "inside" if inside > 0 else "outside"
    return f"{plain(abs(inside))} in {toward} of the middle, {plain(height)} in high"


def _happened(pitch: pd.Series[Any]) -> list[str]:
    """Say what became of the pitch: the outcome, then what more is known of it."""
    outcome = str(pitch["outcome"])
    more: list[str] = []
    hit: list[str] = []
    if pitch["bunt"]:
        outcome = "bunt missed" if outcome == "whiff" else f"bunt, {outcome}"
    if pitch["check_swing"]:
        more.append("check swing, went" if pitch["outcome"] in _MARKS else "check swing, held")
    if outcome.endswith("foul") and pitch["foul_side"]:
        side = pitch["foul_side"]
        more.append(side if side == "straight back" else f"{side} side")
    if pitch["result"] and pitch["result"] != outcome:
        more.append(str(pitch["result"]))
    if np.isfinite(pitch["exit_mph"]):
        hit.append(f"{plain(float(pitch['exit_mph']), 0)} mph")
    if np.isfinite(pitch["launch_deg"]):
        angle = float(pitch["launch_deg"])
        hit.append(f"{plain(abs(angle), 0)}° {'up' if angle >= 0 else 'down'}")
    if hit:
        more.append(", ".join(hit))
    return [outcome, *more]


def _lines(parts: list[str], width: float) -> list[str]:
    lines = [line for part in parts[:1] for line in wrapped(part, width, look.SMALL, "bold")]
    return lines + [line for part in parts[1:] for line in wrapped(part, width, look.SMALL)]


def _title(visit: pd.DataFrame) -> str:
    hitters, pitchers = (list(dict.fromkeys(visit[name].dropna())) for name in ("hitter", "pitcher"))
    who = " then ".join(map(str, hitters)) or "A plate appearance"
    against = f" against {' then '.join(map(str, pitchers))}" if pitchers else ""
    number = "1 pitch" if len(visit) == 1 else f"{len(visit)} pitches"
    results = visit["result"].dropna()
    end = f": {results.iloc[-1]} on {number}" if len(results) else f": {number}, no result"
    return f"{who}{against}{end}"


def _caption(visit: pd.DataFrame, fault: str) -> str:
    sides = visit["hitter_side"].notna()
    view = (
        "Seen from the catcher; the pale figure is the hitter"
        if sides.all()
        else "The hitter's side is not known; the pale figure, the hitter, stands at the right"
    )
    text = (
        f"{_where(visit)}. Over each pitch its number and the count before it. {view}, "
        "specks are the pitches before. Ring: a ball; filled: a called strike; cross: a miss; triangle: a "
        "foul; diamond: in play."
    )
    return text + (f" The order cannot be trusted: {fault}." if fault else "")


def _where(visit: pd.DataFrame) -> str:
    """Name the game, and the situation before the first pitch as far as it is known."""
    first = visit.iloc[0]
    parts = [f"Plate appearance {int(first['plate_appearance'])} of {first['game']}"]
    if first["inning"] is not None and first["half"] is not None:
        parts.append(f"{first['half']} of inning {int(first['inning'])}")
    if first["bases"] is not None:
        named = " and ".join(str(first["bases"]).split())
        on = {"empty": "bases empty", "full": "bases full"}.get(str(first["bases"]))
        parts.append(on or f"{'runners' if ' ' in named else 'a runner'} on {named}")
    if first["outs"] is not None:
        parts.append(f"{('nobody', 'one', 'two')[int(first['outs'])]} out")
    return ", ".join(parts)


def _alt(visit: pd.DataFrame, fault: str) -> str:
    told = [
        f"Pitch {int(pitch['pitch'])}, count {_count(pitch)}: {_kind(pitch)}, {_speed(pitch)}, "
        f"{_place(pitch)}; {', '.join(_happened(pitch))}."
        for _, pitch in visit.iterrows()
    ]
    return f"{_title(visit)}. {_where(visit)}. {' '.join(told)}" + (
        f" The order cannot be trusted: {fault}." if fault else ""
    )
