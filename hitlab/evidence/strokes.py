"""Everything that is drawn in a picture, one by one: what it is, where it lies, in what colour and how thick.

Mean colours of squares let a line pass that is not there any more, or dots a few pixels off. Here the
renderer notes what it is told to draw. Two processors differ in the last bits, which a rounded and hashed
number would turn into another one: numbers are kept as they are, and compared with a tolerance.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from numpy.typing import ArrayLike, NDArray

__all__ = ["APART", "KINDS", "Strokes", "draw_png"]

APART = 2
"""Whole pixels by which what is drawn may be apart; of 255 for colours, tenths of a pixel for line widths.

Places are kept in whole pixels, halves in the even one, so that 4 pixels are always found and 1 is always
forgiven. Of 3 those from one half to another may be missed.
"""

KINDS = ("line or area", "area with hatching", "marks", "lines or areas", "image", "text")
_LINE, _HATCHED, _MARKS, _LINES, _IMAGE, _TEXT = range(len(KINDS))
_NOWHERE, _FAR = -32_768, 32_000  # a place that is missing; one far outside the picture


@dataclass(frozen=True, slots=True, eq=False)
class Strokes:
    """All that was drawn in a picture, in the order of drawing.

    Attributes
    ----------
    kinds
        Shape (n, 2): of each the place of its kind in ``KINDS``, and how many numbers it has.
    numbers
        The numbers of all, one after another: places in pixels from the left and from below, colours, widths.
    """

    kinds: NDArray[np.int32]
    numbers: NDArray[np.int16]

    def differs(self, other: Strokes) -> str:
        """Say in what something else is drawn; empty where all is within ``APART`` of the other."""
        if len(self.kinds) != len(other.kinds):
            return f"{len(self.kinds)} things are drawn, and were {len(other.kinds)}"
        for number, (one, was) in enumerate(zip(self.kinds.tolist(), other.kinds.tolist(), strict=True)):
            if one != was:
                return (
                    f"what is drawn as number {number + 1} is {KINDS[one[0]]} of {one[1]} numbers, and was "
                    f"{KINDS[was[0]]} of {was[1]}"
                )
        apart = np.abs(self.numbers.astype(np.int32) - other.numbers)
        if apart.max(initial=0) <= APART:
            return ""
        worst = int(apart.argmax())
        number = int(np.searchsorted(np.cumsum(self.kinds[:, 1]), worst, side="right"))
        return (
            f"{KINDS[self.kinds[number, 0]]}, drawn as number {number + 1} of {len(self.kinds)}: "
            f"{self.numbers[worst]}, and was {other.numbers[worst]}"
        )


def draw_png(figure: Figure, dots_per_inch: float) -> tuple[bytes, Strokes]:
    """Draw a figure into a PNG file, and return with it what was drawn.

    Parameters
    ----------
    figure
        It keeps its own canvas.
    dots_per_inch
        Of the file.
    """
    before = figure.canvas
    canvas: Any = _Canvas(figure)
    held = io.BytesIO()
    try:
        figure.savefig(held, format="png", dpi=dots_per_inch, metadata={"Software": None})
        return held.getvalue(), canvas.renderer.strokes()
    finally:
        figure.set_canvas(before)


class _Canvas(FigureCanvasAgg):
    def get_renderer(self) -> RendererAgg:
        width, height = self.get_width_height(physical=True)
        return _Noting(width, height, self.figure.dpi)  # type: ignore[no-untyped-call]


class _Noting(RendererAgg):
    """Draws, and notes what."""

    def _update_methods(self) -> None:
        super()._update_methods()  # type: ignore[no-untyped-call]
        # What matplotlib binds to the object itself would go past methods of this class.
        own: Any = self
        self._noted: list[tuple[int, NDArray[np.int16]]] = []
        self._draws = (self.draw_markers, self.draw_path_collection, self.draw_image)
        own.draw_markers, own.draw_path_collection, own.draw_image = (
            self._markers,
            self._collection,
            self._image,
        )

    def strokes(self) -> Strokes:
        kinds = np.array([(kind, len(numbers)) for kind, numbers in self._noted], dtype=np.int32)
        return Strokes(kinds.reshape(-1, 2), np.concatenate([_whole([]), *(one for _, one in self._noted)]))

    def _note(self, kind: int, gc: Any, *parts: ArrayLike) -> None:
        width = gc.get_linewidth() * self.dpi / 72  # from points to pixels
        pen = [*(255 * np.asarray(gc.get_rgb())), 10 * width]
        _, dashes = gc.get_dashes()
        self._noted.append((kind, np.concatenate([_whole(part) for part in (pen, dashes or [], *parts)])))

    def draw_path(self, gc: Any, path: Any, transform: Any, rgbFace: Any = None) -> None:  # noqa: N803
        places = transform.transform(path.vertices)
        kind = _HATCHED if gc.get_hatch() else _LINE
        self._note(kind, gc, _fill(rgbFace), _ends(places) if kind == _HATCHED else places)
        super().draw_path(gc, path, transform, rgbFace)  # type: ignore[no-untyped-call]

    def _markers(
        self, gc: Any, mark: Any, mark_transform: Any, path: Any, transform: Any, *fill: Any
    ) -> None:
        size = _ends(mark_transform.transform(mark.vertices))
        self._note(_MARKS, gc, _fill(*fill), size, transform.transform(path.vertices))
        self._draws[0](gc, mark, mark_transform, path, transform, *fill)

    def _collection(
        self, gc: Any, master: Any, paths: Any, transforms: Any, offsets: Any, offset_transform: Any,
        fills: Any, edges: Any, widths: Any, *more: Any, **named: Any,
    ) -> None:  # fmt: skip
        shapes = [master.transform(path.vertices) for path in paths]
        hatched = bool(gc.get_hatch())
        self._note(
            _HATCHED if hatched else _LINES,
            gc,
            *([_ends(np.concatenate(shapes))] if hatched and shapes else shapes),
            np.asarray(transforms)[..., 0, 0] if len(transforms) else [],
            offset_transform.transform(offsets) if len(offsets) else [],
            255 * np.asarray(fills),
            255 * np.asarray(edges),
            10 * np.asarray(widths),
        )
        self._draws[1](
            gc, master, paths, transforms, offsets, offset_transform, fills, edges, widths, *more, **named
        )

    def _image(self, gc: Any, x: float, y: float, image: Any, *more: Any) -> None:
        self._note(_IMAGE, gc, [x, y], image.shape)
        self._draws[2](gc, x, y, image, *more)

    def draw_text(
        self, gc: Any, x: float, y: float, s: str, prop: Any, angle: float, ismath: Any = False,
        mtext: Any = None,
    ) -> None:  # fmt: skip
        self._note(_TEXT, gc, [x, self.height - y, angle, 10 * prop.get_size_in_points()])
        super().draw_text(gc, x, y, s, prop, angle, ismath, mtext)  # type: ignore[no-untyped-call]


def _fill(color: Any = None) -> NDArray[np.float64]:
    """Return a fill as numbers up to 255: none where there is none."""
    return 255 * np.asarray(() if color is None else color, dtype=float)


def _ends(places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the two corners of what is drawn.

    Of the outline of an area with hatching no more is kept: where it was traced on a grid, a last bit gives
    it another corner.
    """
    with np.errstate(all="ignore"):
        return np.array([np.nanmin(places, axis=0), np.nanmax(places, axis=0)])


def _whole(part: ArrayLike | Iterable[float]) -> NDArray[np.int16]:
    line = np.asarray(part, dtype=float).ravel()
    return np.where(np.isnan(line), _NOWHERE, np.clip(np.round(line), -_FAR, _FAR)).astype(np.int16)
