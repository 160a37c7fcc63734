"""Words for those who cannot see the picture: kept with the axes, shown with it in a notebook."""

from __future__ import annotations

import base64
import io
import sys
from html import escape
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from hitlab.errors import HitlabError
from hitlab.showing import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure, SubFigure

__all__ = ["describe", "image", "keep_words", "show"]

_WORDS: WeakKeyDictionary[Axes, str] = WeakKeyDictionary()

_DOTS_PER_INCH = 120


def keep_words(ax: Axes, text: str) -> None:
    """Keep the words that describe what was drawn on the axes."""
    _WORDS[ax] = shown(text)


def describe(ax: Axes) -> str:
    """Return the alt text of a picture, made from the numbers it was drawn from.

    Parameters
    ----------
    ax
        Axes that a function of this package drew on.

    Returns
    -------
    text
        Plain sentences; empty for axes that this package did not draw on.

    Examples
    --------
    >>> from hitlab.physics import fly_path
    >>> from hitlab.plots import describe, flight_paths
    >>> describe(flight_paths(fly_path(100.0, 28.0, backspin_rpm=2000.0)))
    'Flights of 1 ball from the side: 100 mph at 28°: 410 ft in 5.3 s, 87 ft high.'
    """
    return _WORDS.get(ax, "")


def image(
    ax: Axes, width: int | None = None, dots_per_inch: int = _DOTS_PER_INCH, *, quick: bool = False
) -> str:
    """Return the whole figure of the axes as an HTML ``<img>`` with the alt text of all its axes.

    Parameters
    ----------
    ax
        Axes of a figure made with this package.
    width
        Width on the page in CSS pixels; a hundred an inch of the figure where not given.
    dots_per_inch
        How finely it is drawn.
    quick
        Draw it in about half the time, for a picture that is drawn again and again: letters drawn before are
        laid on, and the file is packed lightly.

    Returns
    -------
    str
        The element, the picture as PNG inside it.

    Raises
    ------
    HitlabError
        Where the axes are on no figure any more.

    Examples
    --------
    >>> from hitlab.plots import collision_side_view, image
    >>> image(collision_side_view())[:42]
    '<img alt="Side view of ball and bat. The p'
    """
    figure = ax.get_figure(root=True)
    if figure is None:
        raise HitlabError("these axes are on no figure any more; draw them again")
    if quick:
        # Loaded where something is moved, which most pictures never are.
        from hitlab.plots.redrawing import quick_png

        file = quick_png(figure, dots_per_inch)
    else:
        held = io.BytesIO()
        # Without the maker's version in it the same picture gives the same bytes.
        figure.savefig(held, format="png", dpi=dots_per_inch, metadata={"Software": None})
        file = held.getvalue()
    picture = base64.b64encode(file).decode()
    shown = round(figure.get_figwidth() * 100) if width is None else width
    return (
        f'<img alt="{escape(_words_of(ax, figure))}" width="{shown}" style="max-width: 100%; height: auto" '
        f'src="data:image/png;base64,{picture}">'
    )


def _words_of(ax: Axes, figure: Figure | SubFigure) -> str:
    return " ".join(text for text in (describe(one) for one in figure.axes) if text) or describe(ax)


def show(ax: Axes) -> None:
    """Show a picture with its alt text, and let go of it.

    In a notebook the whole figure is put below the cell as an ``<img>`` with the alt text of all its
    axes, so that the words survive in the exported page; the figure is then closed. Elsewhere the
    words are printed.

    Parameters
    ----------
    ax
        Axes of a figure made with this package.

    Returns
    -------
    None
        What is shown stands in the notebook, or is printed.

    Raises
    ------
    HitlabError
        Where the axes are on no figure any more.

    Examples
    --------
    Outside a notebook the words are printed:

    >>> from hitlab.physics import fly_path
    >>> from hitlab.plots import flight_paths, show
    >>> show(flight_paths(fly_path(100.0, 28.0, backspin_rpm=2000.0)))
    Flights of 1 ball from the side: 100 mph at 28°: 410 ft in 5.3 s, 87 ft high.
    """
    figure = ax.get_figure(root=True)
    if figure is None:
        raise HitlabError("these axes are on no figure any more; draw them again")
    words = _words_of(ax, figure)
    if _in_notebook():
        from IPython.display import display

        display({"text/html": image(ax), "text/plain": words}, raw=True)  # type: ignore[no-untyped-call]
    else:
        print(words)
    if "matplotlib.pyplot" in sys.modules:
        sys.modules["matplotlib.pyplot"].close(figure)


def _in_notebook() -> bool:
    if "IPython" not in sys.modules:
        return False
    shell = sys.modules["IPython"].get_ipython()
    return shell is not None and hasattr(shell, "kernel")
