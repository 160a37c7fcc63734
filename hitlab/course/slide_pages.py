"""Slides drawn: pages of 16:9, to be read from the back row, as a PDF whose text stays text."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import NamedTuple

import matplotlib as mpl
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from hitlab.course.slide_pictures import Cut, cuts
from hitlab.course.slides import Part, Picture, Slide
from hitlab.course.sources import CourseError
from hitlab.plots.lettering import balanced, families, readable, width_of, wrapped
from hitlab.plots.look import ACCENTS, BACKGROUND, GRID, INK, QUIET

__all__ = ["HEIGHT", "LEAST_LETTERS", "WIDTH", "deck", "draw_slide", "too_small"]

WIDTH, HEIGHT = 960.0, 540.0
"""Of a page in points: 13.33 x 7.5 inches."""

LEAST_LETTERS = 12.0
"""Points of the smallest letters in a picture: at 7.5 inches of a page they can be read from the back row."""

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
_EDGE, _SIDE = 8.0, 24.0  # of a page that a picture has for itself, in points
_WIDE = WIDTH - 2 * _SIDE
_NUMBER = 30.0  # points between the end of the lesson's name and the edge, where the slide's number stands
_BELOW = 0.4  # from a title's baseline to the picture, in type sizes
_LONG_TITLE = "its title needs more than two lines; use fewer or shorter words"


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


class _Put(NamedTuple):
    """Where a picture stands on its page, in points, beside what text."""

    cut: Cut
    scale: float
    """Points of a pixel."""
    left: float
    low: float
    block: _Block | None = None
    tight: bool = False
    """Whether title and corner make room for it."""

    @property
    def letters(self) -> float:
        """Type size of the picture's smallest letters on the page, in points."""
        return self.scale * self.cut.letters


def draw_slide(slide: Slide) -> list[Figure]:
    """Draw one slide: a page, or two where its picture needs one of its own.

    Parameters
    ----------
    slide
        Without faults, as ``read_slides`` tells them.

    Returns
    -------
    list of matplotlib.figure.Figure
        Each line of text is a text of the figure; a picture stands in axes of its own. Where its letters
        would be smaller than ``LEAST_LETTERS`` beside the words, the picture has the first page for itself,
        and the words follow on the second.

    Raises
    ------
    CourseError
        Where it does not fit its pages; the message names lesson and slide.
    """
    if slide.picture is None:
        return [_page_of_words(slide)]
    put, page = _put(slide, slide.picture), _page()
    if put.tight:
        _draw_head(page, slide)
    else:
        _draw_title(page, _title(slide))
        _draw_corner(page, slide)
    _draw_picture(page, put)
    if put.block is None:
        return [page, _page_of_words(slide)]
    _draw_block(page, put.block, _title(slide).low - _GAP)
    return [page]


def too_small(slides: Sequence[Slide]) -> list[str]:
    """Say of which slides the picture's letters cannot be read from the back row, one sentence each.

    Raises
    ------
    CourseError
        Where a slide does not fit its pages.
    """
    found = []
    for slide in slides:
        letters = _put(slide, slide.picture).letters if slide.picture else LEAST_LETTERS
        if letters < LEAST_LETTERS:
            found.append(
                f"{slide.lesson}, slide {slide.place}: the letters in its picture come out at {letters:.1f} "
                f"points, and {LEAST_LETTERS:g} is the least that can be read from the back row: show a "
                "picture that is less tall, or with fewer rows"
            )
    return found


def _page() -> Figure:
    figure = Figure((WIDTH / 72, HEIGHT / 72), dpi=100, facecolor=BACKGROUND)
    FigureCanvasAgg(figure)
    return figure


def _page_of_words(slide: Slide) -> Figure:
    figure, title = _page(), _title(slide)
    _draw_title(figure, title)
    _draw_corner(figure, slide)
    blocks = [_set(slide.parts, size, _INNER) for size in _TEXTS]
    room = title.low - _FLOOR - _GAP
    block = next((one for one in blocks if one.height <= room), None)
    if block is None:
        raise _does_not_fit(slide, "its text does not fit; use fewer or shorter words")
    _draw_block(figure, block, title.low - _GAP - _SUNK * (room - block.height))
    return figure


def _does_not_fit(slide: Slide, why: str) -> CourseError:
    return CourseError(f"{slide.lesson}, slide {slide.place}: {why}")


class _Title(NamedTuple):
    """A title's lines, their type size, and where what stands below may begin."""

    lines: list[str]
    size: float
    low: float


def _title(slide: Slide) -> _Title:
    """Return the title at the largest size that fits."""
    sizes = [(size, 1) for size in _TITLES] + [(size, 2) for size in _TWO_LINES]
    fitting = (
        _Title(lines, size, _TOP - 1.25 * size * len(lines) - 8.0)
        for size, most in sizes
        if len(lines := balanced(slide.title, _INNER, size, "bold")) <= most
    )
    title = next(fitting, None)
    if title is None:
        raise _does_not_fit(slide, _LONG_TITLE)
    return title


def _draw_title(figure: Figure, title: _Title) -> None:
    """Write the title with the line under it."""
    low = _TOP
    for line in title.lines:
        low -= title.size
        _write(figure, line, _MARGIN, low, title.size, INK, bold=True)
        low -= 0.25 * title.size
    ends = ([_MARGIN / WIDTH, (_MARGIN + 72) / WIDTH], [title.low / HEIGHT] * 2)
    figure.add_artist(Line2D(*ends, color=ACCENTS[0], linewidth=3))


class _Head(NamedTuple):
    """The title over a picture that has a page for itself, and the corner's words beside it or above."""

    lines: list[str]
    first: float
    """Baseline of the first line."""
    corner: float
    """Baseline of the corner's words."""
    low: float


def _head(slide: Slide) -> _Head:
    size = _TITLES[-1]
    corner = width_of(slide.lesson, _CORNER) + _NUMBER
    one = balanced(slide.title, _WIDE - corner, size, "bold")  # which leaves a gap to the corner
    if len(one) == 1:
        first = HEIGHT - _EDGE - 0.75 * size
        return _Head(one, first, first, first - _BELOW * size)
    top = HEIGHT - _EDGE - 0.75 * _CORNER
    lines = balanced(slide.title, _WIDE, size, "bold")
    if len(lines) > 2:
        raise _does_not_fit(slide, _LONG_TITLE)
    first = top - 0.5 * _CORNER - size
    return _Head(lines, first, top, first - 1.25 * size * (len(lines) - 1) - _BELOW * size)


def _draw_head(figure: Figure, slide: Slide) -> None:
    head, size = _head(slide), _TITLES[-1]
    for number, line in enumerate(head.lines):
        _write(figure, line, _SIDE, head.first - 1.25 * size * number, size, INK, bold=True)
    _write(figure, slide.lesson, WIDTH - _SIDE - _NUMBER, head.corner, _CORNER, QUIET, align="right")
    _write(figure, str(slide.place), WIDTH - _SIDE, head.corner, _CORNER, QUIET, align="right")


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


def _put(slide: Slide, picture: Picture) -> _Put:
    """Put the picture where it can be read: with the words, alone, or alone and close to the edges.

    As much of it is shown as can be read there. The last and least is given where nothing can be read.
    """
    title, head, some = _title(slide), _head(slide), cuts(picture)
    ways = [
        *(_largest_beside(slide, cut, title.low) for cut in some),
        *(_alone(cut, (_MARGIN, _FLOOR, _INNER, title.low - 0.5 * _GAP - _FLOOR)) for cut in some),
        *(_alone(cut, (_SIDE, _EDGE, _WIDE, head.low - _EDGE), tight=True) for cut in some),
    ]
    puts = [put for put in ways if put is not None]
    return next((put for put in puts if put.letters >= LEAST_LETTERS), puts[-1])


def _largest_beside(slide: Slide, cut: Cut, top: float) -> _Put | None:
    tall, wide = cut.pixels.shape[:2]
    best: _Put | None = None
    size = _TEXTS[-1]
    for column in (_INNER, *_COLUMNS):
        block = _set(slide.parts, size, column)
        below = column == _INNER
        if block.height > top - _FLOOR - _GAP or max(map(_widest, slide.parts)) * size > column:
            continue
        room_x = _INNER if below else _INNER - column - _GAP
        room_y = top - _FLOOR - _GAP - (block.height + 0.5 * _GAP if below else 0.0)
        scale = min(room_x / wide, room_y / tall)
        if scale > 0 and (best is None or scale > best.scale):
            left = _MARGIN if below else _MARGIN + column + _GAP
            best = _Put(
                cut, scale, left + (room_x - scale * wide) / 2, _FLOOR + (room_y - scale * tall) / 2, block
            )
    return best


def _alone(cut: Cut, room: tuple[float, float, float, float], *, tight: bool = False) -> _Put:
    """Put a picture into the middle of a room: left, low, width and height in points."""
    tall, wide = cut.pixels.shape[:2]
    left, low, room_x, room_y = room
    scale = min(room_x / wide, room_y / tall)
    left, low = left + (room_x - scale * wide) / 2, low + (room_y - scale * tall) / 2
    return _Put(cut, scale, left, low, None, tight)


def _draw_picture(figure: Figure, put: _Put) -> None:
    tall, wide = put.cut.pixels.shape[:2]
    place = put.left / WIDTH, put.low / HEIGHT, put.scale * wide / WIDTH, put.scale * tall / HEIGHT
    ax = figure.add_axes(place)
    # Every pixel of the picture goes into the PDF as it is.
    ax.imshow(put.cut.pixels, interpolation="none", aspect="auto")
    ax.set_xticks([])
    ax.set_yticks([])
    for spine in ax.spines.values():
        spine.set_color(GRID)


def _widest(part: Part) -> float:
    """Return the width of a part's longest word, in type sizes."""
    words = max(width_of(word, 1.0) for word in part.text.split())
    return words + (_INDENT if part.bullet else 0.0)


def deck(slides: Sequence[Slide]) -> bytes:
    """Return slides as one PDF, page after page, the same bytes every time.

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
            for page in draw_slide(slide):
                if page.axes and slide.picture is not None and slide.picture.words:
                    pages.attach_note(slide.picture.words)
                pages.savefig(page, facecolor=BACKGROUND)
    return held.getvalue()
