"""A slider that redraws a picture, with the picture it starts from always shown beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape
from importlib import import_module
from typing import TYPE_CHECKING, Any

from hitlab.errors import HitlabError
from hitlab.optional import load

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["move_it"]

_DOTS_PER_INCH = 100  # the figures' own: what was measured for the layout is not measured again
_WIDTH = 720  # of the shown picture, in CSS pixels


def move_it(draw: Callable[[Any], Axes], name: str, values: Sequence[Any], start: Any = None) -> None:
    """Show a picture for one value, and beside it a slider that draws it for others.

    Without ipywidgets, and in an exported page, the first picture and a plain line stay. A place where the
    slider has been before is not drawn again.

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
    first = _picture(draw(begin))
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

    def redraw(change: Any) -> None:
        if slider.index not in drawn:
            drawn[slider.index] = _picture(draw(change["new"]))
        picture.value = drawn[slider.index]

    slider.observe(redraw, names="value")
    bundle = ipywidgets.VBox([slider, picture])._repr_mimebundle_()
    # The plain line is what an exported page and a notebook that is not running show.
    bundle["text/plain"] = f"In JupyterLab a slider stands here: {name}, from {places[0]} to {places[-1]}."
    shown.display(bundle, raw=True)


def _picture(ax: Axes) -> str:
    from hitlab.plots import image

    return image(ax, _WIDTH, _DOTS_PER_INCH)
