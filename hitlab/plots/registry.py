"""Which function draws which result: a registry on the result's type."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Any, TypeVar

from hitlab.errors import HitlabError
from hitlab.optional import lacking

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw", "draws"]

_DRAWN_BY: dict[type, Callable[..., Any]] = {}

Picture = TypeVar("Picture", bound=Callable[..., Any])


def draws(kind: type) -> Callable[[Picture], Picture]:
    """Return a decorator that makes a function the one that draws results of a type.

    Parameters
    ----------
    kind
        The result's class. A result is drawn by the function of its own class or of the nearest base.

    Returns
    -------
    callable
        The decorator; it gives the function back as it is.

    Examples
    --------
    A result of your own, drawn by ``draw`` from then on:

    >>> from dataclasses import dataclass
    >>> from hitlab.plots import draw, draws, look
    >>> @dataclass
    ... class Streak:
    ...     games: list[int]
    >>> @draws(Streak)
    ... def streak_line(streak, ax=None):
    ...     ax, _ = look.axes_for(ax)
    ...     ax.plot(streak.games)
    ...     return ax
    >>> ax = draw(Streak([0, 1, 2, 0]))
    >>> ax.lines[0].get_ydata().tolist()
    [0, 1, 2, 0]
    """

    def register(function: Picture) -> Picture:
        _DRAWN_BY[kind] = function
        return function

    return register


def draw(result: Any, ax: Axes | None = None, **options: Any) -> Axes:
    """Draw a result: counts, rates, ranks, a claim, ... by the function registered for its type.

    Parameters
    ----------
    result
        What a function of the package returned.
    ax
        Axes to draw on; a fresh figure where not given.
    **options
        Handed to the drawing function.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Raises
    ------
    HitlabError
        Where no picture is known for results of this type; the message lists those that are.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, draw
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> ax = draw(hitlab.rate(team, "hard", per="swings"))
    >>> print(describe(ax).split(". ")[0])
    List of 3 hitters by observed rate of hard-hit balls per swing, highest first
    """
    function = _found(type(result))
    if function is None:
        package = import_module("hitlab.plots")
        for module in iter_modules(package.__path__):
            try:
                import_module(f"hitlab.plots.{module.name}")
            except ModuleNotFoundError as error:
                if (error.name or "").partition(".")[0] != "matplotlib":
                    raise
                raise lacking("matplotlib", "pictures", "plots") from error
        function = _found(type(result))
    if function is None:
        known = ", ".join(sorted(kind.__name__ for kind in _DRAWN_BY))
        name = type(result).__name__
        article = "an" if name[0] in "AEIOU" else "a"
        own = ". Its .table() can be drawn by any plotting library" if hasattr(result, "table") else ""
        raise HitlabError(f"there is no picture of {article} {name}; there are pictures of: {known}{own}")
    drawn: Axes = function(result, ax, **options)
    return drawn


def _found(kind: type) -> Callable[..., Any] | None:
    return next((_DRAWN_BY[base] for base in kind.__mro__ if base in _DRAWN_BY), None)
