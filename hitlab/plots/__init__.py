"""Pictures of results: ``draw(result)``, and one named function a picture.

Every function takes ``ax=None`` and returns the axes it drew on. Without ``ax`` a fresh figure is made that
pyplot knows nothing of; with it, only these axes are touched. A picture draws a table of its result and
computes nothing; ``describe(ax)`` says in words what is on it, with the numbers of that table, and
``show(ax)`` puts picture and words into a notebook.

To add a picture, add a module to this folder and its names to ``__init__.pyi``::

    # hitlab/plots/my_topic.py
    __all__ = ["my_picture"]

    @draws(MyResult)                      # hitlab.plots.registry.draws
    def my_picture(result, ax=None, **options):
        ax, own = look.axes_for(ax)       # a fresh figure in the package's look, or the caller's axes
        ...
        return look.finish(ax, own, title, below, alt="...")

``draw`` finds it by the result's type (or a base of it).
"""

from typing import Any

import lazy_loader

from hitlab.optional import lacking

_find, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)


def __getattr__(name: str) -> Any:
    """Find a picture at first use; without matplotlib, say what to install."""
    try:
        return _find(name)
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] != "matplotlib":
            raise
        raise lacking("matplotlib", "pictures", "plots") from error
