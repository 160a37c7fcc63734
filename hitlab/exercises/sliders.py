"""A slider above a picture, which it redraws in its place."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import partial
from html import escape
from importlib import import_module
from typing import TYPE_CHECKING, Any

from hitlab.errors import HitlabError
from hitlab.optional import load

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["move_it", "picture_of"]

_DOTS_PER_INCH = 100  # the figures' own: what was measured for the layout is not measured again
_PAUSE_S = 0.1  # a key that is held down, and the next cell, are answered first
_WIDTH = 720  # of the shown picture, in CSS pixels


def move_it(draw: Callable[[Any], Axes], name: str, values: Sequence[Any], start: Any = None) -> None:
    """Show a slider, and below it one picture, which is drawn again in its place for another value.

    The picture is a display of its own: it stays in a saved notebook, as the slider left it, and in an
    exported page, where a plain line stands for the slider. Without ipywidgets the picture and such a line
    are shown. A notebook that is closed and opened again has to run the cell again, before its slider moves
    the picture. A place where the slider has been before is not drawn again, and its neighbours are drawn
    while the notebook is idle, so that the next step shows at once.

    Parameters
    ----------
    draw
        Takes one of the values, returns the axes of a fresh figure made with ``hitlab.plots``.
    name
        What is moved, in a word or two; it labels the slider.
    values
        All places of the slider, in order.
    start
        Where it begins; the first value if not given.

    Raises
    ------
    HitlabError
        Where ``start`` is not among the values, or there are none.
    """
    shown = load("IPython.display", "sliders", "course")
    places = list(values)
    begin = places[0] if start is None and places else start
    if begin not in places:
        raise HitlabError(f"start={start!r} is not among the slider's values: {places!r:.80}")
    first = picture_of(draw(begin))

    def shown_at(index: int, picture: str) -> Any:
        return shown.HTML(f"{picture}<p>{escape(f'{name}: {places[index]}')}</p>")

    start_at = places.index(begin)
    try:
        ipywidgets: Any = import_module("ipywidgets")
    except ImportError:
        shown.display(shown_at(start_at, first))
        print("The slider needs ipywidgets (pip install ipywidgets); the picture above stays as it is.")
        return
    slider = ipywidgets.SelectionSlider(
        options=places, value=begin, description=name, continuous_update=False,
        style={"description_width": "initial"}, layout={"width": "40em", "max_width": "100%"},
    )  # fmt: skip
    bundle = slider._repr_mimebundle_()
    # The plain line is what an exported page and a notebook that is not running show.
    bundle["text/plain"] = f"In JupyterLab a slider stands here: {name}, from {places[0]} to {places[-1]}."
    shown.display(bundle, raw=True)
    picture = shown.display(shown_at(start_at, first), display_id=True)
    drawn = {start_at: first}

    def drawing_of(index: int) -> str:
        if index not in drawn:
            drawn[index] = picture_of(draw(places[index]), quick=True)
        return drawn[index]

    def redraw(_: Any) -> None:
        picture.update(shown_at(slider.index, drawing_of(slider.index)))
        _when_idle(draw_ahead)

    def draw_ahead(steps: tuple[int, ...] = (1, -1)) -> None:
        near = slider.index + steps[0]
        if near in range(len(places)):
            with suppress(Exception):  # what is wrong there is raised when somebody goes there
                drawing_of(near)
        if steps[1:]:
            _when_idle(partial(draw_ahead, steps[1:]))

    slider.observe(redraw, names="value")
    _when_idle(draw_ahead)


def _when_idle(work: Callable[[], None]) -> None:
    """Have the kernel do something once no cell has run for a moment; outside a notebook nothing happens."""
    with suppress(RuntimeError):  # no loop is running: this is no notebook
        asyncio.get_running_loop().call_later(_PAUSE_S, _if_still_idle, work, _cells_run())


def _if_still_idle(work: Callable[[], None], before: int) -> None:
    if _cells_run() == before:
        work()
    else:  # cells are being run one after the other, and what is drawn now would keep them waiting
        _when_idle(work)


def _cells_run() -> int:
    from IPython import get_ipython

    shell = get_ipython()
    return 0 if shell is None else int(shell.execution_count)


def picture_of(ax: Axes, *, quick: bool = False) -> str:
    """Return a picture as the slider shows it, as an HTML element; ``quick`` where it is moved."""
    from hitlab.plots import image

    return image(ax, _WIDTH, _DOTS_PER_INCH, quick=quick)
