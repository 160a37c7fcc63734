"""A figure as a file with its words in it: the same figure gives the same bytes, on any day."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from html import escape

from matplotlib import rc_context
from matplotlib.figure import Figure

from hitlab import __version__
from hitlab.showing import shown

__all__ = ["described_png", "described_svg", "spoken", "svg_text"]

_HEAD = re.compile(r"<svg[^>]*>")
_NOTHING = dict.fromkeys(("Date", "Creator", "Format", "Type"))


def spoken(name: str, title: str, words: str) -> tuple[str, str, str]:
    """Return what makes an SVG one picture to programs that read aloud: attributes, title, description.

    Parameters
    ----------
    name
        What the names of the two elements begin with.
    title, words
        What it is called, and what is to be seen on it.
    """
    return (
        f'role="img" aria-labelledby="{name}-title {name}-words"',
        f'<title id="{name}-title">{escape(shown(title))}</title>',
        f'<desc id="{name}-words">{escape(shown(words))}</desc>',
    )


def svg_text(figure: Figure, salt: str, *, facecolor: str = "auto") -> tuple[str, str, str]:
    """Return a figure as SVG, in three parts: what stands before its element opens, that, and the rest.

    Letters are outlines, so that no font of ours is needed; nothing in it comes from the clock.

    Parameters
    ----------
    figure
        The figure.
    salt
        What the names of its parts are made from.
    facecolor
        Behind it; as the figure has it where not given.
    """
    held = io.BytesIO()
    # Set for this picture alone; the caller's settings are as they were afterwards.
    with rc_context({"svg.fonttype": "path", "svg.hashsalt": salt}):
        figure.savefig(held, format="svg", metadata=_NOTHING, facecolor=facecolor)
    text = re.sub(r"<metadata>.*?</metadata>", "", held.getvalue().decode(), count=1, flags=re.S)
    head = _HEAD.search(text)
    assert head is not None
    return text[: head.start()], head[0], text[head.end() :]


def described_svg(
    figure: Figure,
    name: str,
    title: str,
    words: str,
    *,
    pixels: tuple[int, int] | None = None,
    carried: str = "",
) -> bytes:
    """Return a figure as an SVG file with a title and a description.

    Parameters
    ----------
    figure
        The figure.
    name
        What the names of its parts begin with.
    title, words
        What it is called, and what is to be seen on it.
    pixels
        Width and height; in points, as the figure has them, where not given.
    carried
        What else it is to carry, as its metadata.
    """
    before, head, rest = svg_text(figure, name)
    role, called, told = spoken(name, title, words)
    for side, value in zip(("width", "height"), pixels or (), strict=False):
        head = re.sub(rf'{side}="[^"]*"', f'{side}="{value}"', head, count=1)
    head = head.replace("<svg ", f"<svg {role} ", 1)
    inside = f"\n {called}\n {told}"
    if carried:
        inside += f'\n <metadata id="{name}">{escape(carried, quote=False)}</metadata>'
    return f"{before}{head}{inside}{rest}".encode()


def described_png(
    figure: Figure,
    title: str,
    words: str,
    source: str,
    *,
    dots_per_inch: float,
    carried: Mapping[str, str] | None = None,
) -> bytes:
    """Return a figure as a PNG file with a title, a description and its source.

    Parameters
    ----------
    figure
        The figure.
    title, words, source
        What it is called, what is to be seen on it, and what it was made from.
    dots_per_inch
        Pixels an inch of the figure.
    carried
        What else it is to carry, by key.
    """
    held = io.BytesIO()
    metadata = {
        "Title": shown(title),
        "Description": shown(words),
        "Source": shown(source),
        "Software": f"hitlab {__version__}",
        **(carried or {}),
    }
    figure.savefig(held, format="png", dpi=dots_per_inch, metadata=metadata)
    return held.getvalue()
