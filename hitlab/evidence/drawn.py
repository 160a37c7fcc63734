"""What a drawn picture is remembered by: its size, what is written in it, what is drawn, and how dark it is.

Two processors round differently in the last bits, so that a line of text may stand one dot further on: a sum
over all pixels would call that another picture. Written words are held to the letter, lines, marks and areas
one by one to their places, colours and widths (:mod:`hitlab.evidence.strokes`), and the picture as a whole to
the mean colour of its squares: what an image within it shows is told by those.
"""

from __future__ import annotations

import hashlib
import io
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.evidence.strokes import Strokes
from hitlab.writing import write_file

__all__ = ["ALIKE", "Drawn", "Print", "load_prints", "save_prints"]

ALIKE = 8.0
"""How far the mean colours of a square may be apart, of 255.

A line of 12 points that stands one dot further on moves a square by 2, the largest headline of a card by 6.5
(reckoned, and seen).
"""

_SIDE = 40  # pixels of a square
_SHEET = 512  # squares to a row of the sheet


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture of the gallery.

    Attributes
    ----------
    group, name
        The heading it stands under, and the name of its file without the ending.
    words
        Its alt text.
    written
        What is written in it, in the order in which it is drawn.
    strokes
        What is drawn in it.
    png
        The file.
    pixels
        Width and height.
    """

    group: str
    name: str
    words: str
    written: tuple[str, ...]
    strokes: Strokes
    png: bytes
    pixels: tuple[int, int]

    @property
    def print(self) -> Print:
        """What it is remembered by."""
        from PIL import Image

        with Image.open(io.BytesIO(self.png)) as image:
            size = image.size
            dots: NDArray[Any] = np.asarray(image.convert("RGBA"))
        ink, dots = dots[..., 3:], dots[..., :3]
        if ink.min() < 255:
            dots = dots * (ink / 255) + (255 - ink)
        down, across = (-(-each // _SIDE) for each in dots.shape[:2])
        spare = [(0, down * _SIDE - dots.shape[0]), (0, across * _SIDE - dots.shape[1]), (0, 0)]
        # First rows, which lie together.
        rows = np.pad(dots, spare, mode="edge").reshape(down, _SIDE, -1).sum(axis=1, dtype=np.float64)
        squares = rows.reshape(down, across, _SIDE, 3).sum(axis=2) / _SIDE**2
        said = hashlib.sha256(json.dumps([self.words, *self.written]).encode()).hexdigest()[:16]
        return Print(size, said, self.strokes, squares.round().astype(np.uint8))


@dataclass(frozen=True, slots=True, eq=False)
class Print:
    """What a picture is remembered by.

    Attributes
    ----------
    size
        Width and height of the file in pixels.
    said
        The first digits of the SHA-256 of its alt text and of all that is written in it.
    strokes
        What is drawn in it.
    squares
        Shape (down, across, 3): mean colour of each square of 40 pixels.
    """

    size: tuple[int, int]
    said: str
    strokes: Strokes
    squares: NDArray[np.uint8]

    def differs(self, other: Print) -> str:
        """Say in what another print is another picture; empty where it is the same."""
        if self.size != other.size:
            return f"{self.size[0]} by {self.size[1]} pixels, and was {other.size[0]} by {other.size[1]}"
        if self.said != other.said:
            return "something else is written in it"
        if drawn := self.strokes.differs(other.strokes):
            return drawn
        apart = np.abs(self.squares.astype(float) - other.squares).max(axis=2)
        if apart.max() <= ALIKE:
            return ""
        row, column = np.unravel_index(int(apart.argmax()), apart.shape)
        return (
            f"colours are {apart.max():.0f} of 255 apart about {column * _SIDE + _SIDE // 2} pixels from the "
            f"left and {row * _SIDE + _SIDE // 2} from the top"
        )


def save_prints(prints: Mapping[str, Print], path: Path) -> None:
    """Write prints to a JSON file; beside it, under the same name, their squares and their strokes.

    Parameters
    ----------
    prints
        By the pictures' names; one at least.
    path
        Of the JSON file; the squares stand one print after another, row by row, in ``path`` with ``.png``,
        and the strokes in the same order in ``path`` with ``.npz``.
    """
    import matplotlib
    from PIL import Image

    names = sorted(prints)
    line = np.concatenate([prints[name].squares.reshape(-1, 3) for name in names])
    rows = max(-(-len(line) // _SHEET), 1)
    sheet = np.full((rows * _SHEET, 3), 255, dtype=np.uint8)
    sheet[: len(line)] = line
    held = io.BytesIO()
    Image.fromarray(sheet.reshape(rows, _SHEET, 3)).save(held, format="png", optimize=True)
    drawn = [prints[name].strokes for name in names]
    packed = io.BytesIO()
    np.savez_compressed(
        packed,
        kinds=np.concatenate([one.kinds for one in drawn]),
        numbers=np.concatenate([one.numbers for one in drawn]),
    )
    kept = {
        name: {
            "size": list(prints[name].size),
            "said": prints[name].said,
            "drawn": len(prints[name].strokes.kinds),
        }
        for name in names
    }
    library = {"matplotlib": matplotlib.__version__, "pictures": kept}
    write_file(path.with_suffix(".png"), held.getvalue())
    write_file(path.with_suffix(".npz"), packed.getvalue())
    write_file(path, (json.dumps(library, indent=1) + "\n").encode())


def load_prints(path: Path) -> tuple[str, dict[str, Print]]:
    """Read what :func:`save_prints` wrote: the version of matplotlib that drew, and the prints by name."""
    from PIL import Image

    library: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    with Image.open(path.with_suffix(".png")) as image:
        line = np.asarray(image.convert("RGB")).reshape(-1, 3)
    with np.load(path.with_suffix(".npz"), allow_pickle=False) as packed:
        kinds, numbers = packed["kinds"], packed["numbers"]
    prints, at, thing, number = {}, 0, 0, 0
    for name, one in library["pictures"].items():
        width, height = one["size"]
        down, across = -(-height // _SIDE), -(-width // _SIDE)
        squares = line[at : at + down * across].reshape(down, across, 3)
        of = kinds[thing : thing + one["drawn"]]
        strokes = Strokes(of, numbers[number : number + int(of[:, 1].sum())])
        prints[name] = Print((width, height), one["said"], strokes, squares)
        at, thing, number = at + down * across, thing + len(of), number + len(strokes.numbers)
    return library["matplotlib"], prints
