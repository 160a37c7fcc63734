"""Slides drawn: pages of 16:9, to be read from the back row, as a PDF whose text stays text."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import NamedTuple

import matplotlib as mpl
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.image import imread
from matplotlib.lines import Line2D

from hitlab.course.slides import Part, Picture, Slide
from hitlab.course.sources import CourseError
from hitlab.plots.lettering import balanced, families, readable, width_of, wrapped
from hitlab.plots.look import ACCENTS, BACKGROUND, GRID, INK, QUIET

__all__ = ["HEIGHT", "WIDTH", "deck", "draw_slide"]

WIDTH, HEIGHT = 960.0, 540.0
"""Of a page in points: 13.33 x 7.5 inches."""

_MARGIN = 48.0
_INNER = WIDTH - 2 * _MARGIN
_TITLES = (42.0, 38.0, 35.0, 32.0)  # the largest that needs one line
_TWO_LINES = (36.0, 32.0)
_TEXTS = (36.0, 32.0, 28.0, 24.0)  # the largest that fits; beside a picture the smallest
_CORNER = 14.0
_TOP, _FLOOR = 500.0, 54.0  # where the title begins, and what stands above the corner ends
_LEADING = 1.38  # from line to line, in type sizes
_GAP = 20.0
_INDENT = 1.1  # of a bullet's text, in type sizes
_SUNK = 0.2  # of the free room stands above text without a picture
_COLUMNS = (270.0, 320.0, 380.0)  # of the text beside a picture
_LEAST_PICTURE = 180.0  # points of its height


class _Line(NamedTuple):
    text: str
    x: float
    down: float
    """From the top of the block to the baseline."""


class _Block(NamedTuple):
    """Lines of text set to a width."""

    lines: list[_Line]
    size: float
    height: float


def _set(parts: Sequence[Part], size: float, width: float) -> _Block:
    lines: list[_Line] = []
    down = 0.0
    for part in parts:
        down += 0.35 * size if lines else 0.0
        indent = _INDENT * size if part.bullet else 0.0
        for number, text in enumerate(wrapped(part.text, width - indent, size)):
            if part.bullet and number == 0:
                lines.append(_Line("•", 0.0, down + size))
            lines.append(_Line(text, indent, down + size))
            down += _LEADING * size
    return _Block(lines, size, down)


def draw_slide(slide: Slide) -> Figure:
    """Draw one slide.

    Parameters
    ----------
    slide
        Without faults, as ``read_slides`` tells them.

    Returns
    -------
    matplotlib.figure.Figure
        Each line of text is a text of the figure; a picture stands in axes of its own.

    Raises
    ------
    CourseError
        Where it does not fit its page; the message names lesson and slide.
    """
    figure = Figure((WIDTH / 72, HEIGHT / 72), dpi=100, facecolor=BACKGROUND)
    FigureCanvasAgg(figure)
    top = _draw_title(figure, slide)
    _draw_corner(figure, slide)
    if slide.picture is None:
        blocks = [_set(slide.parts, size, _INNER) for size in _TEXTS]
        block = next((one for one in blocks if one.height <= top - _FLOOR - _GAP), blocks[-1])
        if block.height > top - _FLOOR - _GAP:
            raise _does_not_fit(slide, "its text does not fit; use fewer or shorter words")
        free = top - _FLOOR - _GAP - block.height
        _draw_block(figure, block, top - _GAP - _SUNK * free)
    else:
        _draw_with_picture(figure, slide, slide.picture, top)
    return figure


def _does_not_fit(slide: Slide, why: str) -> CourseError:
    return CourseError(f"{slide.lesson}, slide {slide.place}: {why}")


def _draw_title(figure: Figure, slide: Slide) -> float:
    """Write the title with the line under it; return where that line is."""
    sizes = [(size, 1) for size in _TITLES] + [(size, 2) for size in _TWO_LINES]
    fitting = (
        (size, lines)
        for size, most in sizes
        if len(lines := balanced(slide.title, _INNER, size, "bold")) <= most
    )
    size, lines = next(fitting, (0.0, []))
    if not lines:
        raise _does_not_fit(slide, "its title needs more than two lines; use fewer or shorter words")
    low = _TOP
    for line in lines:
        low -= size
        _write(figure, line, _MARGIN, low, size, INK, bold=True)
        low -= 0.25 * size
    low -= 8.0
    ends = ([_MARGIN / WIDTH, (_MARGIN + 72) / WIDTH], [low / HEIGHT] * 2)
    figure.add_artist(Line2D(*ends, color=ACCENTS[0], linewidth=3))
    return low


def _draw_corner(figure: Figure, slide: Slide) -> None:
    _write(figure, slide.lesson, _MARGIN, 24.0, _CORNER, QUIET)
    _write(figure, str(slide.place), WIDTH - _MARGIN, 24.0, _CORNER, QUIET, align="right")


def _draw_block(figure: Figure, block: _Block, top: float) -> None:
    for line in block.lines:
        _write(figure, line.text, _MARGIN + line.x, top - line.down, block.size, INK)


def _write(
    figure: Figure, text: str, x: float, y: float, size: float, color: str, *, bold: bool = False,
    align: str = "left",
) -> None:  # fmt: skip
    """Write one line on the page, its baseline's end at a place in points."""
    figure.text(
        x / WIDTH, y / HEIGHT, readable(text), fontsize=size, color=color, fontfamily=families(text),
        fontweight="bold" if bold else "normal", ha=align, va="baseline", parse_math=False, usetex=False,
    )  # fmt: skip


def _draw_with_picture(figure: Figure, slide: Slide, picture: Picture, top: float) -> None:
    """Put the picture under the text or beside it, whichever leaves it larger."""
    image = _cropped(picture)
    tall, wide = image.shape[:2]
    best: tuple[float, float, float, _Block] | None = None
    size = _TEXTS[-1]
    for column in (_INNER, *_COLUMNS):
        block = _set(slide.parts, size, column)
        below = column == _INNER
        if block.height > top - _FLOOR - _GAP or max(map(_widest, slide.parts)) * size > column:
            continue
        room_x = _INNER if below else _INNER - column - _GAP
        room_y = top - _FLOOR - _GAP - (block.height + 0.5 * _GAP if below else 0.0)
        scale = min(room_x / wide, room_y / tall)
        if best is None or scale > best[0]:
            left = _MARGIN if below else _MARGIN + column + _GAP
            best = scale, left + (room_x - scale * wide) / 2, _FLOOR + (room_y - scale * tall) / 2, block
    if best is None or best[0] * tall < _LEAST_PICTURE <= tall:
        raise _does_not_fit(slide, "its words leave too little room for its picture; use fewer")
    scale, left, low, block = best
    _draw_block(figure, block, top - _GAP)
    ax = figure.add_axes((left / WIDTH, low / HEIGHT, scale * wide / WIDTH, scale * tall / HEIGHT))
    # Every pixel of the picture goes into the PDF as it is.
    ax.imshow(image, interpolation="none", aspect="auto")
    ax.set_xticks([])
    ax.set_yticks([])
    for spine in ax.spines.values():
        spine.set_color(GRID)


def _widest(part: Part) -> float:
    """Return the width of a part's longest word, in type sizes."""
    words = max(width_of(word, 1.0) for word in part.text.split())
    return words + (_INDENT if part.bullet else 0.0)


def _cropped(picture: Picture) -> np.ndarray:
    """Return the picture without the empty margin around it, so that it can be shown larger."""
    image = imread(BytesIO(picture.png), format="png")
    if image.ndim == 2:
        image = np.stack([image] * 3, axis=-1)
    if image.shape[2] == 4:  # on the ground of the page
        ground = np.array([int(BACKGROUND[i : i + 2], 16) / 255 for i in (1, 3, 5)])
        image = image[..., :3] * image[..., 3:] + ground * (1 - image[..., 3:])
    drawn = np.abs(image - image[0, 0]).max(axis=2) > 0.02
    if not drawn.any():
        return image
    rows, columns = (np.flatnonzero(drawn.any(axis=axis)) for axis in (1, 0))
    pad = 8
    return image[max(rows[0] - pad, 0) : rows[-1] + pad + 1, max(columns[0] - pad, 0) : columns[-1] + pad + 1]


def deck(slides: Sequence[Slide]) -> bytes:
    """Return slides as one PDF: a page each, the same bytes every time.

    Text is text, to be searched and read aloud; a picture's words stand in a note on its page.

    Raises
    ------
    CourseError
        Where a slide does not fit its page.
    """
    held = BytesIO()
    told = {"Title": slides[0].lesson, "Creator": "hitlab", "Producer": None, "CreationDate": None}
    # Letters as they are in the font, so that they can be searched.
    with (
        mpl.rc_context({"pdf.fonttype": 42, "pdf.compression": 6}),
        PdfPages(held, metadata=told) as pages,
    ):
        for slide in slides:
            if slide.picture is not None and slide.picture.words:
                pages.attach_note(slide.picture.words)
            pages.savefig(draw_slide(slide), facecolor=BACKGROUND)
    return held.getvalue()
