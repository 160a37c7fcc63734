"""Small linear algebra on one thread."""

from __future__ import annotations

import sys
from contextlib import AbstractContextManager
from functools import cache
from typing import Any

__all__ = ["one_thread"]


def one_thread() -> AbstractContextManager[Any]:
    """Keep NumPy's linear algebra to one thread: where systems are small, threads wait for each other."""
    libraries = _libraries("scipy.linalg" in sys.modules)
    limited: AbstractContextManager[Any] = libraries.limit(limits=1, user_api="blas")
    return limited


@cache
def _libraries(scipy: bool) -> Any:
    """Return what is loaded; looking for it takes longer than many a small system. SciPy brings its own."""
    import numpy as np  # noqa: F401 - its library has to be there to be found
    from threadpoolctl import ThreadpoolController

    return ThreadpoolController()
