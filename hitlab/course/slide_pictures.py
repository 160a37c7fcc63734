"""Pictures as slides show them: without margin, title and caption of their own; how large letters are."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any, NamedTuple

import numpy as np
from PIL import Image

from hitlab.course.slides import Picture
from hitlab.plots.card_picture import FORMS, SMALLEST, form_of
from hitlab.plots.look import BACKGROUND, INK, QUIET, SMALL, TITLE

__all__ = ["Cut", "cuts"]

_PAD = 4  # pixels kept around what is drawn
_DRAWN = 0.02  # from the ground, in any colour's share: what is more is drawn
_OF_ONE_COLOUR = 0.04  # letters' edges lie between ground and ink, and no farther off than this
_NO_DOTS = 72.0  # to the inch, where a file does not say: then a pixel is a point
_CARD = "Card: "  # how a card's words begin
# In points of the picture, as ``plots.look`` sets title and caption: how far they begin from the left edge of
# what is drawn and from each other's, how high a line is at most, how far it is to the next one.
_FROM_LEFT, _FROM_TITLE = 6.0, 3.0
_HIGHEST, _GAPS = 1.3, 8.0
_IN_A_LINE = 2.2  # points from row to row within a line of letters


class Cut(NamedTuple):
    """A picture, or a part of it.

    Attributes
    ----------
    pixels
        Rows, columns, and red, green and blue, from 0 to 1.
    letters
        Its smallest letters' type size, in pixels.
    """

    pixels: np.ndarray
    letters: float


def cuts(picture: Picture) -> list[Cut]:
    """Return a picture as it can be shown, the most of it first.

    A picture of the package loses its own title, as the slide has one; then its caption as well. A card,
    whose headline is what it says, and a picture that begins with no title stay whole. All lose the empty
    margin.

    Letters are not measured: those of pictures are ``plots.look.SMALL`` points at least, save for names that
    are too long for their place, those of cards ``SMALLEST`` of the form's pixels.
    """
    image = Image.open(BytesIO(picture.png))
    dots = float(image.info.get("dpi", (_NO_DOTS, _NO_DOTS))[0])
    pixels = _on_ground(image)
    if picture.words.startswith(_CARD):
        form = FORMS[form_of(image.size)].size
        scale = min(has / wanted for has, wanted in zip(image.size, form, strict=True))
        return [Cut(_trimmed(pixels), SMALLEST * scale)]
    begins = [0, *_ends_of_head(pixels, dots / 72)]
    shown = begins[1:] or begins
    return [Cut(_trimmed(pixels[low:]), SMALL * dots / 72) for low in shown]


def _on_ground(image: Any) -> np.ndarray:
    """Return the pixels of a picture on the ground of the page."""
    rgba = np.asarray(image.convert("RGBA"), dtype=float) / 255
    return np.asarray(rgba[..., :3] * rgba[..., 3:] + _color(BACKGROUND) * (1 - rgba[..., 3:]))


def _color(name: str) -> np.ndarray:
    return np.array([int(name[i : i + 2], 16) / 255 for i in (1, 3, 5)])


def _drawn(pixels: np.ndarray) -> np.ndarray:
    return np.asarray(np.abs(pixels - pixels[0, 0]).max(axis=2) > _DRAWN)


def _trimmed(pixels: np.ndarray) -> np.ndarray:
    drawn = _drawn(pixels)
    if not drawn.any():
        return pixels
    rows, columns = (np.flatnonzero(drawn.any(axis=axis)) for axis in (1, 0))
    return pixels[
        max(rows[0] - _PAD, 0) : rows[-1] + _PAD + 1, max(columns[0] - _PAD, 0) : columns[-1] + _PAD + 1
    ]


def _ends_of_head(pixels: np.ndarray, point: float) -> list[int]:
    """Return the rows in which a picture's title and its caption end; fewer where it has none.

    Parameters
    ----------
    pixels
        Of the whole picture.
    point
        Pixels of one point.
    """
    drawn = _drawn(pixels)
    if not drawn.any():
        return []
    left = int(np.flatnonzero(drawn.any(axis=0))[0])
    lines = [
        (low, high, int(np.flatnonzero(drawn[low:high].any(axis=0))[0]))
        for low, high in _lines(drawn, _IN_A_LINE * point)
    ]
    reach = _FROM_LEFT * point
    ends: list[int] = []
    for color, size in ((INK, TITLE), (QUIET, SMALL)):
        end = 0
        for low, high, begins in lines:
            near = abs(begins - left) <= reach and low - (end or low) <= _GAPS * point
            fits = near and high - low <= _HIGHEST * size * point
            if not fits or not _is_of(pixels[low:high][drawn[low:high]], color):
                break
            # What follows begins where the title does.
            left, reach, end = begins, _FROM_TITLE * point, high
        if not end:
            break
        ends.append(end)
        lines = [line for line in lines if line[0] >= end]
    return ends


def _lines(drawn: np.ndarray, most: float) -> Iterator[tuple[int, int]]:
    """Give the runs of rows in which something is drawn; the dot of an i belongs to its letter."""
    rows = np.flatnonzero(drawn.any(axis=1))
    last = np.flatnonzero(np.diff(rows) > most)
    for first, end in zip([0, *(last + 1)], [*last, len(rows) - 1], strict=True):
        yield int(rows[first]), int(rows[end]) + 1


def _is_of(there: np.ndarray, color: str) -> bool:
    """Say whether pixels are letters of a colour: between the ground and it, and reaching it."""
    ground, step = _color(BACKGROUND), _color(color) - _color(BACKGROUND)
    along = (there - ground) @ step / (step @ step)
    off = np.abs(there - ground - along[:, None] * step).max()
    return bool(off <= _OF_ONE_COLOUR and 0.9 <= along.max() <= 1.1)
