"""The reference: every public name with explanation, examples and pictures, as HTML that needs no network."""

from __future__ import annotations

import doctest
import importlib
import inspect
from base64 import b64encode
from collections.abc import Iterator
from contextlib import redirect_stdout
from io import BytesIO, StringIO
from pathlib import Path
from types import ModuleType
from typing import Any

import hitlab
from hitlab.optional import load

__all__ = ["build_reference", "packages"]


def packages() -> Iterator[ModuleType]:
    """Give hitlab and its public packages, with all their public names loaded."""
    yield hitlab
    for name in dir(hitlab):
        found = getattr(hitlab, name)
        if isinstance(found, ModuleType):
            for each in dir(found):
                getattr(found, each)
            yield found


def build_reference(folder: Path) -> list[Path]:
    """Write the reference, one page a package.

    Parameters
    ----------
    folder
        Where to; made where it is not there.

    Returns
    -------
    list of pathlib.Path
        The pages, ``index.html`` first.

    Raises
    ------
    MissingPackageError
        Without pdoc, which comes with the extra ``reference``.
    """
    pdoc = load("pdoc", "the reference", "reference")
    render = load("pdoc.render", "the reference", "reference")
    shown = list(packages())
    with_pictures(shown[[each.__name__ for each in shown].index("hitlab.plots")])
    render.configure(docformat="numpy", show_source=False, footer_text=f"hitlab {hitlab.__version__}")
    pdoc.pdoc("hitlab", output_directory=folder)
    return sorted(folder.rglob("*.html"), key=lambda page: (page.name != "index.html", str(page)))


def with_pictures(plots: ModuleType) -> None:
    """Put the pictures that the examples draw under the explanations of the functions that draw them."""
    for name in plots.__all__:
        function = getattr(plots, name)
        if inspect.isfunction(function):
            drawn = "".join(f"\n\n![drawn by the example]({uri})" for uri in _drawn(function))
            function.__doc__ = f"{inspect.getdoc(function)}{drawn}\n"


def _drawn(function: Any) -> Iterator[str]:
    """Run a function's examples, and give each figure that they leave as a data URI."""
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    home = importlib.import_module(function.__module__)
    names: dict[str, Any] = {}
    for test in doctest.DocTestFinder(recurse=False).find(function, globs=dict(vars(home))):
        names = dict(test.globs)
        with redirect_stdout(StringIO()):
            for example in test.examples:
                exec(compile(example.source, test.name, "single"), names)
    figures = [value.figure for value in names.values() if isinstance(value, Axes)]
    for figure in dict.fromkeys(figures):
        if isinstance(figure, Figure):
            into = BytesIO()
            figure.savefig(into, format="png", dpi=80)
            yield f"data:image/png;base64,{b64encode(into.getvalue()).decode()}"
