"""How a card is laid out: the headline, the verdict in its sign, one picture, and where it is from.

Everything is placed in pixels of one of four forms (wide, square, upright, strip) and scaled to the size
asked for. No letter is smaller than 32 of these pixels: at a quarter of the form's size that leaves type of 8
pixels, of which a small letter is a little over 4 pixels high, about the least that can be read on a screen
(common practice, no source). Nothing is cut: where names are long, letters get smaller, lines are broken, and
at last rows are left to the table, which the card then says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, product
from typing import Any, Literal, NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch, Polygon
from matplotlib.text import Annotation
from matplotlib.ticker import MaxNLocator
from numpy.typing import NDArray

from hitlab.claims.result import Claim
from hitlab.claims.rows import Rows, rows_of
from hitlab.errors import HitlabError
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.claim_pictures import draw_evidence, limits_of, line_text, mark_axis, words_of
from hitlab.plots.lettering import balanced, width_of, wrapped
from hitlab.plots.verdict_marks import SIGNS, Sign, outline_of
from hitlab.wording import capitalised, is_file_name, level_words

__all__ = ["FORMS", "SMALLEST", "draw_card"]

SMALLEST = 32.0
"""Of all letters, in pixels of the form."""

_DOTS_PER_INCH = 100
_LEADING = 1.22
_ASCENT, _DESCENT = 0.93, 0.24  # of the font, in type sizes
_GAP = 26.0
_AXIS = 52.0  # numbers under the rows
_LEAST_CHART = 360.0
_LARGEST_ROW = 96.0
_LEAST_ROW = 40.0
_MARKS = 48.0  # room for the marks of a row under its words, where rows are stacked
_HEAD = 230.0  # widest title over a column of numbers
_CALM_ROWS = 4
_STRIP = 40.0  # the headline of a strip, rather than smaller it says less beneath


@dataclass(frozen=True, slots=True)
class Form:
    """One of the forms of a card.

    Attributes
    ----------
    size
        Width and height in pixels, at which letters have the sizes below.
    margin
        On all sides.
    headline, lines
        Sizes of the headline, the largest first, and how many lines it may take but at the smallest.
    calm
        Below this size of the headline, rows are left out instead.
    sign
        Size of the verdict's letters.
    letters
        Sizes of the letters in the picture, the largest first.
    rows
        How many at most.
    stacked
        Whether a row's words stand over its marks instead of beside them.
    """

    size: tuple[int, int]
    margin: float
    headline: tuple[float, ...]
    lines: int
    calm: float
    sign: float
    letters: tuple[float, ...]
    rows: int
    stacked: bool = False


FORMS: dict[str, Form] = {
    "wide": Form(
        (1920, 1080), 80.0, (76.0, 70.0, 64.0, 58.0, 52.0, 46.0, 40.0, 36.0, 32.0), 2, 52.0, 46.0,
        (40.0, 36.0), 8,
    ),
    "square": Form(
        (1080, 1080), 56.0, (62.0, 58.0, 54.0, 50.0, 46.0, 42.0, 36.0, 32.0), 4, 46.0, 44.0,
        (40.0, 36.0), 5, True,
    ),
    "upright": Form(
        (1080, 1920), 64.0, (80.0, 74.0, 68.0, 62.0, 56.0, 50.0, 44.0, 38.0, 32.0), 5, 50.0, 50.0,
        (48.0, 44.0, 40.0, 36.0), 10, True,
    ),
    "strip": Form((1920, 270), 40.0, (60.0, 56.0, 52.0, 48.0, 44.0, 40.0, 36.0, 32.0), 2, 32.0, 40.0, (), 0),
}  # fmt: skip
"""The forms by name; their sizes are those of a screen, a square, a telephone and a lower third."""


class Origin(NamedTuple):
    """Where a card is from: the source and the days of its games, and what it is counted and made by."""

    source: str
    days: str
    counts: str
    version: str

    def sentence(self, sample: str) -> str:
        """Return the line at the foot of a card."""
        days = f"games of {self.days}" if self.days else "days of the games not given"
        told = ", ".join(part for part in (self.source, days, sample) if part)
        return f"Source: {told}. Counts {self.counts}, hitlab {self.version}."

    @property
    def short(self) -> str:
        """The same where there is little room."""
        # A file's name stays as it is, also where a sentence begins with it.
        named = is_file_name(self.source)
        source = self.source if named else capitalised(self.source)
        return f"{source}{f', {self.days}' if self.days else ''}; counts {self.counts}"


def form_of(size: tuple[int, int]) -> str:
    """Return which form fits a size best."""
    ratio = size[0] / size[1]
    return "strip" if ratio > 4 else "wide" if ratio > 1.25 else "square" if ratio > 0.8 else "upright"


class _Sheet:
    """A figure that is written on in pixels of its form, y downward."""

    def __init__(self, size: tuple[int, int], form: Form, *, clear: bool = False) -> None:
        self.scale = min(size[0] / form.size[0], size[1] / form.size[1])
        self.width, self.height = size[0] / self.scale, size[1] / self.scale
        inches = (size[0] / _DOTS_PER_INCH, size[1] / _DOTS_PER_INCH)
        color = "none" if clear else look.BACKGROUND
        self.figure = Figure(inches, dpi=_DOTS_PER_INCH, facecolor=color, layout=None)
        self.ax = self.figure.add_axes((0, 0, 1, 1), zorder=2)
        self.ax.patch.set_visible(False)
        self.ax.set_axis_off()
        self.ax.set_xlim(0, self.width)
        self.ax.set_ylim(self.height, 0)

    def points(self, pixels: float) -> float:
        return pixels * self.scale * 72 / _DOTS_PER_INCH

    def axes(self, left: float, top: float, width: float, height: float) -> Axes:
        box = (left / self.width, 1 - (top + height) / self.height, width / self.width, height / self.height)
        ax = self.figure.add_axes(box, zorder=1)
        look.axes_for(ax)
        return ax

    def write(
        self,
        x: float,
        y: float,
        text: str,
        pixels: float,
        color: str = look.INK,
        *,
        weight: str = "normal",
        ha: Literal["left", "center", "right"] = "left",
        va: Literal["top", "center", "bottom"] = "top",
        **more: Any,
    ) -> Annotation:
        # By the baseline, so that a tall accent or script does not push its line down.
        y += {"top": _ASCENT, "center": look.MIDDLE, "bottom": -_DESCENT}[va] * pixels
        return look.put(
            self.ax,
            x,
            y,
            text,
            size=self.points(pixels),
            color=color,
            fontweight=weight,
            ha=ha,
            va="baseline",
            **more,
        )

    def lines(
        self,
        x: float,
        y: float,
        lines: Sequence[str],
        pixels: float,
        color: str = look.INK,
        weight: str = "normal",
    ) -> float:
        for line in lines:
            self.write(x, y, line, pixels, color, weight=weight)
            y += pixels * _LEADING
        return y

    def draw_sign(
        self, sign: Sign, words: str, left: float, top: float, width: float, height: float, letters: float
    ) -> None:
        line = self.points(5)
        style: Any = (0, (3, 2)) if sign.dashed else "solid"
        self.ax.add_patch(
            Polygon(
                outline_of(sign.shape, left, top, width, height),
                facecolor=sign.color if sign.filled else look.BACKGROUND,
                edgecolor=sign.color,
                linewidth=line,
                linestyle=style,
                joinstyle="miter",
                label="sign",
            )
        )
        if sign.shape == "framed":
            self.ax.add_patch(
                Polygon(
                    outline_of("plain", left - 11, top - 11, width + 22, height + 22),
                    facecolor="none",
                    edgecolor=sign.color,
                    linewidth=self.points(3),
                    linestyle=style,
                    joinstyle="miter",
                    label="frame",
                )
            )
        color = look.BACKGROUND if sign.filled else sign.color
        self.write(
            left + width / 2, top + height / 2, words, letters, color, weight="bold", ha="center", va="center"
        )


def draw_card(
    claim: Claim,
    size: tuple[int, int],
    origin: Origin,
    *,
    form: str = "",
    page: Literal["claim", "assumptions"] = "claim",
) -> Figure:
    """Draw a card; see ``hitlab.evidence.cards.card``."""
    name = form or form_of(size)
    sample = rows_of(claim, 1)
    source = origin.sentence(sample.sample if sample else "")
    sheet = _Sheet(size, FORMS[name], clear=name == "strip")
    if page == "assumptions":
        alt = _assumptions_page(sheet, FORMS[name], claim, source)
    elif name == "strip":
        alt = _strip(sheet, FORMS[name], claim, source, origin)
    else:
        alt = _claim_page(sheet, FORMS[name], claim, source)
    keep_words(sheet.ax, " ".join(alt.split()))
    return sheet.figure


# ---------------------------------------------------------------------------------------------------------
# The claim: headline, sign, picture, source.


@dataclass(frozen=True, slots=True)
class _Chart:
    """The picture as it fits: rows with their places, and what is written around them."""

    seen: Rows
    letters: float
    names: list[list[str]]
    tops: list[float]  # of each row, from the first row's top
    tall: float  # of all rows
    left: float  # of the axes, from the margin
    width: float  # of the axes
    records: float  # right edge of the records, from the margin
    heads: list[list[str]]
    over: float  # height of what stands over the rows
    labels: list[tuple[float, float, list[str]]]  # of the lines across: middle, how far up, lines
    title: list[str]
    beneath: list[str]
    marks: list[str]
    left_out: int

    @property
    def height(self) -> float:
        """Of all but the sentence on the marks."""
        told = len(self.title) + len(self.beneath)
        return self.over + self.tall + _AXIS + told * SMALLEST * _LEADING + (8.0 if self.beneath else 0.0)


def _claim_page(sheet: _Sheet, form: Form, claim: Claim, source: str) -> str:
    wide = sheet.width - 2 * form.margin
    origin = wrapped(source, wide, SMALLEST)
    low = sheet.height - 0.6 * form.margin - len(origin) * SMALLEST * _LEADING
    top = 0.7 * form.margin
    answer = _answer_height(claim, form)
    size, headline, chart = _fit(form, claim, claim.headline, wide, low - top - answer - 3 * _GAP)
    y = sheet.lines(form.margin, top, headline, size, look.INK, "bold") + _GAP
    _draw_answer(sheet, form, claim, claim.verdict_words, y)
    y += answer + _GAP
    if chart is not None:
        marks = len(chart.marks) * SMALLEST * _LEADING
        spare = max(low - _GAP - marks - y - chart.height, 0.0)
        _draw_chart(sheet, form, claim, chart, y + spare / 2)
        sheet.lines(form.margin, low - _GAP - marks, chart.marks, SMALLEST, look.QUIET)
    elif seen := rows_of(claim, form.rows):
        told = wrapped(
            f"{_told_from(seen)}The picture is left out: all rows stand in the table.", wide, SMALLEST
        )
        sheet.lines(form.margin, min(y, low - _GAP - len(told) * SMALLEST * _LEADING), told, SMALLEST)
    sheet.ax.plot(
        [form.margin, sheet.width - form.margin],
        [low - 10.0] * 2,
        color=look.GRID,
        linewidth=sheet.points(3),
    )
    sheet.lines(form.margin, low, origin, SMALLEST, look.QUIET)
    seen = chart.seen if chart else rows_of(claim, 10)
    more = f" {chart.left_out} more in the table." if chart and chart.left_out else ""
    return f"{_headline_words(claim)} {words_of(claim, seen)}{more} {source}"


def _headline_words(claim: Claim) -> str:
    """Return headline and sign for the alt text; a name, which can read like a line of ours, begins none."""
    return f"Card: {claim.headline.rstrip('.')}. {claim.verdict_words}."


def _fit(
    form: Form, claim: Claim, text: str, wide: float, room: float
) -> tuple[float, list[str], _Chart | None]:
    """Find the largest headline and the most rows that fit into the room that they share."""
    every = rows_of(claim, form.rows)
    total = len(claim.evidence) if every is not None and len(every.names) > 1 else 1
    for most in range(len(every.names) if every else 0, -1, -1):
        seen = rows_of(claim, most) if most else None
        for size in form.headline:
            headline = balanced(text, wide, size, "bold")
            if len(headline) > form.lines and size > form.headline[-1]:
                continue
            if size < form.calm and most > _CALM_ROWS:
                break
            left = room - len(headline) * size * _LEADING
            if seen is None:
                if left >= 0 or size == form.headline[-1]:
                    return size, headline, None
                continue
            chart = _chart(form, seen, wide, left, max(total - len(seen.names), 0))
            if chart is not None:
                return size, headline, chart
    raise AssertionError("a headline alone is always given")


def _chart(form: Form, seen: Rows, wide: float, room: float, left_out: int) -> _Chart | None:
    """Lay the picture out, its letters as large as there is room for; nothing where there is too little."""
    marks = wrapped(_marks(seen, left_out, form), wide, SMALLEST)
    beneath = [line for told in seen.beneath for line in wrapped(told, wide, SMALLEST)]
    room -= len(marks) * SMALLEST * _LEADING
    for letters in (*form.letters, SMALLEST):
        laid = _stacked(seen, wide, letters) if form.stacked else _beside(seen, wide, letters)
        if laid is None:
            continue
        left, width, records, names, heads = laid
        if letters > SMALLEST and any(len(lines) > 1 for lines in names):
            continue  # rather smaller than on two lines
        title = wrapped(capitalised(seen.axis), wide - left, SMALLEST)
        labels = _label_places(seen, width)
        over = max([up + len(lines) * SMALLEST * 1.12 for _, up, lines in labels], default=0.0)
        over = max(over, max((len(head) for head in heads), default=0) * SMALLEST * 1.12) + 14.0
        told = (len(title) + len(beneath)) * SMALLEST * _LEADING + (8.0 if beneath else 0.0)
        free = room - over - _AXIS - told
        tops, tall = _row_places(form, names, letters, free)
        if tall <= free:
            return _Chart(
                seen, letters, names, tops, tall, left, width, records, heads, over, labels, title, beneath,
                marks, left_out,
            )  # fmt: skip
    return None


def _beside(
    seen: Rows, wide: float, letters: float
) -> tuple[float, float, float, list[list[str]], list[list[str]]] | None:
    """Return the axes' left and width, the records' right edge, names and heads: all in columns."""
    heads = [
        wrapped(text, room, SMALLEST)
        for text, room in zip(seen.columns, (2 * _HEAD, _HEAD, _HEAD), strict=True)
    ]
    record = max(width_of(text, letters) for text in seen.records)
    rate = _widest([seen.said(row) for row in range(len(seen.names))], letters, heads[1])
    chance = _widest(seen.chance, letters, heads[2])
    beside = record + 2 * _GAP + sum(each + _GAP for each in (rate, chance) if each)
    most = wide - beside - _LEAST_CHART
    if most < 220:
        return None
    names = [wrapped(name, most, letters) for name in seen.names]
    widest = max(width_of(line, letters) for lines in names for line in lines)
    # The title over the records reaches to the left over the names.
    widest = max(widest, max((width_of(line, SMALLEST) for line in heads[0]), default=0.0) - record - _GAP)
    records = widest + _GAP + record
    left = records + _GAP
    return left, wide - left - (beside - record - 2 * _GAP), records, names, heads


def _widest(texts: Sequence[str], letters: float, head: Sequence[str]) -> float:
    return max(
        [width_of(text, letters) for text in texts if text] + [width_of(line, SMALLEST) for line in head],
        default=0.0,
    )


def _stacked(
    seen: Rows, wide: float, letters: float
) -> tuple[float, float, float, list[list[str]], list[list[str]]] | None:
    """Return the same where words stand over marks: the numbers of a row at its right end."""
    numbers = max(width_of(_numbers(seen, row), letters) for row in range(len(seen.names)))
    if numbers > 0.75 * wide:
        return None
    names = [wrapped(name, wide - numbers - _GAP, letters) for name in seen.names]
    return 0.0, wide, wide, names, []


def _numbers(seen: Rows, row: int) -> str:
    return "   ".join(text for text in (seen.records[row], seen.said(row), seen.chance[row]) if text)


def _row_places(form: Form, names: list[list[str]], letters: float, free: float) -> tuple[list[float], float]:
    """Return the top of each row and the height of all, as airy as there is room for."""
    line = letters * 1.16
    if form.stacked:
        least = [len(lines) * line + _MARKS for lines in names]
    else:
        least = [max(len(lines) * line + 4.0, _LEAST_ROW) for lines in names]
    most = _LARGEST_ROW + (60.0 if form.stacked else 0.0)
    spare = min(max((free - sum(least)) / len(least), 0.0), max(most - min(least), 0.0))
    heights = [each + spare for each in least]
    return [float(top) for top in np.cumsum([0.0, *heights[:-1]])], float(sum(heights))


def _label_places(seen: Rows, width: float) -> list[tuple[float, float, list[str]]]:
    """Place what the lines across are called: over the line where there is room, else one higher."""
    low, high = limits_of(seen)
    taken: list[tuple[float, float, float]] = []
    places = []
    for number, value in enumerate(seen.lines):
        lines = wrapped(line_text(seen, number), 0.96 * width, SMALLEST)
        half = max(width_of(line, SMALLEST) for line in lines) / 2
        at = float(np.clip((value - low) / (high - low) * width, half, max(width - half, half)))
        up = max((end for a, b, end in taken if at - half < b + 12 and at + half > a - 12), default=0.0)
        taken.append((at - half, at + half, up + len(lines) * SMALLEST * 1.12))
        places.append((at, up, lines))
    return places


def _draw_chart(sheet: _Sheet, form: Form, claim: Claim, chart: _Chart, y: float) -> None:
    seen, letters, margin = chart.seen, chart.letters, form.margin
    sign = SIGNS[claim.answer]
    top, left = y + chart.over, form.margin + chart.left
    ends = [*chart.tops[1:], chart.tall]
    line = letters * 1.16
    if form.stacked:
        told = [len(lines) * line for lines in chart.names]
        middles = [start + tall + _MARKS / 2 - 4.0 for start, tall in zip(chart.tops, told, strict=True)]
    else:
        middles = [(start + end) / 2 for start, end in zip(chart.tops, ends, strict=True)]
    ax = sheet.axes(left, top, chart.width, chart.tall)
    size = float(np.clip(chart.tall / len(middles) / 30.0, 1.6, 2.4)) * sheet.scale
    draw_evidence(ax, seen, scale=size, label=False, shades=(sign.color, look.FAINT))
    _move_rows(ax, middles, chart.tall)
    widest = max(width_of(seen.text(value), SMALLEST) for value in limits_of(seen))
    mark_axis(ax, seen, "", apart=max(0.25, 2.6 * widest / chart.width))
    if not seen.odds:
        ax.xaxis.set_major_locator(
            MaxNLocator(int(np.clip(chart.width / (2.2 * widest), 2, 5)), min_n_ticks=2)
        )
    ax.tick_params(axis="x", labelsize=sheet.points(SMALLEST), pad=sheet.points(10))
    for row, lines in enumerate(chart.names):
        color = sign.color if seen.subject[row] else look.INK
        first = top + middles[row] - (len(lines) - 1) * line / 2
        if form.stacked:
            first = top + chart.tops[row] + line / 2
        back = {"facecolor": look.BACKGROUND, "edgecolor": "none", "pad": 0.5} if form.stacked else None
        for number, text in enumerate(lines):
            sheet.write(margin, first + number * line, text, letters, color, va="center", bbox=back)
        if form.stacked:
            sheet.write(
                sheet.width - margin, first, _numbers(seen, row), letters, color, ha="right", va="center",
                bbox=back,
            )  # fmt: skip
            continue
        at = top + middles[row]
        sheet.write(margin + chart.records, at, seen.records[row], letters, color, ha="right", va="center")
        right = left + chart.width + _GAP
        sheet.write(right, at, seen.said(row), letters, color, va="center")
        if seen.chance[row]:
            sheet.write(sheet.width - margin, at, seen.chance[row], letters, color, ha="right", va="center")
    _draw_heads(sheet, form, chart, left, top - 10.0)
    y = top + chart.tall + _AXIS
    y = sheet.lines(left, y, chart.title, SMALLEST, look.QUIET)
    sheet.lines(margin, y + 8.0, chart.beneath, SMALLEST, look.INK)


def _draw_heads(sheet: _Sheet, form: Form, chart: _Chart, left: float, low: float) -> None:
    step = SMALLEST * 1.12
    ends: tuple[tuple[float, Literal["left", "right"]], ...] = (
        (form.margin + chart.records, "right"),
        (left + chart.width + _GAP, "left"),
        (sheet.width - form.margin, "right"),
    )
    for (x, side), head in zip(ends, chart.heads, strict=False):
        for number, text in enumerate(reversed(head)):
            sheet.write(x, low - number * step, text, SMALLEST, look.QUIET, ha=side, va="bottom")
    for at, up, lines in chart.labels:
        for number, text in enumerate(reversed(lines)):
            sheet.write(left + at, low - up - number * step, text, SMALLEST, ha="center", va="bottom")


def _move_rows(ax: Axes, middles: Sequence[float], tall: float) -> None:
    """Show the rows 0, 1, 2, ... at their middles, given in pixels from the top of the axes."""
    if len(middles) == 1:
        at = middles[0] / tall
        ax.set_ylim(1 - at, -at)
        return
    steps = np.diff(middles)
    if np.allclose(steps, steps[0]):
        row = float(steps[0])
        ax.set_ylim((tall - middles[0]) / row, -middles[0] / row)
        return

    # Names of several lines make rows of several heights: every mark is moved to its row's middle.
    def moved(points: Any) -> NDArray[np.float64]:
        at = np.asarray(points, dtype=np.float64)
        return np.column_stack([at[:, 0], np.interp(at[:, 1], range(len(middles)), middles)])

    ax.set_ylim(tall, 0.0)
    for marks in ax.collections:
        if isinstance(marks, LineCollection):
            marks.set_segments([moved(segment) for segment in marks.get_segments()])
        else:
            marks.set_offsets(moved(marks.get_offsets()))
    for line in ax.lines:
        if line.get_label() != "line":  # those across the rows stay
            line.set_ydata(moved(line.get_xydata())[:, 1])


def _marks(seen: Rows, left_out: int, form: Form) -> str:
    text = f"{capitalised(seen.marks)}."
    if form.stacked and not seen.odds:  # of odds the records stand beneath
        heads = [head for head in seen.columns if head]
        text = f"At the right: {'; '.join(heads)}. {text}"
    unknown = sum(seen.unmeasured)
    if unknown:
        text += f" {unknown:,} of these balls {'was' if unknown == 1 else 'were'} not measured."
    return text + (f" {left_out} more in the table." if left_out else "")


# ---------------------------------------------------------------------------------------------------------
# The verdict.


def _answer_height(claim: Claim, form: Form) -> float:
    sign = 1.75 * form.sign
    if claim.chance is not None:
        lines = 1 if _on_one_line(claim, form.size[0] - 2 * form.margin) else 2
        return sign + 16.0 + 34.0 + SMALLEST * _LEADING * lines
    lines = len(_without_chance(claim, form)) if form.stacked else 0
    return sign + 12.0 + (SMALLEST * _LEADING * lines + 20.0 if lines else 0.0)


def _ends(claim: Claim) -> tuple[str, str]:
    return (
        f"does not hold up to {level_words(claim.fails_at)}",
        f"holds from {level_words(claim.holds_at)}",
    )


def _on_one_line(claim: Claim, wide: float) -> bool:
    return sum(width_of(end, SMALLEST) for end in _ends(claim)) + _GAP <= wide


def _without_chance(claim: Claim, form: Form) -> list[str]:
    words = claim.without_chance
    if claim.about == "record" and claim.verdict != "open":
        words += "; it says nothing about who is better"
    return wrapped(capitalised(words), form.size[0] - 2 * form.margin, SMALLEST)


def _sign_width(words: str, letters: float) -> float:
    return width_of(words, letters, "bold") + 2.6 * letters


def _draw_answer(sheet: _Sheet, form: Form, claim: Claim, words: str, y: float) -> None:
    """Draw the sign over its place on the way from none to sure, or alone where there is no chance."""
    sign, letters = SIGNS[claim.answer], form.sign
    width, height = _sign_width(words, letters), 1.75 * letters
    low, high = form.margin, sheet.width - form.margin
    if claim.chance is None:
        sheet.draw_sign(sign, words, low + 14, y + 8, width, height, letters)
        lines = _without_chance(claim, form)
        if form.stacked:
            sheet.lines(low, y + height + 28, lines, SMALLEST, look.QUIET)
        else:
            lines = wrapped(" ".join(lines), high - low - width - 70, SMALLEST)
            middle = y + 8 + height / 2
            sheet.lines(
                low + width + 60, middle - len(lines) * SMALLEST * _LEADING / 2, lines, SMALLEST, look.QUIET
            )
        return
    at = low + claim.chance * (high - low)
    left = float(np.clip(at - width / 2, low, high - width))
    sheet.draw_sign(sign, words, left, y, width, height, letters)
    told = f"chance {claim.chance_words}"
    free = max(left - low, high - left - width) - _GAP
    size = max(min(40.0, 40.0 * free / width_of(told, 40.0)), SMALLEST)
    if left + width / 2 < (low + high) / 2:
        sheet.write(left + width + _GAP, y + height / 2, told, size, va="center")
    else:
        sheet.write(left - _GAP, y + height / 2, told, size, ha="right", va="center")
    _draw_way(sheet, claim, sign, low, high, y + height + 16.0 + 12.0)
    under = y + height + 16.0 + 34.0
    ends = _ends(claim)
    rows = (under, under if _on_one_line(claim, high - low) else under + SMALLEST * _LEADING)
    sheet.write(low, rows[0], ends[0], SMALLEST, look.QUIET)
    sheet.write(high, rows[1], ends[1], SMALLEST, look.QUIET, ha="right")


def _draw_way(sheet: _Sheet, claim: Claim, sign: Sign, low: float, high: float, y: float) -> None:
    """Draw the way from a chance of none to a sure one, the verdict's bounds on it, and the chance."""
    assert claim.chance is not None

    def at(chance: float) -> float:
        return low + chance * (high - low)

    ends = (0.0, claim.fails_at, claim.holds_at, 1.0)
    thick = sheet.points(8)
    for number, (a, b) in enumerate(pairwise(ends)):
        color = look.FAINT if number != 1 else look.GRID
        sheet.ax.plot(
            [at(a), at(b)], [y, y], color=color, linewidth=thick, solid_capstyle="butt", zorder=1, label="way"
        )
    for chance in (claim.fails_at, claim.holds_at):
        sheet.ax.plot(
            [at(chance)] * 2, [y - 16, y + 16], color=look.QUIET, linewidth=sheet.points(3), zorder=1,
            label="bound",
        )  # fmt: skip
    sheet.ax.plot(
        [at(claim.chance)], [y], marker="o", markersize=sheet.points(26), color=sign.color,
        markeredgecolor=look.BACKGROUND, markeredgewidth=sheet.points(3), zorder=3, label="chance",
        clip_on=False,
    )  # fmt: skip


# ---------------------------------------------------------------------------------------------------------
# The strip, and the second page.


def _strip(sheet: _Sheet, form: Form, claim: Claim, source: str, origin: Origin) -> str:
    """Draw headline, sign and source on a panel; around it nothing, for the picture beneath to be seen."""
    words, inset = claim.verdict_words, 14.0
    sheet.ax.add_patch(
        FancyBboxPatch(
            (inset, inset),
            sheet.width - 2 * inset,
            sheet.height - 2 * inset,
            boxstyle="square,pad=0",
            facecolor=look.BACKGROUND,
            edgecolor="none",
            zorder=0,
            label="panel",
        )
    )
    seen = rows_of(claim, 10)
    sign, letters = SIGNS[claim.answer], form.sign
    width, height = _sign_width(words, letters), 1.75 * letters
    column = max(width + 28.0, 480.0)
    low, high = form.margin, form.margin + column
    if claim.chance is None:
        sheet.draw_sign(sign, words, low + 14, (sheet.height - height) / 2, width, height, letters)
    else:
        at = low + claim.chance * (high - low)
        left = float(np.clip(at - width / 2, low, high - width))
        sheet.draw_sign(sign, words, left, inset + 22, width, height, letters)
        _draw_way(sheet, claim, sign, low, high, inset + 22 + height + 34)
        told = f"chance {claim.chance_words}"
        sheet.write((low + high) / 2, inset + 22 + height + 54, told, 36.0, ha="center")
    x = high + 44.0
    wide = sheet.width - form.margin - x
    room = sheet.height - 2 * inset - 28.0
    feet = (f"{_told_from(seen)}{origin.short}", f"{_told_from(seen)}counts {origin.counts}", origin.short)
    for foot, size in [
        *product(feet, (s for s in form.headline if s >= _STRIP)),
        *product(feet, form.headline),
    ]:
        headline = balanced(claim.headline, wide, size, "bold")
        foot_lines = wrapped(f"{capitalised(foot)}.", wide, SMALLEST)
        tall = (len(headline) * size + len(foot_lines) * SMALLEST) * _LEADING + 6.0
        if tall <= room and (len(headline) <= form.lines or size == form.headline[-1]):
            y = (sheet.height - tall) / 2
            y = sheet.lines(x, y, headline, size, look.INK, "bold") + 6.0
            sheet.lines(x, y, foot_lines, SMALLEST, look.QUIET)
            return f"{_headline_words(claim)} {words_of(claim, seen)} {source}"
    raise HitlabError("the headline of this claim is too long for a strip; choose another size")


def _told_from(seen: Rows | None) -> str:
    """Return what the claim is told from, for a line before the source."""
    if seen is None:
        return ""
    if seen.beneath:
        return "; ".join(line.rsplit(",", 1)[0] for line in seen.beneath[1:]) + ". "
    if len(seen.names) == 2 and " of " in seen.columns[0]:
        each = (f"{name}: {record}" for name, record in zip(seen.names, seen.records, strict=True))
        return f"{'; '.join(each)}. "
    if seen.subject.sum() != 1 or not seen.columns[0].count(" of "):
        return f"{seen.sample}. "
    mine = int(np.flatnonzero(seen.subject)[0])
    return f"{seen.records[mine]} {seen.columns[0].rsplit(' of ', 1)[-1]}. "


def _assumptions_page(sheet: _Sheet, form: Form, claim: Claim, source: str) -> str:
    """Write what the card rests on: the claim in full, what is assumed, what would change it, and notes."""
    wide, step = sheet.width - 2 * form.margin, SMALLEST * _LEADING
    origin = wrapped(source, wide, SMALLEST)
    low = sheet.height - 0.6 * form.margin - len(origin) * step
    y = sheet.lines(form.margin, 0.7 * form.margin, ["What this rests on"], form.sign, look.INK, "bold") + 10
    parts = [f"The claim: {claim.claim}."]
    parts += [f"Assumed: {capitalised(one)}." for one in claim.assumptions]
    parts += [f"What would change it: {claim.would_change}."]
    parts += [f"{capitalised(note)}." for note in claim.notes]
    said, left_out = [], 0
    for number, part in enumerate(parts):
        lines = wrapped(part, wide - 30, SMALLEST)
        room = low - _GAP - y - (step if number < len(parts) - 1 else 0.0)
        if len(lines) * step > room:
            left_out += 1
            continue
        sheet.write(form.margin, y, "–", SMALLEST, look.QUIET)
        y = sheet.lines(form.margin + 30, y, lines, SMALLEST) + 10.0
        said.append(part)
    if left_out:
        more = f"{left_out} more in the text."
        sheet.lines(form.margin + 30, min(y, low - _GAP - step), [more], SMALLEST, look.QUIET)
        said.append(more)
    sheet.lines(form.margin, low, origin, SMALLEST, look.QUIET)
    return f"What this rests on. {' '.join(said)} {source}"
