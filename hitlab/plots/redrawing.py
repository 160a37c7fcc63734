"""A picture drawn again and again with little changed: drawn letters are kept, and PNG is packed lightly.

Most of the time of a redraw goes into letters, glyph by glyph, and into packing; yet from one place of a
slider to the next nearly all words stay. Here each piece of text is drawn once on a sheet of its own and laid
onto the pictures that follow, and what was measured of it is known to the next picture of that size. These
differ from the others by rounding, at most three of 255 shades at the edge of a letter.
"""

from __future__ import annotations

import math
import struct
import zlib
from functools import lru_cache
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from numpy.typing import NDArray

__all__ = ["quick_png"]

_ROOM = 2
"""Pixels around a text, for letters that reach over its box."""


def quick_png(figure: Figure, dots_per_inch: float) -> bytes:
    """Return a figure as PNG.

    Parameters
    ----------
    figure
        A figure made with this package.
    dots_per_inch
        How finely it is drawn.

    Returns
    -------
    bytes
        The file. The same picture gives the same bytes.
    """
    before = figure.canvas, figure.get_dpi()
    canvas: Any = _Canvas(figure)
    try:
        figure.set_dpi(dots_per_inch)
        canvas.draw()
        return _packed(np.asarray(canvas.buffer_rgba()))
    finally:
        figure.set_canvas(before[0])
        figure.set_dpi(before[1])


def _packed(pixels: NDArray[np.uint8]) -> bytes:
    """Write pixels, shape (rows, columns, 4), as a PNG file (W3C, Portable Network Graphics, third edition).

    Rows go into the file as they are. Pillow tries five ways to foretell each row from its neighbours, which
    takes half of its time, and pictures of flat colours come out larger for it.
    """
    height, width = pixels.shape[:2]
    # What hides all behind it needs no fourth number.
    bytes_each, kind = (3, 2) if pixels[..., 3].min() == 255 else (4, 6)
    rows = np.zeros((height, 1 + bytes_each * width), dtype=np.uint8)  # each begins with 0: nothing foretold
    for number in range(bytes_each):  # one after the other, which takes a quarter of the time
        rows[:, 1 + number :: bytes_each] = pixels[..., number]
    parts = (
        (b"IHDR", struct.pack(">2I5B", width, height, 8, kind, 0, 0, 0)),
        (b"IDAT", zlib.compress(rows.data, level=1)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts
    )


class _Canvas(FigureCanvasAgg):
    """A canvas whose renderer keeps letters, from one figure to the next."""

    def get_renderer(self) -> RendererAgg:
        # Whole pixels, as everywhere: with a fraction of one, letters drawn and letters laid on part.
        return _letters(*self.get_width_height(physical=True), self.figure.dpi)


@lru_cache(maxsize=2)
def _letters(width: int, height: int, dpi: float) -> _Letters:
    """Return the renderer of that size: matplotlib keeps with it what it has measured of texts."""
    return _Letters(width, height, dpi)  # type: ignore[no-untyped-call]


class _Letters(RendererAgg):
    """Lays each text onto the picture from a sheet on which it was drawn once."""

    def draw_text(
        self, gc: Any, x: float, y: float, s: str, prop: FontProperties, angle: float,
        ismath: Any = False, mtext: Any = None,
    ) -> None:  # fmt: skip
        if ismath or gc.get_clip_rectangle() is not None:
            super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)  # type: ignore[no-untyped-call]
            return
        left, top = math.floor(x), math.floor(y)
        sheet, right, down = _drawn(s, prop, angle, self.dpi, gc.get_rgb(), gc.get_alpha(), x - left, y - top)
        bottom = int(self.height) - (top + down + sheet.shape[0])
        self.draw_image(gc, left + right, bottom, sheet)


@lru_cache(maxsize=512)
def _drawn(
    text: str, prop: FontProperties, angle: float, dpi: float, color: Any, alpha: float, x: float, y: float
) -> tuple[NDArray[np.uint8], int, int]:
    """Return a sheet with a text, and how many pixels right of its place and under it the sheet begins."""
    measure: Any = RendererAgg(8, 8, dpi)  # type: ignore[no-untyped-call]
    width, height, descent = measure.get_text_width_height_descent(text, prop, False)
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    # Corners of the text's box, y downward, turned about where it begins.
    corners = [
        (a * cos + b * sin, b * cos - a * sin) for a in (0, width) for b in (descent - height, descent)
    ]
    (left, right), (top, bottom) = (
        (math.floor(min(side)) - _ROOM, math.ceil(max(side)) + _ROOM + 1)
        for side in zip(*corners, strict=True)
    )
    sheet: Any = RendererAgg(right - left, bottom - top, dpi)  # type: ignore[no-untyped-call]
    gc = sheet.new_gc()
    gc.set_foreground(color)
    gc.set_alpha(alpha)
    sheet.draw_text(gc, x - left, y - top, text, prop, angle)
    # Images are laid on from the bottom up.
    return np.array(sheet.buffer_rgba())[::-1], left, top
