"""The look of the pictures: colours, type, a fresh figure, and text that stays readable.

Everything is set on the artist that it concerns; no global style is changed. The colours are this
project's own; ``tests/test_plots_look.py`` holds the contrast of every one of them against the background
and their difference under simulated colour blindness.
"""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from typing import Any, Literal, NamedTuple

from matplotlib import rcParams
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Annotation
from matplotlib.ticker import FuncFormatter

from hitlab.plots.alt import keep_words
from hitlab.plots.lettering import families, measuring, move_apart, readable, width_of, wrapped
from hitlab.wording import rate_text

__all__ = [
    "ACCENTS",
    "BACKGROUND",
    "BANDS",
    "EDGE",
    "FAINT",
    "GRID",
    "INK",
    "QUIET",
    "axes_for",
    "cased",
    "columns",
    "finish",
    "lead",
    "narrowed",
    "nothing",
    "put",
    "rate_axis",
]

BACKGROUND = "#FAF9F5"
INK = "#1F2A33"
QUIET = "#5A6670"
"""Text of the second rank: captions, numbers of records."""
FAINT = "#868F96"
"""Marks of those who are not named."""
GRID = "#E3E1DA"
"""Guide lines behind the data; they carry no information of their own."""
BANDS = ("#DCE3E2", "#B4C7C9")
"""Fills of an outer and an inner band; where they end is told by an outline in ``EDGE``."""
EDGE = "#5A6670"
"""Outlines of bands: where an area ends is what it says."""
ACCENTS = ("#B5470E", "#0B6478", "#4B1C7D")
"""Rust (who it is about), teal (who he is compared with), violet (a third)."""

MIDDLE = 0.36
"""How far a row's middle lies above the baseline, in type sizes; accents would move a centred box."""

TITLE, BODY, SMALL = 14.0, 11.0, 10.0
"""Type sizes in points; nothing is smaller, save names that are too long for their place."""

TALLEST = 6.3
"""Inches of a picture, unless its names need more: on a slide ``SMALL`` can be read from the back row."""

_PAD = 12.0  # pixels kept free at the figure's edge
_WIDEST = 230.0  # points of a label beside the picture
_LEAST_TYPE = 7.0  # of names that are very long
_MOST_PASSES = 4
_LEAST = 30.0  # pixels of axes that are kept, however long the names
_LINE = 1.3  # height of a line of text, in type sizes
_TICKS = 8  # along an axis, as many as most have


def axes_for(ax: Axes | None, width: float = 9.6, height: float = 5.4) -> tuple[Axes, bool]:
    """Return the axes to draw on, dressed, and whether the figure is a fresh one of ours.

    Parameters
    ----------
    ax
        The caller's axes, or ``None`` for a fresh figure that pyplot does not know.
    width, height
        Inches of a fresh figure.
    """
    if ax is not None:
        return _dressed(ax), False
    # Whoever sets a style of his own between two pictures has it in the second.
    if not _FRESH or not dict.__eq__(_FRESH[0], rcParams):
        _FRESH[:] = rcParams.copy(), _fresh()
    figure: Figure = pickle.loads(_FRESH[1])
    figure.set_size_inches(width, height)
    FigureCanvasAgg(figure)  # keeps one renderer; without it every text that is measured makes its own
    return figure.axes[0], True


_FRESH: list[Any] = []
"""A fresh figure as bytes, after the settings that it was made with: matplotlib takes four times as long to
make one, with the ticks that most pictures have, as to make it again from these. Then what the last steady
picture was, how far it reached over its axes, and how far off their titles stood."""


def _fresh() -> bytes:
    ax = Figure(dpi=100, facecolor=BACKGROUND, layout=None).add_axes((0.1, 0.12, 0.8, 0.7))
    _dressed(ax)
    for axis in (ax.xaxis, ax.yaxis):
        axis.get_major_ticks(_TICKS)
    return pickle.dumps(ax.figure, protocol=pickle.HIGHEST_PROTOCOL)


def _dressed(ax: Axes) -> Axes:
    ax.set_facecolor(BACKGROUND)
    for name, spine in ax.spines.items():
        spine.set_visible(name == "bottom")
        spine.set_color(FAINT)
        spine.set_linewidth(0.8)
    ax.grid(False)
    ax.tick_params(
        axis="both", which="both", colors=QUIET, labelsize=SMALL, labelfontfamily=families(""), length=0
    )
    return ax


def put(
    ax: Axes,
    x: float,
    y: float,
    text: str,
    *,
    size: float = BODY,
    color: str = INK,
    shift: tuple[float, float] = (0.0, 0.0),
    coords: Any = "data",
    **more: Any,
) -> Annotation:
    """Write on the axes: any script, no mathematics, ``shift`` in points from the place.

    Parameters
    ----------
    x, y, coords
        The place, in matplotlib's coordinates for annotations.
    """
    return ax.annotate(
        "\n".join(readable(line) for line in text.split("\n")),
        (x, y),
        xycoords=coords,
        xytext=shift,
        textcoords="offset points",
        fontsize=size,
        color=color,
        fontfamily=families(text),
        parse_math=False,
        usetex=False,
        annotation_clip=False,
        **more,
    )


def columns(
    ax: Axes,
    side: Literal["left", "right"],
    texts: Sequence[Sequence[str]],
    colors: Sequence[str],
    heads: Sequence[str] = (),
    *,
    size: float = SMALL,
    quiet: int = 0,
) -> None:
    """Write columns of text beside the rows 0, 1, 2, ... of the axes.

    Parameters
    ----------
    side
        Which side; the first column stands next to the axes.
    texts
        One sequence a column, one text a row.
    colors
        One a row.
    heads
        Titles over the columns.
    quiet
        So many columns, from the first, are in the colour of what is said by the way.
    """
    sign, align = (-1, "right") if side == "left" else (1, "left")
    off = 10.0
    for number, column in enumerate(texts):
        head = heads[number] if heads else ""
        widest = width_of(head, size)
        for row, (text, color) in enumerate(zip(column, colors, strict=True)):
            lines, letters = narrowed(text, size)
            widest = max(widest, *(width_of(line, letters) for line in lines))
            for line_number, line in enumerate(lines):
                low = MIDDLE + 1.2 * (line_number - (len(lines) - 1) / 2)
                put(
                    ax, float(side == "right"), row, line, coords=("axes fraction", "data"),
                    shift=(sign * off, -low * letters), ha=align, va="baseline", size=letters,
                    color=QUIET if number < quiet else color,
                )  # fmt: skip
        if head:
            put(
                ax, float(side == "right"), 1.0, head, coords="axes fraction", shift=(sign * off, 3),
                ha=align, va="bottom", size=size, color=QUIET,
            )  # fmt: skip
        off += widest + 10.0


def narrowed(text: str, size: float, width: float = _WIDEST) -> tuple[list[str], float]:
    """Return a label's lines and type size: smaller where it is long, then broken; nothing of it is cut."""
    fits = size * width / max(width_of(text, size), 1e-9)
    if fits >= _LEAST_TYPE:
        return [text] if text else [""], min(size, fits)
    return wrapped(text, width, _LEAST_TYPE), _LEAST_TYPE


def lead(color: str, side: float) -> dict[str, Any]:
    """Return the thin line from a label to its mark, for ``put(arrowprops=...)``; side 1 is the right."""
    return {
        "arrowstyle": "-",
        "color": color,
        "linewidth": 0.6,
        # No patches to stop at and a gap by hand: matplotlib's way of finding the gap takes most of the time.
        "patchA": None,
        "shrinkA": 0,
        "shrinkB": 0,
        "relpos": (1.02 * side - 0.01, 0.5),
    }


def cased(width: float) -> list[Any]:
    """Return path effects that draw a dark line on a light border, to be seen on any fill.

    Parameters
    ----------
    width
        Of the line in points; the border is as wide again.
    """
    # Loaded where a line crosses fills, which most pictures have not.
    from matplotlib.patheffects import Normal, Stroke

    return [Stroke(linewidth=2 * width + 1, foreground=BACKGROUND), Normal()]


def rate_axis(axis: Any, words: str, *, size: float = SMALL) -> None:
    """Make an axis of rates: the package's way to write them, and a title in plain words."""
    axis.set_major_formatter(FuncFormatter(lambda value, _: rate_text(value)))
    axis.set_label_text(readable(words), fontsize=size, color=QUIET, fontfamily=families(words))
    axis.label.set_parse_math(False)


def nothing(ax: Axes | None, words: str) -> Axes:
    """Return axes that say in words why there is nothing to see."""
    ax, own = axes_for(ax, height=2.4)
    ax.set_axis_off()
    put(ax, 0.5, 0.5, words, coords="axes fraction", ha="center", va="center", size=BODY + 1, color=QUIET)
    return finish(ax, own, "", "", alt=words)


def finish(
    ax: Axes,
    own: bool,
    title: str,
    below: str,
    *,
    alt: str,
    apart: Sequence[Sequence[Annotation]] = (),
    steady: Any = None,
) -> Axes:
    """Put the title and the caption beneath it above the axes, keep the words, make all fit.

    Parameters
    ----------
    own
        Whether the figure is ours; then the margins are set so that no text leaves it.
    title, below
        What is seen, and what bands and marks mean.
    alt
        The picture in words.
    apart
        Groups of labels, one above the other, that are moved until none lies on another.
    steady
        What reaches over the axes does not change with their size, as with ticks that are set, and is the
        same wherever this is: it is then measured once, and not again for the next such picture.
    """
    if own and steady is not None:
        key = (steady, *_root(ax).bbox.size)
        if _FRESH[2:3] != [key]:
            over, frame = _overhang(ax), ax.get_window_extent()
            x, y = ax.yaxis.label.get_position()[0], ax.xaxis.label.get_position()[1]
            _FRESH[2:] = key, over, (frame.x0 - x, frame.y0 - y)
        over, (aside, beneath) = _FRESH[3:]
    else:
        over = _overhang(ax)
    if own:
        _place(ax, over, sides_only=True)
    if title:
        over = over._replace(top=_head(ax, own, over, title, below))
    if own:
        for _ in range(_MOST_PASSES):
            _place(ax, over)
            if steady is not None:
                # Where the axes' titles stand is known too; else all numbers would be measured for it.
                frame = ax.get_window_extent()
                ax.xaxis.set_label_coords(0.5, -beneath / frame.height)
                ax.yaxis.set_label_coords(-aside / frame.width, 0.5)
                break
            before, over = over, _overhang(ax)
            if max(abs(a - b) for a, b in zip(before, over, strict=True)) < 1.0:
                break  # else ticks or panels changed with the size
    frame = ax.get_window_extent()
    for labels in apart:
        move_apart(labels, frame.y0, frame.y1)
    keep_words(ax, " ".join(alt.split()))
    return ax


class _Overhang(NamedTuple):
    """How far what is drawn reaches over the edges of the axes, in pixels."""

    left: float
    right: float
    bottom: float
    top: float


def _overhang(ax: Axes) -> _Overhang:
    box, frame = ax.get_tightbbox(measuring(_root(ax).dpi)), ax.get_window_extent()
    assert box is not None
    return _Overhang(frame.x0 - box.x0, box.x1 - frame.x1, frame.y0 - box.y0, box.y1 - frame.y1)


def _root(ax: Axes) -> Figure:
    figure = ax.get_figure(root=True)
    assert figure is not None
    return figure


def _head(ax: Axes, own: bool, over: _Overhang, title: str, below: str) -> float:
    """Write title and caption above what is drawn; return how far they reach over the axes, in pixels."""
    figure, frame = _root(ax), ax.get_window_extent()
    left = frame.x0 - max(over.left, 0.0)
    right = figure.bbox.x1 - _PAD if own else frame.x1 + max(over.right, 0.0)
    scale = figure.dpi / 72
    low = max(over.top, 0.0) / scale + 6.0
    for text, size, color, weight in ((below, SMALL, QUIET, "normal"), (title, TITLE, INK, "bold")):
        lines = wrapped(text, (right - left) / scale, size, weight)
        written = put(
            ax, 0.0, 1.0, "\n".join(lines), coords="axes fraction",
            shift=((left - frame.x0) / scale, low), size=size, color=color, fontweight=weight,
            va="bottom", ha="left", linespacing=_LINE,
        )  # fmt: skip
        low += len(lines) * size * _LINE + 3.0
    # Where the title really ends: then what is laid out with it is laid out once.
    top = written.get_window_extent(measuring(figure.dpi)).y1 - frame.y1
    return float(max(top, over.top))


def _place(ax: Axes, over: _Overhang, *, sides_only: bool = False) -> None:
    """Move the axes' edges so that everything drawn on them lies inside the figure."""
    width, height = _root(ax).bbox.size
    frame = ax.get_window_extent()
    left, right = _PAD + max(over.left, 0.0), width - _PAD - max(over.right, 0.0)
    low, high = (
        (frame.y0, frame.y1)
        if sides_only
        else (_PAD + max(over.bottom, 0.0), height - _PAD - max(over.top, 0.0))
    )
    right, high = max(right, left + _LEAST), max(high, low + _LEAST)
    ax.set_position((left / width, low / height, (right - left) / width, (high - low) / height))
