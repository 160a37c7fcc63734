"""A slider that redraws a picture, with the picture it starts from always shown beside it."""

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
    """Show a picture for one value, and beside it a slider that draws it for others.

    Without ipywidgets, and in an exported page, the first picture and a plain line stay. A place where the
    slider has been before is not drawn again, and its neighbours are drawn while the notebook is idle, so
    that the next step shows at once.

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
    caption = f"Where it starts: {name} {begin}"
    shown.display(shown.HTML(f"{first}<p>{escape(caption)}</p>"))
    try:
        ipywidgets: Any = import_module("ipywidgets")
    except ImportError:
        print("The slider needs ipywidgets (pip install ipywidgets); the picture above stays as it is.")
        return
    slider = ipywidgets.SelectionSlider(
        options=places, value=begin, description=name, continuous_update=False,
        style={"description_width": "initial"}, layout={"width": "40em", "max_width": "100%"},
    )  # fmt: skip
    picture = ipywidgets.HTML(first)
    drawn = {places.index(begin): first}

    def drawing_of(index: int) -> str:
        if index not in drawn:
            drawn[index] = picture_of(draw(places[index]), quick=True)
        return drawn[index]

    def redraw(_: Any) -> None:
        picture.value = drawing_of(slider.index)
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
    bundle = ipywidgets.VBox([slider, picture])._repr_mimebundle_()
    # The plain line is what an exported page and a notebook that is not running show.
    bundle["text/plain"] = f"In JupyterLab a slider stands here: {name}, from {places[0]} to {places[-1]}."
    shown.display(bundle, raw=True)


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
