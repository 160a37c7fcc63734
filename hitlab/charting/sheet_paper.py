"""The paper that pitches are charted on in the dugout: one page a half inning, and one of rules.

All measures are millimetres from the page's upper left corner, sizes of letters points. Rows stand in blocks
of four, a block a hitter: name, number and side are written once.
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, get_args

import numpy as np

from hitlab.charting.sheet_people import Club, Game, inputs_of
from hitlab.charting.sheet_words import BLOCK_LINES, GROUPS, GUIDE, KEY_LINES, KEY_PAIRS, MOST_INNINGS, RULES
from hitlab.counting.days import day_words
from hitlab.errors import ClaimError
from hitlab.optional import load
from hitlab.showing import shown_name
from hitlab.writing import AnyPath, files_read, write_file

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.text import Text

__all__ = ["IN_A_BLOCK", "LEAST_BOX_MM", "PAPERS", "charting_sheet", "pages"]

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height of the paper, upright, in mm (ISO 216; 8.5 by 11 inches)."""

IN_A_BLOCK = 4
"""Rows of a block: two of three plate appearances end within them (66 % in the demo season)."""

LEAST_BOX_MM = 5.0
"""No box is narrower or lower."""

Half = Literal["top", "bottom", "both"]
Paper = Literal["letter", "a4"]

_MARGIN = 8.0
_HEAD = 20.5  # title, clubs, charter
_LABELS = 30.5  # names of boxes, upright
_GAP = 1.2  # between groups of boxes
_BOX = 5.6
_LEAST_ROW, _MOST_ROW = 5.6, 7.5
_LINE = 4.3  # from one line of text to the next
_SIZE, _TITLE, _GUIDE_SIZE = 10.0, 15.0, 11.0
_COLUMNS = 4  # of the roster at the foot
_NUMBER = 11.5  # of a column of it, for the number and what parts it from the next
_INDENT = 5.5  # of the rules, behind their numbers
_TERM = 27.0  # width of what the key explains
_POINT = 25.4 / 72  # mm
_MIDDLE = 0.36  # of the size: half of the height of capitals, so that accents do not move a line
_BETWEEN = 0.15  # lines of the roster, at least
_LEAST_BLOCKS = 3
_INK, _EDGE, _SHADE = "#000000", "#555555", "#ececec"


def charting_sheet(
    path: AnyPath,
    *,
    roster: Any = None,
    opponents: Any = None,
    club: str = "",
    opponent: str = "",
    date: str | dt.date | None = None,
    innings: int = 9,
    half: Half = "both",
    away: bool = False,
    paper: Paper = "letter",
    rows: int | None = None,
) -> Path:
    """Write the paper on which pitches are charted in the dugout: one page a half inning, one row a pitch.

    Each page has boxes for what a pitch became and for the hard balls, a key, the three rules that matter
    most and the players of the club at bat. The last page holds ten rules for those who chart, so that they
    go where the paper goes.

    Parameters
    ----------
    path
        The file, ``.pdf``.
    roster, opponents
        Players of the own club and of the other, as :func:`hitlab.read_pitches` takes a roster: a file or a
        frame with ``name`` and, where known, ``number``, ``side``, ``class``, ``club``.
    club, opponent
        Names of the clubs; of a roster with several clubs the players of this one are taken.
    date
        The day of the game, as year-month-day.
    innings
        How many innings have pages.
    half
        The half with pages: ``top``, ``bottom``, or ``both``.
    away
        Whether the own club is the visitor, which bats in the top half.
    paper
        ``letter`` or ``a4``.
    rows
        Rows of a page, in blocks of four; None for as many as there is room for.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ClaimError
        Where the name does not end in ``.pdf``, an argument is none of those accepted, the rows or the
        players do not fit on the page, or a club is in no roster.
    ReadingError
        Where a roster cannot be used or the file cannot be written.
    MissingPackageError
        Where matplotlib is not installed.

    Examples
    --------
    >>> import pandas as pd, tempfile, hitlab
    >>> from hitlab.charting import charting_sheet
    >>> players = pd.DataFrame({"number": [7, 12], "name": ["Bea Plome", "Ada Frusk"]})
    >>> folder = tempfile.TemporaryDirectory()
    >>> written = charting_sheet(f"{folder.name}/game.pdf", roster=players, innings=1)
    >>> written.read_bytes()[:5]
    b'%PDF-'
    >>> folder.cleanup()
    """
    if not str(path).lower().endswith(".pdf"):
        raise ClaimError(f"{path}: a charting sheet is a .pdf file; end the name with .pdf")
    inputs = inputs_of(path, "the paper", roster, opponents)
    matplotlib = load("matplotlib", "charting sheets", "plots")
    from matplotlib.backends.backend_pdf import PdfPages

    game = Game.of(roster, opponents, club, opponent, date)
    held = io.BytesIO()
    # The caller's own settings come back afterwards; the paper does not depend on them.
    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams["pdf.fonttype"] = 42  # letters as such, so that they can be searched and copied
        facts = {"Title": "Pitch chart", "Creator": "hitlab", "CreationDate": None}
        with PdfPages(held, metadata=facts) as book:
            for figure in pages(game, innings=innings, half=half, away=away, paper=paper, rows=rows):
                book.savefig(figure)
    return write_file(path, held.getvalue(), inputs=(*inputs, *files_read()))


def pages(
    game: Game,
    *,
    innings: int,
    half: Half,
    away: bool,
    paper: Paper,
    rows: int | None,
) -> Iterator[Figure]:
    """Draw the pages, one after the other.

    Parameters
    ----------
    game
        Who plays, and when.
    innings, half, away, paper, rows
        As for :func:`charting_sheet`, read and checked.

    Raises
    ------
    ClaimError
        As :func:`charting_sheet`.
    """
    if paper not in PAPERS:
        raise ClaimError(f"paper={paper!r}: give {' or '.join(map(repr, PAPERS))}")
    if half not in get_args(Half):
        raise ClaimError(f"half={half!r}: give 'top', 'bottom' or 'both'")
    if not 1 <= innings <= MOST_INNINGS:
        raise ClaimError(f"innings={innings!r}: give a number from 1 to {MOST_INNINGS}")
    visitors, hosts = (game.own, game.other) if away else (game.other, game.own)
    sides = {"top": (visitors, hosts), "bottom": (hosts, visitors)}
    halves = ("top", "bottom") if half == "both" else (half,)
    # Innings differ in their titles alone.
    drawn = {one: _half_inning(_layout(sides[one][0], paper, rows), game.day, *sides[one]) for one in halves}
    for inning in range(1, innings + 1):
        for one in halves:
            figure, title = drawn[one]
            title.set_text(f"Inning {inning}, {one}")
            yield figure
    yield _guide(paper)


_Entry = tuple[float, str, tuple[str, ...]]  # where it begins, what is explained, lines about it


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the parts of a page are, in mm."""

    width: float
    height: float
    block: float
    top: float
    row: float
    rows: int
    foot: float
    name_line: float
    rules: tuple[tuple[str, ...], ...]
    key: tuple[tuple[_Entry, ...], ...]


def _layout(batting: Club, paper: Paper, rows: int | None) -> _Layout:
    width, height = PAPERS[paper]
    room = width - 2 * _MARGIN
    boxes = sum(len(group.boxes) for group in GROUPS)
    block = room - boxes * _BOX - len(GROUPS) * _GAP
    rules = tuple(tuple(_lines(text, room - _INDENT, bold=True)) for text in RULES)
    key = tuple(
        tuple(
            (place * room / len(entries), term, tuple(_lines(text, room / len(entries) - _TERM)))
            for place, (term, text) in enumerate(entries)
        )
        for entries in (*KEY_PAIRS, *((one,) for one in KEY_LINES))
    )
    lines = sum(map(len, rules)) + sum(max(len(text) for _, _, text in entries) for entries in key)
    names = -(-len(batting.players) // _COLUMNS)
    name_line = _line_for([_fitted(one.name, room / _COLUMNS - _NUMBER) for one in batting.players])
    foot = lines * _LINE + names * name_line + (2.0 if names else 0.0) + 2.0
    top = _MARGIN + _HEAD + _LABELS
    free = height - _MARGIN - foot - top
    most = int(free / (IN_A_BLOCK * _LEAST_ROW)) * IN_A_BLOCK
    if most < _LEAST_BLOCKS * IN_A_BLOCK:
        raise ClaimError(
            f"{len(batting.players):,} players leave no room for pitches on {paper} paper: name the club "
            "with club= or opponent=, or give a roster of those who may bat"
        )
    if rows is not None and (rows % IN_A_BLOCK or not IN_A_BLOCK <= rows <= most):
        raise ClaimError(
            f"rows={rows!r}: give a multiple of {IN_A_BLOCK}, the rows of a hitter's block, up to {most}, "
            f"for which there is room on {paper} paper with {len(batting.players):,} players"
        )
    many = most if rows is None else rows
    row = min(free / many, _MOST_ROW)
    return _Layout(width, height, block, top, row, many, height - _MARGIN - foot + 2.0, name_line, rules, key)


class _Pen:
    """Draws on one page."""

    def __init__(self, width: float, height: float) -> None:
        from matplotlib.figure import Figure

        self.figure = Figure(figsize=(width / 25.4, height / 25.4))
        self.axes = self.figure.add_axes((0, 0, 1, 1))
        self.axes.set(xlim=(0, width), ylim=(height, 0))
        self.axes.set_axis_off()
        self.boxes: list[tuple[float, float, float, float]] = []
        self.lines: dict[float, list[tuple[tuple[float, float], tuple[float, float]]]] = {}

    def text(
        self, x: float, y: float, text: str, size: float = _SIZE, *, bold: bool = False, **more: Any
    ) -> Text:
        """Write a line whose middle is at ``y``."""
        from hitlab.plots.lettering import families, readable

        return self.axes.text(
            x,
            y if "va" in more else y + _MIDDLE * size * _POINT,
            readable(text),
            size=size,
            weight="bold" if bold else "normal",
            family=families(text),
            color=_INK,
            parse_math=False,
            **more,
        )

    def line(self, x: float, y: float, to_x: float, to_y: float, width: float = 0.6) -> None:
        self.lines.setdefault(width, []).append(((x, y), (to_x, to_y)))

    def shade(self, x: float, y: float, width: float, height: float) -> None:
        from matplotlib.patches import Rectangle

        self.axes.add_patch(Rectangle((x, y), width, height, facecolor=_SHADE, edgecolor="none", zorder=0))

    def box(self, x: float, y: float, width: float, height: float) -> None:
        self.boxes.append((x, y, width, height))

    def done(self) -> Figure:
        """Draw lines and boxes, each kind at once, which takes a tenth of the time; and give the page."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path as Outline

        if self.boxes:
            corners = [
                [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
                for x, y, width, height in self.boxes
            ]
            outline = Outline.make_compound_path_from_polys(np.array(corners))
            patch = PathPatch(
                outline, facecolor="white", edgecolor=_EDGE, linewidth=0.6, zorder=1, gid="boxes"
            )
            self.axes.add_patch(patch)
        for width, ends in self.lines.items():
            points = [point for pair in ends for point in pair]
            codes = [Outline.MOVETO, Outline.LINETO] * len(ends)
            outline = Outline(points, codes)
            self.axes.add_patch(
                PathPatch(outline, fill=False, edgecolor=_INK, linewidth=width, capstyle="butt", zorder=2)
            )
        return self.figure

    def field(self, label: str, value: str, x: float, y: float, width: float) -> None:
        """Write what is known behind its label, or draw a line to write it on."""
        start = x + _width(label) + 1.5
        self.text(x, y, label)
        if value:
            self.text(start, y, _fitted(value, x + width - start, bold=True), bold=True)
        else:
            self.line(start, y + 2.2, x + width, y + 2.2)


def _half_inning(layout: _Layout, day: dt.date | None, batting: Club, fielding: Club) -> tuple[Figure, Text]:
    """Draw a page; the second is its title, still empty."""
    pen = _Pen(layout.width, layout.height)
    left, right = _MARGIN, layout.width - _MARGIN
    room = right - left
    pen.text(left, _MARGIN + 3.0, "Pitch chart", _TITLE, bold=True)
    title = pen.text(right, _MARGIN + 3.0, "", _TITLE, bold=True, ha="right")
    third = room / 3
    date = day_words(dt.datetime(day.year, day.month, day.day)) if day is not None else ""
    for place, (label, value) in enumerate(
        (("date", date), ("at bat", batting.name), ("in the field", fielding.name))
    ):
        pen.field(label, value, left + place * third, _MARGIN + 10.0, third - 3.0)
    for label, x, width in (
        ("charted by", left, 2 * room / 5),
        ("pitcher", left + 2 * room / 5, 2 * room / 5),
        ("sheet", left + 4 * room / 5, room / 5),
    ):
        pen.field(label, "", x, _MARGIN + 17.0, width - (3.0 if label != "sheet" else 0.0))
    _grid(pen, layout)
    _foot(pen, layout, batting)
    return pen.done(), title


def _grid(pen: _Pen, layout: _Layout) -> None:
    left, right, top = _MARGIN, layout.width - _MARGIN, layout.top
    bottom = top + layout.rows * layout.row
    told = [line for text in BLOCK_LINES for line in _lines(text, layout.block - 1.0)]
    for place, line in enumerate(reversed(told)):
        pen.text(left, top - 3.0 - place * _LINE, line)
    places = []
    x = left + layout.block
    for group in GROUPS:
        x += _GAP
        width = len(group.boxes) * _BOX
        pen.text(x + width / 2, top - _LABELS + 2.6, group.label, bold=True, ha="center")
        pen.line(x, top - _LABELS + 5.2, x + width, top - _LABELS + 5.2)
        for box in group.boxes:
            pen.text(x + _BOX / 2, top - 1.0, box.label, rotation=90, ha="center", va="bottom")
            places.append(x)
            x += _BOX
    for block in range(layout.rows // IN_A_BLOCK):
        y = top + block * IN_A_BLOCK * layout.row
        if block % 2:
            pen.shade(left, y, right - left, IN_A_BLOCK * layout.row)
        pen.line(left, y, right, y, 1.6)
        _hitter(pen, layout, left, y)
        for row in range(IN_A_BLOCK):
            for at in places:
                pen.box(at, y + row * layout.row, _BOX, layout.row)
    pen.line(left, bottom, right, bottom, 1.6)


def _hitter(pen: _Pen, layout: _Layout, x: float, y: float) -> None:
    """Draw what is written once a hitter."""
    middle = [y + (row + 0.5) * layout.row for row in range(IN_A_BLOCK)]
    end = layout.block - 1.0
    pen.field("name", "", x, middle[0], end)
    pen.field("number", "", x, middle[1], end)
    box = min(layout.row - 0.4, _BOX)
    for label, at in (("left", x), ("right", x + end / 2)):
        pen.box(at, middle[2] - box / 2, box, box)
        pen.text(at + box + 1.0, middle[2], label)
    pen.field("result", "", x, middle[3], end)


def _foot(pen: _Pen, layout: _Layout, batting: Club) -> None:
    left, room = _MARGIN, layout.width - 2 * _MARGIN
    y = layout.foot + _LINE / 2
    for number, lines in enumerate(layout.rules, 1):
        pen.text(left, y, str(number), bold=True)
        for line in lines:
            pen.text(left + _INDENT, y, line, bold=True)
            y += _LINE
    for entries in layout.key:
        for x, term, lines in entries:
            pen.text(left + x, y, term, bold=True)
            for place, line in enumerate(lines):
                pen.text(left + x + _TERM, y + place * _LINE, line)
        y += max(len(lines) for _, _, lines in entries) * _LINE
    if not batting.players:
        return
    y += 2.0
    width = room / _COLUMNS
    deep = -(-len(batting.players) // _COLUMNS)
    for place, one in enumerate(batting.players):
        x, at = left + (place // deep) * width, y + (place % deep) * layout.name_line
        pen.text(x + 8.5, at, one.number, bold=True, ha="right")
        pen.text(x + 10.0, at, _fitted(one.name, width - _NUMBER))


def _guide(paper: Paper) -> Figure:
    """Draw the last page: ten rules, on its upper half."""
    width, height = PAPERS[paper]
    pen = _Pen(width, height)
    y = _MARGIN + 4.0
    pen.text(_MARGIN, y, "How we chart alike", _TITLE, bold=True)
    y += 10.0
    for number, rule in enumerate(GUIDE, 1):
        pen.text(_MARGIN + 7.0, y, str(number), _GUIDE_SIZE, bold=True, ha="right")
        for line in _lines(rule, width - 2 * _MARGIN - 10.0, _GUIDE_SIZE):
            pen.text(_MARGIN + 10.0, y, line, _GUIDE_SIZE)
            y += _LINE * 1.1
        y += 1.4
    return pen.done()


def _width(text: str, size: float = _SIZE, bold: bool = False) -> float:
    from hitlab.plots.lettering import width_of

    return width_of(text, size, "bold" if bold else "normal") * _POINT


def _line_for(texts: Sequence[str]) -> float:
    """Say how far apart lines are so that none touches the next: some letters have two accents."""
    from matplotlib.backends.backend_agg import RendererAgg
    from matplotlib.font_manager import FontProperties

    from hitlab.plots.lettering import families, readable

    measure = RendererAgg(8, 8, 72)  # type: ignore[no-untyped-call]
    above, below = 0.0, 0.0
    for text in ("lp", *texts):
        # Measured large, as letters are fitted to dots.
        font = FontProperties(family=families(text), size=10 * _SIZE)
        _, height, under = measure.get_text_width_height_descent(readable(text), font, False)  # type: ignore[no-untyped-call]
        above, below = max(above, float(height - under)), max(below, float(under))
    return max(_LINE, (above + below) / 10 * _POINT + _BETWEEN)


def _lines(text: str, width: float, size: float = _SIZE, *, bold: bool = False) -> Sequence[str]:
    from hitlab.plots.lettering import wrapped

    return wrapped(text, width / _POINT, size, "bold" if bold else "normal")


def _fitted(name: str, width: float, *, bold: bool = False) -> str:
    """Give a name as far as there is room for it, the last sign an ellipsis where it is cut."""
    told = shown_name(name)
    if _width(told, bold=bold) <= width:
        return told
    short, long = 0, len(told)
    while long - short > 1:  # the most letters that fit
        middle = (short + long) // 2
        fits = _width(f"{told[:middle].rstrip()}…", bold=bold) <= width
        short, long = (middle, long) if fits else (short, middle)
    return f"{told[:short].rstrip()}…"
