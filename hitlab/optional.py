"""Packages that hitlab can do without: loaded at need, with one message where they are not there.

Extras of the package: ``plots`` for pictures and cards, ``pages`` for pages about a hitter, ``statistics``
for the claims that need a regression or a table test, ``timeline`` for edit timelines, ``spreadsheet`` for
spreadsheet files (to read and to write), ``open-data`` for the open data sets, ``course`` for the lessons
(all but ``pages``, ``timeline`` and ``spreadsheet`` among it).
"""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec
from typing import Any

from hitlab.errors import MissingPackageError

__all__ = ["lacking", "load", "with_extra"]

_ABSENT = "is not installed"


def load(module: str, purpose: str, extra: str) -> Any:
    """Import a module of an optional package.

    Parameters
    ----------
    module
        Its dotted name.
    purpose
        What needs it, in the plural, to begin the message: ``pictures``.
    extra
        The extra of hitlab that brings the package.

    Returns
    -------
    module
        The module.

    Raises
    ------
    MissingPackageError
        Where the package is not installed, or not whole; the message gives the install command.
    """
    package = module.partition(".")[0]
    try:
        return import_module(module)
    except ImportError as error:
        state = f"does not load ({error})" if _is_there(package) else _ABSENT
        raise lacking(package, purpose, extra, state) from error


def _is_there(package: str) -> bool:
    try:
        return find_spec(package) is not None
    except ValueError:  # its place in sys.modules is taken by nothing
        return False


def lacking(package: str, purpose: str, extra: str, state: str = _ABSENT) -> MissingPackageError:
    """Give the error for a package that is not there; ``state`` is what is wrong with it."""
    return MissingPackageError(f"{purpose} need {package}, which {state}; {with_extra(extra)}")


def with_extra(extra: str) -> str:
    """Say how hitlab is installed with one of its extras."""
    return (
        f"install hitlab with its extra {extra}, in the clone: "
        f'pip install -c .ci/constraints.txt -e ".[{extra}]"'
    )
