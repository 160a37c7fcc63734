"""How a card is laid out: the sentence, the verdict and its chance, the evidence, the small print.

Everything is placed in pixels of a 1920 by 1080 screen and scaled to the size asked for. No text is smaller
than 24 of these pixels, nothing is cut: where names are long, letters get smaller, lines are broken, and at
last rows are left to the table (which the card then says).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from matplotlib.figure import Figure
from matplotlib.text import Annotation

from hitlab.claims.result import Claim
from hitlab.claims.rows import Rows, rows_of
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.claim_pictures import draw_evidence, line_sides, words_of
from hitlab.plots.lettering import balanced, width_of, wrapped
from hitlab.wording import chance_text, percent

__all__ = ["draw_card"]

_SCREEN = (1920, 1080)
_DOTS_PER_INCH = 100
_MARGIN = 90.0
_SMALLEST = 24.0
_LEADING = 1.3
_ASCENT, _DESCENT = 0.93, 0.24  # of the font, in type sizes
_NAME_LEADING = 1.2
_MOST_ROWS = 10
_LEAST_ROWS = 4
_SENTENCE = (58.0, 52.0, 46.0, 42.0, 38.0, 35.0, 32.0, 28.0, 24.0)
_SENTENCE_WITH_ALL = 32.0  # rather than smaller, rows are left out
_LOUD = 40.0  # a sentence of this size or more has few lines, and leaves the rows room
_LINES_WHEN_LOUD = 4
_CALM_ROW = 54.0
_STRIP = 112.0  # verdict and chance
_HEADS = 40.0  # titles over the columns
_AXIS = 56.0  # numbers under the rows
_GAP = 26.0
_CLAIM = 25.0
_LARGEST_ROW = 92.0
_LEAST_CHART = 420.0
_FOOT_LINES = 4


@dataclass(frozen=True, slots=True)
class _Plan:
    """What fits: the sentence's size and lines, the rows, their height, and the lines of each name."""

    size: float
    sentence: list[str]
    seen: Rows | None
    row: float
    letters: float
    names: list[list[str]]
    left: float  # width of the names' column
    left_out: int


class _Screen:
    """A figure that is written on in pixels of the screen, y downward."""

    def __init__(self, size: tuple[int, int]) -> None:
        self.scale = min(size[0] / _SCREEN[0], size[1] / _SCREEN[1])
        self.width, self.height = size[0] / self.scale, size[1] / self.scale
        inches = (size[0] / _DOTS_PER_INCH, size[1] / _DOTS_PER_INCH)
        self.figure = Figure(inches, dpi=_DOTS_PER_INCH, facecolor=look.BACKGROUND, layout=None)
        self.ax = self.figure.add_axes((0, 0, 1, 1))
        self.ax.set_axis_off()
        self.ax.set_xlim(0, self.width)
        self.ax.set_ylim(self.height, 0)

    def points(self, pixels: float) -> float:
        return pixels * self.scale * 72 / _DOTS_PER_INCH

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
        )

    def lines(self, y: float, lines: list[str], pixels: float, color: str, weight: str = "normal") -> float:
        for line in lines:
            self.write(_MARGIN, y, line, pixels, color, weight=weight)
            y += pixels * _LEADING
        return y


def draw_card(claim: Claim, size: tuple[int, int], source: str) -> Figure:
    """Draw a card; see ``hitlab.evidence.cards.card``."""
    screen = _Screen(size)
    wide = screen.width - 2 * _MARGIN
    claimed = wrapped(f"The claim: {claim.claim}.", wide, _CLAIM)
    foot = _foot(claim, wide)
    origin = wrapped(source, wide, _SMALLEST)
    seen = rows_of(claim, _MOST_ROWS)
    marks = wrapped(_marks(seen, 0), wide, _SMALLEST) if seen else []
    foot_height = (len(foot) + len(origin) + len(marks)) * _SMALLEST * _LEADING + 2 * 16.0
    top = 56.0 + len(claimed) * _CLAIM * _LEADING + _GAP / 2
    room = screen.height - 44.0 - foot_height - top - _STRIP - _GAP
    plan = _plan(claim, seen, wide, room)
    y = screen.lines(56.0, claimed, _CLAIM, look.QUIET) + _GAP / 2
    y = screen.lines(y, plan.sentence, plan.size, look.INK, "bold") + _GAP
    _draw_verdict(screen, claim, y)
    y += _STRIP
    low = screen.height - 44.0 - foot_height
    if plan.seen is not None:
        _draw_rows(screen, plan, plan.seen, y, low)
        marks = wrapped(_marks(plan.seen, plan.left_out), wide, _SMALLEST)
    y = screen.lines(low, marks, _SMALLEST, look.QUIET) + 16.0
    screen.ax.plot(
        [_MARGIN, screen.width - _MARGIN], [y - 6, y - 6], color=look.GRID, linewidth=screen.points(2)
    )
    y = screen.lines(y, foot, _SMALLEST, look.QUIET)
    screen.lines(y + 8.0, origin, _SMALLEST, look.QUIET)
    keep_words(screen.ax, " ".join(f"{words_of(claim, plan.seen)} {' '.join(foot)} {source}".split()))
    return screen.figure


def _marks(seen: Rows, left_out: int) -> str:
    text = f"{seen.marks[0].upper()}{seen.marks[1:]}."
    if not _axis_over(seen):
        text = f"{seen.axis[0].upper()}{seen.axis[1:]}. {text}"
    return text + (f" {left_out} more in the table." if left_out else "")


def _axis_over(seen: Rows) -> bool:
    """Whether the chart's title has room over it; else the caption begins with it."""
    return not seen.lines and width_of(seen.axis, _SMALLEST) <= _LEAST_CHART


def _foot(claim: Claim, wide: float) -> list[str]:
    """Return the assumptions in brief and as many notes as there is room for."""
    lines: list[str] = []
    text = ""
    parts = [f"Assumed: {'; '.join(claim.assumptions)}."]
    parts += [f"{note[0].upper()}{note[1:]}." for note in claim.notes if "another claim" not in note]
    for part in parts:
        longer = wrapped(f"{text} {part}".strip(), wide, _SMALLEST)
        if len(longer) <= _FOOT_LINES or not lines:
            text, lines = f"{text} {part}".strip(), longer
    return lines


def _plan(claim: Claim, seen: Rows | None, wide: float, room: float) -> _Plan:
    """Find the largest sentence and the most rows that fit into the room between claim and small print."""
    every = len(seen.names) if seen else 0
    for most in range(every, -1, -1):
        rows = rows_of(claim, most) if most else None
        for size in _SENTENCE:
            if size < _SENTENCE_WITH_ALL and most > _LEAST_ROWS:
                break
            sentence = balanced(claim.say_in_full, wide, size, "bold")
            left = room - len(sentence) * size * _LEADING
            plan = _rows(size, sentence, rows, wide, left, every - most)
            calm = size < _LOUD or (
                len(sentence) <= _LINES_WHEN_LOUD and (plan is None or plan.row >= _CALM_ROW)
            )
            if plan is not None and calm:
                return plan
    raise AssertionError("a sentence without rows always fits")


def _rows(
    size: float, sentence: list[str], seen: Rows | None, wide: float, room: float, left_out: int
) -> _Plan | None:
    if seen is None:
        return _Plan(size, sentence, None, 0, 0, [], 0, left_out) if room >= 0 else None
    row = min((room - _HEADS - _AXIS) / len(seen.names), _LARGEST_ROW)
    letters = float(np.clip(0.46 * row, _SMALLEST, 34.0))
    while letters >= _SMALLEST:
        beside = sum(_widths(seen, letters))
        most = wide - beside - _LEAST_CHART
        names = [wrapped(name, most, letters) for name in seen.names]
        # A name of two lines may reach into the rows beside it, as far as their names leave room.
        tall = [len(lines) for lines in names]
        pairs = [(a + b) / 2 for a, b in pairwise(tall)] or [float(tall[0])]
        if row >= max(pairs) * letters * _NAME_LEADING + 3.0 and most > 200:
            widest = max(width_of(line, letters) for lines in names for line in lines)
            # The title over the records reaches to the left over the names.
            widest = max(widest, width_of(seen.columns[0], _SMALLEST) - _widths(seen, letters)[0] + _GAP)
            return _Plan(size, sentence, seen, row, letters, names, widest, left_out)
        letters -= 2.0
    return None


def _widths(seen: Rows, letters: float) -> tuple[float, float, float]:
    """Return the widths of the columns of records, rates and chances, with their gaps."""
    record = max(width_of(text, letters) for text in seen.records) + 2 * _GAP
    rate = max(width_of(seen.columns[1], _SMALLEST), width_of(".000", letters)) + _GAP
    chance = max(width_of(text, letters) for text in seen.chance)
    return record, rate, max(chance, width_of(seen.columns[2], _SMALLEST)) + (_GAP if any(seen.chance) else 0)


def _draw_verdict(screen: _Screen, claim: Claim, y: float) -> None:
    word = f"{claim.verdict[0].upper()}{claim.verdict[1:]}"
    middle = y + 40.0
    screen.write(_MARGIN, middle, word, 46.0, look.ACCENTS[0], weight="bold", va="center")
    start = _MARGIN + width_of(word, 46.0, "bold") + 60.0
    if claim.chance is None:
        words = claim.without_chance
        words += "; it says nothing about who is better" if claim.about == "record" else ""
        screen.write(start, middle, words, 30.0, look.QUIET, va="center")
        return
    told = f"chance {chance_text(claim.chance)}"
    screen.write(start, middle, told, 34.0, look.INK, va="center")
    low = start + width_of(told, 34.0) + 60.0
    high = screen.width - _MARGIN

    def at(chance: float) -> float:
        return low + chance * (high - low)

    line, bound = screen.points(3), screen.points(2)
    screen.ax.plot(
        [low, high], [middle] * 2, color=look.FAINT, linewidth=line, solid_capstyle="butt", zorder=1
    )
    for chance in (0.0, claim.fails_at, claim.holds_at, 1.0):
        screen.ax.plot(
            [at(chance)] * 2, [middle - 16, middle + 16], color=look.FAINT, linewidth=bound, zorder=1
        )  # fmt: skip
    screen.ax.plot(
        [at(claim.chance)], [middle], marker="o", markersize=screen.points(24), color=look.ACCENTS[0],
        zorder=3, label="chance",
    )  # fmt: skip
    under = middle + 28.0
    ends = (f"to {percent(claim.fails_at)}: does not hold", f"from {percent(claim.holds_at)}: holds")
    screen.write(low, under, ends[0], _SMALLEST, look.QUIET)
    screen.write(high, under, ends[1], _SMALLEST, look.QUIET, ha="right")
    between = at((claim.fails_at + claim.holds_at) / 2)
    half = width_of("open", _SMALLEST) / 2 + 12.0
    free = low + width_of(ends[0], _SMALLEST), high - width_of(ends[1], _SMALLEST)
    if free[0] + half < between < free[1] - half:
        screen.write(between, under, "open", _SMALLEST, look.QUIET, ha="center")


def _draw_rows(screen: _Screen, plan: _Plan, seen: Rows, y: float, low: float) -> None:
    letters, count = plan.letters, len(seen.names)
    record, rate, chance = _widths(seen, letters)
    spare = max(low - y - _HEADS - _AXIS - plan.row * count, 0.0)
    top = y + _HEADS + spare / 2
    left, right = _MARGIN + plan.left + record, screen.width - _MARGIN - rate - chance
    ax = screen.figure.add_axes(
        (
            left / screen.width,
            1 - (top + plan.row * count) / screen.height,
            (right - left) / screen.width,
            plan.row * count / screen.height,
        )
    )
    look.axes_for(ax)
    draw_evidence(ax, seen, scale=float(np.clip(plan.row / 30.0, 1.4, 2.4)) * screen.scale, label=False)
    ax.set_ylim(count - 0.5, -0.5)
    look.rate_axis(ax.xaxis, "")
    ax.tick_params(labelsize=screen.points(_SMALLEST), pad=screen.points(10))
    ax.locator_params(axis="x", nbins=5)
    heads = top - 10.0
    for row, lines in enumerate(plan.names):
        color = look.ACCENTS[0] if seen.subject[row] else look.INK
        middle = top + plan.row * (row + 0.5)
        first = middle - (len(lines) - 1) * letters * _NAME_LEADING / 2
        for number, line in enumerate(lines):
            screen.write(_MARGIN, first + number * letters * _NAME_LEADING, line, letters, color, va="center")
        screen.write(left - _GAP, middle, seen.records[row], letters, color, ha="right", va="center")
        screen.write(right + _GAP, middle, seen.said(row), letters, color, va="center")
        if seen.chance[row]:
            screen.write(
                screen.width - _MARGIN, middle, seen.chance[row], letters, color, ha="right", va="center"
            )
    screen.write(right + _GAP, heads, seen.columns[1], _SMALLEST, look.QUIET, va="bottom")
    screen.write(
        screen.width - _MARGIN, heads, seen.columns[2], _SMALLEST, look.QUIET, ha="right", va="bottom"
    )
    screen.write(left - _GAP, heads, seen.columns[0], _SMALLEST, look.QUIET, ha="right", va="bottom")
    if _axis_over(seen):
        screen.write(left, heads, seen.axis, _SMALLEST, look.QUIET, va="bottom")
    for value, side in zip(seen.lines, line_sides(len(seen.lines)), strict=True):
        at = left + (value - ax.get_xlim()[0]) / float(np.ptp(ax.get_xlim())) * (right - left)
        screen.write(at, heads, seen.text(value), _SMALLEST, ha=side, va="bottom")
