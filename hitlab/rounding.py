"""Numbers put in order alike on every processor."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = ["settled"]


def settled(values: Any, digits: int = 9) -> NDArray[np.float64]:
    """Round to so many digits that what is equal but for the last bits is put in order alike everywhere.

    Processors round the last bits differently. Where numbers are equal by symmetry (nodes of a rule, a rate
    and its complement), these bits would decide which comes first.

    Parameters
    ----------
    values
        Any numbers; what is not finite stays as it is.
    digits
        Significant digits; fewer where what is shown has fewer.

    Examples
    --------
    >>> settled([0.1 + 0.2, 0.3]).tolist()
    [0.3, 0.3]
    """
    found = np.asarray(values, dtype=float)
    size = np.abs(np.where(np.isfinite(found) & (found != 0), found, 1.0))
    scale = 10.0 ** (digits - 1 - np.floor(np.log10(np.maximum(size, 1e-290))))
    return np.asarray(np.where(np.isfinite(found), np.round(found * scale) / scale, found))
