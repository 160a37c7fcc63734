"""An axis of log odds that is marked in plain words: by how much the odds are multiplied."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from hitlab.plots import look
from hitlab.plots.placing import named_axis, plain

__all__ = ["odds_axis"]

_OVER_ONE = (1.01, 1.02, 1.05, 1.1, 1.25, 1.5, 2.0, 3.0, 5.0, 10.0, 20.0, 50.0)
_APART = 0.25  # of the half axis, from mark to mark


def odds_axis(axis: Any, reach: float, words: str, apart: float = _APART) -> None:
    """Mark an axis from ``-reach`` to ``reach`` (log odds) by factors, as far below ×1 as above.

    Parameters
    ----------
    apart
        From mark to mark at least, in parts of the half axis.
    """
    kept = [0.0]
    for factor in _OVER_ONE:
        if kept[-1] + apart * reach <= np.log(factor) <= 0.97 * reach:
            kept.append(float(np.log(factor)))
    axis.set_major_locator(FixedLocator([*(-place for place in kept[:0:-1]), *kept]))
    axis.set_minor_locator(NullLocator())
    axis.set_major_formatter(FuncFormatter(lambda value, _: f"×{plain(float(np.exp(value)), 2)}"))
    axis.grid(True, color=look.GRID, linewidth=0.8)
    named_axis(axis, words)
