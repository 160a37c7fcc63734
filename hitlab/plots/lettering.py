"""Text on pictures: every script readable, nothing taken for mathematics, lines broken, labels apart."""

from __future__ import annotations

import re
import unicodedata
import warnings
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from matplotlib import font_manager
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.ft2font import FT2Font
from matplotlib.text import Annotation
from numpy.typing import NDArray

from hitlab.errors import HitlabWarning
from hitlab.showing import shown

__all__ = [
    "balanced",
    "families",
    "measuring",
    "move_apart",
    "readable",
    "take_not_drawn",
    "width_of",
    "wrapped",
]

FAMILY = "DejaVu Sans"
"""Comes with matplotlib, so pictures are the same everywhere; Latin, Greek, Cyrillic, Hebrew and Arabic."""

# Letters written from the right (Hebrew, Arabic and their neighbours), with what stands between them.
_RIGHT = "\u0590-\u07ff\ufb1d-\ufdff\ufe70-\ufefc"
_RUN = re.compile(f"[{_RIGHT}](?:[{_RIGHT}\\s.'’\"-]*[{_RIGHT}])?")
_PILE = re.compile("([\u0300-\u036f]{3})[\u0300-\u036f]+")
_SLACK = 0.975  # letters are fitted to pixels, so a line drawn smaller is not quite narrower in proportion
_MEASURED_AT = 50.0
_LEFT_MARK, _ISOLATE, _END = "\u200e", "\u2068", "\u2069"


def readable(text: str) -> str:
    """Return text as it can be drawn.

    What cannot be seen is written as an escape (``hitlab.showing``). Accents are joined to their letters. A
    name written from the right is kept together inside an English sentence: without the invisible marks a
    number that follows it would be drawn on its wrong side (Unicode Standard Annex 9). Of accents piled on
    one letter three are drawn, more than spellings have: a pile would reach over all that stands above. A
    character that no installed font has becomes a question mark, with a warning.
    """
    text = _PILE.sub(r"\1", unicodedata.normalize("NFC", shown(text)))
    for character in sorted(_not_ours(text) - _covered(families(text))):
        warnings.warn(
            f"no installed font has {character!r} ({unicodedata.name(character, 'unnamed')}), so ? is drawn; "
            "install a font that has it",
            HitlabWarning,
            stacklevel=3,
        )
        _not_drawn.add(character)
        text = text.replace(character, "?")
    if _RUN.search(text):
        text = _LEFT_MARK + _RUN.sub(lambda run: _ISOLATE + run.group() + _END, text)
    return text


_not_drawn: set[str] = set()


def take_not_drawn() -> list[str]:
    """Return the characters for which ? was drawn since last asked, to be told where warnings are not."""
    found = sorted(_not_drawn)
    _not_drawn.clear()
    return found


def families(text: str) -> list[str]:
    """Return the fonts for a text: ours, and installed ones for characters that it does not have."""
    missing = frozenset(_not_ours(unicodedata.normalize("NFC", text)))
    return [FAMILY, *_others(missing)] if missing else [FAMILY]


def _not_ours(text: str) -> set[str]:
    if text.isascii():
        return set()
    return {c for c in text if c.isprintable() and not c.isspace() and ord(c) not in _ours()}


@lru_cache(maxsize=1)
def _ours() -> frozenset[int]:
    return frozenset(FT2Font(font_manager.findfont(FAMILY)).get_charmap())


@lru_cache(maxsize=256)
def _others(missing: frozenset[str]) -> tuple[str, ...]:
    """Return installed fonts that together have as many of the characters as can be."""
    chosen: list[str] = []
    left = set(missing)
    for name, path in sorted({(entry.name, entry.fname) for entry in font_manager.fontManager.ttflist}):
        if not left:
            break
        if name.startswith("Last Resort"):
            continue  # draws a box with the code for everything
        there = {c for c in left if ord(c) in _charmap(path)}
        if there:
            chosen.append(name)
            left -= there
    return tuple(chosen)


@lru_cache(maxsize=512)
def _charmap(path: str) -> frozenset[int]:
    try:
        return frozenset(FT2Font(path).get_charmap())
    except (OSError, RuntimeError):
        return frozenset()


def _covered(names: Sequence[str]) -> set[str]:
    points: set[int] = set()
    for name in names[1:]:
        points |= _charmap(str(font_manager.findfont(name)))
    return {chr(point) for point in points}


def width_of(text: str, size: float, weight: str = "normal") -> float:
    """Return how wide a line of text is drawn, in the unit of ``size``."""
    return _width(text, weight) * size / _MEASURED_AT


@lru_cache(maxsize=4096)
def _width(text: str, weight: str) -> float:
    font = font_manager.FontProperties(family=families(text), size=_MEASURED_AT, weight=weight)
    size = measuring(72).get_text_width_height_descent(readable(text), font, False)  # type: ignore[no-untyped-call]
    width = size[0]
    return float(width)


@lru_cache(maxsize=8)
def measuring(dots_per_inch: float) -> RendererAgg:
    """Return a renderer to measure text with, the same for every figure.

    Matplotlib remembers what it has measured as long as the renderer is there that it was measured for.
    """
    return RendererAgg(8, 8, dots_per_inch)  # type: ignore[no-untyped-call]


def wrapped(text: str, width: float, size: float, weight: str = "normal") -> list[str]:
    """Break text into lines no wider than ``width``, in the unit of ``size``; a longer word is broken."""
    width *= _SLACK
    space = width_of("n n", size, weight) - 2 * width_of("n", size, weight)
    lines: list[str] = []
    line, used = "", 0.0
    for word in re.sub(r"\s+", " ", text.strip()).replace(" %", "\u00a0%").split(" "):
        long = width_of(word, size, weight)
        while long > width and len(word) > 1:
            ends = range(len(word) - 1, 1, -1)
            fits = next((end for end in ends if width_of(word[:end], size, weight) <= width), 1)
            lines += [line, word[:fits]] if line else [word[:fits]]
            line, used, word = "", 0.0, word[fits:]
            long = width_of(word, size, weight)
        if line and used + space + long > width:
            lines.append(line)
            line, used = word, long
        else:
            line, used = (f"{line} {word}", used + space + long) if line else (word, long)
    return [*lines, line] if line else lines


def balanced(text: str, width: float, size: float, weight: str = "normal") -> list[str]:
    """Break text as :func:`wrapped` does, into as many lines, but with the lines about equally long."""
    lines = wrapped(text, width, size, weight)
    for part in (0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95):
        narrower = wrapped(text, part * width, size, weight)
        if len(narrower) == len(lines):
            return narrower
    return lines


def move_apart(labels: Sequence[Annotation], low: float, high: float) -> None:
    """Shift labels up or down, as little as can be, until none lies on another.

    Parameters
    ----------
    labels
        Annotations of ``look.put`` on one side of a picture.
    low, high
        Display pixels between which they have to lie, where there is room for all.

    Notes
    -----
    Least squares in the shifts with the order kept: isotonic regression of the places less the room
    that the labels below take.
    """
    from scipy.optimize import isotonic_regression

    if len(labels) < 2:
        return
    boxes = [label.get_window_extent() for label in labels]
    middle: NDArray[np.float64] = np.array([(box.y0 + box.y1) / 2 for box in boxes])
    step = max(box.height for box in boxes) + 1.0
    order = np.argsort(middle, kind="stable")
    room = step * np.arange(len(labels))
    wanted = isotonic_regression(middle[order] - room).x
    ceiling = max(high - step / 2 - room[-1], low + step / 2)
    placed = np.clip(wanted, low + step / 2, ceiling) + room
    figure = labels[0].get_figure(root=True)
    assert figure is not None
    for place, target in zip(order, placed, strict=True):
        x, y = labels[place].get_position()
        labels[place].set_position((x, y + (target - middle[place]) * 72 / figure.dpi))
