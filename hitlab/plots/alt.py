"""Words for those who cannot see the picture: kept with the axes, shown with it in a notebook."""

from __future__ import annotations

import base64
import io
import sys
from html import escape
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["describe", "keep_words", "listed", "show"]

_WORDS: WeakKeyDictionary[Axes, str] = WeakKeyDictionary()

_DOTS_PER_INCH = 120


def keep_words(ax: Axes, text: str) -> None:
    """Keep the words that describe what was drawn on the axes."""
    _WORDS[ax] = text


def describe(ax: Axes) -> str:
    """Return the alt text of a picture, made from the numbers it was drawn from.

    Returns
    -------
    text
        Plain sentences; empty for axes that this package did not draw on.
    """
    return _WORDS.get(ax, "")


def listed(parts: list[str]) -> str:
    """Return parts as an English list: ``a, b and c``."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""


def show(ax: Axes) -> None:
    """Show a picture with its alt text, and let go of it.

    In a notebook the whole figure is put below the cell as an ``<img>`` with the alt text of all its
    axes, so that the words survive in the exported page; the figure is then closed. Elsewhere the
    words are printed.
    """
    figure = ax.get_figure(root=True)
    assert figure is not None
    words = " ".join(text for text in (describe(one) for one in figure.axes) if text) or describe(ax)
    if _in_notebook():
        from IPython.display import display

        picture = base64.b64encode(_png(figure)).decode()
        width = round(figure.get_figwidth() * 100)
        image = (
            f'<img alt="{escape(words)}" width="{width}" style="max-width: 100%; height: auto" '
            f'src="data:image/png;base64,{picture}">'
        )
        display({"text/html": image, "text/plain": words}, raw=True)  # type: ignore[no-untyped-call]
    else:
        print(words)
    if "matplotlib.pyplot" in sys.modules:
        sys.modules["matplotlib.pyplot"].close(figure)


def _png(figure: Figure) -> bytes:
    held = io.BytesIO()
    # Without the maker's version in it the same picture gives the same bytes.
    figure.savefig(held, format="png", dpi=_DOTS_PER_INCH, metadata={"Software": None})
    return held.getvalue()


def _in_notebook() -> bool:
    if "IPython" not in sys.modules:
        return False
    shell = sys.modules["IPython"].get_ipython()
    return shell is not None and hasattr(shell, "kernel")
