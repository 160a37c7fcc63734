"""Packages that hitlab can do without: loaded at need, with one message where they are not there.

Extras of the package: ``plots`` for pictures and cards, ``statistics`` for the claims that need a
regression or a table test, ``timeline`` for edit timelines, ``open-data`` for the open data sets, ``course``
for the lessons (all but ``timeline`` among it).
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from hitlab.errors import MissingPackageError

__all__ = ["lacking", "load"]


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
        Where the package is not installed; the message gives the install command.
    """
    try:
        return import_module(module)
    except ImportError as error:
        raise lacking(module.partition(".")[0], purpose, extra) from error


def lacking(package: str, purpose: str, extra: str) -> MissingPackageError:
    """Give the error for a package that is not there; parameters as in :func:`load`."""
    return MissingPackageError(
        f"{purpose} need {package}, which is not installed; install hitlab with its extra {extra}, "
        f'in the clone: pip install -c .ci/constraints.txt -e ".[{extra}]"'
    )
