"""A picture as an SVG element inside a page: described, and with names of its own for its parts."""

from __future__ import annotations

import re

from matplotlib.axes import Axes

from hitlab.errors import HitlabError
from hitlab.plots.alt import describe
from hitlab.plots.described import spoken, svg_text

__all__ = ["inline_svg"]

_NAME = re.compile(r'(\bid="|href="#|url\(#)')


def inline_svg(ax: Axes, name: str, title: str) -> str:
    """Return the whole figure of the axes as an SVG element, to stand in a page.

    Letters are drawn as outlines, so that the page needs no font of ours. The same picture gives the same
    text.

    Parameters
    ----------
    ax
        Axes of a figure made with this package.
    name
        Told once a page: the names of the picture's parts begin with it, so that two pictures on a page have
        none in common. Letters, digits and hyphens.
    title
        What the picture is called; its words are those of :func:`~hitlab.plots.describe`.

    Returns
    -------
    str
        The element with a title and a description, which programs that read pages aloud say.

    Raises
    ------
    HitlabError
        Where the name holds other signs, or the axes are on no figure any more.

    Examples
    --------
    >>> from hitlab.plots import collision_side_view, inline_svg
    >>> text = inline_svg(collision_side_view(), "meeting", "Ball and bat")
    >>> text[:48], "<title id=" in text
    ('<svg role="img" aria-labelledby="meeting-title m', True)
    """
    if not re.fullmatch(r"[A-Za-z][\w-]*", name, re.ASCII):
        raise HitlabError(f"name={name!r}: begin with a letter, and use letters, digits and hyphens only")
    figure = ax.get_figure(root=True)
    if figure is None:
        raise HitlabError("these axes are on no figure any more; draw them again")
    _, head, rest = svg_text(figure, name, facecolor="none")
    rest = re.sub(r"<!--.*?-->", "", rest, flags=re.S)
    box = re.search(r'viewBox="([^"]*)"', head)
    assert box is not None
    # On a page the document's own names of spaces are known, and its links need no prefix.
    body = _NAME.sub(rf"\g<1>{name}-", rest.replace("xlink:href", "href"))
    body = re.sub(r"\s*\n\s*", " ", body).strip()
    words = " ".join(part for part in (describe(one) for one in figure.axes) if part)
    role, called, told = spoken(name, title, words)
    return f'<svg {role} viewBox="{box[1]}">{called}{told}{body}'
