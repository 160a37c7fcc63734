"""A slider that redraws a picture, with the picture it starts from always shown beside it."""

from __future__ import annotations

import base64
import io
from collections.abc import Callable, Sequence
from html import escape
from importlib import import_module
from typing import TYPE_CHECKING, Any

from hitlab.errors import HitlabError, MissingPackageError

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["move_it", "picture_html"]

_DOTS_PER_INCH = 110
_WIDTH = 720  # of the shown picture, in CSS pixels


def picture_html(ax: Axes) -> str:
    """Return the axes' whole figure as an ``<img>`` with the alt text of ``hitlab.plots``."""
    from hitlab import plots

    figure = ax.get_figure(root=True)
    if figure is None:
        raise HitlabError("these axes are on no figure any more; draw them again")
    held = io.BytesIO()
    # Without the maker's version in it the same picture gives the same bytes.
    figure.savefig(held, format="png", dpi=_DOTS_PER_INCH, metadata={"Software": None})
    picture = base64.b64encode(held.getvalue()).decode()
    return (
        f'<img alt="{escape(plots.describe(ax))}" width="{_WIDTH}" style="max-width:100%;height:auto" '
        f'src="data:image/png;base64,{picture}">'
    )


def move_it(draw: Callable[[Any], Axes], name: str, values: Sequence[Any], start: Any = None) -> None:
    """Show a picture for one value, and beside it a slider that draws it for others.

    Without ipywidgets, and in an exported page, the first picture and a plain line stay.

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
    try:
        from IPython.display import HTML, display
    except ImportError:
        raise MissingPackageError("sliders need a notebook: pip install 'hitlab[course]'") from None
    places = list(values)
    begin = places[0] if start is None and places else start
    if begin not in places:
        raise HitlabError(f"start={start!r} is not among the slider's values: {places!r:.80}")
    first = picture_html(draw(begin))
    caption = f"Where it starts: {name} {begin}"
    display(HTML(f"{first}<p>{escape(caption)}</p>"))  # type: ignore[no-untyped-call]
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

    def redraw(change: Any) -> None:
        picture.value = picture_html(draw(change["new"]))

    slider.observe(redraw, names="value")
    bundle = ipywidgets.VBox([slider, picture])._repr_mimebundle_()
    # The plain line is what an exported page and a notebook that is not running show.
    bundle["text/plain"] = f"In JupyterLab a slider stands here: {name}, from {places[0]} to {places[-1]}."
    display(bundle, raw=True)  # type: ignore[no-untyped-call]
